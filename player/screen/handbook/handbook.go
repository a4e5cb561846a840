// Package handbook shows the handbook's pages: the dances, the figures of a
// dance, and of each figure its steps, where it goes on the floor, and what can
// be danced before and after it.
//
// It opens no sheet and dances nothing: Press reports that a figure is to be
// drilled, and Figure says which. Begin with [Browser], the model, and [Book],
// which it shows.
package handbook

import (
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

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

// scroll moves the steps of a page.
func (h *Browser) scroll(p *figurePage, msg tea.KeyMsg) {
	n, _ := h.dances.LinesDown(msg)
	rows := h.height - len(h.pageHead(p)) - len(h.foot(""))
	p.top = max(0, min(p.top+n, len(h.stepLines(p))-rows))
}
