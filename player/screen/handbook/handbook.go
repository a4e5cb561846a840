// Package handbook shows the handbook's pages: the dances, the figures of a
// dance, and of each figure its steps, where it goes on the floor, and what can
// be danced before and after it.
//
// It opens no sheet and dances nothing: Press reports that a figure is to be
// drilled, and Figure says which. Begin with [Browser], the model, and [Book],
// which it shows.
package handbook

import (
	"fmt"

	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Book knows dances and their figures. Its methods are called from commands,
// perhaps several at a time, as they may have to read and search.
type Book interface {
	// Chapters lists the dances.
	Chapters() []Chapter
	// Beside lists the figures of a chapter that can be danced before one of them,
	// and those that can be danced after it; the ones that need no turn come first.
	Beside(c *Chapter, fig *routine.Figure) (before, after []Neighbour)
}

// Chapter is a dance and its figures, from easy to hard. It is immutable.
type Chapter struct {
	Dance   *routine.Dance
	Figures []*routine.Figure
}

// Neighbour is a figure that can be danced before or after another.
type Neighbour struct {
	Figure *routine.Figure
	Turn   routine.Turn // of the couple between the two, before the first step; 0 for none
}

// Browser shows a [Book]: the dances, the figures of a dance and pages of
// figures, each opened from the one before.
type Browser struct {
	source   Book
	keys     browserKeys
	read     bool // the chapters are here
	chapters []Chapter
	dances   term.Chooser
	chapter  *Chapter // whose figures are seen; nil for the dances
	figures  term.Chooser
	pages    []*figurePage // the last is seen; empty for the list of figures
	News     term.News     // until a key is pressed

	theme         term.Theme
	width, height int
}

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

// New returns a browser that shows the dances once the command of Init has read them.
func New(source Book, t term.Theme) *Browser {
	return &Browser{source: source, theme: t, keys: newKeys(), dances: term.NewChooser("a dance")}
}

// chaptersMsg brings the dances.
type chaptersMsg []Chapter

// Init returns the command that reads the dances.
func (h *Browser) Init() tea.Cmd {
	return func() tea.Msg { return chaptersMsg(h.source.Chapters()) }
}

// Msg is a message that a browser's commands bring, for its Update.
type Msg interface{ handbookMsg() }

func (chaptersMsg) handbookMsg() {}
func (figureMsg) handbookMsg()   {}

// Update takes in what a command has read.
func (h *Browser) Update(msg Msg) {
	switch msg := msg.(type) {
	case chaptersMsg:
		h.fill(msg)
	case figureMsg:
		msg.page.fill(msg)
	}
}

// Resize lays everything out for a window.
func (h *Browser) Resize(width, height int) { h.width, h.height = width, height }

// Figure returns the figure whose page is seen, and its chapter; nil for a list.
func (h *Browser) Figure() (*Chapter, *routine.Figure) {
	if p := h.page(); p != nil {
		return p.chapter, p.figure
	}
	return nil, nil
}

// fill takes in the dances.
func (h *Browser) fill(msg chaptersMsg) {
	h.chapters, h.read = msg, true
	texts := make([]string, len(msg))
	for i := range msg {
		texts[i] = msg[i].Dance.Name
		for _, name := range msg[i].Dance.Aliases {
			texts[i] += " " + name
		}
	}
	h.dances.Fill(texts)
}

// openChapter shows the figures of a dance.
func (h *Browser) openChapter(c *Chapter) {
	h.chapter, h.figures = c, term.NewChooser("a figure, or level 2")
	texts := make([]string, len(c.Figures))
	for i, fig := range c.Figures {
		for _, name := range append(fig.Names(), levelText(fig)) {
			texts[i] += name + " "
		}
	}
	h.figures.Fill(texts)
}

// openFigure shows a figure's page.
func (h *Browser) openFigure(fig *routine.Figure) tea.Cmd {
	p := &figurePage{chapter: h.chapter, figure: fig}
	h.pages = append(h.pages, p)
	return readFigure(h.source, p)
}

// page returns the page that is seen; nil for a list.
func (h *Browser) page() *figurePage {
	if len(h.pages) == 0 {
		return nil
	}
	return h.pages[len(h.pages)-1]
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

// Turn is where a key leads from the handbook.
type Turn uint8

// Where a key can lead.
const (
	Stay  Turn = iota
	Drill      // of the page's figure
	Sheets
	Help
	Quit
)

// Press carries out a key.
func (h *Browser) Press(msg tea.KeyMsg) (Turn, tea.Cmd) {
	h.News.Clear()
	k := &h.keys
	switch {
	case key.Matches(msg, k.quit):
		return Quit, nil
	case key.Matches(msg, k.sheets):
		return Sheets, nil
	case key.Matches(msg, k.help):
		return Help, nil
	case key.Matches(msg, k.back):
		return h.goBack(), nil
	case h.page() != nil:
		return h.pressPage(msg)
	case h.chapter != nil:
		if i := h.figures.Item(); key.Matches(msg, k.open) && i >= 0 {
			return Stay, h.openFigure(h.chapter.Figures[i])
		}
		h.figures.Press(msg)
	default:
		if i := h.dances.Item(); key.Matches(msg, k.open) && i >= 0 {
			h.openChapter(&h.chapters[i])
			return Stay, nil
		}
		h.dances.Press(msg)
	}
	return Stay, nil
}

// goBack goes a step back: to the page before, to the list, then to the sheets.
func (h *Browser) goBack() Turn {
	switch {
	case h.page() != nil:
		h.pages = h.pages[:len(h.pages)-1]
	case h.chapter != nil:
		if !h.figures.Clear() {
			h.chapter = nil
		}
	case !h.dances.Clear():
		return Sheets
	}
	return Stay
}

// pressPage carries out a key on a figure's page.
func (h *Browser) pressPage(msg tea.KeyMsg) (Turn, tea.Cmd) {
	k, p := &h.keys, h.page()
	near := p.neighbours()
	switch {
	case key.Matches(msg, k.leave):
		return Quit, nil
	case key.Matches(msg, k.dance):
		return Drill, nil
	case key.Matches(msg, k.open) && near == nil:
		return Drill, nil
	case key.Matches(msg, k.open):
		if i := near.Item(); i >= 0 {
			return Stay, h.openFigure(near.list[i].Figure)
		}
	case key.Matches(msg, k.right):
		p.turn(1, h.width)
	case key.Matches(msg, k.left):
		p.turn(-1, h.width)
	case key.Matches(msg, k.view) && p.floorSeen(h.width):
		p.view = (p.view + 1) % plan.Views
	case near != nil:
		near.Move(msg)
	default:
		h.scroll(p, msg)
	}
	return Stay, nil
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

// scroll moves the steps of a page.
func (h *Browser) scroll(p *figurePage, msg tea.KeyMsg) {
	n, _ := h.dances.LinesDown(msg)
	rows := h.height - len(h.pageHead(p)) - len(h.foot(""))
	p.top = max(0, min(p.top+n, len(h.stepLines(p))-rows))
}

// levelText names the teaching level of a figure.
func levelText(fig *routine.Figure) string {
	if fig.Level == 0 {
		return "level not said"
	}
	return fmt.Sprintf("level %d", fig.Level)
}
