package routine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/routine"
)

// TestPositionsByName: the constants are the positions of those names.
func TestPositionsByName(t *testing.T) {
	for p, name := range map[routine.Position]string{routine.Closed: "closed", routine.OpenFacing: "open facing", routine.OutsidePartner: "outside partner"} {
		assert.Equal(t, name, p.String())
	}
}

// TestRegionsHoldTheirUsualPlace: the usual place in a position lies in its region.
func TestRegionsHoldTheirUsualPlace(t *testing.T) {
	for p := range routine.AnyPosition.Positions() {
		r := p.Region()
		assert.True(t, r.Near <= r.Usual && r.Usual <= r.Far, "%s: %v", p, r)
		assert.True(t, r.Left <= r.UsualBearing && r.UsualBearing <= r.Right, "%s: %v", p, r)
	}
}

// TestTheShorterTurn between two directions, in eighths.
func TestTheShorterTurn(t *testing.T) {
	for _, test := range []struct {
		from, to routine.Direction
		want     routine.Turn
	}{{routine.LOD, routine.LOD, 0}, {routine.DW, routine.DC, -2}, {routine.DC, routine.DW, 2}, {routine.Wall, routine.Centre, -4}, {routine.Centre, routine.DW, 3}} {
		assert.Equal(t, test.want, test.from.To(test.to))
		assert.Equal(t, test.to, test.from.Turned(test.want))
	}
}
