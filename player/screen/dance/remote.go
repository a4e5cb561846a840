package dance

import (
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/changes"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// A presentation remote has four keys: next (PgDn), previous (PgUp), one that starts and ends a show
// (F5, then Esc, by turns) and one that makes the screen black (b or the full stop). They suffice to
// lead a class (the keys are common practice: those of slide programs).

// pressRemote carries out a remote's key; known is false if it is none.
func (m *Model) pressRemote(name string) (cmd tea.Cmd, known bool) {
	switch name {
	case "pgdown":
		cmd = good(m)
	case "pgup":
		cmd = again(m)
	case "f5":
		cmd = toggle(m)
	case "esc":
		if !m.inClass() {
			return nil, false
		}
		cmd = toggle(m)
	case "b", ".":
		if name == "b" && !m.inClass() {
			return nil, false // taps
		}
		cmd = toggle(m)
	default:
		return nil, false
	}
	m.class.remote = true
	return cmd, true
}

// good starts the couple or, while it dances, says that it goes well and makes the next run-through faster.
func good(m *Model) tea.Cmd {
	if !m.cue.Moving() {
		m.o.Transport.Start()
		return nil
	}
	text := "Good: faster"
	if m.book.Good(m.cue.Moment.Beat) && !m.inClass() {
		text += ". Kept as clean but for what is marked"
	}
	m.news.Say(text)
	m.o.Transport.Set(changes.Rung(1))
	return nil
}

// again goes back to the start of the loop, or else of the routine, slower, and counts in. What is being
// danced went wrong.
func again(m *Model) tea.Cmd {
	text := "Again, slower"
	if m.cue.Moving() && !m.inClass() {
		if marked := m.book.Mark(time.Now(), m.cue.Moment.Beat, m.cue.Dancers.Partners()...); marked != "" {
			text += ". Marked: " + marked
		}
	}
	m.news.Say(text)
	m.book.Jump()
	m.o.Transport.Hold()
	m.o.Transport.Set(changes.Rung(-1))
	m.o.Transport.Go(false, func(now player.Moment) routine.Beats {
		if loop := now.Settings.Loop; !loop.Empty() {
			return loop.From
		}
		return now.Timeline.Start
	})
	m.o.Transport.Start()
	return nil
}

// inClass reports whether a class is shown the count alone. Nothing of it is kept.
func (m *Model) inClass() bool { return m.o.View.Class() }

// class begins a class, in which figures are named aloud, or ends it.
func startClass(m *Model) tea.Cmd {
	on := m.inClass()
	m.book.Pausing = on
	if on {
		m.class.called = m.cue.Moment.Settings.Call
		m.news.Say("Class: count and names only, nothing is kept. A remote leads it: ? says how")
	}
	call := on || m.class.called
	m.o.Transport.Set(func(now player.Moment) player.Settings {
		set := now.Settings
		set.Call = call
		return set
	})
	return nil
}

// endClass ends a class, if there is one: that figures are named in it is not the dancer's wish.
func endClass(m *Model) {
	if m.inClass() {
		m.o.View.Next()
		startClass(m)
	}
}
