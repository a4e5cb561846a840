package screen

import (
	"context"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/player/screen/making"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/player/screen/tapping"
	"dance.example/slowquick/player/screen/terminal"
	"dance.example/slowquick/player/screen/view"
	"dance.example/slowquick/player/summary"
	"dance.example/slowquick/routine"
)

// Sound is what the screen needs of the sound device.
type Sound interface {
	// Status says in plain words why nothing is heard; "" if all is well.
	Status() string
	// Changed receives when Status may say something else.
	Changed() <-chan struct{}
}

// Shelf holds the sheets that can be chosen.
type Shelf interface {
	sheetlist.Source
	// Open reads a sheet. The channel, which may be nil, receives it again each
	// time it is saved, until ctx ends. The error says that the sheet could not
	// be read at all.
	Open(ctx context.Context, e sheetlist.Entry) (dance.Sheet, <-chan dance.Sheet, error)
}

// Handbook is what the handbook's pages show, and drills of its figures.
type Handbook interface {
	handbook.Book
	// Drill returns one of the chapter's figures and what leads back to it. It is
	// called from commands, as Book's methods are.
	Drill(c *handbook.Chapter, fig *routine.Figure) Drill
}

// Drill is a figure to be danced over and over.
type Drill struct {
	dance.Sheet
	Returns bool // it ends so that it can begin again at once
}

// Learn is what the ways to learn need.
type Learn struct {
	// Past is what was danced of a routine, for questions and marks; nil for nothing known. It
	// may itself give nil.
	Past  func(*routine.Score) *practice.History
	Joins practice.Joins // for the questions; nil asks nothing of what can follow
	// Tapping returns how the steps of what is danced now are tapped, on the sound of the dance, which
	// stands still; nil for not at all.
	Tapping func(now func() player.Moment) tapping.Options
}

// Make is what making routines needs. Its functions are called from commands, but for Dances.
type Make struct {
	making.Options
	Begin bool                        // at once, with the choice of a dance
	First func() (draft.Draft, error) // is made at once; nil for none
	// Dances lists what one can make a routine of.
	Dances func() []*routine.Dance
	// New returns a routine without figures, and Open the sheet, or the draft, of an entry's ID.
	New  func(making.Beginning) (draft.Draft, error)
	Open func(id string) (draft.Draft, error)
	// Sheet returns a routine as it is danced.
	Sheet func(draft.Draft) dance.Sheet
	// Forget throws away what is kept of a routine that isn't saved.
	Forget func(draft.Draft) error
}

// Options is what the screen is made of.
type Options struct {
	// Stage gives a transport that stands at the start of a sheet that can be danced.
	// It is called for each that is opened, and ends the transport before.
	Stage func(dance.Sheet) dance.Transport
	Shelf Shelf
	Sound Sound            // nil if there is nothing to say of it
	Notes <-chan string    // what is to be told once, in plain words; nil for nothing
	Open  *sheetlist.Entry // what is danced at once; nil to choose from the list

	Make     *Make         // nil for no making
	Handbook Handbook      // nil for none
	Songs    songpage.Book // nil for none

	Diary practice.Diary // nil keeps nothing
	Learn Learn
	// Session plans what to lead through of the sheet that is danced at once, or of each
	// that is chosen if none is; nil for nothing. Left keeps how far it is, for the sheet as
	// it is by then.
	Session func(*player.Timeline) practice.Session
	Left    func(*routine.Score, practice.Session)

	// Sums returns what a session that is over came to; nil shows nothing of it. It is called
	// from a command, and may wait for the diary.
	Sums func(dance.Over) []summary.Section

	// First is the example that somebody dances who starts the program for the first time, after
	// the cautions; nil goes to the list at once.
	First *sheetlist.Entry

	// Seen is called when the cautions, which then stand before everything else, have
	// been read; nil shows none.
	Seen func()

	PauseAfter time.Duration // of dancing until a pause is suggested; 0 for never

	Dancers routine.Dancers
	Count   player.Counting
	Look    Look
	Program program.Options // where it runs; Due is the screen's own
}

// Look is how the screen is drawn.
type Look struct {
	NoColor  bool             // as if NO_COLOR were set
	Mode     raster.Mode      // what the terminal shows; Run guesses it, and asks the terminal
	Pictures terminal.Setting // 0 for the best that the terminal says it has
	View     view.Kind        // that is shown first
}

// shown returns what is shown of what a terminal can.
func (l *Look) shown(mode raster.Mode) raster.Mode {
	if l.NoColor {
		mode.Depth = raster.Mono
	}
	return terminal.Choose(mode, l.Pictures)
}
