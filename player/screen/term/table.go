package term

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// gutter is between two columns of a table.
const gutter = "  "

// Table returns rows of clean text set in columns. The columns whose indexes are in wrapping are
// wrapped between words until no line is wider than width. A cell may have several lines. It
// returns no lines if a word would have to be broken.
func Table(rows [][]string, wrapping []int, width int) (lines []string) {
	widths, least := make([]int, len(rows[0])), make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			for line := range strings.Lines(cell) {
				widths[i] = max(widths[i], Width(strings.TrimRight(line, "\n")))
			}
			for _, word := range strings.Fields(cell) {
				least[i] = max(least[i], Width(word))
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

// rowLines returns the lines of a row, whose cells are wrapped as by [Words].
func rowLines(row []string, widths []int) (lines []string) {
	cells := make([][]string, len(row))
	for i, cell := range row {
		for text := range strings.Lines(cell) {
			cells[i] = append(cells[i], Words(text, widths[i])...)
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
			line.WriteString(text + strings.Repeat(" ", widths[i]-Width(text)) + gutter)
		}
		lines = append(lines, strings.TrimRight(line.String(), " "))
	}
	return lines
}

// Words breaks clean text into lines of whole words; only a word that is wider than a line is broken.
func Words(text string, width int) (lines []string) {
	for _, word := range strings.Fields(text) {
		if n := len(lines); n > 0 && Width(lines[n-1])+1+Width(word) <= width {
			lines[n-1] += " " + word
			continue
		}
		lines = append(lines, strings.Split(ansi.Hardwrap(word, max(width, 2), false), "\n")...)
	}
	return lines
}

// Stack is like [Table] for a terminal that is too narrow for the columns after from: it sets their
// cells below each other in that column, which takes what is left of width.
func Stack(rows [][]string, from, width int) (lines []string) {
	widths := make([]int, from+1)
	rows = slices.Clone(rows)
	for n, row := range rows {
		below := slices.DeleteFunc(slices.Clone(row[from:]), func(cell string) bool { return cell == "" })
		rows[n] = append(slices.Clone(row[:from]), strings.Join(below, "\n"))
		for i, cell := range row[:from] {
			widths[i] = max(widths[i], Width(cell))
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

// Beside returns two blocks of lines beside each other, the right one so wide. Where width has no
// room for both, the right one is below the left.
func Beside(left, right []string, wide, width int) []string {
	const gap = 3
	column := 0
	for _, line := range left {
		column = max(column, Width(line)+gap)
	}
	if column+wide > width {
		return append(append(left, ""), right...)
	}
	lines := make([]string, max(len(left), len(right)))
	copy(lines, left)
	for i, line := range right {
		lines[i] = strings.TrimRight(lines[i]+strings.Repeat(" ", column-Width(lines[i]))+line, " ")
	}
	return lines
}
