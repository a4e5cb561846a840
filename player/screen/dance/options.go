package dance

import (
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/screen/view"
	"dance.example/slowquick/routine"
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
	// Past is what was danced of a routine; nil for nothing known. It may itself return nil.
	Past func(*routine.Score) *practice.History

	// Session plans what to lead through; nil for nothing. Left keeps how far it is.
	Session func(*player.Timeline) practice.Session
	Left    func(*routine.Score, practice.Session)

	Dancers routine.Dancers
	Count   player.Counting

	Teach bool   // teaches the keys, from slowly on
	Drill bool   // a figure of the handbook, to which leaving leads back
	Sound string // what is wrong with the sound; "" if nothing is
}

// Turn is where a key leads from the dance.
type Turn uint8

// Where a key can lead.
const (
	Stay Turn = iota
	Help
	Findings
	Quiz
	Tap   // the steps, to have them timed
	Song  // the song's page
	Back  // from there
	Edit  // the order of the sheet
	Leave // to where the sheet was chosen
	Quit
)
