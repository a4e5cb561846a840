package main

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/charmbracelet/x/ansi"
	"github.com/mattn/go-runewidth"
)

// gutter is between two columns of a table.
const gutter = "  "

// fitted sets rows below each other in columns, of which some may be wrapped between words
// until the table is no wider than a terminal. A cell may have several lines. It returns no
// lines if a word would have to be broken.
func fitted(rows [][]string, wrapping []int, width int) (lines []string) {
	widths, least := make([]int, len(rows[0])), make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			for line := range strings.Lines(cell) {
				widths[i] = max(widths[i], textColumns(line))
			}
			for _, word := range strings.Fields(cell) {
				least[i] = max(least[i], textColumns(word))
			}
		}
	}
	all := len(gutter) * (len(widths) - 1)
	for _, w := range widths {
		all += w
	}
	for ; all > width; all-- {
		widest := -1
		for _, i := range wrapping {
			if widths[i] > least[i] && (widest < 0 || widths[i] > widths[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			return nil
		}
		widths[widest]--
	}
	for _, row := range rows {
		lines = append(lines, rowLines(row, widths)...)
	}
	return lines
}

// rowLines is a row of a table, whose cells are wrapped between words, or where one is longer
// than its column, in it.
func rowLines(row []string, widths []int) (lines []string) {
	cells := make([][]string, len(row))
	for i, cell := range row {
		for text := range strings.Lines(cell) {
			cells[i] = append(cells[i], wordLines(text, widths[i])...)
		}
	}
	high := 0
	for _, c := range cells {
		high = max(high, len(c))
	}
	for y := range high {
		var line strings.Builder
		for i, c := range cells {
			text := ""
			if y < len(c) {
				text = c[y]
			}
			line.WriteString(text + strings.Repeat(" ", widths[i]-textColumns(text)) + gutter)
		}
		lines = append(lines, strings.TrimRight(line.String(), " "))
	}
	return lines
}

// wordLines is a text in lines of whole words; only a word that is wider than them is broken.
func wordLines(text string, width int) (lines []string) {
	for _, word := range strings.Fields(text) {
		if n := len(lines); n > 0 && textColumns(lines[n-1])+1+textColumns(word) <= width {
			lines[n-1] += " " + word
			continue
		}
		lines = append(lines, strings.Split(ansi.Hardwrap(word, max(width, 2), false), "\n")...)
	}
	return lines
}

// textColumns is how wide a text is.
func textColumns(text string) int { return runewidth.StringWidth(strings.TrimRight(text, "\n")) }

// stacked puts the cells from one on below each other into it, for a terminal that is too
// narrow for them: the last column is all that is left.
func stacked(rows [][]string, from, width int) (lines []string) {
	widths := make([]int, from+1)
	rows = slices.Clone(rows)
	for n, row := range rows {
		below := slices.DeleteFunc(slices.Clone(row[from:]), func(cell string) bool { return cell == "" })
		rows[n] = append(slices.Clone(row[:from]), strings.Join(below, "\n"))
		for i, cell := range row[:from] {
			widths[i] = max(widths[i], textColumns(cell))
		}
	}
	widths[from] = width
	for _, w := range widths[:from] {
		widths[from] -= w + len(gutter)
	}
	for _, row := range rows {
		lines = append(lines, rowLines(row, widths)...)
	}
	return lines
}

// lines is a text in as many lines as a terminal needs, or in one.
func (a *app) lines(text string) []string {
	if !a.atTerminal() {
		return []string{text}
	}
	return wordLines(text, a.columns())
}

// table sets the first columns of rows below each other.
func table(rows [][]string, columns int) string {
	var text strings.Builder
	w := tabwriter.NewWriter(&text, 0, 0, 2, ' ', 0)
	for _, row := range rows {
		fmt.Fprintln(w, strings.Join(row[:columns], "\t"))
	}
	_ = w.Flush() // a builder takes everything
	return text.String()
}

// widest is how wide the widest line of a text is.
func widest(text string) (width int) {
	for line := range strings.Lines(text) {
		width = max(width, runewidth.StringWidth(strings.TrimRight(line, " \n")))
	}
	return width
}

// wrapped is a text in as many lines as a terminal needs, or in one, with what stands
// before the first and before each other.
func (a *app) wrapped(text, first, other string) string {
	if a.atTerminal() {
		text = strings.ReplaceAll(ansi.Wordwrap(text, max(a.columns()-len(other)-1, 12), ""), "\n", "\n"+other)
	}
	return first + text
}
