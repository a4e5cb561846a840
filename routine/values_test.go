package routine_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/routine"
)

// TestBeatsAreWrittenAsFractions: 960 divides into halves, quarters, eighths, thirds and fifths, and
// JSON is read back exactly.
func TestBeatsAreWrittenAsFractions(t *testing.T) {
	const beat = routine.Beat
	for b, want := range map[routine.Beats][2]string{
		0: {"0", "0"}, beat: {"1", "1"}, beat / 2: {"1/2", "0.5"}, beat * 3 / 4: {"3/4", "0.75"}, beat * 5 / 2: {"2 1/2", "2.5"},
		beat / 3: {"1/3", "0.3333333333333333"}, beat / 5: {"1/5", "0.2"}, -beat / 8: {"-1/8", "-0.125"}, -beat * 9 / 4: {"-2 1/4", "-2.25"}, 1: {"1/960", "0.0010416666666666667"},
	} {
		assert.Equal(t, want[0], b.String())
		text, err := json.Marshal(b)
		require.NoError(t, err)
		assert.Equal(t, want[1], string(text))
	}
	rapid.Check(t, func(t *rapid.T) {
		b := routine.Beats(rapid.Int64Range(-1<<40, 1<<40).Draw(t, "beats"))
		text, err := json.Marshal(b)
		require.NoError(t, err)
		var got routine.Beats
		require.NoError(t, json.Unmarshal(text, &got))
		require.Equal(t, b, got)
	})
	var b routine.Beats
	assert.Error(t, json.Unmarshal([]byte(`"one"`), &b))
}

// TestBeatsInBars: a place before beat 0 lies in a bar too, and a bar is counted from its first beat.
func TestBeatsInBars(t *testing.T) {
	half := routine.Beat / 2
	for _, c := range []struct {
		at, into, floor, ceil routine.Beats
		bar, beat             int
	}{
		{0, 0, 0, 0, 1, 1},
		{1, 1, 0, 3 * routine.Beat, 1, 1},
		{2*routine.Beat + half, 2*routine.Beat + half, 0, 3 * routine.Beat, 1, 3},
		{3 * routine.Beat, 0, 3 * routine.Beat, 3 * routine.Beat, 2, 1},
		{-1, 3*routine.Beat - 1, -3 * routine.Beat, 0, 0, 3},
		{-half, 3*routine.Beat - half, -3 * routine.Beat, 0, 0, 3},
		{-3 * routine.Beat, 0, -3 * routine.Beat, -3 * routine.Beat, 0, 1},
		{-7 * routine.Beat, 2 * routine.Beat, -9 * routine.Beat, -6 * routine.Beat, -2, 3},
	} {
		waltz := routine.Metre{Beats: 3, Unit: 4}
		assert.Equal(t, c.into, c.at.Into(waltz.Bar()), "%s into its bar", c.at)
		assert.Equal(t, c.floor, c.at.Floor(waltz.Bar()), "the bar of %s", c.at)
		assert.Equal(t, c.ceil, c.at.Ceil(waltz.Bar()), "the bar from %s on", c.at)
		assert.Equal(t, c.bar, waltz.BarNumber(c.at), "the number of the bar of %s", c.at)
		assert.Equal(t, c.beat, waltz.BeatNumber(c.at), "the number of %s in its bar", c.at)
	}
}

// TestFindingsForPrograms: a finding as JSON has the words of the text.
func TestFindingsForPrograms(t *testing.T) {
	found := routine.Check("json.md", []byte("---\ndance: cha-cha\ntempo: 60 bars/min\n---\n## Order\n1. Quay step\n## Quay step\n|Count|Leader|\n|--|--|\n|2|LF sdie|\n|3|RF side|\n|4|LF side|\n|1|RF side|\n"), chaBook{})
	text, err := json.Marshal(found)
	require.NoError(t, err)
	assert.JSONEq(t, `[
		{"code":"tempo-range","severity":"warning","span":{"start":{"offset":26,"line":3,"column":8},"end":{"offset":37,"line":3,"column":19}},
		 "message":"60 bars/min is outside the usual range for cha-cha","hint":"usual: 28–32 bars/min"},
		{"code":"unknown-word","severity":"error","span":{"start":{"offset":106,"line":10,"column":7},"end":{"offset":110,"line":10,"column":11}},
		 "message":"unknown word \"sdie\" in a step","hint":"perhaps side"}]`, string(text))
}

// TestHeadings: a list of sheets shows title and dance without reading the rest.
func TestHeadings(t *testing.T) {
	for _, test := range []struct {
		name, src string
		want      routine.Heading
		ok        bool
	}{
		{"a title at the top", "---\ndance: Cha  cha\ntitle: Lantern *Night*\n---\n# Other\n", routine.Heading{Title: "Lantern Night", Dance: "Cha cha"}, true},
		{"a title as heading", "---\r\ndance: waltz\r\n---\r\n\r\nProse.\r\n\r\n#  Lantern waltz \r\n", routine.Heading{Title: "Lantern waltz", Dance: "waltz"}, true},
		{"no title", "\ufeff---\ndance: waltz\n---\n", routine.Heading{Title: "lantern.md", Dance: "waltz"}, true},
		{"what a terminal obeys", "---\ndance: wal\u202etz\ntitle: \"\\e[2J\"\n---\n", routine.Heading{Title: "\ufffd[2J", Dance: "wal\ufffdtz"}, true},
		{"a chapter", "---\ndance: waltz\nmetre: 3/4\n---\n# Waltz\n", routine.Heading{}, false},
		{"a sheet of a dance of its own", "---\ndance: Boathouse swing\nmetre: 4/4\n---\n# Lantern swing\n" + strings.Repeat("Prose.\n", 2000) + "\n## Order\n\n1. Basic\n",
			routine.Heading{Title: "Lantern swing", Dance: "Boathouse swing"}, true},
		{"no dance", "---\ntitle: Lantern\n---\n", routine.Heading{}, false},
		{"no settings", "# Lantern\n", routine.Heading{}, false},
		{"settings that can't be read", "---\ndance: [waltz\n---\n", routine.Heading{}, false},
		{"nothing", "", routine.Heading{}, false},
	} {
		got, ok := routine.ReadHeading("lantern.md", []byte(test.src))
		assert.Equal(t, test.ok, ok, test.name)
		assert.Equal(t, test.want, got, test.name)
	}
}
