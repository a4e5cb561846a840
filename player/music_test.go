package player_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/music/timestretch"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// beatsOfSong returns the frames of the first n beats of a made-up song: about 110 beats a
// minute, each up to 3 % longer or shorter, after an introduction of 1.3 s.
func beatsOfSong(n int) []int64 {
	r := rand.New(rand.NewPCG(7, 11))
	at, out := 1.3*rate, make([]int64, n)
	for i := range out {
		out[i] = int64(math.Round(at))
		at += 60.0 / 110 * rate * (1 + 0.03*(2*r.Float64()-1))
	}
	return out
}

// clickings are the sounds made so far, by where they click: one is heard through only once.
var clickings sync.Map

// song returns a song with a click of 5 ms on each beat and on each frame of between. Its
// grid is in 4/4 and starts with the third beat of a bar.
func song(t require.TestingT, beats []int64, between ...int64) *player.Music {
	end := beats[len(beats)-1]
	grid := music.Grid{Rate: rate, Frames: end + rate, Metre: 4, Steady: []music.Stretch{{From: beats[0], To: end}}}
	for i, b := range beats {
		grid.Beats = append(grid.Beats, music.Beat{Frame: b, Number: (i+2)%4 + 1})
	}
	return &player.Music{Grid: grid, Sound: clicking(t, end+rate, slices.Concat(beats, between))}
}

// clicking returns a sound with a click on each of some frames.
func clicking(t require.TestingT, length int64, clicks []int64) *timestretch.Source {
	key := fmt.Sprint(length, clicks)
	if made, ok := clickings.Load(key); ok {
		return made.(*timestretch.Source)
	}
	frames := make([][2]int16, length)
	for _, b := range clicks {
		for k := range int64(rate / 200) {
			x := int16(12000 * math.Exp(-float64(k)/80) * math.Cos(2*math.Pi*1000*float64(k)/rate))
			frames[b+k] = [2]int16{x, x}
		}
	}
	sound, err := timestretch.New(timestretch.Sound{Rate: rate, Frames: frames})
	require.NoError(t, err)
	clickings.Store(key, sound)
	return sound
}

// laid returns the lantern sheet laid on a song of n beats, and the beats' frames.
func laid(t require.TestingT, n int) (*player.Timeline, []int64) {
	beats := beatsOfSong(n)
	timeline, err := player.NewTimeline(score(t, lanternSheet(""))).To(song(t, beats))
	require.NoError(t, err)
	return timeline, beats
}

// first is the index of the made-up song's beat that is the routine's beat 0: its first 1.
const first = 2

func TestTheDanceBeginsWithABarOfTheSong(t *testing.T) {
	beats := beatsOfSong(40)
	plain := player.NewTimeline(score(t, lanternSheet("")))
	begins := func(m *player.Music) float64 {
		timeline, err := plain.To(m)
		require.NoError(t, err)
		return timeline.Seconds(0)
	}
	m := song(t, beats)
	one := func(bar int) float64 { return float64(beats[first+4*(bar-1)]) / rate }
	start := func(bar int) float64 { return float64(beats[first+4*(bar-1)+1]) / rate } // on 2
	assert.InDelta(t, one(1)-start(1), begins(m), 1e-9)
	m.Bar = 3
	assert.InDelta(t, one(3)-start(3), begins(m), 1e-9)
	m.Bar, m.Grid.Steady[0].From = 0, beats[first+5]
	assert.InDelta(t, one(3)-start(3), begins(m), 1e-9, "after the introduction")
	m.Bar = 99
	_, err := plain.To(m)
	assert.EqualError(t, err, "the song has 10 bars, so the dance can't begin with its bar 99")
	_, err = plain.To(&player.Music{})
	assert.EqualError(t, err, "the song's beats are not known")
}

