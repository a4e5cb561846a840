package report

import (
	"fmt"

	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
)

// Linked is what links two figures, as programs read it. One empty list of figures says that
// nothing is needed; no list, that nothing links the two.
type Linked struct {
	Dance  string     `json:"dance"`
	First  string     `json:"first"`
	Second string     `json:"second"`
	Links  [][]string `json:"links"`
}

// Names returns the names of linked figures, or of their parts.
func Names(links [][]routine.Item) [][]string {
	all := [][]string{}
	for _, items := range links {
		names := []string{}
		for _, item := range items {
			names = append(names, item.Figure.Part(item.From, item.To))
		}
		all = append(all, names)
	}
	return all
}

// Links prints figures to dance between two.
func Links(p Page, ends []*routine.Figure, links [][]routine.Item) {
	if len(links[0]) == 0 {
		fmt.Fprintf(p, "%s can be danced right after %s.\n", ends[1].Name, ends[0].Name)
		return
	}
	for _, items := range links {
		fmt.Fprintf(p, "%s, then %s, then %s\n", ends[0].Name, choreography.ItemNames(items), ends[1].Name)
	}
}
