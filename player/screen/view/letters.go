package view

import (
	"math"
	"strings"

	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/x/ansi"
)

// NameColumns is the room for "follower" before what is said of a partner.
const NameColumns = 10

// letters draws text on a terminal, as it is or in letters that can be read from afar.
type letters struct {
	theme term.Theme
	cells *raster.Palette // for signs and letters
}

// large draws a text as large as all of texts can be drawn in so many columns and rows, in the
// middle.
func (l letters) large(text string, texts []string, columns, rows int, ink raster.Ink) []string {
	canvas := raster.New(columns, rows, l.cells)
	width, height := canvas.Size()
	size := float64(height)
	for _, t := range texts {
		from, to := raster.Text(t, 100).Bounds()
		if w := to.X - from.X; w > 0 {
			size = min(size, float64(width-2)/w*100)
		}
	}
	// Letters that hang below the line need room too.
	shape := raster.Text(text, math.Floor(size*0.95))
	from, to := shape.Bounds()
	canvas.Fill(shape.Move(math.Round((float64(width)-to.X+from.X)/2-from.X), math.Round(max(0, (float64(height)-size)/2))), ink)
	return canvas.Rows()
}

// mostName is the rows of a name's letters where there is room.
const mostName = 6

// leastName returns the rows of letters below which a name is written as text. Without shades between
// the colours small letters can't be read.
func (l letters) leastName() int {
	if l.cells.Mode().Depth == raster.Mono {
		return 4
	}
	return 3
}

// name draws a name in letters of so many rows, on as many lines as it needs; nil if it needs more
// than lines.
func (l letters) name(text string, columns, rows, lines int, ink raster.Ink) []string {
	size := float64(2*rows) * 0.72 // capitals; the rest is for what hangs below the line
	wide := func(t string) float64 {
		_, to := raster.Text(t, size).Bounds()
		return to.X
	}
	var parts []string
	for _, word := range strings.Fields(strings.ReplaceAll(text, "-", "- ")) {
		if wide(word) > float64(columns) {
			return nil
		}
		if n := len(parts); n > 0 {
			between := " "
			if strings.HasSuffix(parts[n-1], "-") {
				between = ""
			}
			if wide(parts[n-1]+between+word) <= float64(columns) {
				parts[n-1] += between + word
				continue
			}
		}
		parts = append(parts, word)
	}
	if len(parts) > lines {
		return nil
	}
	var drawn []string
	for _, part := range parts {
		canvas := raster.New(columns, rows, l.cells)
		canvas.Fill(raster.Text(part, size).Move(0, 1), ink)
		drawn = append(drawn, canvas.Rows()...)
	}
	return drawn
}

// ink returns the ink of a partner for text. Text has the terminal's own ground, on which a colour can only
// be read if it is known.
func (l letters) ink(p routine.Partner) term.Ink {
	switch text := l.cells.Text(inks[p]); {
	case text == "":
		return l.theme.Partners[p]
	case l.cells.Mode().Ground.A == 0:
		return l.theme.Strong
	default:
		return term.Ink(text)
	}
}

// inks are the inks of the partners.
var inks = [2]raster.Ink{routine.Leader: raster.Leader, routine.Follower: raster.Follower}

// pad returns exactly so many lines: blank ones below, or the first ones only.
func pad(lines []string, height int) []string {
	for len(lines) < height {
		lines = append(lines, "")
	}
	return lines[:height]
}

func blank(columns int) string { return term.NewRow(columns).To(columns).String() }

// fill fills a line up with blanks to so many columns.
func fill(line string, columns int) string {
	return line + strings.Repeat(" ", max(0, columns-ansi.StringWidth(line)))
}
