package routine_test

import (
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// place is a finding's code, line and column.
type place struct {
	code         routine.Code
	line, column int
}

func places(found []routine.Finding) (out []place) {
	for _, f := range found {
		out = append(out, place{f.Code, f.Span.Start.Line, f.Span.Start.Column})
	}
	return out
}

// wellPlaced requires what holds for the findings of any text: spans within it, lines and columns that
// agree with the offsets, sorted, every code explained with its severity, and nothing that controls a
// terminal.
func wellPlaced(t require.TestingT, src []byte, found []routine.Finding) {
	end := "\n"
	if !strings.Contains(string(src), end) {
		end = "\r" // old line ends
	}
	pos := func(p routine.Pos) {
		require.GreaterOrEqual(t, p.Offset, 0)
		require.LessOrEqual(t, p.Offset, len(src))
		before := string(src[:p.Offset])
		require.Equal(t, strings.Count(before, end)+1, p.Line)
		require.Equal(t, utf8.RuneCountInString(before[strings.LastIndex(before, end)+1:])+1, p.Column)
	}
	span := func(s routine.Span) {
		pos(s.Start)
		pos(s.End)
		require.LessOrEqual(t, s.Start.Offset, s.End.Offset)
	}
	for i, f := range found {
		span(f.Span)
		e, ok := routine.Explain(f.Code)
		require.True(t, ok, "%s is not explained", f.Code)
		require.Equal(t, e.Severity, f.Severity, f.Code)
		require.NotEmpty(t, f.Message, f.Code)
		require.False(t, unsafe(f.Message), "%q", f.Message)
		require.False(t, unsafe(f.Hint), "%q", f.Hint)
		for _, r := range f.Related {
			span(r.Span)
			require.False(t, unsafe(r.Message), "%q", r.Message)
		}
		if i > 0 {
			a, b := found[i-1], f
			before, after := a.Severity == routine.Note, b.Severity == routine.Note
			require.True(t, !before && after || before == after && a.Span.Start.Offset < b.Span.Start.Offset || a.Span.Start.Offset == b.Span.Start.Offset && a.Code <= b.Code,
				"%s at %d stands before %s at %d", a.Code, a.Span.Start.Offset, b.Code, b.Span.Start.Offset)
		}
	}
}

// lanternCha and lanternWaltz are sheets without findings.
const lanternCha = `---
dance: cha-cha
title: Lantern Night
tempo: 28 bars/min
faces: wall
---

# Lantern Night

The doors to the river stay open.

## Order

1. Closed basic × 2
2. New York to the left side — look out
   - tempo: 28 to 30 bars/min
3. Back half of the closed basic
4. Boathouse step
5. Closed basic, steps 1–5
6. Spot turn to the left
   - ends: open facing
7. Time step
   - count: words

## Boathouse step

- starts: open facing, leader LF free, follower RF free
- ends: open facing
- level: 1

| Count | Leader                                    | Follower                                  |
|:-----:|-------------------------------------------|-------------------------------------------|
|   2   | LF forward, check                         | RF back                                   |
|   3   | RF replace                                | LF replace                                |
|   4   | LF side                                   | RF side                                   |
|   &   | RF close                                  | LF close                                  |
|   1   | LF forward, 1/4 L, in right side position | RF forward, 1/4 R, in right side position |
|   2   | RF forward, check                         | LF forward, check                         |
|   3   | LF replace                                | RF replace                                |
|   4   | RF side, 1/4 R                            | LF side, 1/4 L                            |
|   &   | LF close                                  | RF close                                  |
|   1   | RF side                                   | LF side                                   |

## What to bring

- shoes: with a strap

| Who | What |
|-----|------|
| all | tea  |
`

const lanternWaltz = `---
dance: waltz
faces: DW
---

# Lantern waltz

## Order

1. Jetty turn
2. RF closed change
3. Reverse turn
4. Whisk
5. Chassé from promenade
6. Quay wait

## Jetty turn

- starts: closed, facing DW, leader RF free
- ends: closed, facing DC

| Count | Leader                       | Follower                       |
|:-----:|------------------------------|--------------------------------|
|   1   | RF forward, facing DW        | LF back, backing DW            |
|   2   | LF side, 1/4 R, backing DC   | RF side, 3/8 R, pointing LOD   |
|   3   | RF close, 1/8 R, backing LOD | LF close, facing LOD           |
|   1   | LF back, backing LOD         | RF forward, facing LOD         |
|   2   | RF side, 3/8 R, pointing DC  | LF side, 1/4 R, backing centre |
|   3   | LF close, facing DC          | RF close, 1/8 R, backing DC    |

## Quay wait

- starts: closed, leader RF free
- ends: as started

Leaders:

| Count | Leader           |
|:-----:|------------------|
|   1   | RF forward, 1/8 R |
|  2-3  | LF close         |

Followers:

| Count | Follower          |
|:-----:|-------------------|
|   1   | LF back, 1/8 R    |
|   2   | RF close, no weight |
|   3   | RF in place       |
`

func TestSheetsInOrder(t *testing.T) {
	lib := shipped()
	for _, src := range []string{lanternCha, lanternWaltz} {
		score, found := routine.Read("lantern.md", []byte(src), lib)
		assert.Empty(t, found)
		assert.NotEmpty(t, score.Passages)
	}
}

// TestOneFaultIsOneFinding: one slip in a correct sheet yields one finding, at the slip, and none that
// merely follows from it.
func TestOneFaultIsOneFinding(t *testing.T) {
	lib := shipped()
	const facts = "- starts: open facing, leader LF free, follower RF free\n- ends: open facing"
	for _, test := range []struct {
		base     string
		old, new string
		want     place
	}{
		{lanternCha, "dance: cha-cha", "dance: chacha-cha-chaa", place{"unknown-dance", 2, 8}},
		{lanternCha, "dance: cha-cha", "dance: [cha-cha]", place{"bad-value", 2, 8}},
		{lanternCha, "dance: cha-cha\n", "", place{"dance-missing", 2, 1}},
		{lanternCha, "dance: cha-cha", "dance: cha-cha\nslow: 1", place{"unknown-setting", 3, 1}},
		{lanternCha, "title: Lantern Night", "title: Lantern: Night", place{"front-matter", 3, 8}},
		{lanternCha, "title: Lantern Night", "title: ‘Lantern’\ntitle: Night", place{"front-matter", 4, 1}},
		{lanternCha, "title: Lantern Night", "title: [Lantern, Night]", place{"bad-value", 3, 8}},
		{lanternCha, "title: Lantern Night", "title: {Lantern: Night}", place{"bad-value", 3, 8}},
		{lanternCha, "title: Lantern Night", "title: *night", place{"bad-value", 3, 8}},
		{lanternCha, "title: Lantern Night", "title:", place{"bad-value", 3, 7}},
		{lanternCha, "title: Lantern Night", "title Lantern Night", place{"front-matter", 3, 1}},
		{lanternCha, "title: Lantern Night", "tittle: Lantern Night", place{"unknown-setting", 3, 1}},
		{lanternCha, "tempo: 28 bars/min", "tempo: 28 to 30 bars/min", place{"tempo-unreadable", 4, 8}},
		{lanternCha, "tempo: 28 bars/min", "tempo: 28 beets/min", place{"tempo-unreadable", 4, 8}},
		{lanternCha, "tempo: 28 bars/min", "tempo: 2000 bars/min", place{"tempo-unreadable", 4, 8}},
		{lanternCha, "tempo: 28 bars/min", "tempo: 20 bars/min", place{"tempo-range", 4, 8}},
		{lanternCha, "faces: wall", "faces: LOD or wall", place{"unknown-direction", 5, 8}},
		{lanternCha, "faces: wall", "floor: 8 metres", place{"bad-value", 5, 8}},
		{lanternCha, "faces: wall", "floor: 8 by the wall", place{"bad-value", 5, 8}},
		{lanternCha, "faces: wall", "floor: 0.5 x 6 m", place{"bad-value", 5, 8}},
		{lanternCha, "faces: wall", "floor: 8 x 600 m", place{"bad-value", 5, 8}},
		{lanternCha, "faces: wall", "floor: 8..5 x 6 m", place{"bad-value", 5, 8}},
		{lanternCha, "faces: wall", "forward step: long", place{"bad-value", 5, 15}},
		{lanternCha, "faces: wall", "side step: 3 m", place{"bad-value", 5, 12}},
		{lanternCha, "faces: wall", "short step: NaN cm", place{"bad-value", 5, 13}},
		{lanternCha, "faces: wall", "travels: yes", place{"unknown-setting", 5, 1}},
		{lanternCha, "faces: wall", "dance teacher: Rosa", place{"other-setting", 5, 1}},
		{lanternCha, "## Order", "## Ordr", place{"order-missing", 14, 4}},
		{lanternCha, "## What to bring", "## Order", place{"order-again", 44, 4}},
		{lanternCha, "1. Closed basic × 2", "1. Closed basic × 200", place{"repeat-range", 14, 19}},
		{lanternCha, "1. Closed basic × 2", "1. Box 2", place{"unknown-figure", 14, 4}},
		{lanternCha, "1. Closed basic × 2", "1. × 2", place{"order-empty", 14, 4}},
		{lanternCha, "1. Closed basic × 2", "1. - tempo: 28 bars/min", place{"order-empty", 14, 1}},
		{lanternCha, "2. New York to the left", "2. New Yrok to the left", place{"unknown-figure", 15, 4}},
		{lanternCha, "   - tempo: 28 to 30 bars/min", "   - tempo: 28 to 40 bars/min", place{"tempo-range", 16, 13}},
		{lanternCha, "   - tempo: 28 to 30 bars/min", "   - tempo: 28 to 30", place{"tempo-unreadable", 16, 13}},
		{lanternCha, "   - tempo: 28 to 30 bars/min", "   - temp: 28 bars/min", place{"unknown-setting", 16, 6}},
		{lanternCha, "   - tempo: 28 to 30 bars/min", "   - slowly", place{"unknown-setting", 16, 6}},
		{lanternCha, "   - ends: open facing", "   - ends: open facig", place{"unknown-word", 21, 17}},
		{lanternCha, "   - ends: open facing", "   - ends: fan", place{"end-contradicted", 21, 12}},
		{lanternCha, "   - ends: open facing", "   - ends: open facing, facing wall", place{"bad-value", 21, 12}},
		{lanternCha, "   - ends: open facing", "   - ends: open facing\n   - ends: closed", place{"said-twice", 22, 6}},
		{lanternCha, "   - ends: open facing", "   - ends:", place{"bad-value", 21, 11}},
		{lanternCha, "   - count: words", "   - count: wods", place{"bad-value", 23, 13}},
		{lanternCha, "   - count: words", "   - count: !", place{"bad-value", 23, 13}},
		{lanternCha, "   - count: words", "   - corner: round", place{"bad-value", 23, 14}},
		{lanternCha, "5. Closed basic, steps 1–5", "5. Closed basic, steps 5–1", place{"steps-range", 19, 24}},
		{lanternCha, "5. Closed basic, steps 1–5", "5. Closed basic, steps 5–99999999999999999999", place{"steps-range", 19, 24}},
		{lanternCha, "5. Closed basic, steps 1–5", "5. Closed basic, steps 1–5, steps 1–5", place{"said-twice", 19, 4}},
		{lanternCha, "5. Closed basic, steps 1–5", "5. Closed basic", place{"join-foot", 20, 4}},
		{lanternCha, "## Boathouse step", "##", place{"unknown-figure", 18, 4}},
		{lanternCha, "## Boathouse step", "Boathouse step", place{"loose-form", 25, 1}},
		{lanternCha, facts, strings.Replace(facts, "open facing", "open facign", 1), place{"unknown-word", 27, 16}},
		{lanternCha, facts, strings.Replace(facts, "open facing", "fan or clozed", 1), place{"unknown-word", 27, 18}},
		{lanternCha, facts, strings.Replace(facts, "open facing", "fan", 1), place{"position-contradicted", 37, 11}},
		{lanternCha, facts, strings.Replace(facts, "leader LF", "leader RF", 1), place{"start-contradicted", 27, 11}},
		{lanternCha, facts, strings.Replace(facts, "leader LF free", "leader LF free, leader RF free", 1), place{"said-twice", 27, 47}},
		{lanternCha, facts, strings.Replace(facts, "leader LF free", "leader", 1), place{"unknown-word", 27, 24}},
		{lanternCha, facts, strings.Replace(facts, "ends: open facing", "ends: fan", 1), place{"end-contradicted", 28, 9}},
		{lanternCha, facts, strings.Replace(facts, "ends: open facing", "ends: fan or clozed", 1), place{"unknown-word", 28, 16}},
		{lanternCha, facts, strings.Replace(facts, "ends:", "enz:", 1), place{"unknown-fact", 28, 3}},
		{lanternCha, facts, strings.Replace(facts, "ends: open facing", "ends:", 1), place{"bad-value", 28, 8}},
		{lanternCha, "- level: 1", "- level: one", place{"bad-value", 29, 10}},
		{lanternCha, "- level: 1", "- level: 16", place{"bad-value", 29, 10}},
		{lanternCha, "- level: 1", "- level: 300", place{"bad-value", 29, 10}},
		{lanternCha, "- level: 1", "- level: 1\n- level: 1", place{"said-twice", 30, 3}},
		{lanternCha, "| Count | Leader ", "| Cuont | Leader ", place{"loose-form", 31, 3}},
		{lanternCha, "| Count | Leader ", "| Count | Laeder ", place{"unknown-column", 31, 11}},
		{lanternCha, "| Count | Leader ", "| Count | Follower ", place{"column-again", 31, 57}},
		{lanternCha, "|:-----:|---", "---", place{"loose-form", 31, 1}},
		{lanternCha, "|   2   | LF forward, check", "|       | LF forward, check", place{"count-unreadable", 33, 9}},
		{lanternCha, "|   2   | LF forward, check", "|  2&   | LF forward, check", place{"steps-per-row", 33, 4}},
		{lanternCha, "|   2   | LF forward, check", "|  12   | LF forward, check", place{"count-skipped", 34, 5}},
		{lanternCha, "|   3   | RF replace", "|   4   | RF replace", place{"count-skipped", 34, 5}},
		{lanternCha, "|   3   | RF replace", "|   Q   | RF replace", place{"count-mixed", 34, 5}},
		{lanternCha, "|   2   | LF forward, check", "|   2   | RF forward, check", place{"foot-not-free", 33, 11}},
		{lanternCha, "|   2   | LF forward, check", "|   2   | LF forwrad, check", place{"unknown-word", 33, 14}},
		{lanternCha, "|   2   | LF forward, check", "|   2   | LF forward | check", place{"row-too-long", 33, 29}},
		{lanternCha, "|   4   | LF side  ", "|   4   | LF side, no weight  ", place{"foot-not-free", 36, 11}},
		{lanternCha, "|   4   | LF side  ", "|   4   | –  ", place{"foot-not-free", 36, 11}},
		{lanternCha, "|   4   | LF side  ", "|   4   | LF swivel  ", place{"foot-not-free", 35, 11}},
		{lanternCha, "|   4   | LF side  ", "|   4   | side  ", place{"foot-missing", 35, 11}},
		{lanternCha, "|   4   | LF side  ", "|   4   | LF, BF  ", place{"place-missing", 35, 11}},
		{lanternCha, "|   4   | LF side  ", "|   4   | LF side, back  ", place{"place-twice", 35, 11}},
		{lanternCha, "|   4   | LF side  ", "|   4   | LF side, 1/8 R  ", place{"position-contradicted", 35, 11}},
		{lanternCha, "|   4   | LF side  ", "|   4   | LF side, 1/7 R  ", place{"turn-unreadable", 35, 20}},
		{lanternCha, "|   4   | LF side  ", "|   4   | LF side (up  ", place{"unknown-word", 35, 19}},
		{lanternCha, "|   4   | LF side  ", "|   4   |  ", place{"step-missing", 35, 45}},
		{lanternCha, "|   4   | LF side  ", "|   x   | LF side  ", place{"count-unreadable", 35, 5}},
		{lanternCha, "|   4   | LF side  ", "", place{"count-unreadable", 35, 36}},
		{lanternCha, "RF forward, 1/4 R, in right", "RF forward, 1/8 R, in right", place{"position-contradicted", 37, 11}},
		{lanternCha, "RF forward, 1/4 R, in right", "RF forward, 1/4 R, in left", place{"said-twice", 37, 55}},
		{lanternCha, "|   4   | RF side, 1/4 R ", "|   4   | RF side, 1/8 R ", place{"end-contradicted", 28, 9}},
		{lanternCha, "|   4   | RF side, 1/4 R ", "|   4   | RF side, facing bank ", place{"unknown-direction", 40, 27}},
		{lanternCha, "tea ", "t\x1bea ", place{"control-character", 50, 10}},

		{lanternWaltz, "faces: DW", "faces: wall", place{"join-direction", 10, 4}},
		{lanternWaltz, "1. Jetty turn", "1. Jetty turn × 2", place{"join-direction", 10, 4}},
		{lanternWaltz, "3. Reverse turn\n", "", place{"join-direction", 12, 4}},
		{lanternWaltz, "facing DW, leader RF free", "facing DW, leader LF free", place{"start-contradicted", 19, 11}},
		{lanternWaltz, "facing DW, leader RF free", "facing wall, leader RF free", place{"alignment-contradicted", 24, 11}},
		{lanternWaltz, "- ends: closed, facing DC", "- ends: closed, facing LOD", place{"end-contradicted", 20, 9}},
		{lanternWaltz, "- ends: closed, facing DC", "- ends: promenade, facing DC", place{"end-contradicted", 20, 9}},
		{lanternWaltz, "LF side, 1/4 R, backing DC", "LF side, 1/8 R, backing DC", place{"alignment-contradicted", 25, 11}},
		{lanternWaltz, "LF side, 1/4 R, backing DC", "LF side, 1/4 L, backing DC", place{"alignment-contradicted", 25, 11}},
		{lanternWaltz, "LF side, 1/4 R, backing DC", "LF side, 1/4 R, facing DC", place{"alignment-contradicted", 25, 11}},
		{lanternWaltz, "LF close, facing LOD ", "LF close, facing DC ", place{"alignment-contradicted", 26, 42}},
		{lanternWaltz, "LF back, backing LOD ", "RF back, backing LOD ", place{"foot-not-free", 27, 11}},
		{lanternWaltz, "|  2-3  | LF close  ", "|   x   | LF close  ", place{"count-unreadable", 41, 5}},
		{lanternWaltz, "|  2-3  | LF close  ", "|   2   | LF close  ", place{"parts-differ", 47, 5}},
		{lanternWaltz, "|   1   | RF forward, 1/8 R |", "|   z   | RF forward, 1/8 R, in closed |", place{"count-unreadable", 40, 5}},
		{lanternWaltz, "RF close, no weight", "RF close, no wait", place{"unknown-word", 48, 21}},
		{lanternWaltz, "|   3   | RF in place       |", "|   3   | RF in place       |\n|   1   | LF in place       |", place{"parts-differ", 47, 5}},
		{lanternWaltz, "Followers:\n\n| Count | Follower", "Followers:\n\n| Count | Leader", place{"column-again", 45, 3}},
		{lanternWaltz, "## Quay wait", "## Jetty Turns\n\n| Count | Leader |\n|---|---|\n| 1 | LF side |\n\n## Quay wait", place{"figure-again", 31, 4}},
		{lanternWaltz, "6. Quay wait", "6. Quay wait, steps 1–2", place{"last-bar-open", 15, 4}},
	} {
		t.Run(strings.TrimSpace(test.new)+" for "+test.old, func(t *testing.T) {
			require.Contains(t, test.base, test.old)
			src := strings.Replace(test.base, test.old, test.new, 1)
			found := routine.Check("lantern.md", []byte(src), lib)
			wellPlaced(t, []byte(src), found)
			assert.Equal(t, []place{test.want}, places(found), "%v", found)
		})
	}
}

// manyFaults has a fault in nearly every part.
const manyFaults = `---
dance: cha-cha
tempo: 28 beets/min
tempp: 30 bars/min
faces: river
---

# Laternenfest am Fluß

## Order

1. Clsed basic
2. Öffnung × 0 — schön „leise“
   - tempo: fast
   - Ärger: yes
3. Closed basic, steps 3–12

## Öffnung

- starts: opn facing, leader LF free
- level: ⅜
- ends: open facing, follower facing DC against LODD

| Count | Leader                | Follower        | Wetter |
|-------|-----------------------|-----------------|--------|
| 2     | LF vorwärtz, ⅛ R      | RF back, ⅓ L    | schön  |
| drey  | RF replace (für „uns“), chekc | LF replace | – |
| 4     |                       | RF side         |        |
| &     | RF close | LF close |
| 1     | LF side, facing Fluß  | side            |        |
`

// manyPlaces are the faults of manyFaults; a tab counts as one column.
var manyPlaces = []place{
	{"tempo-unreadable", 3, 8},
	{"unknown-setting", 4, 1},
	{"unknown-direction", 5, 8},
	{"unknown-figure", 12, 4},
	{"repeat-range", 13, 14},
	{"tempo-unreadable", 14, 13},
	{"unknown-setting", 15, 6},
	{"steps-range", 16, 24},
	{"unknown-word", 20, 11},
	{"bad-value", 21, 10},
	{"unknown-word", 22, 49},
	{"unknown-column", 24, 53},
	{"unknown-word", 26, 14},
	{"turn-unreadable", 26, 44},
	{"count-unreadable", 27, 3},
	{"unknown-word", 27, 35},
	{"step-missing", 28, 33},
	{"unknown-direction", 30, 27},
	{"foot-missing", 30, 35},
}

// TestAllFindingsAtOnce: everything is found in one reading, in the order of the text, each at the
// author's own line and column, however the text is stored and laid out.
func TestAllFindingsAtOnce(t *testing.T) {
	lib := shipped()
	check := func(t *testing.T, src string, want []place) {
		t.Helper()
		found := routine.Check("fest.md", []byte(src), lib)
		wellPlaced(t, []byte(src), found)
		assert.Equal(t, want, places(found), "%v", found)
	}
	t.Run("as written", func(t *testing.T) { check(t, manyFaults, manyPlaces) })
	t.Run("Windows line ends", func(t *testing.T) { check(t, strings.ReplaceAll(manyFaults, "\n", "\r\n"), manyPlaces) })
	t.Run("a byte order mark", func(t *testing.T) { check(t, "\ufeff"+manyFaults, manyPlaces) })
	t.Run("no line end at the end", func(t *testing.T) { check(t, strings.TrimSuffix(manyFaults, "\n"), manyPlaces) })
	t.Run("tabs between the words", func(t *testing.T) {
		src := strings.NewReplacer("| 2     | LF vorw", "|\t2\t|\tLF\tvorw", "RF back, ⅓", "RF\tback,\t⅓", "   - Ärger", "\t- Ärger").Replace(manyFaults)
		want := append([]place(nil), manyPlaces...)
		want[6] = place{"unknown-setting", 15, 4}
		want[12], want[13] = place{"unknown-word", 26, 10}, place{"turn-unreadable", 26, 40}
		check(t, src, want)
	})
	t.Run("no pipes at the edges", func(t *testing.T) {
		lines := strings.Split(manyFaults, "\n")
		want := append([]place(nil), manyPlaces...)
		for i := 23; i < 30; i++ {
			lines[i] = strings.TrimSuffix(strings.TrimPrefix(lines[i], "| "), " |")
			lines[i] = strings.TrimSuffix(strings.TrimPrefix(lines[i], "|"), "|")
		}
		for i := range want {
			if want[i].line > 23 {
				want[i].column -= 2
			}
		}
		check(t, strings.Join(lines, "\n"), want)
	})
	t.Run("the chart in a list", func(t *testing.T) {
		// A chart is the section's, however far it is indented.
		src := strings.ReplaceAll(manyFaults, "\n|", "\n  |")
		found := routine.Check("fest.md", []byte(src), lib)
		wellPlaced(t, []byte(src), found)
		assert.NotContains(t, places(found), place{"unknown-figure", 13, 4})
	})
}

// TestPlacesOfCellsThatAreNotWritten: an empty cell is reported where its text would end, a missing
// cell at the row's end.
func TestPlacesOfCellsThatAreNotWritten(t *testing.T) {
	const head = "---\ndance: cha-cha\n---\n\n## Order\n\n1. Quay step\n\n## Quay step\n\n"
	for _, test := range []struct {
		name, chart string
		want        []place
	}{
		{"empty", "| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF side | RF side |\n| 3 |  | LF close |\n| 4-1 | LF side | RF side |\n", []place{{"step-missing", 14, 8}}},
		{"nothing between the pipes", "| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF side | RF side |\n| 3 || LF close |\n| 4-1 | LF side | RF side |\n", []place{{"step-missing", 14, 6}}},
		{"the row is short", "| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF side | RF side |\n| 3 | RF close |\n| 4-1 | LF side | RF side |\n", []place{{"step-missing", 14, 15}}},
		{"nobody does anything", "| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF side | RF side |\n| 3 |\n| 4-1 | RF side | LF side |\n", []place{{"step-missing", 14, 4}}},
		{"no count", "| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF side | RF side |\n|  | RF close | LF close |\n| 4-1 | LF side | RF side |\n", []place{{"count-unreadable", 14, 4}}},
		{"the first heading is empty", "|  | Count | Leader | Follower |\n|---|---|---|---|\n| a | 2 | LF side | RF side |\n| | | RF close | LF close |\n| | 4-1 | LF side | RF side |\n", []place{{"count-unreadable", 14, 5}}},
		{"nothing but a pipe", "| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF side | RF side |\n|\n| 4-1 | RF side | LF side |\n", []place{{"count-unreadable", 14, 1}}},
		{"commas in cells and between them", "Count, Leader, Follower\n2, LF side, 1/4 R, RF side\n", []place{{"chart-broken", 11, 1}}},
		{"numbered steps, and a note", "| Step | Leader | Count | Follower | Note |\n|---|---|---|---|---|\n| 1 | LF side | 2 | RF side | |\n| 2 | RF close | 3 | LF clsoe | up |\n| 3 | LF side | 4-1 | RF side | |\n", []place{{"unknown-word", 14, 25}}},
		{"an escaped bar in a note", "| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF side | RF side |\n| 3 | RF close (left \\| right) | LF clsoe |\n| 4-1 | LF side | RF side |\n", []place{{"unknown-word", 14, 37}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			src := []byte(head + test.chart)
			found := routine.Check("quay.md", src, shipped())
			wellPlaced(t, src, found)
			assert.Equal(t, test.want, places(found), "%v", found)
		})
	}
}

// TestSettingsAtTheTop: where YAML can't be read, and what can't be set.
func TestSettingsAtTheTop(t *testing.T) {
	const rest = "---\n\n## Order\n\n1. Closed basic\n"
	for _, test := range []struct {
		name, front string
		want        []place
		text        string // of the first finding's span
	}{
		{"a quote that is not closed", "dance: cha-cha\ntitle: \"Lantern\n", []place{{"front-matter", 3, 8}}, "\"Lantern"},
		{"a colon in a value", "dance: cha-cha\ntitle: Lantern: Night\n", []place{{"front-matter", 3, 8}}, "Lantern"},
		{"a tab before a name", "dance: cha-cha\n\ttitle: Lantern\n", []place{{"front-matter", 3, 1}}, "\ttitle: Lantern"},
		{"a bracket that is not closed", "dance: cha-cha\ntitle: [Lantern\n", []place{{"front-matter", 3, 8}}, "["},
		{"a name twice", "dance: cha-cha\ndance: rumba\n", []place{{"front-matter", 3, 1}}, "dance"},
		{"a list in place of settings", "- dance\n- cha-cha\n", []place{{"front-matter", 2, 1}}, "-"},
		{"text in place of settings", "cha-cha\n", []place{{"front-matter", 2, 1}}, "cha-cha"},
		{"letters before, and a comment behind", "dance: cha-cha # 灯籠\ntitle: \"Straße ⅜\" # x\ncount: laut # y\n", []place{{"bad-value", 4, 8}}, "laut"},
		{"a quoted value", "dance: \"cha-cha\"\ntempo: '99 bars/min'\n", []place{{"tempo-range", 3, 8}}, "'99 bars/min'"},
		{"a value over several lines", "dance: cha-cha\ncount: very\n  loudly\n", []place{{"bad-value", 3, 8}}, "very\n  loudly"},
		{"a folded value", "dance: cha-cha\ncount: >\n  very\n  loudly\n", []place{{"bad-value", 3, 8}}, ">"},
		{"settings in one line", "{dance: cha-cha, count: loudly}\n", []place{{"bad-value", 2, 25}}, "loudly"},
		{"two faults", "dance: cha-cha\ntempo: 99\nfaces: up\n", []place{{"tempo-unreadable", 3, 8}, {"unknown-direction", 4, 8}}, "99"},
		{"nothing", "", []place{{"dance-missing", 2, 1}}, ""},
		{"comments only", "# dance: cha-cha\n", []place{{"dance-missing", 2, 1}}, ""},
		{"small and capital letters", "DANCE: Cha Cha\nTempo: 120 BPM\n", nil, ""},
		{"names in quotes", "\"dance\": cha-cha\n'tempo': 30 bars/min\n", nil, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			for _, end := range []string{"\n", "\r\n"} {
				src := strings.ReplaceAll("---\n"+test.front+rest, "\n", end)
				found := routine.Check("front.md", []byte(src), shipped())
				wellPlaced(t, []byte(src), found)
				require.Equal(t, test.want, places(found), "%v", found)
				if len(found) > 0 {
					assert.NotRegexp(t, `\[\d+:\d+\]`, found[0].Message, "a place that is counted otherwise")
					assert.Equal(t, strings.ReplaceAll(test.text, "\n", end), src[found[0].Span.Start.Offset:found[0].Span.End.Offset])
				}
			}
		})
	}
}

