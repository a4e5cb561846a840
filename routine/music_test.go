package routine_test

import (
	"fmt"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/routine"
)

// toSong returns a sheet with settings for its song.
func toSong(settings string) string {
	return "---\ndance: cha-cha\n" + settings + "\n---\n## Order\n\n1. Lantern step\n\n## Lantern step\n\n| Count | Leader | Follower |\n|:-----:|--------|----------|\n" +
		"| 2 | LF forward | RF back |\n| 3 | RF replace | LF replace |\n| 4 | LF side | RF side |\n| & | RF close | LF close |\n| 1 | LF side | RF side |\n"
}

func TestWhatASheetSaysOfItsSong(t *testing.T) {
	const bar, beat = 4 * routine.Beat, routine.Beat
	for settings, want := range map[string]routine.Music{
		"music: song.ogg":                             {File: "song.ogg"},
		"music: songs/./lantern.flac":                 {File: "songs/lantern.flac"},
		"music begins: bar 9":                         {Bar: 9},
		"music begins: after the introduction":        {},
		"phrases: 8":                                  {Phrases: []routine.Beats{8 * bar}},
		"phrases: 8 8 4 bars":                         {Phrases: []routine.Beats{8 * bar, 8 * bar, 4 * bar}},
		"phrases: 8 × 2, 10, 6x2, 5 beats":            {Phrases: []routine.Beats{8 * beat, 8 * beat, 10 * beat, 6 * beat, 6 * beat, 5 * beat}},
		"highlights: beat 88, bar 3":                  {Highlights: []routine.Beats{2 * bar, 87 * beat}},
		"music: a.ogg\nphrases: 4\nhighlights: bar 1": {File: "a.ogg", Phrases: []routine.Beats{4 * bar}, Highlights: []routine.Beats{0}},
	} {
		score, found := routine.Read("sheet.md", []byte(toSong(settings)), chaBook{})
		require.Empty(t, found, settings)
		got := score.Music
		if want.File != "" {
			assert.Equal(t, 3, got.At.Start.Line)
		}
		got.At = routine.Span{}
		assert.Equal(t, want, got, settings)
	}
}

func TestWhatCanNotBeSaidOfASong(t *testing.T) {
	for _, settings := range []string{
		"music: ../song.ogg", "music: /songs/song.ogg", "music: a/../../song.ogg", "music: ..", "music: .", `music: 'C:\song.ogg'`, "music: 'a:b.ogg'",
		"music begins: soon", "music begins: bar 0", "music begins: bar", "phrases: long", "phrases: 0", "phrases: 900", "phrases: 8 × 0", "phrases: 8 × 501", "phrases: bars",
		"phrases: 1616 beats", "phrases: 1616", "phrases: 8 8x1616", "phrases: 8x4x2", "phrases: 8,,8", "phrases: 8 × ", "phrases: 99999999999999999999",
		"highlights: 44", "highlights: bar 0", "highlights: bar 44 bar 79",
	} {
		_, found := routine.Read("sheet.md", []byte(toSong(settings)), chaBook{})
		assert.Equal(t, []routine.Code{"bad-value"}, codes(found), settings)
	}
}

