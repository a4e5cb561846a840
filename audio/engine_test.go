package audio_test

import (
	"math"
	"slices"
	"testing"

	"dance.example/slowquick/audio"
	_ "dance.example/slowquick/testdata/thorough"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const rate = 48000

// list is a schedule as a list of hits, in order of frame.
type list []audio.Hit

func (l list) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	for _, h := range l {
		if h.Frame >= from && h.Frame < to {
			dst = append(dst, h)
		}
	}
	return dst
}

// pulse repeats one hit for ever, every so many frames.
type pulse struct {
	hit   audio.Hit
	every int64
}

func (p pulse) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	from = max(from, 0)
	for f := (from + p.every - 1) / p.every * p.every; f < to; f += p.every {
		h := p.hit
		h.Frame = f
		dst = append(dst, h)
	}
	return dst
}

// render streams frames frames from e, size at a time.
func render(t testing.TB, e *audio.Engine, frames, size int) [][2]float64 {
	t.Helper()
	out := make([][2]float64, frames)
	for at := 0; at < frames; at += size {
		part := out[at:min(at+size, frames)]
		n, ok := e.Stream(part)
		require.True(t, ok)
		require.Equal(t, len(part), n)
	}
	return out
}

// onsets returns the frames on which silence ends.
func onsets(samples [][2]float64) []int {
	var found []int
	silent := true
	for i, s := range samples {
		now := s == [2]float64{}
		if silent && !now {
			found = append(found, i)
		}
		silent = now
	}
	return found
}

// firsts returns the frames on which sound follows at least quiet frames of
// silence.
func firsts(samples [][2]float64, quiet int) []int {
	var found []int
	last := -quiet
	for i, s := range samples {
		if s != [2]float64{} {
			if i-last >= quiet {
				found = append(found, i)
			}
			last = i
		}
	}
	return found
}

func flat(n int, level float32) audio.Sound {
	return slices.Repeat(audio.Sound{level}, n)
}

func hit(frame int64, s audio.Sound) audio.Hit {
	return audio.Hit{Frame: frame, Sound: s, Gain: 1}
}

func TestClicksAreOnTheirFrame(t *testing.T) {
	tick := audio.NewKit(44100).Tick
	e := audio.NewEngine(44100)
	// 113 beats a minute at 44.1 kHz: 44100·60/113 = 23415.93 frames a beat.
	e.Play(list{hit(0, tick), hit(23416, tick), hit(46832, tick), hit(70248, tick)})
	out := render(t, e, 93664, 512)
	assert.Equal(t, []int{0, 23416, 46832, 70248}, firsts(out, 4000))
	assert.Equal(t, float64(tick[0]), out[23416][0], "the first frame has the sound's first sample")
}

func TestSilentUntilPlay(t *testing.T) {
	e := audio.NewEngine(rate)
	assert.Empty(t, onsets(render(t, e, 1000, 300)))
	assert.Equal(t, 1000, e.Position())
	e.Play(list{hit(1500, flat(1, 0.5))})
	assert.Equal(t, []int{500}, onsets(render(t, e, 1000, 300)))
	e.Play(nil)
	require.NoError(t, e.Seek(0))
	assert.Empty(t, onsets(render(t, e, 3000, 300)))
}

func TestEngineIsAStreamSeeker(t *testing.T) {
	e := audio.NewEngine(rate)
	assert.Equal(t, rate, e.Rate())
	assert.Equal(t, math.MaxInt, e.Len())
	require.NoError(t, e.Seek(77))
	assert.Equal(t, 77, e.Position())
	assert.EqualError(t, e.Seek(-1), "seek to frame -1: before the first")
	assert.Equal(t, 77, e.Position())
	assert.NoError(t, e.Err())
	assert.Panics(t, func() { audio.NewEngine(0) })
}