// TestChapterSettings: settings about a dance are checked in the sheet that defines it.
func TestChapterSettings(t *testing.T) {
	for _, test := range []struct {
		name, front string
		want        []place
	}{
		{"all in order", "dance: Quay\nmetre: 3/4\nalso called: [quayside]\nbegins on: 2\nslow: 1 1/2\nquick: 3/4\nand: 1/3\na: 1/4\nnumbers: figure\nphrase: 4 bars\naccents: [1, 3]\nwords: [\"1 2 3 = oom pah pah\"]\nusual: 28–30 bars/min\nusual source: us\ncompetition: 28 bars/min\n", nil},
		{"lists of one need no brackets", "dance: Quay\nmetre: 3/4\nalso called: quayside\naccents: 1\nwords: 1 = oom\n", nil},
		{"no name", "metre: 3/4\n", []place{{"dance-missing", 2, 1}}},
		{"a metre in words", "dance: Quay\nmetre: three four\n", []place{{"bad-value", 3, 8}}},
		{"a metre that no score has", "dance: Quay\nmetre: 3/5\n", []place{{"bad-value", 3, 8}}},
		{"a metre that nobody hears", "dance: Quay\nmetre: 17/4\n", []place{{"bad-value", 3, 8}}},
		{"no metre", "dance: Quay\nmetre: 0/4\n", []place{{"bad-value", 3, 8}}},
		{"a beat that the bar does not have", "dance: Quay\nmetre: 3/4\nbegins on: 4\n", []place{{"bad-value", 4, 12}}},
		{"an accent that the bar does not have", "dance: Quay\nmetre: 3/4\naccents: [1, 4]\n", []place{{"bad-value", 4, 14}}},
		{"a length that is no number", "dance: Quay\nmetre: 3/4\nslow: long\nquick: 0\nand: 1\na: 1/7\n", []place{{"bad-value", 4, 7}, {"bad-value", 5, 8}, {"bad-value", 6, 6}, {"bad-value", 7, 4}}},
		{"lengths that are several numbers", "dance: Quay\nmetre: 3/4\nslow: 1 1\nquick: 1/2 1/2\nand: 1/4 1\na: 1 5/4\n", []place{{"bad-value", 4, 7}, {"bad-value", 5, 8}, {"bad-value", 6, 6}, {"bad-value", 7, 4}}},
		{"a number of many digits", "dance: Quay\nmetre: 3/4\nphrase: 88888888888888888888\nbegins on: 1 1\n", []place{{"bad-value", 4, 9}, {"bad-value", 5, 12}}},
		{"one bar", "dance: Quay\nmetre: 3/4\nphrase: 1 bar\n", nil},
		{"numbers of neither", "dance: Quay\nmetre: 3/4\nnumbers: both\n", []place{{"bad-value", 4, 10}}},
		{"a word too few", "dance: Quay\nmetre: 3/4\nwords: [\"1 2 3 = oom pah\"]\n", []place{{"bad-value", 4, 9}}},
		{"a count that is none", "dance: Quay\nmetre: 3/4\nwords: [\"1 x = oom pah\"]\n", []place{{"bad-value", 4, 9}}},
		{"from fast to slow", "dance: Quay\nmetre: 3/4\nusual: 30–28 bars/min\n", []place{{"bad-value", 4, 8}}},
		{"no tempo", "dance: Quay\nmetre: 3/4\nusual: brisk\n", []place{{"tempo-unreadable", 4, 8}}},
		{"a list of phrases", "dance: Quay\nmetre: 3/4\nphrase: [8, 10]\n", []place{{"bad-value", 4, 9}}},
		{"a dance that may travel", "dance: Quay\nmetre: 3/4\ntravels: maybe\n", []place{{"bad-value", 4, 10}}},
		{"a name that sets nothing", "dance: Quay\nmetre: 3/4\nmeter: 3/4\n", []place{{"unknown-setting", 4, 1}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			src := []byte("---\n" + test.front + "---\n")
			_, found := routine.ReadChapter("quay.md", src)
			wellPlaced(t, src, found)
			assert.Equal(t, test.want, places(found), "%v", found)
		})
	}
}

