package player_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/library"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// naming returns calls for the named figures. All last length frames, and the first
// sample of each is larger than any of a speaker's words.
func naming(length int, names ...string) player.Calls {
	calls := player.Calls{}
	for i, name := range names {
		sound := make(audio.Sound, length)
		sound[0] = float32(100 + i)
		calls[name] = sound
	}
	return calls
}

// heardName is a name heard in [from, to).
type heardName struct {
	name     string
	from, to int64
}

// namesIn separates the names from the other hits.
func namesIn(calls player.Calls, hits []audio.Hit) (names []heardName, others []audio.Hit) {
	for _, h := range hits {
		if h.Layer != player.VoiceLayer || h.Sound[0] < 100 {
			others = append(others, h)
			continue
		}
		for name, sound := range calls {
			if sound[0] == h.Sound[0] {
				names = append(names, heardName{name, h.Frame, h.Frame + int64(len(sound))})
			}
		}
	}
	return names, others
}

// The lantern sheet at 120 beats a minute: a two-bar figure twice, then one of one bar.
const (
	frames1 = int64(24000) // in a beat
	ear     = int64(7680)  // how long before its beat a word may begin, in frames
)

// TestTheNextFigureIsNamed: the name ends before the last beat of the figure before it.
// Meanwhile the count is silent and the clicks go on. A figure that follows itself is not
// named.
func TestTheNextFigureIsNamed(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	calls := naming(30000, "Lantern step", "Quay step")
	speaker, set := newSpeaker(), player.Settings{Percent: 100, Call: true}
	silent := set
	silent.Call = false
	all := player.Sounds{Kit: sounds.Kit, Voice: speaker, Calls: calls}
	c := player.NewCourse(rate, all, timeline, set).Start(0, timeline, timeline.Start, set)
	names, others := namesIn(calls, c.Hits(nil, 0, 30*frames1))
	end := 15*frames1 + ear - ear // the first step comes after a breath
	assert.Equal(t, []heardName{{"Quay step", end - 30000, end}}, names)

	quiet := player.NewCourse(rate, all, timeline, silent).Start(0, timeline, timeline.Start, silent)
	none, unnamed := namesIn(calls, quiet.Hits(nil, 0, 30*frames1))
	assert.Empty(t, none)
	with, without := wordsOf(speaker, others), wordsOf(speaker, unnamed)
	// In the last bar of the second lantern step the count is 2 3 4 & 1.
	assert.Equal(t, []string{"two", "three", "four", "and", "one", "two"}, without[15:21])
	assert.Equal(t, []string{"two", "three", "one", "two"}, with[15:19], "the last beat, and the first of the next, are counted")
	assert.Equal(t, clicks(quiet, 0, 30*frames1), clicks(c, 0, 30*frames1))
}

// TestANameWithLittleRoom: the name comes later if it still ends before its figure's first
// count, and is left out otherwise.
func TestANameWithLittleRoom(t *testing.T) {
	sheet := lanternSheet("3. Lantern step\n") // after one bar of quay step
	timeline := player.NewTimeline(score(t, sheet))
	bar := 4 * frames1
	begins := 4*bar + ear // of the quay step
	first := begins + 14400
	for length, want := range map[int64]heardName{
		40000: {"Lantern step", begins + 3*frames1 - ear - 40000, begins + 3*frames1 - ear},
		60000: {"Lantern step", first, first + 60000},
		73920: {"Lantern step", first, begins + bar - ear}, // to the frame
	} {
		calls := naming(int(length), "Lantern step")
		set := player.Settings{Percent: 100, Call: true}
		c := player.NewCourse(rate, player.Sounds{Voice: newSpeaker(), Calls: calls}, timeline, set).Start(0, timeline, timeline.Start, set)
		names, _ := namesIn(calls, c.Hits(nil, 0, 10*bar))
		assert.Equal(t, []heardName{want}, names, "%d frames", length)
	}
	calls := naming(73921, "Lantern step")
	set := player.Settings{Percent: 100, Call: true}
	c := player.NewCourse(rate, player.Sounds{Voice: newSpeaker(), Calls: calls}, timeline, set).Start(0, timeline, timeline.Start, set)
	names, _ := namesIn(calls, c.Hits(nil, 0, 10*bar))
	assert.Empty(t, names)
}

