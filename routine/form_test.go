package routine_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
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
	lib := library.Open()
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
		"old line ends":                         strings.ReplaceAll(tidySheet, "\n", "\r"),
		"line ends of Windows":                  strings.ReplaceAll(tidySheet, "\n", "\r\n"),
		"spaces that do not break":              change("## Order", "##\u00a0Order", "1. Closed", "1.\u00a0Closed", "   - tempo: 30 bars", "\u00a0\u00a0\u00a0- tempo:\u00a030\u00a0bars", "| LF forward ", "|\u00a0LF\u00a0forward\u00a0"),
		"spaces of no width":                    change("## Order", "\u200b## Order\u200b", "2. Boathouse", "2. \u200bBoathouse", "| LF forward", "| \u200bLF forward", "dance: cha-cha", "dance: \u200bcha-cha"),
		"settings at the top without lines":     change("---\ndance: cha-cha\n---\n", "dance: cha-cha\n"),
		"settings at the top that do not close": change("cha-cha\n---\n", "cha-cha\n"),
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