// TestAByteOrderMarkAlone: the mark at the start of a file is not text.
func TestAByteOrderMarkAlone(t *testing.T) {
	src := []byte("\ufeff## Order\n\n1. Closed basic\n")
	assert.Equal(t, []place{{"dance-missing", 1, 1}}, places(routine.Check("mark.md", src, shipped())))
}

// TestAChapterTellsItsDance: every setting of a chapter is read.
func TestAChapterTellsItsDance(t *testing.T) {
	sheet, found := routine.ReadChapter("quay.md", []byte("---\ndance: Quay  *waltz*\nmetre: 6/8\nalso called: [quayside, pier]\nbegins on: 2\nslow: 1 1/2\nquick: 3/4\nand: 1/3\na: 1/5\nnumbers: figure\nphrase: 4 bars\n"+
		"accents: [1, 4]\nwords: [\"4 & 1 = oom pah pah\"]\nusual: 28–30.5 bars/min\nusual source: us\ncompetition: 168 beats/min\ncompetition source: them\n"+
		"travels: yes\nforward step: 0.6 m\nside step: 45 cm\nshort step: 30 cm\nstep source: all\n---\n"))
	require.Empty(t, found)
	const beat, bpm = routine.Beat, routine.BeatPerMinute
	assert.Equal(t, &routine.Dance{
		Name: "Quay waltz", Aliases: []string{"quayside", "pier"}, Metre: routine.Metre{Beats: 6, Unit: 8}, Begins: 2,
		Slow: beat * 3 / 2, Quick: beat * 3 / 4, And: beat / 3, A: beat / 5, FigureNumbers: true, PhraseBars: 4, Accents: []int{1, 4},
		Sayings: []routine.Saying{{Counts: []string{"4", "&", "1"}, Words: []string{"oom", "pah", "pah"}}},
		Usual:   routine.TempoRange{Min: 168 * bpm, Max: 183 * bpm}, UsualSource: "us",
		Competition: routine.TempoRange{Min: 168 * bpm, Max: 168 * bpm}, CompetitionSource: "them",
		Travels: true, Stride: routine.Stride{Forward: 60, Side: 45, Short: 30, Source: "all"},
	}, sheet.Dance)
	assert.Equal(t, 168*bpm, sheet.Tempo)

	sheet, found = routine.ReadChapter("pier.md", []byte("---\ndance: Pier\nmetre: 3/4\nalso called: jetty\naccents: 2\nwords: 1 = oom\n---\n"))
	require.Empty(t, found)
	assert.Equal(t, []string{"jetty"}, sheet.Dance.Aliases)
	assert.Equal(t, []int{2}, sheet.Dance.Accents)
	assert.Equal(t, []routine.Saying{{Counts: []string{"1"}, Words: []string{"oom"}}}, sheet.Dance.Sayings)
}

