package dance

import (
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/changes"
	"dance.example/slowquick/player/screen/program"

	tea "github.com/charmbracelet/bubbletea"
)

// follow takes in what is heard at a time, after what was heard before.
func (m *Model) follow(was player.Moment, at time.Time) tea.Cmd {
	standing := m.book.Now == nil
	ended, kept := m.book.Follow(m.cue.Moment, at, m.cue.Dancers)
	keep(m, kept)
	m.o.Pauses.follow(m.cue.Moment, at, ended != nil && ended.Finished)
	if m.book.Now != nil && (standing || ended != nil) && m.learning.swap {
		m.learning.swap = false
		m.cue.Dancers = m.cue.Dancers.Swapped()
		m.book.Now.Dancers = m.cue.Dancers
	}
	if m.cue.Moment.State == player.Finished && was.State != player.Finished && m.open.kind == closed {
		judge(m, Stay)
	}
	var cmd tea.Cmd
	if loop, ok := m.lead.Refit(m.cue.Moment); ok {
		timeline := m.cue.Moment.Timeline
		m.o.Transport.Set(func(now player.Moment) player.Settings {
			if now.Timeline == timeline { // the screen is a little ahead
				return changes.Loop(loop)(now)
			}
			return now.Settings
		})
	}
	if m.lead.Follow(ended, at) {
		cmd = over(m)
	} else if ended != nil {
		hide(m)
	}
	return cmd
}

// look asks what is heard now, and for a tick when that changes.
func (m *Model) look() tea.Cmd {
	now := time.Now()
	was := m.cue.Moment
	m.cue.Moment = m.o.Transport.Now(now.Add(program.Lead))
	if !sameCount(was, m.cue.Moment) {
		m.o.Due.Set(m.clock.onset)
	}
	if was.Timeline != m.cue.Moment.Timeline && m.loopFrom != nil {
		*m.loopFrom = m.cue.Moment.Timeline.Follow(was.Timeline, *m.loopFrom)
	}
	if m.open.kind != typing {
		m.news.Fade(now)
	}
	cmd := m.follow(was, now)
	m.o.View.Follow(&m.cue)
	pause := later
	if m.o.View.Moves() && m.cue.Moving() {
		pause = picture
	}
	return tea.Batch(cmd, m.clock.wake(m.o.Transport, now, pause, rests(m)))
}

// sameCount reports whether one count lasts from one moment to another.
func sameCount(a, b player.Moment) bool {
	if b.State == player.LeadIn {
		return a.State == b.State && a.LeadInNumber() == b.LeadInNumber()
	}
	return a.State == b.State && a.Event == b.Event && a.RunThrough == b.RunThrough
}

// rests reports whether nothing on the screen changes by itself.
func rests(m *Model) bool {
	return !m.cue.Moving() && m.news.Text == "" && !m.lead.Timed() && !m.song.Reading()
}
