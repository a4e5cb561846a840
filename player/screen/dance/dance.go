// Package dance is the screen of a sheet that is danced: it takes the keys, follows what
// is heard, and shows it in one of several views, with a pane below where something is set.
//
// It routes. What a moment shows is a [cue.Cue], how it is drawn package view's, what a key
// changes package changes', what went wrong package marks', and what opens below package
// pane's. It keeps no time of its own: it asks the [Transport] for the moment that is heard,
// and wakes up when the next event is due. Begin with [New].
package dance

import (
	"context"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/player/screen/marks"
	"dance.example/slowquick/player/screen/pane"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/session"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/screen/view"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// Transport is what a dance needs of the one who moves the couple along. A
// [player.Transport] is one; its methods say more.
type Transport interface {
	Now(time.Time) player.Moment
	Next(time.Time) (wait time.Duration, ok bool)
	Start()
	Toggle()
	Hold()
	DropIn(one time.Time, pulse player.Pulse)
	Go(strike bool, to func(player.Moment) routine.Beats)
	Set(func(player.Moment) player.Settings)
	Replace(*player.Timeline)
	Level(func(audio.Levels) audio.Levels)
}

// Sheet is a sheet that was read.
type Sheet struct {
	Name     string           // of the file, as findings name it
	ID       string           // as the shelf knows it
	Path     string           // of the file, beside which its song lies; "" if it is none
	Timeline *player.Timeline // nil if it can't be danced
	Findings []routine.Finding
	Err      error // why it could not be read when it was saved; nil if it was
}

// Danceable reports whether there is anything to dance.
func (s *Sheet) Danceable() bool { return s.Timeline != nil && len(s.Timeline.Events) > 0 }

// Options is what a dance is made of.
type Options struct {
	Transport Transport     // stands at the start of the sheet
	Songs     songpage.Book // nil for none
	Theme     term.Theme
	View      *view.Model
	Due       *program.Due // when what is drawn may be seen; nil for at once
	Pauses    *Pauses

	Diary practice.Diary // nil keeps nothing

	// Session plans what to lead through; nil for nothing. Left keeps how far it is.
	Session func(*player.Timeline) practice.Session
	Left    func(*routine.Score, practice.Session)

	Dancers routine.Dancers
	Count   routine.CountStyle // StyleUnset for the sheet's

	Lesson bool   // teaches the keys, from slowly on
	Drill  bool   // a figure of the handbook, to which leaving leads back
	Sound  string // what is wrong with the sound; "" if nothing is
}

// Model is the screen of one sheet.
type Model struct {
	ctx   context.Context // ends when the sheet is left; for its commands
	o     Options
	turn  Turn
	sheet Sheet // as it was saved last; what is danced may be the one before

	cue      cue.Cue // what is shown
	clock    clock
	news     term.News
	open     opened
	book     marks.Book
	song     *songpage.Model
	mixer    mixer
	lead     *session.Lead  // nil for none
	lesson   *pane.Lesson   // nil for none
	loopFrom *routine.Beats // the start of a loop whose end is still to be set
	taps     taps
	learning byHeart
	class    class
	asked    Turn // what q asked about; the same key again does it

	width, height int
}

// byHeart is how a routine is learnt.
type byHeart struct {
	heart bool // each clean run-through hides more
	swap  bool // the partners' parts are swapped when the next run-through begins
}

// class is what a class needs.
type class struct {
	called bool // whether figures were named aloud before it
	remote bool // a presentation remote has been used, which must not leave the dance
}

// Turn is where a key leads from the dance.
type Turn uint8

// Where a key can lead.
const (
	Stay Turn = iota
	Help
	Findings
	Quiz
	Song  // the song's page
	Back  // from there
	Leave // to where the sheet was chosen
	Quit
)

// New returns the screen of a sheet that can be danced. Its commands end with ctx.
func New(ctx context.Context, s Sheet, o Options) (*Model, tea.Cmd) {
	m := &Model{ctx: ctx, o: o, sheet: s, cue: cue.Cue{Dancers: o.Dancers, Count: o.Count}}
	o.Pauses.leave() // what was danced before
	m.cue.Moment = o.Transport.Now(time.Now())
	m.song = songpage.New(ctx, o.Songs, o.Transport, s.Timeline, o.Theme, &m.news)
	if o.Diary != nil {
		m.book.Keeper = o.Diary.Begin(s.Timeline.Score)
	}
	var led tea.Cmd
	if o.Session != nil {
		led = leads(m, session.New(o.Session(s.Timeline), s.Timeline, o.Left, nil))
	}
	if o.Lesson {
		m.lesson = &pane.Lesson{}
		o.Transport.Set(func(now player.Moment) player.Settings { return now.Settings.At(lessonPercent, 0) })
	}
	return m, tea.Batch(m.mixer.change(m, nil), led, m.look(), m.song.Read(s.ID, s.Path))
}

// lessonPercent is the tempo at which somebody dances for the first time, in per cent of the sheet's
// (our own choice).
const lessonPercent = 60

// Msg is a message that a dance's commands bring, for its Update.
type Msg interface{ to() *Model }

// forModel is the dance that a message is for. Another may have taken its place by then.
type forModel struct{ *Model }

func (f forModel) to() *Model { return f.Model }

// The messages.
type (
	tickMsg struct {
		forModel
		number int
	}
	levelsMsg struct {
		forModel
		number int
		levels audio.Levels
	}
)

// Update takes in a message. One that was for another dance does nothing.
func (m *Model) Update(msg Msg) tea.Cmd {
	if msg.to() != m {
		return nil
	}
	switch msg := msg.(type) {
	case tickMsg:
		if msg.number == m.clock.tick {
			return m.look()
		}
	case levelsMsg:
		m.mixer.told(msg)
	}
	return nil
}

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

// Resize lays the dance out for a window.
func (m *Model) Resize(width, height int) { m.width, m.height = width, height }

// HasSong reports whether a song is known.
func (m *Model) HasSong() bool { return m.song.Song() != nil }

// Score returns the score that is danced, and Dancers whose steps are shown.
func (m *Model) Score() *routine.Score    { return m.cue.Moment.Timeline.Score }
func (m *Model) Dancers() routine.Dancers { return m.cue.Dancers }

// Say shows a message for a while, or until a key is pressed.
func (m *Model) Say(text string) tea.Cmd {
	m.news.Say(text)
	return m.look()
}

// SetSound says what is wrong with the sound; "" if nothing is.
func (m *Model) SetSound(text string) { m.o.Sound = text }

// mostHolding is how long to wait for the sound at most.
const mostHolding = time.Second

// Suspend returns what holds the dance before the program is stopped: it waits until the transport
// has done so, which carries out what it is asked in order.
func (m *Model) Suspend() func() {
	t := m.o.Transport
	return func() {
		t.Hold()
		held := make(chan struct{})
		t.Level(func(l audio.Levels) audio.Levels {
			close(held)
			return l
		})
		select {
		case <-held:
		case <-time.After(mostHolding):
		}
	}
}

// Stop holds the dance and keeps what was danced until now.
func (m *Model) Stop() {
	m.o.Transport.Hold()
	m.book.Stop(time.Now())
	m.keep(m.book.Keep())
	endClass(m)
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
	return tea.Batch(cmd, m.clock.wake(m, now))
}

// sameCount reports whether one count lasts from one moment to another.
func sameCount(a, b player.Moment) bool {
	if b.State == player.LeadIn {
		return a.State == b.State && a.LeadInNumber() == b.LeadInNumber()
	}
	return a.State == b.State && a.Event == b.Event && a.RunThrough == b.RunThrough
}
