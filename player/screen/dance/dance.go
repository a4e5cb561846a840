// Package dance is the screen of a sheet that is danced: it takes the keys, follows what
// is heard, and shows it in one of several views, with a pane below where something is set.
//
// It routes. What a moment shows is a [cue.Cue], how it is drawn package view's, what a key
// changes package changes', what went wrong package marks', and what opens below package
// pane's. It keeps no time of its own: it asks the [Transport] for the moment that is heard,
// and wakes up when the next event is due. Begin with [New].
//
// The router is dance.go, which knows all other files. Below it are the keys and what is drawn,
// then the actions and panes, then the [Model], and last its parts, which know only what they are given.
package dance

import (
	"context"
	"strings"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/changes"
	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/player/screen/pane"
	"dance.example/slowquick/player/screen/session"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// New returns the screen of a sheet that can be danced. Its commands end with ctx.
func New(ctx context.Context, s Sheet, o Options) (*Model, tea.Cmd) {
	m := &Model{o: o, mixer: mixer{ctx: ctx, transport: o.Transport}, sheet: s, cue: cue.Cue{Dancers: o.Dancers, Count: o.Count}}
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
	if o.Teach {
		m.firstKeys = &pane.FirstKeys{}
		m.clock.expect()
		o.Transport.Set(func(now player.Moment) player.Settings { return now.Settings.At(firstPercent, 0) })
	}
	return m, tea.Batch(m.mixer.change(nil), led, m.look(), m.song.Read(s.ID, s.Path))
}

// firstPercent is the tempo at which somebody dances for the first time, in per cent of the sheet's
// (our own choice).
const firstPercent = 60

// Msg is a message that a dance's commands bring, for its Update.
type Msg interface{ forDance() }

func (tickMsg) forDance()   {}
func (levelsMsg) forDance() {}
func (marksMsg) forDance()  {}

// Update takes in a message. One that was for another dance does nothing.
func (m *Model) Update(msg Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tickMsg:
		if m.clock.due(msg) {
			return m.look()
		}
	case levelsMsg:
		m.mixer.told(msg)
	case marksMsg:
		if msg.score == m.Score() {
			m.learning.marks = msg
			return m.look()
		}
	}
	return nil
}

// Say shows a message for a while, or until a key is pressed.
func (m *Model) Say(text string) tea.Cmd {
	m.news.Say(text)
	return m.look()
}

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
	keep(m, m.book.Keep())
	endClass(m)
}

// Saved takes in the sheet after it was saved.
func (m *Model) Saved(s Sheet) tea.Cmd {
	if s.Err != nil {
		m.news.Warn("The saved sheet can't be read: " + s.Err.Error())
		return nil
	}
	m.sheet = s
	m.news.Clear()
	m.clock.expect()
	if !s.Danceable() {
		return m.look()
	}
	lost, gone := m.lead.Replace(s.Timeline)
	var cmd tea.Cmd
	if gone {
		m.o.Transport.Hold()
	}
	m.song.Replace(s.Timeline)
	if gone {
		cmd = exercise(m)
	}
	m.news.Say("Sheet reloaded")
	if len(lost) > 0 {
		m.news.Say("No longer in the sheet, so left out of the session: " + strings.Join(lost, ", "))
	}
	if s.Timeline.Score.Music.File != m.song.File() {
		cmd = tea.Batch(cmd, m.song.Read(s.ID, s.Path))
	}
	return tea.Batch(cmd, m.look())
}

// walkBack is how many bars a couple has to go back to where a figure begins, if nothing that is
// danced leads there.
const walkBack = 2

// DrillFigure dances all of the timeline over and over, at once. Returns says that it ends so that
// it can begin again.
func (m *Model) DrillFigure(returns bool) tea.Cmd {
	m.o.Transport.Set(func(now player.Moment) player.Settings {
		set := now.Settings
		set.Loop = changes.Whole(now.Timeline)
		if !returns {
			set.Rest = walkBack
		}
		return set
	})
	m.o.Transport.Start()
	if !returns {
		m.news.Say("It ends elsewhere than it starts: walk back during the rest")
	}
	m.clock.expect()
	return m.look()
}

// DanceFrom starts the dance at a beat of its score.
func (m *Model) DanceFrom(at routine.Beats) tea.Cmd {
	m.o.Transport.Go(false, func(player.Moment) routine.Beats { return at })
	m.o.Transport.Start()
	m.clock.expect()
	return m.look()
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
	cmd, known := answer(m, name)
	if !known {
		cmd, known = m.pressRemote(name)
	}
	if !known {
		cmd, known = m.act(msg, asked)
	}
	if m.firstKeys.Press(name) && m.firstKeys.Over() {
		m.firstKeys = nil
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
	if !judge(m, to) {
		m.turn = to
	}
	return nil
}

// View draws the dance.
func (m *Model) View() string {
	head, below, foot, room := frame(m, m.Keys())
	c := m.cue
	body := m.o.View.View(&c, m.width, room, len(head))
	return term.Join(m.height, append(head, body...), nil, append(below, foot...)) + m.o.View.Over()
}

// Pane returns what is open below the dance in words; "" for nothing.
func (m *Model) Pane() string { return m.open.title() }