// TestTempiAreRead: bars a minute and beats a minute as the trade writes them; 30 bars of 3/4 are 90
// beats, and tango's 32 bars of 2/4 are 64.
func TestTempiAreRead(t *testing.T) {
	for _, test := range []struct {
		text        string
		beats       int
		first, last float64 // beats a minute
		err         string
	}{
		{"30 bars/min", 3, 90, 90, ""},
		{"32 mpm", 2, 64, 64, ""},
		{"28 bars per minute", 4, 112, 112, ""},
		{"112 bpm", 4, 112, 112, ""},
		{"112 Beats a Minute", 4, 112, 112, ""},
		{"28–32 bars/min", 4, 112, 128, ""},
		{"28 to 24 bars/min", 3, 84, 72, ""},
		{"28,5 bars/min", 4, 114, 114, ""},
		{"28.333 bars/min", 3, 84.999, 84.999, ""},
		{"10 beats/min", 4, 10, 10, ""},
		{"400 beats/min", 4, 400, 400, ""},
		{"9.999 beats/min", 4, 0, 0, "9.999 beats/min is outside the 10–400 beats/min that can be played"},
		{"101 bars/min", 4, 0, 0, "404 beats/min is outside the 10–400 beats/min that can be played"},
		{"30 to 300 bars/min", 3, 0, 0, "900 beats/min is outside the 10–400 beats/min that can be played"},
		{"30", 3, 0, 0, "the tempo \"30\" has no unit"},
		{"30 beets", 3, 0, 0, "\"beets\" is not a unit of tempo"},
		{"fast", 3, 0, 0, "\"fast\" is not a tempo"},
		{"-30 bars/min", 3, 0, 0, "\"-30 bars/min\" is not a tempo"},
		{"1e3 bars/min", 3, 0, 0, "\"1e3 bars/min\" is not a tempo"},
		{"99999 bars/min", 3, 0, 0, "\"99999 bars/min\" is not a tempo"},
	} {
		first, last, err := routine.ParseTempo(test.text, routine.Metre{Beats: test.beats, Unit: 4})
		if test.err != "" {
			assert.EqualError(t, err, test.err, test.text)
			continue
		}
		require.NoError(t, err, test.text)
		assert.Equal(t, [2]float64{test.first, test.last}, [2]float64{first.Float(), last.Float()}, test.text)
	}
}

