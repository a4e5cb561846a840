package library_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
)

// inBodyHold reports whether the bodies are in one hold in all of a figure, as far as its chart says.
func inBodyHold(fig *routine.Figure) bool {
	held := fig.Starts.Positions != 0
	all := []routine.PositionSet{fig.Starts.Positions, fig.Ends.Positions}
	for i := range fig.Rows {
		all = append(all, fig.Rows[i].Steps[routine.Leader].Position, fig.Rows[i].Steps[routine.Follower].Position)
	}
	for _, set := range all {
		for p := range set.Positions() {
			held = held && p.Region().Body
		}
	}
	return held
}

// TestTheNaturalOppositeIsWhatChartsSay for most steps of the figures in a hold of the bodies. It is a proposal:
// the rest are heel turns, steps around a partner, turns under the arm, and the swing dances' turns, in which who
// is on the inside turns an eighth more on the second step and points the foot.
func TestTheNaturalOppositeIsWhatChartsSay(t *testing.T) {
	lib := library.Open()
	steps, feet, ways, turns := 0, 0, 0, 0
	same := map[string][2]int{}
	for _, name := range lib.Dances() {
		c, ok := lib.Chapter(name)
		require.True(t, ok)
		for _, fig := range c.Figures {
			if !inBodyHold(fig) || !fig.Has[routine.Leader] || !fig.Has[routine.Follower] {
				continue
			}
			for i := range fig.Rows {
				charted := &fig.Rows[i].Steps[routine.Follower]
				s := fig.Opposite(i, &fig.Rows[i].Steps[routine.Leader])
				steps++
				n := same[name]
				n[1]++
				if s.Foot == charted.Foot {
					feet++
					if s.Way == charted.Way {
						ways++
						if s.Turn == charted.Turn && s.After == charted.After {
							turns++
							n[0]++
						}
					}
				}
				same[name] = n
			}
		}
	}
	share := func(n int) float64 { return 100 * float64(n) / float64(steps) }
	t.Logf("of %d steps the foot is as charted in %.1f %%, the way as well in %.1f %%, the turn as well in %.1f %%", steps, share(feet), share(ways), share(turns))
	assert.GreaterOrEqual(t, share(feet), 97.0)
	assert.GreaterOrEqual(t, share(ways), 83.0)
	assert.GreaterOrEqual(t, share(turns), 75.0)
	for dance, least := range map[string]int{"bachata": 100, "merengue": 100, "single swing": 90, "social foxtrot": 90, "paso doble": 85, "triple swing": 85, "samba": 80, "tango": 70, "waltz": 70} {
		assert.GreaterOrEqual(t, 100*same[dance][0]/same[dance][1], least, dance)
	}
}

// TestTheFreeFootIsWhatChartsTake on every step of the library.
func TestTheFreeFootIsWhatChartsTake(t *testing.T) {
	lib, known := library.Open(), 0
	for _, name := range lib.Dances() {
		c, ok := lib.Chapter(name)
		require.True(t, ok)
		for _, fig := range c.Figures {
			for i := range fig.Rows {
				for p, foot := range fig.Free(i) {
					if s := &fig.Rows[i].Steps[p]; foot != routine.NoFoot && !s.Stands() && !s.Pivots() {
						known++
						assert.Equal(t, foot, s.Foot, "%s, %s, row %d", name, fig.Name, i+1)
					}
				}
			}
		}
	}
	assert.Greater(t, known, 5000)
}
