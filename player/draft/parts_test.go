package draft_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/sheets"
)

// reads returns the draft of a sheet.
func reads(t require.TestingT, text string) draft.Draft {
	d, err := draft.Open(shelf(), sheets.Document{Name: "quay.md", Path: "quay.md", Text: []byte(text)})
	require.NoError(t, err)
	return d
}

const (
	top   = "---\ndance: rumba\n---\n\n# Quay\n\n## Order\n\n"
	notes = "\n## Notes\n\nMind  the step.\n"
	plain = "1. Closed basic\n2. Forward half of the closed basic\n3. Fan\n   - tempo: 24 bars/min\n4. Hockey stick — smile\n5. Closed basic\n"
	parts = "1. Closed basic\n2. Lantern part\n3. Closed basic\n\n### Lantern part\n\n1. Forward half of the closed basic\n2. Fan\n   - tempo: 24 bars/min\n3. Hockey stick — smile\n"
)

// TestAPartIsMade of lines that stand together, and taken apart again, byte for byte.
func TestAPartIsMade(t *testing.T) {
	for name, windows := range map[string]bool{"Unix": false, "Windows": true} {
		for _, tail := range []string{"", notes} {
			before, after := top+plain+tail, top+parts+tail
			if windows {
				before, after = strings.ReplaceAll(before, "\n", "\r\n"), strings.ReplaceAll(after, "\n", "\r\n")
			}
			d := reads(t, before)
			text, err := d.Gather(1, 4, " Lantern  part ")
			require.NoError(t, err, name)
			require.Equal(t, after, string(text))
			d, err = d.Change(text, 1)
			require.NoError(t, err)
			assert.Empty(t, d.Found)
			for _, line := range []int{1, 4} { // that names it, that stands in it
				apart, mark, err := d.Apart(line)
				require.NoError(t, err)
				assert.Equal(t, before, string(apart))
				assert.Equal(t, 1, mark)
			}
			undone, ok := d.Undo()
			require.True(t, ok)
			assert.Equal(t, before, string(undone.Text()))
		}
	}
}

// TestAPartIsUsedAgain, and then taken apart in one place or in all, with what its lines set.
func TestAPartIsUsedAgain(t *testing.T) {
	const again = top + "1. Part A × 2 — look up\n   - tempo: 26 bars/min\n2. Closed basic\n3. Part A\n   - count: words\n\n### Part A\n\n1. Closed basic\n2. Side step\n   - tempo: 24 bars/min\n" + notes
	d := reads(t, again)
	text, mark, err := d.Apart(0)
	require.NoError(t, err)
	assert.Equal(t, 0, mark)
	const one = top + "1. Closed basic — look up\n   - tempo: 26 bars/min\n2. Side step\n   - tempo: 24 bars/min\n3. Closed basic\n   - tempo: 26 bars/min\n4. Side step\n   - tempo: 24 bars/min\n5. Closed basic\n6. Part A\n   - count: words\n\n### Part A\n\n1. Closed basic\n2. Side step\n   - tempo: 24 bars/min\n" + notes
	assert.Equal(t, one, string(text))
	text, mark, err = d.Apart(4)
	require.NoError(t, err)
	assert.Equal(t, 0, mark)
	all, _, _ := strings.Cut(one, "6.")
	assert.Equal(t, all+"6. Closed basic\n   - count: words\n7. Side step\n   - tempo: 24 bars/min\n   - count: words\n"+notes, string(text))
}

// TestTheLastUseOfAPart takes the part with it, when it is taken out; one before it doesn't.
func TestTheLastUseOfAPart(t *testing.T) {
	const part = "\n### Part A\n\n1. Side step\n\nSoftly.\n"
	d := reads(t, top+"1. Part A\n2. Closed basic\n3. Part A\n"+part)
	text := d.Without(0)
	assert.Equal(t, top+"1. Closed basic\n2. Part A\n"+part, string(text))
	d, err := d.Change(text, 0)
	require.NoError(t, err)
	assert.Equal(t, top+"1. Closed basic\n\nSoftly.\n", string(d.Without(1)))
}

