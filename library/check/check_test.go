package check_test

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// shipped returns the library that ships with the program, opened once.
var shipped = sync.OnceValue(library.Open)

// rumba returns a sheet that dances figures of the library one after another.
func rumba(names ...string) []byte {
	text := "---\ndance: rumba\n---\n\n## Order\n\n"
	for i, name := range names {
		text += fmt.Sprintf("%d. %s\n", i+1, name)
	}
	return []byte(text)
}

// TestABrokenJoinSaysWhatLinksIt, and a sheet with the suggested link has no broken join.
func TestABrokenJoinSaysWhatLinksIt(t *testing.T) {
	lib := shipped()
	_, found := check.Sheet("broken.md", rumba("Fan", "Natural top"), lib)
	require.NotEmpty(t, found)
	links, ok := strings.CutPrefix(found[0].Hint, "dance between them: ")
	require.True(t, ok, found[0].Hint)
	first, _, _ := strings.Cut(links, ";")
	mended := append([]string{"Fan"}, strings.Split(first, ", then ")...)
	_, found = check.Sheet("mended.md", rumba(append(mended, "Natural top")...), lib)
	found = slices.DeleteFunc(found, func(f routine.Finding) bool { return f.Code == "last-bar-open" })
	assert.Empty(t, found)
}
