package player_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// TestThroughSoundsAsRepeatingDoes: up to its end, a course that ends sounds like the loop
// that does not, whatever the tempo, ladder and rests.
func TestThroughSoundsAsRepeatingDoes(t *testing.T) {
	sheet := player.NewTimeline(score(t, lanternSheet("   - tempo: 28 to 31 bars/min\n")))
	danced, err := sheet.To(song(t, beatsOfSong(60)))
	require.NoError(t, err)
	for _, timeline := range []*player.Timeline{sheet, danced} {
		throughAsRepeating(t, timeline)
	}
}

func throughAsRepeating(t *testing.T, timeline *player.Timeline) {
	first := timeline.Passage(0)
	ladder := player.Ladder{Start: 70, Gain: 10, Top: 90, Times: 1}
	band := player.Sounds{Kit: sounds.Kit, Band: audio.NewBand(rate), Voice: wordless{}}
	for _, set := range []player.Settings{
		{Percent: 100},
		{Percent: 83, LeadIn: 1},
		{Percent: 100, LeadIn: 2, Rest: 1, Ladder: ladder},
		{Percent: 100, Ladder: ladder},
	} {
		for _, s := range []player.Interval{{From: timeline.Start, To: timeline.End}, first, {From: first.From + 3*routine.Beat + routine.Beat/2, To: timeline.End}} {
			for times := 1; times <= 4; times++ {
				name := fmt.Sprint(set, s, times)
				c := player.NewCourse(rate, band, timeline, set)
				through := c.Through(500, timeline, s, times, set)
				again := set
				again.Loop = s
				ever := c.Start(500, timeline, s.From, again)
				end := int64(through.End())
				assert.Equal(t, player.Finished, through.At(float64(end)+1).State, name)
				want := ever.Hits(nil, 0, end-1)
				require.NotEmpty(t, want, name)
				assert.Equal(t, want, through.Hits(nil, 0, end-1), name)
				assert.Empty(t, through.Hits(nil, end+1, end+1000*rate), name)
				for _, h := range want {
					was, is := ever.At(float64(h.Frame)), through.At(float64(h.Frame))
					require.Equal(t, []any{was.State, was.Event, was.RunThrough, was.Tempo}, []any{is.State, is.Event, is.RunThrough, is.Tempo}, name)
					require.InDelta(t, int64(was.Beat), int64(is.Beat), 1, name) // a beat is rounded down to 1/960
				}
			}
		}
	}
}

// wordless is a voice that knows no words.
type wordless struct{}

func (wordless) In(string) func(string) (audio.Sound, int, bool) {
	return func(string) (audio.Sound, int, bool) { return nil, 0, false }
}

func TestCountInIsWhatTheVoiceSays(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	var said []string
	for b := -3 * routine.Beat; b < routine.Beat; b += routine.Beat {
		said = append(said, timeline.CountIn(b, timeline.Start).Words)
	}
	assert.Equal(t, []string{"two", "three", "four", "one"}, said)
	assert.Equal(t, player.Labels{Count: "1", SlowQuick: "1", Words: "one"}, timeline.CountIn(0, timeline.Start))
}

// TestASongThroughAPart: a song sounds as it does in a loop, until it dies away.
func TestASongThroughAPart(t *testing.T) {
	timeline, _ := laid(t, 44)
	for _, rest := range []int{0, 1} {
		set := player.Settings{Percent: 100, LeadIn: 1, Rest: rest}
		part := timeline.Passage(2)
		empty := player.NewCourse(rate, player.Sounds{Kit: sounds.Kit}, timeline, set)
		through := empty.Through(0, timeline, part, 3, set)
		set.Loop = part
		end := int(through.End()) - rate/20
		want := playing(empty.Start(0, timeline, part.From, set), player.MusicLayer, end, 4096)
		got := playing(through, player.MusicLayer, end, 4096)
		for i := range want {
			if math.Abs(want[i][0]-got[i][0]) > 1e-6 {
				assert.Fail(t, "another sound", "frame %d of %d, with a rest of %d bars: %v, not %v", i, end, rest, got[i], want[i])
				break
			}
		}
	}
}
