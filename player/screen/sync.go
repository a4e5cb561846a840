package screen

import (
	"context"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
)

// SyncOptions is what it takes to find how late the sound is.
type SyncOptions struct {
	Line   player.Line // which takes nothing off for lateness
	Engine interface{ Play(audio.Schedule) }
	Rate   int // frames a second
	Click  audio.Sound

	NoColor bool
	Input   io.Reader // nil for the terminal
	Output  io.Writer // nil for standard output
}

// Sync lets someone tap with clicks and with flashes. It gives how much later
// than the screen the sound comes, and whether that is to be kept.
func Sync(ctx context.Context, o SyncOptions) (late time.Duration, keep bool, err error) {
	with := []tea.ProgramOption{tea.WithFPS(frameRate), tea.WithAltScreen(), tea.WithoutSignalHandler()}
	if o.Input != nil {
		with = append(with, tea.WithInput(o.Input))
	}
	if o.Output != nil {
		with = append(with, tea.WithOutput(o.Output))
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	program := tea.NewProgram(newSyncing(o), with...)
	defer context.AfterFunc(ctx, program.Quit)()
	last, err := program.Run()
	if err != nil {
		return 0, false, fmt.Errorf("show the screen: %w", err)
	}
	m, ok := last.(syncing)
	if !ok || !m.keep {
		return 0, false, nil
	}
	return m.late, true, nil
}

// What is tapped with: a beat at 100 a minute, of which the first four are not
// counted.
const (
	tapEvery    = 600 * time.Millisecond
	tapCount    = 20
	tapPrepared = 4
	flashFor    = 120 * time.Millisecond
)

// metronome strikes a sound again and again.
type metronome struct {
	sound       audio.Sound
	from, every int64 // frames
}

// Hits makes metronome an [audio.Schedule].
func (m metronome) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	for i := range int64(tapCount) {
		if at := m.from + i*m.every; at >= from && at < to {
			dst = append(dst, audio.Hit{Frame: at, Sound: m.sound, Layer: player.ClickLayer, Gain: 1})
		}
	}
	return dst
}

// syncPhase is how far the search has come.
type syncPhase uint8

const (
	toClicks syncPhase = iota
	withClicks
	toFlashes
	withFlashes
	found
)

// syncing is the screen on which it is tapped. It is a [tea.Model].
type syncing struct {
	o             SyncOptions
	theme         Theme
	width, height int

	phase   syncPhase
	begin   float64 // the frame of the first click or flash; infinite until it is known
	flash   bool
	offsets [2][]float64 // seconds from each click, and each flash, to its tap
	late    time.Duration
	spread  time.Duration
	steady  bool
	keep    bool
}

// begunMsg tells on which frame the clicks or flashes begin; lookMsg that it is
// time to look again.
type (
	begunMsg struct{ frame int64 }
	lookMsg  struct{}
)

func newSyncing(o SyncOptions) syncing {
	return syncing{o: o, theme: NewTheme(!o.NoColor && !termenv.EnvNoColor()), begin: math.Inf(1)}
}

// Init asks for nothing.
func (m syncing) Init() tea.Cmd { return nil }

// Update passes a message on to what it concerns.
func (m syncing) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
	case begunMsg:
		m.begin = float64(msg.frame)
		return m, lookAgain()
	case lookMsg:
		return m.looked(time.Now())
	case tea.KeyMsg:
		return m.pressed(msg, time.Now())
	}
	return m, nil
}

func lookAgain() tea.Cmd {
	return tea.Tick(time.Second/frameRate/2, func(time.Time) tea.Msg { return lookMsg{} })
}

// start begins the clicks, or in silence the flashes, in a second.
func (m syncing) start(sound audio.Sound) tea.Cmd {
	return func() tea.Msg {
		var begin int64
		m.o.Line.Change(func(frame int64) {
			begin = frame + int64(m.o.Rate)
			m.o.Engine.Play(metronome{sound, begin, int64(tapEvery.Seconds() * float64(m.o.Rate))})
		})
		return begunMsg{begin}
	}
}

