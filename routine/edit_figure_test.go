package routine_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/routine"
)

const lanternTurn = `---
dance: rumba
---

## Order

1. Lantern turn

## Lantern turn

Once round the lantern.

- starts: open facing   # our way
-  level: 1

| Count | Leader     | Note   | Follower |
|:-----:|------------|--------|---|
|   2   | LF forward | look up | RF back |
| 3 |RF replace| | LF replace |
|  4-1  | LF side, (a \| b) | x | RF side |

Then on.

## Notes

- as it   was
`

func figureText(t require.TestingT, text string) *routine.FigureText {
	f, err := routine.EditFigure("quay.md", []byte(text), shipped(), "lantern turn")
	require.NoError(t, err)
	return f
}

func TestEditsOfAFigure(t *testing.T) {
	f := figureText(t, lanternTurn)
	require.Equal(t, 3, f.Len())
	assert.Equal(t, [3]string{"2", "LF forward", "RF back"}, f.Row(0))
	assert.Equal(t, [3]string{"4-1", `LF side, (a \| b)`, "RF side"}, f.Row(2))
	for text, want := range map[string]int{"RF replace": 1, "| 3 |": 1, "Once round": -1, "as it": -2, "1. Lantern": -2} {
		row, within := f.At(strings.Index(lanternTurn, text))
		if !within {
			row = -2
		}
		assert.Equal(t, want, row, text)
	}
	more := [3]string{"2", "RF back", "LF forward, check (hold|on)"}
	for what, c := range map[string]struct {
		got      []byte
		old, new string
	}{
		"write":      {f.Write(0, [3]string{"2", "LF back", "RF back"}), "LF forward |", "LF back    |"},
		"write long": {f.Write(1, [3]string{"3", "RF replace", "LF side and slightly back"}), "| LF replace |", "| LF side and slightly back |"},
		"write two":  {f.Write(0, [3]string{"2", "LF back", "RF back"}, [3]string{"3", "RF side", "LF replace"}), "LF forward | look up | RF back |\n| 3 |RF replace|", "LF back    | look up | RF back |\n| 3 | RF side  |"},
		"count":      {f.Write(2, [3]string{"4", `LF side, (a \| b)`, "RF side"}), "|  4-1  |", "|   4   |"},
		"insert":     {f.Insert(3, more), "RF side |\n", "RF side |\n|   2   | RF back    |        | LF forward, check (hold\\|on) |\n"},
		"first":      {f.Insert(0, more), "|---|\n", "|---|\n|   2   | RF back    |        | LF forward, check (hold\\|on) |\n"},
		"remove":     {f.Remove(1), "| 3 |RF replace| | LF replace |\n", ""},
		"set":        {f.Set("ends", "closed"), "-  level: 1\n", "-  level: 1\n- ends: closed\n"},
		"set again":  {f.Set("level", "2"), "level: 1", "level: 2"},
		"take away":  {f.Set("level", ""), "-  level: 1\n", ""},
		"without":    {f.Without(), string(f.Section()), ""},
	} {
		require.Contains(t, lanternTurn, c.old, what)
		assert.Equal(t, strings.Replace(lanternTurn, c.old, c.new, 1), string(c.got), what)
	}
	assert.True(t, strings.HasPrefix(string(f.Section()), "## Lantern turn\n"))
	assert.True(t, strings.HasSuffix(string(f.Section()), "Then on.\n\n"))
}

// TestAFigureIsBegun at the end of any sheet, and taken out again.
func TestAFigureIsBegun(t *testing.T) {
	for _, text := range []string{"---\ndance: rumba\n---\n", "---\ndance: rumba\n---\n\n## Order\n\n1. Fan", "---\r\ndance: rumba\r\n---\r\n\r\nLanterns\r\nand waltzes\r\n\r\n"} {
		begun := routine.BeginFigure([]byte(text), " **Lantern\nturn** ", "closed, leader LF free")
		assert.True(t, bytes.HasPrefix(begun, []byte(strings.TrimRight(text, "\r\n"))), "%q", begun)
		f := figureText(t, string(begun))
		assert.Zero(t, f.Len())
		assert.Equal(t, "closed, leader LF free", f.Fact("starts"))
		assert.Equal(t, strings.TrimRight(text, "\r\n"), strings.TrimRight(string(f.Without()), "\r\n"))
		for row, cells := range [][3]string{{"2", "LF forward", "RF back"}, {"3", "RF replace", "LF replace"}} {
			begun = f.Insert(row, cells)
			f = figureText(t, string(begun))
			require.Equal(t, row+1, f.Len(), "%s", begun)
			assert.Equal(t, cells, f.Row(row))
		}
		assert.Equal(t, strings.Contains(text, "\r"), strings.Contains(string(begun), "|\r\n"))
		score, found := routine.Read("quay.md", begun, shipped())
		require.Len(t, score.Figures, 1)
		assert.Len(t, score.Figures[0].Rows, 2)
		for _, f := range found {
			assert.NotContains(t, []routine.Code{"not-read", "steps-not-read", "count-unreadable"}, f.Code, "%+v", f)
		}
	}
}

