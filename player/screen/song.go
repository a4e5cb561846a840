package screen

import (
	"fmt"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// showSong turns to the page of the song.
func (d *dance) showSong() tea.Cmd {
	if d.song.Open() {
		d.turn = toSong
	}
	return nil
}

// pressSong carries out a key on the page of the song.
func (d *dance) pressSong(msg tea.KeyMsg) tea.Cmd {
	d.alert = time.Now().Add(awake)
	turn, cmd := d.song.Press(msg, d.now)
	switch turn {
	case songpage.Back:
		d.turn = toDance
	case songpage.Help:
		d.turn = toHelp
	case songpage.Quit:
		return d.quit()
	}
	return tea.Batch(cmd, d.look())
}

// songTells takes in a message about the song.
func (d *dance) songTells(msg songpage.Msg) tea.Cmd {
	was := d.song.Song()
	cmd := d.song.Update(msg, d.now)
	if d.song.Song() == was {
		return cmd
	}
	d.alert = time.Now().Add(awake)
	return tea.Batch(cmd, d.look())
}

// songLevel gives the action that changes how loud the song is.
func songLevel(tenths int) func(*dance) tea.Cmd {
	return func(d *dance) tea.Cmd {
		if d.now.Timeline.Music() == nil {
			d.news.Say("no song is danced to")
		}
		return level(tenths, player.MusicLayer)(d)
	}
}

// phraseText tells the phrase that an event is in, and where in it, if a song is danced to.
func (d *dance) phraseText(e *player.Event) string {
	score := d.now.Timeline.Score
	if d.now.Timeline.Music() == nil {
		return fmt.Sprintf("phrase %d", e.Phrase)
	}
	bar := score.Dance.Metre.Bar()
	number, from, to := score.Phrase(e.At)
	if (to-from)%bar != 0 {
		return fmt.Sprintf("phrase %d, beat %d of %d", number, (e.At-from)/routine.Beat+1, (to-from)/routine.Beat)
	}
	return fmt.Sprintf("phrase %d, bar %d of %d", number, (e.At-from)/bar+1, (to-from)/bar)
}
