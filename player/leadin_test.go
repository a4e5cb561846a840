package player_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/library"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// sheetOf returns a sheet with one figure, which has these counts and a change of weight
// on each.
func sheetOf(dance, counts string) string {
	var out strings.Builder
	fmt.Fprintf(&out, "---\ndance: %s\ntempo: 120 beats/min\n---\n\n## Order\n\n1. Lantern walk\n\n## Lantern walk\n\n| Count | Leader | Follower |\n|---|---|---|\n", dance)
	feet := [2]string{"LF", "RF"}
	for i, c := range strings.Fields(counts) {
		fmt.Fprintf(&out, "| %s | %s in place | %s in place |\n", c, feet[i%2], feet[1-i%2])
	}
	return out.String()
}

// TestLeadInsLeadToTheFirstCount: a lead-in of one bar or two ends with the number before
// the first step's (common practice).
func TestLeadInsLeadToTheFirstCount(t *testing.T) {
	for _, test := range []struct{ name, dance, counts, one, two string }{
		{"waltz", "waltz", "1 2 3", "one two three", "one two three one two three"},
		{"waltz in sixes", "waltz", "1 2 3 4 5 6", "four five six", "one two three four five six"},
		{"rumba on 2", "rumba", "2 3 4-1", "two three four one", "two three four one two three four one"},
		{"cha-cha on 2", "cha-cha", "2 3 4 & 1", "two three four one", "two three four one two three four one"},
		{"cha-cha on 1", "cha-cha", "1 2 3 4 &", "five six seven eight", "one two three four five six seven eight"},
		{"salsa on 1", "salsa", "1 2 3-4 5 6 7-8", "five six seven eight", "one two three four five six seven eight"},
		{"salsa on 2", "salsa", "2 3 4-5 6 7 8-1", "six seven eight one", "two three four five six seven eight one"},
		{"the other half of salsa", "salsa", "5 6 7-8 1 2 3-4", "one two three four", "five six seven eight one two three four"},
		{"jive", "jive", "1 2 3 a 4 5 a 6", "five six seven eight", "one two three four five six seven eight"},
		{"samba", "samba", "1 a 2", "one two", "one two one two"},
		{"samba over two bars", "samba", "1 a 2 3 a 4", "three four", "one two three four"},
		{"paso doble", "paso doble", "1 2 3 4 5 6 7 8", "seven eight", "five six seven eight"},
		{"foxtrot", "foxtrot", "S S Q Q", "five six seven eight", "one two three four five six seven eight"},
		{"tango", "tango", "Q Q S", "one two", "one two one two"},
		{"& before 1", "foxtrot", "& 1 2 3 4", "five six seven eight", "one two three four five six seven eight"},
		{"a before 1 of three", "waltz", "a 1 2 3", "one two three", "one two three one two three"},
		{"& before 2", "cha-cha", "& 2 3 4 & 1", "two three four one", "two three four one two three four one"},
	} {
		t.Run(test.name, func(t *testing.T) {
			s, found := routine.Read("lantern.md", []byte(sheetOf(test.dance, test.counts)), library.Open())
			require.NotEmpty(t, s.Passages, "%v", found)
			timeline := player.NewTimeline(s)
			for bars, want := range map[int]string{1: test.one, 2: test.two} {
				speaker, set := newSpeaker(), player.Settings{Percent: 100, LeadIn: bars}
				c := player.NewCourse(rate, player.Sounds{Voice: speaker}, timeline, set).Start(0, timeline, timeline.Start, set)
				words, frames := speaker.said(c.Hits(nil, 0, 20*rate))
				n := len(strings.Fields(want))
				require.Greater(t, len(words), n)
				assert.Equal(t, want, strings.Join(words[:n], " "))
				assert.Greater(t, c.At(float64(frames[n])).Event, -1, "then it is danced")
				assert.Equal(t, player.LeadIn, c.At(float64(frames[n]-1)).State)
			}
		})
	}
}

// TestTheFirstWordWithoutALeadIn: the first step is delayed by a breath, so that its word
// is heard whole, and everything after it as much.
func TestTheFirstWordWithoutALeadIn(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	speaker, set := newSpeaker(), player.Settings{Percent: 50}
	const first, breath = 1000, 0.16 * rate
	c := player.NewCourse(rate, player.Sounds{Kit: sounds.Kit, Voice: speaker}, timeline, set).Start(first, timeline, timeline.Start, set)
	hits := c.Hits(nil, 0, 10*rate)
	words, frames := speaker.said(hits)
	assert.Equal(t, []string{"two", "three", "four", "and", "one"}, words[:5])
	const beat = 48000 // 60 beats a minute
	want := []int64{first + breath, first + breath + beat, first + breath + 2*beat, first + breath + 5*beat/2, first + breath + 3*beat}
	assert.Equal(t, want, frames[:5])
	assert.Equal(t, want, clicks(c, 0, 10*rate)[:5])
	for _, h := range hits {
		assert.GreaterOrEqual(t, h.Frame, int64(first))
	}
	// Until then the couple stands before its first step.
	m := c.At(first + breath - 1)
	assert.Equal(t, player.LeadIn, m.State)
	assert.Equal(t, timeline.Start, m.Beat)
	assert.Equal(t, player.Dancing, c.At(first+breath).State)
	assert.InDelta(t, first+breath, c.Next(first), 0.5)
	// A change of tempo or a stop during the breath loses nothing.
	faster := c.With(first+100, player.Settings{Percent: 100})
	assert.Equal(t, []string{"two", "three", "four", "and", "one"}, wordsOf(speaker, faster.Hits(nil, 0, 10*rate))[:5])
	assert.Equal(t, timeline.Start, c.Hold(first+100).At(1e6).Beat)
	// Without a voice the first step comes at once.
	assert.EqualValues(t, first, clicks(player.NewCourse(rate, sounds, timeline, set).Start(first, timeline, timeline.Start, set), 0, rate)[0])
}

func wordsOf(s *speaker, hits []audio.Hit) []string {
	words, _ := s.said(hits)
	return words
}

// TestASheetSaysItsLeadIn: it is counted, and follows the sheet when that is changed, unless the dancer wants another.
func TestASheetSaysItsLeadIn(t *testing.T) {
	of := func(settings string) *player.Timeline {
		return player.NewTimeline(score(t, strings.Replace(lanternSheet(""), "tempo:", settings+"tempo:", 1)))
	}
	usual, two, none := of(""), of("lead-in: 2 bars\n"), of("lead-in: none\n")
	assert.Equal(t, player.DefaultSettings(), usual.Settings())
	assert.Equal(t, 0, none.Settings().LeadIn)
	set := two.Settings()
	require.Equal(t, 2, set.LeadIn)
	c := player.NewCourse(rate, sounds, two, set)
	assert.Equal(t, player.LeadIn, c.Start(0, two, two.Start, set).At(7.9*rate*60/120).State, "for eight beats")
	assert.Equal(t, player.Dancing, c.Start(0, two, two.Start, set).At(8.1*rate*60/120).State)
	assert.Equal(t, 0, c.Replace(10, none).At(20).Settings.LeadIn)
	assert.Equal(t, 1, c.Replace(10, usual).At(20).Settings.LeadIn)
	set.LeadIn = 3
	assert.Equal(t, 3, player.NewCourse(rate, sounds, two, set).Replace(10, none).At(20).Settings.LeadIn)
}