// TestNamesInALoop: a single looped figure is not named, unless bars are counted in
// between; of two, each is named before it begins again.
func TestNamesInALoop(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	calls := naming(20000, "Lantern step", "Quay step")
	bar := 4 * frames1
	count := func(set player.Settings, from routine.Beats) (names []heardName) {
		set.Percent, set.Call = 100, true
		c := player.NewCourse(rate, player.Sounds{Voice: newSpeaker(), Calls: calls}, timeline, set).Start(0, timeline, from, set)
		names, _ = namesIn(calls, c.Hits(nil, 0, 10*bar+ear))
		return names
	}
	lantern := player.Interval{From: timeline.Start, To: timeline.Passage(1).To}
	assert.Empty(t, count(player.Settings{Loop: lantern}, timeline.Start))
	// Four bars, a bar of rest, four bars; the name ends a beat before the rest is counted.
	end := ear + 4*bar - frames1 - ear
	assert.Equal(t, []heardName{{"Lantern step", end - 20000, end}, {"Lantern step", end + 5*bar - 20000, end + 5*bar}},
		count(player.Settings{Loop: lantern, Rest: 1}, timeline.Start))
	// The whole routine in a loop: five bars.
	whole := player.Interval{From: timeline.Start, To: timeline.End}
	assert.Equal(t, []heardName{{"Quay step", end - 20000, end}, {"Lantern step", end + bar - 20000, end + bar},
		{"Quay step", end + 5*bar - 20000, end + 5*bar}, {"Lantern step", end + 6*bar - 20000, end + 6*bar}},
		count(player.Settings{Loop: whole}, timeline.Start))
}

// TestEachRunThroughIsNamed from its first figure on, even if the routine also ends with that
// figure.
func TestEachRunThroughIsNamed(t *testing.T) {
	calls := naming(12000, "Lantern step", "Quay step")
	once := []string{"Lantern step", "Quay step", "Lantern step"}
	for name, c := range map[string]struct {
		sheet string
		want  []string // of one time
	}{
		"ends as it begins": {lanternSheet("3. Lantern step\n"), once},
		"one figure":        {strings.Replace(lanternSheet(""), "2. Quay step\n", "", 1), once[:1]},
		"two":               {lanternSheet(""), once[:2]},
	} {
		timeline := player.NewTimeline(score(t, c.sheet))
		set := player.Settings{Percent: 100, LeadIn: 1, Call: true}
		course := player.NewCourse(rate, player.Sounds{Kit: sounds.Kit, Voice: newSpeaker(), Calls: calls}, timeline, set)
		thrice := course.Through(0, timeline, player.Interval{From: timeline.Start, To: timeline.End}, 3, set)
		heard, _ := namesIn(calls, thrice.Hits(nil, 0, int64(thrice.End())))
		var names []string
		for _, h := range heard {
			names = append(names, h.name)
		}
		assert.Equal(t, slices.Repeat(c.want, 3), names, name)

		set.Loop = player.Interval{From: timeline.Start, To: timeline.End}
		repeated, _ := namesIn(calls, course.Start(0, timeline, timeline.Start, set).Hits(nil, 0, int64(thrice.End())))
		if len(c.want) == 1 {
			assert.Len(t, repeated, 1, "nobody wants to hear over and over what alone is repeated")
		} else {
			assert.GreaterOrEqual(t, len(repeated), len(heard), name)
			assert.Equal(t, heard, repeated[:len(heard)], name)
		}
	}
}

