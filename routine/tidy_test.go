package routine_test

import (
	"encoding/json"
	"io/fs"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/testdata/thorough"
)

const untidy = "\ufeff---\r\ndance: cha-cha   # as in the class\r\n---\r\n" +
	"# Lantern  Night\r\n\r\nProse | stays   as it *is*.  \r\n\r\n" +
	"## Order\r\n\r\n1. closed  basics x2  - *quietly*,  look up\r\n" +
	"   * Tempo: 112 bpm\r\n   * ends: open pos.\r\n2. Quay step steps 1-2 × 1\r\n3. Quay step, steps 3 to 5\r\n\r\n" +
	"<!-- a comment -->\r\n\r\n## Quay step\r\n\r\n* Starts: open facing or closed, follower RF is free (arms   low)\r\n* remember to breathe\r\n\r\n" +
	"Count|Man|Lady|Note\r\n---|:-:|--:|---\r\n" +
	"2|L fwd (short)|R bk|smile\r\n3|RF rec|LF recover|\r\n4|L small sd, ⅛ L|R sd, ⅛ to L|灯籠\r\n&|RF cl, BF|L closes to RF|\r\n1|LF sd & sl. fwd, 1/8 right|RF sd, 1/8 R|\r\n"

const tidied = `---
dance: cha-cha   # as in the class
---
# Lantern  Night

Prose | stays   as it *is*.  

## Order

1. closed basics × 2 — *quietly*,  look up
   * tempo: 28 bars/min
   * ends: open facing
2. Quay step, steps 1–2
3. Quay step, steps 3–5

<!-- a comment -->

## Quay step

* starts: closed or open facing, follower RF free (arms   low)
* remember to breathe

| Count |                 Man                 |           Lady | Note  |
|:-----:|:-----------------------------------:|---------------:|-------|
|   2   |         LF forward (short)          |        RF back | smile |
|   3   |             RF replace              |     LF replace |       |
|   4   |        LF small side, 1/8 L         | RF side, 1/8 L | 灯籠  |
|   &   |            RF close, BF             |       LF close |       |
|   1   | LF side and slightly forward, 1/8 R | RF side, 1/8 R |       |
`

func TestTidy(t *testing.T) {
	got, found := routine.Tidy("untidy.md", []byte(untidy), shipped())
	require.Empty(t, found)
	assert.Equal(t, tidied, string(got))
	again, _ := routine.Tidy("tidied.md", got, shipped())
	assert.Equal(t, string(got), string(again))
	assert.JSONEq(t, danced(t, []byte(untidy)), danced(t, got))
}

// danced returns what a sheet dances, without the places in its text.
func danced(t require.TestingT, src []byte) string {
	score, found := routine.Read("test.md", src, shipped())
	type row struct {
		At    routine.Beats
		Count routine.Count
		Steps [2]string
	}
	type passage struct {
		Name       string
		Rows       []row
		Start, End routine.Beats
		Tempo      [2]routine.Tempo
	}
	var all []passage
	for _, p := range score.Passages {
		item := score.Items[p.Item]
		out := passage{Name: p.Figure.Name, Start: p.Start, End: p.End, Tempo: [2]routine.Tempo{item.Tempo, item.TempoTo}}
		for r := p.From; r < p.To; r++ {
			steps := p.Figure.Rows[r].Steps
			out.Rows = append(out.Rows, row{p.At(r), p.Figure.Rows[r].Count, [2]string{steps[0].String(), steps[1].String()}})
		}
		all = append(all, out)
	}
	var codes []routine.Code
	for _, f := range routine.Objections(found) {
		codes = append(codes, f.Code)
	}
	text, err := json.Marshal(map[string]any{"dance": score.Dance.Name, "passages": all, "codes": codes})
	require.NoError(t, err)
	return string(text)
}

func TestTidyLeavesWhatItCanNotRead(t *testing.T) {
	src := []byte(untidy[:len(untidy)-4] + "wibble|\r\n")
	src = append(src, "| 1 | LF wobble | RF side | |\r\n"...)
	got, found := routine.Tidy("untidy.md", src, shipped())
	assert.Equal(t, src, got)
	assert.NotEmpty(t, found)
}

