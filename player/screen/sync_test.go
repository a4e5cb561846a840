package screen_test

import (
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player/screen"
)

// tapper drives the screen on which it is tapped, in a time of its own.
type tapper struct {
	t     *testing.T
	model tea.Model
	due   []time.Time // when a message is due
	msgs  []tea.Msg
	quit  bool
}

func (p *tapper) send(msg tea.Msg) {
	var cmd tea.Cmd
	if p.model, cmd = p.model.Update(msg); cmd == nil {
		return
	}
	begin := time.Now()
	switch msg := cmd().(type) { // a tick waits, which takes no real time here
	case tea.QuitMsg:
		p.quit = true
	default:
		p.due, p.msgs = append(p.due, begin), append(p.msgs, msg)
	}
}

// until lets the screen look again and again, for a while.
func (p *tapper) until(end time.Time) {
	for time.Now().Before(end) && len(p.msgs) > 0 {
		msg := p.msgs[0]
		p.due, p.msgs = p.due[1:], p.msgs[1:]
		p.send(msg)
	}
	if left := time.Until(end); left > 0 {
		<-time.After(left)
	}
}

func (p *tapper) key(name string) {
	msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
	switch name {
	case " ":
		msg = tea.KeyMsg{Type: tea.KeySpace, Runes: []rune(" ")}
	case "enter":
		msg = tea.KeyMsg{Type: tea.KeyEnter}
	}
	p.send(msg)
}

// tapWith taps with what begins in a second, each time so much late.
func (p *tapper) tapWith(late time.Duration) {
	p.key("enter")
	start := time.Now().Add(time.Second)
	for i := range 20 {
		p.until(start.Add(time.Duration(i)*600*time.Millisecond + late))
		p.key(" ")
	}
	p.until(time.Now().Add(time.Second))
}

func TestHowLateTheSoundIs(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := &tapper{t: t}
		e := &engine{}
		p.model = screen.NewSyncing(screen.SyncOptions{Line: &line{time.Now()}, Engine: e, Rate: rate, Click: audio.Sound{1}})
		p.send(tea.WindowSizeMsg{Width: 80, Height: 24})
		assert.Contains(t, p.model.View(), "enter begins the clicks")
		p.tapWith(140 * time.Millisecond)
		assert.Contains(t, p.model.View(), "enter begins the flashes")
		p.tapWith(-20 * time.Millisecond)
		assert.Contains(t, p.model.View(), "ms after what the screen shows.")
		p.key("enter")
		require.True(t, p.quit)
		late, keep := screen.Synced(p.model)
		assert.True(t, keep)
		assert.InDelta(t, 0.16, late.Seconds(), 0.005, "within a look of the screen")
	})
}

func TestTooFewTapsTellNothing(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := &tapper{t: t}
		p.model = screen.NewSyncing(screen.SyncOptions{Line: &line{time.Now()}, Engine: &engine{}, Rate: rate})
		p.send(tea.WindowSizeMsg{Width: 80, Height: 24})
		p.key("enter")
		p.until(time.Now().Add(14 * time.Second))
		p.key("enter")
		p.until(time.Now().Add(14 * time.Second))
		assert.Contains(t, p.model.View(), "too few or too uneven")
		p.key("enter")
		assert.False(t, p.quit, "there is nothing to keep")
		p.key("r")
		assert.Contains(t, p.model.View(), "enter begins the clicks")
		p.key("q")
		assert.True(t, p.quit)
		_, keep := screen.Synced(p.model)
		assert.False(t, keep)
	})
}