// TestNamesSoOften: a routine danced a number of times has the names of a loop, except that nothing is
// named after the last time.
func TestNamesSoOften(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	calls := naming(20000, "Lantern step", "Quay step")
	for name, c := range map[string]struct {
		part   player.Interval
		rest   int
		ladder player.Ladder
		want   int // names
	}{
		"whole":             {part: player.Interval{From: timeline.Start, To: timeline.End}, want: 1 + 2 + 2 + 1},
		"with a rest":       {part: player.Interval{From: timeline.Start, To: timeline.End}, rest: 1, want: 1 + 2 + 2 + 1},
		"gradually":         {part: player.Interval{From: timeline.Start, To: timeline.End}, ladder: player.Ladder{Start: 70, Gain: 10, Top: 100}, want: 1 + 2 + 2 + 1},
		"one, with a rest":  {part: player.Interval{From: timeline.Start, To: timeline.Passage(1).To}, rest: 2, want: 1 + 1 + 1},
		"last, with a rest": {part: timeline.Passage(2), rest: 1, want: 1 + 1 + 1},
	} {
		set := player.Settings{Percent: 100, LeadIn: 1, Rest: c.rest, Ladder: c.ladder, Call: true}
		empty := player.NewCourse(rate, player.Sounds{Kit: sounds.Kit, Voice: newSpeaker(), Calls: calls}, timeline, set)
		thrice := empty.Through(0, timeline, c.part, 3, set)
		end := int64(thrice.End())
		names, others := namesIn(calls, thrice.Hits(nil, 0, end))
		assert.Len(t, names, c.want, name)
		set.Loop = c.part
		repeated, words := namesIn(calls, empty.Start(0, timeline, c.part.From, set).Hits(nil, 0, end))
		until := end
		if len(repeated) > len(names) { // it names once more what it begins with again
			assert.Len(t, repeated, len(names)+1, name)
			until = repeated[len(names)].from
			repeated = repeated[:len(names)]
		}
		assert.Equal(t, repeated, names, name)
		until -= rate / 2 // words begin before their beats
		assert.Equal(t, before(words, until), before(others, until), name)
	}
}

// before returns the hits before a frame.
func before(hits []audio.Hit, frame int64) []audio.Hit {
	return slices.DeleteFunc(hits, func(h audio.Hit) bool { return h.Frame >= frame })
}

// TestTheLeadInIsNamed: the first figure is named, and a beat later the whole lead-in is
// counted. Without a lead-in the figure is not named.
func TestTheLeadInIsNamed(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	calls := naming(30000, "Lantern step", "Quay step")
	speaker := newSpeaker()
	set := player.Settings{Percent: 100, LeadIn: 1, Call: true}
	all := player.Sounds{Kit: sounds.Kit, Voice: speaker, Calls: calls}
	c := player.NewCourse(rate, all, timeline, set).Start(500, timeline, timeline.Start, set)
	names, others := namesIn(calls, c.Hits(nil, 0, 500+30000+9*frames1))
	assert.Equal(t, []heardName{{"Lantern step", 500, 30500}}, names)
	words, frames := speaker.said(others)
	assert.Equal(t, []string{"two", "three", "four", "one", "two"}, words[:5])
	assert.Equal(t, 30500+frames1, frames[0])
	assert.Equal(t, 30500+5*frames1, frames[4])
	for _, at := range []float64{500, 20000, 30499 + 24000} {
		m := c.At(at)
		assert.Equal(t, player.LeadIn, m.State)
		assert.Equal(t, timeline.Start-4*routine.Beat, m.Beat, "frame %v", at)
	}
	// Changing the tempo meanwhile does not repeat the name, and the lead-in is still counted.
	slower := c.With(20000, player.Settings{Percent: 50, LeadIn: 1, Call: true})
	names, others = namesIn(calls, slower.Hits(nil, 0, 30*frames1))
	assert.Equal(t, []heardName{{"Lantern step", 500, 30500}}, names)
	assert.Equal(t, []string{"two", "three", "four", "one", "two"}, wordsOf(speaker, others)[:5])
	// A figure without a call is not named, nor any figure without a lead-in.
	delete(calls, "Lantern step")
	c = player.NewCourse(rate, all, timeline, set).Start(0, timeline, timeline.Start, set)
	assert.EqualValues(t, ear, clicks(c, 0, rate)[0])
	set.LeadIn = 0
	names, _ = namesIn(calls, player.NewCourse(rate, all, timeline, set).Start(0, timeline, timeline.Passage(2).From, set).Hits(nil, 0, rate))
	assert.Empty(t, names)
}

