package making

import (
	"fmt"

	"dance.example/slowquick/player/draft"
)

// offers are lines to put in, of which one is chosen.
type offers struct {
	title  string
	list   []draft.Offer
	none   string // what is said if there are none
	chosen int
}

// links returns what links a line with the one before it, if that is amiss, or the one after it.
func links(d draft.Draft, line int) offers {
	list, says := d.Links(line)
	return offers{title: "What can go " + says, list: list, none: says}
}

// leadingTo returns what leads from a line to a figure.
func leadingTo(d draft.Draft, line int, to *draft.Next) offers {
	return offers{
		title: "What leads to " + to.Name(), list: d.LinksTo(line, to),
		none: fmt.Sprintf("nothing leads to %s from here: %s", to.Name(), to.Why),
	}
}

// suggestions returns ways to go on from a line.
func suggestions(d draft.Draft, line int) offers {
	return offers{title: "How to go on", list: d.Suggest(line), none: "nothing can be suggested here"}
}
