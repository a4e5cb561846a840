package player_test

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/library"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
	_ "dance.example/slowquick/testdata/thorough"
)

const rate = 48000

var sounds = player.Sounds{Kit: audio.NewKit(rate)}

// score reads a sheet that must be free of errors.
func score(t require.TestingT, text string) *routine.Score {
	s, found := routine.Read("test.md", []byte(text), library.Open())
	require.False(t, routine.HasErrors(found), "%v", found)
	return s
}

// lanternSheet is two figures that return to where they began.
func lanternSheet(settings string) string {
	return `---
dance: cha-cha
tempo: 30 bars/min
---

## Order

1. Lantern step × 2
2. Quay step
` + settings + `
## Lantern step

| Count | Leader | Follower |
|-------|--------|----------|
| 2 | LF forward | RF back |
| 3 | RF replace | LF replace |
| 4 | LF side | RF side |
| & | RF close | LF close |
| 1 | LF side | RF side |
| 2 | RF back | LF forward |
| 3 | LF replace | RF replace |
| 4 | RF side | LF side |
| & | LF close | RF close |
| 1 | RF side | LF side |

## Quay step

| Count | Leader | Follower |
|-------|--------|----------|
| 2 | LF side | RF side |
| 3 | RF close | LF close |
| 4-1 | LF tap | RF tap |
`
}

// clicks returns the frames in [from, to) on which a click sounds.
func clicks(c audio.Schedule, from, to int64) (frames []int64) {
	for _, h := range c.Hits(nil, from, to) {
		if h.Layer == player.ClickLayer {
			frames = append(frames, h.Frame)
		}
	}
	return frames
}

// perBeat returns the exact length of a beat, in frames.
func perBeat(tempo routine.Tempo, percent int64) *big.Rat {
	// 60 s · rate / (tempo/1000 · percent/100)
	return big.NewRat(60*rate*1000*100, int64(tempo)*percent)
}

func float(r *big.Rat) float64 { f, _ := r.Float64(); return f }

func TestClicksFallOnTheirFrames(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	c := player.NewCourse(rate, sounds, timeline, player.DefaultSettings()).Start(1000, timeline, timeline.Start, player.DefaultSettings())
	// 30 bars a minute of 4/4 are 120 beats a minute, 24 000 frames a beat. The
	// lead-in is 2 3 4 1, the first step is on 2.
	assert.Equal(t, []int64{1000, 25000, 49000, 73000, 97000, 121000, 145000, 157000, 169000, 193000}, clicks(c, 0, 200000))
	m := c.At(96999)
	assert.Equal(t, player.LeadIn, m.State)
	m = c.At(97000)
	assert.Equal(t, player.Dancing, m.State)
	assert.Equal(t, 0, m.Event)
	assert.Equal(t, "2", timeline.Events[m.Event].Labels.Count)
}

// TestNoDriftInTwelveHours: at any tempo, after twelve hours every click is still within
// half a frame of its exact place.
func TestNoDriftInTwelveHours(t *testing.T) {
	timeline := player.NewTimeline(score(t, strings.Replace(lanternSheet(""), "30 bars/min", "31.3 bars/min", 1)))
	whole := player.Interval{From: timeline.Start, To: timeline.End}
	rapid.Check(t, func(t *rapid.T) {
		percent := rapid.Int64Range(10, 200).Draw(t, "percent")
		begin := rapid.Int64Range(0, 1<<20).Draw(t, "begin")
		set := player.Settings{Percent: float64(percent), Loop: whole}
		c := player.NewCourse(rate, sounds, timeline, set).Start(begin, timeline, timeline.Start, set)
		from := rapid.Int64Range(begin, begin+12*3600*rate).Draw(t, "from")
		beat := perBeat(timeline.Score.Tempo, percent)
		offsets := []float64{} // of the clicks in a run-through, in beats
		for _, e := range timeline.Events {
			offsets = append(offsets, (e.At - timeline.Start).Float())
		}
		pass := (timeline.End - timeline.Start).Float()
		for _, frame := range clicks(c, from, from+5*rate) {
			beats := float(new(big.Rat).Quo(new(big.Rat).SetInt64(frame-begin), beat))
			within := math.Mod(beats+0.01, pass)
			nearest := math.Inf(1)
			for _, o := range offsets {
				nearest = min(nearest, math.Abs(within-0.01-o))
			}
			if off := nearest * float(beat); off > 0.5+1e-3 {
				t.Fatalf("click on frame %d is %.4f frames from its place", frame, off)
			}
		}
	})
}

