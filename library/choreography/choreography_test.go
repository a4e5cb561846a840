package choreography_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/testdata/thorough"
)

// shipped returns the library that ships with the program, opened once.
var shipped = sync.OnceValue(library.Open)

// sheet returns a sheet that dances figures one after another.
func sheet(d *routine.Dance, figs ...*routine.Figure) []byte {
	text := fmt.Sprintf("---\ndance: %s\n---\n\n## Order\n\n", d.Name)
	for i, fig := range figs {
		text += fmt.Sprintf("%d. %s\n", i+1, fig.Name)
	}
	return []byte(text)
}

// codes returns the codes of findings, except that of an open last bar.
func codes(found []routine.Finding) (list []routine.Code) {
	for _, f := range found {
		if f.Code != "last-bar-open" {
			list = append(list, f.Code)
		}
	}
	return list
}

func chapters(t testing.TB) (*library.Library, []*library.Chapter) {
	lib := shipped()
	var all []*library.Chapter
	for _, name := range lib.Dances() {
		c, ok := lib.Chapter(name)
		require.True(t, ok, name)
		all = append(all, c)
	}
	return lib, all
}

// TestNeighboursAreThoseThatCheckAccepts: a figure may follow another exactly if a sheet of
// the two is accepted, and what parts them is what the sheet is refused for.
func TestNeighboursAreThoseThatCheckAccepts(t *testing.T) {
	const seed = 11
	most := 50
	if thorough.Asked() {
		most = 400
	}
	random := rand.New(rand.NewPCG(seed, 0))
	lib, all := chapters(t)
	for _, c := range all {
		var pairs [][2]*routine.Figure
		for _, a := range c.Figures {
			for _, b := range c.Figures {
				pairs = append(pairs, [2]*routine.Figure{a, b})
			}
		}
		random.Shuffle(len(pairs), func(i, j int) { pairs[i], pairs[j] = pairs[j], pairs[i] })
		all := len(pairs)
		pairs = pairs[:min(len(pairs), most)]
		can := 0
		for _, pair := range pairs {
			_, found := check.Sheet("pair.md", sheet(c.Dance, pair[:]...), lib)
			parted := choreography.Parted(c.Dance, pair[0], pair[1])
			assert.ElementsMatch(t, codes(found), codes(parted), "%s: %s, then %s", c.Dance.Name, pair[0].Name, pair[1].Name)
			if len(parted) == 0 {
				can++
			}
		}
		assert.Positive(t, can, c.Dance.Name)
		t.Logf("%s: %d of %d pairs can be danced (%d pairs in all, seed %d)", c.Dance.Name, can, len(pairs), all, seed)
	}
}

// TestOutcomesSayWhatSheetsSay: following figures one by one finds the same faults as a
// sheet that dances them all.
func TestOutcomesSayWhatSheetsSay(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 0))
	lib, all := chapters(t)
	joins := 0
	for _, c := range all {
		for range 60 {
			order := []*routine.Figure{c.Figures[random.IntN(len(c.Figures))]}
			at, _ := thenAnyWay(c.Dance, []routine.Outcome{{}}, order[0])
			for range 6 {
				next := c.Figures[random.IntN(len(c.Figures))]
				after, parted := thenAnyWay(c.Dance, at, next)
				_, found := routine.Read("order.md", sheet(c.Dance, append(order, next)...), lib)
				found = slices.DeleteFunc(found, func(f routine.Finding) bool { return f.Code == "mixed-families" }) // not of a join
				told := slices.ContainsFunc(parted, func(f []routine.Finding) bool { return slices.Equal(sorted(codes(f)), sorted(codes(found))) })
				require.True(t, told, "%s: %s, then %s: %v, %v", c.Dance.Name, choreography.Names(order), next.Name, codes(found), parted)
				if len(after) > 0 {
					order, at = append(order, next), after
					joins++
				}
			}
		}
	}
	assert.Greater(t, joins, 500)
}

// thenAnyWay dances all ways of a figure from several outcomes. It returns those to which they lead and, if they lead to
// none, what keeps each from being danced; else one list, which is empty.
func thenAnyWay(d *routine.Dance, at []routine.Outcome, fig *routine.Figure) (after []routine.Outcome, parted [][]routine.Finding) {
	for _, from := range at {
		for _, way := range fig.Ways() {
			switch to, _, apart := from.Then(d, way); {
			case len(apart) > 0:
				parted = append(parted, apart)
			case !slices.Contains(after, to):
				after = append(after, to)
			}
		}
	}
	if len(after) > 0 {
		parted = [][]routine.Finding{nil}
	}
	return after, parted
}

