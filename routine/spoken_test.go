package routine_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

const chaTop = "---\ndance: cha-cha\n---\n\n"

// spokenOrder returns the order that is read, a line for each item, and the objections.
func spokenOrder(t *testing.T, body string) (string, []routine.Finding) {
	t.Helper()
	text := []byte(chaTop + body)
	score, found := routine.Read("lantern.md", text, shipped())
	wellPlaced(t, text, found)
	order, err := routine.EditOrder("lantern.md", text, shipped())
	if err != nil {
		return err.Error(), routine.Objections(found)
	}
	var items []string
	for i := range order.Len() {
		items = append(items, order.Line(i).String())
	}
	require.Len(t, score.Items, len(items))
	return strings.Join(items, "\n"), routine.Objections(found)
}

// spokenOrders are orders in words and tables, and what they stand for.
var spokenOrders = map[string]string{
	"Bars 1–2: Closed basic\nBars 3–4: Hand to hand\n":                                                     "Closed basic — danced in bars 1–2\nHand to hand — danced in bars 3–4",
	"- Bars 1-2: Closed basic\n- Bar 3: Hand to hand\n":                                                    "Closed basic — danced in bars 1-2\nHand to hand — danced in bar 3",
	"1. Takt 1-2: Closed basic\n2. Takt 3-4: Hand to hand\n":                                               "Closed basic — danced in bars 1-2\nHand to hand — danced in bars 3-4",
	"First: Closed basic\n\n## Part B\n\nThen: Hand to hand\n   - tempo: 30 bars/min\n":                    "Closed basic\nHand to hand",
	"Closed basic\n\n## Second half\n\nHand to hand\n":                                                     "Closed basic\nHand to hand",
	"First: Closed basic\n\n## Order, part 2\n\nThen: Hand to hand\n":                                      "Closed basic\nHand to hand",
	"１．Closed basic\n２．Hand to hand\n":                                                                     "Closed basic\nHand to hand",
	"1\ufe0f\u20e3 Closed basic\n2\ufe0f\u20e3 Hand to hand\n":                                             "Closed basic\nHand to hand",
	"1. |: Closed basic :|\n2. Hand to hand\n":                                                             "Closed basic × 2\nHand to hand",
	"No\tFigure\tTimes\tRemarks\n1\tClosed basic\t2\tsoftly\n2\tHand to hand\t1\n":                         "Closed basic × 2 — softly\nHand to hand",
	"Takte;Figur;mal\n1-2;Closed basic;2\n3-4;Hand to hand;1\n":                                            "Closed basic × 2 — danced in bars 1-2\nHand to hand — danced in bars 3-4",
	"| Figure | Remark |\n|---|---|\n| Closed basic | softly | look up |\n":                                "Closed basic — softly, look up",
	"Tonight:\nOrder: Closed basic, Hand to hand\n":                                                        "Closed basic\nHand to hand",
	"Tonight:\nBars 1–2: Closed basic\n":                                                                   "Closed basic — danced in bars 1–2",
	"Tonight:\n1–2 Closed basic\n":                                                                         "Closed basic — danced in bars 1–2",
	"Tonight:\n- Closed basic\n":                                                                           "Closed basic",
	"1-2 Closed basic\n3 Hand to hand\n":                                                                   "Closed basic — danced in bars 1-2\nHand to hand — danced in bar 3",
	"1–2: Closed basic\n3–4: Hand to hand\n":                                                               "Closed basic — danced in bars 1–2\nHand to hand — danced in bars 3–4",
	"- 1+2 - Closed basic\n- 3+4 - Hand to hand (softly)\n":                                                "Closed basic — danced in bars 1+2\nHand to hand — danced in bars 3+4, softly",
	"Order: Closed basic, Hand to hand\n":                                                                  "Closed basic\nHand to hand",
	"Routine: Closed basic\n":                                                                              "Closed basic",
	"First: Closed basic\nFinally: Hand to hand\n":                                                         "Closed basic\nHand to hand",
	"- First, the Closed basic\n- and then Hand to hand\n":                                                 "Closed basic\nHand to hand",
	"First Closed basic.\nAfter that Hand to hand.\n":                                                      "Closed basic\nHand to hand",
	"First the closed basic, then Hand to hand.\n":                                                         "closed basic\nHand to hand",
	"1st half: Closed basic\n2nd half: Hand to hand\n":                                                     "Closed basic — danced in 1st half\nHand to hand — danced in 2nd half",
	"1. Hälfte\n\n- Closed basic\n\n2. Hälfte\n\n- Hand to hand\n":                                         "Closed basic\nHand to hand",
	"First half\n- Closed basic\n\nSecond half:\n- Hand to hand\n":                                         "Closed basic\nHand to hand",
	"| Bars | Figure |\n|---|---|\n| 1-2 | Closed basic |\n| 3-4 | Hand to hand |\n":                       "Closed basic — danced in bars 1-2\nHand to hand — danced in bars 3-4",
	"| Figure | Times | Remarks |\n|---|---|---|\n| Closed basic | 2 | softly |\n| Hand to hand | 1 | |\n": "Closed basic × 2 — softly\nHand to hand",
	"| # | Figure |\n| 1 | Closed basic |\n| 2 | Hand to hand |\n":                                         "Closed basic\nHand to hand",
	"Figure | No.\n---|---\nClosed basic | 1\nHand to hand | 2\n":                                          "Closed basic\nHand to hand",
	"Step 1: Closed basic\nStep 2: Hand to hand\n":                                                         "Closed basic\nHand to hand",
	"Figure 1 - Closed basic\nFigure 2 - Hand to hand\n":                                                   "Closed basic\nHand to hand",
	"- Nr. 1: Closed basic\n- Nr. 2: Hand to hand\n":                                                       "Closed basic\nHand to hand",
	"- 1: Closed basic\n- 2: Hand to hand\n":                                                               "Closed basic\nHand to hand",
	"1st: Closed basic\n2nd: Hand to hand\n":                                                               "Closed basic\nHand to hand",
	"0:15 Closed basic\n1:02 - Hand to hand\n":                                                             "Closed basic — danced at 0:15\nHand to hand — danced at 1:02",
	"[0:15–0:23] Closed basic\n(0:23) Hand to hand — softly\n":                                             "Closed basic — danced at 0:15–0:23\nHand to hand — softly — danced at 0:23",
	"Verse 1: Closed basic, Hand to hand\nTag: Spot turn\n":                                                "Closed basic\nHand to hand — danced in verse 1\nSpot turn — danced in tag",
	"**Intro:** Closed basic\n**Verse**: Hand to hand\n":                                                   "Closed basic — danced in intro\nHand to hand — danced in verse",
	"Intro\n\n- Closed basic\n\nChorus:\n- Hand to hand\n":                                                 "Closed basic\nHand to hand",
	"Long side:\nClosed basic\n\nShort side:\nHand to hand\n":                                              "Closed basic\nHand to hand",
	"Closed basic, time step and there and back\n":                                                         "Closed basic\ntime step\nthere and back",
	"2 walks, Closed basic, Hand to hand.\n":                                                               "2 walks\nClosed basic\nHand to hand",
	"1. Closed basic, 2. Hand to hand\n":                                                                   "Closed basic\nHand to hand",
	"Zuerst der Closed basic, dann Hand to hand und zum Schluss Fan.\n":                                    "Closed basic\nHand to hand\nFan",
	"D'abord Closed basic, puis Hand to hand et enfin Fan.\n":                                              "Closed basic\nHand to hand\nFan",
	"Primero Closed basic, luego Hand to hand y después Fan.\n":                                            "Closed basic\nHand to hand\nFan",
	"Prima Closed basic, poi Hand to hand e infine Fan.\n":                                                 "Closed basic\nHand to hand\nFan",
	"Closed basic\n\n(the lanterns are lit)\n\nHand to hand\n":                                             "Closed basic\nHand to hand",
	"1. Closed basic\n   Remember: heads up!\n2. Hand to hand\n":                                           "Closed basic — Remember: heads up!\nHand to hand",
	"1. closed basic\n2. 3 cha-chas fwd\n3. Spot turn L\n":                                                 "closed basic\n3 cha-chas fwd\nSpot turn L",
	"First half:\nFirst: Closed basic\nThen: Hand to hand\n":                                               "Closed basic\nHand to hand",
}

