package routine_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/routine"
	_ "dance.example/slowquick/testdata/thorough"
)

// sheetByHand returns a sheet as people write it, with a word of its own on each line that may be lost.
func sheetByHand(t *rapid.T) string {
	words := 0
	word := func() string {
		words++
		return fmt.Sprintf("lantern%dx", words)
	}
	pick := func(label string, of ...string) string { return rapid.SampledFrom(of).Draw(t, label) }
	var b strings.Builder
	b.WriteString(pick("top", "---\ndance: cha-cha\n---\n\n", "dance: cha-cha\n\n", "---\nTanz: cha-cha\n---\n\n", "Danse : cha-cha\n\n", "---\ndance: cha-cha\nauthor: "+word()+"\n\n"))
	if rapid.Bool().Draw(t, "prose") {
		b.WriteString("The river, " + word() + ".\n\n")
	}
	b.WriteString(pick("order", "## Order", "##Order", "**Order**", "## 1. Order", "## Routine", "Order:", "## Ablauf", "## Orden") + "\n")
	b.WriteString(pick("gap", "\n", ""))
	mark := pick("mark", "%d. ", "%d) ", "%d.", "%d - ", "- ", "* ", "• ", "words", "Bars %d-%d: ", "- Takt %d-%d: ", "%d-%d ", "| table |", "Step %d: ", "- Nr. %d: ", "%d:05 ", "Verse %d: ")
	lead := func(i int) string {
		switch {
		case mark == "words" && i == 1:
			return pick("first", "First: ", "Zuerst ")
		case mark == "words":
			return pick("then", "Then ", "and then the ", "After that: ", "Dann ", "puis ")
		case mark == "| table |" && i == 1:
			return "| Bars | Figure |" + pick("rule of the order", "\n", "\n|---|---|\n") + "| 1-2 | "
		case mark == "| table |":
			return fmt.Sprintf("| %d-%d | ", 2*i-1, 2*i)
		case strings.Count(mark, "%") == 2:
			return fmt.Sprintf(mark, 2*i-1, 2*i)
		case strings.Contains(mark, "%"):
			return fmt.Sprintf(mark, i)
		}
		return mark
	}
	item := func(i int, name string) {
		text := pick("times", "", " × 2", " x2", " 2x", " (twice)", ", 3 times", " - 2x") + pick("remark", "", " — "+word(), " - "+word()+", "+word(), " ("+word()+")")
		b.WriteString(lead(i) + name + text + strings.Repeat(" |", strings.Count(mark, "|")/2) + "\n")
		if len(mark) < 6 && rapid.Bool().Draw(t, "setting") {
			b.WriteString(pick("indent", "  ", "   ", "    ", "\t") + "- " + pick("set", "tempo: 30 bars/min", "count: words") + "\n")
		}
	}
	item(1, "Quay step")
	for i := range rapid.IntRange(0, 11).Draw(t, "items") {
		item(i+2, pick("figure", "Closed basic", "Quay step", "closed basics"))
	}
	if rapid.Bool().Draw(t, "part") {
		b.WriteString("\n" + pick("heading", "### Part B", "## Part B", "###Part B", "## Order part 2") + "\n\n")
		item(1, "Quay step")
	}
	b.WriteString("\n" + pick("name", "## Quay step", "##Quay step", "**Quay step**", "## 2. Quay step") + "\n\n")
	if rapid.Bool().Draw(t, "facts") {
		b.WriteString(pick("starts", "- starts: closed (", "- **Starts**: closed (", "- starts closed (", "starts: closed (", "- begins: closed (") + word() + ")\n")
		b.WriteString("- note: " + word() + "\n")
		b.WriteString(pick("below", "\n", ""))
	}
	rows := [][3]string{{"Count", "Leader", "Follower"}, {"2", "LF forward", "RF back"}, {"3", "RF replace", "LF replace"}, {"4", "LF side", "RF side"}, {"&", "RF close", "LF close"}, {"1", "LF side", "RF side"},
		{"2", "RF back", "LF forward"}, {"3", "LF replace", "RF replace"}, {"4-1", "RF side", "LF side"}}
	for i := range rows[1:] {
		if rapid.IntRange(0, 3).Draw(t, "note") == 0 {
			rows[i+1][2] += " (" + word() + ")"
		}
	}
	switch rapid.IntRange(0, 5).Draw(t, "partners") {
	case 0:
		partnersAsRows(&b, rows)
	case 1:
		partnersAsLines(&b, rows, pick("partner", "### %s\n\n", "%s:\n", "**%s**\n\n"), pick("line", "%s %s\n", "%s: %s\n", "- %s: %s\n", "%s - %s\n"))
	default:
		rowsByHand(t, &b, rows)
	}
	b.WriteString("\n" + pick("last", "", "## What to bring\n\n- shoes: "+word()+"\n\n| Who | What |\n|---|---|\n| all | "+word()+" |\n", "> "+word()+"\n"))
	text := b.String()
	return map[string]func() string{"lf": func() string { return text }, "crlf": func() string { return strings.ReplaceAll(text, "\n", "\r\n") },
		"cr": func() string { return strings.ReplaceAll(text, "\n", "\r") }}[pick("ends", "lf", "lf", "crlf", "cr")]()
}