// TestTwoPartnersTurnWrong: two faults are two findings, even if both partners make the same one.
func TestTwoPartnersTurnWrong(t *testing.T) {
	src := strings.NewReplacer("LF side, 1/4 R, backing DC  ", "LF side, 1/8 R, backing DC  ", "RF side, 3/8 R, pointing LOD", "RF side, 1/4 R, pointing LOD").Replace(lanternWaltz)
	assert.Equal(t, []place{{"alignment-contradicted", 25, 11}, {"alignment-contradicted", 25, 42}}, places(routine.Check("two.md", []byte(src), shipped())))
}

// TestHostileSheets: sheets that nobody would dance are read without delay, and the rest of them is
// still checked.
func TestHostileSheets(t *testing.T) {
	const (
		head  = "---\ndance: cha-cha\n---\n\n"
		order = head + "## Order\n\n1. Quay step\n\n## Quay step\n\n| Count | Leader | Follower |\n|---|---|---|\n"
		most  = 1 << 20 // bytes, of the largest sheet
	)
	fill := func(before, again, after string) string {
		return before + strings.Repeat(again, (most-len(before)-len(after))/len(again)) + after
	}
	numbered := func(before, format string, n int) string {
		var s strings.Builder
		s.WriteString(before)
		for i := range n {
			fmt.Fprintf(&s, format, i)
		}
		return s.String()
	}
	for _, test := range []struct {
		name  string
		src   string
		first place // of the findings
		last  place
	}{
		{"too large", fill(head, "x", "") + strings.Repeat("x", 20), place{"too-large", 1, 1}, place{"too-large", 1, 1}},
		{"UTF-16", "\xff\xfe-\x00", place{"not-utf8", 1, 1}, place{"not-utf8", 1, 1}},
		{"no text", head + "\xff\xfe", place{"not-utf8", 5, 1}, place{"not-utf8", 5, 1}},
		{"10,000 quotes in each other", head + strings.Repeat("> ", 10_000) + "x\n", place{"too-large", 5, 1}, place{"too-large", 5, 1}},
		{"10,000 lists in each other", head + strings.Repeat("- ", 10_000) + "x\n", place{"too-large", 5, 1}, place{"too-large", 5, 1}},
		{"lists in each other, line by line", head + func() string {
			var s strings.Builder
			for i := range 900 {
				s.WriteString(strings.Repeat("  ", i) + "- x\n")
			}
			return s.String()
		}(), place{"too-large", 105, 1}, place{"too-large", 105, 1}},
		{"nothing but quotes", fill(head, "> ", "\n"), place{"too-large", 5, 1}, place{"too-large", 5, 1}},
		{"100 quotes in each other", head + strings.Repeat(strings.Repeat("> ", 100)+"x\n", 200), place{"order-missing", 205, 1}, place{"order-missing", 205, 1}},
		{"YAML in 3000 brackets", "---\na: " + strings.Repeat("[", 3000) + "\n---\n## Order\n1. x\n", place{"front-matter", 2, 3003}, place{"front-matter", 2, 3003}},
		{"YAML in 1000 braces", "---\n" + strings.Repeat("{a: ", 1000) + "\n---\n## Order\n1. x\n", place{"front-matter", 2, 3999}, place{"front-matter", 2, 3999}},
		{"a step without end", fill(order+"| 2 | LF ", "q", " | RF back |\n"), place{"last-bar-open", 7, 4}, place{"too-large", 13, 7}},
		{"brackets that no one closes", order + "| 2 | LF side " + strings.Repeat("(", 1900) + " | RF side |\n", place{"last-bar-open", 7, 4}, place{"unknown-word", 13, 15}},
		{"as many brackets as there is room for", fill(order+"| 2 | LF side ", "(", " | RF side |\n"), place{"last-bar-open", 7, 4}, place{"too-large", 13, 7}},
		{"huge numbers", head + "## Order\n\n1. Quay step × 99999999999999999999999999\n2. Quay step, steps 1–99999999999999999999\n   - tempo: 9999 bars/min\n\n" +
			"## Quay step\n\n- level: 99999999999999999999\n\n| Count | Leader |\n|--|--|\n| 99999999999999999999 | LF side, 99999999999/8 R |\n",
			place{"repeat-range", 7, 16}, place{"turn-unreadable", 17, 35}},
		{"50,000 rows", order + strings.Repeat("|2|–|–|\n", 50_000), place{"count-skipped", 14, 2}, place{"count-skipped", 50_012, 2}},
		{"20,000 rows that can't be read", numbered(order, "|2|LF q%x|–|\n", 20_000), place{"unknown-word", 13, 7}, place{"unknown-word", 20_012, 7}},
		{"20,000 items", numbered(head+"## Order\n\n", "1. quay %x\n", 20_000), place{"unknown-figure", 7, 4}, place{"unknown-figure", 20_006, 4}},
		{"5000 figures", numbered(head+"## Order\n\n1. Quay 4999\n\n", "## Quay %d\n\n|Count|Leader|\n|--|--|\n|2|LF|\n\n", 5000), place{"last-bar-open", 7, 4}, place{"figure-not-danced", 29_997, 4}},
		{"a heading without end", fill(head+"## Order\n\n1. x\n\n## ", "lantern ", "\n"), place{"unknown-figure", 7, 4}, place{"unknown-figure", 7, 4}},
		{"a thousand columns", head + "## Order\n\n1. Quay\n\n## Quay\n\n" + strings.Repeat("| Count ", 1000) + "\n" + strings.Repeat("|--", 1000) + "\n", place{"column-missing", 11, 3}, place{"column-again", 11, 7995}},
		{"danced for ever", head + "## Order\n\n" + strings.Repeat("1. Closed basic × 99\n", 1000), place{"too-large", 210, 4}, place{"too-large", 210, 4}},
	} {
		t.Run(test.name, func(t *testing.T) {
			began := time.Now()
			_, found := routine.Read("hostile.md", []byte(test.src), shipped())
			// It takes a second at most; code that was quadratic in the size took minutes.
			assert.Less(t, time.Since(began), 30*time.Second)
			require.NotEmpty(t, found)
			if len(found) < 100 {
				wellPlaced(t, []byte(test.src), found)
			}
			all := places(found)
			assert.Equal(t, [2]place{test.first, test.last}, [2]place{all[0], all[len(all)-1]})
		})
	}
}

