package screen

import (
	"fmt"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Handbook tells of dances and their figures. It is asked from commands, several
// at a time perhaps, as it may have to read and search.
type Handbook interface {
	// Chapters lists the dances.
	Chapters() []Chapter
	// Beside lists which figures of a chapter can be danced before one of them,
	// and which after it, those first that need no turn between them.
	Beside(c *Chapter, fig *routine.Figure) (before, after []Neighbour)
	// Drill is one of the chapter's figures and what leads back to it.
	Drill(c *Chapter, fig *routine.Figure) Drill
}

// Chapter is a dance and its figures, from easy to hard. It is immutable.
type Chapter struct {
	Dance   *routine.Dance
	Figures []*routine.Figure
}

// Beside is a figure that can be danced before or after another.
type Neighbour struct {
	Figure *routine.Figure
	Turn   routine.Turn // of the couple between the two, before the first step; 0 for none
}

// Drill is a figure to be danced over and over.
type Drill struct {
	Loaded
	Returns bool // it ends so that it can begin again at once
}

// handbook is the browser of a [Handbook]: the dances, the figures of a dance,
// and pages of figures, one opened from the other.
type handbook struct {
	source   Handbook
	keys     bookKeys
	read     bool // the chapters have been
	chapters []Chapter
	dances   term.Chooser
	chapter  *Chapter // whose figures are seen; nil for the dances
	figures  term.Chooser
	pages    []*figurePage // the last is seen; none for the figures
	message  string

	theme         term.Theme
	width, height int
}

// figurePage is what is known, and seen, of a figure.
type figurePage struct {
	chapter *Chapter
	figure  *routine.Figure
	part    part
	top     int // the first line of the steps that is seen
	view    plan.View

	told   bool        // what follows has come
	path   *floor.Path // the figure by itself
	beside [2]besides  // what can be danced before and after it
}

// besides are neighbours of which one is chosen.
type besides struct {
	list []Neighbour
	term.Chooser
}

// part is what is seen of a figure below its name.
type part int

const (
	stepsPart part = iota
	floorPart      // in windows that have no room for it beside the steps
	afterPart
	beforePart
	parts // how many there are
)

// neighbours are those that a part lists; nil if it lists none.
func (p *figurePage) neighbours() *besides {
	switch p.part {
	case afterPart:
		return &p.beside[1]
	case beforePart:
		return &p.beside[0]
	}
	return nil
}

func newHandbook(source Handbook, t term.Theme) *handbook {
	return &handbook{source: source, theme: t, keys: newBookKeys(), dances: term.NewChooser("a dance")}
}

// chaptersMsg brings the dances.
type chaptersMsg []Chapter

// readChapters reads the handbook.
func readChapters(h Handbook) tea.Cmd {
	return func() tea.Msg { return chaptersMsg(h.Chapters()) }
}

// fill takes in the dances.
func (h *handbook) fill(msg chaptersMsg) {
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
func (h *handbook) openChapter(c *Chapter) {
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
func (h *handbook) openFigure(fig *routine.Figure) tea.Cmd {
	p := &figurePage{chapter: h.chapter, figure: fig}
	h.pages = append(h.pages, p)
	return readFigure(h.source, p)
}

// page is the one that is seen; nil for a list.
func (h *handbook) page() *figurePage {
	if len(h.pages) == 0 {
		return nil
	}
	return h.pages[len(h.pages)-1]
}

// figureMsg brings what a page tells.
type figureMsg struct {
	page   *figurePage
	path   *floor.Path
	beside [2][]Neighbour
}

// readFigure dances a figure on the floor and finds its neighbours.
func readFigure(h Handbook, p *figurePage) tea.Cmd {
	c, fig := p.chapter, p.figure
	return func() tea.Msg {
		m := figureMsg{page: p, path: floor.Trace(fig.Alone(c.Dance, c.Dance.Stride, fig.Starts.Positions))}
		m.beside[0], m.beside[1] = h.Beside(c, fig)
		return m
	}
}

func (p *figurePage) fill(msg figureMsg) {
	p.told, p.path = true, msg.path
	for i, list := range msg.beside {
		p.beside[i] = besides{list, term.NewChooser("")}
		p.beside[i].Fill(make([]string, len(list)))
	}
}

// bookTurn is where a key leads from the handbook.
type bookTurn uint8

const (
	bookStay bookTurn = iota
	bookDrill
	bookSheets
	bookHelp
	bookQuit
)

// press carries a key out.
func (h *handbook) press(msg tea.KeyMsg) (bookTurn, tea.Cmd) {
	h.message = ""
	k := &h.keys
	switch {
	case key.Matches(msg, k.quit):
		return bookQuit, nil
	case key.Matches(msg, k.sheets):
		return bookSheets, nil
	case key.Matches(msg, k.help):
		return bookHelp, nil
	case key.Matches(msg, k.back):
		return h.goBack(), nil
	case h.page() != nil:
		return h.pressPage(msg)
	case h.chapter != nil:
		if i := h.figures.Item(); key.Matches(msg, k.open) && i >= 0 {
			return bookStay, h.openFigure(h.chapter.Figures[i])
		}
		h.figures.Press(msg)
	default:
		if i := h.dances.Item(); key.Matches(msg, k.open) && i >= 0 {
			h.openChapter(&h.chapters[i])
			return bookStay, nil
		}
		h.dances.Press(msg)
	}
	return bookStay, nil
}

// goBack goes a step back: to the page before, to the list, and then out.
func (h *handbook) goBack() bookTurn {
	switch {
	case h.page() != nil:
		h.pages = h.pages[:len(h.pages)-1]
	case h.chapter != nil:
		if !h.figures.Clear() {
			h.chapter = nil
		}
	case !h.dances.Clear():
		return bookSheets
	}
	return bookStay
}

// pressPage carries a key out on a figure's page.
func (h *handbook) pressPage(msg tea.KeyMsg) (bookTurn, tea.Cmd) {
	k, p := &h.keys, h.page()
	near := p.neighbours()
	switch {
	case key.Matches(msg, k.leave):
		return bookQuit, nil
	case key.Matches(msg, k.dance):
		return bookDrill, nil
	case key.Matches(msg, k.open) && near == nil:
		return bookDrill, nil
	case key.Matches(msg, k.open):
		if i := near.Item(); i >= 0 {
			return bookStay, h.openFigure(near.list[i].Figure)
		}
	case key.Matches(msg, k.right):
		p.turn(1, h.width)
	case key.Matches(msg, k.left):
		p.turn(-1, h.width)
	case key.Matches(msg, k.view) && h.floorSeen(p):
		p.view = (p.view + 1) % plan.Views
	case near != nil:
		near.Move(msg)
	default:
		h.scroll(p, msg)
	}
	return bookStay, nil
}

// turn shows the next part, or the one before.
func (p *figurePage) turn(by int, width int) {
	p.part = (p.shownPart(width) + parts + part(by)) % parts
	if p.part == floorPart && width >= widePage {
		p.part += part(by)
	}
}

// shownPart is the part that is seen: where the floor is drawn beside the steps, those.
func (p *figurePage) shownPart(width int) part {
	if p.part == floorPart && width >= widePage {
		return stepsPart
	}
	return p.part
}

// scroll moves the steps of a page.
func (h *handbook) scroll(p *figurePage, msg tea.KeyMsg) {
	n, _ := h.dances.LinesDown(msg)
	rows := h.height - len(h.pageHead(p)) - len(h.foot(""))
	p.top = max(0, min(p.top+n, len(h.stepLines(p))-rows))
}

// levelText is the teaching level of a figure.
func levelText(fig *routine.Figure) string {
	if fig.Level == 0 {
		return "level not said"
	}
	return fmt.Sprintf("level %d", fig.Level)
}

// drilledMsg brings what was asked to be drilled.
type drilledMsg struct {
	visit int
	drill Drill
}

// walkBack is how many bars a couple has to go back to where a figure begins,
// if nothing that is danced leads there.
const walkBack = 2

// startDrill dances all of the timeline over and over, at once.
func (d *dance) startDrill(returns bool) tea.Cmd {
	d.transport.Set(func(m player.Moment) player.Settings {
		s := m.Settings
		s.Loop = player.Interval{From: m.Timeline.Start, To: m.Timeline.End}
		if !returns {
			s.Rest = walkBack
		}
		return s
	})
	d.transport.Start()
	if !returns {
		d.say("nothing leads back to where it starts: walk back in the rest")
	}
	d.alert = time.Now().Add(awake)
	return d.look()
}

// readDrill finds how to dance a figure over and over.
func readDrill(h Handbook, p *figurePage, visit int) tea.Cmd {
	c, fig := p.chapter, p.figure
	return func() tea.Msg { return drilledMsg{visit, h.Drill(c, fig)} }
}
