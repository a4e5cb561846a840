package check_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// chart is a figure of the library as text, to be changed in one place.
type chart struct {
	dance, name  string
	starts, ends string
	rows         [][3]string // count, leader, follower
}

// charts returns the library's figures as they are printed.
func charts(t testing.TB) (list []chart) {
	lib := shipped()
	for _, dance := range lib.Dances() {
		c, _ := lib.Chapter(dance)
		text, err := os.ReadFile("../" + strings.TrimPrefix(c.File, "library/"))
		require.NoError(t, err)
		for _, section := range strings.Split(string(text), "\n## ")[1:] {
			f := chart{dance: dance}
			f.name, section, _ = strings.Cut(section, "\n")
			for _, line := range strings.Split(section, "\n") {
				switch {
				case strings.HasPrefix(line, "- starts:"):
					f.starts = line
				case strings.HasPrefix(line, "- ends:"):
					f.ends = line
				case strings.HasPrefix(line, "|") && !strings.HasPrefix(line, "|:") && !strings.HasPrefix(line, "|-") && !strings.HasPrefix(line, "| Count"):
					cells := strings.Split(strings.Trim(line, "| "), "|")
					if len(cells) == 3 {
						f.rows = append(f.rows, [3]string{strings.TrimSpace(cells[0]), strings.TrimSpace(cells[1]), strings.TrimSpace(cells[2])})
					}
				}
			}
			if len(f.rows) > 2 {
				list = append(list, f)
			}
		}
	}
	return list
}

// firstRow is the line of a chart's first row in a sheet with facts about its ends.
const firstRow = 15

// sheet returns a sheet that dances the chart once.
func (c *chart) sheet(facts bool) string {
	var b strings.Builder
	fmt.Fprintf(&b, "---\ndance: %s\n---\n\n## Order\n\n1. %s\n\n## %s\n", c.dance, c.name, c.name)
	starts, ends := "\n", "\n"
	if facts {
		starts, ends = c.starts+"\n", c.ends+"\n"
	}
	b.WriteString(starts + ends + "\n| Count | Leader | Follower |\n|---|---|---|\n")
	for _, r := range c.rows {
		fmt.Fprintf(&b, "| %s | %s | %s |\n", r[0], r[1], r[2])
	}
	return b.String()
}

// change makes one mistake in a chart at row i, of partner p (1 or 2). It returns false if there is nothing of its kind to change.
type change func(r *rand.Rand, c *chart, i, p int) bool

func in(pattern string, with func(r *rand.Rand, found string) string) change {
	re := regexp.MustCompile(pattern)
	return func(r *rand.Rand, c *chart, i, p int) bool {
		cell := c.rows[i][p]
		at := re.FindStringIndex(cell)
		if at == nil {
			return false
		}
		c.rows[i][p] = cell[:at[0]] + with(r, cell[at[0]:at[1]]) + cell[at[1]:]
		return true
	}
}

func swap(pairs ...string) func(*rand.Rand, string) string {
	re := strings.NewReplacer(pairs...)
	return func(_ *rand.Rand, s string) string { return re.Replace(s) }
}

var ways = []string{"LOD", "DW", "wall", "DW against LOD", "against LOD", "DC against LOD", "centre", "DC"}

