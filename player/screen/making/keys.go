package making

import (
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Turn is where a key leads from the screen.
type Turn uint8

// Where a key can lead.
const (
	Stay    Turn = iota
	Dance        // the routine, from the marked line
	Leave        // it is saved, or is to be kept as a draft
	Discard      // it is to be thrown away
	Help
	Quit
)

// ShownKeys lists the keys that matter now, those needed most first.
func (m *Model) ShownKeys() []key.Binding {
	k := &m.keyboard
	done := term.Named(k.put, "enter", "done")
	switch {
	case m.leaving:
		return []key.Binding{k.save, term.Named(k.back, "esc", "keep as draft"), k.discard}
	case m.asks != nil:
		return []key.Binding{done, k.back}
	case m.writing != nil:
		return shownFigureKeys(k)
	case m.first != nil:
		return []key.Binding{term.Named(k.line.gather, "a", "make these lines a part"), term.Bind("↑↓", "to its last line", "up"), k.back}
	case m.offers != nil:
		return []key.Binding{k.put, m.figures.UpDown("choose"), k.back}
	case m.focus == onFigures:
		return []key.Binding{k.put, term.Named(k.other, "tab", "order"), k.help, m.figures.UpDown("choose"), k.dance, k.save, k.back, k.undo}
	}
	return []key.Binding{term.Named(k.other, "tab", "figures"), k.dance, k.help, k.save, k.undo, k.redo, k.back}
}

// Press carries out a key.
func (m *Model) Press(msg tea.KeyMsg) (Turn, tea.Cmd) {
	leaving := m.leaving
	m.leaving = false
	m.news.Clear()
	switch k := &m.keyboard; {
	case key.Matches(msg, k.quit):
		return Quit, nil
	case leaving:
		return m.leaves(msg)
	case m.asks != nil:
		return Stay, m.types(msg)
	case m.writing != nil:
		help, cmd := pressWriting(m, msg)
		if help {
			return Help, cmd
		}
		return Stay, cmd
	case m.first != nil:
		pressPart(m, msg)
	case key.Matches(msg, k.save):
		return Stay, m.saves()
	case key.Matches(msg, k.undo):
		before, ok := m.draft.Undo()
		return Stay, m.goes(before, ok, "there is nothing to undo")
	case key.Matches(msg, k.redo):
		after, ok := m.draft.Redo()
		return Stay, m.goes(after, ok, "there is nothing to redo")
	case m.offers != nil:
		return Stay, m.pressOffers(msg)
	case key.Matches(msg, k.back):
		return m.steps()
	case key.Matches(msg, k.other):
		m.focus = onOrder - m.focus
	case m.focus == onFigures:
		return m.pressFigures(msg)
	default:
		return m.pressOrder(msg)
	}
	return Stay, nil
}

// steps goes a step back: what was typed is cleared, then the screen is left.
func (m *Model) steps() (Turn, tea.Cmd) {
	switch {
	case m.focus == onFigures && m.figures.Clear():
	case m.draft.Saved():
		return Leave, nil
	default:
		m.leaving = true
	}
	return Stay, nil
}

// leaves answers what to do with what isn't saved.
func (m *Model) leaves(msg tea.KeyMsg) (Turn, tea.Cmd) {
	switch {
	case key.Matches(msg, m.keyboard.back) && m.Unkept():
		m.leaving = true
		m.news.Warn("it can't be kept as a draft: save it in another folder, or throw it away")
	case key.Matches(msg, m.keyboard.back):
		return Leave, nil
	case key.Matches(msg, m.keyboard.save):
		return Stay, m.saves()
	case key.Matches(msg, m.keyboard.discard):
		return Discard, nil
	}
	return Stay, nil
}

// goes takes in what undo or redo leads to, if it leads anywhere.
func (m *Model) goes(to draft.Draft, ok bool, otherwise string) tea.Cmd {
	if !ok {
		m.news.Say(otherwise)
		return nil
	}
	return m.becomes(to)
}

// pressFigures carries out a key in the list of figures.
func (m *Model) pressFigures(msg tea.KeyMsg) (Turn, tea.Cmd) {
	k := &m.keyboard
	if m.figures.Filter.Value() == "" {
		switch {
		case key.Matches(msg, k.dance):
			return m.dances()
		case key.Matches(msg, k.help):
			return Help, nil
		case key.Matches(msg, k.line.more, k.line.fewer):
			return Stay, m.pressLine(msg)
		case key.Matches(msg, k.kind):
			m.figures.other(1)
			return Stay, nil
		case key.Matches(msg, k.kindBefore):
			m.figures.other(-1)
			return Stay, nil
		}
	}
	if !key.Matches(msg, k.put) {
		m.figures.press(msg)
		return Stay, nil
	}
	next := m.figures.chosen()
	switch {
	case next == nil:
		return Stay, nil
	case next.Why != "":
		m.offer(leadingTo(m.draft, m.draft.Line, next))
		return Stay, nil
	}
	m.figures.Clear()
	return Stay, m.changes(m.draft.Order.Insert(m.draft.Line+1, next.Line()), m.draft.Line+1)
}

// pressOrder carries out a key in the order.
func (m *Model) pressOrder(msg tea.KeyMsg) (Turn, tea.Cmd) {
	k := &m.keyboard
	switch {
	case key.Matches(msg, k.help):
		return Help, nil
	case moved(m, msg):
	case key.Matches(msg, k.put):
		m.focus = onFigures
	case key.Matches(msg, k.suggest):
		m.offer(suggestions(m.draft, m.draft.Line))
	case key.Matches(msg, k.title):
		m.ask(forTitle, m.draft.Title())
	case key.Matches(msg, k.own):
		m.ask(forFigure, ownFigure(m.draft))
	case key.Matches(msg, k.hall):
		m.ask(forHall, m.draft.Setting("floor"))
	case key.Matches(msg, k.leadIn):
		m.ask(forLeadIn, m.draft.Setting("lead-in"))
	case key.Matches(msg, k.line.tempo) && m.draft.Line < 0:
		m.ask(forWholeTempo, m.draft.Setting("tempo"))
	case key.Matches(msg, k.dance):
		return m.dances()
	case key.Matches(msg, k.line.gather):
		beginsPart(m)
	case key.Matches(msg, k.line.apart) && m.draft.Line >= 0:
		return Stay, takesApart(m)
	case key.Matches(msg, k.links):
		m.offer(links(m.draft, m.draft.Line))
	default:
		return Stay, m.pressLine(msg)
	}
	return Stay, nil
}

// dances leads to the dance, unless the routine can't be danced yet.
func (m *Model) dances() (Turn, tea.Cmd) {
	if m.draft.Order.Len() == 0 || len(m.draft.Score.Passages) == 0 && !routine.HasErrors(m.draft.Found) {
		m.news.Say("put a figure in first")
		return Stay, nil
	}
	for _, f := range m.draft.Found {
		if f.Severity == routine.Error {
			m.news.Warn("it can't be danced yet: " + f.Message)
			return Stay, nil
		}
	}
	return Dance, nil
}

// pressLine carries out a key that changes the marked line.
func (m *Model) pressLine(msg tea.KeyMsg) tea.Cmd {
	if m.draft.Line < 0 {
		return nil
	}
	k, order := &m.keyboard.line, m.draft.Order
	line := order.Line(m.draft.Line)
	switch {
	case key.Matches(msg, k.remove):
		return m.changes(m.draft.Without(m.draft.Line), min(m.draft.Line, order.Len()-2))
	case key.Matches(msg, k.up):
		return m.moves(-1)
	case key.Matches(msg, k.down):
		return m.moves(1)
	case key.Matches(msg, k.more):
		line.Times = min(max(line.Times, 1)+1, routine.MostTimes)
		return m.changes(order.Write(m.draft.Line, line), m.draft.Line)
	case key.Matches(msg, k.fewer) && line.Times > 1:
		line.Times--
		return m.changes(order.Write(m.draft.Line, line), m.draft.Line)
	case key.Matches(msg, k.part):
		m.ask(forPart, line.Part)
	case key.Matches(msg, k.remark):
		m.ask(forRemark, line.Remark)
	case key.Matches(msg, k.tempo):
		m.ask(forTempo, order.Setting(m.draft.Line, "tempo"))
	case key.Matches(msg, k.ends):
		m.ask(forEnds, order.Setting(m.draft.Line, "ends"))
	case key.Matches(msg, k.corner):
		corner := "after"
		if order.Setting(m.draft.Line, "corner") != "" {
			corner = ""
		}
		return m.changes(order.Set(m.draft.Line, "corner", corner), m.draft.Line)
	}
	return nil
}

// moves moves the marked line up, by -1, or down, by 1: past the line there, or past the heading of a part.
func (m *Model) moves(by int) tea.Cmd {
	order, line := m.draft.Order, m.draft.Line
	if text := order.Over(line, by < 0); text != nil {
		return m.changes(text, line)
	}
	if to := line + by; 0 <= to && to < order.Len() {
		return m.changes(order.Move(line, to), to)
	}
	return nil
}

// offer shows offers to choose from, or says that there are none.
func (m *Model) offer(o offers) {
	if len(o.list) == 0 {
		m.news.Warn(o.none)
		return
	}
	m.offers = &o
}

// pressOffers carries out a key in the list of offers.
func (m *Model) pressOffers(msg tea.KeyMsg) tea.Cmd {
	o := m.offers
	switch {
	case key.Matches(msg, m.keyboard.back):
		m.offers = nil
	case msg.Type == tea.KeyUp:
		o.chosen = max(o.chosen-1, 0)
	case msg.Type == tea.KeyDown:
		o.chosen = min(o.chosen+1, len(o.list)-1)
	case key.Matches(msg, m.keyboard.put):
		return m.puts(o.list[o.chosen])
	}
	return nil
}

// puts puts an offer in, as one change.
func (m *Model) puts(offer draft.Offer) tea.Cmd {
	text, err := m.draft.Put(offer)
	if err != nil {
		m.news.Warn(err.Error())
		return nil
	}
	m.figures.Clear()
	return m.changes(text, offer.After+len(offer.Lines))
}
