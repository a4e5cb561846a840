package choreography

import (
	"fmt"
	"slices"

	"dance.example/slowquick/routine"
)

// part is a section of a routine as its sheet writes it.
type part struct {
	name  string
	items []routine.Item
}

// shortestPart is how many bars a part of a sheet has at least.
const shortestPart = 4

// parts returns the parts of a routine and the order in which they are danced, by name. A section that comes
// back is the same part if it is danced alike, else a part of its own: part A2. There are none if a figure
// crosses from one section to the next, or if sections are too short for a part.
func parts(bar routine.Beats, plan []section, steps []danceStep, items []routine.Item) (parts []part, order []string) {
	if plan[0].to-plan[0].from < shortestPart*bar {
		return nil, nil
	}
	versions := map[byte]int{}
	for _, s := range plan {
		if len(steps) > 0 && steps[0].at != s.from {
			return nil, nil
		}
		n := 0
		for ; len(steps) > 0 && steps[0].at < s.to; steps = steps[1:] {
			n += len(steps[0].danced)
		}
		p := part{"Part " + string(s.letter), items[:n]}
		items = items[n:]
		i := slices.IndexFunc(parts, func(other part) bool { return slices.EqualFunc(other.items, p.items, alike) })
		if i < 0 {
			if versions[s.letter]++; versions[s.letter] > 1 {
				p.name += fmt.Sprint(versions[s.letter])
			}
			i, parts = len(parts), append(parts, p)
		}
		order = append(order, parts[i].name)
	}
	return parts, order
}

// alike reports whether two items are written alike.
func alike(a, b routine.Item) bool {
	return a.Figure == b.Figure && a.From == b.From && a.To == b.To && a.Corner == b.Corner
}