func (m syncing) pressed(msg tea.KeyMsg, now time.Time) (tea.Model, tea.Cmd) {
	switch key := msg.String(); {
	case key == "q", key == "esc", key == "ctrl+c":
		return m, tea.Quit
	case key == "enter" && m.phase == found && m.steady:
		m.keep = true
		return m, tea.Quit
	case key == "r" && m.phase == found:
		again := newSyncing(m.o)
		again.width, again.height = m.width, m.height
		return again, nil
	case key == "enter" && m.phase == toClicks: // not the space bar, which may still be tapped
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

// beats is how many beats after the first a time is.
func (m *syncing) beats(at time.Time) float64 {
	return (m.o.Line.Heard(at) - m.begin) / float64(m.o.Rate) / tapEvery.Seconds()
}

// tap notes how far a tap is from the nearest click or flash that counts.
func (m *syncing) tap(kind int, now time.Time) {
	at := m.beats(now)
	nearest := math.Round(at)
	if nearest >= tapPrepared && nearest < tapCount {
		m.offsets[kind] = append(m.offsets[kind], (at-nearest)*tapEvery.Seconds())
	}
}

// looked shows a flash, and goes on after the last click or flash.
func (m syncing) looked(now time.Time) (tea.Model, tea.Cmd) {
	at := m.beats(now.Add(lead))
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
		m.phase = found
		late, spread, ok := player.Lateness(m.offsets[0], m.offsets[1])
		m.late, m.spread, m.steady = time.Duration(late*float64(time.Second)), time.Duration(spread*float64(time.Second)), ok
	}
	return m, nil
}

// View says what to do.
func (m syncing) View() string {
	if m.width <= 0 || m.height <= 0 {
		return ""
	}
	var texts []string
	switch m.phase {
	case toClicks:
		texts = []string{"How late is the sound?", "", "Loudspeakers without a wire can be late. You tap the space bar with clicks,",
			"and then with flashes; the first four of each are to get used to them.", "", "enter begins the clicks"}
	case withClicks:
		texts = []string{"Tap the space bar with each click.", "", tapsText(m.offsets[0])}
	case toFlashes:
		texts = []string{"Now tap with each flash; there is no sound.", "", "enter begins the flashes"}
	case withFlashes:
		texts = []string{"Tap the space bar with each flash.", "", tapsText(m.offsets[1])}
	case found:
		texts = m.foundTexts()
	}
	lines := make([]string, 0, m.height)
	for i, text := range texts {
		k := noInk
		if i == 0 {
			k = m.theme.heading
		}
		lines = append(lines, newRow(m.width).to(2).put(k, text).String())
	}
	if m.flash {
		lines = append(lines, "")
		for len(lines) < m.height-2 {
			lines = append(lines, newRow(m.width).to(m.width/4).put(m.theme.present, strings.Repeat(" ", m.width/2)).String())
		}
	}
	return join(m.height, lines, nil, []string{newRow(m.width).to(2).put(noInk, "q leaves it as it is").String()})
}

func tapsText(offsets []float64) string {
	return fmt.Sprintf("%d of %d taps", len(offsets), tapCount-tapPrepared)
}

// foundTexts tells what was found.
func (m *syncing) foundTexts() []string {
	if !m.steady {
		return []string{"The taps were too few or too uneven to tell.", "", "r tries again"}
	}
	ms := m.late.Milliseconds()
	side := "after"
	if ms < 0 {
		ms, side = -ms, "before"
	}
	return []string{fmt.Sprintf("The sound comes %d ms %s what the screen shows.", ms, side),
		fmt.Sprintf("Half of your taps were within %d ms of that.", m.spread.Milliseconds()), "",
		"enter keeps it for this kind of sound, r tries again"}
}
