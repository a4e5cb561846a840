package routine_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// tidySheet is in the form that tidy writes.
const tidySheet = `---
dance: cha-cha
---

# Lantern Night

The doors to the river stay open.

## Order

1. Closed basic
2. Boathouse step × 2
   - tempo: 30 bars/min
3. Closed basic — look up

## Boathouse step

- starts: closed or open facing, leader LF free, follower RF free
- ends: closed or open facing

| Count | Leader     | Follower   |
|:-----:|------------|------------|
|   2   | LF forward | RF back    |
|   3   | RF replace | LF replace |
|   4   | LF side    | RF side    |
|   &   | RF close   | LF close   |
|   1   | LF side    | RF side    |
|   2   | RF back    | LF forward |
|   3   | LF replace | RF replace |
|   4   | RF side    | LF side    |
|   &   | LF close   | RF close   |
|   1   | RF side    | LF side    |

Mind the step.
`

// rowsWith returns the sheet with its chart's cells between two marks, without the line of dashes.
func rowsWith(between string) string {
	var out []string
	for line := range strings.Lines(tidySheet) {
		switch cells := strings.Split(strings.Trim(line, "|\n"), "|"); {
		case strings.HasPrefix(line, "|:"):
		case len(cells) == 3:
			out = append(out, strings.TrimSpace(cells[0])+between+strings.TrimSpace(cells[1])+between+strings.TrimSpace(cells[2])+"\n")
		default:
			out = append(out, line)
		}
	}
	return strings.Join(out, "")
}

