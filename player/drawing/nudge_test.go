package drawing

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// deepest returns the deepest overlap of two footprints, as a part of a foot's width.
func deepest(p *picture) (deep float64) {
	for i := range p.prints {
		for j := range p.prints[:i] {
			f, g := &p.prints[i], &p.prints[j]
			for k := range discs {
				for l := range discs {
					if len(f.rows) > 0 && len(g.rows) > 0 {
						deep = max(deep, 1-p.disc(f, k).Distance(p.disc(g, l))/(2*radius))
					}
				}
			}
		}
	}
	return deep
}

// TestFeetAreNudgedApart: where a figure is drawn in one picture, no footprint covers more than a third of another's
// width; without nudging many would.
func TestFeetAreNudgedApart(t *testing.T) {
	covered, nudged := 0, 0
	book := library.Open()
	d, _ := book.Dance("cha-cha")
	for _, name := range book.Figures(d) {
		fig, _ := book.Figure(d, name)
		path := floor.Trace(fig.Alone(d, d.Stride, fig.Starts.Positions))
		s := &subject{Passage: &path.Score.Passages[0], drawer: New(path), couples: path.Passage(0)}
		for _, q := range routine.Partners() {
			p := s.newPicture(0, s.rows(), []routine.Partner{q})
			before := deepest(p)
			p.nudge()
			if !p.untangled(mostTangle) {
				continue
			}
			assert.Less(t, deepest(p), 1.0/3, "%s of the %s", name, q)
			nudged++
			if before > 1.0/3 {
				covered++
			}
		}
	}
	assert.Greater(t, nudged, 20)
	assert.Greater(t, covered, 5)
}
