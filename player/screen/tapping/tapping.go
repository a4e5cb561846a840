// Package tapping is the screen on which a dancer taps or claps the rhythm of the steps, and sees how
// well they kept time.
//
// It doesn't judge: package timing does. A tap counts from when its key arrives, less the usual delay of
// keyboards; claps are looked for afterwards, in what the microphone heard. Begin with [Run], or with
// [New] inside another screen.
package tapping

import (
	"context"
	"math"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/timing"
	"dance.example/slowquick/routine"
)

// Sound plays the count and the song, and says what is heard.
type Sound interface {
	// Heard returns the frame heard at a time.
	Heard(time.Time) float64
	// Perform plays the plan that start returns; if that is nil, it changes nothing. It calls start with
	// the first frame that can still be altered, and may take a second.
	Perform(start func(frame int64, sounds player.Sounds) *timing.Plan)
	// Unsure returns by how much what Heard returns may be wrong, in seconds.
	Unsure() float64
	// Rest ends what is performed, if anything is.
	Rest()
	// Listen begins to listen for claps. Its error is shown to the dancer.
	Listen(context.Context) (Ear, error)
}

// Ear listens for claps. It keeps nothing.
type Ear interface {
	// Claps returns the times of the claps, in seconds on the clock of what is heard, and by how much
	// all of them may be wrong. It may take a second or more.
	Claps(plan *timing.Plan) (at []float64, unsure float64, err error)
	Close()
}

// Options says what is tapped.
type Options struct {
	Sound Sound
	Rate  int // frames a second
	// Danced returns what is tapped, as it is when a try begins: the loop of the settings or, without one,
	// the whole routine.
	Danced func() (*player.Timeline, player.Settings)
	Silent int  // the number of silent bars after every four
	Mic    bool // claps count, not taps
	Theme  term.Theme
	// Keep is called with each result, the routine and the tempo of its first step; nil if nothing is kept.
	Keep func(*routine.Score, timing.Result, routine.Tempo)
}

const (
	heardBars = 4  // before each silence
	turns     = 3  // how often bars are heard and then silent
	plainBars = 16 // danced if there is no silence
	// keysLate is how much later than the finger a tap arrives, and keysUnsure by how much that may be
	// wrong. Nearly all of it is the keyboard's, which can't be measured here: from the finger's first
	// movement to the USB packet keyboards take 15 to 60 ms, the median about 30. From there to the
	// program the kernel and the terminal take a few ms: from memory. From what the terminal writes to
	// the time that this package notes it takes 0.2 ms, and one time in twenty more than 1 ms (BenchmarkKey).
	//
	// Source: Luu, "Keyboard latency" (2017), danluu.com/keyboard-latency; its numbers from memory.
	keysLate, keysUnsure = 0.030, 0.025
	// after is how long after the last step a tap may come, in seconds.
	after = 0.3
	// often is the time between two looks at the clock.
	often = 15 * time.Millisecond
)

// phase is how far a try has come.
type phase uint8

const (
	ready phase = iota
	starting
	dancing
	listening
	done
)

// Model is the screen. It is a [tea.Model].
type Model struct {
	ctx           context.Context
	o             Options
	width, height int

	score  *routine.Score     // of what is tapped
	stop   context.CancelFunc // ends the try, and nothing more begins; nil before the first
	phase  phase
	plan   *timing.Plan
	taps   []float64 // seconds
	ear    Ear
	deaf   string // why claps can't be heard; "" if they can
	result timing.Result
	left   bool
	turn   int // numbers the tries
}

// Msg is a message to this screen.
type Msg interface{ tapping() }

type (
	begunMsg struct {
		turn int
		plan *timing.Plan
		ear  Ear
		deaf error
	}
	lookMsg  struct{ turn int }
	clapsMsg struct {
		turn   int
		at     []float64
		unsure float64
		err    error
	}
)

func (begunMsg) tapping() {}
func (lookMsg) tapping()  {}
func (clapsMsg) tapping() {}

// New returns the screen before the first tap. Its commands end with ctx.
func New(ctx context.Context, o Options) Model {
	timeline, _ := o.Danced()
	return Model{ctx: ctx, o: o, score: timeline.Score}
}

// Resize lays the screen out for a window.
func (m *Model) Resize(width, height int) { m.width, m.height = width, height }

// Left reports whether the dancer has left the screen.
func (m Model) Left() bool { return m.left }

// Result returns what was measured last; ok is false if nothing was.
func (m Model) Result() (r timing.Result, ok bool) { return m.result, m.phase == done }

// Stop ends what sounds and listens.
func (m Model) Stop() {
	if m.stop != nil {
		m.stop()
		m.o.Sound.Rest()
	}
}

// Suspend returns a function that ends the sound, to be called before the program is stopped.
func (m Model) Suspend() func() { return m.Stop }

// Init does nothing.
func (m Model) Init() tea.Cmd { return nil }

// Update routes a message.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.Resize(msg.Width, msg.Height)
	case tea.KeyMsg:
		return m.pressed(msg, time.Now())
	case begunMsg:
		return m.begun(msg)
	case lookMsg:
		if msg.turn == m.turn {
			return m.looked(time.Now())
		}
	case clapsMsg:
		return m.heard(msg), nil
	}
	return m, nil
}