// TestFormIsReadAsItIsMeant: each slip in form is read like the tidy sheet, with nothing but notes, and tidy mends it.
func TestFormIsReadAsItIsMeant(t *testing.T) {
	lib := shipped()
	require.Empty(t, routine.Check("tidy.md", []byte(tidySheet), lib))
	change := func(pairs ...string) string {
		text := tidySheet
		for i := 0; i < len(pairs); i += 2 {
			require.Contains(t, text, pairs[i])
			text = strings.Replace(text, pairs[i], pairs[i+1], 1)
		}
		return text
	}
	const order = "1. Closed basic\n2. Boathouse step × 2\n   - tempo: 30 bars/min\n3. Closed basic — look up\n"
	for name, sheet := range map[string]string{
		"no blank line above the chart":         change("facing\n\n| Count", "facing\n| Count"),
		"a blank line in the chart":             change("|   4   | LF side    | RF side    |\n", "|   4   | LF side    | RF side    |\n\n"),
		"blank lines around every row":          strings.ReplaceAll(tidySheet, "|\n|", "|\n\n|"),
		"no line of dashes":                     change("|:-----:|------------|------------|\n", ""),
		"too few dashes":                        change("|:-----:|------------|------------|\n", "|---|---|\n"),
		"a line of equals signs":                change("|:-----:|------------|------------|\n", "|=====|=====|=====|\n"),
		"a box of lines":                        change("| Count |", "+-------+-------+-------+\n| Count |", "|   2   | RF back    | LF forward |", "+-------+-------+-------+\n|   2   | RF back    | LF forward |"),
		"a blank line above the dashes":         change("|:-----:|", "\n|:-----:|"),
		"an indented chart":                     strings.ReplaceAll(tidySheet, "\n|", "\n    |"),
		"tabs":                                  rowsWith("\t"),
		"commas":                                rowsWith(","),
		"commas and spaces":                     rowsWith(", "),
		"cells in quotes":                       regexp.MustCompile(`(?m)^(.*)\t(.*)\t(.*)$`).ReplaceAllString(rowsWith("\t"), `"$1","$2","$3"`),
		"semicolons":                            rowsWith(";"),
		"columns of spaces":                     rowsWith("     "),
		"bars without the outer ones":           rowsWith(" | "),
		"a heading without a space":             change("## Order", "##Order", "## Boathouse step", "##Boathouse step"),
		"bold headings":                         change("## Order", "**Order**", "## Boathouse step", "**Boathouse step**"),
		"bold headings with a colon":            change("## Order", "**Order:**", "## Boathouse step", "__Boathouse step__:"),
		"numbered headings":                     change("## Order", "## 1. Order", "## Boathouse step", "## 2) Boathouse step"),
		"a plain heading of the order":          change("## Order", "Order:"),
		"a plain heading of the figure":         change("## Boathouse step", "Boathouse step"),
		"numbers without a space":               change(order, "1.Closed basic\n2.Boathouse step × 2\n   - tempo: 30 bars/min\n3.Closed basic — look up\n"),
		"numbers and dashes":                    change(order, "1 - Closed basic\n2 - Boathouse step × 2\n   - tempo: 30 bars/min\n3 – Closed basic — look up\n"),
		"numbers in brackets":                   change(order, "(1) Closed basic\n(2) Boathouse step × 2\n   - tempo: 30 bars/min\n(3) Closed basic — look up\n"),
		"numbers and colons":                    change(order, "1: Closed basic\n2: Boathouse step × 2\n   - tempo: 30 bars/min\n3: Closed basic — look up\n"),
		"numbers alone":                         change(order, "1 Closed basic\n2 Boathouse step × 2\n   - tempo: 30 bars/min\n3 Closed basic — look up\n"),
		"bullets":                               change(order, "- Closed basic\n- Boathouse step × 2\n  - tempo: 30 bars/min\n- Closed basic — look up\n"),
		"round bullets":                         change(order, "• Closed basic\n• Boathouse step × 2\n   • tempo: 30 bars/min\n• Closed basic — look up\n"),
		"arrows":                                change(order, "→ Closed basic\n→ Boathouse step × 2\n   - tempo: 30 bars/min\n→ Closed basic — look up\n"),
		"a number amid a list":                  change("3. Closed", "3.Closed"),
		"lines alone":                           change(order, "Closed basic\nBoathouse step × 2\n   - tempo: 30 bars/min\nClosed basic — look up\n"),
		"a setting without a bullet":            change("   - tempo:", "   tempo:"),
		"a setting that is not indented":        change("   - tempo:", "- tempo:"),
		"a setting in bold":                     change("   - tempo:", "   - **tempo**:"),
		"facts without bullets":                 change("- starts:", "starts:", "- ends:", "ends:"),
		"facts without colons":                  change("- starts:", "- starts", "- ends:", "- ends"),
		"facts in bold":                         change("- starts:", "- **Starts:**", "- ends:", "- **Ends**:"),
		"facts by other names":                  change("- starts:", "- begins:", "- ends:", "- finishes:"),
		"a table that is drawn":                 strings.NewReplacer("|:-----:|------------|------------|", "├───────┼────────────┼────────────┤", "|", "│").Replace(tidySheet),
		"a sheet quoted twice":                  "> > " + strings.ReplaceAll(strings.TrimSuffix(tidySheet, "\n"), "\n", "\n> > ") + "\n",
		"settings with tabs":                    change("---\ndance: cha-cha\n---\n", "dance\tcha-cha\n"),
		"settings with equals signs":            change("---\ndance: cha-cha\n---\n", "dance = cha-cha\n"),
		"a quoted sheet":                        "> " + strings.ReplaceAll(strings.TrimSuffix(tidySheet, "\n"), "\n", "\n> ") + "\n",
		"old line ends":                         strings.ReplaceAll(tidySheet, "\n", "\r"),
		"line ends of Windows":                  strings.ReplaceAll(tidySheet, "\n", "\r\n"),
		"spaces that do not break":              change("## Order", "##\u00a0Order", "1. Closed", "1.\u00a0Closed", "   - tempo: 30 bars", "\u00a0\u00a0\u00a0- tempo:\u00a030\u00a0bars", "| LF forward ", "|\u00a0LF\u00a0forward\u00a0"),
		"spaces of no width":                    change("## Order", "\u200b## Order\u200b", "2. Boathouse", "2. \u200bBoathouse", "| LF forward", "| \u200bLF forward", "dance: cha-cha", "dance: \u200bcha-cha"),
		"settings at the top without lines":     change("---\ndance: cha-cha\n---\n", "dance: cha-cha\n"),
		"settings at the top that do not close": change("cha-cha\n---\n", "cha-cha\n"),
		"settings below the title":              change("---\ndance: cha-cha\n---\n\n# Lantern Night\n", "# Lantern Night\n\ndance: cha-cha\n"),
		"settings below the title, in bold":     change("---\ndance: cha-cha\n---\n\n# Lantern Night\n", "# Lantern Night\n\n**dance:** cha-cha\n"),
		"settings below the title, as a list":   change("---\ndance: cha-cha\n---\n\n# Lantern Night\n", "# Lantern Night\n\n- dance: cha-cha\n"),
		"settings in German":                    change("dance: cha-cha", "Tanz: cha-cha"),
	} {
		t.Run(name, func(t *testing.T) {
			for _, f := range routine.Check("sheet.md", []byte(sheet), lib) {
				assert.Equal(t, routine.Note, f.Severity, "%+v", f)
			}
			assert.JSONEq(t, danced(t, []byte(tidySheet)), danced(t, []byte(sheet)))
			tidied, found := routine.Tidy("sheet.md", []byte(sheet), lib)
			require.Empty(t, routine.Objections(found))
			assert.Equal(t, strings.ReplaceAll(tidySheet, "• ", "- "), string(tidied))
		})
	}
}

