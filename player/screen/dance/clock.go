package dance

import (
	"time"

	"dance.example/slowquick/player/screen/program"

	tea "github.com/charmbracelet/bubbletea"
)

// clock says when to look at what is heard. It sets how smoothly the screen follows, never
// the tempo.
type clock struct {
	tick  int       // the number of the tick that is awaited
	alert time.Time // until when a change is expected to be heard
	onset time.Time // when the next event is heard
}

const (
	awake = 400 * time.Millisecond // after a key its effect is looked for closely
	soon  = 20 * time.Millisecond
	later = 100 * time.Millisecond
	// shortest is the least time between two looks, so that an event that is due in less
	// than a nanosecond is not looked for again and again.
	shortest = time.Millisecond / 2
	picture  = time.Second / 30 // from one picture of a moving couple to the next
)

// expect says that a change will be heard soon.
func (c *clock) expect() { c.alert = time.Now().Add(awake) }

// tickMsg says that it is time to look.
type tickMsg struct {
	clock  *clock
	number int
}

// due reports whether a tick is the one that is awaited.
func (c *clock) due(t tickMsg) bool { return t.clock == c && t.number == c.tick }

// wake returns the command that brings the next tick, after a pause at most. What rests, and of
// which nothing is expected, needs none until a key is pressed.
func (c *clock) wake(t Transport, now time.Time, pause time.Duration, rests bool) tea.Cmd {
	if now.Before(c.alert) {
		pause = min(pause, soon)
	}
	// What is shown is a lead ahead of now, and so is the tick that the next event is due on.
	wait, ok := t.Next(now.Add(program.Lead))
	if ok {
		pause = min(pause, max(wait, shortest))
		c.onset = now.Add(program.Lead + wait)
	}
	c.tick++
	if !ok && !now.Before(c.alert) && rests {
		return nil
	}
	tick := tickMsg{c, c.tick}
	return tea.Tick(pause, func(time.Time) tea.Msg { return tick })
}
