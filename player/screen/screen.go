// Package screen is the terminal screen: it shows what is heard now, to be read
// from three metres by people who move.
//
// The screen keeps no time. It asks the [Transport] for the moment that is
// heard, wakes up when the next event is due, and shows it. [Run] draws a full
// screen; package lines writes what is danced without one.
package screen

import (
	"context"
	"fmt"
	"io"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	_ "dance.example/slowquick/player/screen/internal/quiet" // before bubbletea
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
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
	// Entries lists the sheets in the order in which they are shown.
	Entries() ([]Entry, error)
	// Open reads a sheet. The channel, which may be nil, receives it again each
	// time it is saved, until ctx ends. The error says that the sheet could not
	// be read at all.
	Open(ctx context.Context, e Entry) (Loaded, <-chan Loaded, error)
}

// Entry is a sheet on the shelf.
type Entry struct {
	Title string
	Dance string
	Place string // where it is: a file, or that it is an example
	ID    string // for the shelf alone
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
	Sound Sound         // nil if there is nothing to say of it
	Notes <-chan string // what is to be told once, in plain words; nil for nothing
	Open  *Entry        // what is danced at once; nil to choose from the list

	Handbook Handbook // nil for none
	Songs    Songs    // nil for none

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

// frameRate is how often a second the terminal is drawn, at most.
const frameRate = 120

// Run shows the screen until the dancer leaves it or ctx ends. NO_COLOR and
// CLICOLOR are honoured as no-color.org and bixense.com/clicolors describe them.
func Run(ctx context.Context, o Options) error {
	o.NoColor = o.NoColor || termenv.EnvNoColor()
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	with := []tea.ProgramOption{tea.WithFPS(frameRate), tea.WithAltScreen(), tea.WithoutSignalHandler()}
	if o.Input != nil {
		with = append(with, tea.WithInput(o.Input))
	}
	m := New(ctx, o)
	m.due = &due{}
	with = append(with, tea.WithOutput(onTime(o.Output, m.due)))
	last, err := runProgram(ctx, cautioned(m, o.Seen, m.theme), o.Guard, with)
	if m, ok := last.(Model); ok && m.dance != nil { // told to end from outside
		m.dance.stops()
	}
	if err != nil {
		return fmt.Errorf("show the screen: %w", err)
	}
	return nil
}

// runProgram shows a model until it is left or ctx ends.
func runProgram(ctx context.Context, m tea.Model, guard func(func()), with []tea.ProgramOption) (last tea.Model, err error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	s := newSuspending()
	program := tea.NewProgram(guarded(m, guard), append(with, tea.WithFilter(s.filter))...)
	go s.serve(ctx, program)
	// Asked to quit, the program waits for what reads the keys; cut off with its
	// context it would not.
	defer context.AfterFunc(ctx, program.Quit)()
	last, err = program.Run()
	return unguarded(last), err
}
