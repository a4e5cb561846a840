package choreography

import (
	"cmp"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// chain is figures, or parts of some, danced one after another, and the outcome they lead to.
type chain struct {
	items []routine.Item
	end   routine.Outcome
	level int           // the sum of their levels
	beats routine.Beats // their length
	place []int         // the index of each in the library, which goes from easy to hard
}

func (c *chain) with(item routine.Item, place int, end routine.Outcome, takes routine.Beats) chain {
	return chain{
		items: append(slices.Clip(c.items), item),
		place: append(slices.Clip(c.place), place),
		end:   end, level: c.level + item.Figure.Rank(), beats: c.beats + takes,
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
	From         routine.Outcome   // at the end of Before
	others       []routine.Outcome // at the end of Before danced in other ways
}

// Between returns the join of two figures of d.
func Between(d *routine.Dance, first, next *routine.Figure) Join {
	j := Join{Dance: d, Before: routine.Whole(first), Next: routine.Whole(next)}
	for i, way := range first.Ways() {
		end, _, _ := routine.Outcome{}.Then(d, way)
		if i == 0 {
			j.From = end
		} else {
			j.others = append(j.others, end)
		}
	}
	return j
}

// Link returns the shortest chains of whole figures after which the join's next item can be
// danced: at most most of them, the easiest first. All must be in order from easy to hard.
// A single empty chain means that nothing is needed.
func (j *Join) Link(all []*routine.Figure, most int) (links [][]*routine.Figure) {
	for _, items := range j.link(all, most, false) {
		links = append(links, figuresOf(items))
	}
	return links
}

// figuresOf returns the figures of items, one for each.
func figuresOf(items []routine.Item) []*routine.Figure {
	figs := make([]*routine.Figure, len(items))
	for i := range items {
		figs[i] = items[i].Figure
	}
	return figs
}

// LinkParts is Link with the parts of figures that are danced by themselves.
func (j *Join) LinkParts(all []*routine.Figure, most int) [][]routine.Item {
	return j.link(all, most, true)
}

func (j *Join) link(all []*routine.Figure, most int, parts bool) (links [][]routine.Item) {
	var layer []chain
	seen := map[routine.Outcome]bool{}
	for _, from := range append([]routine.Outcome{j.From}, j.others...) {
		layer = append(layer, chain{end: from})
	}
	for range longestLink + 1 {
		slices.SortStableFunc(layer, easier)
		for _, c := range layer {
			if len(links) < most && !hasLink(links, c.items) && j.closed(&c) {
				links = append(links, c.items)
			}
		}
		if len(links) > 0 {
			return links
		}
		layer = nextLayer(j.Dance, layer, all, parts, seen)
	}
	return nil
}

// hasLink reports whether items are one of links already, danced in other ways.
func hasLink(links [][]routine.Item, items []routine.Item) bool {
	return slices.ContainsFunc(links, func(link []routine.Item) bool {
		return slices.EqualFunc(link, items, func(a, b routine.Item) bool {
			return a.Figure == b.Figure && a.From == b.From && a.To == b.To
		})
	})
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
	_, parted := danced(j.Dance, slices.Concat([]routine.Item{before}, c.items, []routine.Item{next}))
	return len(parted) == 0
}

// nextLayer returns the chains that are one figure longer, or one part if parts is true. It leaves out
// outcomes already reached with fewer, but not that of the join itself: a step in place may be all that
// the next figure needs.
func nextLayer(d *routine.Dance, layer []chain, all []*routine.Figure, parts bool, seen map[routine.Outcome]bool) (next []chain) {
	kept := map[routine.Outcome]int{}
	for _, c := range layer {
		for i, fig := range all {
			for n, ways := range ways(fig) {
				if n > 0 && !parts {
					break
				}
				for _, p := range ways {
					end, takes, parted := c.end.ThenPart(d, p.way, p.from, p.to)
					if len(parted) > 0 || seen[end] || kept[end] == keptChains {
						continue
					}
					kept[end]++
					next = append(next, c.with(p.item(), i, end, takes))
				}
			}
		}
	}
	for m := range kept {
		seen[m] = true
	}
	return next
}

// ItemNames returns the names of items, each with the steps if it is a part, in the order in which they are danced.
func ItemNames(items []routine.Item) string {
	names := make([]string, len(items))
	for i, item := range items {
		names[i] = item.Figure.Part(item.From, item.To)
	}
	return strings.Join(names, ", then ")
}

// Names returns the names of figures, in the order in which they are danced.
func Names(figs []*routine.Figure) string {
	names := make([]string, len(figs))
	for i, fig := range figs {
		names[i] = fig.Name
	}
	return strings.Join(names, ", then ")
}
