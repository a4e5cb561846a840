package player_test

import (
	"slices"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// abroad remembers the languages it is asked for.
type abroad struct {
	*speaker
	asked *[]string
}

func (a abroad) In(language string) func(string) (audio.Sound, int, bool) {
	*a.asked = append(*a.asked, language)
	return a.speaker.In(language)
}

// TestTheVoiceSpeaksTheSheetsLanguage, unless another is chosen; what is shown says the same.
func TestTheVoiceSpeaksTheSheetsLanguage(t *testing.T) {
	s := *score(t, lanternSheet(""))
	s.Language = routine.German
	timeline := player.NewTimeline(&s)
	for chosen, want := range map[routine.Language][2]string{routine.LanguageUnset: {"german", "zwei"}, routine.French: {"french", "deux"}, routine.English: {"english", "two"}} {
		set := player.Settings{Percent: 100, LeadIn: 1, Count: player.Counting{Style: routine.InWords, Language: chosen}}
		var asked []string
		c := player.NewCourse(rate, player.Sounds{Kit: sounds.Kit, Voice: abroad{newSpeaker(), &asked}}, timeline, set)
		c.Start(0, timeline, timeline.Start, set)
		assert.NotEmpty(t, asked)
		assert.Empty(t, slices.DeleteFunc(asked, func(l string) bool { return l == want[0] }), "no other")
		assert.Equal(t, want[1], timeline.Said(timeline.Events[0].Labels, 0, set.Count))
	}
}

// speaker says word n as a sound of one sample with the value n. The ear hears its beat
// n*100 frames in.
type speaker struct{ words []string }

func newSpeaker() *speaker {
	return &speaker{[]string{"one", "two", "three", "four", "five", "six", "seven", "eight", "and", "slow", "quick", "cha", "a"}}
}

func (s *speaker) In(string) func(string) (audio.Sound, int, bool) { return s.word }

func (s *speaker) word(word string) (audio.Sound, int, bool) {
	for n, w := range s.words {
		if w == word {
			return audio.Sound{float32(n)}, n * 100, true
		}
	}
	return nil, 0, false
}

// said lists the words heard, and the frames of their beats.
func (s *speaker) said(hits []audio.Hit) (words []string, frames []int64) {
	type saying struct {
		at   int64
		word string
	}
	var all []saying
	for _, h := range hits {
		if h.Layer == player.VoiceLayer {
			n := int(h.Sound[0])
			all = append(all, saying{h.Frame + int64(n*100), s.words[n]})
		}
	}
	sort.Slice(all, func(i, j int) bool { return all[i].at < all[j].at })
	for _, a := range all {
		words, frames = append(words, a.word), append(frames, a.at)
	}
	return words, frames
}

// TestTheVoiceCounts: in each style of counting, the moment of every word falls on the
// frame of its beat.
func TestTheVoiceCounts(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	bar := int64(96000) // 4/4 at 120 beats a minute
	for _, test := range []struct {
		style routine.CountStyle
		want  []string // in the first bar of steps, 2 3 4 & 1
	}{
		{routine.StyleUnset, []string{"two", "three", "four", "and", "one"}},
		{routine.SlowQuick, []string{"slow", "slow", "quick", "quick", "slow"}},
		{routine.InWords, []string{"two", "three", "cha", "cha", "cha"}},
	} {
		speaker := newSpeaker()
		set := player.Settings{Percent: 100, LeadIn: 1, Count: player.Counting{Style: test.style}}
		c := player.NewCourse(rate, player.Sounds{Kit: sounds.Kit, Voice: speaker}, timeline, set).Start(0, timeline, timeline.Start, set)
		hits := c.Hits(nil, 0, 3*bar)
		words, frames := speaker.said(hits)
		require.GreaterOrEqual(t, len(words), 9)
		assert.Equal(t, test.want, words[4:9])
		var beats []int64
		for _, h := range hits {
			if h.Layer == player.ClickLayer {
				beats = append(beats, h.Frame)
			}
		}
		assert.Equal(t, beats[:9], frames[:9])
	}
}

// TestTheLeadInIsSaid: "five six seven eight" before a first step on 1 of four, otherwise
// the beats of the bar (common practice).
func TestTheLeadInIsSaid(t *testing.T) {
	speaker := newSpeaker()
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	set := player.Settings{Percent: 100, LeadIn: 2}
	course := player.NewCourse(rate, player.Sounds{Voice: speaker}, timeline, set)
	words, _ := speaker.said(course.Start(0, timeline, 4*routine.Beat, set).Hits(nil, -10000, 8*24000-1))
	assert.Equal(t, []string{"one", "two", "three", "four", "five", "six", "seven", "eight"}, words[:8])
	words, _ = speaker.said(course.Start(0, timeline, timeline.Start, set).Hits(nil, -10000, 8*24000-1))
	assert.Equal(t, []string{"two", "three", "four", "one", "two", "three", "four", "one"}, words[:8], "the first step is on 2")
}

// TestTheVoiceTakesBreath: until the first word the lead-in stays at its first beat,
// whichever that is, and goes on from there.
func TestTheVoiceTakesBreath(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	set := player.Settings{Percent: 100, LeadIn: 1}
	course := player.NewCourse(rate, player.Sounds{Voice: newSpeaker()}, timeline, set)
	for first := range routine.Beats(4) {
		c := course.Start(0, timeline, (first+4)*routine.Beat, set)
		// A frame after each beat, as the place between two is rounded down.
		for frame, beat := range map[float64]routine.Beats{0: 0, 7679: 0, 7681: 0, 7681 + 24000: 1, 7681 + 3*24000: 3} {
			m := c.At(frame)
			assert.Equal(t, player.LeadIn, m.State)
			assert.Equal(t, first+beat, m.Beat/routine.Beat, "frame %v", frame)
		}
	}
}

// TestWordsAtAnyBufferSize: the hits do not depend on the lengths in which they are asked for.
func TestWordsAtAnyBufferSize(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	rapid.Check(t, func(t *rapid.T) {
		set := player.Settings{Percent: rapid.Float64Range(30, 200).Draw(t, "percent"), LeadIn: 1, Rest: rapid.IntRange(0, 1).Draw(t, "rest"), FeetApart: true,
			Loop: player.Interval{From: timeline.Start, To: timeline.End}}
		c := player.NewCourse(rate, player.Sounds{Kit: sounds.Kit, Voice: newSpeaker()}, timeline, set).Start(1000, timeline, timeline.Start, set)
		set.Percent *= 0.9
		c = c.With(rapid.Int64Range(1001, 400000).Draw(t, "change"), set)
		const until = 800000
		var pieces []audio.Hit
		for from := int64(0); from < until; {
			to := min(from+rapid.Int64Range(1, 100000).Draw(t, "frames"), until)
			pieces = c.Hits(pieces, from, to)
			from = to
		}
		whole := c.Hits(nil, 0, until)
		require.NotEmpty(t, whole)
		assert.Equal(t, whole, pieces)
		assert.True(t, sort.SliceIsSorted(whole, func(i, j int) bool { return whole[i].Frame < whole[j].Frame }))
	})
}

// TestFeetInTheirOwnEars: left feet are heard on the left and right feet on the right.
func TestFeetInTheirOwnEars(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	for _, apart := range []bool{false, true} {
		set := player.Settings{Percent: 100, FeetApart: apart}
		c := player.NewCourse(rate, sounds, timeline, set).Start(0, timeline, timeline.Start, set)
		steps := 0
		for _, h := range c.Hits(nil, 0, 96000) {
			want := float32(0)
			if h.Layer == player.LeaderLayer && apart {
				want = -1
				if e := timeline.Events[steps]; e.Steps[routine.Leader].Foot == routine.RF {
					want = 1
				}
			}
			if h.Layer == player.LeaderLayer {
				steps++
			}
			if h.Layer != player.FollowerLayer {
				assert.Equal(t, want, h.Pan)
			}
		}
		assert.Equal(t, 5, steps)
	}
}

// TestTheRhythmIsPlayed: every stroke sounds on its frame, however often the pattern
// repeats, while the couple dances.
func TestTheRhythmIsPlayed(t *testing.T) {
	s := *score(t, lanternSheet(""))
	s.Rhythm = routine.Rhythm{Bars: 2, Strokes: []routine.Stroke{
		{At: 0, Instrument: "claves", Accent: true}, {At: routine.Beat * 3 / 2, Instrument: "claves"}, {At: 4 * routine.Beat, Instrument: "conga"}, {At: 5 * routine.Beat, Instrument: "gong"},
	}}
	timeline := player.NewTimeline(&s)
	set := player.Settings{Percent: 100, Rest: 1, Loop: timeline.Passage(2)}
	band := audio.Band{"claves": {1}, "conga": {2}}
	c := player.NewCourse(rate, player.Sounds{Band: band}, timeline, player.Settings{Percent: 100}).Start(0, timeline, timeline.Start, player.Settings{Percent: 100})
	// Beat 0 is the first of the bar; the first step is on the second, on frame 0.
	type stroke struct {
		frame int64
		sound float32
		gain  float32
	}
	strokes := func(hits []audio.Hit) (out []stroke) {
		for _, h := range hits {
			if h.Layer == player.RhythmLayer {
				out = append(out, stroke{h.Frame, h.Sound[0], h.Gain})
			}
		}
		return out
	}
	const beat = 24000
	assert.Equal(t, []stroke{{beat / 2, 1, 0.75}, {3 * beat, 2, 0.75}, {7 * beat, 1, 1}, {8*beat + beat/2, 1, 0.75}, {11 * beat, 2, 0.75}}, strokes(c.Hits(nil, 0, 15*beat)))
	// A loop keeps its place in the pattern; a rest is counted without the rhythm.
	from := timeline.Passage(2).From
	c = player.NewCourse(rate, player.Sounds{Band: band}, timeline, set).Start(0, timeline, from, set)
	first := strokes(c.Hits(nil, 0, 4*beat))
	require.NotEmpty(t, first)
	assert.Empty(t, strokes(c.Hits(nil, 4*beat, 8*beat)))
	again := strokes(c.Hits(nil, 8*beat, 12*beat))
	require.Len(t, again, len(first))
	for i := range first {
		assert.Equal(t, first[i].frame+8*beat, again[i].frame)
	}
}

// TestSoundsDoNotAllocate: in every style of counting, the audio thread's calls do not
// allocate.
func TestSoundsDoNotAllocate(t *testing.T) {
	s := *score(t, lanternSheet(""))
	s.Rhythm = routine.Rhythm{Bars: 1, Strokes: []routine.Stroke{{At: 0, Instrument: "claves"}, {At: routine.Beat, Instrument: "conga"}}}
	timeline := player.NewTimeline(&s)
	all := player.Sounds{Kit: sounds.Kit, Voice: newSpeaker(), Band: audio.Band{"claves": {1}, "conga": {1}}}
	for _, style := range []routine.CountStyle{routine.StyleUnset, routine.AsCounted, routine.SlowQuick, routine.InWords} {
		set := player.Settings{Percent: 100, LeadIn: 1, Rest: 1, Count: player.Counting{Style: style, Language: routine.French}, Loop: player.Interval{From: timeline.Start, To: timeline.End}, Ladder: player.Ladder{Start: 70, Gain: 5, Top: 100}}
		c := player.NewCourse(rate, all, timeline, set).Start(0, timeline, timeline.Start, set)
		buf := make([]audio.Hit, 0, 256)
		from := int64(0)
		assert.Zero(t, testing.AllocsPerRun(1000, func() {
			buf = c.Hits(buf[:0], from, from+8192)
			from += 8192
		}), style.String())
	}
}