// TestTheDanceBeginsWhereItDid: once corrected beats are kept, the dance begins in the same
// bar as before, even if the introduction is as even as the rest.
func TestTheDanceBeginsWhereItDid(t *testing.T) {
	plain := player.NewTimeline(score(t, lanternSheet("")))
	m := song(t, beatsOfSong(60))
	m.Grid.Steady[0].From = m.Grid.Beats[17].Frame
	for range 4 {
		m.Grid = m.Grid.BarLater(1)
		timeline, err := plain.To(m)
		require.NoError(t, err)
		kept := *m
		kept.Grid, err = music.ParseGrid(m.Grid.Text(), rate, m.Grid.Frames)
		require.NoError(t, err)
		again, err := plain.To(&kept)
		require.NoError(t, err)
		assert.Equal(t, timeline.MusicFrame(0), again.MusicFrame(0))
		assert.GreaterOrEqual(t, timeline.MusicFrame(0), m.Grid.Steady[0].From)
	}
}

// TestTemposOfASong: a tempo is what is heard; a percentage is of the song's tempo.
func TestTemposOfASong(t *testing.T) {
	plain := player.NewTimeline(score(t, lanternSheet(""))) // 120 beats a minute
	m := song(t, beatsOfSong(60))
	m.Grid.Tempo = 110
	timeline, err := plain.To(m)
	require.NoError(t, err)
	for _, c := range []struct {
		text          string
		plain, danced float64 // per cent
		says          string
	}{
		{"88 beats/min", 100 * 88. / 120, 80, ""},
		{"22 bars/min", 100 * 88. / 120, 80, ""},
		{"80 %", 80, 80, ""},
		{"13 bars/min", 100 * 13. / 30, 50, "13 bars/min is too slow: the song's 27.5 bars/min can be danced from 50 to 120 %: 13.8 to 33 bars/min"},
		{"33 bars/min", 110, 120, ""},
		{"33.1 bars/min", 100 * 33.1 / 30, 120, "33.1 bars/min is too fast: the song's 27.5 bars/min can be danced from 50 to 120 %: 13.8 to 33 bars/min"},
		{"45 %", 45, 50, "45 % is too slow: the song's 27.5 bars/min can be danced from 50 to 120 %: 13.8 to 33 bars/min"},
	} {
		percent, tempo, err := plain.ParseTempo(c.text, plain.OwnTempo())
		require.NoError(t, err)
		assert.InDelta(t, c.plain, percent, 1e-9, c.text)
		set := player.DefaultSettings().At(percent, tempo)
		require.NoError(t, plain.Check(set))
		course := player.NewCourse(rate, player.Sounds{}, plain, set)
		assert.InDelta(t, c.plain, course.At(0).Percent, 1e-3, c.text)
		assert.InDelta(t, c.danced, course.Replace(100, timeline).At(100).Percent, 1e-3, c.text)
		_, _, err = timeline.ParseTempo(c.text, timeline.OwnTempo())
		if c.says == "" {
			assert.NoError(t, err)
			assert.NoError(t, timeline.Check(set))
		} else {
			assert.EqualError(t, err, c.says)
			assert.EqualError(t, timeline.Check(set), c.says)
		}
	}
	_, _, err = plain.ParseTempo("2.9 bars/min", plain.OwnTempo())
	assert.EqualError(t, err, "2.9 bars/min is too slow: the routine's 30 bars/min can be danced from 10 to 200 %: 3 to 60 bars/min")
}

// songBeat returns the frame of the song on which a whole beat of the routine lies.
func songBeat(beats []int64, b routine.Beats) int64 { return beats[first+int(b/routine.Beat)] }

// levels returns levels at which only one layer is heard.
func levels(layer audio.Layer) (l audio.Levels) {
	l[layer] = 1
	return l
}

// playing renders one layer of a course.
func playing(c *player.Course, layer audio.Layer, frames, size int) [][2]float64 {
	a := player.NewAccompaniment(c)
	a.Plan(0, int64(frames))
	e := audio.NewEngine(rate)
	e.SetLevels(0, levels(layer))
	e.Play(c)
	e.Accompany(a, player.MusicLayer)
	out := make([][2]float64, frames)
	for at := 0; at < frames; at += size {
		e.Stream(out[at:min(at+size, frames)])
	}
	return out
}

// onsets returns the frames on which a click begins, 100 ms or more after the one before.
func onsets(samples [][2]float64) (found []int64) {
	last := -rate
	for i, s := range samples {
		if math.Abs(s[0]) > 0.1 {
			if i-last > rate/10 {
				found = append(found, int64(i))
			}
			last = i
		}
	}
	return found
}

