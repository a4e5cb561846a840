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
	"dance.example/slowquick/routine"
)

// The window in which everything is shown.
const (
	WholeWidth  = 80
	WholeHeight = 24
)

// Least is the number of lines below which a view can't be read.
const Least = 5

// NameColumns is the room for "follower" before what is said of a partner.
const NameColumns = 10

// kind is one of the views.
type kind uint8

const (
	steps kind = iota
	plan
	class
	kinds
)

// Model is the views of a dance, of which one is shown.
type Model struct {
	theme term.Theme
	cells *raster.Palette // for signs and letters
	kind  kind
	floor floor

	counts cells

	of    moment   // of which the steps were drawn last
	drawn []string // then; nil if they have to be drawn anew
}

// New returns the views for a terminal, with the steps shown.
func New(t term.Theme, mode raster.Mode) *Model {
	m := &Model{theme: t}
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
	m.cells, m.drawn = raster.NewPalette(mode), nil
}

// Next shows the next view.
func (m *Model) Next() { m.kind = (m.kind + 1) % kinds }

// Class reports whether a class is shown the count and the figure alone.
func (m *Model) Class() bool { return m.kind == class }

// Moves reports whether the view changes between two counts.
func (m *Model) Moves() bool { return m.kind == plan }

// Name says what the view shows in so many columns and lines, or why it can't.
func (m *Model) Name(c *cue.Cue, width, height int) string {
	switch m.kind {
	case plan:
		if !c.Hidden.AllSteps() {
			return "The plan would show the steps that are hidden (u)"
		}
		if _, ok := planWidth(width, height); !ok {
			return "The window is too small for the plan"
		}
		return "Plan of the floor " + m.floor.from.String() + " (V turns it)"
	case class:
		return "Count and figures only"
	}
	return "Steps"
}

// Turn looks at the plan from elsewhere. The plan is shown first if it was not.
func (m *Model) Turn() {
	if m.kind == plan {
		m.floor.turn()
	}
	m.kind = plan
}

// View draws the view in so many lines of a window, from the line top on, counted from 0.
func (m *Model) View(c *cue.Cue, width, height, top int) []string {
	m.floor.over = ""
	if height <= 0 {
		return nil
	}
	switch {
	case m.kind == class:
		return m.class(c, width, height)
	case m.kind == plan:
		if lines := m.plan(c, width, height, top); lines != nil {
			return lines
		}
	}
	return m.steps(c, width, height)
}

// Over returns what is written over the last view: a picture in real pixels or, without one, what takes
// the last picture away.
func (m *Model) Over() string { return cmp.Or(m.floor.over, m.Gone()) }

// Gone returns what takes the last picture away where something else than a view is shown; "" where text that
// is written over a picture does that.
func (m *Model) Gone() string { return m.floor.mode.Gone() }

// ink returns the ink of a partner for text. Text has the terminal's own ground, on which a colour can only
// be read if it is known.
func (m *Model) ink(p routine.Partner) term.Ink {
	switch text := m.cells.Text(inks[p]); {
	case text == "":
		return m.theme.Partners[p]
	case m.cells.Mode().Ground.A == 0:
		return m.theme.Strong
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
