package routine_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// quay returns the chapter of a dance in 3/4 with settings added at its end.
func quay(settings string) []byte {
	return []byte("---\ndance: Quay\nmetre: 3/4\n" + settings + "---\n")
}

// TestRhythmOfAChapter: every letter, each stroke on its exact beat, and strokes on one beat in the
// order of their lines.
func TestRhythmOfAChapter(t *testing.T) {
	sheet, found := routine.ReadChapter("quay.md", quay(`rhythm:
  - "Bass drum: X . . | x.."
  - "hat:"
  - "guiro: L. s S .x"
  - "conga: o O s m p t"
`+"rhythm bars: 2\nrhythm source: from memory\n"))
	require.Equal(t, []place{{"bad-value", 6, 5}}, places(found), "%v", found)
	const beat = routine.Beat
	assert.Equal(t, routine.Rhythm{Bars: 2, Source: "from memory", Strokes: []routine.Stroke{
		{0, "bass drum", true}, {0, "guiro long", false}, {0, "conga open", false},
		{beat, "conga open", true},
		{2 * beat, "guiro short", false}, {2 * beat, "conga slap", false},
		{3 * beat, "bass drum", false}, {3 * beat, "guiro short", true}, {3 * beat, "conga muted", false},
		{4 * beat, "conga muted", false},
		{5 * beat, "guiro short", false}, {5 * beat, "conga muted", false},
	}}, sheet.Dance.Rhythm)
	assert.Equal(t, sheet.Dance.Rhythm, sheet.Rhythm)
}

// TestRhythmGridsAreExact: thirds and quarters of a beat, without rounding.
func TestRhythmGridsAreExact(t *testing.T) {
	sheet, found := routine.ReadChapter("quay.md", quay("rhythm: [\"claves: ... .x. ..x\", \"hat: .... ...o ....\"]\n"))
	require.Empty(t, found)
	assert.Equal(t, []routine.Stroke{
		{routine.Beat + routine.Beat/3, "claves", false},
		{routine.Beat + routine.Beat*3/4, "hat open", false},
		{2*routine.Beat + routine.Beat*2/3, "claves", false},
	}, sheet.Dance.Rhythm.Strokes)
}

// TestRhythmOfASheet: its own instead of the dance's; without one, the dance's.
func TestRhythmOfASheet(t *testing.T) {
	lib := shipped()
	dance, ok := lib.Dance("cha-cha")
	require.True(t, ok)
	score, found := routine.Read("night.md", []byte(lanternCha), lib)
	require.Empty(t, found)
	require.NotEmpty(t, score.Rhythm.Strokes)
	assert.Equal(t, dance.Rhythm, score.Rhythm)

	own := strings.Replace(lanternCha, "faces: wall", "rhythm:\n  - \"side stick: . x . X\"", 1)
	score, found = routine.Read("night.md", []byte(own), lib)
	require.Empty(t, found)
	assert.Equal(t, routine.Rhythm{Bars: 1, Strokes: []routine.Stroke{
		{routine.Beat, "side stick", false}, {3 * routine.Beat, "side stick", true},
	}}, score.Rhythm)
	assert.Equal(t, dance.Rhythm, score.Dance.Rhythm, "the dance keeps its own")
}

func TestRhythmOfAFigureAlone(t *testing.T) {
	lib := shipped()
	dance, ok := lib.Dance("waltz")
	require.True(t, ok)
	fig, ok := lib.Figure(dance, "whisk")
	require.True(t, ok)
	assert.Equal(t, dance.Rhythm, fig.Alone(dance, dance.Stride, routine.AnyPosition).Rhythm)
}