// TestAnOrderThatIsNoneSaysWhere: a line that can't be read as an item is named itself.
func TestAnOrderThatIsNoneSaysWhere(t *testing.T) {
	for body, want := range map[string]place{
		"Order: Boathouse whirl\n":                                  {"unknown-figure", 7, 8},
		"Closed basic\nHand to hand\nBoathouse whirl\n":             {"unknown-figure", 9, 1},
		"1. Closed basic\n   1. Hand to hand\n":                     {"order-not-read", 8, 7},
		"1. Closed basic\n2. ???\n":                                 {"unknown-figure", 8, 4},
		"1. New York L + R\n":                                       {"side-missing", 7, 4},
		"<ol>\n<li>Closed basic</li>\n</ol>\n":                      {"order-empty", 8, 1},
		"Part A\n1. Closed basic\n\nThen A again, then A twice.\n":  {"order-not-read", 10, 1},
		"A:\n1. Closed basic\n\n### B\n\n1. Time step\n\nB B\n":     {"order-not-read", 14, 1},
		"1-2 Closed basic\n5-6 Hand to hand\n":                      {"order-empty", 7, 1}, // bars or steps: it can't be both
		"1-2 Closed basic\n3-4 Boathouse whirl\n":                   {"unknown-figure", 8, 5},
		"- Bar 1: Closed basic\n- Bar 2: Boathouse whirl\n":         {"unknown-figure", 8, 10},
		"| Bars | Figure |\n|---|---|\n| 1-2 | Boathouse whirl |\n": {"unknown-figure", 9, 9},
	} {
		_, found := spokenOrder(t, "## Order\n\n"+body)
		assert.Contains(t, places(found), want, body)
	}
}

