package dance

import (
	"sync"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/changes"
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
			{term.Bind("o", "options, song, order", "o"), opening(choosing)},
			{term.Bind("?", "help", "?"), turning(Help)},
			{term.Bind("esc", "hold, then leave; q quits", "esc", "q", "ctrl+c"), nil}, // see leaving
		}},
	}
}

// moved says where a key of an earlier release has gone.
var moved = map[string]string{
	"0": "The sheet's tempo: t, then enter", "G": "A ladder of tempi: t, as in 70 to 100 by 5", "B": "Tap the 1 of a bar: keep tapping b, then space",
	"l": "Lead-in: under o", "e": "The order of figures: under o", "R": "Rest between run-throughs: under o", "c": "How it is counted: under o",
	"n": "Names of figures aloud: under m", "a": "Volume: under m", "A": "Volume: under m", "d": "Volume: under m", "D": "Volume: under m",
	"k": "Volume: under m", "K": "Volume: under m", "f": "Volume: under m", "F": "Volume: under m", "O": "Volume: under m",
	"M": "The song's beats: under o", "w": "Warnings of the sheet: under o", "j": "The join to the next figure: press r twice",
	"p": "Plan of the floor: v", "C": "Class, the count alone: v", "h": "By heart: under u", "H": "By heart: under u", "N": "Next exercise: under u",
	"S": "Swap parts: under u", "Z": "Drill what went wrong: under u",
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
	_, _, _, room := frame(m, nil)
	m.news.Say(m.o.View.Name(&m.cue, m.width, room))
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

// Keys returns what the help line says.
func (m *Model) Keys() []key.Binding {
	if m.open.kind != closed {
		return m.open.keys()
	}
	k := find
	space, back := "start", "leave"
	if m.cue.Moving() {
		space, back = "hold", "hold"
	}
	return []key.Binding{
		term.Named(k(" "), "space", space), term.Named(k("?"), "?", "help"), term.Pair(k("left"), k("right"), "←→", "step"),
		term.Pair(k("down"), k("up"), "↑↓", "figure"), term.Pair(k("+"), k("-"), "+−", "tempo"), term.Named(k("r"), "r", "repeat"),
		term.Named(k("s"), "s", "partner"), term.Named(k("v"), "v", "view"), term.Named(k("z"), "z", "wrong"), term.Named(k("m"), "m", "sound"),
		term.Named(k("o"), "o", "options"), term.Named(k("u"), "u", "learn"), term.Bind("esc", back, "esc"),
	}
}