// TestNamesThatBecomeKnown: new calls are heard from then on, whole or not at all, and
// nothing else changes.
func TestNamesThatBecomeKnown(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	calls := naming(30000, "Quay step")
	set := player.Settings{Percent: 100, Call: true}
	unknown := player.NewCourse(rate, player.Sounds{Kit: sounds.Kit, Voice: newSpeaker()}, timeline, set).Start(0, timeline, timeline.Start, set)
	begins := 15*frames1 - 30000
	for known, heard := range map[int64]bool{100: true, begins: true, begins + 1: false, begins + 20000: false, 18 * frames1: false} {
		c := unknown.WithCalls(known, calls)
		names, others := namesIn(calls, c.Hits(nil, 0, 40*frames1))
		assert.Equal(t, heard, len(names) == 1, "known on frame %d of %d", known, begins)
		if !heard {
			assert.Equal(t, unknown.Hits(nil, 0, 40*frames1), others)
		}
		assert.Equal(t, unknown.Hits(nil, 0, known), c.Hits(nil, 0, known))
	}
}

// TestAChangeWhileANameIsHeard: the name is said to its end and only once, and nothing is
// counted over it.
func TestAChangeWhileANameIsHeard(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	calls := naming(30000, "Quay step", "Lantern step")
	speaker := newSpeaker()
	rapid.Check(t, func(t *rapid.T) {
		set := player.Settings{Percent: 100, Call: true, Loop: player.Interval{From: timeline.Start, To: timeline.End}}
		c := player.NewCourse(rate, player.Sounds{Kit: sounds.Kit, Voice: speaker, Calls: calls}, timeline, set).Start(0, timeline, timeline.Start, set)
		begins, ends := 15*frames1-30000, 15*frames1
		at := rapid.Int64Range(begins+1, ends-1).Draw(t, "frame")
		for range rapid.IntRange(1, 3).Draw(t, "changes") {
			set.Percent = rapid.Float64Range(20, 100).Draw(t, "percent")
			c = c.With(at, set)
			at = min(at+rapid.Int64Range(1, 3000).Draw(t, "after"), ends-1)
		}
		names, others := namesIn(calls, c.Hits(nil, 0, ends+rapid.Int64Range(0, 2*frames1).Draw(t, "until")))
		require.Equal(t, []heardName{{"Quay step", begins, ends}}, names)
		for _, h := range others {
			if h.Layer == player.VoiceLayer {
				require.False(t, h.Frame < ends && h.Frame+int64(len(h.Sound)) > begins, "a word on frame %d", h.Frame)
			}
		}
	})
}

// TestNamesOfRealRoutines: in every example sheet, at any tempo and with names of any
// length, at most one name is heard before each change of figure. It begins after the
// first count of the figure before and ends before the first count of its own, and no
// word is heard at the same time.
func TestNamesOfRealRoutines(t *testing.T) {
	lib := library.Open()
	var lines []*player.Timeline
	for _, name := range lib.Sheets() {
		text, err := lib.Sheet(name)
		require.NoError(t, err)
		s, _ := routine.Read(name, text, lib)
		lines = append(lines, player.NewTimeline(s))
	}
	require.NotEmpty(t, lines)
	said, left := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		timeline := lines[rapid.IntRange(0, len(lines)-1).Draw(t, "sheet")]
		percent := rapid.Float64Range(20, 200).Draw(t, "percent")
		set := player.Settings{Percent: percent, Call: true}
		passages := timeline.Score.Passages
		var names []string
		for _, p := range passages {
			names = append(names, p.Figure.Name)
		}
		calls := naming(rapid.IntRange(1000, 3*rate).Draw(t, "length"), names...)
		c := player.NewCourse(rate, player.Sounds{Voice: longSpeaker{}, Calls: calls}, timeline, set).Start(0, timeline, timeline.Start, set)
		hits := c.Hits(nil, 0, int64(c.End()))
		heard, others := namesIn(calls, hits)
		frame := func(i int) float64 { return float64(ear) + timeline.Seconds(passages[i].Start)*rate*100/percent }
		before := 0 // the first of the passages with one name
		for i := 1; i < len(passages); i++ {
			if passages[i].Figure.Name == passages[i-1].Figure.Name {
				continue
			}
			if len(heard) > 0 && float64(heard[0].to) <= frame(i) {
				require.Equal(t, passages[i].Figure.Name, heard[0].name)
				require.LessOrEqual(t, float64(heard[0].to), frame(i)-float64(ear)+1)
				require.GreaterOrEqual(t, float64(heard[0].from), frame(before)+0.3*rate-1)
				for _, h := range others {
					require.False(t, h.Layer == player.VoiceLayer && h.Frame < heard[0].to && h.Frame+int64(len(h.Sound)) > heard[0].from, "a word on %d in %v", h.Frame, heard[0])
				}
				heard = heard[1:]
				said++
			} else {
				left++
			}
			before = i
		}
		require.Empty(t, heard)
	})
	assert.Positive(t, said)
	t.Logf("%d named, %d not for lack of room", said, left)
}