// TestAFigureInAnotherFormIsRefused, and nothing is changed.
func TestAFigureInAnotherFormIsRefused(t *testing.T) {
	for what, text := range map[string]string{
		"two charts":     "| Count | Leader |\n|--|--|\n| 2 | LF side |\n\n| Count | Follower |\n|--|--|\n| 2 | RF side |\n",
		"one partner":    "| Count | Leader |\n|--|--|\n| 2 | LF side |\n",
		"several counts": "| Count | Leader | Follower |\n|--|--|--|\n| 2 3 | LF side, RF close | RF side, LF close |\n",
		"short rows":     "| Count | Leader | Follower |\n|--|--|--|\n| 2 | LF side |\n",
		"no table":       "Count;Leader;Follower\n2;LF side;RF side\n",
	} {
		_, err := routine.EditFigure("quay.md", []byte("---\ndance: rumba\n---\n\n## Lantern turn\n\n"+text), shipped(), "Lantern turn")
		assert.ErrorContains(t, err, "can't be changed as it is written", what)
	}
	_, err := routine.EditFigure("quay.md", []byte("---\ndance: rumba\n---\n"), shipped(), "Lantern turn")
	assert.ErrorContains(t, err, `the sheet has no figure "Lantern turn"`)
}

// TestEditsOfMessyFigures: whatever else a sheet holds, an edit changes the row that it is meant to change, and
// nothing outside the figure's chart.
func TestEditsOfMessyFigures(t *testing.T) {
	lib := shipped()
	bare := func(cell string) string { return strings.ReplaceAll(cell, `\|`, "|") }
	cell := rapid.SampledFrom([]string{"LF forward, 1/4 R, in promenade", "RF side", "–", "two | pipes", `\|`, "a\nline", "# no", "LF " + strings.Repeat("side ", 9), "", " "})
	rapid.Check(t, func(r *rapid.T) {
		text := routine.BeginFigure([]byte(sheetByHand(r)), "Harbour sway", "")
		if rapid.Bool().Draw(r, "more below") {
			end := text[len(bytes.TrimRight(text, "\r\n")):] // as lines end here
			text = append(text, bytes.ReplaceAll([]byte("\n## Harbour notes\n\n|not|a chart\n"), []byte("\n"), end)...)
		}
		edit := func(text []byte) *routine.FigureText {
			f, err := routine.EditFigure("quay.md", text, lib, "harbour sway")
			require.NoError(r, err, "%s", text)
			return f
		}
		for range rapid.IntRange(1, 6).Draw(r, "edits") {
			f := edit(text)
			var rows [][3]string
			for i := range f.Len() {
				rows = append(rows, f.Row(i))
			}
			cells := [3]string{rapid.SampledFrom([]string{"2", "4-1", "&", "a"}).Draw(r, "count"), cell.Draw(r, "leader"), cell.Draw(r, "follower")}
			at := rapid.IntRange(0, f.Len()).Draw(r, "row")
			before, after, _ := bytes.Cut(text, f.Section())
			var next []byte
			switch what := rapid.SampledFrom([]string{"insert", "write", "remove"}).Draw(r, "edit"); {
			case what == "insert" || at == f.Len():
				next = f.Insert(at, cells)
				rows = append(rows[:at:at], append([][3]string{cells}, rows[at:]...)...)
			case what == "write":
				next, rows[at] = f.Write(at, cells), cells
			default:
				next = f.Remove(at)
				rows = append(rows[:at:at], rows[at+1:]...)
			}
			require.True(r, bytes.HasPrefix(next, before), "%s", next)
			require.True(r, bytes.HasSuffix(next, after), "%s", next)
			f = edit(next)
			require.Equal(r, len(rows), f.Len(), "%s", next)
			for i := range rows {
				for k, want := range rows[i] {
					require.Equal(r, bare(strings.TrimSpace(routine.Plain(want))), bare(f.Row(i)[k]), "%s", next)
				}
			}
			text = next
		}
	})
}
