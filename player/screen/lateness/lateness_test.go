package lateness_test

import (
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen/lateness"
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

// playing is a device, and how it may change.
type playing struct {
	name, called string
	changed      chan struct{}
}

func (d *playing) Device() (name, called string) { return d.name, d.called }
func (d *playing) Changed() <-chan struct{}      { return d.changed }

// goTo lets the sound go to another device, and the screen hear of it.
func (d *playing) goTo(p *tapper, name, called string) {
	d.name, d.called = name, called
	d.changed <- struct{}{}
	heard := p.model.Init()()
	p.model, _ = p.model.Update(heard) // the command would wait for the next change
}

// heardClicks is an engine that remembers what it was given.
type heardClicks struct {
	rehearsal.Engine
	last audio.Schedule
}

func (e *heardClicks) Play(s audio.Schedule) { e.last = s }

func newTapper(t *testing.T, d *playing, e interface{ Play(audio.Schedule) }) *tapper {
	d.changed = make(chan struct{}, 1)
	p := &tapper{t: t, model: lateness.New(t.Context(), lateness.Options{
		Line: rehearsal.NewLine(), Device: d, Engine: e, Rate: rehearsal.Rate, Click: audio.Sound{1},
	})}
	p.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	return p
}

func speaker() *playing {
	return &playing{name: "speaker", called: "Living-room \x1b[31mspeaker (Bluetooth)"}
}

func TestHowLateTheSoundIs(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newTapper(t, speaker(), &rehearsal.Engine{})
		assert.Contains(t, p.model.View(), "Measured for: Living-room speaker (Bluetooth)", "without what a terminal would obey")
		assert.Contains(t, p.model.View(), "press enter to start the clicks")
		p.tapWith(140 * time.Millisecond)
		assert.Contains(t, p.model.View(), "Press enter to start the flashes.")
		p.tapWith(-20 * time.Millisecond)
		assert.Contains(t, p.model.View(), "ms after what the screen shows, give or take ")
		p.key("enter")
		require.True(t, p.quit)
		found, keep := lateness.FoundBy(p.model)
		assert.True(t, keep)
		assert.Equal(t, "speaker", found.Device)
		assert.InDelta(t, 0.16, found.Late.Seconds(), 0.005, "within a look of the screen")
	})
}

func TestTooFewTapsTellNothing(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newTapper(t, speaker(), &rehearsal.Engine{})
		p.key("enter")
		p.until(time.Now().Add(14 * time.Second))
		p.key("enter")
		p.until(time.Now().Add(14 * time.Second))
		assert.Contains(t, p.model.View(), "too few or too uneven")
		p.key("enter")
		assert.False(t, p.quit, "there is nothing to keep")
		p.key("r")
		assert.Contains(t, p.model.View(), "press enter to start the clicks")
		p.key("q")
		assert.True(t, p.quit)
		_, keep := lateness.FoundBy(p.model)
		assert.False(t, keep)
	})
}

// TestTheSoundGoesElsewhereMeanwhile: taps with one device say nothing about another, and the clicks end.
func TestTheSoundGoesElsewhereMeanwhile(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d, e := speaker(), &heardClicks{}
		p := newTapper(t, d, e)
		p.tapWith(140 * time.Millisecond)
		assert.Contains(t, p.model.View(), "Press enter to start the flashes.")
		p.key("enter")
		p.until(time.Now().Add(3 * time.Second))
		d.goTo(p, "speaker", "Speaker of the lounge")
		assert.Contains(t, p.model.View(), "Tap the space bar with each flash.", "it is only called otherwise")
		assert.Contains(t, p.model.View(), "Measured for: Speaker of the lounge")
		d.goTo(p, "hall", "Loudspeakers of the hall")
		assert.Contains(t, p.model.View(), "The sound went elsewhere. Once more: press enter to start the clicks")
		assert.Contains(t, p.model.View(), "Measured for: Loudspeakers of the hall")
		p.until(time.Now().Add(20 * time.Second)) // what was under way has no effect
		assert.Contains(t, p.model.View(), "press enter to start the clicks")

		p.key("enter")
		clicks := e.last
		assert.Len(t, clicks.Hits(nil, 0, 1<<40), 20)
		d.goTo(p, "speaker", "Speaker of the lounge")
		assert.Empty(t, clicks.Hits(nil, 0, 1<<40), "called off")
		p.until(time.Now().Add(time.Second))

		p.tapWith(90 * time.Millisecond)
		p.tapWith(0)
		assert.Contains(t, p.model.View(), "Press enter to keep it for this device")
		d.goTo(p, "hall", "Loudspeakers of the hall")
		assert.Contains(t, p.model.View(), "Measured for: Speaker of the lounge", "what was found stays true")
		p.key("enter")
		found, keep := lateness.FoundBy(p.model)
		assert.True(t, keep)
		assert.Equal(t, "speaker", found.Device)
		assert.InDelta(t, 0.09, found.Late.Seconds(), 0.005)
	})
}

func TestWithoutSoundThereIsNothingToTapWith(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := &playing{}
		p := newTapper(t, d, &rehearsal.Engine{})
		p.key("enter")
		assert.Contains(t, p.model.View(), "No sound output; still looking for one.")
		assert.NotContains(t, p.model.View(), "Measured for")
		d.goTo(p, "hall", "Loudspeakers of the hall")
		assert.Contains(t, p.model.View(), "press enter to start the clicks")
		assert.NotContains(t, p.model.View(), "elsewhere", "it had not begun")
		p.key("enter")
		assert.Contains(t, p.model.View(), "Tap the space bar with each click.")
	})
}
