package songpage

import (
	"context"
	"errors"
	"fmt"
	"time"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/songs"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// Book reads the songs that sheets are danced to. It is called from commands, as reading
// takes its time. A [songs.Book] is one.
type Book interface {
	// Song reads the song of a sheet; nil if it has none. Told is called with the part
	// that is done, from 0 to 1, from any goroutine.
	Song(ctx context.Context, sheet, path string, score *routine.Score, told func(part float64)) (*songs.Song, error)
	// Keep keeps the beats of a song for the next time.
	Keep(*songs.Song) error
	// Forget forgets what was kept of it.
	Forget(*songs.Song) error
}

// Transport is what a song needs of the one who moves the couple along.
type Transport interface {
	Now(time.Time) player.Moment
	Start()
	Toggle()
	Hold()
	Set(func(player.Moment) player.Settings)
	Replace(*player.Timeline)
}

// Model is the song of one sheet, and its page.
type Model struct {
	ctx       context.Context // ends when the sheet is left
	book      Book            // nil if there are no songs
	transport Transport
	theme     term.Theme
	news      *term.News       // where the model says what happened
	line      *player.Timeline // the sheet's own, without its song

	number int                // of the reading; what an earlier one brings is not wanted
	part   float64            // of it that is done
	parts  chan float64       // holds the latest part only; nil if nothing is read
	until  context.Context    // of the reading
	stop   context.CancelFunc // ends it; nil if nothing is read
	file   string             // as the sheet names it

	song  *songs.Song // nil if there is none, or not yet
	found music.Grid  // as it was heard, before anything was corrected
	taps  taps
}

// Reading reports whether a song is being read.
func (m *Model) Reading() bool { return m.parts != nil }

// Song returns the song as its beats are known now; nil if there is none, or not yet.
func (m *Model) Song() *songs.Song { return m.song }

// File returns the file of the song that was read last, as the sheet names it.
func (m *Model) File() string { return m.file }

// Read begins to read the song of the sheet's timeline, in place of what is still being
// read. Path is the sheet's file, "" if it has none.
func (m *Model) Read(sheet, path string) tea.Cmd {
	if m.book == nil {
		return nil
	}
	m.endReading()
	m.number++
	m.part, m.parts = 0, make(chan float64, 1)
	m.until, m.stop = context.WithCancel(m.ctx)
	score := m.line.Score
	m.file = score.Music.File
	ctx, number, parts := m.until, m.number, m.parts
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
		song, err := m.book.Song(ctx, sheet, path, score, told)
		return songMsg{forModel{m}, number, song, err}
	}
	return tea.Batch(read, m.awaitPart())
}

// endReading ends what reads a song and what waits for it.
func (m *Model) endReading() {
	if m.stop != nil {
		m.stop()
	}
	m.stop, m.parts = nil, nil
}

// awaitPart waits until more of the song has been read, or the reading ends.
func (m *Model) awaitPart() tea.Cmd {
	ctx, parts, number := m.until, m.parts, m.number
	return func() tea.Msg {
		select {
		case part := <-parts:
			return partMsg{forModel{m}, number, part}
		case <-ctx.Done():
		}
		return nil
	}
}

// songRead takes in a song that was read, or why it was not.
func (m *Model) songRead(msg songMsg, now player.Moment) {
	m.endReading()
	switch {
	case msg.err != nil:
		m.drop(now)
		m.news.Warn("without music: " + msg.err.Error())
		return
	case msg.song == nil:
		if m.song != nil {
			m.drop(now)
			m.news.Say("the sheet no longer names a song")
		}
		return
	}
	if m.song != nil && m.song.Hash != msg.song.Hash {
		m.taps = taps{} // to the other song
	}
	m.song, m.found = msg.song, msg.song.Grid
	m.lay(now)
	if msg.song.Damage != nil && m.news.Text == "" {
		m.news.Warn(msg.song.Name + ": " + msg.song.Damage.Error())
	}
}

// drop goes on without the song, if there was one.
func (m *Model) drop(now player.Moment) {
	if m.song == nil {
		return
	}
	m.endListening(now)
	m.song, m.taps = nil, taps{}
	m.transport.Replace(m.line)
}

// lay lays what is danced on the song as it is known now.
func (m *Model) lay(now player.Moment) {
	timeline, err := m.song.Lay(m.line)
	beyond := timeline.Check(now.Settings)
	switch doubt := m.song.Doubt(); {
	case err != nil && !errors.Is(err, songs.ErrNoBeat):
		m.news.Warn("without music: " + err.Error())
	case err == nil && beyond != nil:
		m.news.Warn(beyond.Error())
	case doubt != "":
		m.news.Say(doubt + " (o)")
	}
	m.transport.Replace(timeline) // the sheet's own, if there was an error
}

// Replace dances another timeline of the sheet, on its song if there is one.
func (m *Model) Replace(line *player.Timeline) {
	m.line = line
	if m.song != nil {
		line, _ = m.song.Lay(line) // the sheet's own, if there was an error
	}
	m.transport.Replace(line)
}

// Texts returns what is said of the song beside the routine's bar.
func (m *Model) Texts(now player.Moment) (texts []string) {
	timeline := now.Timeline
	if timeline.Music() == nil {
		if m.parts != nil {
			return []string{fmt.Sprintf("reading the song, %.0f %%", 100*m.part)}
		}
		return nil
	}
	beat := max(now.Beat, 0)
	if now.State == player.LeadIn {
		beat = now.Begins
	}
	bar := timeline.Score.Dance.Metre.Bar()
	left := int(timeline.MusicLeft(beat/bar*bar) / bar) // changes with a bar, though few songs end with one
	if m.song != nil && m.song.DoubtAt(timeline.MusicFrame(now.Beat)) {
		texts = append(texts, "unsure: o")
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

// taps are what the dancer taps along the song.
type taps struct {
	frames  []int64 // of the song
	last    time.Time
	waiting bool // for the beats along which it was tapped
}

// The messages.
type (
	songMsg struct {
		forModel
		number int
		song   *songs.Song
		err    error
	}
	partMsg struct {
		forModel
		number int
		part   float64
	}
	// gridMsg brings the beats along which the dancer tapped to the song of a hash.
	gridMsg struct {
		forModel
		hash string
		grid music.Grid
		err  error
	}
	// beatsKeptMsg says how the keeping of beats ended.
	beatsKeptMsg struct {
		forModel
		err error
	}
	// tappedMsg says that no more was tapped for a while to the song of a hash.
	tappedMsg struct {
		forModel
		hash string
		taps int
	}
)

// forModel is the model that a message is for. Another may have taken its place by then.
type forModel struct{ *Model }

func (f forModel) to() *Model { return f.Model }

func always(bool) bool { return true }
func never(bool) bool  { return false }

// endListening ends what the page of the song alone lets be heard.
func (m *Model) endListening(now player.Moment) {
	if !m.song.Grid.Clear() && now.Timeline.Music() != nil { // it was only heard, to be tapped along to
		m.transport.Hold()
		m.transport.Replace(m.line)
	}
	m.setQuiet(never)
}

// setQuiet changes whether the beats are without clicks.
func (m *Model) setQuiet(to func(quiet bool) bool) {
	m.transport.Set(func(now player.Moment) player.Settings {
		s := now.Settings
		s.Quiet = to(s.Quiet)
		return s
	})
}