// TestAnOrderInWords: bars, "then" and tables are read as the list that they stand for.
func TestAnOrderInWords(t *testing.T) {
	for body, want := range spokenOrders {
		items, found := spokenOrder(t, "## Order\n\n"+body)
		for _, f := range found {
			assert.True(t, strings.HasPrefix(string(f.Code), "join-") || strings.Contains(body, "2 walks"), "%s: %+v", body, f)
		}
		assert.Equal(t, want, items, body)
		tidy, _ := routine.Tidy("lantern.md", []byte(chaTop+"## Order\n\n"+body), shipped())
		again, _ := routine.Tidy("lantern.md", tidy, shipped())
		assert.Equal(t, string(tidy), string(again), body)
	}
}

// TestAnOrderThatIsAnnounced by a line in place of a heading.
func TestAnOrderThatIsAnnounced(t *testing.T) {
	for body, want := range map[string]string{
		"Order:\nClosed basic\nHand to hand\n":                           "Closed basic\nHand to hand",
		"Order: first the Closed basic, then Hand to hand\n":             "Closed basic\nHand to hand",
		"order\nclosed basic\nhand to hand\n":                            "closed basic\nhand to hand",
		"| Bars | Figure |\n|---|---|\n| 1-2 | Closed basic |\n":         "Closed basic — danced in bars 1-2",
		"Nr;Figur;mal\n1;Closed basic;2\n2;Hand to hand;1\n":             "Closed basic × 2\nHand to hand",
		"Order: closed basic, time step and there and back\n\nRosa\n":    "closed basic\ntime step\nthere and back",
		"# Lantern Night\n\n## Tonight\n\nOrder: Closed basic\n":         "Closed basic",
		"## Ordre des figures\n\n• Closed basic\n":                       "Closed basic",
		"Order: Closed basic, Hand to hand.\n":                           "Closed basic\nHand to hand",
		"**Order:** Closed basic, Hand to hand\n":                        "Closed basic\nHand to hand",
		"# Lantern Night\n\nThe order:\n\nClosed basic\n":                "Closed basic",
		"# Lantern Night\nAblauf: Closed basic\n\n## Notes\n\nSlowly.\n": "Closed basic",
	} {
		items, found := spokenOrder(t, body)
		assert.Empty(t, found, body)
		assert.Equal(t, want, items, body)
	}
}

// TestWordsThatAreNoOrder: what is told below an order stays prose, and no figure of that name is looked for.
func TestWordsThatAreNoOrder(t *testing.T) {
	for _, prose := range []string{"Then we all go down to the river.", "First: lamps. Then: tea.", "Bars 1–2: count aloud.", "Last year we began with a Closed basic.",
		"Order: we will see.", "Now, the first half of the evening is slow."} {
		items, found := spokenOrder(t, "## Order\n\n1. Closed basic\n\n"+prose+"\n\n## Evening\n\n"+prose+"\n")
		assert.Empty(t, found, prose)
		assert.Equal(t, "Closed basic", items, prose)
	}
	_, found := spokenOrder(t, "## Order\n\nFirst: Closed basic\nThen: Boathouse whirl\n")
	require.Len(t, found, 1)
	assert.Equal(t, routine.Code("unknown-figure"), found[0].Code)
}

// TestALineDrawnBelowAnItem is no part of it, whether a line end follows or not.
func TestALineDrawnBelowAnItem(t *testing.T) {
	for _, drawn := range []string{"--", "   --", "---", "   ---", "==", "————", "...", "_____"} {
		for below, want := range map[string]string{
			"": "", "\n": "", "\nSoftly.\n": "", "\n2. Hand to hand\n": "\nHand to hand", "\n2. Boathouse whirl\n": "\nBoathouse whirl",
		} {
			text := "## Order\n\n1. Closed basic\n" + drawn + below
			items, found := spokenOrder(t, text)
			assert.Equal(t, "Closed basic"+want, items, "%q", text)
			assert.Equal(t, strings.Contains(want, "whirl"), len(found) > 0, "%q: %v", text, found)
		}
		for _, end := range []string{"", "\n"} {
			_, found := spokenOrder(t, "## Order\n\n1. Closed basic\n   - softly\n"+drawn+end)
			assert.Contains(t, places(found), place{"unknown-setting", 8, 6}, drawn)
		}
	}
}

