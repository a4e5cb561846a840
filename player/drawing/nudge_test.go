package drawing

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/library"
	"dance.example/slowquick/routine/floor"
)

// deepest returns the deepest overlap of two footprints, as a part of a foot's width: as they are drawn and, if
// nobody had nudged them, as they are danced.
func deepest(p *picture) (drawn, danced float64) {
	overlap := func(f, g *print, at, other floor.Point) (deep float64) {
		for _, k := range discs {
			for _, l := range discs {
				deep = max(deep, 1-at.Plus(toward(f.toward).Times(k)).Distance(other.Plus(toward(g.toward).Times(l)))/(2*radius))
			}
		}
		return deep
	}
	for i := range p.prints {
		for j := range p.prints[:i] {
			if f, g := &p.prints[i], &p.prints[j]; len(f.rows) > 0 && len(g.rows) > 0 {
				drawn, danced = max(drawn, overlap(f, g, f.at, g.at)), max(danced, overlap(f, g, f.home, g.home))
			}
		}
	}
	return drawn, danced
}

// TestFeetAreNudgedApart: however a figure of the library is drawn, no footprint covers more than a third of
// another's width; without nudging many would.
func TestFeetAreNudgedApart(t *testing.T) {
	figures, split, strips, covered := 0, 0, 0, 0
	book := library.Open()
	for _, d := range book.AllDances() {
		for _, name := range book.Figures(d) {
			fig, _ := book.Figure(d, name)
			path := floor.Trace(fig.Alone(d, d.Stride, fig.Starts.Positions))
			s := New(path).subject(0)
			partners := s.partners([2]bool{true, true})
			layouts := s.layouts(0, min(s.rows(), mostRows), partners, paper{room: floor.Point{X: 178, Y: 150}, foot: longestFoot, both: len(partners) == 2})
			figures++
			if len(layouts) > 1 {
				split++
			}
			overlaps := false
			for _, l := range layouts {
				if l.strip {
					strips++
				}
				for _, p := range l.pictures {
					drawn, danced := deepest(p)
					assert.Less(t, drawn, 1.0/3, "%s of the %s", name, d.Name)
					overlaps = overlaps || danced > 1.0/3
				}
			}
			if overlaps {
				covered++
			}
		}
	}
	t.Logf("%d figures: %d are split, %d drawings are unrolled; in %d feet would cover each other by more than a third", figures, split, strips, covered)
	assert.Greater(t, figures, 340)
	assert.Greater(t, covered, 50)
}