// TestTheOrdersNameBelowAHeading: a line that is read as a heading may stand right below one.
func TestTheOrdersNameBelowAHeading(t *testing.T) {
	score, found := routine.Read("form.md", []byte("---\ndance: waltz\n---\n\n## Lantern Night\nOrder\n\n1. Natural turn, steps 1–3\n"), shipped())
	require.Empty(t, routine.Objections(found))
	require.Len(t, score.Passages, 1)
}

// TestAChartBelowAHeadingOfItsOwn belongs to the figure above, for both partners or one after the other.
func TestAChartBelowAHeadingOfItsOwn(t *testing.T) {
	lib := shipped()
	chart := tidySheet[strings.Index(tidySheet, "| Count"):strings.Index(tidySheet, "\nMind")]
	one := func(column int, head string) string {
		var b strings.Builder
		for i, line := range strings.Split(strings.TrimSpace(chart), "\n") {
			cells := strings.Split(strings.Trim(line, "|"), "|")
			if i == 0 {
				cells[column] = head
			}
			b.WriteString("|" + cells[0] + "|" + cells[column] + "|\n")
		}
		return b.String()
	}
	lines := func(column int, form string) string {
		var b strings.Builder
		for _, line := range strings.Split(strings.TrimSpace(chart), "\n")[2:] {
			cells := strings.Split(strings.Trim(line, "|"), "|")
			fmt.Fprintf(&b, form+"\n", strings.TrimSpace(cells[0]), strings.TrimSpace(cells[column]))
		}
		return b.String()
	}
	for name, charts := range map[string]string{
		"Steps":           "### Steps\n\n" + chart,
		"Chart, at level": "#### Chart\n\n" + chart,
		"each partner":    "### Leader\n\n" + one(1, "Steps") + "\n### Follower\n\n" + one(2, "Steps"),
		"German lines":    "### Herr\n\n" + lines(1, "%s %s") + "\n### Dame\n\n" + lines(2, "%s %s"),
		"lines":           "Leader:\n" + lines(1, "%s: %s") + "Follower:\n" + lines(2, "%s: %s"),
		"lists":           "**Leader**\n\n" + lines(1, "- %s - %s") + "\n**Follower**\n\n" + lines(2, "- %s - %s"),
		"counts unnamed":  strings.Replace(chart, "Count", "     ", 1),
		"other headings":  "### Hombre\n\n" + one(1, "Paso") + "\n### Mujer\n\n" + one(2, "Acción"),
		"each one's part": "### Man's part\n\n" + one(1, "Man") + "\n### Lady's steps\n\n" + one(2, "Step"),
	} {
		t.Run(name, func(t *testing.T) {
			sheet := strings.Replace(tidySheet, chart, charts, 1)
			found := routine.Check("sheet.md", []byte(sheet), lib)
			require.Empty(t, routine.Objections(found))
			assert.JSONEq(t, danced(t, []byte(tidySheet)), danced(t, []byte(sheet)))
		})
	}
}