func sorted(codes []routine.Code) []routine.Code { return slices.Sorted(slices.Values(codes)) }

// TestATurnThatHelps: the figure can be danced after the turn, and after no smaller one.
func TestATurnThatHelps(t *testing.T) {
	_, all := chapters(t)
	helped := 0
	for _, c := range all {
		for _, fig := range c.Figures {
			for _, n := range choreography.After(c.Dance, fig, c.Figures) {
				if n.Turn == 0 {
					continue
				}
				helped++
				after, _, _ := routine.Outcome{}.Then(c.Dance, fig)
				for turn := routine.Turn(-4); turn <= 4; turn++ {
					_, _, parted := after.Turned(turn).Then(c.Dance, n.Figure)
					if turn == n.Turn {
						assert.Empty(t, parted)
					} else if max(turn, -turn) < max(n.Turn, -n.Turn) {
						assert.NotEmpty(t, parted)
					}
				}
			}
		}
	}
	assert.Greater(t, helped, 20)
}

func TestLinks(t *testing.T) {
	lib, all := chapters(t)
	random := rand.New(rand.NewPCG(3, 0))
	lengths := map[int]int{}
	for _, c := range all {
		for range 40 {
			a, b := c.Figures[random.IntN(len(c.Figures))], c.Figures[random.IntN(len(c.Figures))]
			join := choreography.Between(c.Dance, a, b)
			links := join.Link(c.Figures, 3)
			if len(links) == 0 {
				lengths[-1]++
				continue
			}
			lengths[len(links[0])]++
			level := 0
			for i, figs := range links {
				assert.Len(t, figs, len(links[0]))
				_, found := check.Sheet("link.md", sheet(c.Dance, append(append([]*routine.Figure{a}, figs...), b)...), lib)
				assert.Empty(t, codes(found), "%s: %s, %s, %s", c.Dance.Name, a.Name, choreography.Names(figs), b.Name)
				sum := 0
				for _, fig := range figs {
					sum += fig.Level
				}
				assert.GreaterOrEqual(t, sum, level, "link %d is easier than the one before", i)
				level = sum
			}
			if len(links[0]) == 2 { // one figure is not enough
				for _, fig := range c.Figures {
					assert.NotEmpty(t, choreography.Parted(c.Dance, a, fig, b), "%s: %s, %s, %s", c.Dance.Name, a.Name, fig.Name, b.Name)
				}
			}
		}
	}
	assert.Positive(t, lengths[0])
	assert.Positive(t, lengths[1])
	assert.Positive(t, lengths[2])
	t.Log("links by their number of figures, -1 for none:", lengths)
}

func TestTheSameSeedGivesTheSameRoutine(t *testing.T) {
	lib := shipped()
	c, _ := lib.Chapter("waltz")
	w := choreography.Wish{Bars: 16, Level: 1, Seed: 42, Faces: &routine.Alignment{Stand: routine.Facing, To: routine.DW}}
	one, err := choreography.Compose(c.Dance, c.Figures, w)
	require.NoError(t, err)
	for range 20 {
		two, err := choreography.Compose(c.Dance, c.Figures, w)
		require.NoError(t, err)
		require.Equal(t, one.Sheet(c.Dance, w), two.Sheet(c.Dance, w))
	}
	assert.Contains(t, string(one.Sheet(c.Dance, w)), "faces: DW\n")
}

func TestWishesThatNothingFulfils(t *testing.T) {
	lib := shipped()
	c, _ := lib.Chapter("waltz")
	for _, w := range []choreography.Wish{{Bars: 0}, {Bars: -3}, {Bars: choreography.MostBars + 1}, {Bars: 8, Level: -1}} {
		_, err := choreography.Compose(c.Dance, c.Figures[:0], w)
		assert.ErrorIs(t, err, choreography.ErrNone)
	}
	two := c.Figures[:1] // a figure of two bars can't fill three
	require.Equal(t, 2*c.Dance.Metre.Bar(), two[0].Length(0, len(two[0].Rows)))
	_, err := choreography.Compose(c.Dance, two, choreography.Wish{Bars: 3})
	assert.ErrorIs(t, err, choreography.ErrNone)
}

func TestARoutineOfOneBarIsTitledSo(t *testing.T) {
	c, _ := shipped().Chapter("cha-cha")
	wish := choreography.Wish{Bars: 1}
	r, err := choreography.Compose(c.Dance, c.Figures, wish)
	require.NoError(t, err)
	assert.Contains(t, string(r.Sheet(c.Dance, wish)), "title: Cha-cha, 1 bar\n")
}

