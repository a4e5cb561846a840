package routine_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/routine"
)

const quayside = `---
dance: waltz
title: "Quayside"   # what the class calls it
---

Lanterns first, then the waltz.

## Order

<!-- as danced on the quay -->
1. Box step × 2
2.  LF closed change — long and low
    - tempo: 28 bars/min
    - corner: after
3. Natural turn

Then from the side door.

## Box step of ours

Not a chart.
`

func edit(t *testing.T, text string) *routine.OrderText {
	o, err := routine.EditOrder("quayside.md", []byte(text), shipped())
	require.NoError(t, err)
	return o
}

func TestEditsOfAnOrder(t *testing.T) {
	o := edit(t, quayside)
	require.Equal(t, 3, o.Len())
	assert.Equal(t, routine.Line{Name: "Box step", Times: 2}, o.Line(0))
	assert.Equal(t, routine.Line{Name: "LF closed change", Times: 1, Remark: "long and low"}, o.Line(1))
	for _, line := range []int{0, 1, 2} {
		at := strings.Index(quayside, []string{"Box step ×", "- corner", "3. Nat"}[line])
		assert.Equal(t, line, o.At(at))
	}
	assert.Equal(t, -1, o.At(strings.Index(quayside, "Then from")))
	whisk := routine.Line{Name: "Whisk", Part: "steps 1–2", Times: 3, Remark: "softly"}
	for what, c := range map[string]struct {
		got  []byte
		want []string // old and new, in turns
	}{
		"insert first":     {o.Insert(0, whisk), []string{"1. Box step × 2\n2.  LF", "1. Whisk, steps 1–2 × 3 — softly\n2. Box step × 2\n3.  LF", "3. Nat", "4. Nat"}},
		"insert between":   {o.Insert(1, whisk), []string{"2.  LF", "2. Whisk, steps 1–2 × 3 — softly\n3.  LF", "3. Nat", "4. Nat"}},
		"insert last":      {o.Insert(3, whisk), []string{"Natural turn\n", "Natural turn\n4. Whisk, steps 1–2 × 3 — softly\n"}},
		"remove first":     {o.Remove(0), []string{"1. Box step × 2\n2.  LF", "1.  LF", "3. Nat", "2. Nat"}},
		"remove between":   {o.Remove(1), []string{"2.  LF closed change — long and low\n    - tempo: 28 bars/min\n    - corner: after\n3. Nat", "2. Nat"}},
		"remove last":      {o.Remove(2), []string{"3. Natural turn\n", ""}},
		"move down":        {o.Move(0, 2), []string{"1. Box step × 2\n2.  LF closed change", "1. LF closed change", "    - t", "   - t", "    - c", "   - c", "3. Nat", "2.  Nat", "ural turn\n", "ural turn\n3. Box step × 2\n"}},
		"write":            {o.Write(1, routine.Line{Name: "RF closed change"}), []string{"LF closed change — long and low", "RF closed change"}},
		"set what is set":  {o.Set(1, "tempo", "24 bars/min"), []string{"28 bars", "24 bars"}},
		"set":              {o.Set(2, "count", "words"), []string{"Natural turn\n", "Natural turn\n   - count: words\n"}},
		"take away":        {o.Set(1, "tempo", ""), []string{"    - tempo: 28 bars/min\n", ""}},
		"take away last":   {o.Set(1, "corner", ""), []string{"    - corner: after\n", ""}},
		"take what is not": {o.Set(0, "corner", ""), nil},
	} {
		want := quayside
		for i := 0; i < len(c.want); i += 2 {
			require.Contains(t, want, c.want[i], what)
			want = strings.Replace(want, c.want[i], c.want[i+1], 1)
		}
		assert.Equal(t, want, string(c.got), what)
	}
}

func TestAnOrderIsBegun(t *testing.T) {
	box := routine.Line{Name: "Box step"}
	for text, want := range map[string]string{
		"---\ndance: waltz\n---\n":                              "---\ndance: waltz\n---\n\n## Order\n\n1. Box step\n",
		"---\ndance: waltz\n---\n\n## Order\n":                  "---\ndance: waltz\n---\n\n## Order\n\n1. Box step\n",
		"---\ndance: waltz\n---\n\n## Order\n\n## Notes\n\nx\n": "---\ndance: waltz\n---\n\n## Order\n\n1. Box step\n\n## Notes\n\nx\n",
		"---\r\ndance: waltz\r\n---\r\n\r\nFor\r\nlanterns\r\n": "---\r\ndance: waltz\r\n---\r\n\r\nFor\r\nlanterns\r\n\r\n## Order\r\n\r\n1. Box step\r\n",
	} {
		o := edit(t, text)
		assert.Zero(t, o.Len())
		assert.Equal(t, want, string(o.Insert(0, box)))
	}
}