func TestSoundRingsOnAfterASeek(t *testing.T) {
	ramp := make(audio.Sound, rate)
	for i := range ramp {
		ramp[i] = float32(i) / rate / 2
	}
	e := audio.NewEngine(rate)
	e.Play(list{hit(100, ramp)})
	require.NoError(t, e.Seek(100+rate/2))
	assert.Equal(t, [2]float64{0.25, 0.25}, render(t, e, 1, 1)[0])
}

func TestSoundThatBeganBeforeTheFirstFrameRings(t *testing.T) {
	e := audio.NewEngine(rate)
	e.Play(list{hit(-3, audio.Sound{.1, .2, .3, .4, .5})})
	out := render(t, e, 3, 3)
	assert.InDelta(t, .4, out[0][0], 1e-7)
	assert.InDelta(t, .5, out[1][0], 1e-7)
	assert.Zero(t, out[2][0])
}

func TestSoundRingsNoLongerThanMaxRing(t *testing.T) {
	e := audio.NewEngine(1000)
	e.Play(list{hit(0, flat(10000, 0.5))})
	out := render(t, e, 10000, 4096)
	assert.Equal(t, [2]float64{0.5, 0.5}, out[1000*audio.MaxRing-1])
	assert.Zero(t, out[1000*audio.MaxRing])
}

func TestPan(t *testing.T) {
	for _, c := range []struct {
		pan         float32
		left, right float64
	}{
		{0, 1, 1},
		{-1, 1, 0},
		{1, 0, 1},
		{-0.5, 1, 0.5},
		{0.25, 0.75, 1},
		{-7, 1, 0},
		{float32(math.NaN()), 1, 1},
	} {
		e := audio.NewEngine(rate)
		e.Play(list{{Sound: flat(1, 0.5), Gain: 1, Pan: c.pan}})
		assert.Equal(t, [2]float64{c.left / 2, c.right / 2}, render(t, e, 1, 1)[0], "pan %v", c.pan)
	}
}

func TestInvalidHits(t *testing.T) {
	nan, inf := float32(math.NaN()), float32(math.Inf(1))
	for name, c := range map[string]struct {
		hit  audio.Hit
		want float64
	}{
		"no gain":         {audio.Hit{Sound: flat(1, 0.5)}, 0},
		"negative gain":   {audio.Hit{Sound: flat(1, 0.5), Gain: -1}, 0},
		"NaN gain":        {audio.Hit{Sound: flat(1, 0.5), Gain: nan}, 0},
		"gain above 1":    {audio.Hit{Sound: flat(1, 0.5), Gain: inf}, 0.5},
		"no such layer":   {audio.Hit{Sound: flat(1, 0.5), Gain: 1, Layer: audio.Layers}, 0},
		"no sound":        {audio.Hit{Gain: 1}, 0},
		"NaN sample":      {audio.Hit{Sound: audio.Sound{nan}, Gain: 1}, 0},
		"infinite sample": {audio.Hit{Sound: audio.Sound{inf}, Gain: 1}, 0.89},
	} {
		e := audio.NewEngine(rate)
		e.Play(list{c.hit})
		assert.Equal(t, [2]float64{c.want, c.want}, render(t, e, 1, 1)[0], name)
	}
}

// TestNothingClips plays every sound of the kit, and a constant, at full level
// on every layer at once.
func TestNothingClips(t *testing.T) {
	k := audio.NewKit(rate)
	var all list
	for l := range audio.Layer(audio.Layers) {
		for _, s := range []audio.Sound{k.Bell, k.Block, k.Tick, k.Thump, k.Brush, flat(3000, 1)} {
			all = append(all, audio.Hit{Sound: s, Layer: l, Gain: 1})
		}
	}
	e := audio.NewEngine(rate)
	e.Play(all)
	peak := 0.0
	for _, s := range render(t, e, 5000, 512) {
		peak = max(peak, math.Abs(s[0]), math.Abs(s[1]))
	}
	assert.Greater(t, peak, 0.85)
	assert.Less(t, peak, math.Pow(10, -1.0/20), "stays 1 dB below full scale")
}

