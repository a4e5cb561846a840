package routine_test

import (
	"go/ast"
	"go/constant"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestPatternsCompile: a pattern that is compiled when it is first used fails then, not when the program starts.
func TestPatternsCompile(t *testing.T) {
	names, err := filepath.Glob("*.go")
	require.NoError(t, err)
	places := token.NewFileSet()
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		file, err := parser.ParseFile(places, name, text, 0)
		require.NoError(t, err)
		files = append(files, file)
	}
	values := types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	withoutImports := types.Config{Error: func(error) {}}
	_, _ = withoutImports.Check("routine", places, files, &values) // constants need no imports
	patterns := 0
	for call := range values.Types {
		call, ok := call.(*ast.CallExpr)
		if !ok {
			continue
		}
		if f, ok := call.Fun.(*ast.Ident); !ok || f.Name != "lazily" {
			continue
		}
		patterns++
		value := values.Types[call.Args[0]].Value
		if assert.NotNil(t, value, "%s: a pattern is constant", places.Position(call.Pos())) {
			_, err := regexp.Compile(constant.StringVal(value))
			assert.NoError(t, err, "%s", places.Position(call.Pos()))
		}
	}
	assert.Greater(t, patterns, 40)
}
