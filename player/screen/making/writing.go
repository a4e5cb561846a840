package making

import (
	"fmt"
	"strings"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/screen/dots"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"

	"github.com/charmbracelet/bubbles/textinput"
)

// writing is a figure of the sheet's own that is being written.
type writing struct {
	figure *draft.Figure
	row    int // that is marked; the one after the last is put in
	cell   draft.Cell
	input  textinput.Model // what is typed in place of the marked cell
	ways   []string        // to choose from there
	next   draft.Row       // what usually comes after the last row
	path   *floor.Path     // of the figure by itself; nil without a step
	over   bool            // the handbook holds something else, which is written over when asked again
}

// besideFloor is the least width with the floor beside the chart.
const besideFloor = 60

// newWriting returns the writing of a figure, at the row after its last.
func newWriting(f *draft.Figure, dance *routine.Dance) *writing {
	w := &writing{cell: draft.LeaderCell, input: term.NewInput("", "")}
	w.load(f, dance)
	w.goes(len(f.Rows), w.cell)
	return w
}

// load takes in the figure as it is now.
func (w *writing) load(f *draft.Figure, dance *routine.Dance) {
	w.figure, w.next, w.path = f, f.Next(), nil
	if fig := f.Read(); len(fig.Rows) > 0 {
		w.path = floor.Trace(fig.Alone(dance, dance.Stride, fig.Starts.Positions))
	}
	w.goes(w.row, w.cell)
}

// goes marks a cell, or the one nearest to it that there is. What was typed is dropped.
func (w *writing) goes(row int, cell draft.Cell) {
	w.row = min(max(row, 0), len(w.figure.Rows))
	w.cell = min(max(cell, draft.CountCell), draft.FollowerCell)
	w.input.SetValue("")
	w.ways = nil
	if w.cell != draft.CountCell {
		w.ways = w.figure.Ways(w.row, w.partner())
	}
}

// partner returns whose step is marked.
func (w *writing) partner() routine.Partner { return routine.Partner(w.cell - draft.LeaderCell) }

// typed returns what is typed.
func (w *writing) typed() string { return strings.TrimSpace(w.input.Value()) }

// heading names the figure, or shows what is typed.
func (w *writing) heading(width int, t *term.Theme) string {
	if w.typed() != "" {
		input := w.input
		input.Prompt = [...]string{"Count: ", "Leader: ", "Follower: "}[w.cell]
		return term.InputLine(width, *t, input)
	}
	r := term.NewRow(width).Put(t.Strong, harmless.Line(w.figure.Name))
	if starts := w.figure.Starts(); starts != "" {
		r.Put(term.Plain, " · starts "+harmless.Line(starts))
	}
	if ends := w.figure.Ends(); ends != "" {
		r.Put(term.Plain, " · ends "+harmless.Line(ends))
	}
	return r.String()
}

// lines draws the chart, below it what can be chosen, and beside it the floor if there is room.
func (w *writing) lines(width, rows int, t *term.Theme) []string {
	floor := 0
	if width >= besideFloor && w.path != nil {
		floor = width * 2 / 5
	}
	chart := w.chart(width-floor, rows, t)
	if floor == 0 {
		return chart
	}
	s := plan.Scene{Path: w.path, Danced: min(w.row+1, len(w.figure.Rows)), Shown: [2]bool{true, true}}
	for i, cells := range plan.Dots(s, floor-2, rows) {
		r := term.NewRow(floor - 2)
		dots.Write(r, cells, t)
		if i == len(chart) {
			chart = append(chart, "")
		}
		chart[i] += strings.Repeat(" ", max(width-floor+2-term.Width(chart[i]), 0)) + r.String()
	}
	return chart
}

// chart draws a line for each count, and what can be chosen for the marked cell.
func (w *writing) chart(width, rows int, t *term.Theme) []string {
	ways := w.choices(width, t)
	ways = ways[:min(len(ways), max(rows-4, 1))]
	column := (width - 9) / 2
	lines := []string{term.NewRow(width).Put(t.Faint, "  count").To(9).Put(t.Faint, "leader").To(9+column).Put(t.Faint, "follower").String()}
	n := len(w.figure.Rows) + 1
	seen := max(rows-len(lines)-len(ways)-1, 1)
	from := term.FirstSeen(n, w.row, seen)
	found, _ := w.figure.Objections()
	for i := from; i < min(from+seen, n); i++ {
		cells, k, mark := w.next, t.Faint, "  "
		if i < len(w.figure.Rows) {
			cells, k = w.figure.Rows[i], term.Plain
			if len(found[i]) > 0 {
				mark = "! "
			}
		}
		if i == w.row {
			mark = ">" + mark[:1]
		}
		r := term.NewRow(width).Put(k, mark)
		for c, text := range cells {
			at, room, ink := 9+(c-1)*column, column-1, k
			if c == 0 {
				at, room = 2, 6
			}
			if i == w.row && draft.Cell(c) == w.cell {
				ink, text = t.Present, "["+text+"]"
			}
			r.To(at).Put(ink, term.Cut(harmless.Line(text), room))
		}
		lines = append(lines, r.String())
	}
	return append(append(lines, ""), ways...)
}

// choices says which foot is free, and lists the ways by their digits.
func (w *writing) choices(width int, t *term.Theme) (lines []string) {
	if w.cell == draft.CountCell {
		return []string{term.NewRow(width).Put(t.Faint, "type another count").String()}
	}
	p := w.partner()
	foot := "either foot is free"
	if free := w.figure.Free(w.row)[p]; free != routine.NoFoot {
		foot = free.String() + " is free"
	}
	parts := make([]string, len(w.ways))
	for i, way := range w.ways {
		parts[i] = fmt.Sprintf("%d %s", i+1, way)
		if p == routine.Follower && i == 0 && way == w.figure.Opposite(w.row, w.leads()) {
			parts[i] += " (the natural opposite)"
		}
	}
	lines = append(lines, term.NewRow(width).Put(t.Strong, fmt.Sprintf("the %s's %s", p, foot)).String())
	for from := 0; from < len(parts); { // as many on a line as there is room for
		to := from + 1
		for to < len(parts) && term.Width(strings.Join(parts[from:to+1], " · ")) < width {
			to++
		}
		lines = append(lines, term.NewRow(width).Put(term.Plain, strings.Join(parts[from:to], " · ")).String())
		from = to
	}
	return lines
}

// leads returns the leader's step on the marked row.
func (w *writing) leads() string {
	if w.row < len(w.figure.Rows) {
		return w.figure.Rows[w.row][draft.LeaderCell]
	}
	return w.next[draft.LeaderCell]
}

// trouble says in two lines what is wrong with the marked row, or else with the first that is wrong.
func (w *writing) trouble(width int, t *term.Theme) (lines []string) {
	rows, elsewhere := w.figure.Objections()
	text := ""
	for i := range rows {
		if bad := rows[i]; len(bad) > 0 && (text == "" || i == w.row) {
			text = fmt.Sprintf("step %d: %s", i+1, bad[0].Message)
		}
	}
	if text == "" && len(elsewhere) > 0 {
		text = elsewhere[0].Message
	}
	for _, line := range term.Wrap(text, width) {
		if text != "" && len(lines) < 2 {
			lines = append(lines, term.NewRow(width).Put(t.Alarm, line).String())
		}
	}
	return lines
}
