package player_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/player"
)

// tapped returns taps at the given seconds.
func tapped(seconds ...float64) *player.Taps {
	taps := &player.Taps{}
	start := time.Unix(1000, 0)
	for _, s := range seconds {
		taps.Tap(start.Add(time.Duration(s * float64(time.Second))))
	}
	return taps
}

func TestTaps(t *testing.T) {
	for _, test := range []struct {
		name    string
		seconds []float64
		want    float64 // beats a minute; 0 for none
	}{
		{"none", nil, 0},
		{"too few", []float64{0, 0.5, 1}, 0},
		{"steady", []float64{0, 0.5, 1, 1.5, 2}, 120},
		{"one missed", []float64{0, 0.5, 1, 2, 2.5, 3}, 120},
		{"one tapped twice", []float64{0, 0.5, 1, 1.05, 1.5, 2, 2.5}, 120},
		{"both", []float64{0, 0.5, 1, 1.04, 1.5, 2.5, 3, 3.5}, 120},
		{"begun anew after a pause", []float64{0, 0.3, 0.6, 0.9, 10, 10.5, 11, 11.5}, 120},
		{"all at once", []float64{1, 1, 1, 1, 1}, 0},
		{"as fast as quickstep", []float64{0, 0.294, 0.588, 0.882, 1.176}, 204.1},
	} {
		t.Run(test.name, func(t *testing.T) {
			pulse, ok := tapped(test.seconds...).Pulse()
			require.Equal(t, test.want != 0, ok)
			if ok {
				assert.InDelta(t, test.want, pulse.Tempo().Float(), 0.5)
			}
		})
	}
}

// TestTapsOfAPerson: sixteen taps, each up to 30 ms off, one of them missed and one
// doubled, find the tempo within 3 % and the beat within 30 ms. (People tap to music with
// an error of about 30 ms: from memory.)
func TestTapsOfAPerson(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		beat := 60 / rapid.Float64Range(60, 210).Draw(t, "tempo")
		missed, doubled := rapid.IntRange(1, 14).Draw(t, "missed"), rapid.IntRange(0, 15).Draw(t, "doubled")
		var seconds []float64
		for i := range 16 {
			if i == missed {
				continue
			}
			at := float64(i)*beat + rapid.Float64Range(-0.03, 0.03).Draw(t, "off")
			seconds = append(seconds, at)
			if i == doubled {
				seconds = append(seconds, at+0.05)
			}
		}
		pulse, ok := tapped(seconds...).Pulse()
		require.True(t, ok)
		assert.InEpsilon(t, 60/beat, pulse.Tempo().Float(), 0.03)
		off := pulse.Nearest(time.Unix(1000, 0).Add(time.Duration(8*beat*float64(time.Second)))).Sub(time.Unix(1000, 0)).Seconds() - 8*beat
		assert.InDelta(t, 0, off, 0.03)
	})
}

// TestAPulseBeyondWhatCanBeDanced: Percent returns the nearest limit, which with a song is
// nearer to its own tempo.
func TestAPulseBeyondWhatCanBeDanced(t *testing.T) {
	fast, slow := player.Pulse{Beat: 50 * time.Millisecond}, player.Pulse{Beat: 20 * time.Second}
	plain := player.NewTimeline(score(t, lanternSheet("")))
	toSong, _ := laid(t, 44)
	assert.Equal(t, player.FastestPercent, fast.Percent(plain, 0))
	assert.Equal(t, player.SlowestPercent, slow.Percent(plain, 0))
	assert.Equal(t, player.FastestMusic, fast.Percent(toSong, 0))
	assert.Equal(t, player.SlowestMusic, slow.Percent(toSong, 0))
}

// TestDroppedIn: the first step is heard on the frame asked for, after the beats that are left until then.
func TestDroppedIn(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	set := player.Settings{Percent: 50}
	first := timeline.Events[0].At
	c := player.NewCourse(rate, sounds, timeline, set).DropIn(1000, 100000, timeline, first, set)
	// At half of 120 beats a minute a beat is a second: two are left.
	var frames []int64
	for _, h := range c.Hits(nil, 0, 100001) {
		frames = append(frames, h.Frame)
	}
	require.NotEmpty(t, frames)
	assert.Equal(t, []int64{100000 - 2*rate, 100000 - rate, 100000}, frames[:3])
	assert.Equal(t, player.LeadIn, c.At(99999).State)
	assert.Equal(t, player.Dancing, c.At(100000).State)
	assert.Equal(t, first, c.At(100000).Beat)
}