// TestTextIsData: no character that controls a terminal or reverses text comes out of a sheet, wherever
// it was put in.
func TestTextIsData(t *testing.T) {
	for _, c := range []string{"\x1b[2J", "\x00", "\a", "\x7f", "\u009b31m", "\u202e", "\u2066", "\u2069", "\r"} {
		t.Run(fmt.Sprintf("%q", c), func(t *testing.T) {
			src := strings.ReplaceAll(`---
dance: Quay@dance
metre: 4/4
also called: ["pier@"]
usual: 28–32 bars/min
usual source: "nobody@"
title: Lantern@Night
faces: ri@ver
tempo: fa@st
lo@ud: yes
---

# Lantern@Night

## Order

1. Jetty@step — look@up
   - te@mpo: x
   - count: lo@ud
   - ends: clo@sed
2. ../../etc/pass@wd × 2
3. Nobody's@step

## Jetty@step

- also called: pier@step
- starts: clo@sed, facing wa@ll
- source: no@body

| Count | Leader | Follower | We@ather |
|---|---|---|---|
| 1@ | LF for@ward, 1/4@ R (soft@ly) | R@F back | x |
| 2 | LF facing wa@ll | – (wait @) | x |
`, "@", c)
			if c == "\x00" { // the YAML ends here, and with it what can be read at the top
				src = strings.ReplaceAll(src, "\x00dance", "dance")
			}
			score, found := routine.Read("../../"+c+".md", []byte(src), shipped())
			require.NotEmpty(t, found)
			var texts []string
			texts = append(texts, score.Title, score.Dance.Name, score.Dance.UsualSource)
			texts = append(texts, score.Dance.Aliases...)
			for _, item := range score.Items {
				texts = append(texts, item.Name, item.Remark)
			}
			sheet, _ := routine.Parse("../../"+c+".md", []byte(src), shipped())
			texts = append(texts, sheet.Title)
			require.NotEmpty(t, sheet.Figures)
			for _, fig := range sheet.Figures {
				texts = append(append(texts, fig.Source), fig.Names()...)
				for _, row := range fig.Rows {
					texts = append(texts, row.Steps[0].String(), row.Steps[1].String(), row.Steps[0].Note, row.Steps[1].Note)
				}
			}
			for _, text := range texts {
				assert.False(t, unsafe(text), "%q", text)
			}
			wellPlaced(t, []byte(src), found)
			assert.Contains(t, strings.Join(texts, " "), "Jetty")
		})
	}
}

// TestASheetTellsItsFloor: its size, and the lengths of steps where they differ from the dance's.
func TestASheetTellsItsFloor(t *testing.T) {
	for text, want := range map[string]routine.Room{
		"8 x 6 m": {Along: 800, Across: 600}, "12.5 m × 8 m": {Along: 1250, Across: 800}, "900 by 650 cm": {Along: 900, Across: 650}, "8m x 60cm": {}, "9x6": {Along: 900, Across: 600},
	} {
		score, _ := routine.Read("quay.md", []byte("---\ndance: waltz\nfloor: "+text+"\nside step: 0.4 m\n---\n\n## Order\n\n1. Box step\n   - corner: After\n"), shipped())
		assert.Equal(t, want, score.Floor, text)
		assert.Equal(t, routine.Length(40), score.Stride.Side)
		assert.Equal(t, routine.Length(60), score.Stride.Forward, "as the waltz's")
		assert.True(t, score.Items[0].Corner)
	}
	assert.Equal(t, "8 x 6.5 m", routine.Room{Along: 800, Across: 650}.String())
	assert.Equal(t, []string{"60 cm", "1.5 m"}, []string{routine.Length(60).String(), routine.Length(150).String()})
}