// TestEditsAmongMixedLineEnds: an edit does the same whatever each line of the sheet ends in.
func TestEditsAmongMixedLineEnds(t *testing.T) {
	whisk := routine.Line{Name: "Whisk", Times: 3}
	edits := func(text string) (list []string) {
		o := edit(t, text)
		for _, next := range [][]byte{
			o.Insert(0, whisk), o.Insert(1, whisk), o.Insert(3, whisk), o.Remove(0), o.Remove(1), o.Remove(2), o.Move(0, 2), o.Move(2, 1), o.Write(1, whisk),
			o.Set(1, "tempo", "24 bars/min"), o.Set(2, "count", "words"), o.Set(1, "tempo", ""), o.Set(1, "corner", ""),
		} {
			list = append(list, strings.ReplaceAll(string(next), "\r\n", "\n"))
		}
		return list
	}
	want := edits(quayside)
	lines := strings.SplitAfter(quayside, "\n")
	rapid.Check(t, func(t *rapid.T) {
		var mixed strings.Builder
		for _, line := range lines {
			if rapid.Bool().Draw(t, "as on Windows") {
				line = strings.ReplaceAll(line, "\n", "\r\n")
			}
			mixed.WriteString(line)
		}
		require.Equal(t, want, edits(mixed.String()))
	})
}

// TestAFirstOrder has one blank line above and below it, whatever ends the lines around it.
func TestAFirstOrder(t *testing.T) {
	for _, sheet := range []string{"---\ndance: waltz\n---\n\n# Quayside\n\n## Notes\n\nLow.\n", "---\ndance: waltz\n---\n\n## Order\n\n\n## Notes\n", "---\ndance: waltz\n---\n\n## Order\n## Notes\n",
		"---\ndance: waltz\n---\n\n## Order\n \t\n", "---\ndance: waltz\n---\n\nLanterns.\n\n## Own step\n\n| Count | Leader |\n|---|---|\n| 1 | LF side |\n"} {
		first := func(text string) string {
			return strings.ReplaceAll(string(edit(t, text).Insert(0, routine.Line{Name: "Whisk"})), "\r\n", "\n")
		}
		want, lines := first(sheet), strings.SplitAfter(sheet, "\n")
		require.Contains(t, want, "## Order\n\n1. Whisk\n")
		for at := range 2 * len(lines) { // one line of Windows, or all but one
			mixed := ""
			for i, line := range lines {
				if (i == at%len(lines)) == (at < len(lines)) {
					line = strings.ReplaceAll(line, "\n", "\r\n")
				}
				mixed += line
			}
			require.Equal(t, want, first(mixed), "%q", mixed)
		}
	}
}

// TestAnOrderInAnotherForm is written as a list first; all else stays.
func TestAnOrderInAnotherForm(t *testing.T) {
	const head, tail = "---\ndance: waltz\n---\n\n#No space, and odd   spacing\n\n**Order**\n\n", "\n## Notes\n\n- as it   was\n"
	o := edit(t, head+"- Box step\n- Natural turn\n"+tail)
	require.Equal(t, 2, o.Len())
	got := string(o.Insert(2, routine.Line{Name: "Whisk"}))
	assert.True(t, strings.HasPrefix(got, "---\ndance: waltz\n---\n\n#No space, and odd   spacing\n\n"), got)
	assert.True(t, strings.HasSuffix(got, tail), got)
	assert.Contains(t, got, "1. Box step\n2. Natural turn\n3. Whisk\n")
}