// partnersAsRows writes a chart with the counts side by side.
func partnersAsRows(b *strings.Builder, rows [][3]string) {
	for column := range 3 {
		for _, r := range rows {
			b.WriteString("| " + r[column] + " ")
		}
		b.WriteString("|\n")
		if column == 0 {
			b.WriteString(strings.Repeat("|---", len(rows)) + "|\n")
		}
	}
}

// partnersAsLines writes each partner's steps line by line.
func partnersAsLines(b *strings.Builder, rows [][3]string, name, line string) {
	for column, partner := range []string{"Herr", "Follower"} {
		fmt.Fprintf(b, name, partner)
		for _, r := range rows[1:] {
			fmt.Fprintf(b, line, r[0], r[column+1])
		}
		b.WriteString("\n")
	}
}

// rowsByHand writes a chart with a row for each count.
func rowsByHand(t *rapid.T, b *strings.Builder, rows [][3]string) {
	pick := func(label string, of ...string) string { return rapid.SampledFrom(of).Draw(t, label) }
	between := pick("between", " | ", "\t", ";", "|")
	outer := between == " | " && rapid.Bool().Draw(t, "outer")
	for i, r := range rows {
		line := strings.Join(r[:], between)
		if outer {
			line = "| " + line + " |"
		}
		b.WriteString(line + "\n")
		if i == 0 && strings.Contains(between, "|") {
			b.WriteString(pick("rule", "", "|---|---|---|\n", "|--|--|\n", "|===|===|===|\n"))
		}
		if i > 1 && i < len(rows)-1 && rapid.IntRange(0, 5).Draw(t, "blank") == 0 {
			b.WriteString("\n")
		}
	}
}

// ownWord matches a word that sheetByHand made.
var ownWord = regexp.MustCompile(`lantern\d+x`)

// TestMessySheets: a sheet as people write it is read; tidy changes nothing of what is danced, loses no word, and has
// nothing to mend in what it wrote. Each line is read once: as prose, in the order, as a fact or in a chart.
func TestMessySheets(t *testing.T) {
	lib := shipped()
	rapid.Check(t, func(t *rapid.T) {
		sheet := sheetByHand(t)
		words := ownWord.FindAllString(sheet, -1)
		score, found := routine.Read("messy.md", []byte(sheet), lib)
		require.Falsef(t, routine.HasErrors(found), "%+v\n%s", found, sheet)
		for _, f := range found {
			require.NotContains(t, []routine.Code{"order-not-read", "not-read", "steps-not-read", "figure-near", "figure-not-danced"}, f.Code, "%+v\n%s", f, sheet)
		}
		require.Equal(t, 1, strings.Count(readOf(score), "Quay step:"), sheet)

		tidied, found := routine.Tidy("messy.md", []byte(sheet), lib)
		require.False(t, routine.HasErrors(found))
		require.JSONEq(t, danced(t, []byte(sheet)), danced(t, tidied), "%s\nis written\n%s", sheet, tidied)
		require.ElementsMatch(t, words, ownWord.FindAllString(string(tidied), -1), "%s\nis written\n%s", sheet, tidied)
		again, found := routine.Tidy("messy.md", tidied, lib)
		require.Equal(t, string(tidied), string(again))
		for _, f := range found {
			require.NotEqual(t, routine.Code("loose-form"), f.Code, "%+v\n%s", f, tidied)
		}

		readBy := readOf(score) + proseOf(score) + score.FrontMatter()
		for _, w := range words {
			require.Equal(t, 1, strings.Count(readBy, w), "%s is read %d times of\n%s\nin\n%s", w, strings.Count(readBy, w), readBy, sheet)
		}
	})
}

// readOf returns what of a sheet is danced: remarks, facts and notes.
func readOf(score *routine.Score) string {
	var b strings.Builder
	for _, item := range score.Items {
		fmt.Fprintln(&b, item.Remark)
	}
	for _, fig := range score.Figures {
		fmt.Fprintln(&b, fig.Name+":", fig.Starts.Note, fig.Ends.Note)
		for _, row := range fig.Rows {
			fmt.Fprintln(&b, row.Steps[0].Note, row.Steps[1].Note)
		}
	}
	return b.String()
}

// proseOf returns the lines of a sheet's Markdown that are neither items, nor settings, nor facts, nor rows of a chart.
func proseOf(score *routine.Score) string {
	var b strings.Builder
	inOrder, figure := false, (*routine.Figure)(nil)
	at := 0
	for line := range strings.Lines(string(score.Markdown())) {
		if strings.HasPrefix(line, "#") {
			inOrder, figure = score.InOrder(at), score.FigureAt(at)
		}
		at += len(line)
		list := regexp.MustCompile(`^\s*(?:[-*+]|\d+[.)])\s`).MatchString(line)
		if fact := strings.HasPrefix(line, "- note:"); !fact && (inOrder && list || figure != nil && (list || strings.Contains(line, "|"))) {
			continue
		}
		b.WriteString(line)
	}
	return b.String()
}