// TestStepsAreOnTheSongsBeats: at any tempo each step falls on the frame of the song's
// beat, and the song's click is heard on that frame.
func TestStepsAreOnTheSongsBeats(t *testing.T) {
	timeline, beats := laid(t, 40)
	for _, percent := range []float64{60, 75, 100, 120} {
		set := player.Settings{Percent: percent, LeadIn: 1}
		c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Start, set)
		// The lead-in is 2 3 4 1, of which the song has all but the first two.
		begin := 2*beats[0] - beats[1] // a beat before the song's first
		want := []int64{0}
		for _, b := range beats[:first+int(timeline.End/routine.Beat)] {
			want = append(want, int64(math.Floor(float64(b-begin)*100/percent+0.5)))
		}
		var whole []int64
		for _, f := range clicks(c, 0, int64(c.End())) {
			if m := c.At(float64(f)); m.Beat%routine.Beat == 0 || m.State == player.LeadIn {
				whole = append(whole, f)
			}
		}
		assert.Equal(t, want, whole, "%g %%", percent)
		found := onsets(playing(c, player.MusicLayer, int(c.End())-rate/100, 480))
		require.Len(t, found, len(want)-1, "%g %%: no click of the song is lost or doubled", percent)
		for i, f := range found {
			assert.InDelta(t, want[i+1], f, rate*0.002, "%g %%, beat %d", percent, i)
		}
	}
}

// TestStepsBetweenBeatsAreOnTheSong: on a step on "and" the song is halfway between its
// beats, even if its sounds lie elsewhere.
func TestStepsBetweenBeatsAreOnTheSong(t *testing.T) {
	beats := beatsOfSong(40)
	var between []int64
	for i := range len(beats) - 1 {
		for _, part := range []float64{0.3, 0.62} {
			between = append(between, beats[i]+int64(part*float64(beats[i+1]-beats[i])))
		}
	}
	timeline, err := player.NewTimeline(score(t, lanternSheet(""))).To(song(t, beats, between...))
	require.NoError(t, err)
	for _, percent := range []float64{50, 60, 75, 120} {
		set := player.Settings{Percent: percent}
		c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Start, set)
		a := player.NewAccompaniment(c)
		a.Plan(0, int64(c.End()))
		steps := 0
		for _, f := range clicks(c, 0, int64(c.End())) {
			beat := c.At(float64(f)).Beat
			if beat%routine.Beat == 0 {
				continue
			}
			steps++
			in, ok := a.Place(f)
			require.True(t, ok)
			late := (in - float64(timeline.MusicFrame(beat))) / (percent / 100)
			assert.InDelta(t, 0, late, 0.011*rate, "%g %%, frame %d", percent, f)
		}
		assert.Equal(t, 4, steps, "%g %%", percent)
	}
}

// dancedTo draws a course to a song with a random history of changes, which an
// accompaniment follows as in a transport. It also returns the frames of the changes.
func dancedTo(t *rapid.T, timeline *player.Timeline) (*player.Course, *player.Accompaniment, []int64) {
	set := player.Settings{Percent: rapid.Float64Range(50, 120).Draw(t, "percent"), LeadIn: rapid.IntRange(0, 4).Draw(t, "lead-in")}
	if rapid.Bool().Draw(t, "repeats") {
		set.Loop = timeline.Passage(rapid.IntRange(0, 2).Draw(t, "passage"))
	}
	if rapid.Bool().Draw(t, "ladder") {
		set.Ladder = player.Ladder{Start: 60, Gain: rapid.Float64Range(1, 20).Draw(t, "gain"), Top: 110, Times: rapid.IntRange(0, 2).Draw(t, "passes")}
	}
	set.Rest = rapid.IntRange(0, 2).Draw(t, "rest")
	c := player.NewCourse(rate, sounds, timeline, set)
	a := player.NewAccompaniment(c)
	frame := rapid.Int64Range(0, rate).Draw(t, "begin")
	changes := []int64{frame}
	c = c.Start(frame, timeline, timeline.Start, set)
	a.Follow(c, frame)
	for range rapid.IntRange(0, 4).Draw(t, "changes") {
		after := rapid.Int64Range(1, 4*rate).Draw(t, "after")
		a.Plan(frame, frame+after+rate)
		frame += after
		changes = append(changes, frame)
		set.Percent = rapid.Float64Range(50, 120).Draw(t, "percent")
		switch rapid.IntRange(0, 5).Draw(t, "change") {
		case 0, 1:
			c = c.With(frame, set)
		case 2:
			c = c.Hold(frame)
		case 3:
			c = c.Go(frame, rapid.SampledFrom(timeline.Events).Draw(t, "to").At)
		case 4:
			set.Loop = player.Interval{}
			if rapid.Bool().Draw(t, "repeats") {
				set.Loop = timeline.Passage(rapid.IntRange(0, 2).Draw(t, "passage"))
			}
			c = c.With(frame, set)
		case 5:
			c = c.Start(frame, timeline, timeline.Start, set)
		}
		a.Follow(c, frame)
	}
	a.Plan(frame, frame+6*rate)
	return c, a, changes
}

