package routine

import (
	"bytes"

	"github.com/yuin/goldmark/ast"
	mdparser "github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// table is a table in a document. Goldmark's own has a node for each cell, and looks for markup in it; most of a sheet
// is cells.
type table struct {
	ast.BaseBlock
	text tableText
}

var tableKind = ast.NewNodeKind("SheetTable")

// Kind implements ast.Node.
func (*table) Kind() ast.NodeKind { return tableKind }

// Dump implements ast.Node.
func (t *table) Dump(source []byte, level int) { ast.DumpHelper(t, source, level, nil, nil) }

// tabling makes a table of the lines of a paragraph that are one.
//
// Source: GitHub Flavored Markdown, 4.10 Tables (extension).
type tabling struct{}

// Transform implements mdparser.ParagraphTransformer.
func (tabling) Transform(par *ast.Paragraph, reader text.Reader, _ mdparser.Context) {
	lines, src := par.Lines(), reader.Source()
	for i := 1; i < lines.Len(); i++ {
		line := lines.At(i)
		aligns := columnAligns(line.Value(src))
		if aligns == nil {
			continue
		}
		heading := lines.At(i - 1)
		if len(rowCells(nil, heading, src, len(aligns)+1)) > len(aligns) {
			return
		}
		t := &table{text: tableText{whole: extent{lineStart(src, heading.Start), 0}, aligns: aligns}}
		t.SetPos(heading.Start)
		t.text.fill(heading, lines.Sliced(i+1, lines.Len()), src)
		par.Parent().InsertAfter(par.Parent(), par, t)
		lines.SetSliced(0, i-1)
		if i == 1 {
			par.Parent().RemoveChild(par.Parent(), par)
			return
		}
		last := lines.At(i - 2)
		lines.Set(i-2, last.TrimRightSpace(src))
	}
}

// delimiting are the letters of the line below a table's heading.
const delimiting = "-|: \t\r\n\v\f"

// columnAligns reads the line below a table's heading: how each column is aligned. It returns nil if a line is none.
func columnAligns(line []byte) (aligns []string) {
	if bytes.IndexByte(line, '-') < 0 || len(bytes.Trim(line, delimiting)) > 0 || len(bytes.Trim(line, "-")) == 0 {
		return nil
	}
	if indent, _ := util.IndentWidth(line, 0); indent > 3 {
		return nil
	}
	columns := bytes.Split(line, []byte("|"))
	last := len(columns) - 1
	for i, c := range columns {
		c = bytes.TrimSpace(c)
		if len(c) == 0 && (i == 0 || i == last) {
			continue
		}
		rest, left := bytes.CutPrefix(c, []byte(":"))
		rest, right := bytes.CutSuffix(rest, []byte(":"))
		if len(rest) == 0 || len(bytes.Trim(rest, "-")) > 0 {
			return nil
		}
		align := "none"
		switch {
		case left && right:
			align = "center"
		case left:
			align = "left"
		case right:
			align = "right"
		}
		aligns = append(aligns, align)
	}
	return aligns
}

// fill reads the heading and the rows. A cell that is missing has no place of its own: it stands after the cell before it,
// and the first of a row at the row's start.
func (tt *tableText) fill(heading text.Segment, rows []text.Segment, src []byte) {
	columns, n := len(tt.aligns), 1+len(rows)
	all := make([]extent, 0, n*columns)
	tt.cells, tt.short, tt.spread = make([][]extent, n), make([]bool, n), make([]bool, n)
	previous, row := 0, heading
	for i := range n {
		if i > 0 {
			row = rows[i-1]
		}
		from := len(all)
		all = rowCells(all, row, src, columns)
		previous = max(row.Start, previous)
		if len(all) > from {
			previous = all[len(all)-1].to
		}
		for tt.short[i] = len(all) < from+columns; len(all) < from+columns; {
			all = append(all, extent{previous, previous})
		}
		tt.cells[i] = all[from:len(all):len(all)]
	}
	tt.whole.to = restOfLine(src, previous).to
}

// rowCells appends where the cells of a row stand, "most" of them at most.
func rowCells(cells []extent, row text.Segment, src []byte, most int) []extent {
	row = row.TrimLeftSpace(src)
	row = row.TrimRightSpace(src)
	at, end := row.Start, row.Stop
	if at < end && src[at] == '|' {
		at++
	}
	if row.Start < end && src[end-1] == '|' {
		end--
	}
	for ; at < end && most > 0; most-- {
		to := at
		for to < end && (src[to] != '|' || to > row.Start && src[to-1] == '\\') {
			to++
		}
		cell := text.NewSegment(at, to)
		cell = cell.TrimLeftSpace(src)
		cell = cell.TrimRightSpace(src)
		cells = append(cells, extent{cell.Start, cell.Stop})
		at = to + 1
	}
	return cells
}