func BenchmarkLink(b *testing.B) {
	_, all := chapters(b)
	for _, c := range all {
		b.Run(strings.ReplaceAll(c.Dance.Name, " ", "-"), func(b *testing.B) {
			first, last := c.Figures[0], c.Figures[len(c.Figures)-1]
			for b.Loop() {
				join := choreography.Between(c.Dance, first, last)
				join.Link(c.Figures, 5)
			}
		})
	}
}

func BenchmarkCompose(b *testing.B) {
	_, all := chapters(b)
	for _, c := range all {
		b.Run(strings.ReplaceAll(c.Dance.Name, " ", "-"), func(b *testing.B) {
			w := choreography.Wish{Level: 2}
			w.Bars = choreography.UsualBars(c.Dance, c.Figures, w) // 16, or what figures of six beats fill
			for ; b.Loop(); w.Seed++ {
				_, err := choreography.Compose(c.Dance, c.Figures, w)
				require.NoError(b, err)
			}
		})
	}
}

// TestDrills: a figure is drilled by itself, with its mirror image, or with what leads back,
// and the whole can be looped.
func TestDrills(t *testing.T) {
	lib, all := chapters(t)
	mirrored := 0
	for _, c := range all {
		for _, fig := range c.Figures {
			order := choreography.Repeat(c.Dance, fig, c.Figures)
			if order == nil {
				continue
			}
			require.Same(t, fig, order[0])
			_, found := check.Sheet("drill.md", sheet(c.Dance, append(order, order...)...), lib)
			assert.Subset(t, []routine.Code{"against-line-of-dance"}, codes(found), "%s: %s", c.Dance.Name, choreography.Names(order))
			if len(order) == 2 && strings.Contains(order[1].Name, "to the right") && strings.Contains(fig.Name, "to the left") {
				mirrored++
			}
		}
	}
	assert.Greater(t, mirrored, 3)
	// Common practice: how beginners drill these.
	for _, want := range []struct{ dance, order string }{
		{"rumba", "Closed basic"},
		{"rumba", "New York to the left side, then New York to the right side"},
		{"waltz", "Natural turn, then RF closed change, then Reverse turn, then LF closed change"},
	} {
		c, _ := lib.Chapter(want.dance)
		name, _, _ := strings.Cut(want.order, ", then ")
		fig, ok := lib.Figure(c.Dance, name)
		require.True(t, ok)
		assert.Equal(t, want.order, choreography.Names(choreography.Repeat(c.Dance, fig, c.Figures)))
	}
}

// TestWhatFollowsPassesInItsWay: what is listed after a figure, whole or in part, passes as a sheet, and is
// danced there in the way that is said.
func TestWhatFollowsPassesInItsWay(t *testing.T) {
	lib, _ := chapters(t)
	ways, parts := 0, 0
	for _, dance := range []string{"waltz", "quickstep"} {
		c, ok := lib.Chapter(dance)
		require.True(t, ok)
		for i := 0; i < len(c.Figures); i += 4 {
			fig := c.Figures[i]
			for _, n := range choreography.Danceable(choreography.After(c.Dance, fig, c.Figures)) {
				if n.Turn != 0 {
					continue
				}
				text := fmt.Sprintf("---\ndance: %s\n---\n\n## Order\n\n1. %s\n2. %s\n", dance, fig.Name, n.Name())
				score, found := check.Sheet("pair.md", []byte(text), lib)
				require.Empty(t, codes(found), text)
				require.Equal(t, n.Way, score.Passages[1].Figure.Differs(), text)
				require.Equal(t, n.Other, score.Passages[0].Figure.Differs(), text)
				if n.Way+n.Other != "" {
					ways++
				}
				if n.To-n.From < len(n.Figure.Rows) {
					parts++
				}
			}
		}
	}
	t.Logf("%d in another way than charted, %d parts", ways, parts)
	assert.Positive(t, ways)
	assert.Positive(t, parts)
}

// TestLinksUseParts: the first half of a natural turn leads where whole figures don't.
func TestLinksUseParts(t *testing.T) {
	c, ok := shipped().Chapter("waltz")
	require.True(t, ok)
	figs, ok := c.Named("Natural turn", "Closed impetus")
	require.True(t, ok)
	join := choreography.Between(c.Dance, figs[0], figs[1])
	var names []string
	for _, items := range join.LinkParts(c.Figures, 5) {
		names = append(names, choreography.ItemNames(items))
	}
	assert.Contains(t, strings.Join(names, "; "), "Natural turn, steps 1–3")
}
