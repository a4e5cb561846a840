package main

import (
	"errors"
	"go/ast"
	"go/build"
	"go/parser"
	"go/token"
	"go/types"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tangled are the packages whose files still refer to each other both ways. The list
// only gets shorter.
var tangled = []string{"routine"}

// TestFilesReferOneWay checks that no file of a package uses another that, directly or through others, uses
// it.
func TestFilesReferOneWay(t *testing.T) {
	t.Parallel()
	root := filepath.Join("..", "..")
	found := []string{}
	err := filepath.WalkDir(root, func(dir string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		folder, err := filepath.Rel(root, dir)
		if err != nil {
			return err
		}
		circle, err := circleOfFiles(dir)
		if none := (*build.NoGoError)(nil); errors.As(err, &none) {
			return nil
		}
		if circle != nil {
			found = append(found, filepath.ToSlash(folder))
			if !slices.Contains(tangled, filepath.ToSlash(folder)) {
				assert.Fail(t, "files refer to each other", "%s: %s", folder, strings.Join(circle, " → "))
			}
		}
		return err
	})
	require.NoError(t, err)
	for _, folder := range tangled {
		assert.Contains(t, found, folder, "it is no longer tangled, and must stay so")
	}
}

// TestACircleIsFound checks that circleOfFiles finds circles.
func TestACircleIsFound(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("package p\n\n"+text), 0o600))
	}
	write("a.go", "type t struct{ n int }\n\nfunc a() { b() }\n")
	write("b.go", "func b() {}\n")
	circle, err := circleOfFiles(dir)
	require.NoError(t, err)
	assert.Empty(t, circle)
	for _, text := range []string{
		"func b() { a() }",
		"func b() { var x t; _ = x }",
		"func b(x interface{ c() t }) { x.c().n++ }",
		"import \"elsewhere\"\n\nfunc b() { _ = elsewhere.F().(t) }",
	} {
		write("b.go", text)
		circle, err := circleOfFiles(dir)
		require.NoError(t, err)
		assert.Equal(t, []string{"a.go", "b.go", "a.go"}, circle, text)
	}
}

// circleOfFiles returns files of a folder each of which uses the next, and the last of which is the first;
// nil if there are none.
func circleOfFiles(dir string) ([]string, error) {
	uses, err := usesOfFiles(dir)
	if err != nil {
		return nil, err
	}
	var way []string
	seen := map[string]bool{}
	var look func(file string) []string
	look = func(file string) []string {
		if i := slices.Index(way, file); i >= 0 {
			return append(slices.Clone(way[i:]), file)
		}
		if seen[file] {
			return nil
		}
		seen[file] = true
		way = append(way, file)
		for _, next := range slices.Sorted(maps.Keys(uses[file])) {
			if circle := look(next); circle != nil {
				return circle
			}
		}
		way = way[:len(way)-1]
		return nil
	}
	for _, file := range slices.Sorted(maps.Keys(uses)) {
		if circle := look(file); circle != nil {
			return circle, nil
		}
	}
	return nil, nil
}

// usesOfFiles returns, for each file of the package in a folder, the others whose names it uses, methods and
// fields too. Tests are left out, and so is what is only for another system.
func usesOfFiles(dir string) (map[string]map[string]bool, error) {
	listed, err := build.ImportDir(dir, 0)
	if err != nil {
		return nil, err
	}
	set := token.NewFileSet()
	var files []*ast.File
	for _, name := range listed.GoFiles {
		f, err := parser.ParseFile(set, filepath.Join(dir, name), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files = append(files, f)
	}
	info := &types.Info{Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}}
	c := types.Config{Importer: nothing{}, Error: func(error) {}} // what other packages have is not known
	pkg, _ := c.Check(dir, set, files, info)
	uses := map[string]map[string]bool{}
	for _, f := range files {
		from := set.File(f.Pos()).Name()
		used := map[string]bool{}
		elsewhere := map[*ast.Ident]bool{} // fields and methods, perhaps of another package
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.SelectorExpr:
				elsewhere[n.Sel] = true
			case *ast.KeyValueExpr:
				if key, ok := n.Key.(*ast.Ident); ok {
					elsewhere[key] = true
				}
			}
			id, ok := n.(*ast.Ident)
			if !ok {
				return true
			}
			what := info.Uses[id]
			if _, defined := info.Defs[id]; what == nil && !defined && !elsewhere[id] {
				what = pkg.Scope().Lookup(id.Name) // beside something unknown, the checker passes it over
			}
			if what != nil && what.Pkg() == pkg && what.Pos().IsValid() {
				if to := set.File(what.Pos()).Name(); to != from {
					used[filepath.Base(to)] = true
				}
			}
			return true
		})
		uses[filepath.Base(from)] = used
	}
	return uses, nil
}

// nothing imports packages as if they were empty.
type nothing struct{}

func (nothing) Import(name string) (*types.Package, error) {
	p := types.NewPackage(name, path.Base(name))
	p.MarkComplete()
	return p, nil
}