func (m Model) pressed(msg tea.KeyMsg, now time.Time) (tea.Model, tea.Cmd) {
	key := msg.String()
	switch {
	case key == "ctrl+c", key == "q", key == "esc", m.phase == done && key == "enter":
		m.Stop()
		m.left = true
		return m, tea.Quit
	case m.phase == dancing && (key == " " || msg.Type == tea.KeyRunes):
		m.taps = append(m.taps, m.seconds(now)-keysLate)
	case m.phase == ready && key == "m":
		m.o.Mic, m.deaf = !m.o.Mic, ""
	case m.phase == ready && (key == "left" || key == "right"):
		m.o.Silent = nextSilent(m.o.Silent, key == "right")
	case m.phase == ready && key == "enter", m.phase == done && key == "r":
		return m.start()
	}
	return m, nil
}

// silences are the choices for the number of silent bars.
var silences = [...]int{0, 2, 4, 8}

func nextSilent(now int, more bool) int {
	if more {
		for _, n := range silences {
			if n > now {
				return n
			}
		}
		return now
	}
	for i := len(silences) - 1; i >= 0; i-- {
		if silences[i] < now {
			return silences[i]
		}
	}
	return 0
}

// number returns the number of bars danced in a try.
func (m *Model) number() int {
	if m.o.Silent == 0 {
		return plainBars
	}
	return turns * (heardBars + m.o.Silent)
}

func (m *Model) seconds(at time.Time) float64 { return m.o.Sound.Heard(at) / float64(m.o.Rate) }

// start begins to count and to listen.
func (m Model) start() (Model, tea.Cmd) {
	timeline, set := m.o.Danced()
	set.Rest, set.Quiet = 0, false
	if set.Loop.Empty() {
		set.Loop = player.Interval{From: timeline.Start, To: timeline.End}
	}
	set.LeadIn = max(1, set.LeadIn)
	m.phase, m.taps, m.turn, m.score = starting, nil, m.turn+1, timeline.Score
	if m.stop != nil {
		m.stop()
	}
	var ctx context.Context
	ctx, m.stop = context.WithCancel(m.ctx)
	return m, func() tea.Msg {
		b := begunMsg{turn: m.turn}
		if m.o.Mic {
			if b.ear, b.deaf = m.o.Sound.Listen(ctx); b.deaf == nil {
				context.AfterFunc(ctx, b.ear.Close)
			}
		}
		m.o.Sound.Perform(func(frame int64, sounds player.Sounds) *timing.Plan {
			if ctx.Err() != nil { // it was left
				return nil
			}
			c := player.NewCourse(m.o.Rate, sounds, timeline, set)
			from := frame + int64(m.o.Rate)/2 // time to take a breath
			b.plan = timing.NewPlan(c.Start(from, timeline, set.Loop.From, set), m.o.Rate, float64(from), m.number(),
				timing.Bars{Heard: heardBars, Silent: m.o.Silent})
			return b.plan
		})
		return b
	}
}

func (m Model) begun(msg begunMsg) (tea.Model, tea.Cmd) {
	if msg.turn != m.turn || m.left || msg.plan == nil {
		return m, nil
	}
	m.phase, m.plan, m.ear, m.deaf = dancing, msg.plan, msg.ear, ""
	if msg.deaf != nil {
		m.deaf = msg.deaf.Error()
	}
	return m, m.lookAgain()
}

func (m Model) lookAgain() tea.Cmd {
	turn := m.turn
	return tea.Tick(often, func(time.Time) tea.Msg { return lookMsg{turn} })
}

// looked ends the try once its last step is over.
func (m Model) looked(now time.Time) (tea.Model, tea.Cmd) {
	if m.phase != dancing {
		return m, nil
	}
	if m.seconds(now) < m.plan.End/float64(m.o.Rate)+after {
		return m, m.lookAgain()
	}
	m.o.Sound.Rest()
	if m.ear == nil {
		return m.judged(m.taps, m.tapsUnsure()), nil
	}
	m.phase = listening
	ear, plan, turn := m.ear, m.plan, m.turn
	return m, func() tea.Msg {
		defer ear.Close()
		at, unsure, err := ear.Claps(plan)
		return clapsMsg{turn, at, unsure, err}
	}
}

// heard judges the claps that were found, or the taps if claps can't be heard.
func (m Model) heard(msg clapsMsg) Model {
	if msg.turn != m.turn || m.phase != listening {
		return m
	}
	m.ear = nil
	if msg.err != nil {
		m.deaf = msg.err.Error()
		return m.judged(m.taps, m.tapsUnsure())
	}
	return m.judged(msg.at, timing.Unsure{Taps: msg.unsure})
}

// tapsUnsure is by how much all taps may be wrong.
func (m *Model) tapsUnsure() timing.Unsure {
	return timing.Unsure{Sound: m.o.Sound.Unsure(), Taps: keysUnsure}
}

func (m Model) judged(at []float64, unsure timing.Unsure) Model {
	m.phase, m.result = done, timing.Judge(m.plan.Steps, at, unsure)
	if steps := m.plan.Steps; m.o.Keep != nil && len(steps) > 0 {
		m.o.Keep(m.score, m.result, routine.Tempo(math.Round(60/steps[0].Beat*float64(routine.BeatPerMinute))))
	}
	return m
}