// TestARampIsItsIntegral compares the seconds of a ramp with a numerical integral over
// 1000 slices of each beat (midpoint rule).
func TestARampIsItsIntegral(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("   - tempo: 28 to 32 bars/min\n")))
	ramp := timeline.Passage(2)
	var seconds float64
	const slices = 1000
	for b := ramp.From; b < ramp.To; b += routine.Beat {
		at := timeline.Seconds(b) - timeline.Seconds(ramp.From)
		assert.InDelta(t, seconds, at, 1e-7, "beat %s", b)
		for i := range slices {
			share := ((b - ramp.From).Float() + (float64(i)+0.5)/slices) / (ramp.To - ramp.From).Float()
			seconds += 60 / (112 + 16*share) / slices
		}
	}
}

// course draws a course with a random history of changes; it also returns the frame after
// the last change.
func course(t *rapid.T, timeline *player.Timeline) (*player.Course, int64) {
	set := player.Settings{Percent: rapid.Float64Range(20, 200).Draw(t, "percent"), LeadIn: rapid.IntRange(0, 4).Draw(t, "lead-in")}
	if rapid.Bool().Draw(t, "repeats") {
		set.Loop = player.Interval{From: timeline.Start, To: timeline.End}
	}
	if rapid.Bool().Draw(t, "ladder") {
		set.Ladder = player.Ladder{Start: 50, Gain: rapid.Float64Range(-5, 20).Draw(t, "gain"), Top: rapid.Float64Range(50, 120).Draw(t, "top"),
			Times: rapid.IntRange(0, 3).Draw(t, "passes")}
	}
	if rapid.Bool().Draw(t, "rests") {
		set.Rest = rapid.IntRange(1, 4).Draw(t, "rest")
	}
	frame := rapid.Int64Range(0, 1<<16).Draw(t, "begin")
	c := player.NewCourse(rate, sounds, timeline, set).Start(frame, timeline, timeline.Start, set)
	for range rapid.IntRange(0, 5).Draw(t, "changes") {
		frame += rapid.Int64Range(1, 20*rate).Draw(t, "after")
		switch rapid.IntRange(0, 4).Draw(t, "change") {
		case 0:
			set.Percent = rapid.Float64Range(20, 200).Draw(t, "percent")
			c = c.With(frame, set)
		case 1:
			c = c.Hold(frame)
		case 2:
			c = c.Go(frame, rapid.SampledFrom(timeline.Events).Draw(t, "to").At)
		case 3:
			set.Loop = player.Interval{}
			if rapid.Bool().Draw(t, "repeats") {
				set.Loop = timeline.Passage(rapid.IntRange(0, 2).Draw(t, "passage"))
			}
			c = c.With(frame, set)
		case 4:
			c = c.Replace(frame, timeline)
		}
	}
	return c, frame
}

// TestHitsInAnyChunks: the hits do not depend on how Hits is called.
func TestHitsInAnyChunks(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("   - tempo: 28 to 32 bars/min\n")))
	rapid.Check(t, func(t *rapid.T) {
		c, end := course(t, timeline)
		from := max(0, end-3*rate)
		to := end + 30*rate
		whole := c.Hits(nil, from, to)
		var parts []audio.Hit
		for at := from; at < to; {
			n := rapid.Int64Range(1, 4*rate).Draw(t, "chunk")
			parts = c.Hits(parts, at, min(at+n, to))
			at += n
		}
		if fmt.Sprint(frames(whole)) != fmt.Sprint(frames(parts)) {
			t.Fatalf("in one: %v\nin parts: %v", frames(whole), frames(parts))
		}
		for i := 1; i < len(whole); i++ {
			if whole[i].Frame < whole[i-1].Frame {
				t.Fatalf("hit %d is before the one before it", i)
			}
		}
	})
}

