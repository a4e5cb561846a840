package making

import (
	"fmt"
	"slices"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// offers are lines to put in, of which one is chosen.
type offers struct {
	title  string
	list   []draft.Offer
	none   string // what is said if there are none
	chosen int
}

// offered returns the command that finds offers for the marked line.
func (m *Model) offered(none string, find func(d draft.Draft, line int) []draft.Offer) tea.Cmd {
	d, line, version := m.draft, m.line, m.version
	m.news.Say("looking …")
	return func() tea.Msg {
		return Msg{version: version, offers: &offers{title: "How to go on", list: find(d, line), none: none}}
	}
}

// finds looks for what links the marked line with a figure, or, if that is nil, with the next line.
func (m *Model) finds(fig *routine.Figure) tea.Cmd {
	title, none := "What leads to the next line", "nothing is missing before the next line, or nothing leads there"
	if fig != nil {
		title, none = "What leads to "+fig.Name, fmt.Sprintf("nothing leads to %s from here", fig.Name)
	}
	find := m.offered(none, func(d draft.Draft, line int) []draft.Offer {
		list := d.Links(line, fig)
		if fig != nil {
			for i := range list {
				list[i].Lines = append(slices.Clip(list[i].Lines), routine.Line{Name: fig.Name})
			}
		}
		return list
	})
	return func() tea.Msg {
		msg, _ := find().(Msg)
		msg.offers.title = title
		return msg
	}
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

// puts puts an offer in after the marked line, as one change.
func (m *Model) puts(offer draft.Offer) tea.Cmd {
	text, err := m.draft.Put(offer)
	if err != nil {
		m.news.Warn(err.Error())
		return nil
	}
	m.figures.Clear()
	return m.changes(text, offer.After+len(offer.Lines))
}
