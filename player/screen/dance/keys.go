package dance

import (
	"sync"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/changes"
	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/player/screen/pane"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Action is a key of the dance and what it does. Keys, help line and help page all come from
// the same list.
type Action struct {
	key.Binding
	do func(*Model) tea.Cmd
}

// Group is what belongs together on the help page.
type Group struct {
	Title   string
	Actions []Action
}

// keys are all keys of the dance. They never change.
var keys struct {
	once   sync.Once
	groups []Group
}

// Groups lists all keys of the dance. The list must not be changed.
func Groups() []Group {
	keys.once.Do(func() { keys.groups = newGroups() })
	return keys.groups
}

func newGroups() []Group {
	return []Group{
		{"Move", []Action{
			{term.Bind("space", "start, hold", " "), toggle},
			{term.Bind("→", "next step", "right"), goes(true, (*player.Timeline).NextStep)},
			{term.Bind("←", "step before", "left"), goes(true, (*player.Timeline).PreviousStep)},
			{term.Bind("↓", "next figure", "down"), goes(false, (*player.Timeline).NextFigure)},
			{term.Bind("↑", "figure before", "up"), goes(false, (*player.Timeline).PreviousFigure)},
			{term.Bind("Home", "to the start", "home"), goes(false, toStart)},
		}},
		{"Tempo", []Action{
			{term.Bind("+", "1 bar/min faster", "+", "="), changing(changes.Faster(1))},
			{term.Bind("−", "1 bar/min slower", "-", "_"), changing(changes.Faster(-1))},
			{term.Bind("t", "type a tempo or a ladder", "t"), opening(typing)},
			{term.Bind("b", "tap along with music", "b"), tap},
			{term.Bind("g", "faster each run-through", "g"), ladder},
		}},
		{"Repeat", []Action{
			{term.Bind("r", "figure, its join, no loop", "r"), nextLoop},
			{term.Bind("[", "loop from here", "["), loopFrom},
			{term.Bind("]", "loop to here", "]"), loopTo},
		}},
		{"It went wrong", []Action{
			{term.Bind("z", "mark it; a rung down", "z"), wentWrong()},
			{term.Bind("1", "mark it for the leader", "1"), wentWrong(routine.Leader)},
			{term.Bind("2", "mark it for the follower", "2"), wentWrong(routine.Follower)},
			{term.Bind("Backspace", "take the mark back", "backspace"), takeBack},
		}},
		{"See", []Action{
			{term.Bind("v", "steps, plan, count alone", "v"), nextView},
			{term.Bind("V", "plan from elsewhere", "V"), turnView},
			{term.Bind("s", "both, leader, follower", "s"), nextDancers},
		}},
		{"More", []Action{
			{term.Bind("m", "sound: what is heard", "m"), opening(mixing)},
			{term.Bind("u", "learn: by heart, questions", "u"), opening(learning)},
			{term.Bind("o", "options, song, warnings", "o"), opening(choosing)},
			{term.Bind("?", "help", "?"), turning(Help)},
			{term.Bind("esc", "hold, then leave; q quits", "esc", "q", "ctrl+c"), nil}, // see leaving
		}},
	}
}

// moved says where a key of an earlier release has gone.
var moved = map[string]string{
	"0": "The sheet's tempo: t, then enter", "G": "A ladder of tempi: t, as in 70 to 100 by 5", "B": "Tap the 1 of a bar: keep tapping b, then space",
	"l": "Lead-in: under o", "R": "Rest between run-throughs: under o", "c": "How it is counted: under o", "e": "Left foot in the left ear: under m",
	"n": "Names of figures aloud: under m", "a": "Volume: under m", "A": "Volume: under m", "d": "Volume: under m", "D": "Volume: under m",
	"k": "Volume: under m", "K": "Volume: under m", "f": "Volume: under m", "F": "Volume: under m", "O": "Volume: under m",
	"M": "The song's beats: under o", "w": "Warnings of the sheet: under o", "j": "The join to the next figure: press r twice",
	"p": "Plan of the floor: v", "C": "Class, the count alone: v", "h": "By heart: under u", "H": "By heart: under u", "N": "Next exercise: under u",
	"S": "Swap parts: under u", "Z": "Drill what went wrong: under u",
}

// Press carries out a key, and returns where it leads.
func (m *Model) Press(msg tea.KeyMsg) (Turn, tea.Cmd) {
	name := msg.String()
	asked := m.asked
	m.asked = Stay
	m.clock.expect()
	if m.open.kind != closed {
		cmd := m.pressPane(msg)
		return m.turned(), tea.Batch(cmd, m.look())
	}
	m.news.Clear()
	m.o.Pauses.Text = ""
	cmd, known := m.pressRemote(name)
	if !known {
		cmd, known = m.act(msg, asked)
	}
	if m.lesson.Press(name) && m.lesson.Over() {
		m.lesson = nil
		m.news.Say("That is all you need. ? shows the rest")
	}
	if text := moved[name]; !known && text != "" {
		m.news.Say(text)
	}
	return m.turned(), tea.Batch(cmd, m.look())
}

// act does what a key is bound to; known is false if that is nothing.
func (m *Model) act(msg tea.KeyMsg, asked Turn) (cmd tea.Cmd, known bool) {
	switch msg.String() {
	case "esc", "q", "ctrl+c":
		return m.leaving(msg.String(), asked), true
	case "enter":
		if m.lead != nil {
			return nextExercise(m), true
		}
	}
	for _, g := range Groups() {
		for _, a := range g.Actions {
			if key.Matches(msg, a.Binding) {
				return a.do(m), true
			}
		}
	}
	return nil, false
}

// turned returns where the key leads, once.
func (m *Model) turned() Turn {
	turn := m.turn
	m.turn = Stay
	return turn
}

// leaving holds on esc, and leaves when the couple stands; q asks while it dances.
func (m *Model) leaving(name string, asked Turn) tea.Cmd {
	to := Quit
	if name == "esc" {
		to = Leave
	}
	switch {
	case name == "ctrl+c":
		m.turn = Quit
		return nil
	case name == "esc" && m.cue.Moving():
		m.o.Transport.Hold()
		return nil
	case name == "esc" && m.class.remote:
		m.news.Say("Press q to leave: esc may come from the remote")
		return nil
	case name == "q" && m.cue.Moving() && asked != Quit:
		m.asked = Quit
		m.news.Say("Leave Slowquick? Press q again. Any other key dances on")
		return nil
	}
	m.o.Transport.Hold()
	m.book.Stop(time.Now())
	if judges(m) {
		m.open.list(m, to)
		return nil
	}
	m.turn = to
	return nil
}

// turning returns the action of turning elsewhere.
func turning(to Turn) func(*Model) tea.Cmd {
	return func(m *Model) tea.Cmd {
		m.turn = to
		return nil
	}
}

func opening(k kind) func(*Model) tea.Cmd {
	return func(m *Model) tea.Cmd {
		m.open.show(k)
		return nil
	}
}

// toggle starts the couple, or holds. Just after tapping, it is the 1 of a bar on which they begin.
func toggle(m *Model) tea.Cmd {
	now := time.Now()
	if pulse, ok := m.taps.Pulse(); ok && !m.cue.Moving() && now.Sub(m.taps.last) < fresh {
		m.o.Transport.DropIn(pulse.Nearest(now), pulse)
		return nil
	}
	m.o.Transport.Toggle()
	return nil
}

// move finds where to go from a beat. It never leaves the timeline.
type move func(t *player.Timeline, beat routine.Beats) routine.Beats

func toStart(t *player.Timeline, _ routine.Beats) routine.Beats { return t.Start }

// goes returns the action of going somewhere. A step that is gone to while the couple stands
// is heard.
func goes(strike bool, to move) func(*Model) tea.Cmd {
	return func(m *Model) tea.Cmd {
		m.book.Jump()
		m.o.Transport.Go(strike, func(now player.Moment) routine.Beats { return to(now.Timeline, changes.Place(now)) })
		return nil
	}
}

// changing returns the action of changing how it is danced.
func changing(c changes.Change) func(*Model) tea.Cmd {
	return func(m *Model) tea.Cmd {
		m.o.Transport.Set(c)
		return nil
	}
}

// usual is the ladder that is climbed if none is typed, in per cent.
func usual() player.Ladder { return player.Ladder{Start: 70, Gain: 5, Top: 100, Times: 1} }

// ladder begins a ladder of tempi, or ends it at the tempo it has reached.
func ladder(m *Model) tea.Cmd {
	if m.cue.Moment.Settings.Ladder != (player.Ladder{}) {
		m.news.Say("The tempo stays as it is")
		return changing(changes.KeepTempo)(m)
	}
	m.news.Say("From 70 % to 100 %, 5 % faster with each run-through")
	return changing(changes.Climb(usual()))(m)
}

func nextLoop(m *Model) tea.Cmd {
	m.loopFrom = nil
	return changing(changes.NextLoop)(m)
}

// loopFrom sets the start of a loop at the count that is heard.
func loopFrom(m *Model) tea.Cmd {
	at := m.cue.At().At
	m.loopFrom = &at
	m.news.Say("Loop start: " + cue.Place(m.cue.Moment.Timeline, at) + ". ] sets the end")
	return nil
}

// loopTo sets the end of a loop at the count that is heard, and loops: from the start that was
// set, or else from that of the figure.
func loopTo(m *Model) tea.Cmd {
	timeline := m.cue.Moment.Timeline
	end := m.cue.At()
	start := changes.Figure(m.cue.Moment).From
	if m.loopFrom != nil {
		start = *m.loopFrom
	}
	first := &timeline.Events[max(0, timeline.At(start))]
	m.loopFrom = nil
	return changing(changes.Loop(player.Interval{From: min(first.At, end.At), To: max(first.At+first.Length, end.At+end.Length)}))(m)
}

func nextView(m *Model) tea.Cmd { return look(m, m.o.View.Next) }
func turnView(m *Model) tea.Cmd { return look(m, m.o.View.Turn) }

// look changes what is seen. A class begins and ends with its view.
func look(m *Model, change func()) tea.Cmd {
	was := m.inClass()
	change()
	nameView(m)
	if m.inClass() != was {
		return startClass(m)
	}
	return nil
}

// nameView says what is seen now.
func nameView(m *Model) {
	_, _, _, room := frame(m)
	m.news.Say(m.o.View.Name(&m.cue, m.width, room))
}

func nextDancers(m *Model) tea.Cmd {
	m.cue.Dancers = (m.cue.Dancers + 1) % (routine.FollowerAlone + 1)
	return nil
}

// Keys returns what the help line says.
func (m *Model) Keys() []key.Binding {
	switch m.open.kind {
	case typing:
		return pane.TempoKeys()
	case judging:
		return m.open.ticks.Keys()
	case mixing, learning, choosing:
		return pane.Keys(m.open.key())
	}
	k := func(name string) key.Binding { return find(name) }
	space, back := "start", "leave"
	if m.cue.Moving() {
		space, back = "hold", "hold"
	}
	keys := []key.Binding{
		term.Named(k(" "), "space", space), term.Named(k("?"), "?", "help"), term.Pair(k("left"), k("right"), "←→", "step"),
		term.Pair(k("down"), k("up"), "↑↓", "figure"), term.Pair(k("+"), k("-"), "+−", "tempo"), term.Named(k("r"), "r", "repeat"),
		term.Named(k("s"), "s", "partner"), term.Named(k("v"), "v", "view"), term.Named(k("z"), "z", "wrong"), term.Named(k("m"), "m", "sound"),
		term.Named(k("o"), "o", "options"), term.Named(k("u"), "u", "learn"), term.Bind("esc", back, "esc"),
	}
	return keys
}

// find returns the binding of a key.
func find(name string) key.Binding {
	for _, g := range Groups() {
		for _, a := range g.Actions {
			for _, k := range a.Keys() {
				if k == name {
					return a.Binding
				}
			}
		}
	}
	panic("no action has the key " + name)
}