func frames(hits []audio.Hit) (f []int64) {
	for _, h := range hits {
		f = append(f, h.Frame)
	}
	return f
}

// TestATempoChangeLosesNothing: however often the tempo changes while dancing, each event
// sounds once, in order, and the place does not jump.
func TestATempoChangeLosesNothing(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	rapid.Check(t, func(t *rapid.T) {
		set := player.Settings{Percent: 100, Loop: player.Interval{From: timeline.Start, To: timeline.End}}
		c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Start, set)
		frame := int64(0)
		var heard []int64
		for range rapid.IntRange(1, 30).Draw(t, "changes") {
			next := frame + rapid.Int64Range(1, 2*rate).Draw(t, "after")
			if near := clicks(c, next, next+rate); len(near) > 0 && rapid.Bool().Draw(t, "on a click") {
				next = max(frame+1, near[0]+rapid.Int64Range(-1, 1).Draw(t, "off"))
			}
			heard = append(heard, clicks(c, frame, next)...)
			before := c.At(float64(next))
			set.Percent = rapid.Float64Range(10, 200).Draw(t, "percent")
			c = c.With(next, set)
			after := c.At(float64(next))
			if d := danced(after) - danced(before); d < -1 || d > 1 {
				t.Fatalf("the place jumped by %d/960 from %s of pass %d", d, before.Beat, before.RunThrough)
			}
			frame = next
		}
		end := c.At(float64(frame - 1))
		want := end.RunThrough*len(timeline.Events) + end.Event + 1
		if len(heard) != want {
			t.Fatalf("%d clicks heard, %d events danced", len(heard), want)
		}
	})
}

// danced returns how many beats have been danced in all run-throughs.
func danced(m player.Moment) routine.Beats {
	timeline := m.Timeline
	return routine.Beats(m.RunThrough)*(timeline.End-timeline.Start) + m.Beat - timeline.Start
}

// TestWhatIsShownIsWhatIsHeard: on the frame of a click the moment has that click's event,
// and on the frame before it the previous event.
func TestWhatIsShownIsWhatIsHeard(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("   - tempo: 28 to 32 bars/min\n")))
	rapid.Check(t, func(t *rapid.T) {
		set := player.Settings{Percent: rapid.Float64Range(10, 200).Draw(t, "percent"), Loop: player.Interval{From: timeline.Start, To: timeline.End}}
		c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Start, set)
		from := rapid.Int64Range(0, 3600*rate).Draw(t, "from")
		for _, at := range clicks(c, from, from+10*rate) {
			now, before := c.At(float64(at)), c.At(float64(at-1))
			n := len(timeline.Events)
			if at > 0 && (before.Event+1)%n != now.Event {
				t.Fatalf("frame %d: event %d, the frame before: %d", at, now.Event, before.Event)
			}
			if next := c.Next(float64(at - 1)); at > 0 && math.Abs(next-float64(at)) > 0.5+1e-3 {
				t.Fatalf("next after %d is %.3f", at-1, next)
			}
		}
	})
}

func TestTheLadderClimbs(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	set := player.Settings{Percent: 100, Loop: timeline.Passage(2), Ladder: player.Ladder{Start: 50, Gain: 20, Top: 100}}
	c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Passage(2).From, set)
	// A run-through is one bar of 4/4 at 120 beats a minute: 96 000 frames at full tempo.
	begins := []int64{0, 192000, 192000 + 137143, 192000 + 137143 + 106667, 435810 + 96000, 435810 + 2*96000}
	percents := []float64{50, 70, 90, 100, 100, 100}
	for i, at := range begins {
		m := c.At(float64(at))
		assert.Equal(t, i, m.RunThrough, "frame %d", at)
		assert.Equal(t, percents[i], m.Percent)
		if at > 0 {
			assert.Equal(t, i-1, c.At(float64(at-1)).RunThrough, "frame %d", at-1)
		}
	}
}