// TestWhatFollowsCanBeAPart, judged as all that it has; none is offered that would be danced within itself.
func TestWhatFollowsCanBeAPart(t *testing.T) {
	d := reads(t, top+"1. Closed basic\n2. Part A\n3. Closed basic\n\n### Part A\n\n1. Forward half of the closed basic\n2. Fan\n3. Part B\n\n### Part B\n\n1. Hockey stick\n")
	parts := func(line int) (list []string) {
		for _, n := range d.Next(line) {
			if n.Part != "" {
				list = append(list, fmt.Sprint(n.Line(), ", ", draft.InBars(n.Length(), d.Score.Dance), " ", n.Why != "", n.Apart != ""))
			}
		}
		return list
	}
	assert.Equal(t, []string{"Part A, 4 bars false false", "Part B, 2 bars true false"}, parts(2))
	assert.Equal(t, []string{"Part A, 4 bars false false", "Part B, 2 bars false false"}, parts(-1))
	assert.Equal(t, []string{"Part B, 2 bars false true"}, parts(4), "after Fan")
	assert.Empty(t, parts(6))
}

// TestAPartWithAHeadingOnly is danced where it stands, and its lines join those above.
func TestAPartWithAHeadingOnly(t *testing.T) {
	d := reads(t, top+"1. Closed basic\n2. Closed basic\n\nFrom the quay.\n\n### The river\n\nSlowly.\n\n1. Side step\n2. Closed basic\n\nRiver\n-----\n\n1. Closed basic\n"+notes)
	text, mark, err := d.Apart(2)
	require.NoError(t, err)
	assert.Equal(t, 2, mark)
	assert.Equal(t, top+"1. Closed basic\n2. Closed basic\n\nFrom the quay.\n\nSlowly.\n\n3. Side step\n4. Closed basic\n\nRiver\n-----\n\n1. Closed basic\n"+notes, string(text))
}

// TestPartsThatCanNotBe are refused, and say why.
func TestPartsThatCanNotBe(t *testing.T) {
	d := reads(t, top+"1. Part A\n2. Closed basic\n3. Repeat 1 to 2\n4. From the top\n\n### Part A\n\n1. Closed basic\n2. Side step\n")
	for name, c := range map[string]struct {
		from, to int
		says     string
	}{
		" ":      {0, 1, "a part needs a name"},
		"part a": {1, 2, "part a is another part"},
		"fan":    {1, 2, "fan is a figure"},
		"Part B": {2, 5, "a part is made of lines that stand together: these stand in two parts"},
		"Chorus": {0, 2, "with Chorus made of them, something else would be danced"},
	} {
		_, err := d.Gather(c.from, c.to, name)
		assert.EqualError(t, err, c.says, name)
	}
	assert.Equal(t, "Part B", d.PartName())
	_, _, err := d.Apart(1)
	assert.EqualError(t, err, "this line names no part, nor does it stand in one")
	_, _, err = d.Apart(0)
	assert.EqualError(t, err, "with Part A taken apart, something else would be danced", "as line 3 counts lines")
}

// TestPartsComeAndGo: a part of a part, or of some lines, is made and taken apart again, byte for byte.
func TestPartsComeAndGo(t *testing.T) {
	lines := []string{"Closed basic", "Closed basic × 2 — softly", "Side step\n    - tempo: 24 bars/min", "Fan\n    - ends: fan\n    - corner: after"}
	rapid.Check(t, func(t *rapid.T) {
		text := top
		names := rapid.SliceOfN(rapid.SampledFrom(lines), 1, 8).Draw(t, "lines")
		for i, name := range names {
			text += fmt.Sprintf("%d. %s\n", i+1, name)
		}
		d := reads(t, text+rapid.SampledFrom([]string{"", notes}).Draw(t, "tail"))
		var texts []string
		var marks []int
		for range rapid.IntRange(1, 3).Draw(t, "parts") {
			from := rapid.IntRange(0, d.Order.Len()-1).Draw(t, "from")
			to := rapid.IntRange(from+1, d.Order.Len()).Draw(t, "to")
			text, err := d.Gather(from, to, d.PartName())
			if d.Order.In(from) != d.Order.In(to-1) {
				require.Error(t, err)
				continue
			}
			require.NoError(t, err)
			texts, marks = append(texts, string(d.Text())), append(marks, from)
			d, err = d.Change(text, from)
			require.NoError(t, err)
		}
		for i := len(texts) - 1; i >= 0; i-- {
			text, mark, err := d.Apart(marks[i])
			require.NoError(t, err)
			require.Equal(t, marks[i], mark)
			require.Equal(t, texts[i], string(text))
			d, err = d.Change(text, mark)
			require.NoError(t, err)
		}
	})
}