// sheets returns all chapters of the library.
func sheets(t require.TestingT) (all [][]byte) {
	files := os.DirFS("../library")
	for _, pattern := range []string{"*.md", "sheets/*.md"} {
		names, err := fs.Glob(files, pattern)
		require.NoError(t, err)
		require.NotEmpty(t, names)
		for _, name := range names {
			text, err := fs.ReadFile(files, name)
			require.NoError(t, err)
			all = append(all, text)
		}
	}
	return all
}

func TestTheLibraryIsTidy(t *testing.T) {
	for _, src := range sheets(t) {
		got, found := routine.Tidy("sheet.md", src, shipped())
		assert.Empty(t, found)
		assert.Equal(t, string(src), string(got))
	}
}

// fragments are pieces of orders and charts as people write them, and of what stands around them.
var fragments = []string{"1. ", "2. ", "- ", "* ", "• ", "  ", "   ", "\n", "\n", "\n", "\n", "\n\n", "\n\n", "Closed basic", "Hand to hand", "Quay step", "Part A", "Part B", "### Part A\n\n", "## Order\n\n",
	"## Quay step\n\n", "Order: ", "Then ", "then ", ", ", "; ", " — ", " - ", "--", "---", "==", "...", " × 2", " x2", " (softly)", "tempo: 30", "- tempo: 30 bars/min", "ends: closed", "starts: closed", "Bars 1-2: ", "1-2 ", "3-4 ",
	"0:15 ", "Step 1: ", "Verse 1: ", "Verse", "First half", "| Figure | Times |\n", "|---|---|\n", "| Closed basic | 2 |\n", "| Count | Leader | Follower |\n", "| 2 | LF forward | RF back |\n", "| 3 | RF replace | LF replace |\n",
	"2\tLF forward\tRF back", "Count\tLeader\tFollower", "Leader:", "### Herr\n", "### Dame\n", "2 LF vor\n", "3 RF am Platz\n", "2: RF back\n", "3: LF replace\n", "~~Hand to hand~~", "**", "**Order**", "Order\n", "dance: waltz\n",
	"from the top", "repeat 1 to 2", "1 ", "2 walks", "L + R", "\u00a0", "\u200b", ":", "(", ")", " with a smile.", "\r\n"}

// TestTidyOfFragments: what FuzzTidy finds out of letters, out of pieces.
func TestTidyOfFragments(t *testing.T) {
	sheets := 300
	if thorough.Asked() {
		sheets = 5000
	}
	r, lib := rand.New(rand.NewPCG(12, 8)), shipped()
	read := 0
	for range sheets {
		text := "---\ndance: cha-cha\n---\n\n## Order\n\n"
		for range 1 + r.IntN(9) {
			text += fragments[r.IntN(len(fragments))]
		}
		tidy, found := routine.Tidy("pieces.md", []byte(text), lib)
		if routine.HasErrors(found) {
			continue
		}
		read++
		require.Equal(t, danced(t, []byte(text)), danced(t, tidy), "%q\n%s", text, tidy)
		again, _ := routine.Tidy("pieces.md", tidy, lib)
		require.Equal(t, string(tidy), string(again), "%q", text)
		_, found = routine.Read("pieces.md", []byte(text), lib)
		wellPlaced(t, []byte(text), found)
	}
	assert.Greater(t, read, sheets/10, "about one in eight can be read")
}

// FuzzTidy: what is danced stays the same, and tidying twice changes nothing.
func FuzzTidy(f *testing.F) {
	for _, src := range sheets(f) {
		if len(src) < 6000 {
			f.Add(src)
		}
	}
	f.Add([]byte(untidy))
	for body := range spokenOrders {
		f.Add([]byte(chaTop + "## Order\n\n" + body))
	}
	lib := shipped()
	f.Fuzz(func(t *testing.T, src []byte) {
		once, found := routine.Tidy("fuzz.md", src, lib)
		if routine.HasErrors(found) {
			require.Equal(t, string(src), string(once))
			return
		}
		require.Equal(t, danced(t, src), danced(t, once), "%s", once)
		twice, _ := routine.Tidy("fuzz.md", once, lib)
		require.Equal(t, string(once), string(twice))
	})
}
