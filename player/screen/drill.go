package screen

import (
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// Handbook is what the handbook's pages show, and drills of its figures.
type Handbook interface {
	handbook.Book
	// Drill returns one of the chapter's figures and what leads back to it. It is
	// called from commands, as Book's methods are.
	Drill(c *handbook.Chapter, fig *routine.Figure) Drill
}

// Drill is a figure to be danced over and over.
type Drill struct {
	Loaded
	Returns bool // it ends so that it can begin again at once
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
		d.news.Say("nothing leads back to where it starts: walk back in the rest")
	}
	d.alert = time.Now().Add(awake)
	return d.look()
}

// readDrill finds how to dance a figure over and over.
func readDrill(h Handbook, c *handbook.Chapter, fig *routine.Figure, visit int) tea.Cmd {
	return func() tea.Msg { return drilledMsg{visit, h.Drill(c, fig)} }
}
