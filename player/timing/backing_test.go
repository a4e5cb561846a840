package timing_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/music/timestretch"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/timing"
)

// toASong returns the plan of the boathouse's cha-cha, danced over and over to a made-up song of about 120
// beats a minute, each up to 4 % longer or shorter, with a click on each.
func toASong(t *testing.T, number int, bars timing.Bars) *timing.Plan {
	t.Helper()
	random := rand.New(rand.NewPCG(7, 11))
	grid := music.Grid{Rate: rate, Metre: 4}
	at := 1.0
	for i := range 60 {
		grid.Beats = append(grid.Beats, music.Beat{Frame: int64(at * rate), Number: i%4 + 1})
		at += 0.5 * (1 + 0.04*(2*random.Float64()-1))
	}
	frames := make([][2]int16, int(at*rate))
	grid.Frames, grid.Steady = int64(len(frames)), []music.Stretch{{To: int64(len(frames))}}
	for _, b := range grid.Beats {
		for k := range int64(rate / 200) {
			x := int16(12000 * math.Exp(-float64(k)/80) * math.Cos(2*math.Pi*1000*float64(k)/rate))
			frames[b.Frame+k] = [2]int16{x, x}
		}
	}
	sound, err := timestretch.New(timestretch.Sound{Rate: rate, Frames: frames})
	require.NoError(t, err)
	sheet, _ := rehearsal.Read(rehearsal.Boathouse)
	timeline, err := sheet.To(&player.Music{Grid: grid, Sound: sound})
	require.NoError(t, err)
	set := player.DefaultSettings()
	set.Loop = player.Interval{From: timeline.Start, To: timeline.End}
	c := player.NewCourse(rate, player.Sounds{}, timeline, set).Start(rate/2, timeline, timeline.Start, set)
	return timing.NewPlan(c, rate, rate/2, number, bars)
}

// clicksAt returns when clicks begin in some frames, in seconds.
func clicksAt(frames [][2]float64) (at []float64) {
	last := -rate
	for i, f := range frames {
		if math.Abs(f[0]) > 0.05 {
			if i-last > rate/10 {
				at = append(at, float64(i)/rate)
			}
			last = i
		}
	}
	return at
}

// rendered returns what is heard of a plan's song, rendered so many frames at a time.
func rendered(p *timing.Plan, size int) [][2]float64 {
	s := p.Backing()
	s.Plan(int64(p.End))
	engine := audio.NewEngine(rate)
	engine.Accompany(s, player.MusicLayer)
	frames := make([][2]float64, int(p.End)+rate)
	for rest := frames; len(rest) > 0; rest = rest[min(size, len(rest)):] {
		engine.Stream(rest[:min(size, len(rest))])
	}
	return frames
}

func TestTheSongFallsSilentWithTheCount(t *testing.T) {
	p := toASong(t, 4, timing.Bars{Heard: 2, Silent: 1})
	frames := rendered(p, 4096)
	var heard, silent []float64
	for _, step := range p.Steps {
		switch {
		case step.Count == "&":
		case step.Silence > 0:
			silent = append(silent, step.At)
		default:
			heard = append(heard, step.At)
		}
	}
	clicks := clicksAt(frames)
	near := func(list []float64, at float64) bool {
		for _, x := range list {
			if math.Abs(x-at) < 0.02 {
				return true
			}
		}
		return false
	}
	require.NotEmpty(t, silent)
	assert.Less(t, clicks[0], p.Steps[0].At-0.4, "it begins with the lead-in")
	for _, at := range heard {
		assert.True(t, near(clicks, at), "the song is heard at %.2f s", at)
	}
	for _, at := range clicks {
		assert.False(t, near(silent, at), "a beat is heard in silence, at %.2f s", at)
		assert.Less(t, at, p.End/rate, "the song goes on after the end")
	}
	assert.Greater(t, clicks[len(clicks)-1], silent[len(silent)-1], "it comes back")
	assert.Zero(t, frames[len(frames)-1])
	assert.True(t, slices.Equal(frames, rendered(p, 441)), "whatever the size of the buffer")
	s := p.Backing()
	s.Plan(int64(p.End))
	assert.Zero(t, testing.AllocsPerRun(10, func() { s.Add(frames[:4096], rate) }))
}

// TestDriftIsJudgedByTheSongsBeats: they are uneven, and who taps on them doesn't drift.
func TestDriftIsJudgedByTheSongsBeats(t *testing.T) {
	beats := clicksAt(rendered(toASong(t, 8, timing.Bars{Heard: 8}), 4096))
	p := toASong(t, 8, timing.Bars{Heard: 4, Silent: 4})
	r := timing.Judge(p.Steps, beats, timing.Unsure{})
	for _, c := range r.Counts {
		if c.Name != "&" {
			assert.InDelta(t, 0, c.Value, 0.001, "count %s", c.Name)
			assert.InDelta(t, 0, c.Spread, 0.001, "count %s", c.Name)
		}
	}
	require.True(t, r.Drift.Known)
	assert.InDelta(t, 0, r.Drift.Value, 1e-4)
	slow := timing.Judge(p.Steps, tapped(p, nil, 0.008, 0.01), timing.Unsure{})
	assert.InDelta(t, 0.01, slow.Drift.Value, 2*slow.Drift.Error)
}

// TestWithoutASongNothingPlaysBesideTheCount.
func TestWithoutASongNothingPlaysBesideTheCount(t *testing.T) {
	p := lantern(t, 100, 2, timing.Bars{Heard: 2})
	s := p.Backing()
	s.Follow(0)
	s.Plan(int64(p.End))
	out := make([][2]float64, 1000)
	s.Add(out, int64(p.Steps[0].At*rate))
	assert.Equal(t, make([][2]float64, 1000), out)
	assert.True(t, s.Silent(0))
}
