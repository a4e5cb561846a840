package choreography

import (
	"cmp"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// chain is figures danced one after another, and the outcome they lead to.
type chain struct {
	figs  []*routine.Figure
	end   routine.Outcome
	level int           // the sum of their levels
	beats routine.Beats // their length
	place []int         // the index of each in the library, which goes from easy to hard
}

func (c *chain) with(fig *routine.Figure, place int, end routine.Outcome, takes routine.Beats) chain {
	return chain{
		figs:  append(slices.Clip(c.figs), fig),
		place: append(slices.Clip(c.place), place),
		end:   end, level: c.level + fig.Rank(), beats: c.beats + takes,
	}
}

// easier compares chains of equal length; it orders them from easy to hard.
func easier(a, b chain) int {
	return cmp.Or(cmp.Compare(a.level, b.level), cmp.Compare(a.beats, b.beats), slices.Compare(a.place, b.place))
}

// The limits of a search for links.
const (
	longestLink = 5 // figures in a link
	keptChains  = 3 // chains kept that lead to the same outcome
)

// Join is where one item of an order meets the next.
type Join struct {
	Dance        *routine.Dance
	Before, Next routine.Item
	From         routine.Outcome // at the end of Before
}

// Between returns the join of two figures of d.
func Between(d *routine.Dance, first, next *routine.Figure) Join {
	from, _, _ := routine.Outcome{}.Then(d, first)
	return Join{Dance: d, Before: routine.Whole(first), Next: routine.Whole(next), From: from}
}

// Link returns the shortest chains of figures after which the join's next item can be
// danced: at most most of them, the easiest first. All must be in order from easy to hard.
// A single empty chain means that nothing is needed.
func (j *Join) Link(all []*routine.Figure, most int) (links [][]*routine.Figure) {
	layer, seen := []chain{{end: j.From}}, map[routine.Outcome]bool{}
	for range longestLink + 1 {
		slices.SortStableFunc(layer, easier)
		for _, c := range layer {
			if len(links) < most && j.closed(&c) {
				links = append(links, c.figs)
			}
		}
		if len(links) > 0 {
			return links
		}
		layer = nextLayer(j.Dance, layer, all, seen)
	}
	return nil
}

// closed reports whether a chain closes the join, on the floor too.
func (j *Join) closed(c *chain) bool {
	if !slices.ContainsFunc(j.Next.Figure.PartWays(j.Next.From, j.Next.To), func(way *routine.Figure) bool {
		_, _, apart := c.end.ThenPart(j.Dance, way, j.Next.From, j.Next.To)
		return len(apart) == 0
	}) {
		return false
	}
	before, next := j.Before, j.Next
	before.Times, next.Times = 1, 1
	items := []routine.Item{before}
	for _, fig := range c.figs {
		items = append(items, routine.Whole(fig))
	}
	_, parted := danced(j.Dance, append(items, next))
	return len(parted) == 0
}

// nextLayer returns the chains that are one figure longer. It leaves out outcomes already
// reached with fewer figures, but not that of the join itself: a step in place may be all that
// the next figure needs.
func nextLayer(d *routine.Dance, layer []chain, all []*routine.Figure, seen map[routine.Outcome]bool) (next []chain) {
	kept := map[routine.Outcome]int{}
	for _, c := range layer {
		for i, fig := range all {
			for _, way := range fig.Ways() {
				end, takes, parted := c.end.Then(d, way)
				if len(parted) > 0 || seen[end] || kept[end] == keptChains {
					continue
				}
				kept[end]++
				next = append(next, c.with(fig, i, end, takes))
			}
		}
	}
	for m := range kept {
		seen[m] = true
	}
	return next
}

// Names returns the names of figures, in the order in which they are danced.
func Names(figs []*routine.Figure) string {
	names := make([]string, len(figs))
	for i, fig := range figs {
		names[i] = fig.Name
	}
	return strings.Join(names, ", then ")
}