// TestRhythmFaults: each is reported at its part, in a chapter in 3/4 and in a sheet.
func TestRhythmFaults(t *testing.T) {
	parts := func(n int) string { return "rhythm:\n" + strings.Repeat("  - \"claves: x\"\n", n) }
	for _, test := range []struct {
		name, settings string
		want           []place
		message, hint  string // parts of the first finding's
	}{
		{"no colon", "rhythm:\n  - claves x\n", []place{{"bad-value", 5, 5}}, "not a part of a rhythm", "an instrument, a colon"},
		{"no quotes", "rhythm:\n  - claves: x\n", []place{{"bad-value", 5, 3}}, "not plain text", "quotes"},
		{"an unknown instrument", "rhythm:\n  - \"clavs: x\"\n", []place{{"bad-value", 5, 5}}, `"clavs"`, "claves"},
		{"an instrument far from any", "rhythm:\n  - \"accordion: x\"\n", []place{{"bad-value", 5, 5}}, `"accordion"`, "known: claves, "},
		{"an unknown stroke", "rhythm:\n  - \"conga: x . q\"\n", []place{{"bad-value", 5, 5}}, `"q" is not a stroke of the conga`, "s slap, m or p or t muted"},
		{"another's stroke", "rhythm:\n  - \"claves: L . s\"\n", []place{{"bad-value", 5, 5}}, "not a stroke of the claves", "x a stroke"},
		{"a small l", "rhythm:\n  - \"guiro: l . s\"\n", []place{{"bad-value", 5, 5}}, "not a stroke of the guiro", "L long"},
		{"no grid", "rhythm:\n  - \"claves: | |\"\n", []place{{"bad-value", 5, 5}}, "has no grid", ""},
		{"slots between the beats' parts", "rhythm:\n  - \"claves: x......\"\n", []place{{"bad-value", 5, 5}}, "the 7 slots of the claves don't divide 3 beats", ""},
		{"the longest grid", "rhythm:\n  - \"claves: " + strings.Repeat("x", 192) + "\"\n", nil, "", ""},
		{"too long a grid", "rhythm:\n  - \"claves: " + strings.Repeat("x", 240) + "\"\n", []place{{"bad-value", 5, 5}}, "240 slots, more than 192", ""},
		{"the most parts", parts(16), nil, "", ""},
		{"too many parts", parts(18), []place{{"bad-value", 21, 5}}, "at most 16 parts", ""},
		{"the most bars", "rhythm: [\"claves: x\"]\nrhythm bars: 8 bars\n", nil, "", ""},
		{"too many bars", "rhythm: [\"claves: x\"]\nrhythm bars: 9\n", []place{{"bad-value", 5, 14}}, "not a number from 1 to 8", ""},
		{"bars that are not known", "rhythm: [\"claves: x.....x\"]\nrhythm bars: two\n", []place{{"bad-value", 5, 14}}, "not a number", ""},
		{"bars without a rhythm", "rhythm bars: 2\nrhythm source: us\n", []place{{"unknown-setting", 4, 1}, {"unknown-setting", 5, 1}}, "has no effect", ""},
		{"a rhythm that can't be read, and its bars", "rhythm: {claves: x}\nrhythm bars: 2\n", []place{{"bad-value", 4, 9}}, "not plain text", ""},
		{"several faults", "rhythm:\n  - \"claves: y\"\n  - \"guiro: L . s\"\n  - \"drums: x\"\n", []place{{"bad-value", 5, 5}, {"bad-value", 7, 5}}, `"y"`, ""},
		{"a control character", "rhythm:\n  - \"claves: \\e\"\n", []place{{"bad-value", 5, 5}}, "not a stroke", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			src := quay(test.settings)
			_, found := routine.ReadChapter("quay.md", src)
			wellPlaced(t, src, found)
			require.Equal(t, test.want, places(found), "%v", found)
			if len(found) > 0 {
				assert.Contains(t, found[0].Message, test.message)
				assert.Contains(t, found[0].Hint, test.hint)
			}

			night := []byte(strings.Replace(lanternWaltz, "dance: waltz\n", "dance: waltz\n"+test.settings, 1))
			_, found = routine.Read("night.md", night, shipped())
			wellPlaced(t, night, found)
			want := make([]place, len(test.want))
			for i, p := range test.want {
				want[i] = place{p.code, p.line - 1, p.column}
			}
			assert.ElementsMatch(t, want, places(found), "%v", found)
		})
	}
}

// TestRhythmWithoutAMetre: how much a bar holds is unknown, so grids are not reported.
func TestRhythmWithoutAMetre(t *testing.T) {
	const part = "rhythm: [\"claves: x......\"]\n"
	_, found := routine.ReadChapter("quay.md", []byte("---\ndance: Quay\nmetre: three\n"+part+"---\n"))
	assert.Equal(t, []place{{"bad-value", 3, 8}}, places(found), "%v", found)
	night := strings.Replace(lanternCha, "dance: cha-cha", "dance: chacha-cha-chaa\n"+strings.TrimSpace(part), 1)
	_, found = routine.Read("night.md", []byte(night), shipped())
	assert.Equal(t, []place{{"unknown-dance", 2, 8}}, places(found), "%v", found)
}

// TestInstruments: names are unique, and a part can write each.
func TestInstruments(t *testing.T) {
	seen := map[string]bool{}
	for _, name := range routine.Instruments() {
		assert.False(t, seen[name], name)
		seen[name] = true
	}
	for name, part := range map[string]string{
		"claves": "claves: x", "guiro long": "guiro: L", "guiro short": "guiro: s", "conga slap": "conga: s",
		"bongo high": "bongo: h", "bongo low": "bongo: l", "surdo open": "surdo: x", "surdo muted": "surdo: m",
		"hat closed": "hat: c", "hat open": "hat: o", "brush snare": "Brush Snare: x",
	} {
		sheet, found := routine.ReadChapter("quay.md", quay(fmt.Sprintf("rhythm: [%q]\n", part)))
		require.Empty(t, found, part)
		assert.Equal(t, []routine.Stroke{{0, name, false}}, sheet.Dance.Rhythm.Strokes, part)
		assert.True(t, seen[name], name)
	}
}
