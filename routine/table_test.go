package routine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"
	"pgregory.net/rapid"

	"dance.example/slowquick/routine"
)

// TestTablesAreMarkdowns: a sheet has the tables, and their cells, that Markdown has.
func TestTablesAreMarkdowns(t *testing.T) {
	pieces := []string{"|", "|", "|", "-", "--", ":", ":-:", " ", "  ", "\t", "\n", "\n", "\n|", "a", "LF side", "\\|", "\\", "`", "> ", "1. ", "- ", "\r\n", "    ", "|---|\n", "|--|:-:|\n", "| a | b |\n"}
	rapid.Check(t, func(t *rapid.T) {
		src := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 24).Draw(t, "pieces"), "")
		if rapid.Bool().Draw(t, "tidy") {
			src = "| a | b |\n|--:|---|\n" + src
		}
		require.Equal(t, goldmarkTables([]byte(src)), routine.Tables([]byte(src)), "%q", src)
	})
}

// goldmarkTables returns the cells of all rows of all tables of a Markdown text, as Goldmark has them, below a row of
// how the columns are aligned.
func goldmarkTables(src []byte) (tables [][][]string) {
	doc := goldmark.New(goldmark.WithExtensions(extension.Table)).Parser().Parse(text.NewReader(src))
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		t, ok := n.(*east.Table)
		if !entering || !ok {
			return ast.WalkContinue, nil
		}
		aligns := []string{}
		for _, a := range t.Alignments {
			aligns = append(aligns, a.String())
		}
		rows := [][]string{aligns}
		for row := t.FirstChild(); row != nil; row = row.NextSibling() {
			cells := []string{}
			for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
				cells = append(cells, string(cell.Lines().Value(src)))
			}
			rows = append(rows, cells)
		}
		tables = append(tables, rows)
		return ast.WalkContinue, nil
	})
	return tables
}