// TestTheSongIsWhereTheCoupleIs: after any changes, each beat of the course is heard with
// that beat of the song.
func TestTheSongIsWhereTheCoupleIs(t *testing.T) {
	timeline, beats := laid(t, 44)
	checked := 0
	rapid.Check(t, func(t *rapid.T) {
		c, a, changes := dancedTo(t, timeline)
		end := changes[len(changes)-1]
		for _, f := range clicks(c, end, end+6*rate) {
			m := c.At(float64(f))
			beat := m.Beat
			if m.State == player.LeadIn {
				beat = (beat + 1).Floor(routine.Beat) // Beat is rounded down
			}
			in, ok := a.Place(f)
			if beat%routine.Beat != 0 || !ok || first+beat/routine.Beat < 0 {
				continue
			}
			checked++
			if want := float64(songBeat(beats, beat)); math.Abs(in-want) > 0.005*rate {
				t.Fatalf("frame %d, beat %s: the song is at %.0f and not at %.0f", f, beat, in, want)
			}
		}
	})
	assert.Positive(t, checked)
}

// TestAChangeOfTheSongIsNotHeardBeforeIt: up to the frame of a change, the song sounds as
// it would have without the change.
func TestAChangeOfTheSongIsNotHeardBeforeIt(t *testing.T) {
	timeline, _ := laid(t, 44)
	rapid.Check(t, func(t *rapid.T) {
		c, a, changes := dancedTo(t, timeline)
		end := changes[len(changes)-1]
		change := end + rapid.Int64Range(1, 4*rate).Draw(t, "change")
		from := max(0, change-rate/2)
		want := make([][2]float64, change-from)
		a.Add(want, from)
		set := c.At(float64(change)).Settings
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			set.Percent = rapid.Float64Range(50, 120).Draw(t, "percent")
			c = c.With(change, set)
		case 1:
			c = c.Hold(change)
		case 2:
			c = c.Go(change, timeline.Passage(1).From)
		case 3:
			set.Loop = timeline.Passage(0)
			c = c.With(change, set)
		}
		a.Follow(c, change)
		got := make([][2]float64, change-from)
		for at := from; at < change; {
			n := min(rapid.Int64Range(1, rate).Draw(t, "chunk"), change-at)
			a.Add(got[at-from:at-from+n], at)
			at += n
		}
		for i := range want {
			if want[i] != got[i] {
				t.Fatalf("%d frames before the change it is %v and was %v", change-from-int64(i), got[i], want[i])
			}
		}
	})
}

