package screen_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/screen/dance"
)

// The most that a type of the screen may hold, and the most keys a dancer has to learn (our own choices).
const (
	mostMethods = 30
	mostFields  = 20
	mostActions = 26
)

// TestTypesStaySmall: a type that knows everything isn't a component.
func TestTypesStaySmall(t *testing.T) {
	methods, fields := map[string]int{}, map[string]int{}
	err := filepath.WalkDir(".", func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		name := func(n string) string { return filepath.Dir(path) + "." + n }
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncDecl:
				if n.Recv != nil {
					of := n.Recv.List[0].Type
					if star, ok := of.(*ast.StarExpr); ok {
						of = star.X
					}
					if generic, ok := of.(*ast.IndexExpr); ok {
						of = generic.X
					}
					methods[name(of.(*ast.Ident).Name)]++
				}
			case *ast.TypeSpec:
				switch of := n.Type.(type) {
				case *ast.StructType:
					for _, f := range of.Fields.List {
						fields[name(n.Name.Name)] += max(1, len(f.Names))
					}
				case *ast.InterfaceType:
					methods[name(n.Name.Name)] += of.Methods.NumFields()
				}
			}
			return true
		})
		return nil
	})
	require.NoError(t, err)
	require.Greater(t, fields["dance.Model"], 10, "it is counted")
	require.Greater(t, methods["dance.Model"], 10, "it is counted")
	for name, n := range methods {
		assert.LessOrEqual(t, n, mostMethods, "methods of %s", name)
	}
	for name, n := range fields {
		assert.LessOrEqual(t, n, mostFields, "fields of %s", name)
	}
}

// TestFewKeys: there are no more than a dancer learns, and each is bound once.
func TestFewKeys(t *testing.T) {
	n, bound := 0, map[string]string{}
	for _, g := range dance.Groups() {
		n += len(g.Actions)
		for _, a := range g.Actions {
			for _, k := range a.Keys() {
				assert.Empty(t, bound[k], "%s is bound twice", k)
				bound[k] = a.Help().Desc
			}
		}
	}
	assert.LessOrEqual(t, n, mostActions)
	assert.Greater(t, n, 20)
}
