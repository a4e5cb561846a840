package choreography

import (
	"slices"

	"dance.example/slowquick/routine"
)

// GoOn returns chains of figures in all, from easy to hard, that take exactly so long from one of some
// outcomes: at most most of them, those of fewer figures first. No figure stands twice in a row.
func GoOn(d *routine.Dance, from []routine.Outcome, all []*routine.Figure, long routine.Beats, most int) (chains [][]*routine.Figure) {
	type reached struct {
		end   routine.Outcome
		beats routine.Beats
	}
	kept := map[reached]int{}
	var layer []chain
	for _, end := range from {
		layer = append(layer, chain{end: end})
	}
	for range longestLink {
		var next []chain
		for _, c := range layer {
			for i, fig := range all {
				if n := len(c.items); n > 0 && c.items[n-1].Figure == fig {
					continue
				}
				for _, way := range fig.Ways() {
					end, takes, parted := c.end.Then(d, way)
					at := reached{end, c.beats + takes}
					if len(parted) > 0 || at.beats > long || kept[at] == keptChains {
						continue
					}
					kept[at]++
					next = append(next, c.with(routine.Whole(fig), i, end, takes))
					break
				}
			}
		}
		slices.SortStableFunc(next, easier)
		for _, c := range next {
			if c.beats == long && len(chains) < most {
				chains = append(chains, figuresOf(c.items))
			}
		}
		if len(chains) == most {
			break
		}
		layer = next
	}
	return chains
}