var mistakes = []struct {
	name string
	make change
	row  bool // has a place
	// In how many of 40 it must be found.
	with, without, renamed int
}{
	{"wrong foot", in(`^[LR]F`, swap("LF", "RF", "RF", "LF")), true, 40, 40, 40},
	{"alignment", in(`(facing|backing) [^,(]+`, func(r *rand.Rand, s string) string {
		stand, to, _ := strings.Cut(strings.TrimSpace(s), " ")
		for {
			if w := ways[r.IntN(8)]; w != to {
				return stand + " " + w
			}
		}
	}), true, 40, 40, 40},
	{"turn dropped", in(`, ([1-7]/[248]|1|1 [1-7]/[248]) [LR]\b`, func(*rand.Rand, string) string { return "" }), true, 38, 30, 39},
	{"turn reversed", in(`, ([1-7]/[248]|1|1 [1-7]/[248]) [LR]\b`, swap(" L", " R", " R", " L")), true, 38, 30, 39},
	{"forward for back", in(`\b(forward|back)\b`, swap("forward", "back", "back", "forward")), true, 30, 20, 34},
	{"forward for side", in(`\bside\b`, swap("side", "forward")), true, 30, 20, 37},
	{"tap for step", in(`^[LR]F (forward|back|side|close)`, func(_ *rand.Rand, s string) string { return s[:2] + " tap" + s[2:] }), true, 32, 32, 35},
	{"row dropped", func(r *rand.Rand, c *chart, i, p int) bool {
		c.rows = append(c.rows[:i:i], c.rows[i+1:]...)
		return true
	}, true, 40, 40, 38},
	{"row doubled", func(r *rand.Rand, c *chart, i, p int) bool {
		c.rows = append(c.rows[:i+1:i+1], c.rows[i:]...)
		return true
	}, true, 40, 40, 40},
	{"rows swapped", func(r *rand.Rand, c *chart, i, p int) bool {
		if i+1 == len(c.rows) || c.rows[i] == c.rows[i+1] {
			return false
		}
		c.rows[i], c.rows[i+1] = c.rows[i+1], c.rows[i]
		return true
	}, true, 40, 40, 40},
	{"columns swapped", func(r *rand.Rand, c *chart, i, p int) bool {
		same := true // as in shadow
		for i := range c.rows {
			same = same && c.rows[i][1] == c.rows[i][2]
			c.rows[i][1], c.rows[i][2] = c.rows[i][2], c.rows[i][1]
		}
		return !same
	}, false, 38, 38, 30},
	{"follower copied", func(r *rand.Rand, c *chart, i, p int) bool {
		same := true
		for i := range c.rows {
			same = same && c.rows[i][1] == c.rows[i][2]
			c.rows[i][2] = c.rows[i][1]
		}
		return !same
	}, false, 38, 38, 37},
}

// asks reports whether a finding has the dancer look at a step again, if only in a note.
func asks(f routine.Finding) bool {
	return f.Severity != routine.Note || f.Code == "figure-resembles"
}

// TestOneMistakeIsFoundWhereItIs makes one mistake at a time in the library's figures, 200 of each kind, and
// counts in how many it is found, with what the figures say of their start and end and without, and
// under another name, where nothing is known of them but their steps.
func TestOneMistakeIsFoundWhereItIs(t *testing.T) {
	const each = 200
	of40 := func(n int) int { return n * each / 40 }
	lib := shipped()
	var sound []chart
	for _, c := range charts(t) {
		if _, found := check.Sheet("sound.md", []byte(c.sheet(true)), lib); len(found) == 0 {
			sound = append(sound, c)
		}
	}
	require.Greater(t, len(sound), 250)
	for _, c := range sound {
		_, found := check.Sheet("sound.md", []byte(c.sheet(false)), lib)
		require.Empty(t, routine.Objections(found), "%s", c.sheet(false))
	}
	for _, m := range mistakes {
		t.Run(m.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(7, uint64(len(m.name))))
			var with, without, renamed, near, findings int
			for n := 0; n < each; {
				c := sound[r.IntN(len(sound))]
				row, p := r.IntN(len(c.rows)), 1+r.IntN(2)
				c.rows = slices.Clone(c.rows)
				if !m.make(r, &c, row, p) {
					continue
				}
				n++
				objections := func(facts bool) []routine.Finding {
					_, found := check.Sheet("mistake.md", []byte(c.sheet(facts)), lib)
					return routine.Objections(found)
				}
				if found := objections(true); len(found) > 0 {
					with++
					findings += len(found)
					if by := found[0].Span.Start.Line - firstRow - row; -1 <= by && by <= 1 {
						near++
					}
				}
				if len(objections(false)) > 0 {
					without++
				}
				c.name = "Lantern step"
				if _, found := check.Sheet("mistake.md", []byte(c.sheet(false)), lib); slices.ContainsFunc(found, asks) {
					renamed++
				}
			}
			t.Logf("with %d, near %d, findings %d; without %d, under another name %d", with, near, findings, without, renamed)
			assert.GreaterOrEqual(t, with, of40(m.with))
			assert.GreaterOrEqual(t, without, of40(m.without))
			assert.GreaterOrEqual(t, renamed, of40(m.renamed))
			assert.LessOrEqual(t, 10*findings, 13*with)
			if m.row {
				assert.GreaterOrEqual(t, near, of40(35))
			}
		})
	}
}
