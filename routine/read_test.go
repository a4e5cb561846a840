package routine_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// inOrder requires what holds for the score of any text.
func inOrder(t require.TestingT, score *routine.Score) {
	require.NotNil(t, score.Dance)
	require.False(t, unsafe(score.Title), "%q", score.Title)
	for _, item := range score.Items {
		require.False(t, unsafe(item.Name+item.Remark), "%q", item.Name)
	}
	at := score.Start
	require.GreaterOrEqual(t, at, routine.Beats(0))
	require.LessOrEqual(t, at, score.Dance.Metre.Bar())
	for i := range score.Passages {
		p := &score.Passages[i]
		require.False(t, unsafe(p.Figure.Name), "%q", p.Figure.Name)
		require.Equal(t, at, p.Start, "passage %d begins where the one before ends", i)
		require.Less(t, p.From, p.To)
		require.LessOrEqual(t, p.To, len(p.Figure.Rows))
		require.Less(t, p.Round, score.Items[p.Item].Times)
		before := p.Start
		for row := p.From; row < p.To; row++ {
			require.GreaterOrEqual(t, p.At(row), before, "row %d of passage %d", row, i)
			before = p.At(row)
		}
		require.LessOrEqual(t, before, p.End)
		at = p.End
	}
	if len(score.Passages) > 0 {
		require.Equal(t, at, score.End)
	}
}

// FuzzRead: any text yields a valid score and findings with valid places, the same ones each time.
func FuzzRead(f *testing.F) {
	seeds := sheets(f)
	for _, code := range routine.Codes() {
		e, _ := routine.Explain(code)
		seeds = append(seeds, []byte(e.Bad), []byte(e.Good))
	}
	seeds = append(seeds, []byte(lanternCha), []byte(lanternWaltz), []byte(manyFaults), []byte(untidy))
	for body := range spokenOrders {
		seeds = append(seeds, []byte(chaTop+"## Order\n\n"+body))
	}
	require.NotEmpty(f, seeds)
	for _, src := range seeds {
		if len(src) < 12<<10 { // larger mutations are slow and find nothing more
			f.Add(src)
		}
	}
	lib := shipped()
	f.Fuzz(func(t *testing.T, src []byte) {
		score, found := routine.Read("fuzz.md", src, lib)
		inOrder(t, score)
		if len(found) < 200 {
			wellPlaced(t, src, found)
		}
		_, again := routine.Read("fuzz.md", src, lib)
		require.Equal(t, found, again)
		if !routine.HasErrors(found) && len(score.Items) > 0 { // a chapter has no order
			require.NotEmpty(t, score.Passages)
		}
		_, found = routine.ReadChapter("fuzz.md", src)
		if len(found) < 200 {
			wellPlaced(t, src, found)
		}
	})
}

// longSheet returns 10,000 steps: 1,000 figures of five rows for each partner.
func longSheet() []byte {
	var order, figures strings.Builder
	for i := range 1000 {
		l, r := "LF", "RF"
		ahead, behind := "forward", "back"
		if i%2 == 1 {
			l, r, ahead, behind = r, l, behind, ahead
		}
		fmt.Fprintf(&order, "1. Lantern turn no. %d\n", i)
		fmt.Fprintf(&figures, "\n## Lantern turn no. %d\n\n- starts: closed\n- ends: closed\n\n| Count | Leader | Follower |\n|:-----:|--------|----------|\n", i)
		for _, row := range [][3]string{{"2", l + " " + ahead + ", 1/8 L", r + " " + behind + ", 1/8 L"}, {"3", r + " replace", l + " replace"}, {"4", l + " side, BF", r + " side, BF"}, {"&", r + " close", l + " close"}, {"1", l + " side (softly)", r + " side"}} {
			fmt.Fprintf(&figures, "| %s | %s | %s |\n", row[0], row[1], row[2])
		}
	}
	return []byte("---\ndance: cha-cha\n---\n\n## Order\n\n" + order.String() + figures.String())
}

// BenchmarkReadLong parses and checks a sheet of 10,000 steps.
func BenchmarkReadLong(b *testing.B) {
	lib, src := shipped(), longSheet()
	require.Empty(b, routine.Check("long.md", src, lib))
	b.SetBytes(int64(len(src)))
	for b.Loop() {
		routine.Read("long.md", src, lib)
	}
}

// BenchmarkReadSheet parses and checks a sheet like one that a class hands out.
func BenchmarkReadSheet(b *testing.B) {
	lib := shipped()
	src, err := lib.Sheet("lantern-night-cha-cha")
	require.NoError(b, err)
	require.Empty(b, routine.Check("lantern.md", src, lib))
	for b.Loop() {
		routine.Read("lantern.md", src, lib)
	}
}
