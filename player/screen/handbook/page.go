package handbook

import (
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"

	tea "github.com/charmbracelet/bubbletea"
)

// figurePage is the page of a figure.
type figurePage struct {
	chapter *Chapter
	figure  *routine.Figure
	part    part
	top     int // the first line of the steps that is seen
	view    plan.View

	read   bool          // what follows has been filled in
	path   *floor.Path   // of the figure by itself
	beside [2]neighbours // what can be danced before and after it
}

// neighbours is a list of neighbours, one of them chosen.
type neighbours struct {
	list []Neighbour
	term.Chooser
}

// part is a part of a figure's page: what is seen below its name.
type part int

const (
	stepsPart part = iota
	floorPart      // in windows that have no room for it beside the steps
	afterPart
	beforePart
	parts // how many there are
)

// neighbours returns those that the part seen lists; nil if it lists none.
func (p *figurePage) neighbours() *neighbours {
	switch p.part {
	case afterPart:
		return &p.beside[1]
	case beforePart:
		return &p.beside[0]
	}
	return nil
}

// figureMsg brings what a page shows.
type figureMsg struct {
	page   *figurePage
	path   *floor.Path
	beside [2][]Neighbour
}

// readFigure dances a figure on the floor and finds its neighbours.
func readFigure(h Book, p *figurePage) tea.Cmd {
	c, fig := p.chapter, p.figure
	return func() tea.Msg {
		m := figureMsg{page: p, path: floor.Trace(fig.Alone(c.Dance, c.Dance.Stride, fig.Starts.Positions))}
		m.beside[0], m.beside[1] = h.Beside(c, fig)
		return m
	}
}

func (p *figurePage) fill(msg figureMsg) {
	p.read, p.path = true, msg.path
	for i, list := range msg.beside {
		p.beside[i] = neighbours{list, term.NewChooser("")}
		p.beside[i].Fill(make([]string, len(list)))
	}
}

// turn shows the next part, or the one before.
func (p *figurePage) turn(by int, width int) {
	p.part = (p.shownPart(width) + parts + part(by)) % parts
	if p.part == floorPart && width >= widePage {
		p.part += part(by)
	}
}

// shownPart returns the part that is seen; where the floor is drawn beside the
// steps, both are the part of the steps.
func (p *figurePage) shownPart(width int) part {
	if p.part == floorPart && width >= widePage {
		return stepsPart
	}
	return p.part
}

// floorSeen reports whether the page shows the floor in so many columns.
func (p *figurePage) floorSeen(width int) bool {
	return p.part == floorPart || p.part == stepsPart && width >= widePage
}

const (
	// fullWidth is the least width in which lists have all their columns.
	fullWidth = 80
	// widePage is the least width in which the floor is drawn beside the steps.
	widePage = 100
	// legendLess is the most lines of the floor without a legend below them.
	legendLess = 8
)