func TestSaturationIsTheIdentityBelowItsKneeAndSmoothAbove(t *testing.T) {
	out := func(x float32) float64 {
		e := audio.NewEngine(rate)
		e.Play(list{{Sound: audio.Sound{x}, Gain: 1}})
		return render(t, e, 1, 1)[0][0]
	}
	before, slope := -2.0, 1.0
	for x := float32(-3); x <= 3; x += 1.0 / 1024 {
		y := out(x)
		if x > -0.75 && x < 0.75 {
			assert.Equal(t, float64(x), y)
		}
		assert.Equal(t, -y, out(-x), "odd at %v", x)
		if x > -3 {
			now := (y - before) * 1024
			require.Greater(t, now, 0.0, "it grows at %v", x)
			require.Less(t, now, 1.0001, "never steeper than the identity at %v", x)
			require.InDelta(t, slope, now, 0.02, "no corner at %v", x)
			slope = now
		} else {
			slope = (out(x+1.0/1024) - y) * 1024
		}
		before = y
	}
}

// rounds draws a schedule with hits before, at and after every frame that the
// property tests look at.
func rounds(t *rapid.T) list {
	sound := rapid.Custom(func(t *rapid.T) audio.Sound {
		n := rapid.IntRange(0, 3000).Draw(t, "length")
		s := make(audio.Sound, n)
		for i := range s {
			s[i] = float32(math.Sin(float64(i*(n+1)))) * 0.6
		}
		return s
	})
	hits := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) audio.Hit {
		return audio.Hit{
			Frame: rapid.Int64Range(-2000, 30000).Draw(t, "frame"),
			Sound: sound.Draw(t, "sound"),
			Layer: audio.Layer(rapid.IntRange(0, audio.Layers-1).Draw(t, "layer")),
			Gain:  rapid.Float32Range(0, 1).Draw(t, "gain"),
			Pan:   rapid.Float32Range(-1, 1).Draw(t, "pan"),
		}
	}), 0, 20).Draw(t, "hits")
	slices.SortStableFunc(hits, func(a, b audio.Hit) int { return int(a.Frame - b.Frame) })
	return hits
}

func mixed(t *rapid.T) *audio.Engine {
	e := audio.NewEngine(rate)
	e.Play(rounds(t))
	for range rapid.IntRange(0, 4).Draw(t, "changes") {
		var l audio.Levels
		for i := range l {
			l[i] = rapid.Float32Range(0, 1).Draw(t, "level")
		}
		e.SetLevels(rapid.Int64Range(0, 25000).Draw(t, "from"), l)
	}
	return e
}

func TestAnyBufferSizeGivesTheSameSamples(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		e := mixed(rt)
		want := render(t, e, 20000, 20000)
		require.NoError(t, e.Seek(0))
		var got [][2]float64
		sizes := rapid.SampledFrom([]int{1, 2, 7, 441, 512, 4096, 8192, 8193})
		for len(got) < len(want) {
			size := min(sizes.Draw(rt, "size"), len(want)-len(got))
			if size < 8 { // many small ones in a row
				for range min(200, (len(want)-len(got))/size) {
					got = append(got, render(t, e, size, size)...)
				}
				continue
			}
			got = append(got, render(t, e, size, size)...)
		}
		require.Equal(t, want, got)
	})
}

func TestAnySeekGivesTheSameSamples(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		e := mixed(rt)
		want := render(t, e, 20000, 512)
		for range 20 {
			at := rapid.IntRange(0, len(want)-1).Draw(rt, "frame")
			n := rapid.IntRange(1, min(3000, len(want)-at)).Draw(rt, "frames")
			require.NoError(t, e.Seek(at))
			require.Equal(t, want[at:at+n], render(t, e, n, n))
			require.Equal(t, at+n, e.Position())
		}
	})
}

func TestStreamDoesNotAllocate(t *testing.T) {
	e := audio.NewEngine(rate)
	e.Play(pulse{audio.Hit{Sound: audio.NewKit(rate).Bell, Gain: 1}, rate / 4})
	buf := make([][2]float64, 512)
	assert.Zero(t, testing.AllocsPerRun(1000, func() { e.Stream(buf) }))

	assert.Zero(t, testing.AllocsPerRun(1000, func() {
		require.NoError(t, e.Seek((e.Position()+77777)%1000000))
		e.Stream(buf)
	}), "after seeks")
}

