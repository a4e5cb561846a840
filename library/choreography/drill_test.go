package choreography_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
)

// TestEveryFigureCanBeDrilled: each figure of the library is danced by itself without a
// finding, over and over if something leads back to it, and then in whole bars.
func TestEveryFigureCanBeDrilled(t *testing.T) {
	lib := shipped()
	figures, once := 0, 0
	for _, name := range lib.Dances() {
		c, ok := lib.Chapter(name)
		require.True(t, ok)
		for _, fig := range c.Figures {
			figures++
			d := choreography.NewDrill(c.Dance, fig, c.Figures)
			assert.Empty(t, d.Findings, "%s: %s", c.Dance.Name, fig.Name)
			score := d.Score
			require.NotEmpty(t, score.Passages, "%s: %s", c.Dance.Name, fig.Name)
			assert.Same(t, fig, score.Passages[0].Figure.Charted())
			if !d.Returns {
				once++
				assert.Len(t, score.Passages, 1, fig.Name)
				continue
			}
			var danced []*routine.Figure
			for _, p := range score.Passages {
				danced = append(danced, p.Figure.Charted())
			}
			for _, f := range choreography.Parted(c.Dance, append(danced, fig)...) {
				assert.Equal(t, routine.Code("against-line-of-dance"), f.Code, "%s: %s", c.Dance.Name, d.Name)
			}
			assert.Zero(t, (score.End-score.Start)%c.Dance.Metre.Bar(), "%s: %s", c.Dance.Name, d.Name)
		}
	}
	t.Logf("%d figures, of which %d are danced once with a rest", figures, once)
	assert.Less(t, once, figures/10, "mostly, something leads back")
}
