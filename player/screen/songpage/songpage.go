// Package songpage has the song of a sheet that is danced: it reads the song, lays the
// sheet's timeline on it, and shows the page on which the dancer says where its beats are.
//
// It neither finds nor keeps songs, which package songs does. Begin with [Model].
package songpage

import (
	"context"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/term"

	tea "github.com/charmbracelet/bubbletea"
)

// New returns a model without a song. Its commands end with ctx.
func New(ctx context.Context, book Book, t Transport, line *player.Timeline, theme term.Theme, news *term.News) *Model {
	return &Model{ctx: ctx, book: book, transport: t, line: line, theme: theme, news: news}
}

// Msg is a message that a model's commands bring, for its Update.
type Msg interface{ to() *Model }

// Update takes in a message. What is danced may be on other beats afterwards.
func (m *Model) Update(msg Msg, now player.Moment) tea.Cmd {
	if msg.to() != m {
		return nil
	}
	switch msg := msg.(type) {
	case partMsg:
		if msg.number == m.number && m.parts != nil {
			m.part = msg.part
			return m.awaitPart()
		}
	case songMsg:
		if msg.number == m.number {
			m.songRead(msg, now)
		}
	case gridMsg:
		if m.song != nil && msg.hash == m.song.Hash {
			return m.alongTaps(msg, now)
		}
	case tappedMsg:
		if m.song != nil && msg.hash == m.song.Hash && msg.taps == len(m.taps.frames) {
			return m.takeTaps(now)
		}
	case beatsKeptMsg:
		if msg.err != nil {
			m.news.Warn(msg.err.Error())
		}
	}
	return nil
}
