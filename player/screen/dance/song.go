package dance

import (
	"dance.example/slowquick/player/screen/songpage"

	tea "github.com/charmbracelet/bubbletea"
)

// PressSong carries out a key on the song's page, and returns where it leads.
func (m *Model) PressSong(msg tea.KeyMsg) (Turn, tea.Cmd) {
	m.clock.expect()
	turn, cmd := m.song.Press(msg, m.cue.Moment)
	to := map[songpage.Turn]Turn{songpage.Back: Back, songpage.Help: Help, songpage.Quit: Quit}[turn]
	return to, tea.Batch(cmd, m.look())
}

// SongView draws the song's page.
func (m *Model) SongView() string {
	return m.song.View(m.width, m.height, m.cue.Moment, messageLine(m))
}

// HasSong reports whether a song is known.
func (m *Model) HasSong() bool { return m.song.Song() != nil }

// SongTells takes in a message about the song.
func (m *Model) SongTells(msg songpage.Msg) tea.Cmd {
	was := m.song.Song()
	cmd := m.song.Update(msg, m.cue.Moment)
	if m.song.Song() == was {
		return cmd
	}
	m.clock.expect()
	return tea.Batch(cmd, m.look())
}
