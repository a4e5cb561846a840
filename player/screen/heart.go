package screen

import (
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// hideNext hides the next of the ways to hide, alone, and after the last nothing.
func (d *dance) hideNext() tea.Cmd {
	if d.heart {
		d.heart, d.hidden = false, practice.HiddenNothing
	}
	d.hidden = d.hidden.Next()
	d.news.Say(d.hidden.String())
	return nil
}

// byHeart shows everything again, or else begins to hide more with each clean pass.
func (d *dance) byHeart() tea.Cmd {
	if d.heart || d.hidden != practice.HiddenNothing {
		d.heart, d.hidden = false, practice.HiddenNothing
		d.news.Say("everything is shown")
		return nil
	}
	d.heart = true
	d.news.Say("a clean pass hides more, a mark shows more again")
	return nil
}

// shows reports whether the step of an event is shown: that on which a partner is then.
func (d *dance) shows(p routine.Partner, event int) bool {
	if d.hidden.AllSteps() {
		return true
	}
	for i := event; i >= 0; i-- {
		if e := &d.now.Timeline.Events[i]; e.Steps[p] != nil {
			first := d.now.Timeline.Score.Passages[e.Passage].From
			return d.hidden.Step(true, e.Row == first) // of a partner who is not shown there is nothing to hide
		}
	}
	return true
}

// foot is the foot of a partner's step at an event in letters, if it is shown.
func (d *dance) foot(p routine.Partner, event int) string {
	if !d.shows(p, event) {
		return ""
	}
	return footText(d.step(p, event))
}

// hiddenText stands for a step or a name that is hidden.
const hiddenText = "…"

// stepWords is a step in words, if it is shown.
func (d *dance) stepWords(p routine.Partner, event int, s *routine.Step) string {
	switch {
	case s == nil:
		return ""
	case d.shows(p, event):
		return s.Words()
	}
	return hiddenText
}

// figureName is the name of an item of the order, if names are shown.
func (d *dance) figureName(item *routine.Item) string {
	if !d.hidden.Name() {
		return hiddenText
	}
	return item.Figure.Part(item.From, item.To)
}