// longSpeaker says every word in 0.28 s; the beat is heard 0.1 s in.
type longSpeaker struct{}

func (longSpeaker) In(string) func(string) (audio.Sound, int, bool) {
	return func(string) (audio.Sound, int, bool) { return theLongWord, rate / 10, true }
}

var theLongWord = make(audio.Sound, rate*28/100)

// TestNamesInAnyChunks: the hits do not depend on how Hits is called.
func TestNamesInAnyChunks(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	calls := naming(40000, "Quay step", "Lantern step")
	rapid.Check(t, func(t *rapid.T) {
		set := player.Settings{Percent: rapid.Float64Range(30, 200).Draw(t, "percent"), LeadIn: 1, Rest: rapid.IntRange(0, 2).Draw(t, "rest"), Call: true,
			Loop: player.Interval{From: timeline.Start, To: timeline.End}}
		c := player.NewCourse(rate, player.Sounds{Kit: sounds.Kit, Voice: longSpeaker{}, Calls: calls}, timeline, set).Start(1000, timeline, timeline.Start, set)
		set.Percent *= 0.9
		c = c.With(rapid.Int64Range(1001, 400000).Draw(t, "change"), set)
		const until = 1200000
		var pieces []audio.Hit
		for from := int64(0); from < until; {
			to := min(from+rapid.Int64Range(1, 100000).Draw(t, "frames"), until)
			pieces = c.Hits(pieces, from, to)
			from = to
		}
		require.Equal(t, frames(c.Hits(nil, 0, until)), frames(pieces))
	})
}

func TestNamesDoNotAllocate(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	set := player.Settings{Percent: 100, LeadIn: 1, Rest: 1, Call: true, Loop: player.Interval{From: timeline.Start, To: timeline.End}}
	c := namingCourse(timeline, set)
	buf, from := make([]audio.Hit, 0, 256), int64(0)
	assert.Zero(t, testing.AllocsPerRun(1000, func() {
		buf = c.Hits(buf[:0], from, from+8192)
		from += 8192
	}))
}

func namingCourse(timeline *player.Timeline, set player.Settings) *player.Course {
	all := player.Sounds{Kit: sounds.Kit, Voice: longSpeaker{}, Calls: naming(20000, "Quay step", "Lantern step")}
	return player.NewCourse(rate, all, timeline, set).Start(0, timeline, timeline.Start, set)
}

// BenchmarkNames measures one call of Hits by the audio thread, with names.
func BenchmarkNames(b *testing.B) {
	timeline := player.NewTimeline(score(b, lanternSheet("")))
	c := namingCourse(timeline, player.Settings{Percent: 100, Call: true, Loop: player.Interval{From: timeline.Start, To: timeline.End}})
	dst := make([]audio.Hit, 0, 256)
	b.ReportAllocs()
	for i := range b.N {
		from := int64(math.Mod(float64(i), 1e6)) * 8192
		dst = c.Hits(dst[:0], from-4*rate, from+8192)
	}
}
