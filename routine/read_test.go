package routine_test

import (
	"fmt"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
)

// FuzzRead: whatever a file holds, reading it ends with a score whose passages
// follow one another, and with findings that stand in the file, in order, each
// explained and harmless to print.
func FuzzRead(f *testing.F) {
	for _, src := range sheets(f) {
		if len(src) < 6000 {
			f.Add(src)
		}
	}
	for _, code := range routine.Codes() {
		if e, _ := routine.Explain(code); len(e.Bad) < 6000 {
			f.Add([]byte(e.Bad))
		}
	}
	lib := library.Open()
	f.Fuzz(func(t *testing.T, src []byte) {
		score, found := routine.Read("fuzz.md", src, lib)
		wellPlaced(t, src, found)
		for _, one := range found {
			_, ok := routine.Explain(one.Code)
			require.True(t, ok, "%s is not explained", one.Code)
			require.NotZero(t, one.Severity)
			require.Equal(t, -1, strings.IndexFunc(one.Message+one.Hint, unicode.IsControl), "%q", one.Message)
		}
		at := score.Start
		for i := range score.Passages {
			p := &score.Passages[i]
			require.Equal(t, at, p.Start, "passage %d", i)
			require.GreaterOrEqual(t, p.End, p.Start)
			before := p.Start
			for row := p.From; row < p.To; row++ {
				require.GreaterOrEqual(t, p.At(row), before)
				before = p.At(row)
			}
			require.LessOrEqual(t, before, p.End)
			require.Equal(t, -1, strings.IndexFunc(p.Figure.Name, unicode.IsControl))
			at = p.End
		}
		require.Equal(t, -1, strings.IndexFunc(score.Title, unicode.IsControl))
	})
}

// longSheet tells 10,000 steps in 1,000 figures of five rows for each partner.
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
	lib, src := library.Open(), longSheet()
	require.Empty(b, routine.Check("long.md", src, lib))
	b.SetBytes(int64(len(src)))
	for b.Loop() {
		routine.Read("long.md", src, lib)
	}
}