// TestWhatIsStruckOut isn't danced, and a note says so.
func TestWhatIsStruckOut(t *testing.T) {
	for line, want := range map[string]string{
		"2. ~~Hand to hand~~":                          "Closed basic\nSpot turn",
		"2. , ~~Hand to hand~~.":                       "Closed basic\nSpot turn",
		"2. ~Hand to hand~":                            "Closed basic\nSpot turn",
		"2. ~~Hand to hand × 2 — softly~~":             "Closed basic\nSpot turn",
		"2. ~~Hand to hand~~ × 2":                      "Closed basic\nSpot turn",
		"2. ~~Hand to hand~~ — not tonight":            "Closed basic\nSpot turn",
		"2. ~~Hand to hand, New York~~":                "Closed basic\nSpot turn",
		"2. ~~Boathouse whirl~~":                       "Closed basic\nSpot turn",
		"2. ~~Hand to hand~~\n   - tempo: 30 bars/min": "Closed basic\nSpot turn",
		"~~2. Hand to hand~~":                          "Closed basic\nSpot turn",
		"2. ~~Hand to hand~~ New York":                 "Closed basic\nNew York\nSpot turn",
		"2. ~~Hand to hand~~ → Time step × 2 — softly": "Closed basic\nTime step × 2 — softly\nSpot turn",
		"2. Hand to hand ~~× 2~~":                      "Closed basic\nHand to hand\nSpot turn",
		"2. Hand to hand — ~~softly~~":                 "Closed basic\nHand to hand\nSpot turn",
		"2. New York, ~~Hand to hand~~":                "Closed basic\nNew York\nSpot turn",
	} {
		text := []byte(chaTop + "## Order\n\n1. Closed basic\n" + line + "\n3. Spot turn\n")
		score, found := routine.Read("lantern.md", text, shipped())
		wellPlaced(t, text, found)
		var items []string
		for _, item := range score.Items {
			items = append(items, routine.Line{Name: item.Name, Times: item.Times, Remark: item.Remark}.String())
		}
		assert.Equal(t, want, strings.Join(items, "\n"), line)
		assert.Condition(t, func() bool {
			return slices.ContainsFunc(found, func(f routine.Finding) bool {
				return f.Code == "struck-out" && f.Severity == routine.Note && f.Span.Start.Line == 8
			})
		}, "%s: %v", line, found)
		order, err := routine.EditOrder("lantern.md", text, shipped())
		require.NoError(t, err, line)
		assert.Contains(t, string(order.Remove(0)), "~", line)
		tidy, _ := routine.Tidy("lantern.md", text, shipped())
		assert.Equal(t, danced(t, text), danced(t, tidy), line)
		assert.Equal(t, strings.Count(string(text), "~"), strings.Count(string(tidy), "~"), "%s", tidy)
	}
}

// TestPartnersAsRows: a chart whose counts stand side by side is the one with a row for each count.
func TestPartnersAsRows(t *testing.T) {
	const order = "## Order\n\n1. Lantern step\n\n## Lantern step\n\n"
	for _, chart := range []string{
		"| | 2 | 3 | 4 | & | 1 |\n|---|---|---|---|---|---|\n| Leader | LF forward | RF replace | LF side | RF close | LF side |\n| Follower | RF back | LF replace | RF side | LF close | RF side |\n",
		"Then so:\n| Count | 2 | 3 | 4 | & | 1 |\n| Lady | RF back | LF replace | RF side | LF close | RF side |\n| Man | LF forward | RF replace | LF side | RF close | LF side |\n",
	} {
		sheet, found := routine.Parse("lantern.md", []byte(chaTop+order+chart), shipped())
		require.Empty(t, routine.Objections(found), chart)
		require.Len(t, sheet.Figures, 1)
		var cells []string
		for _, r := range sheet.Figures[0].Rows {
			cells = append(cells, r.Count.String()+" "+r.Steps[routine.Leader].String()+", "+r.Steps[routine.Follower].String())
		}
		assert.Equal(t, []string{"2 LF forward, RF back", "3 RF replace, LF replace", "4 LF side, RF side", "& RF close, LF close", "1 LF side, RF side"}, cells)
	}
	wrong := chaTop + order + "Then so:\n| | 2 | 3 |\n|---|---|---|\n| Leader | LF forwrd | RF replace |\n  | Follower | RF back | LF replce |\n"
	_, found := routine.Parse("lantern.md", []byte(wrong), shipped())
	wellPlaced(t, []byte(wrong), found)
	assert.Equal(t, []place{{"unknown-word", 14, 15}, {"unknown-word", 15, 29}}, places(routine.Objections(found)), "each at its cell")
}
