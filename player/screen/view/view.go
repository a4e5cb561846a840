// Package view draws the large part of the dance's screen: the steps, the plan of the floor,
// or a class's count and figure.
//
// A view is given a [cue.Cue] and a size, and returns lines. What one needs to dance the next
// step is at least three rows high in a window of 80 by 24: from three metres, comfortable reading
// needs 20 to 22 minutes of arc (ISO 9241-303, from memory), which is 18 to 19 mm, and a row of a
// laptop's terminal is 7 mm high. Begin with [New].
package view

import (
	"cmp"

	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/player/screen/term"
)

// The window in which everything is shown.
const (
	WholeWidth  = 80
	WholeHeight = 24
)

// Least is the number of lines below which a view can't be read.
const Least = 5

// Kind is one of the views.
type Kind uint8

// Firsts are the names of those that can be shown first. A class, of which nothing is kept, begins by a key.
var Firsts = [...]string{ofSteps: "steps", ofFloor: "plan"}

const (
	ofSteps Kind = iota
	ofFloor
	ofClass
	kinds
)

// Model is the views of a dance, of which one is shown.
type Model struct {
	kind   Kind
	steps  steps
	floor  floor
	counts counts
}

// New returns the views for a terminal, with the steps shown.
func New(t term.Theme, mode raster.Mode) *Model {
	m := &Model{steps: steps{letters: letters{theme: t}}}
	m.SetMode(mode)
	return m
}

// SetMode draws for another terminal from now on.
func (m *Model) SetMode(mode raster.Mode) {
	m.floor.setMode(mode)
	if (mode.Raster == raster.Sixel || mode.Raster == raster.Kitty) && mode.Depth == raster.Sixteen {
		mode.Depth = raster.Indexed // what shows pictures has more colours than it says; signs and plan have the same
	}
	mode.Raster = raster.Blocks // signs are as clear in cells, and cost less
	m.steps.cells, m.steps.drawn = raster.NewPalette(mode), nil
}

// Show shows a view.
func (m *Model) Show(k Kind) { m.kind = k % kinds }

// Next shows the next view.
func (m *Model) Next() { m.kind = (m.kind + 1) % kinds }

// Class reports whether a class is shown the count and the figure alone.
func (m *Model) Class() bool { return m.kind == ofClass }

// Moves reports whether the view changes between two counts.
func (m *Model) Moves() bool { return m.kind == ofFloor }

// Name says what the view shows in so many columns and lines, or why it can't.
func (m *Model) Name(c *cue.Cue, width, height int) string {
	switch m.kind {
	case ofFloor:
		if !c.Hidden.AllSteps() {
			return "The plan would show the steps that are hidden (u)"
		}
		if _, ok := planWidth(width, height); !ok {
			return "The window is too small for the plan"
		}
		return "Plan of the floor " + m.floor.from.String() + " (V turns it)"
	case ofClass:
		return "Count and figures only"
	}
	return "Steps"
}

// Turn looks at the plan from elsewhere. The plan is shown first if it was not.
func (m *Model) Turn() {
	if m.kind == ofFloor {
		m.floor.turn()
	}
	m.kind = ofFloor
}

// View draws the view in so many lines of a window, from the line top on, counted from 0.
func (m *Model) View(c *cue.Cue, width, height, top int) []string {
	m.floor.over = ""
	if height <= 0 {
		return nil
	}
	switch {
	case m.kind == ofClass:
		return m.steps.letters.class(c, width, height)
	case m.kind == ofFloor:
		if wide, ok := m.floor.shows(c, width, height); ok {
			left := width - wide - 1
			return m.floor.beside(m.steps.draw(c, left, height), c, wide, left, top)
		}
	}
	return m.steps.draw(c, width, height)
}

// Counts draws the counts of the bar, or of a figure that does not keep to bars, with the one that is
// heard marked: two lines.
func (m *Model) Counts(c *cue.Cue, width int) []string { return m.counts.draw(c, m.steps.theme, width) }

// Follow takes in what is to be shown, before View draws it.
func (m *Model) Follow(c *cue.Cue) {
	if m.kind == ofFloor {
		m.floor.follow(c)
	}
}

// Pictures says how pictures are drawn, and NextPictures draws them in the next way that the terminal
// has, or in the one before.
func (m *Model) Pictures() string    { return m.floor.pictures() }
func (m *Model) NextPictures(by int) { m.floor.nextPictures(by) }

// Over returns what is written over the last view: a picture in real pixels or, without one, what takes
// the last picture away.
func (m *Model) Over() string { return cmp.Or(m.floor.over, m.Gone()) }

// Gone returns what takes the last picture away where something else than a view is shown; "" where text that
// is written over a picture does that.
func (m *Model) Gone() string { return m.floor.mode.Gone() }