// TestWhatCanNotBeReadIsNamed: what looks like a chart or an order, and can't be read as one, is a finding there.
func TestWhatCanNotBeReadIsNamed(t *testing.T) {
	lib := shipped()
	const head = "---\ndance: cha-cha\n---\n\n## Order\n\n1. Closed basic\n\n"
	for name, test := range map[string]struct {
		below string
		want  place
	}{
		"a chart without a name":          {"", place{"chart-broken", 5, 1}},
		"rows without a heading":          {"## Quay step\n\n| 2 | LF forward | RF back |\n| 3 | RF replace | LF replace |\n", place{"chart-broken", 11, 1}},
		"commas between and within":       {"## Quay step\n\nCount,Leader,Follower\n2,LF forward, check,RF back\n", place{"chart-broken", 11, 1}},
		"no column of counts":             {"## Quay step\n\n| Leader | Follower |\n|---|---|\n| LF forward | RF back |\n| RF replace | LF replace |\n", place{"column-missing", 11, 3}},
		"steps in a list":                 {"## Quay step\n\n- LF forward\n- RF replace\n", place{"steps-not-read", 11, 3}},
		"steps in a list, in words":       {"## Quay step\n\n- 2: left foot forward\n- 3: right foot replace\n", place{"steps-not-read", 11, 3}},
		"steps in a list, in German":      {"## Quay step\n\nSo:\n\n- LF vorwärts\n- rechter Fuß seitwärts\n", place{"steps-not-read", 13, 3}},
		"steps in HTML":                   {"## Closed basic\n\n<table>\n<tr><td>2</td><td>LF forward</td></tr>\n<tr><td>3</td><td>RF replace</td></tr>\n</table>\n", place{"steps-not-read", 11, 1}},
		"steps in a sentence":             {"## Closed basic\n\nThe leader goes LF forward, RF replace, LF side.\n", place{"steps-not-read", 11, 1}},
		"steps in a quote":                {"## Closed basic\n\nSo:\n\n> 2 LF forward\n> 3 RF replace\n", place{"steps-not-read", 13, 3}},
		"steps below a chart":             {"## Quay step\n\n| Count | Leader |\n|--|--|\n| 2-1 | LF side |\n\nThen RF back, LF replace, RF side\n", place{"steps-not-read", 15, 1}},
		"a tempo of a figure":             {"## Quay step\n\nTempo: 28 bars/min\n\n| Count | Leader |\n|--|--|\n| 2-1 | LF side |\n", place{"unknown-setting", 11, 1}},
		"a partner in words":              {"## Quay step\n\n| Count | Leader |\n|--|--|\n| 2-1 | LF side |\n\nFollower: natural opposite\n", place{"steps-not-read", 15, 1}},
		"a partner in a bullet":           {"## Quay step\n\n| Count | Leader |\n|--|--|\n| 2-1 | LF side |\n\n- Dame: gegengleich\n", place{"steps-not-read", 15, 3}},
		"a chart in the order":            {"| Count | Leader |\n|--|--|\n| 2-1 | LF side |\n", place{"chart-broken", 9, 1}},
		"steps line by line":              {"## Closed basic\n\n2: LF forward, check\n3: RF replace\n", place{"steps-not-read", 11, 1}},
		"a table in a figure's section":   {"## Quay step\n\n| Count | Leader |\n|--|--|\n| 2-1 | LF side |\n\n| Who | What |\n|--|--|\n| all | tea |\n", place{"not-read", 15, 1}},
		"a fact that is no fact":          {"## Quay step\n\n- weather: fair\n\n| Count | Leader |\n|--|--|\n| 2-1 | LF side |\n", place{"not-read", 11, 3}},
		"an order of lines below a title": {"", place{"order-missing", 7, 1}},
		"an order below another heading":  {"", place{"order-missing", 7, 4}},
	} {
		t.Run(name, func(t *testing.T) {
			sheet := head + test.below
			switch name {
			case "a chart without a name":
				sheet = strings.Replace(head, "## Order", "| Count | Leader |\n|--|--|\n| 2-1 | LF side |\n\n## Order", 1)
			case "an order of lines below a title":
				sheet = "---\ndance: cha-cha\n---\n\n# Tonight\n\nClosed basic\nHand to hand\n"
			case "an order below another heading":
				sheet = strings.Replace(head, "## Order", "## Tonight", 1)
			}
			assert.Contains(t, places(routine.Check("sheet.md", []byte(sheet), lib)), test.want, "%+v", routine.Check("sheet.md", []byte(sheet), lib))
		})
	}
}

// TestPlacesWithOldLineEnds: a finding names the line also where lines end in CR alone.
func TestPlacesWithOldLineEnds(t *testing.T) {
	sheet := strings.Replace(tidySheet, "1. Closed basic", "1. Closed basket", 1)
	lib := shipped()
	want := routine.Objections(routine.Check("sheet.md", []byte(sheet), lib))
	require.NotEmpty(t, want)
	old := routine.Objections(routine.Check("sheet.md", []byte(strings.ReplaceAll(sheet, "\n", "\r")), lib))
	assert.Equal(t, want, old)
	assert.Equal(t, routine.Lines([]byte(sheet)), routine.Lines([]byte(strings.ReplaceAll(sheet, "\n", "\r"))))
	assert.Equal(t, routine.Lines([]byte(sheet)), routine.Lines([]byte(strings.ReplaceAll(sheet, "\n", "\r\n"))))
}

