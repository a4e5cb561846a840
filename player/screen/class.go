package screen

import (
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// class shows a class the count alone and names the next figure aloud. PgUp and
// PgDn, which a presentation remote has, change the tempo where no ladder is climbed;
// nothing is kept.
func (d *dance) class() tea.Cmd {
	on := !d.inClass
	d.inClass, d.record.pausing = on, on
	text := "a class: the count alone, PgDn faster, PgUp slower, and nothing is kept"
	if !on {
		text = "no class any more"
	}
	d.news.Say(text)
	if on {
		d.called = d.now.Settings.Call
	}
	call := on || d.called
	return d.set(func(s *player.Settings, _ player.Moment) { s.Call = call })
}

// dismiss ends a class, if there is one: that figures are named in it is not the dancer's wish.
func (d *dance) dismiss() {
	if d.inClass {
		d.class()
	}
}

// shownSide is whose steps are laid out.
func (d *dance) shownSide() routine.Dancers {
	if d.inClass {
		return routine.Nobody
	}
	return d.dancers
}

// taught does one thing in a class, and another otherwise.
func taught(inClass, otherwise func(*dance) tea.Cmd) func(*dance) tea.Cmd {
	return func(d *dance) tea.Cmd {
		if d.inClass {
			return inClass(d)
		}
		return otherwise(d)
	}
}