// TestARestIsCounted: bars are counted between two run-throughs as in a lead-in, at the
// tempo of the next run-through, and only then does the couple dance again.
func TestARestIsCounted(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	set := player.Settings{Percent: 100, Loop: timeline.Passage(2), Rest: 1, Ladder: player.Ladder{Start: 50, Gain: 50, Top: 100, Times: 2}}
	c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Passage(2).From, set)
	// A run-through, like a rest, is one bar of 4/4 at 120 beats a minute: 96 000 frames at full tempo.
	bar, from := int64(96000), timeline.Passage(2).From
	type want struct {
		state player.State
		pass  int
	}
	for at, w := range map[int64]want{
		0: {player.Dancing, 0}, 2*bar - 1: {player.Dancing, 0}, 2 * bar: {player.LeadIn, 1}, 4*bar - 1: {player.LeadIn, 1},
		4 * bar: {player.Dancing, 1}, 6*bar - 1: {player.Dancing, 1}, 6 * bar: {player.LeadIn, 2}, 7*bar - 1: {player.LeadIn, 2},
		7 * bar: {player.Dancing, 2}, 8 * bar: {player.LeadIn, 3}, 9 * bar: {player.Dancing, 3}, 1000000*bar + 8*bar + bar/2: {player.LeadIn, 500003},
	} {
		m := c.At(float64(at))
		assert.Equal(t, w, want{m.State, m.RunThrough}, "frame %d", at)
		if w.state == player.LeadIn {
			assert.Equal(t, from, m.Begins)
			assert.Less(t, m.Beat, from)
		}
	}
	// Only the four beats of the rest sound.
	var frames []int64
	for _, h := range c.Hits(nil, 2*bar, 4*bar) {
		frames = append(frames, h.Frame)
	}
	assert.Equal(t, []int64{2 * bar, 2*bar + bar/2, 3 * bar, 3*bar + bar/2}, frames)
	// A change of tempo in a rest does not move the place where the couple begins.
	faster := set
	faster.Ladder = set.Ladder.From(0, 1)
	changed := c.With(3*bar, faster)
	assert.Equal(t, player.LeadIn, changed.At(float64(3*bar)).State)
	assert.Equal(t, player.Dancing, changed.At(float64(3*bar+bar/2)).State, "half of the rest was left, at twice the tempo")
}

func TestLadders(t *testing.T) {
	for text, want := range map[string]player.Ladder{
		"70 to 100 %":                      {Start: 70, Gain: 5, Top: 100, Times: 1},
		"60–90 by 10":                      {Start: 60, Gain: 10, Top: 90, Times: 1},
		"50 % to 100 % by 2.5 %, 3 passes": {Start: 50, Gain: 2.5, Top: 100, Times: 3},
		"50-120 by 7, 2 passes each":       {Start: 50, Gain: 7, Top: 120, Times: 2},
		"50-120 by 7, 2 run-throughs":      {Start: 50, Gain: 7, Top: 120, Times: 2},
	} {
		got, err := player.ParseLadder(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got)
	}
	for _, text := range []string{"", "70", "100 to 70", "5 to 100", "70 to 300", "70 to 100 by 0", "70 to 100, 0 passes", "70 to 100, 99999999999999999999 passes", "1.2.3 to 100"} {
		_, err := player.ParseLadder(text)
		assert.Error(t, err, text)
	}
	l := player.Ladder{Start: 70, Gain: 20, Top: 100, Times: 2}
	assert.Equal(t, 3, l.Rungs())
	assert.Equal(t, []int{0, 0, 1, 1, 2, 2, 2}, []int{l.Rung(0), l.Rung(1), l.Rung(2), l.Rung(3), l.Rung(4), l.Rung(5), l.Rung(60)})
	assert.Equal(t, 0, l.From(2, -1).Rung(0), "a rung lower")
	assert.Equal(t, -1, l.From(0, -1).Rung(0), "below the first")
	assert.Equal(t, -3, l.From(0, -9).Rung(0), "no lower than anybody can dance")
	assert.Equal(t, 2, l.From(4, 1).Rung(0), "no higher than the top")
	assert.Zero(t, player.Ladder{}.From(7, 1))
}