// TestEditsOfMessyOrders: whatever a sheet looks like, an edit changes the line that it is meant to change, and
// nothing outside the order.
func TestEditsOfMessyOrders(t *testing.T) {
	lib := shipped()
	rapid.Check(t, func(t *rapid.T) {
		text := []byte(sheetByHand(t))
		for range rapid.IntRange(1, 6).Draw(t, "edits") {
			o, err := routine.EditOrder("quay.md", text, lib)
			require.NoError(t, err, "%s", text)
			want := []routine.Line{}
			for i := range o.Len() {
				want = append(want, o.Line(i))
			}
			line := routine.Line{Name: rapid.SampledFrom([]string{"Closed basic", "Quay step", "Fan"}).Draw(t, "name"),
				Times: rapid.IntRange(1, 12).Draw(t, "times"), Remark: rapid.SampledFrom([]string{"", "low"}).Draw(t, "remark")}
			if o.Len() == 0 {
				break
			}
			at := rapid.IntRange(0, o.Len()-1).Draw(t, "line")
			var next []byte
			switch rapid.SampledFrom([]string{"insert", "remove", "move", "write", "set"}).Draw(t, "edit") {
			case "insert":
				next, want = o.Insert(at, line), slices.Insert(want, at, line)
			case "remove":
				next, want = o.Remove(at), slices.Delete(want, at, at+1)
			case "move":
				to := rapid.IntRange(0, o.Len()-1).Draw(t, "to")
				moved := want[at]
				next, want = o.Move(at, to), slices.Insert(slices.Delete(want, at, at+1), to, moved)
			case "write":
				next, want[at] = o.Write(at, line), line
			case "set":
				next = o.Set(at, "tempo", rapid.SampledFrom([]string{"", "28 bars/min"}).Draw(t, "tempo"))
			}
			o, err = routine.EditOrder("quay.md", next, lib)
			require.NoError(t, err, "%s", next)
			got := []routine.Line{}
			for i := range o.Len() {
				got = append(got, o.Line(i))
			}
			require.Equal(t, want, got, "from\n%s\nto\n%s", text, next)
			from, to := routine.OrderIn("quay.md", text, lib)
			require.Equal(t, string(text[:from]), string(next[:from]), "above the order")
			require.True(t, bytes.HasSuffix(next, text[to:]), "below the order: from\n%s\nto\n%s", text, next)
			text = next
		}
	})
}

func TestTitled(t *testing.T) {
	for text, want := range map[string]string{
		"---\ndance: waltz\ntitle: Quay # ours\ntempo: 28\n---\n\n# Old\n": "---\ndance: waltz\ntitle: \"River \\\"waltz\\\"\" # ours\ntempo: 28\n---\n\n# Old\n",
		"---\ndance: waltz\n---\n\n# Old\r\n\n## Order\n":                  "---\ndance: waltz\n---\n\n# River \"waltz\"\r\n\n## Order\n",
		"---\ndance: waltz\n---\n\n## Order\n":                             "---\ndance: waltz\n---\n\n# River \"waltz\"\n\n## Order\n",
	} {
		got := routine.Titled([]byte(text), `River "waltz"`)
		assert.Equal(t, want, string(got))
		score, _ := routine.Read("quay.md", got, shipped())
		assert.Equal(t, `River "waltz"`, score.Title)
	}
}

// TestAPartStaysAPart when its line is written anew.
func TestAPartStaysAPart(t *testing.T) {
	for _, text := range []string{"Natural turn, steps 1–3", "Natural turn, first half"} {
		o := edit(t, "---\ndance: waltz\n---\n\n## Order\n\n1. "+text+"\n")
		line := o.Line(0)
		require.Equal(t, "Natural turn", line.Name)
		line.Times = 2
		assert.Contains(t, string(o.Write(0, line)), "1. "+text+" × 2\n")
	}
}

func TestWithSetting(t *testing.T) {
	for _, tt := range []struct{ text, key, value, want string }{
		{"---\ndance: waltz\ntempo:   28 bars/min  # the band's\n---\n", "tempo", "30 bars/min", "---\ndance: waltz\ntempo:   30 bars/min  # the band's\n---\n"},
		{"---\ndance: waltz\ntempo: '28 bars/min' # slow\n---\n", "tempo", "30 bars/min", "---\ndance: waltz\ntempo: 30 bars/min # slow\n---\n"},
		{"---\ndance: waltz\nfloor: 12 x 8 m\n---\n", "floor", "", "---\ndance: waltz\n---\n"},
		{"---\r\ndance: waltz\r\n---\r\n", "floor", "12 x 8 m", "---\r\ndance: waltz\r\nfloor: 12 x 8 m\r\n---\r\n"},
		{"dance: waltz\r\r## Order\r\r1. Box step\r", "tempo", "28 bars/min", "dance: waltz\rtempo: 28 bars/min\r\r## Order\r\r1. Box step\r"},
		{"Lantern Night\n\n- **Tanz**: waltz\n- Takt: 3\n\n## Order\n", "tempo", "28 bars/min", "Lantern Night\n\n- **Tanz**: waltz\n- tempo: 28 bars/min\n- Takt: 3\n\n## Order\n"},
		{"## Order\n\n1. tempo: 28\n", "tempo", "30 bars/min", "## Order\n\n1. tempo: 28\n"},
		{"---\ndance: waltz\n---\n", "tempo", "", "---\ndance: waltz\n---\n"},
	} {
		got := routine.WithSetting([]byte(tt.text), tt.key, tt.value)
		assert.Equal(t, tt.want, string(got))
		if tt.want != tt.text {
			assert.Equal(t, tt.value, routine.TopSetting(got, tt.key))
		}
	}
}