// TestTheTempoOfASongChangesWithoutAGap: a steady tone keeps its level, without a step,
// when its speed changes.
func TestTheTempoOfASongChangesWithoutAGap(t *testing.T) {
	frames := make([][2]int16, 20*rate)
	for i := range frames {
		x := int16(8000 * math.Sin(2*math.Pi*220*float64(i)/rate))
		frames[i] = [2]int16{x, x}
	}
	sound, err := timestretch.New(timestretch.Sound{Rate: rate, Frames: frames})
	require.NoError(t, err)
	m := song(t, beatsOfSong(36))
	m.Sound = sound
	timeline, err := player.NewTimeline(score(t, lanternSheet(""))).To(m)
	require.NoError(t, err)
	set := player.Settings{Percent: 100}
	c := player.NewCourse(rate, player.Sounds{}, timeline, set).Start(0, timeline, timeline.Start, set)
	a := player.NewAccompaniment(c)
	a.Plan(0, 10*rate)
	var out [][2]float64
	play := func(n int64) {
		buf := make([][2]float64, n)
		a.Add(buf, int64(len(out)))
		out = append(out, buf...)
	}
	play(rate)
	for _, percent := range []float64{80, 75, 90, 60, 120} {
		set.Percent = percent
		at := int64(len(out))
		c = c.With(at, set)
		a.Follow(c, at)
		a.Plan(at, at+rate)
		play(rate / 3)
	}
	const amplitude = 8000.0 / 32768
	steepest := amplitude * 2 * math.Pi * 220 / rate
	peak := 0.0
	for i := rate / 4; i < len(out); i++ {
		assert.LessOrEqual(t, math.Abs(out[i][0]-out[i-1][0]), steepest*1.1, "a step at frame %d", i)
		peak = max(peak, math.Abs(out[i][0]))
		if i%(rate/50) == 0 { // more than four periods
			assert.Greater(t, peak, amplitude*0.95, "a hole before frame %d", i)
			peak = 0
		}
	}
}

// TestASongJumpsAtARepeat: each run-through begins with the same beats of the song, and the
// sound before it fades into them.
func TestASongJumpsAtARepeat(t *testing.T) {
	timeline, beats := laid(t, 44)
	for _, rest := range []int{0, 1} {
		set := player.Settings{Percent: 80, Loop: timeline.Passage(1), Rest: rest}
		c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, set.Loop.From, set)
		a := player.NewAccompaniment(c)
		a.Plan(0, 30*rate)
		seen := map[int]bool{}
		for _, f := range clicks(c, rate/10, 25*rate) {
			m := c.At(float64(f))
			if m.State != player.Dancing || m.Beat%routine.Beat != 0 {
				continue
			}
			in, ok := a.Place(f)
			require.True(t, ok, "pass %d, beat %s", m.RunThrough, m.Beat)
			assert.InDelta(t, songBeat(beats, m.Beat), in, 0.002*rate, "pass %d, beat %s", m.RunThrough, m.Beat)
			seen[m.RunThrough] = true
		}
		assert.Greater(t, len(seen), 2)
	}
}

func TestTheSongDoesNotAllocate(t *testing.T) {
	timeline, _ := laid(t, 44)
	set := player.Settings{Percent: 80, Loop: timeline.Passage(1)}
	c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, set.Loop.From, set)
	a := player.NewAccompaniment(c)
	a.Plan(0, 12*rate)
	e := audio.NewEngine(rate)
	e.Play(c)
	e.Accompany(a, player.MusicLayer)
	buf := make([][2]float64, 512)
	e.Stream(buf)
	assert.Zero(t, testing.AllocsPerRun(1000, func() { e.Stream(buf) }))
}

// TestASongThatIsNotPlannedJoinsLater: until then the clicks go on without the song.
func TestASongThatIsNotPlannedJoinsLater(t *testing.T) {
	timeline, beats := laid(t, 44)
	set := player.Settings{Percent: 80}
	c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Start, set)
	a := player.NewAccompaniment(c)
	play := func(from, to int64) (heard bool) {
		for at := from; at < to; at += 512 {
			buf := make([][2]float64, 512)
			a.Add(buf, at)
			for _, s := range buf {
				heard = heard || s != [2]float64{}
			}
		}
		return heard
	}
	assert.False(t, play(0, 2*512*100))
	a.Plan(2*512*100, 8*rate)
	assert.True(t, play(2*512*100, 6*rate))
	in, ok := a.Place(4 * rate)
	require.True(t, ok)
	m := c.At(4 * rate)
	whole := m.Beat / routine.Beat
	assert.Greater(t, in, float64(beats[first+whole])-0.01*rate)
	assert.Less(t, in, float64(beats[first+whole+1])+0.01*rate)
}
