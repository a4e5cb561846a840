// Package screen is the terminal screen: it shows what is heard now, to be read
// from three metres by people who move.
//
// The screen keeps no time. It asks the [Transport] for the moment that is
// heard, wakes up when the next event is due, and shows it. [Run] draws a full
// screen; package lines writes what is danced without one.
package screen

import (
	"context"
	"io"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/caution"
	_ "dance.example/slowquick/player/screen/internal/quiet" // before bubbletea
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/routine"

	"github.com/muesli/termenv"
)

// Transport is what the screen needs of the one who moves the couple along. A
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
	Open(ctx context.Context, e sheetlist.Entry) (Loaded, <-chan Loaded, error)
}

// Loaded is a sheet that was read.
type Loaded struct {
	Name     string           // of the file, as findings name it
	ID       string           // as the shelf knows it
	Path     string           // of the file, beside which its song lies; "" if it is none
	Timeline *player.Timeline // nil if it can't be danced
	Findings []routine.Finding
	Err      error // why it could not be read when it was saved; nil if it was
}

// danceable reports whether there is anything to dance.
func (l *Loaded) danceable() bool { return l.Timeline != nil && len(l.Timeline.Events) > 0 }

// Options is what the screen is made of.
type Options struct {
	// Stage gives a transport that stands at the start of a sheet that can be danced.
	// It is called for each that is opened, and ends the transport before.
	Stage func(Loaded) Transport
	Shelf Shelf
	Sound Sound            // nil if there is nothing to say of it
	Notes <-chan string    // what is to be told once, in plain words; nil for nothing
	Open  *sheetlist.Entry // what is danced at once; nil to choose from the list

	Handbook Handbook      // nil for none
	Songs    songpage.Book // nil for none

	Diary practice.Diary // nil keeps nothing
	Joins practice.Joins // for the questions; nil asks nothing of what can follow
	// Past is what was danced of a routine, for the questions; nil for nothing known. It
	// may itself give nil.
	Past func(*routine.Score) *practice.History
	// Session plans what to lead through of the sheet that is danced at once; nil
	// for nothing. Left keeps how far it is, for the sheet as it is by then.
	Session func(*player.Timeline) practice.Session
	Left    func(*routine.Score, practice.Session)

	// Seen is called when the cautions, which then stand before everything else, have
	// been read; nil shows none.
	Seen func()

	PauseAfter time.Duration // of dancing until a pause is suggested; 0 for never

	Dancers routine.Dancers
	Count   routine.CountStyle // StyleUnset leaves it to the sheet
	NoColor bool               // as if NO_COLOR were set

	// Guard carries out what is done beside the screen; nil does just that.
	Guard func(f func())

	Input  io.Reader // nil for the terminal
	Output io.Writer // nil for standard output
}

// Run shows the screen until the dancer leaves it or ctx ends. NO_COLOR and
// CLICOLOR are honoured as no-color.org and bixense.com/clicolors describe them.
func Run(ctx context.Context, o Options) error {
	o.NoColor = o.NoColor || termenv.EnvNoColor()
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	m := New(ctx, o)
	m.due = &program.Due{}
	last, err := program.Run(ctx, caution.Before(m, o.Seen, m.theme), program.Options{Guard: o.Guard, Input: o.Input, Output: o.Output, Due: m.due})
	if m, ok := last.(Model); ok && m.dance != nil { // told to end from outside
		m.dance.stops()
	}
	return err
}

// Suspend returns what holds the dance before the program is stopped.
func (m Model) Suspend() func() {
	if m.dance == nil {
		return func() {}
	}
	transport := m.dance.transport
	return func() { hold(transport) }
}

// mostHolding is how long to wait for the sound at most.
const mostHolding = time.Second

// hold holds a dance and waits until the transport has done so: it carries out what it
// is asked in order.
func hold(t Transport) {
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