const inParts = `---
dance: cha-cha
---

## Order

### Part A

1) Closed basic
2) Hockey stick

<!-- from the quay -->

### Part B

1) Spot turn to the left

### All of it

1) Part A x 2
2) Part B

## Notes
`

// TestPartsOfAnOrder are known by their names, and a line goes from one to the next.
func TestPartsOfAnOrder(t *testing.T) {
	o := edit(t, inParts)
	name, first := o.Part(1)
	assert.Equal(t, "Part A", name)
	assert.False(t, first)
	name, first = o.Part(2)
	assert.Equal(t, "Part B", name)
	assert.True(t, first)
	for what, c := range map[string]struct {
		got  []byte
		want [][2]string
	}{
		"down":                     {o.Over(1, false), [][2]string{{"basic\n2) Hockey stick\n", "basic\n"}, {"1) Spot", "1) Hockey stick\n2) Spot"}}},
		"up":                       {o.Over(2, true), [][2]string{{"stick\n\n<!-- from the quay -->\n\n### Part B\n\n1) Spot turn to the left\n", "stick\n3) Spot turn to the left\n\n<!-- from the quay -->\n\n### Part B\n"}}},
		"up from a part with more": {o.Over(3, true), [][2]string{{"left\n\n### All of it\n\n1) Part A x 2\n2)", "left\n2) Part A x 2\n\n### All of it\n\n1)"}}},
	} {
		want := inParts
		for _, change := range c.want {
			require.Contains(t, want, change[0], what)
			want = strings.Replace(want, change[0], change[1], 1)
		}
		assert.Equal(t, want, string(c.got), what)
		assert.Equal(t, o.Len(), edit(t, string(c.got)).Len(), what)
	}
	assert.Nil(t, o.Over(0, true), "nothing is above it")
	assert.Nil(t, o.Over(4, false), "nothing is below it")
	assert.Nil(t, o.Over(0, false), "its own part goes on")
}

// TestItemsSayWhatTheyOpenAndClose: lines that name a part begin and end with its items, however it is danced.
func TestItemsSayWhatTheyOpenAndClose(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"a list of parts": {inParts, "(Part A(Closed basic) (Hockey stick) (Closed basic) (Hockey stick)Part A) (Part B(Spot turn to the left)Part B)"},
		"again": {"---\ndance: cha-cha\n---\n\n## Order\n\n1. Part A\n2. Repeat 1 to 1 × 2\n3. From the top\n\n### Part A\n\n1. Fan\n",
			"(Part A(Fan)Part A) (Repeat 1 to 1(Part A(Fan)Part A) (Part A(Fan)Part A)Repeat 1 to 1)" +
				" (From the top(Part A(Fan)Part A) (Repeat 1 to 1(Part A(Fan)Part A) (Part A(Fan)Part A)Repeat 1 to 1)From the top)"},
		"sides in turn": {"---\ndance: cha-cha\n---\n\n## Order\n\n1. Spot turn × 2\n", "(Spot turn Spot turn)"},
	} {
		score, _ := routine.Read("quay.md", []byte(c.text), shipped())
		line := func(s routine.Span) string {
			said, _, _ := strings.Cut(c.text[s.Start.Offset:s.End.Offset], " x ")
			said, _, _ = strings.Cut(said, " ×")
			return strings.TrimSpace(said)
		}
		var said []string
		for _, item := range score.Items {
			text := ""
			for i := len(item.Opens) - 1; i > 0; i-- {
				text += "(" + line(item.Opens[i])
			}
			if len(item.Opens) > 0 {
				text += "("
			}
			text += line(item.At)
			for i, at := range item.Closes {
				if i > 0 {
					text += line(at)
				}
				text += ")"
			}
			said = append(said, text)
		}
		assert.Equal(t, c.want, strings.Join(said, " "), name)
	}
}
