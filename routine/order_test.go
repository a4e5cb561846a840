package routine_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// TestItems: everything that a line of the order can say.
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
		{"1. Quay step 2x", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay step X2", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay step *2", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay step (x2)", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay step (twice)", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay step twice", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay step, three times", routine.Item{Name: "Quay step", Times: 3}},
		{"1. Quay step 3 times", routine.Item{Name: "Quay step", Times: 3}},
		{"1. Quay step - 3x", routine.Item{Name: "Quay step", Times: 3}},
		{"1. Quay step — twice", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay step — twice, softly", routine.Item{Name: "Quay step", Times: 2, Remark: "softly"}},
		{"1. Quay step — softly × 2", routine.Item{Name: "Quay step", Times: 2, Remark: "softly"}},
		{"1. Quay step — twice as soft", routine.Item{Name: "Quay step", Remark: "twice as soft"}},
		{"1. 2x Quay step", routine.Item{Name: "Quay step", Times: 2}},
		{"1. 2 × Quay step", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Twice Quay step", routine.Item{Name: "Quay step", Times: 2}},
		{"1. Quay step (softly) x2", routine.Item{Name: "Quay step", Times: 2, Remark: "softly"}},
		{"1. Quay step 2-4", routine.Item{Name: "Quay step", From: 1, To: 4}},
		{"1. Quay step (2–4) twice", routine.Item{Name: "Quay step", From: 1, To: 4, Times: 2}},
		{"1. Steps 2 to 4 of the quay step", routine.Item{Name: "quay step", From: 1, To: 4}},
		{"1. Quay step, step 2", routine.Item{Name: "Quay step", From: 1, To: 2}},
		{"1. Step 1", routine.Item{Name: "Step 1"}},
		{"1. Step 1, steps 2-4 × 2", routine.Item{Name: "Step 1", From: 1, To: 4, Times: 2}},
		{"1. Quay step\n   - tempo: 30 bars/min", routine.Item{Name: "Quay step", Tempo: 120 * bpm, TempoTo: 120 * bpm}},
		{"1. Quay step\n   - tempo: 112 to 120 bpm\n   - Count: Slow / Quick\n   - ENDS: open pos. or fan", routine.Item{Name: "Quay step", Tempo: 112 * bpm, TempoTo: 120 * bpm, Style: routine.SlowQuick, Ends: in(t, "open facing", "fan")}},
	} {
		t.Run(test.text, func(t *testing.T) {
			src := of("cha-cha") + "\n## Order\n\n" + test.text + "\n" + strings.ReplaceAll(inPlace("Quay step", "2 3 4 1", routine.LF)+inPlace("Quay box 2", "2 3 4 1", routine.LF)+inPlace("Quay 2x", "2 3 4 1", routine.LF)+inPlace("Step 1", "2 3 4 1", routine.LF), "\n\n| Count", "\n\n- starts: apart\n- ends: apart\n\n| Count")
			score, found := routine.Read("items.md", []byte(src), shipped())
			for _, f := range found {
				assert.Contains(t, []routine.Code{"last-bar-open", "bar-not-full", "join-foot", "figure-not-danced"}, f.Code, f.Message)
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

// TestSettingsAtAnyIndent: what stands below an item belongs to it, whatever its number and however far
// it is indented.
func TestSettingsAtAnyIndent(t *testing.T) {
	lib := shipped()
	const rest = "- tempo: 30 bars/min\n%[1]s- count: words\n%[1]s- ends: apart\n%[1]s- corner: after\n"
	for _, number := range []string{"1. ", "9) ", "10. ", "10)  ", "99. ", "100. ", "1000. ", "123456789. "} {
		for _, indent := range []string{" ", "  ", "   ", "    ", "     ", "      ", "       ", "        ", "\t", "\t\t"} {
			for _, gap := range []string{"\n", "\n\n", "\r\n"} {
				t.Run(fmt.Sprintf("%q %q %q", number, indent, gap), func(t *testing.T) {
					settings := strings.TrimSuffix(fmt.Sprintf(indent+rest, indent), "\n")
					if gap == "\r\n" {
						settings = strings.ReplaceAll(settings, "\n", gap)
					}
					src := of("cha-cha") + "\n## Order\n\n" + number + "Quay step" + gap + settings + "\n" + strings.Replace(number, "1", "2", 1) + "Quay step — low\n" +
						strings.ReplaceAll(inPlace("Quay step", "2 3 4 1", routine.LF), "\n\n| Count", "\n\n- starts: apart\n- ends: apart\n\n| Count")
					score, found := routine.Read("items.md", []byte(src), lib)
					require.Empty(t, found)
					require.Len(t, score.Items, 2)
					item := score.Items[0]
					assert.Equal(t, [2]string{"Quay step", ""}, [2]string{item.Name, item.Remark})
					assert.Equal(t, 120*routine.BeatPerMinute, item.Tempo)
					assert.Equal(t, routine.InWords, item.Style)
					assert.Equal(t, in(t, "apart"), item.Ends)
					assert.True(t, item.Corner)
					assert.Equal(t, "low", score.Items[1].Remark)

					tidy, _ := routine.Tidy("items.md", []byte(src), lib)
					again, found := routine.Read("items.md", tidy, lib)
					require.Empty(t, found, "%s", tidy)
					assert.Equal(t, item.Tempo, again.Items[0].Tempo)
					assert.True(t, again.Items[0].Corner)
				})
			}
		}
	}
}

// TestWhatStandsBelowAnItemIsNeverPassedOver: bullets that set nothing are reported wherever Markdown
// would put them.
func TestWhatStandsBelowAnItemIsNeverPassedOver(t *testing.T) {
	for _, below := range []string{"   - softly", "    - softly", "     - softly", "\n    - softly", "    - count: words\n      - softly", "    - tempo: 30 bars/min\n          - softly"} {
		src := of("cha-cha") + "\n## Order\n\n100. Lantern step\n" + below + "\n\n" + inPlace("Lantern step", "2 3 4 1", routine.LF)
		found := routine.Check("items.md", []byte(src), shipped())
		require.NotEmpty(t, found, below)
		assert.Equal(t, routine.Code("unknown-setting"), found[0].Code, below)
	}
}

// TestAFigureToldInProse: the finding shows what stands in place of the chart.
func TestAFigureToldInProse(t *testing.T) {
	const sheet = "\n## Order\n\n1. Quay step\n\n## Quay step\n\nOn 2 the leader steps LF forward, and the follower RF back.\n"
	found := routine.Check("prose.md", []byte(of("cha-cha")+sheet), shipped())
	require.Len(t, found, 1)
	assert.Equal(t, place{"unknown-figure", 7, 4}, places(found)[0])
	require.Len(t, found[0].Related, 1)
	assert.Equal(t, [2]int{11, 1}, [2]int{found[0].Related[0].Span.Start.Line, found[0].Related[0].Span.Start.Column})
}

// TestHints: hints say what to write, in the sheet's own terms.
func TestHints(t *testing.T) {
	lib := shipped()
	for _, test := range []struct {
		sheet string
		code  routine.Code
		hint  string
	}{
		{of("waltz") + "## Order\n\n1. Reverse turn × 2\n", "join-direction", "a turn of 1/4 L is missing"},
		{of("waltz") + "## Order\n\n1. Natural turn × 2\n", "join-direction", "a turn of 1/4 R is missing"},
		{of("waltz") + "## Order\n\n1. Tea\n\n## Tea\n\nWith milk.\n", "unknown-figure", "write the steps there as a table with the columns Count, Leader and Follower"},
		{of("cha-cha") + "## Order\n\n1. Natural turn\n", "unknown-figure", "it is a figure of Foxtrot, Quickstep, Viennese waltz, Waltz; here perhaps Natural top"},
		{of("waltz") + "## Order\n\n1. Jubilee\n", "unknown-figure", "write its steps below a heading \"## Jubilee\""},
		{of("waltz") + "## Order\n\n1. Jubilee\n\n# Jubilee\n\n| Count | Leader |\n|--|--|\n| 1-3 | LF slide |\n", "unknown-word", "perhaps side"},
		{"---\ndance: waltz\ntempo: 28\n---\n## Order\n\n1. Box step\n", "tempo-unreadable", "28 bars/min, or 28 beats/min"},
		{"---\ndance: waltz\ntempo: quick\n---\n## Order\n\n1. Box step\n", "tempo-unreadable", "29 bars/min or 87 beats/min"},
	} {
		found := routine.Check("hints.md", []byte(test.sheet), lib)
		require.Len(t, found, 1, test.sheet)
		assert.Equal(t, [2]string{string(test.code), test.hint}, [2]string{string(found[0].Code), found[0].Hint})
	}
}

// TestATempoInTheOtherUnit is recognised if it is near the dance's.
func TestATempoInTheOtherUnit(t *testing.T) {
	for written, meant := range map[string]string{"26 bpm": "perhaps you mean 26 bars/min; ", "90 bars/min": "perhaps you mean 30 bars/min; ", "20 bars/min": ""} {
		found := routine.Check("tempo.md", []byte("---\ndance: waltz\ntempo: "+written+"\n---\n## Order\n\n1. Box step\n"), shipped())
		require.Len(t, found, 1, written)
		assert.Equal(t, routine.Code("tempo-range"), found[0].Code)
		before, _, ok := strings.Cut(found[0].Hint, "usual: ")
		assert.True(t, ok)
		assert.Equal(t, meant, before)
	}
}

// TestAnAndInAName: a figure whose name holds an "and" is one figure, also where both halves are figures.
func TestAnAndInAName(t *testing.T) {
	for _, text := range []string{"1. Link and whip", "1. Link and whip\n2. Link; Link and whip"} {
		src := []byte("---\ndance: jive\n---\n\n## Order\n\n" + text + "\n")
		score, _ := routine.Read("order.md", src, shipped())
		require.NotEmpty(t, score.Items, text)
		assert.Equal(t, "Link and whip", score.Items[0].Name, text)
		assert.Equal(t, "Link and whip", score.Items[len(score.Items)-1].Name, text)
	}
}

// TestABeatIsMissing: the finding says whether it is one or several.
func TestABeatIsMissing(t *testing.T) {
	for steps, missing := range map[string]string{"1–4": "1 beat is left empty", "1–3": "1 1/2 beats are left empty"} {
		found := routine.Check("bar.md", []byte(of("cha-cha")+"## Order\n\n1. Closed basic, steps "+steps+"\n2. Time step\n"), shipped())
		require.NotEmpty(t, found)
		assert.Contains(t, found[0].Message, missing)
	}
}

// TestOneIsSingular in every message about a sheet.
func TestOneIsSingular(t *testing.T) {
	lib := shipped()
	one := "---\ndance: waltz\n%s---\n## Order\n\n1. Lantern step%s\n\n## Lantern step\n\n| Count | Leader |\n|--|--|\n%s"
	for _, test := range []struct{ front, item, rows, want string }{
		{"", ", steps 1–9", "| 1-3 | LF side |\n", "Lantern step has only step 1"},
		{"", ", steps 1–9", "| 1-2 | LF side |\n| 3 | RF close |\n", "Lantern step has only steps 1–2"},
		{"", "", "| 1-2 | LF side |\n", "1 beat before its last bar is full"},
		{"", "", "| 1 | LF side |\n", "2 beats before its last bar is full"},
		{"", "", "| 1 | LF side |\n\nHer part:\n\n| Count | Follower |\n|--|--|\n| 1-2 | RF side |\n", "2 beats here, 1 beat in the other chart"},
		{"rhythm: [\"snare: x . . . . . .\"]\n", "", "| 1-3 | LF side |\n", "the 7 slots of the snare don't divide 3 beats evenly"},
		{"phrases: 4 beats\n", "", "| 1-2 | LF side |\n| 3 | RF close |\n| 1-3 | LF side |\n| 1-3 | RF side |\n", "after bar 1 and 1 beat"},
	} {
		found := routine.Check("one.md", fmt.Appendf(nil, one, test.front, test.item, test.rows), lib)
		var messages []string
		for _, f := range found {
			messages = append(messages, f.Message)
		}
		assert.Contains(t, strings.Join(messages, "\n"), test.want)
		assert.NotRegexp(t, `(^|[^\d/–])1 (beats|bars|slots|steps)\b|steps 1–1\b`, strings.Join(messages, "\n"))
	}
	assert.Equal(t, []string{"1/2 beat", "1 beat", "1 1/2 beats", "2 beats", "0 beats"},
		[]string{(routine.Beat / 2).InBeats(), routine.Beat.InBeats(), (routine.Beat * 3 / 2).InBeats(), (2 * routine.Beat).InBeats(), routine.Beats(0).InBeats()})
	assert.Equal(t, []string{"1 bar", "0 bars", "2 bars"}, []string{routine.Plural(1, "bar"), routine.Plural(0, "bar"), routine.Plural(2, "bar")})
}

// TestPartsOfAFigure are named the same everywhere.
func TestPartsOfAFigure(t *testing.T) {
	fig := &routine.Figure{Name: "Quay step", Rows: make([]routine.Row, 4)}
	assert.Equal(t, "Quay step", fig.Part(0, 4))
	assert.Equal(t, "Quay step, step 1", fig.Part(0, 1))
	assert.Equal(t, "Quay step, step 4", fig.Part(3, 4))
	assert.Equal(t, "Quay step, steps 2–3", fig.Part(1, 3))

	src := of("cha-cha") + "\n## Order\n\n1. Closed basic, steps 3 to 3\n"
	tidy, _ := routine.Tidy("one.md", []byte(src), shipped())
	assert.Contains(t, string(tidy), "1. Closed basic, step 3\n")
}

// TestABarLeftOpenIsOneFinding: a bar that is not filled within the routine also leaves its last bar open.
func TestABarLeftOpenIsOneFinding(t *testing.T) {
	src := of("rumba") + "## Order\n\n1. Jetty step\n2. Quay step\n\n" + inPlace("Jetty step", "2 3 4-1", routine.LF) + inPlace("Quay step", "3 4", routine.RF)
	var codes []routine.Code
	for _, f := range routine.Check("bar.md", []byte(src), shipped()) {
		codes = append(codes, f.Code)
	}
	assert.Contains(t, codes, routine.Code("bar-not-full"))
	assert.NotContains(t, codes, routine.Code("last-bar-open"))
}

// TestSeveralFiguresOnOneLine: a line that names figures one after the other is an item for each; one that names a figure
// and says more of it stays one.
func TestSeveralFiguresOnOneLine(t *testing.T) {
	for text, want := range map[string]string{
		"Closed basic, Fan, Hockey stick ×2":                          "Closed basic; Fan; Hockey stick × 2",
		"1. Closed basic, Fan, Hockey stick ×2\n   - ends: fan":       "Closed basic; Fan; Hockey stick × 2",
		"1. Closed basic → Fan → Hockey stick":                        "Closed basic; Fan; Hockey stick",
		"1. Closed basic – Fan":                                       "Closed basic; Fan",
		"Fan; Hockey stick, steps 1-3; then Closed basic (softly)":    "Fan; Hockey stick 1–3; Closed basic",
		"- Fan and Hockey stick\n- Closed basic":                      "Fan; Hockey stick; Closed basic",
		"1. Fan + Hocky stick + Closed basic":                         "Fan; Hocky stick; Closed basic",
		"1. Lantern walk → Fan":                                       "Lantern walk; Fan",
		"1. Fan – softly, and with a smile":                           "Fan",
		"1. Spot turn to the left and Fan":                            "Spot turn to the left; Fan",
		"1. Fan, Hockey stick\n2. Closed basic\n3. Fan, Hockey stick": "Fan; Hockey stick; Closed basic; Fan; Hockey stick",
		"1. Fan, softly":                                              "Fan, softly",
		"1. Closed basic ×2, Fan, Alemana from fan":                   "Closed basic × 2; Fan; Alemana from fan",
	} {
		src := []byte("---\ndance: rumba\n---\n\n## Order\n\n" + text + "\n")
		for range 2 {
			score, _ := routine.Read("order.md", src, shipped())
			var got []string
			for _, item := range score.Items {
				name := item.Name
				if item.Figure != nil && item.To < len(item.Figure.Rows) {
					name += fmt.Sprintf(" %d–%d", item.From+1, item.To)
				}
				if item.Times > 1 {
					name += fmt.Sprintf(" × %d", item.Times)
				}
				got = append(got, name)
			}
			assert.Equal(t, want, strings.Join(got, "; "), text)
			tidied, _ := routine.Tidy("order.md", src, shipped())
			assert.NotEmpty(t, tidied)
			if !routine.HasErrors(routine.Check("order.md", src, shipped())) {
				src = tidied
			}
		}
	}
}

// TestOrdersAsTheyAreWritten: marks, repeats, groups, parts and sides as teachers write them.
func TestOrdersAsTheyAreWritten(t *testing.T) {
	for text, want := range map[string]string{
		"a) Fan\nb) Hockey stick":                                 "Fan; Hockey stick",
		"i. Fan\nii. Hockey stick":                                "Fan; Hockey stick",
		"① Fan\n② Hockey stick":                                   "Fan; Hockey stick",
		"- [ ] Fan\n- [x] Hockey stick":                           "Fan; Hockey stick",
		"1. Fan\n2. Hockey stick\nRepeat from the top":            "Fan; Hockey stick; Fan; Hockey stick",
		"1. Fan\n2. Hockey stick\nClosed basic\n   slowly":        "Fan; Hockey stick; Closed basic slowly",
		"1. Fan\n2. Hockey stick\n3. repeat 1 to 2 (x2)":          "Fan; Hockey stick; Fan; Hockey stick; Fan; Hockey stick",
		"1. (Fan, Hockey stick) × 2":                              "Fan; Hockey stick; Fan; Hockey stick",
		"1. 2 x (Fan, Hockey stick)\n2. [Fan + Hockey stick]":     "Fan; Hockey stick; Fan; Hockey stick; Fan; Hockey stick",
		"1. Fan (softly, please)":                                 "Fan",
		"Long side:\n1. Fan\n\nShort side:\n2. Hockey stick":      "Fan; Hockey stick",
		"1. Fan (deux fois)":                                      "Fan × 2",
		"1. Fan 2mal":                                             "Fan × 2",
		"1. Fan … twice":                                          "Fan × 2",
		"1. Spot turn (left)\n2. Spot turn – to the right":        "Spot turn, to the left; Spot turn – to the right, to the right",
		"1. Spot turn nach links\n2. Spot turn à droite (softly)": "Spot turn nach links, to the left; Spot turn à droite, to the right",
	} {
		score, found := routine.Read("order.md", []byte("---\ndance: rumba\n---\n\n## Order\n\n"+text+"\n"), shipped())
		var got []string
		for _, item := range score.Items {
			name := item.Name
			if item.Figure != nil && strings.HasPrefix(item.Figure.Name, "Spot turn") {
				name += strings.TrimPrefix(", "+strings.TrimPrefix(item.Figure.Name, "Spot turn "), " ")
			}
			if item.Times > 1 {
				name += fmt.Sprintf(" × %d", item.Times)
			}
			got = append(got, name)
		}
		assert.Equal(t, want, strings.Join(got, "; "), "%s %v", text, found)
	}
}
