package songpage

import (
	"fmt"
	"time"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// frame returns the frame of the song that is heard now.
func (m *Model) frame() int64 {
	heard := m.transport.Now(time.Now())
	return heard.Timeline.MusicFrame(heard.Beat)
}

// correct dances to other beats of the song, and keeps them.
func (m *Model) correct(g music.Grid, now player.Moment) tea.Cmd {
	s := *m.song
	s.Grid = g
	m.song = &s
	m.taps.frames = nil
	m.lay(now)
	return func() tea.Msg { return beatsKeptMsg{forModel{m}, m.book.Keep(&s)} }
}

const (
	fewestTaps = 4
	tapped     = 1500 * time.Millisecond // after the last tap, they are taken
)

// tap takes a tap along the song.
func (m *Model) tap(now player.Moment) tea.Cmd {
	t := &m.taps
	if now.Timeline.Music() == nil || now.State != player.Dancing && now.State != player.LeadIn {
		m.news.Say("space plays the song; then tap along")
		return nil
	}
	frame := m.frame()
	if n := len(t.frames); n > 0 && (frame <= t.frames[n-1] || time.Since(t.last) > 2*tapped) {
		t.frames = nil
	}
	t.frames, t.last = append(t.frames, frame), time.Now()
	m.news.Say(fmt.Sprintf("keep tapping: %d", len(t.frames)))
	after := tappedMsg{forModel{m}, m.song.Hash, len(t.frames)}
	return tea.Tick(tapped, func(time.Time) tea.Msg { return after })
}

// takeTaps looks for the beats along which it was tapped.
func (m *Model) takeTaps(now player.Moment) tea.Cmd {
	t := &m.taps
	frames := t.frames
	t.frames = nil
	if len(frames) < fewestTaps {
		m.news.Warn(music.ErrTaps.Error())
		return nil
	}
	t.waiting = true
	hash, heard, metre := m.song.Hash, m.song.Heard, now.Timeline.Score.Dance.Metre.Beats
	return func() tea.Msg {
		g, err := heard().Along(frames, metre)
		return gridMsg{forModel{m}, hash, g, err}
	}
}

// alongTaps takes in the beats along which it was tapped.
func (m *Model) alongTaps(msg gridMsg, now player.Moment) tea.Cmd {
	m.taps.waiting = false
	if msg.err != nil {
		m.news.Warn(msg.err.Error())
		return nil
	}
	cmd := m.correct(msg.grid, now)
	m.setQuiet(never)
	m.news.Say(fmt.Sprintf("the song has %s bars/min", term.Decimal(now.Timeline.Score.Dance.BarsPerMinute(routine.Tempo(msg.grid.Tempo*float64(routine.BeatPerMinute))))))
	return cmd
}
