package drawing_test

import (
	"encoding/xml"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine/floor"
)

// TestADrawingSaysWhatItShows, in words: where it leads, the steps and turns, and the hands that hold; as many
// joined hands are drawn. Common practice: in a closed hold the leader's right hand is on the follower's
// back and the left hand holds the follower's right, which alone is held in fan; in a New York both turn
// away from each other and back, and one hand is held.
func TestADrawingSaysWhatItShows(t *testing.T) {
	for _, c := range []struct {
		dance, name string
		shown       [2]bool
		joined      int    // hands, at the beginning and at the end
		said        string // after where it leads
	}{
		{"waltz", "Whisk", both, 4, "Leader 3 steps, LF first; follower 3 steps, RF first, 1/4 R. Closed hold."},
		{"rumba", "Fan", both, 3, "Leader 3 steps, RF first; follower 3 steps, LF first, 1/4 L. Closed hold at first, at the end hands left to right."},
		{"rumba", "Fan", leaderOnly, 0, "Leader 3 steps, RF first."},
	} {
		path := trace(t, order("dance: "+c.dance+"\n", c.name))
		list := drawn(path, 0, c.shown, plan.Behind)
		require.Len(t, list, 1)
		said := drawing.Said(path, 0, c.shown)
		assert.True(t, strings.HasPrefix(said, "The figure "))
		assert.True(t, strings.HasSuffix(said, ". "+c.said), said)
		assert.Equal(t, said, list[0].Said)
		root := new(element)
		require.NoError(t, xml.Unmarshal(list[0].Document(), root))
		assert.Equal(t, c.name, root.all("title")[0].Text)
		assert.Equal(t, said, root.all("desc")[0].Text)
		joined := 0
		for _, s := range list[0].Shapes {
			if s.Path.Letters == "MCCCCZ" && s.Fill == 1<<24 {
				joined++
			}
		}
		assert.Equal(t, c.joined, joined)
	}
}

// TestEveryFigureSaysWhatItShows, and how many steps each partner has.
func TestEveryFigureSaysWhatItShows(t *testing.T) {
	for _, f := range figuresDrawn() {
		for _, d := range f.drawings {
			assert.Equal(t, f.path.Score.Passages[0].Name(), d.Name)
			assert.Equal(t, drawing.Said(f.path, 0, both), d.Said)
			for _, says := range []string{"The figure ", ". Leader ", "; follower ", " step"} {
				assert.Contains(t, d.Said, says)
			}
			assert.Regexp(t, `\. (Closed hold|Hands|No hands held)[^.]*\.$`, d.Said)
			var texts []string
			for _, s := range d.Shapes {
				texts = append(texts, s.Text.Words)
			}
			assert.Subset(t, texts, []string{"begins", "ends"})
		}
	}
}

// TestABodyHoldIsHeldAtTheEnd if the figure ends in one, whatever happened in between.
func TestABodyHoldIsHeldAtTheEnd(t *testing.T) {
	closed := 0
	for _, f := range figuresDrawn() {
		p := &f.path.Score.Passages[0]
		if p.Ends == 0 || p.Ends.Unknown() || p.Figure.Ends.Hands != 0 {
			continue
		}
		if ends := p.Ends.First(); ends.String() == "closed" && p.Ends.String() == "closed" {
			closed++
			assert.Regexp(t, `(Closed hold\.|Closed hold at first and at the end\.|at the end closed hold\.)$`, drawing.Said(f.path, 0, both), p.Name())
		}
	}
	assert.Greater(t, closed, 100)
}

// TestStancesStandApart from feet, the scale and the compass, and are on the paper: their words are.
func TestStancesStandApart(t *testing.T) {
	for _, f := range figuresDrawn() {
		for _, d := range f.drawings {
			var words, others []floor.Point
			for _, s := range d.Shapes {
				switch {
				case s.Text.Words == "begins" || s.Text.Words == "ends":
					words = append(words, s.Text.At)
				case s.Text.Words == "50 cm" || s.Text.Words == "LOD" || s.Text.Words == "wall":
					others = append(others, s.Text.At)
				case s.Width == 0.35: // the edge of a foot
					others = append(others, s.Path.Places...)
				}
			}
			require.Len(t, words, 2)
			for _, at := range words {
				for _, other := range others {
					if math.Abs(at.X-other.X) < 4 && other.Y > at.Y-12 && other.Y < at.Y+1 {
						assert.Failf(t, "one over the other", "%s: %v and %v of %v", f.path.Score.Passages[0].Name(), at, other, d.Size)
					}
				}
			}
		}
	}
}