// TestFactsBelowEachOther: facts without bullets are one each, also those that are left for people.
func TestFactsBelowEachOther(t *testing.T) {
	src := "---\ndance: cha-cha\n---\n\n## Order\n\n1. Quay step\n\n## Quay step\n\nLevel: 1\nStarts in closed hold\nMusic: slow songs\nEnds: open facing, holding both hands\n\n" +
		"| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF forward | RF back |\n| 3 | RF replace | LF replace |\n| | | |\n| 4-1 | LF side | RF side |\n"
	score, found := routine.Read("form.md", []byte(src), shipped())
	var codes []routine.Code
	for _, f := range found {
		if f.Code != "loose-form" {
			codes = append(codes, f.Code)
		}
	}
	assert.Equal(t, []routine.Code{"count-unreadable", "not-read"}, codes, "a row that says nothing is one finding")
	require.Len(t, score.Figures, 1)
	assert.Equal(t, "closed", score.Figures[0].Starts.String())
	assert.Equal(t, "open facing, both hands", score.Figures[0].Ends.String())
	assert.Equal(t, 1, score.Figures[0].Level)
}

// TestFiguresThatNobodyKnowsAreItems of the order all the same: what is missing is named, not the order.
func TestFiguresThatNobodyKnowsAreItems(t *testing.T) {
	for _, order := range []string{
		"Enchaînement:\n- Pas de lanterne x2\n- Tour du quai\n",
		"Enchaînement :\n1. Pas de lanterne x2\n2. Tour du quai\n",
		"Chorégraphie\n\n• Pas de lanterne\n• Tour du quai\n",
		"Reihenfolge\n\n1\tLaternenschritt\t2x\n2\tStegdrehung\n",
		"## Order\n\n1 Lantern walk x2\n2 Turn at the quay\n",
	} {
		var codes []string
		for _, f := range routine.Objections(routine.Check("unknown.md", []byte("dance: waltz\n\n"+order), shipped())) {
			codes = append(codes, string(f.Code))
		}
		assert.Equal(t, []string{"unknown-figure", "unknown-figure"}, codes, order)
	}
}

// TestTheDanceIsGuessed from the first words, for the hint.
func TestTheDanceIsGuessed(t *testing.T) {
	for text, dance := range map[string]string{
		"RUMBA - lantern night\n\n- basic x2\n- fan\n": "rumba",
		"# A Viennese waltz for the quay\n":            "viennese waltz",
		"Friday on the quay\n":                         "cha-cha", // as in all hints
	} {
		found := routine.Check("guess.md", []byte(text), shipped())
		require.NotEmpty(t, found)
		assert.Equal(t, `start the sheet with three lines: ---, "dance: `+dance+`" and ---`, found[0].Hint)
	}
}

// TestOneFindingForAFigureWithoutAChart: its steps, in whatever form, are not reported again.
func TestOneFindingForAFigureWithoutAChart(t *testing.T) {
	for _, steps := range []string{
		"Bar 1\n2 LF forward | RF back\n3 RF replace | LF replace\n\nBar 2\n2 LF side | RF side\n3 RF replace | LF replace\n",
		"1) 2: LF forward\n2) 3: RF replace\n\n### Later\n\n1) 2: LF forward\n2) 3: RF replace\n",
		"<table>\n<tr><td>2</td><td>LF forward</td></tr>\n<tr><td>3</td><td>RF replace</td></tr>\n</table>\n",
		"On count 2 the leader steps forward.\n",
	} {
		text := []byte("---\ndance: cha-cha\n---\n\n## Order\n\n1. Quay step\n\n## Quay step\n\n" + steps)
		found := routine.Check("sheet.md", text, shipped())
		wellPlaced(t, text, found)
		assert.Equal(t, []place{{"unknown-figure", 7, 4}}, places(routine.Objections(found)), steps)
		assert.NotEmpty(t, found[0].Related, steps)
	}
}

// TestASheetQuotedInAMail is read, and what stands around it is prose.
func TestASheetQuotedInAMail(t *testing.T) {
	quoted := "> " + strings.ReplaceAll(strings.TrimSuffix(tidySheet[len("---\ndance: cha-cha\n---\n"):], "\n"), "\n", "\n> ") + "\n"
	text := []byte("Thank you!\n\nOn Friday we wrote:\n\n> dance: cha-cha\n" + quoted)
	found := routine.Check("mail.md", text, shipped())
	wellPlaced(t, text, found)
	assert.Empty(t, routine.Objections(found))
	assert.JSONEq(t, danced(t, []byte(tidySheet)), danced(t, text))
}
