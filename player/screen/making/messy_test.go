package making_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/screen/making"
)

// messySheets are sheets as people write them: what is before "Order" and after it, and orders.
var messySheets = struct{ heads, orders, tails []string }{
	heads: []string{
		"---\ndance: cha-cha\ntitle: \"Messy night\"   # what we call it\n---\n\nSome    words   first.\n\n",
		"dance: cha-cha\n\n#No space, and odd   spacing\n\n",
		"- **Dance**: cha-cha\n- Floor: 12 x 8 m\n\n",
		"\ufeff---\ndance: cha-cha\ntempo: 30 bars/min\n---\n<!-- from the quay -->\n",
	},
	orders: []string{
		"### Part A\n1) Closed basic x2\n2) fan\n   <!-- here we always go wrong -->\n3) Hockey stick   - look up\n\n### Part B\n\n1. New York to the left side  × 2\n5. Spot turn to the left\n\n### All of it\n\n- Part A x 2\n- Part B\n- Part A\n",
		"1. Closed basic\n   - tempo: 28 bars/min\n\n\n2. Nothing of that name (twice)\n3. From the top\n4. Repeat 1 to 2\n",
		"* Closed basic\n* Quay step, steps 1–3\n\t- ends: closed\n* Part B\n\n### Part B\n\n* Time step – by the water\n",
		"1. Part A\n2. Part A × 3\n\n### Part A\n\n1. Part B\n\n### Part B\n\n1. Part A\n",
		"We haven't begun.\n",
		"1. Closed basic\n1. Spot turn × 3\n1. Closed basic, first half\n",
	},
	tails: []string{
		"\n## Notes\n\nOdd    spacing\tstays.\n",
		"\n## Quay step\n\n- starts: closed, leader LF free, follower RF free\n\n|Count|Leader|Follower|\n|--|--|--|\n|2|LF forward|RF back|\n|3|RF replace|LF replace|\n|4-1|LF side|RF side|\n",
		"\n## Notes\n\nnot the end",
	},
}

// TestAnythingCanBePressedOnMessySheets: what stands outside the order stays as it is, byte for byte, what is
// shown as danceable is, and undo restores the file.
func TestAnythingCanBePressedOnMessySheets(t *testing.T) {
	keys := []string{"enter", "enter", "down", "down", "up", "up", "home", "end", "tab", "tab", "+", "-", "x", "K", "J", "c", "g", "l", "p", "r", "t", "e", "h", "i", "a", "a", "A", "esc", "right", "w", " ", "ctrl+z", "ctrl+y", "backspace"}
	rapid.Check(t, func(r *rapid.T) {
		pick := func(of []string) string { return rapid.SampledFrom(of).Draw(r, "text") }
		head, order, tail := pick(messySheets.heads), "## Order\n\n"+pick(messySheets.orders), pick(messySheets.tails)
		if rapid.Bool().Draw(r, "windows") {
			ends := strings.NewReplacer("\n", "\r\n")
			head, order, tail = ends.Replace(head), ends.Replace(order), ends.Replace(tail)
		}
		k := opens(t, head+order+tail, 80, 24)
		for _, key := range rapid.SliceOfN(rapid.SampledFrom(keys), 1, 20).Draw(r, "keys") {
			k.press(key)
			require.LessOrEqual(r, strings.Count(k.view(), "\n"), 23)
			require.True(r, strings.HasPrefix(k.text(), head), "%q", k.text())
			require.True(r, strings.HasSuffix(k.text(), strings.TrimLeft(tail, "\r\n")), "%q", k.text())
			if d := k.model.Draft(); k.turn == making.Dance {
				score, _ := check.Sheet("quay.md", d.Text(), book)
				require.NotEmpty(r, score.Passages)
			}
		}
		k.press("esc", "esc", "home") // what is asked or offered goes away
		for range 20 {
			k.press("ctrl+z")
		}
		require.Equal(r, head+order+tail, k.text())
	})
}

// TestPartsWithoutFiguresAreNotDanced.
func TestPartsWithoutFiguresAreNotDanced(t *testing.T) {
	k := opens(t, "---\ndance: cha-cha\n---\n\n## Order\n\n1. Part A\n2. Part B\n\n### Part A\n\n1. Part B\n\n### Part B\n\n1. Closed basic\n", 80, 24)
	assert.Equal(t, making.Dance, k.press(" ").turn)
	assert.Equal(t, making.Stay, k.press("x", " ").turn)
	assert.Contains(t, k.view(), "Put a figure in first")
	assert.Contains(t, fresh(t, "waltz", 80, 24).press(" ").view(), "Put a figure in first")
}