func TestMoreHitsThanRoomGrowTheBufferOnce(t *testing.T) {
	e := audio.NewEngine(rate)
	e.Play(pulse{audio.Hit{Sound: flat(10, 0.001), Gain: 1}, 50}) // 4000 within MaxRing
	buf := make([][2]float64, 4096)
	e.Stream(buf)
	assert.Equal(t, 0.001, math.Round(buf[0][0]*1e6)/1e6)
	assert.Zero(t, testing.AllocsPerRun(100, func() { e.Stream(buf) }))
}

func TestLevels(t *testing.T) {
	e := audio.NewEngine(rate)
	assert.Equal(t, audio.Levels{1, 1, 1, 1, 1, 1, 1, 1}, e.Levels())
	e.Play(list{
		{Frame: 0, Sound: flat(2000, 0.5), Gain: 1, Layer: 2},
		{Frame: 0, Sound: flat(2000, 0.25), Gain: 1, Layer: 3},
	})
	e.SetLevels(1000, audio.Levels{3: 1})
	assert.Equal(t, audio.Levels{3: 1}, e.Levels())
	out := render(t, e, 2000, 512)
	assert.Equal(t, 0.75, out[1000][0], "the ramp begins at its frame")
	assert.InDelta(t, 0.5, out[1240][0], 1e-9, "half way after 5 ms")
	assert.Equal(t, 0.25, out[1480][0], "done after 10 ms, and the other layer as it was")

	e.SetLevels(3000, audio.Levels{float32(math.NaN()), -1, 2, float32(math.Inf(1))})
	assert.Equal(t, audio.Levels{0, 0, 1, 1}, e.Levels())
}

// TestTheFirstLevelsHoldAtOnce checks that the very first click has the right
// level.
func TestTheFirstLevelsHoldAtOnce(t *testing.T) {
	e := audio.NewEngine(rate)
	e.Play(list{{Sound: flat(4000, 0.5), Gain: 1}})
	e.SetLevels(0, audio.Levels{0.25})
	e.SetLevels(0, audio.Levels{0.5})
	assert.Equal(t, audio.Levels{0.5}, e.Levels())
	for i, s := range render(t, e, 1000, 512) {
		require.Equal(t, 0.25, s[0], "frame %d", i)
	}
}

// TestLevelsNeverStep changes levels while others are still changing. From one
// frame to the next, they must not move faster than a full ramp.
func TestLevelsNeverStep(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		e := audio.NewEngine(rate)
		e.Play(list{{Sound: flat(4000, 0.5), Gain: 1}})
		for from := int64(100); from < 3000; {
			e.SetLevels(from, audio.Levels{rapid.Float32Range(0, 1).Draw(rt, "level")})
			from += rapid.Int64Range(1, 700).Draw(rt, "later")
		}
		out := render(t, e, 3900, 512)
		for i := 1; i < len(out); i++ {
			require.LessOrEqual(t, math.Abs(out[i][0]-out[i-1][0]), 0.5/480+1e-7, "frame %d", i)
		}
	})
}

func TestAChangeOfLevelReplacesThoseThatBeginLater(t *testing.T) {
	e := audio.NewEngine(rate)
	e.Play(list{{Sound: flat(4000, 0.5), Gain: 1}})
	e.SetLevels(2000, audio.Levels{})
	e.SetLevels(1000, audio.Levels{0.5})
	out := render(t, e, 4000, 512)
	assert.Equal(t, 0.5, out[1000][0])
	assert.Equal(t, 0.25, out[1480][0])
	assert.Equal(t, 0.25, out[3999][0])
}

