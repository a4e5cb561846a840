package screen_test

import (
	"context"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/internal/screentest"
	"dance.example/slowquick/player/screen/sheetlist"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// broken is the sheet with an error.
var broken = strings.Replace(rehearsal.Boathouse, "2. Oar turn", "2. Oar turning", 1)

// read reads a sheet as a shelf does.
func read(text string) dance.Sheet {
	timeline, found := rehearsal.Read(text)
	return dance.Sheet{Name: "lantern-night.md", Timeline: timeline, Findings: found}
}

// shelf holds sheets by their ID.
type shelf struct {
	sheets  map[string]dance.Sheet
	entries []sheetlist.Entry
	saved   chan dance.Sheet
}

func (s *shelf) Entries() ([]sheetlist.Entry, error) { return s.entries, nil }

func (s *shelf) Open(_ context.Context, e sheetlist.Entry) (dance.Sheet, <-chan dance.Sheet, error) {
	l, ok := s.sheets[e.ID]
	if !ok {
		return dance.Sheet{}, nil, errNotThere
	}
	return l, s.saved, nil
}

// show is a screen with a real transport on a device without sound, in a time
// of its own: see package synctest.
type show struct {
	t         require.TestingT
	model     tea.Model
	shelf     *shelf
	device    *rehearsal.Line
	engine    *rehearsal.Engine
	transport *player.Transport
	messages  chan tea.Msg
	ctx       context.Context
	quit      bool
	waiting   atomic.Int32 // commands that have not ended
}

// dances runs a test with a show. With open "" it begins with the list.
func dances(t *testing.T, open string, width, height int, test func(*show)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) { test(newShow(t, open, width, height, screen.Options{})) })
}

func newShow(t *testing.T, open string, width, height int, o screen.Options) *show {
	ctx, cancel := context.WithCancel(t.Context())
	s := &show{
		t: t, ctx: ctx, messages: make(chan tea.Msg, 1000), engine: &rehearsal.Engine{},
		shelf: &shelf{
			sheets: map[string]dance.Sheet{"boathouse": read(rehearsal.Boathouse), "lounge": read(rehearsal.Lounge), "broken": read(broken), "hostile": hostile(),
				"evening": read(strings.Replace(rehearsal.Boathouse, "60 bars/min", "30 bars/min", 1))},
			saved: make(chan dance.Sheet),
			entries: []sheetlist.Entry{
				{Title: "Lantern Night at the boathouse", Dance: "Cha-cha", Place: "example", ID: "boathouse"},
				{Title: "Last lantern", Dance: "Foxtrot", Place: "example", ID: "lounge"},
				{Title: "Half written", Dance: "Cha-cha", Place: "half.md", ID: "broken"},
				{Title: "Gone", Place: "gone.md", ID: "gone"},
			},
		},
	}
	s.engine.SetLevels(0, player.DefaultLevels([2]bool{true, true}))
	s.device = rehearsal.NewLine()
	o.Shelf = s.shelf
	if o.Handbook == nil {
		o.Handbook = chapters()
	}
	o.Stage = func(l dance.Sheet) dance.Transport {
		if s.transport != nil {
			s.transport.Close()
		}
		s.transport = player.NewTransport(s.device, s.engine, player.NewCourse(rehearsal.Rate, player.Sounds{}, l.Timeline, player.DefaultSettings()), nil)
		return s.transport
	}
	if open != "" {
		o.Open = &sheetlist.Entry{ID: open}
	}
	t.Cleanup(func() {
		cancel()
		if s.transport != nil {
			s.transport.Close()
		}
		<-time.After(2 * time.Second) // the last ticks end: those after a tap take longest
	})
	m := screen.New(ctx, o)
	s.model = m
	s.do(m.Init())
	s.size(width, height)
	return s
}

// do carries a command out, as bubbletea does, on a goroutine of its own.
func (s *show) do(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	s.waiting.Add(1)
	go func() {
		msg := cmd()
		s.waiting.Add(-1)
		select {
		case s.messages <- msg:
		case <-s.ctx.Done():
		}
	}()
}

func (s *show) send(msg tea.Msg) {
	switch msg := msg.(type) {
	case nil:
		return
	case tea.BatchMsg:
		for _, cmd := range msg {
			s.do(cmd)
		}
		return
	case tea.QuitMsg:
		s.quit = true
		return
	}
	var cmd tea.Cmd
	s.model, cmd = s.model.Update(msg)
	s.do(cmd)
}

// settle handles messages until nothing happens without time going on.
func (s *show) settle() {
	for {
		synctest.Wait()
		select {
		case msg := <-s.messages:
			s.send(msg)
		default:
			return
		}
	}
}

// wait lets time go on.
func (s *show) wait(d time.Duration) {
	s.settle()
	over := time.After(d)
	for woken := 0; ; woken++ {
		select {
		case msg := <-s.messages:
			s.send(msg)
			s.settle()
		case <-over:
			s.settle()
			// Ten times a second, the events of the fastest sheet, and what follows a key.
			require.LessOrEqual(s.t, woken, 30+int(30*d.Seconds()), "the screen does not sleep")
			return
		}
	}
}

func (s *show) size(width, height int) {
	s.send(tea.WindowSizeMsg{Width: width, Height: height})
	s.settle()
}

// keys presses keys, one after the other, and waits until they are heard.
func (s *show) keys(names ...string) *show {
	for _, name := range names {
		s.send(screentest.Key(name))
		s.settle()
	}
	return s
}

// heard lets what the keys have changed be heard and looked for.
func (s *show) heard() *show {
	s.wait(25 * time.Millisecond)
	return s
}

func (s *show) styled() string { return s.model.View() }

// text is what is seen, without the ways it is written in.
func (s *show) text() string { return ansi.Strip(s.styled()) }

// now is where the couple is.
func (s *show) now() player.Moment {
	s.transport.Sync()
	return s.transport.Now(time.Now().Add(2 * time.Millisecond))
}

// choose opens what a key opens below the dance, goes to the row that begins with name, and presses
// keys on it, or what does it if there are none.
func (s *show) choose(opens, name string, keys ...string) *show {
	s.keys(opens)
	for range 12 {
		if strings.Contains(s.text(), "▸ "+name) {
			if len(keys) == 0 {
				keys = []string{"enter"}
			}
			return s.keys(keys...)
		}
		s.keys("down")
	}
	require.Fail(s.t, "no row", "%q in %s", name, s.text())
	return s
}

// set presses keys on a row as choose does, and goes back to the dance.
func (s *show) set(opens, name string, keys ...string) *show {
	return s.choose(opens, name, keys...).keys("esc")
}

// at names the place: bar and count.
func (s *show) at() string {
	m := s.now()
	e := &m.Timeline.Events[max(0, m.Event)]
	return strings.Join([]string{string(rune('0' + e.Bar)), e.Labels.Count}, ".")
}

func TestSheetsOfTheTestsCanBeDanced(t *testing.T) {
	for _, text := range []string{rehearsal.Boathouse, rehearsal.Lounge} {
		require.NotNil(t, read(text).Timeline, "%v", read(text).Findings)
		require.Empty(t, read(text).Findings)
	}
}
