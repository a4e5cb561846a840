package routine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
)

// TestItems: all that a line of the order can say.
func TestItems(t *testing.T) {
	const bpm = routine.BeatPerMinute
	for _, test := range []struct {
		text string
		want routine.Item
	}{
		{"1. Quay step", routine.Item{Name: "Quay step"}},
		{"7) Quay step.", routine.Item{Name: "Quay step"}},
		{"1. Quay step × 2", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay step x2", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay step, x 2", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay step×2", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay box 2", routine.Item{Name: "Quay box 2"}},
		{"1. Quay 2x", routine.Item{Name: "Quay 2x"}},
		{"1. Quay step, steps 2–4", routine.Item{Name: "Quay step", From: 1, To: 4}},
		{"1. quay steps STEPS 2 to 4", routine.Item{Name: "quay steps", From: 1, To: 4}},
		{"1. Quay step, step 3", routine.Item{Name: "Quay step", From: 2, To: 3}},
		{"1. Quay step, steps 2-4 × 3 — with a smile, × 2", routine.Item{Name: "Quay step", From: 1, To: 4, Times: 3, Remark: "with a smile, × 2"}},
		{"1. Quay step × 3, steps 2—4", routine.Item{Name: "Quay step", From: 1, To: 4, Times: 3}},
		{"1. *Quay*  step - `softly`\n   and low", routine.Item{Name: "Quay step", Remark: "softly and low"}},
		{"1. Quay\n   step × 2", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay-step – low", routine.Item{Name: "Quay-step", Remark: "low"}},
		{"1. Quay step\n   - tempo: 30 bars/min", routine.Item{Name: "Quay step", Tempo: 120 * bpm, TempoTo: 120 * bpm}},
		{"1. Quay step\n   - tempo: 112 to 120 bpm\n   - Count: Slow / Quick\n   - ENDS: open pos. or fan", routine.Item{Name: "Quay step", Tempo: 112 * bpm, TempoTo: 120 * bpm, Style: routine.SlowQuick, Ends: in(t, "open facing", "fan")}},
	} {
		t.Run(test.text, func(t *testing.T) {
			src := of("cha-cha") + "\n## Order\n\n" + test.text + "\n" + strings.ReplaceAll(inPlace("Quay step", "2 3 4 1", routine.LF)+inPlace("Quay box 2", "2 3 4 1", routine.LF)+inPlace("Quay 2x", "2 3 4 1", routine.LF), "\n\n| Count", "\n\n- starts: apart\n- ends: apart\n\n| Count")
			score, found := routine.Read("items.md", []byte(src), library.Open())
			for _, f := range found {
				assert.Contains(t, []routine.Code{"last-bar-open", "bar-not-full", "join-foot"}, f.Code, f.Message)
			}
			require.Len(t, score.Items, 1)
			item := score.Items[0]
			require.NotNil(t, item.Figure)
			want := test.want
			if want.Times == 0 {
				want.Times = 1
			}
			if want.To == 0 {
				want.To = 4
			}
			got := routine.Item{Name: item.Name, From: item.From, To: item.To, Times: item.Times, Remark: item.Remark, Tempo: item.Tempo, TempoTo: item.TempoTo, Ends: item.Ends, Style: item.Style}
			assert.Equal(t, want, got)
		})
	}
}

// TestAnItemSetsHowItEnds: the hold may be changed on the last step of an item.
func TestAnItemSetsHowItEnds(t *testing.T) {
	figures := []string{"Jetty step;- starts: closed;1-4|LF side|RF side", "Quay step;- starts: open facing;1-4|RF side|LF side"}
	assert.Equal(t, []place{{"join-position", 9, 4}}, places(routine.Check("ends.md", []byte(own([]string{"Jetty step", "Quay step"}, figures...)), routine.EmptyBook{})))
	assert.Empty(t, routine.Check("ends.md", []byte(own([]string{"Jetty step\n   - ends: open facing", "Quay step"}, figures...)), routine.EmptyBook{}))
}

// TestHints: what to write instead is said in the terms of the sheet.
func TestHints(t *testing.T) {
	lib := library.Open()
	for _, test := range []struct {
		sheet string
		code  routine.Code
		hint  string
	}{
		{of("waltz") + "## Order\n\n1. Reverse turn × 2\n", "join-direction", "a turn of 1/4 L is missing"},
		{of("waltz") + "## Order\n\n1. Natural turn × 2\n", "join-direction", "a turn of 1/4 R is missing"},
		{of("waltz") + "## Order\n\n1. Tea\n\n## Tea\n\nWith milk.\n", "unknown-figure", "its section holds no table with a column Count"},
		{of("waltz") + "## Order\n\n1. Jubilee\n", "unknown-figure", "tell its steps below a heading \"## Jubilee\""},
		{of("waltz") + "## Order\n\n1. Jubilee\n\n# Jubilee\n\n| Count | Leader |\n|--|--|\n| 1-3 | LF slide |\n", "unknown-word", "perhaps side"},
		{"---\ndance: waltz\ntempo: 28\n---\n## Order\n\n1. Box step\n", "tempo-unreadable", "28 bars/min, or 28 beats/min"},
		{"---\ndance: waltz\ntempo: quick\n---\n## Order\n\n1. Box step\n", "tempo-unreadable", "29 bars/min or 87 beats/min"},
	} {
		found := routine.Check("hints.md", []byte(test.sheet), lib)
		require.Len(t, found, 1, test.sheet)
		assert.Equal(t, [2]string{string(test.code), test.hint}, [2]string{string(found[0].Code), found[0].Hint})
	}
}

// TestATempoInTheOtherUnit is recognised where it is about the dance's.
func TestATempoInTheOtherUnit(t *testing.T) {
	for written, meant := range map[string]string{"26 bpm": "perhaps 26 bars/min is meant; ", "90 bars/min": "perhaps 30 bars/min is meant; ", "20 bars/min": ""} {
		found := routine.Check("tempo.md", []byte("---\ndance: waltz\ntempo: "+written+"\n---\n## Order\n\n1. Box step\n"), library.Open())
		require.Len(t, found, 1, written)
		assert.Equal(t, routine.Code("tempo-range"), found[0].Code)
		before, _, ok := strings.Cut(found[0].Hint, "usual: ")
		assert.True(t, ok)
		assert.Equal(t, meant, before)
	}
}

// TestABeatIsMissing, one or several.
func TestABeatIsMissing(t *testing.T) {
	for steps, missing := range map[string]string{"1–4": "1 beat is not filled", "1–3": "1 1/2 beats are not filled"} {
		found := routine.Check("bar.md", []byte(of("cha-cha")+"## Order\n\n1. Closed basic, steps "+steps+"\n2. Time step\n"), library.Open())
		require.NotEmpty(t, found)
		assert.Contains(t, found[0].Message, missing)
	}
}
