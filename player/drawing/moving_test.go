package drawing_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/plan"
)

// TestAMovingDrawingStaysOnItsPaper: at any moment each foot and its letter is on it, and the count is that
// of the step danced last.
func TestAMovingDrawingStaysOnItsPaper(t *testing.T) {
	for _, name := range []string{"Natural turn", "Whisk", "Box step"} {
		path := trace(t, order(waltz, name))
		m := drawing.NewMoving(path, drawing.Options{Shown: both, Up: plan.Behind.Up(path, 0, both)})
		require.NotNil(t, m)
		from, to := m.Ends()
		size := m.At(0, 0.5).Size
		for beat := from.Float() - 1; beat <= to.Float(); beat += 0.25 {
			d := m.At(beat, 0.5)
			require.Equal(t, size, d.Size)
			letters, says := 0, ""
			for _, s := range d.Shapes {
				for _, p := range s.Path.Places {
					require.True(t, p.X >= 0 && p.Y >= 0 && p.X <= size.X && p.Y <= size.Y, "%s: %v at beat %v", name, p, beat)
				}
				if s.Text.Words == "L" || s.Text.Words == "R" {
					letters++
				}
				if strings.HasPrefix(s.Text.Words, "step ") {
					says = s.Text.Words
				}
			}
			assert.Equal(t, 4, letters, name)
			want := ""
			for i := range path.Score.Passages[0].Figure.Rows {
				if row := path.Score.Passages[0].At(i).Float(); row <= beat {
					want = "step " + string(rune('1'+i)) + ", count " + path.Score.Passages[0].Figure.Rows[i].Count.String()
				}
			}
			assert.Equal(t, want, says, "%s, beat %v", name, beat)
		}
	}
}
