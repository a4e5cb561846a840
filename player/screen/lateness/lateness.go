// Package lateness finds how late a loudspeaker is: someone taps with clicks that
// they hear and then with flashes that they see.
//
// It measures and asks whether to keep what was found; whoever calls [Find] keeps it.
// How the taps are judged is package player's.
package lateness

import (
	"context"
	"fmt"
	"io"
	"math"
	"strings"
	"sync/atomic"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/caution"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/term"
)

// Options is what it takes to find how late the sound is.
type Options struct {
	Line   player.Device // which makes up for no lateness itself
	Device Device
	Engine interface{ Play(audio.Schedule) }
	Rate   int // frames a second
	Click  audio.Sound

	Seen    func()         // called when the cautions, which then come first, were read; nil shows none
	Guard   func(f func()) // carries out what is done beside the screen; nil does just that
	NoColor bool
	Input   io.Reader // nil for the terminal
	Output  io.Writer // nil for standard output
}

// Device is where the sound goes, which may change at any time.
type Device interface {
	// Device returns the unique name of what plays and what people call it; both
	// are "" if nothing plays.
	Device() (name, called string)
	// Changed receives when Device may say something else.
	Changed() <-chan struct{}
}

// Found is what was found.
type Found struct {
	Device, Called string        // what it was measured for
	Late           time.Duration // how much later than the screen the sound comes
	Unsure         time.Duration // by how much that may be wrong
}

// Find lets someone tap with clicks and with flashes. It returns how late the sound
// is and whether that is to be kept.
func Find(ctx context.Context, o Options) (found Found, keep bool, err error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	m := New(ctx, o)
	last, err := program.Run(ctx, caution.Before(m, o.Seen, m.theme), program.Options{Guard: o.Guard, Input: o.Input, Output: o.Output})
	if err != nil {
		return Found{}, false, err
	}
	m, ok := last.(Model)
	if !ok || !m.keep { // or left before it began
		return Found{}, false, nil
	}
	return m.found(), true, nil
}

// The beat that is tapped along to, 100 a minute; the first four taps do not count.
const (
	tapEvery    = 600 * time.Millisecond
	tapCount    = 20
	tapPrepared = 4
	flashFor    = 120 * time.Millisecond
)

// metronome strikes a sound tapCount times, unless it is called off.
type metronome struct {
	sound       audio.Sound
	from, every int64 // frames
	off         *atomic.Bool
}

// Hits makes metronome an [audio.Schedule].
func (m metronome) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	if m.off.Load() {
		return dst
	}
	for i := range int64(tapCount) {
		if at := m.from + i*m.every; at >= from && at < to {
			dst = append(dst, audio.Hit{Frame: at, Sound: m.sound, Layer: player.ClickLayer, Gain: 1})
		}
	}
	return dst
}

// phase is how far the search has come.
type phase uint8

const (
	toClicks phase = iota
	withClicks
	toFlashes
	withFlashes
	done
)

// Model is the screen to tap on. It is a [tea.Model].
type Model struct {
	ctx           context.Context
	o             Options
	theme         term.Theme
	width, height int

	device, called string // what it is measured for
	moved          bool   // it began with another device

	phase   phase
	begin   float64      // frame of the first click or flash; infinite until it is known
	off     *atomic.Bool // calls the clicks off
	flash   bool
	offsets [2][]float64 // seconds from each click, and each flash, to its tap
	late    player.Lateness
	steady  bool
	keep    bool
}

// begunMsg says on which frame the clicks or flashes begin, lookMsg that it is time
// to look again, deviceMsg that the sound may go elsewhere.
type (
	begunMsg  struct{ frame int64 }
	lookMsg   struct{}
	deviceMsg struct{}
)

// New returns the screen before the first tap. Its commands end with ctx.
func New(ctx context.Context, o Options) Model {
	m := Model{ctx: ctx, o: o, theme: term.NewTheme(!o.NoColor && !termenv.EnvNoColor()), begin: math.Inf(1), off: new(atomic.Bool)}
	m.device, m.called = o.Device.Device()
	return m
}

// Suspend returns what calls the clicks off before the program is stopped.
func (m Model) Suspend() func() { return func() { m.off.Store(true) } }

// again begins once more, for what plays now.
func (m Model) again() Model {
	m.off.Store(true)
	n := New(m.ctx, m.o)
	n.width, n.height = m.width, m.height
	return n
}

// Init waits for another device.
func (m Model) Init() tea.Cmd { return m.awaitDevice() }

func (m Model) awaitDevice() tea.Cmd {
	return func() tea.Msg {
		select {
		case _, ok := <-m.o.Device.Changed():
			if ok {
				return deviceMsg{}
			}
		case <-m.ctx.Done():
		}
		return nil
	}
}

// Update passes a message on to what it concerns.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
	case begunMsg:
		if m.phase == withClicks || m.phase == withFlashes { // else it was called off
			m.begin = float64(msg.frame)
			return m, lookAgain()
		}
	case deviceMsg:
		return m.heardElsewhere()
	case lookMsg:
		return m.looked(time.Now())
	case tea.KeyMsg:
		return m.pressed(msg, time.Now())
	}
	return m, nil
}

// heardElsewhere begins again if the sound goes to another device, as taps with one
// say nothing about another. What has been found stays true.
func (m Model) heardElsewhere() (tea.Model, tea.Cmd) {
	name, called := m.o.Device.Device()
	switch {
	case m.phase == done:
	case name == m.device:
		m.called = called
	default:
		next := m.again()
		next.moved = m.moved || m.phase != toClicks
		return next, m.awaitDevice()
	}
	return m, m.awaitDevice()
}

// often is how long until it is looked again whether something flashes.
const often = 4 * time.Millisecond