// TestALadderIsClimbedOn when the run-through begins anew: after holding, a jump while counting
// in, or another sheet. Its rungs keep their numbers and their tempi.
func TestALadderIsClimbedOn(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	again := player.NewTimeline(score(t, lanternSheet("")))
	set := player.Settings{Percent: 100, Rest: 1, Loop: timeline.Passage(2), Ladder: player.Ladder{Start: 50, Gain: 20, Top: 100}}
	c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Passage(2).From, set)
	dancing := int64(192000 + 2*137143 - 1000) // in the second run-through
	resting := int64(192000 + 1000)            // before it
	for _, tt := range []struct {
		name string
		on   *player.Course
		at   int64
	}{
		{"held", c.Hold(dancing), dancing},
		{"held in a rest", c.Hold(resting), resting},
		{"a step while it holds", c.Hold(dancing-1000).Stand(dancing, timeline.Start), dancing},
		{"gone to in a rest", c.Go(resting, timeline.Start), resting},
		{"saved in a rest", c.Replace(resting, again), resting},
	} {
		name, m := tt.name, tt.on.At(float64(tt.at+1000))
		assert.Equal(t, 70.0, m.Percent, name)
		assert.Equal(t, 1, m.Settings.Ladder.Rung(m.RunThrough), name)
		assert.Equal(t, 4, m.Settings.Ladder.Rungs(), name)
		if m.State == player.Holding {
			m = tt.on.Start(tt.at+2000, timeline, m.Begins, m.Settings).At(float64(tt.at + 3000))
			assert.Equal(t, 70.0, m.Percent, name)
		}
	}
}

func TestARoutineEnds(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	set := player.Settings{Percent: 100}
	c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Start, set)
	last := int64(20 * 24000) // five bars
	assert.Equal(t, player.Dancing, c.At(float64(last-1)).State)
	assert.Equal(t, player.Finished, c.At(float64(last)).State)
	assert.Empty(t, c.Hits(nil, last, last+100*rate))
	assert.True(t, math.IsInf(c.Next(float64(last)), 1))
}

func TestHoldAndWalk(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	set := player.DefaultSettings()
	c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Start, set).Hold(96000 + 30000)
	m := c.At(1e9)
	assert.Equal(t, player.Holding, m.State)
	assert.Equal(t, 1, m.Event) // 3 has been heard
	assert.Empty(t, c.Hits(nil, 126000, 1<<40))
	c = c.Stand(200000, timeline.Events[4].At)
	assert.Equal(t, 4, c.At(300000).Event)
	assert.Equal(t, []int64{200000}, clicks(c, 126000, 1<<40))
}

func TestReplaceWaitsForTheBar(t *testing.T) {
	old := player.NewTimeline(score(t, lanternSheet("")))
	new := player.NewTimeline(score(t, lanternSheet("")))
	set := player.Settings{Percent: 100}
	c := player.NewCourse(rate, sounds, old, set).Start(0, old, old.Start, set)
	before := clicks(c, 0, 1<<20)
	c = c.Replace(30000, new)
	assert.Same(t, old, c.At(71999).Timeline)
	assert.Same(t, new, c.At(72000).Timeline) // bar 2 begins three beats after count 2
	assert.Equal(t, before, clicks(c, 0, 1<<20), "the same routine goes on sounding unchanged")
}

func TestHitsDoNotAllocate(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	set := player.Settings{Percent: 100, Loop: player.Interval{From: timeline.Start, To: timeline.End}}
	c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Start, set)
	dst := make([]audio.Hit, 0, 64)
	at := int64(0)
	assert.Zero(t, testing.AllocsPerRun(1000, func() {
		dst = c.Hits(dst[:0], at, at+512)
		at += 512
	}))
}

func BenchmarkHits(b *testing.B) {
	timeline := player.NewTimeline(score(b, lanternSheet("")))
	set := player.Settings{Percent: 100, Loop: player.Interval{From: timeline.Start, To: timeline.End}}
	c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Start, set)
	dst := make([]audio.Hit, 0, 64)
	for i := range b.N {
		dst = c.Hits(dst[:0], int64(i)*512, int64(i+1)*512)
	}
}
