package screen

import (
	"context"
	"errors"
	"fmt"
	"time"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/songs"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// Songs reads the songs that sheets are danced to. It is asked from commands, as that
// takes its time.
type Songs interface {
	// Song reads the song of a sheet; nil if it has none. Told is told how far it is,
	// from 0 to 1, from any goroutine.
	Song(ctx context.Context, l Loaded, told func(part float64)) (*songs.Song, error)
	// Keep keeps the beats of a song for the next time.
	Keep(*songs.Song) error
	// Forget forgets what was kept of it.
	Forget(*songs.Song) error
}

// songState is what is known of the song of a sheet that is danced.
type songState struct {
	from    Songs // nil if there are none
	number  int   // of the reading; what an earlier one brings is not wanted
	reading float64
	parts   chan float64       // how far the reading is; holds the latest only; nil if nothing is read
	until   context.Context    // of the reading
	stop    context.CancelFunc // ends it; nil if nothing is read
	file    string             // as the sheet names it
	song    *songs.Song        // nil if there is none, or not yet
	found   music.Grid         // as it was heard, before anything was corrected
	pane    songPage
}

// The messages that the reading of a song brings.
type (
	songMsg struct {
		visit, number int
		song          *songs.Song
		err           error
	}
	songPartMsg struct {
		visit, number int
		part          float64
	}
	// gridMsg brings the beats along which the dancer tapped to the song of a hash.
	gridMsg struct {
		visit int
		hash  string
		grid  music.Grid
		err   error
	}
	// beatsKeptMsg says how the keeping of beats ended.
	beatsKeptMsg struct {
		visit int
		err   error
	}
	// tappedMsg says that no more was tapped for a while to the song of a hash.
	tappedMsg struct {
		visit int
		hash  string
		taps  int
	}
)

// readSong begins to read the song of a sheet, in place of what is still being read.
func (d *dance) readSong(l Loaded) tea.Cmd {
	s := &d.song
	if s.from == nil {
		return nil
	}
	s.endReading()
	s.number++
	s.reading, s.parts, s.file = 0, make(chan float64, 1), ""
	s.until, s.stop = context.WithCancel(d.ctx)
	if l.Timeline != nil {
		s.file = l.Timeline.Score.Music.File
	}
	ctx, visit, number, parts, from := s.until, d.visit, s.number, s.parts, s.from
	told := func(part float64) {
		select {
		case <-parts: // a newer one is better
		default:
		}
		select {
		case parts <- part:
		default:
		}
	}
	read := func() tea.Msg {
		song, err := from.Song(ctx, l, told)
		return songMsg{visit, number, song, err}
	}
	return tea.Batch(read, awaitPart(ctx, parts, visit, number))
}

// endReading ends what reads a song and what waits for it.
func (s *songState) endReading() {
	if s.stop != nil {
		s.stop()
	}
	s.stop, s.parts = nil, nil
}

// awaitPart waits until more of a song has been read, or the reading ends.
func awaitPart(ctx context.Context, parts <-chan float64, visit, number int) tea.Cmd {
	return func() tea.Msg {
		select {
		case part := <-parts:
			return songPartMsg{visit, number, part}
		case <-ctx.Done():
		}
		return nil
	}
}

// songTells takes in a message about the song.
func (d *dance) songTells(msg tea.Msg) tea.Cmd {
	s := &d.song
	switch msg := msg.(type) {
	case songPartMsg:
		if msg.visit != d.visit || msg.number != s.number || s.parts == nil {
			return nil
		}
		s.reading = msg.part
		return awaitPart(s.until, s.parts, d.visit, s.number)
	case songMsg:
		if msg.visit == d.visit && msg.number == s.number {
			return d.songRead(msg)
		}
	case gridMsg:
		if msg.visit == d.visit && s.song != nil && msg.hash == s.song.Hash {
			return d.songTapped(msg)
		}
	case tappedMsg:
		if msg.visit == d.visit && s.song != nil && msg.hash == s.song.Hash && msg.taps == len(s.pane.taps) {
			return d.takeTaps()
		}
	case beatsKeptMsg:
		if msg.visit == d.visit && msg.err != nil {
			d.news.Warn(msg.err.Error())
		}
	}
	return nil
}

// songRead takes in a song that was read, or why it was not.
func (d *dance) songRead(msg songMsg) tea.Cmd {
	s := &d.song
	s.endReading()
	switch {
	case msg.err != nil:
		d.dropSong()
		d.news.Warn("without music: " + msg.err.Error())
		return nil
	case msg.song == nil:
		if s.song != nil {
			d.dropSong()
			d.news.Say("the sheet names no song any more")
		}
		return nil
	}
	if s.song != nil && s.song.Hash != msg.song.Hash {
		s.pane = songPage{} // its taps are to the other song
	}
	s.song, s.found = msg.song, msg.song.Grid
	d.laySong()
	if msg.song.Damage != nil && d.news.Text == "" {
		d.news.Warn(msg.song.Name + ": " + msg.song.Damage.Error())
	}
	return d.look()
}

// dropSong goes on without the song, if there was one.
func (d *dance) dropSong() {
	if d.song.song == nil {
		return
	}
	d.endListening()
	d.song.song, d.song.pane = nil, songPage{}
	d.transport.Replace(d.line)
}

// laySong lays what is danced on the song as it is known now.
func (d *dance) laySong() {
	d.alert = time.Now().Add(awake)
	timeline, err := d.song.song.Lay(d.line)
	beyond := timeline.Check(d.now.Settings)
	switch doubt := d.song.song.Doubt(); {
	case err != nil && !errors.Is(err, songs.ErrNoBeat):
		d.news.Warn("without music: " + err.Error())
	case err == nil && beyond != nil:
		d.news.Warn(beyond.Error())
	case doubt != "":
		d.news.Say(doubt + ": M asks you")
	}
	d.transport.Replace(timeline) // the sheet's own, if there was an error
}

// laid is a timeline of the sheet, on its song if there is one.
func (d *dance) laid(timeline *player.Timeline) *player.Timeline {
	if d.song.song == nil {
		return timeline
	}
	laid, err := d.song.song.Lay(timeline)
	if err != nil {
		return timeline
	}
	return laid
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

// songTexts are what is told of the song beside the bar of the routine.
func (d *dance) songTexts() (texts []string) {
	timeline := d.now.Timeline
	if timeline.Music() == nil {
		if d.song.parts != nil {
			return []string{fmt.Sprintf("reading the song, %.0f %%", 100*d.song.reading)}
		}
		return nil
	}
	beat := max(d.now.Beat, 0)
	if d.now.State == player.LeadIn {
		beat = d.now.Begins
	}
	bar := timeline.Score.Dance.Metre.Bar()
	left := int(timeline.MusicLeft(beat/bar*bar) / bar) // changes with a bar, though few songs end with one
	if d.song.song != nil && d.song.song.Doubt() != "" {
		texts = append(texts, "unsure: M")
	}
	switch {
	case timeline.MusicLeft(beat) == 0:
		texts = append(texts, "the song is over")
	case left == 0:
		texts = append(texts, "the song ends")
	default:
		texts = append(texts, "song: "+routine.Plural(left, "bar")+" left")
	}
	const soon = 8 // bars
	for _, h := range timeline.Score.Music.Highlights {
		if to := (h - beat + bar - 1) / bar; h > beat && to <= soon {
			texts = append(texts, "highlight in "+routine.Plural(int(to), "bar"))
			break
		}
	}
	return texts
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
