package screen_test

import (
	"context"
	"fmt"
	"io"
	"runtime/debug"
	"slices"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/routine"
)

func contains(list []string, f func(string) bool) bool { return slices.ContainsFunc(list, f) }

// hostile is such a sheet, in which nothing was found that keeps it from being danced.
func hostile() dance.Sheet {
	return dance.Sheet{Name: "\x1bchostile.md", Timeline: player.NewTimeline(rehearsal.Hostile()), Findings: hostileFindings()}
}

func hostileFindings() []routine.Finding {
	return []routine.Finding{{
		Code: "unknown-word", Severity: routine.Error, Message: "no \x1b[31m\"oar\x07\"", Hint: "\x1bPperhaps\x1b\\ row\u202e",
		Related: []routine.Related{{Message: "\u009d here"}},
	}}
}

func TestEscapeSequencesOfASheetDoNotReachTheTerminal(t *testing.T) {
	dances(t, "boathouse", 120, 40, func(s *show) {
		s.shelf.entries = []sheetlist.Entry{{Title: "\x1b[2Jtitle\x07", Dance: "\x1b]0;x\x07", Place: "\u202ename\n.md", ID: "hostile"}}
		s.keys("esc")
		rehearsal.Attributes(t, s.styled())
		assert.Contains(t, s.text(), "title")
		s.keys("enter")
		for range 12 {
			rehearsal.Attributes(t, s.styled())
			s.keys("right").heard()
		}
		s.keys("down").heard()
		rehearsal.Attributes(t, s.styled())
		require.Contains(t, s.text(), "Oar turn")
		require.Contains(t, s.text(), "small  lantern")
		s.shelf.saved <- dance.Sheet{Name: "\x1bc.md", Findings: hostileFindings()}
		s.settle()
		rehearsal.Attributes(t, s.styled())
		require.Contains(t, s.text(), `no "oar"`)
		s.choose("o", "warnings")
		rehearsal.Attributes(t, s.styled())
		require.Contains(t, s.text(), "row")
		require.Contains(t, s.text(), "here")
	})
}

// event is one thing that happens to a screen.
type event struct {
	key           string
	wait          time.Duration
	saved         *dance.Sheet
	width, height int
}

// TestAnyKeysInAnyWindow: whatever is pressed, in windows of any size, nothing panics and nothing leaves
// the window.
func TestAnyKeysInAnyWindow(t *testing.T) {
	keys := append(screen.DanceKeys(), "enter", "backspace", "x", "5", "%", "ctrl+n", "ctrl+p", "tab")
	keys = slices.DeleteFunc(keys, func(k string) bool { return k == "q" || k == "ctrl+c" })
	events := rapid.Custom(func(r *rapid.T) event {
		switch rapid.IntRange(0, 9).Draw(r, "kind") {
		case 0:
			return event{width: rapid.IntRange(1, 200).Draw(r, "width"), height: rapid.IntRange(1, 70).Draw(r, "height")}
		case 1:
			return event{wait: time.Duration(rapid.IntRange(1, 3000).Draw(r, "ms")) * time.Millisecond}
		case 2:
			l := read(rapid.SampledFrom([]string{rehearsal.Boathouse, rehearsal.Lounge, broken, ""}).Draw(r, "saved"))
			return event{saved: &l}
		}
		return event{key: rapid.SampledFrom(keys).Draw(r, "key")}
	})
	rapid.Check(t, func(r *rapid.T) {
		open := rapid.SampledFrom([]string{"boathouse", "lounge", "broken", "hostile", ""}).Draw(r, "open")
		script := append([]event{{width: 80, height: 24}}, rapid.SliceOfN(events, 1, 12).Draw(r, "script")...)
		var c collector
		synctest.Test(t, func(t *testing.T) { c.run(func() { play(t, &c, open, script) }) })
		if c.problem != nil {
			r.Fatal(c.problem)
		}
	})
}

func play(t *testing.T, c *collector, open string, script []event) {
	s := newShow(t, open, 1, 1, screen.Options{Songs: record(doubtful)})
	s.t = c
	width, height := 1, 1
	for _, e := range script {
		switch {
		case e.width > 0:
			width, height = e.width, e.height
			s.size(width, height)
		case e.wait > 0:
			s.wait(e.wait)
		case e.saved != nil:
			select { // nobody waits for it while the list is seen
			case s.shelf.saved <- *e.saved:
			default:
			}
			s.settle()
		default:
			s.keys(e.key)
		}
		rehearsal.Fits(c, s.styled(), width, height)
		rehearsal.Attributes(c, s.styled())
	}
}

// doubtful lets the page of the song offer all its keys.
var doubtful = music.Confidence{Strength: 2, Phase: 0.1, Bar: 0.1}

// collector keeps the first problem of a run, a panic included, as the tests
// in a bubble can't tell it to rapid themselves.
type collector struct{ problem any }

func (c *collector) Errorf(format string, args ...any) { c.problem = fmt.Sprintf(format, args...) }
func (c *collector) FailNow()                          { panic(c) }
func (c *collector) Helper()                           {}

func (c *collector) run(f func()) {
	defer func() {
		if p := recover(); p != nil && p != any(c) {
			c.problem = fmt.Sprintf("%v\n%s", p, debug.Stack())
		}
	}()
	f()
}

func TestRunEndsWithTheContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	in, keyboard := io.Pipe()
	defer keyboard.Close()
	s := &leaving{leave: cancel}
	require.NoError(t, screen.Run(ctx, screen.Options{Shelf: s, Program: program.Options{Input: in, Output: io.Discard}}))
	require.Error(t, ctx.Err())
}

// leaving is a shelf that ends the program when it is looked at.
type leaving struct {
	shelf
	leave func()
}

func (s *leaving) Entries() ([]sheetlist.Entry, error) {
	s.leave()
	return nil, nil
}