func lookAgain() tea.Cmd {
	return tea.Tick(often, func(time.Time) tea.Msg { return lookMsg{} })
}

// start begins the clicks, or in silence the flashes, in a second.
func (m Model) start(sound audio.Sound) tea.Cmd {
	return func() tea.Msg {
		var begin int64
		m.o.Line.Change(func(frame int64) {
			begin = frame + int64(m.o.Rate)
			m.o.Engine.Play(metronome{sound, begin, int64(tapEvery.Seconds() * float64(m.o.Rate)), m.off})
		})
		return begunMsg{begin}
	}
}

func (m Model) pressed(msg tea.KeyMsg, now time.Time) (tea.Model, tea.Cmd) {
	switch key := msg.String(); {
	case key == "q", key == "esc", key == "ctrl+c":
		return m, tea.Quit
	case key == "enter" && m.phase == done && m.steady:
		m.keep = true
		return m, tea.Quit
	case key == "r" && m.phase == done:
		return m.again(), nil
	case key == "enter" && m.phase == toClicks && m.device != "": // not the space bar, which may still be tapped
		m.phase = withClicks
		return m, m.start(m.o.Click)
	case key == "enter" && m.phase == toFlashes:
		m.phase = withFlashes
		return m, m.start(nil)
	case key == " " && m.phase == withClicks:
		m.tap(0, now)
	case key == " " && m.phase == withFlashes:
		m.tap(1, now)
	}
	return m, nil
}

// beats returns how many beats after the first a time is.
func (m *Model) beats(at time.Time) float64 {
	return (m.o.Line.Heard(at) - m.begin) / float64(m.o.Rate) / tapEvery.Seconds()
}

// tap notes how far a tap is from the nearest click or flash that counts.
func (m *Model) tap(kind int, now time.Time) {
	at := m.beats(now)
	nearest := math.Round(at)
	if nearest >= tapPrepared && nearest < tapCount {
		m.offsets[kind] = append(m.offsets[kind], (at-nearest)*tapEvery.Seconds())
	}
}

// looked shows a flash, and goes on after the last click or flash.
func (m Model) looked(now time.Time) (tea.Model, tea.Cmd) {
	if math.IsInf(m.begin, 1) {
		return m, nil
	}
	at := m.beats(now)
	in := at - math.Floor(at)
	m.flash = m.phase == withFlashes && at >= 0 && at < tapCount && in*tapEvery.Seconds() < flashFor.Seconds()
	if at < tapCount {
		return m, lookAgain()
	}
	m.begin = math.Inf(1)
	switch m.phase {
	case withClicks:
		m.phase = toFlashes
	case withFlashes:
		m.phase = done
		m.late, m.steady = player.MeasureLateness(m.offsets[0], m.offsets[1])
	}
	return m, nil
}

// View says what to do.
func (m Model) View() string {
	if m.width <= 0 || m.height <= 0 {
		return ""
	}
	var texts []string
	switch m.phase {
	case toClicks:
		texts = m.introTexts()
	case withClicks:
		texts = []string{"Tap the space bar with each click.", "", tapsText(m.offsets[0])}
	case toFlashes:
		texts = []string{"Now tap with each flash; there is no sound.", "", "Press enter to start the flashes."}
	case withFlashes:
		texts = []string{"Tap the space bar with each flash.", "", tapsText(m.offsets[1])}
	case done:
		texts = m.foundTexts()
	}
	lines := make([]string, 0, m.height)
	for i, text := range texts {
		k := term.Plain
		if i == 0 {
			k = m.theme.Heading
		}
		lines = append(lines, term.NewRow(m.width).To(2).Put(k, text).String())
	}
	if m.flash {
		lines = append(lines, "")
		for len(lines) < m.height-3 {
			lines = append(lines, term.NewRow(m.width).To(m.width/4).Put(m.theme.Present, strings.Repeat(" ", m.width/2)).String())
		}
	}
	foot := []string{term.NewRow(m.width).To(2).Put(term.Plain, "Press q to leave it unchanged.").String()}
	if m.device != "" {
		foot = append([]string{term.NewRow(m.width).To(2).Put(term.Plain, "Measured for: "+m.called).String()}, foot...)
	}
	return term.Join(m.height, lines, nil, foot)
}

func tapsText(offsets []float64) string {
	return fmt.Sprintf("%d of %d taps", len(offsets), tapCount-tapPrepared)
}

// introTexts says what will be done.
func (m *Model) introTexts() []string {
	last := "press enter to start the clicks"
	switch {
	case m.device == "":
		last = "No sound output; still looking for one."
	case m.moved:
		last = "The sound went elsewhere. Once more: " + last
	}
	return []string{"How late is the sound?", "", "Loudspeakers without a wire can be late. You tap the space bar with clicks,",
		"and then with flashes; the first four of each are to get used to them.", "", last}
}

// found returns what was found.
func (m *Model) found() Found {
	return Found{m.device, m.called, seconds(m.late.Late), seconds(m.late.Unsure)}
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// foundTexts says what was found.
func (m *Model) foundTexts() []string {
	if !m.steady {
		return []string{"The taps were too few or too uneven to tell.", "", "Press r to try again."}
	}
	found := m.found()
	ms := found.Late.Milliseconds()
	side := "after"
	if ms < 0 {
		ms, side = -ms, "before"
	}
	return []string{fmt.Sprintf("The sound comes %d ms %s what the screen shows, give or take %d.", ms, side, found.Unsure.Milliseconds()),
		fmt.Sprintf("Half of your taps were within %d ms of that.", seconds(m.late.Spread).Milliseconds()), "",
		"Press enter to keep it for this device, r to try again."}
}
