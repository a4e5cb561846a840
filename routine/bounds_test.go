package routine_test

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// allocated returns how many bytes f allocates in total.
func allocated(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// TestWideTablesAreRefused before they are parsed: each row would be filled up to the heading's
// columns.
func TestWideTablesAreRefused(t *testing.T) {
	wide := strings.Repeat("|c", 1001) + "|\n" + strings.Repeat("|-", 1001) + "|\n"
	many := ""
	for range 30 {
		many += wide + strings.Repeat("|1|\n", 100) + "\n"
	}
	for name, table := range map[string]string{
		"one":            wide + strings.Repeat("|1|\n", 30000),
		"many":           many,
		"in a quote":     "> " + strings.ReplaceAll(strings.TrimSpace(wide), "\n", "\n> ") + "\n" + strings.Repeat("> |1|\n", 30000),
		"in a list":      "- " + strings.ReplaceAll(strings.TrimSpace(wide), "\n", "\n  ") + "\n" + strings.Repeat("  |1|\n", 30000),
		"windows":        strings.ReplaceAll(wide+strings.Repeat("|1|\n", 30000), "\n", "\r\n"),
		"without pipes":  strings.Repeat("c|", 1000) + "c\n" + strings.Repeat("-|", 1000) + "-\n" + strings.Repeat("1\n", 30000),
		"aligned, space": strings.Repeat("| c ", 1001) + "|\n" + strings.Repeat("| :-: ", 1001) + "|\n" + strings.Repeat("1\n", 30000),
	} {
		t.Run(name, func(t *testing.T) {
			src := []byte(of("cha-cha") + "\n## Order\n\n1. Lantern step\n\n## Lantern step\n\n" + table)
			var found []routine.Finding
			bytes := allocated(func() { found = routine.Check("wide.md", src, routine.EmptyBook{}) })
			assert.Contains(t, codes(found), routine.Code("too-large"))
			assert.Less(t, bytes, uint64(100<<20))
			for _, f := range found {
				assert.Less(t, len(f.Message), 1000)
			}
		})
	}
}

// TestTablesAreAsLargeAsOneWrites: 2,000 rows of 20 columns are read.
func TestTablesAreAsLargeAsOneWrites(t *testing.T) {
	table := strings.Repeat("| note ", 20) + "|\n" + strings.Repeat("|---", 20) + "|\n" + strings.Repeat(strings.Repeat("| x ", 20)+"|\n", 2000)
	_, found := routine.Parse("large.md", []byte(of("cha-cha")+"\n## Order\n\n1. Lantern step\n\n"+inPlace("Lantern step", "2 3 4 1", routine.LF)+"\n## Notes\n\n"+table), chaBook{})
	assert.Empty(t, found)
}

// TestMarksAreBounded because the time a handout takes grows with the square of Markdown's marks.
func TestMarksAreBounded(t *testing.T) {
	for _, mark := range []string{"[", "*a ", "_a*", "**a_", "![", "[a](", "[](", "[a][", "[^", "<a ", "`a``b```c"} {
		for _, where := range []string{"%s\n", "# %s\n", "- %s\n", "> %s\n", "| Count | Leader |\n|--|--|\n| 2 | LF side (%s) |\n"} {
			text := strings.Repeat(mark, 600)
			src := of("cha-cha") + "\n## Order\n\n1. Lantern step\n\n" + inPlace("Lantern step", "2 3 4 1", routine.LF) + "\n## Notes\n\n"
			_, found := routine.Parse("marks.md", fmt.Appendf([]byte(src), where, text), chaBook{})
			assert.Contains(t, codes(found), routine.Code("too-large"), where+mark)
			_, found = routine.Parse("marks.md", fmt.Appendf([]byte(src), where, strings.Repeat(mark, 10)), chaBook{})
			assert.NotContains(t, codes(found), routine.Code("too-large"), where+mark)
		}
	}
}

// TestMarksOfAllParagraphsAreBounded, and the first mark too many is reported once.
func TestMarksOfAllParagraphsAreBounded(t *testing.T) {
	src := of("cha-cha") + "\n## Order\n\n1. Lantern step\n\n" + inPlace("Lantern step", "2 3 4 1", routine.LF) + "\n## Notes\n\n"
	_, found := routine.Parse("marks.md", []byte(src+strings.Repeat("_a*_a*\n\n", 6000)), chaBook{})
	assert.Equal(t, []routine.Code{"too-large"}, codes(found))
	_, found = routine.Parse("marks.md", []byte(src+strings.Repeat("_a*_a*\n\n", 4000)), chaBook{})
	assert.Empty(t, found)
}

// TestCellsStayReadable: what is too long as tidy writes it is too long as it stands.
func TestCellsStayReadable(t *testing.T) {
	const head = "\n## Order\n\n1. A\n\n## A\n\n"
	for _, body := range []string{
		"| Count | Leader | Rise |\n|---|---|---|\n| 1-2 | LF side (" + strings.Repeat("a", 1500) + ") | (" + strings.Repeat("b", 600) + ") |\n",
		"| Count | Leader |\n|---|---|\n| 1-2 | L fwd (" + strings.Repeat("a", 1990) + ") |\n",
		"- starts: PP (" + strings.Repeat("a", 1990) + ")\n\n| Count | Leader |\n|---|---|\n| 1-2 | LF side |\n",
	} {
		src := []byte(of("cha-cha") + head + body)
		tidied, found := routine.Tidy("long.md", src, chaBook{})
		assert.Equal(t, []routine.Code{"too-large"}, codes(routine.Objections(found)))
		assert.Equal(t, string(src), string(tidied))
	}
}

// TestFindingsQuoteALittle of what can't be read, wherever it is.
func TestFindingsQuoteALittle(t *testing.T) {
	long := strings.Repeat("灯x", 150_000)
	for name, text := range map[string]string{
		"a count":      of("cha-cha") + "\n## Order\n\n1. A\n\n## A\n\n| Count | Leader |\n|--|--|\n| " + long + " | LF side |\n",
		"a column":     of("cha-cha") + "\n## Order\n\n1. A\n\n## A\n\n| Count | Leader | " + long + " |\n|--|--|--|\n| 1 | LF side | |\n",
		"a figure":     of("cha-cha") + "\n## Order\n\n1. " + long + "\n",
		"a heading":    of("cha-cha") + "\n## Order\n\n1. A\n\n## " + long + "\n\n| Count | Leader |\n|--|--|\n| 1 | LF side |\n\n## " + long + "\n\n| Count | Leader |\n|--|--|\n| 1 | LF side |\n",
		"a setting":    of("cha-cha") + "\n## Order\n\n1. A\n   - count: " + long + "\n",
		"a tempo":      of("cha-cha") + "\n## Order\n\n1. A\n   - tempo: " + long + "\n",
		"a level":      of("cha-cha") + "\n## Order\n\n1. A\n\n## A\n\n- level: " + long + "\n\n| Count | Leader |\n|--|--|\n| 1 | LF side |\n",
		"a near name":  of("cha-cha") + "\n## Order\n\n1. Harbor step\n\n## Harbour step" + strings.Repeat("§", 300_000) + "\n\n| Count | Leader |\n|--|--|\n| 1 | LF side |\n",
		"a join":       of("cha-cha") + "\n## Order\n\n1. " + long + " × 2\n\n## " + long + "\n\n| Count | Leader |\n|--|--|\n| 1-2 | LF side |\n",
		"a dance":      "---\ndance: " + strings.Repeat("灯x", 1900) + "\n---\n",
		"not YAML":     "---\n: [" + strings.Repeat("灯x", 1900) + "\n---\n",
		"a cell":       of("cha-cha") + "\n## Order\n\n1. A\n\n## A\n\n| Count | Leader |\n|--|--|\n| 1 | LF " + strings.Repeat("灯x", 480) + " |\n",
		"broken chart": of("cha-cha") + "\n## Order\n\n1. A\n\n## A\n\n| Count | " + long + " |\n|--|\n| 1 | LF side |\n",
	} {
		t.Run(name, func(t *testing.T) {
			found := routine.Check("long.md", []byte(text), chaBook{})
			require.NotEmpty(t, found)
			for _, f := range found {
				assert.LessOrEqual(t, len(f.Message)+len(f.Hint), 4*2*501, f.Code)
				for _, r := range f.Related {
					assert.LessOrEqual(t, len(r.Message), 4*501, f.Code)
				}
			}
		})
	}
}
