package handout

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"strings"

	"github.com/mattn/go-runewidth"

	"dance.example/slowquick/player/handout/prose"
	"dance.example/slowquick/player/harmless"
)

// textWidth is the width of plain text in columns: as many as fit a page.
const textWidth = 78

// Text writes handouts as plain text, one after the other, without drawings: to be read aloud, or sent
// as a letter.
func Text(w io.Writer, sheets ...Sheet) error {
	t := textWriter{bufio.NewWriter(w)}
	for i, s := range sheets {
		if i > 0 {
			fmt.Fprintf(t, "\n\n%s\n\n", strings.Repeat("*", textWidth))
		}
		t.programme(newProgramme(s.Line, s.Options))
	}
	if err := t.Flush(); err != nil {
		return fmt.Errorf("write handout: %w", err)
	}
	return nil
}

type textWriter struct{ *bufio.Writer }

func (t textWriter) programme(p *programme) {
	t.heading(p.Title, "=")
	if p.Side != "" {
		fmt.Fprintf(t, "%s's steps\n", p.Side)
	}
	t.facts(p.Facts)
	for _, section := range p.Prose.Intro {
		if section.Name != "" {
			fmt.Fprintln(t)
			t.heading(section.Name, "-")
		}
		t.blocks(section.Blocks, "")
	}
	fmt.Fprintln(t)
	t.heading("Order", "-")
	rows := [][]string{{"No.", "Figure", "Bars", "Begins at"}}
	for _, o := range p.Order {
		rows = append(rows, []string{fmt.Sprint(o.Number), o.Name, o.Bars, o.At})
	}
	t.table(rows, func(row int) []string {
		if row == 0 {
			return nil
		}
		return p.Order[row-1].Remarks
	})
	t.blocks(p.Prose.Order, "")
	for i := range p.Figures {
		t.figure(p, &p.Figures[i])
	}
}

func (t textWriter) figure(p *programme, f *figurePart) {
	fmt.Fprintln(t)
	t.heading(f.Name, "-")
	t.facts(f.Facts)
	t.blocks(f.Prose, "")
	fmt.Fprintln(t)
	head := []string{"Step", "Count"}
	if f.Styled {
		head = append(head, "Said")
	}
	head = append(head, p.Sides...)
	for _, side := range p.Sides {
		if f.HasTurn {
			head = append(head, turnHeading(p, side))
		}
	}
	if f.HasPosition {
		head = append(head, "Position")
	}
	rows := [][]string{head}
	for _, r := range f.Rows {
		cells := []string{fmt.Sprint(r.Number), r.Count}
		if f.Styled {
			cells = append(cells, r.Said)
		}
		cells = append(cells, r.Steps...)
		if f.HasTurn {
			cells = append(cells, r.Turns...)
		}
		if f.HasPosition {
			cells = append(cells, r.Position)
		}
		rows = append(rows, cells)
	}
	t.table(rows, nil)
	fmt.Fprintln(t)
	t.paragraph("Spoken: "+f.Spoken, "")
	t.paragraph(f.Said, "")
}

// turnHeading returns the heading of a partner's turns.
func turnHeading(p *programme, side string) string {
	if len(p.Sides) == 1 {
		return "Turn"
	}
	return side + "'s turn"
}

func (t textWriter) heading(text, line string) {
	text = harmless.Handout(text)
	fmt.Fprintf(t, "%s\n%s\n", text, strings.Repeat(line, min(max(runewidth.StringWidth(text), 1), textWidth)))
}

func (t textWriter) facts(facts []fact) {
	width := 0
	for _, f := range facts {
		width = max(width, len(f.Name)+2)
	}
	for _, f := range facts {
		lines := wrapped(f.Value, textWidth-width)
		for i, l := range lines {
			name := ""
			if i == 0 {
				name = f.Name + ":"
			}
			fmt.Fprintf(t, "%-*s%s\n", width, name, l)
		}
	}
}

// table writes rows in columns as wide as needed, with what is said about a row below it. Rows that are
// too wide for a page are written cell by cell.
func (t textWriter) table(rows [][]string, below func(row int) []string) {
	widths := columnWidths(rows)
	total := -2
	for _, width := range widths {
		total += width + 2
	}
	if total > textWidth && len(widths) > 2 {
		t.cells(rows)
		return
	}
	for i, cells := range rows {
		line := ""
		for c, cell := range cells {
			cell = harmless.Handout(cell)
			line += cell + strings.Repeat(" ", max(widths[c]-runewidth.StringWidth(cell), 0)+2)
		}
		fmt.Fprintln(t, strings.TrimRight(line, " "))
		if below == nil {
			continue
		}
		for _, text := range below(i) {
			for _, l := range wrapped(text, textWidth-widths[0]-4) {
				fmt.Fprintf(t, "%s%s\n", strings.Repeat(" ", widths[0]+4), l)
			}
		}
	}
}

// cells writes each row below the last, and its cells with their columns' headings.
func (t textWriter) cells(rows [][]string) {
	head := rows[0]
	for _, row := range rows[1:] {
		fmt.Fprintf(t, "%s %s, %s %s\n", head[0], harmless.Handout(row[0]), strings.ToLower(head[1]), harmless.Handout(row[1]))
		for c, cell := range row[2:] {
			if cell != "" {
				t.paragraph(head[c+2]+": "+cell, "  ")
			}
		}
	}
}

func (t textWriter) paragraph(text, indent string) {
	for _, l := range wrapped(text, textWidth-len(indent)) {
		fmt.Fprintf(t, "%s%s\n", indent, l)
	}
}

func (t textWriter) blocks(blocks []prose.Block, indent string) {
	for _, b := range blocks {
		fmt.Fprintln(t)
		t.block(b, indent)
	}
}

func (t textWriter) block(b prose.Block, indent string) {
	switch b.Kind {
	case "code":
		for _, s := range b.Spans {
			for line := range strings.Lines(s.Text) {
				fmt.Fprintf(t, "%s    %s\n", indent, strings.TrimRight(line, "\n"))
			}
		}
	case "ol", "ul", "quote":
		for i, item := range b.Items {
			mark := cmp.Or(map[string]string{"ul": "- ", "quote": "  "}[b.Kind], fmt.Sprintf("%d. ", i+1))
			for k, part := range item {
				if k == 0 && part.Kind == "p" {
					lines := wrapped(prose.PlainText(part.Spans), textWidth-len(indent)-len(mark))
					for n, l := range lines {
						if n > 0 {
							mark = strings.Repeat(" ", len(mark))
						}
						fmt.Fprintf(t, "%s%s%s\n", indent, mark, l)
					}
					continue
				}
				t.block(part, indent+strings.Repeat(" ", len(mark)))
			}
		}
	case "table":
		var rows [][]string
		for _, row := range b.Rows {
			var cells []string
			for _, cell := range row {
				cells = append(cells, prose.PlainText(cell))
			}
			rows = append(rows, cells)
		}
		t.table(rows, nil)
	default:
		t.paragraph(prose.PlainText(b.Spans), indent)
	}
}

// wrapped breaks a text into lines of at most width columns, between words; a longer word gets a line
// of its own.
func wrapped(text string, width int) (lines []string) {
	line := ""
	for _, word := range strings.Fields(harmless.Handout(text)) {
		switch {
		case line == "":
			line = word
		case runewidth.StringWidth(line)+1+runewidth.StringWidth(word) <= width:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	return append(lines, line)
}