func TestOnlyTheLatestChangesOfLevelAreKept(t *testing.T) {
	e := audio.NewEngine(rate)
	e.Play(pulse{audio.Hit{Sound: flat(1, 0.5), Gain: 1}, 1})
	for i := range int64(100) {
		e.SetLevels(i*1000, audio.Levels{float32(i) / 128})
	}
	at := func(frame int) float64 {
		require.NoError(t, e.Seek(frame))
		return render(t, e, 1, 1)[0][0] * 2
	}
	assert.Equal(t, 99.0/128, at(99999))
	assert.Equal(t, 40.0/128, at(40999))
	assert.Equal(t, 35.0/128, at(1999), "what the oldest change still kept, the 37th, began with")
}

// saw is a track whose samples are a function of the frame.
type saw struct{}

func sawAt(frame int64) float64 { return float64(frame%100) / 400 }

func (saw) Add(out [][2]float64, at int64) {
	for i := range out {
		out[i][0] += sawAt(at + int64(i))
		out[i][1] -= sawAt(at + int64(i))
	}
}

// TestATrackGoesOnBesideTheHits also checks that the track has its own level,
// whatever the buffer sizes.
func TestATrackGoesOnBesideTheHits(t *testing.T) {
	render := func(size, seek int) [][2]float64 {
		e := audio.NewEngine(rate)
		e.Play(list{hit(1000, flat(50, 0.25))})
		e.Accompany(saw{}, 3)
		l := e.Levels()
		l[3] = 0.5
		e.SetLevels(4000, l)
		require.NoError(t, e.Seek(seek))
		return render(t, e, 6000-seek, size)
	}
	whole := render(6000, 0)
	for _, size := range []int{1, 7, 512, 1024, 1025} {
		assert.Equal(t, whole, render(size, 0), "%d frames at a time", size)
	}
	assert.Equal(t, whole[1010:], render(300, 1010))
	assert.Equal(t, [2]float64{sawAt(990), -sawAt(990)}, whole[990])
	assert.Equal(t, [2]float64{0.25 + sawAt(1010), 0.25 - sawAt(1010)}, whole[1010])
	assert.InDelta(t, 0.75*sawAt(4240), whole[4240][0], 1e-3, "halfway through the fade")
	assert.Equal(t, 0.5*sawAt(5555), whole[5555][0])
}

func TestATrackEndsWithNil(t *testing.T) {
	e := audio.NewEngine(rate)
	e.Accompany(saw{}, 3)
	assert.NotZero(t, render(t, e, 100, 100)[99][0])
	e.Accompany(nil, 3)
	assert.Empty(t, onsets(render(t, e, 100, 100)))
	e.Accompany(saw{}, audio.Layers)
	assert.Empty(t, onsets(render(t, e, 100, 100)), "a layer that does not exist is silent")
}

func TestATrackDoesNotAllocate(t *testing.T) {
	e := audio.NewEngine(rate)
	e.Accompany(saw{}, 3)
	buf := make([][2]float64, 3000)
	assert.Zero(t, testing.AllocsPerRun(100, func() { e.Stream(buf) }))
}

// ended is a schedule, and a track, that is silent from a frame on.
type ended int64

func (e ended) Silent(from int64) bool                           { return from >= int64(e) }
func (e ended) Hits(dst []audio.Hit, from, to int64) []audio.Hit { return dst }
func (e ended) Add([][2]float64, int64)                          {}

func TestAnEngineIsSilent(t *testing.T) {
	const ring = audio.MaxRing * rate
	e := audio.NewEngine(rate)
	assert.True(t, e.Silent(0), "nothing is played")
	e.Play(ended(1000))
	assert.False(t, e.Silent(1000+ring-1), "a hit may still ring")
	assert.True(t, e.Silent(1000+ring))
	e.Accompany(ended(9000+ring), 0)
	assert.False(t, e.Silent(9000+ring-1))
	assert.True(t, e.Silent(9000+ring))
	e.Play(pulse{audio.Hit{Sound: flat(1, 0.5), Gain: 1}, 1})
	assert.False(t, e.Silent(1<<40), "it does not say that it ends")
}
