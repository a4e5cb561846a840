package dance

import (
	"fmt"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/changes"
	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// toggle starts the couple, or holds. Just after tapping, it is the 1 of a bar on which they begin.
func toggle(m *Model) tea.Cmd {
	now := time.Now()
	if pulse, ok := m.taps.Pulse(); ok && !m.cue.Moving() && now.Sub(m.taps.last) < fresh {
		m.o.Transport.DropIn(pulse.Nearest(now), pulse)
		return nil
	}
	m.o.Transport.Toggle()
	return nil
}

// fresh is how long taps say where the music's beats are (our own choice).
const fresh = 4 * time.Second

// tap takes the tempo from the music, as it is tapped. The next press of space is the 1 of a bar.
func tap(m *Model) tea.Cmd {
	m.taps.last = time.Now()
	m.taps.Tap(m.taps.last)
	pulse, ok := m.taps.Pulse()
	if !ok {
		// A sound device that rests goes on, so that the 1 that is tapped soon falls on its frame.
		m.o.Transport.Set(func(now player.Moment) player.Settings { return now.Settings })
		m.news.Say(fmt.Sprintf("Keep tapping with the music: %d of 4", m.taps.Count()))
		return nil
	}
	d := m.cue.Moment.Timeline.Score.Dance
	text := fmt.Sprintf("%s bars/min", term.Decimal(d.BarsPerMinute(pulse.Tempo())))
	if !d.Usual.Contains(pulse.Tempo()) {
		text += ": " + d.Name + " is danced at " + d.RangeText(d.Usual)
	}
	m.news.Say(text + ". Press space on a 1 to dance with the music")
	m.o.Transport.Set(func(now player.Moment) player.Settings {
		return now.Settings.At(pulse.Percent(now.Timeline, now.Beat), 0)
	})
	return nil
}

// move finds where to go from a beat. It never leaves the timeline.
type move func(t *player.Timeline, beat routine.Beats) routine.Beats

func toStart(t *player.Timeline, _ routine.Beats) routine.Beats { return t.Start }

// goes returns the action of going somewhere. A step that is gone to while the couple stands
// is heard.
func goes(strike bool, to move) func(*Model) tea.Cmd {
	return func(m *Model) tea.Cmd {
		m.book.Jump()
		m.o.Transport.Go(strike, func(now player.Moment) routine.Beats { return to(now.Timeline, changes.Place(now)) })
		return nil
	}
}

// changing returns the action of changing how it is danced.
func changing(c changes.Change) func(*Model) tea.Cmd {
	return func(m *Model) tea.Cmd {
		m.o.Transport.Set(c)
		return nil
	}
}

// usual is the ladder that is climbed if none is typed, in per cent.
func usual() player.Ladder { return player.Ladder{Start: 70, Gain: 5, Top: 100, Times: 1} }

// ladder begins a ladder of tempi, or ends it at the tempo it has reached.
func ladder(m *Model) tea.Cmd {
	if m.cue.Moment.Settings.Ladder != (player.Ladder{}) {
		m.news.Say("The tempo stays as it is")
		return changing(changes.KeepTempo)(m)
	}
	m.news.Say("From 70 % to 100 %, 5 % faster with each run-through")
	return changing(changes.Climb(usual()))(m)
}

func nextLoop(m *Model) tea.Cmd {
	m.loopFrom = nil
	return changing(changes.NextLoop)(m)
}

// loopFrom sets the start of a loop at the count that is heard.
func loopFrom(m *Model) tea.Cmd {
	at := m.cue.At().At
	m.loopFrom = &at
	m.news.Say("Loop start: " + cue.Place(m.cue.Moment.Timeline, at) + ". ] sets the end")
	return nil
}

// loopTo sets the end of a loop at the count that is heard, and loops: from the start that was
// set, or else from that of the figure.
func loopTo(m *Model) tea.Cmd {
	timeline := m.cue.Moment.Timeline
	end := m.cue.At()
	start := changes.Figure(m.cue.Moment).From
	if m.loopFrom != nil {
		start = *m.loopFrom
	}
	first := &timeline.Events[max(0, timeline.At(start))]
	m.loopFrom = nil
	return changing(changes.Loop(player.Interval{From: min(first.At, end.At), To: max(first.At+first.Length, end.At+end.Length)}))(m)
}

func nextDancers(m *Model) tea.Cmd {
	m.cue.Dancers = (m.cue.Dancers + 1) % (routine.FollowerAlone + 1)
	return nil
}
