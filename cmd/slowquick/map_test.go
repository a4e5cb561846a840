package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const module = "dance.example/slowquick/"

// TestTheMapIsTrue checks that the table in DEVELOPERS.md lists every package that isn't internal, and
// exactly the packages that each imports.
func TestTheMapIsTrue(t *testing.T) {
	root := filepath.Join("..", "..")
	assert.Equal(t, importsInCode(t, root), importsInMap(t, filepath.Join(root, "DEVELOPERS.md")))
}

// importsInCode returns, for each folder with Go code, the folders that it
// imports, on any system and with any build tag, tests aside.
func importsInCode(t *testing.T, root string) map[string][]string {
	found := map[string]map[string]bool{}
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if d != nil && d.IsDir() && d.Name() == "testdata" { // of tests alone
			return filepath.SkipDir
		}
		if err != nil || d.IsDir() || filepath.Ext(file) != ".go" || strings.HasSuffix(file, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		folder, err := filepath.Rel(root, filepath.Dir(file))
		if err != nil {
			return err
		}
		folder = filepath.ToSlash(folder)
		if isInternal(folder) {
			return nil
		}
		if found[folder] == nil {
			found[folder] = map[string]bool{}
		}
		for _, i := range f.Imports {
			name, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			if rest, ours := strings.CutPrefix(name, module); ours && !isInternal(rest) {
				found[folder][rest] = true
			}
		}
		return nil
	})
	require.NoError(t, err)
	require.NotEmpty(t, found)
	imports := map[string][]string{}
	for folder, set := range found {
		imports[folder] = slices.AppendSeq([]string{}, maps.Keys(set))
		slices.Sort(imports[folder])
	}
	return imports
}

func isInternal(folder string) bool { return strings.Contains("/"+folder, "/internal/") }

// mapRow is a row of the table: the folder, its purpose, and what it imports. "…/" before a folder stands
// for the last one that was written whole.
var mapRow = regexp.MustCompile("(?m)^\\| `((?:…/)?[a-z/]+)` \\| [^|]+ \\| ([^|]+) \\|$")

// importsInMap returns what the table in a file says. Its last column names
// packages by their last element.
func importsInMap(t *testing.T, file string) map[string][]string {
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	rows := mapRow.FindAllStringSubmatch(string(text), -1)
	require.NotEmpty(t, rows, "no table of packages")
	byName := map[string]string{}
	whole := ""
	for _, row := range rows {
		if below, ok := strings.CutPrefix(row[1], "…/"); ok {
			row[1] = path.Join(whole, below)
		} else {
			whole = row[1]
		}
		byName[path.Base(row[1])] = row[1]
	}
	imports := map[string][]string{}
	for _, row := range rows {
		list := []string{}
		for _, name := range strings.FieldsFunc(row[2], func(r rune) bool { return strings.ContainsRune(" ,", r) }) {
			if name == "–" {
				continue
			}
			folder, ok := byName[name]
			require.True(t, ok, "%s imports %s, which has no row", row[1], name)
			list = append(list, folder)
		}
		slices.Sort(list)
		imports[row[1]] = list
	}
	return imports
}