// TestPhrasesAreReadAsTheyAreWritten: an impossible length is reported, and never split into several.
func TestPhrasesAreReadAsTheyAreWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit, length := "", 4*routine.Beat
		if rapid.Bool().Draw(t, "beats") {
			unit, length = " beats", routine.Beat
		}
		text, fits := "", true
		var want []routine.Beats
		for i := range rapid.IntRange(1, 6).Draw(t, "entries") {
			if i > 0 {
				text += rapid.SampledFrom([]string{" ", ", ", ",", "  "}).Draw(t, "between")
			}
			n := rapid.SampledFrom([]int{1, 4, 8, 16, 32, 64, 65, 256, 257, 999, 1000, 1616, 88888}).Draw(t, "length")
			times := rapid.SampledFrom([]int{1, 2, 20, 100, 1000}).Draw(t, "times")
			text += strconv.Itoa(n)
			if times > 1 {
				text += fmt.Sprintf(rapid.SampledFrom([]string{"x%d", " × %d", " x %d"}).Draw(t, "how"), times)
			}
			fits = fits && routine.Beats(n)*length <= 256*routine.Beat && len(want)+times <= 500
			for range times {
				want = append(want, routine.Beats(n)*length)
			}
		}
		score, found := routine.Read("sheet.md", []byte(toSong("phrases: "+text+unit)), chaBook{})
		if !fits {
			require.Equal(t, []routine.Code{"bad-value"}, codes(found), text+unit)
			return
		}
		require.NotContains(t, codes(found), routine.Code("bad-value"), text+unit)
		require.Equal(t, want, score.Music.Phrases, text+unit)
	})
}

// TestThePasoDoblesPhrases: the phrases of its usual music add up, at the first highlight, to 88 beats
// of 2/4, 44 bars. Common practice.
func TestThePasoDoblesPhrases(t *testing.T) {
	s := routine.Score{Sheet: routine.Sheet{Dance: &routine.Dance{Metre: routine.Metre{Beats: 2, Unit: 4}, PhraseBars: 8}}}
	for _, p := range []routine.Beats{8, 8, 8, 8, 4, 8, 8, 8, 8, 8, 8, 4} {
		s.Music.Phrases = append(s.Music.Phrases, p*routine.Beat)
	}
	number, from, to := s.Phrase(34 * routine.Beat)
	assert.Equal(t, []int{5, 32, 36}, []int{number, int(from / routine.Beat), int(to / routine.Beat)})
	number, from, to = s.Phrase(88 * routine.Beat)
	assert.Equal(t, []int{13, 88, 96}, []int{number, int(from / routine.Beat), int(to / routine.Beat)}, "they begin again")
}

// TestPhrasesFillTheSong: each beat lies in one phrase, and where one ends the next begins.
func TestPhrasesFillTheSong(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := routine.Score{Sheet: routine.Sheet{Dance: &routine.Dance{Metre: routine.Metre{Beats: 3, Unit: 4}, PhraseBars: 8}}}
		s.Music.Phrases = rapid.SliceOfN(rapid.Map(rapid.Int64Range(1, 9000), func(n int64) routine.Beats { return routine.Beats(n) }), 0, 6).Draw(t, "phrases")
		at := routine.Beats(rapid.Int64Range(-1<<20, 1<<20).Draw(t, "at"))
		number, from, to := s.Phrase(at)
		if from > at || at >= to {
			t.Fatalf("%d does not lie in [%d, %d)", at, from, to)
		}
		if next, begins, _ := s.Phrase(to); begins != to || next != number+1 {
			t.Fatalf("phrase %d ends at %d, and phrase %d begins at %d", number, to, next, begins)
		}
	})
}

// TestSixBeatsCrossPhrases: figures of six beats in a dance of four-beat bars cross phrases by nature, so it
// is no finding, nor for what stands across the bar after them.
func TestSixBeatsCrossPhrases(t *testing.T) {
	crossed := func(phrases, order string) (n int) {
		src := "---\ndance: jive\nphrases: " + phrases + "\n---\n\n## Order\n\n" + order
		for _, f := range routine.Check("jive.md", []byte(src), shipped()) {
			if f.Code == "phrase-crossed" {
				n++
			}
		}
		return n
	}
	assert.Zero(t, crossed("4 × 20 bars", "1. Fallaway rock × 8\n"))
	assert.Zero(t, crossed("4 × 20 bars", "1. Fallaway rock\n2. Stop and go × 2\n"))
	assert.Zero(t, crossed("4 × 20 bars", "1. Fallaway rock × 2\n2. Stop and go\n"), "on the bar again, by then in the middle of a phrase")
	assert.Equal(t, 1, crossed("3 × 20 bars", "1. Stop and go × 2\n"))
}
