package quiet_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	_ "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	_ "dance.example/slowquick/player/screen/internal/quiet"
)

const (
	quiet     = "dance.example/slowquick/player/screen/internal/quiet"
	term      = "dance.example/slowquick/player/screen/term" // imports quiet
	bubbletea = "github.com/charmbracelet/bubbletea"
)

// TestInitialisedFirst has the runtime of this program, which imports both
// packages, trace the order in which it initialises them.
func TestInitialisedFirst(t *testing.T) {
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(os.Environ(), "GODEBUG=inittrace=1")
	trace, err := cmd.CombinedOutput()
	require.NoError(t, err)
	answer := strings.Index(string(trace), "init "+quiet+" ")
	question := strings.Index(string(trace), "init "+bubbletea+" ")
	require.GreaterOrEqual(t, answer, 0, "%s", trace)
	require.GreaterOrEqual(t, question, 0, "%s", trace)
	assert.Less(t, answer, question)
}

// TestNobodyForgetsIt: in this module, every package that imports bubbletea, directly or through its
// widgets, imports this one too, directly or through term.
func TestNobodyForgetsIt(t *testing.T) {
	const root = "../../../.."
	asks, answers := map[string]bool{}, map[string]bool{} // by folder
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, i := range f.Imports {
			name, err := strconv.Unquote(i.Path.Value)
			require.NoError(t, err)
			dir := filepath.Dir(path)
			asks[dir] = asks[dir] || name == bubbletea || strings.HasPrefix(name, "github.com/charmbracelet/bubbles/")
			answers[dir] = answers[dir] || name == quiet || name == term
		}
		return nil
	})
	require.NoError(t, err)
	term := filepath.Join(root, "player/screen/term")
	require.True(t, asks[term], "%v", asks)
	for dir, does := range asks {
		assert.True(t, !does || answers[dir], "%s imports bubbletea without an answer", dir)
	}
}
