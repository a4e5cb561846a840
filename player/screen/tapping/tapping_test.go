package tapping_test

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen/tapping"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/timing"
	"dance.example/slowquick/routine"
)

const rate = 48000

// sound is a [tapping.Sound] whose clock the test sets.
type sound struct {
	frame  float64
	plays  audio.Schedule
	ear    tapping.Ear
	missed error
}

func (s *sound) Heard(time.Time) float64 { return s.frame }
func (s *sound) Perform(start func(int64, player.Sounds) audio.Schedule) {
	s.plays = start(int64(s.frame), player.Sounds{Kit: audio.NewKit(rate)})
}
func (s *sound) Listen(context.Context) (tapping.Ear, error) { return s.ear, s.missed }

// ear hears claps.
type ear struct {
	at     func() []float64
	err    error
	closed bool
}

func (e *ear) Claps(audio.Schedule) ([]float64, float64, error) {
	if e.err != nil {
		return nil, 0, e.err
	}
	return e.at(), 0.005, nil
}
func (e *ear) Close() { e.closed = true }

// pupil is a dancer at the screen.
type pupil struct {
	t     *testing.T
	m     tapping.Model
	sound *sound
}

func newPupil(t *testing.T, s *sound, o tapping.Options) *pupil {
	t.Helper()
	timeline, _ := rehearsal.Read(rehearsal.Boathouse)
	require.NotNil(t, timeline)
	o.Sound, o.Rate, o.Timeline, o.Settings, o.Theme = s, rate, timeline, player.DefaultSettings(), term.NewTheme(false)
	o.Settings.Percent = 50 // 120 beats a minute
	o.Settings.Loop = timeline.Passage(0)
	p := &pupil{t, tapping.New(context.Background(), o), s}
	p.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	return p
}

// send sends a message and returns the resulting command.
func (p *pupil) send(msg tea.Msg) tea.Cmd {
	m, cmd := p.m.Update(msg)
	p.m = m.(tapping.Model)
	return cmd
}

func (p *pupil) press(keys ...string) (cmd tea.Cmd) {
	for _, k := range keys {
		msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
		switch k {
		case "enter":
			msg = tea.KeyMsg{Type: tea.KeyEnter}
		case "esc":
			msg = tea.KeyMsg{Type: tea.KeyEsc}
		case "right":
			msg = tea.KeyMsg{Type: tea.KeyRight}
		case " ":
			msg = tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
		}
		cmd = p.send(msg)
	}
	return cmd
}

// start presses a key that starts the count.
func (p *pupil) start(key string) { p.send(p.press(key)()) }

// tap taps each step, as far off as errors says for its count, and later by drift in silence.
func (p *pupil) tap(errors map[string]float64, drift float64) {
	var began float64
	for _, s := range p.m.Plan().Steps {
		at := s.At + errors[s.Count]
		if s.Silence == 0 {
			began = s.At
		}
		at += drift * (s.At - began)
		p.sound.frame = (at + tapping.KeysLate) * rate
		p.press(" ")
	}
}

// end lets time pass to the end of the try.
func (p *pupil) end() tea.Cmd {
	p.sound.frame = p.m.Plan().End + rate
	return p.send(p.m.Look())
}

func (p *pupil) view() string { return ansi.Strip(p.m.View()) }

func TestTapsWithKnownErrorsComeBack(t *testing.T) {
	var kept []timing.Result
	p := newPupil(t, &sound{}, tapping.Options{Keep: func(r timing.Result, tempo routine.Tempo) {
		kept = append(kept, r)
		assert.Equal(t, 120*routine.BeatPerMinute, tempo)
	}})
	p.start("enter")
	assert.NotEmpty(t, p.sound.plays.Hits(nil, 0, 5*rate), "it counts")
	errors := map[string]float64{"&": -0.060, "1": 0.010}
	p.tap(errors, 0)
	p.end()
	r, ok := p.m.Result()
	require.True(t, ok)
	require.Len(t, r.Counts, 5)
	for _, c := range r.Counts {
		assert.InDelta(t, errors[c.Name], c.Value, 0.001, "count %s", c.Name)
	}
	assert.Equal(t, []timing.Result{r}, kept)
	assert.Contains(t, p.view(), "Your & comes 60 ms early.")
	golden.Equal(t, p.view())
}

func TestDriftInSilence(t *testing.T) {
	p := newPupil(t, &sound{}, tapping.Options{Silent: 4})
	p.start("enter")
	p.tap(nil, 0.01)
	p.end()
	r, _ := p.m.Result()
	assert.InDelta(t, 0.01, r.Drift.Value, 0.0005)
	assert.Contains(t, p.view(), "In silence you slow down by 1.0 %")
}

func TestClapsCount(t *testing.T) {
	e := &ear{}
	p := newPupil(t, &sound{ear: e}, tapping.Options{})
	p.press("m")
	p.start("enter")
	e.at = func() (at []float64) {
		for _, s := range p.m.Plan().Steps {
			at = append(at, s.At+0.040)
		}
		return at
	}
	cmd := p.end()
	assert.Contains(t, p.view(), "Looking for your claps")
	p.send(cmd())
	r, ok := p.m.Result()
	require.True(t, ok)
	assert.InDelta(t, 0.040, r.Whole.Value, 0.001)
	assert.InDelta(t, 0.005, r.Unsure, 1e-9)
	assert.True(t, e.closed)
}

func TestWithoutAMicrophoneTapsStillCount(t *testing.T) {
	p := newPupil(t, &sound{missed: errors.New("no microphone found")}, tapping.Options{Mic: true})
	p.start("enter")
	assert.Contains(t, p.view(), "No claps can be heard: no microphone found. Tap the space bar.")
	p.tap(nil, 0)
	p.end()
	r, ok := p.m.Result()
	require.True(t, ok)
	assert.Zero(t, r.Missed)
	assert.Contains(t, p.view(), "no microphone found")

	p = newPupil(t, &sound{ear: &ear{err: errors.New("the microphone has recorded nothing")}}, tapping.Options{Mic: true})
	p.start("enter")
	p.tap(nil, 0)
	p.send(p.end()())
	_, ok = p.m.Result()
	require.True(t, ok)
	assert.Contains(t, p.view(), "the microphone has recorded nothing")
}

func TestLeavingEndsTheSoundAndTheMicrophone(t *testing.T) {
	e := &ear{}
	p := newPupil(t, &sound{ear: e}, tapping.Options{Mic: true})
	p.start("enter")
	p.press("esc")
	assert.True(t, p.m.Left())
	assert.True(t, e.closed)
	assert.Nil(t, p.sound.plays)

	late := newPupil(t, &sound{ear: &ear{}}, tapping.Options{Mic: true})
	cmd := late.press("enter")
	late.press("esc")
	late.send(cmd()) // it begins to listen only now
	assert.True(t, late.sound.ear.(*ear).closed)
}

func TestOnceMore(t *testing.T) {
	p := newPupil(t, &sound{}, tapping.Options{})
	p.start("enter")
	p.tap(nil, 0)
	old := p.m.Look()
	p.end()
	p.start("r")
	p.send(old) // of the try before
	_, ok := p.m.Result()
	assert.False(t, ok)
	p.end()
	assert.Contains(t, p.view(), "There were too few taps on the steps to tell.")
}

func TestWhileTapping(t *testing.T) {
	p := newPupil(t, &sound{}, tapping.Options{})
	assert.Contains(t, p.view(), "for 16 bars")
	p.press("right", "right")
	assert.Contains(t, p.view(), "After every 4 bars the sound is off for 4 bars")
	p.start("enter")
	assert.Contains(t, p.view(), "Get ready")
	p.sound.frame = p.m.Plan().Steps[0].At*rate + 100
	p.press(" ")
	golden.Equal(t, p.view())
	for _, s := range p.m.Plan().Steps {
		if s.Silence > 0 {
			p.sound.frame = s.At*rate + 100
			break
		}
	}
	assert.Contains(t, p.view(), "Silence: go on")
}

func TestFitsAnyWindow(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {20, 5}, {40, 10}, {80, 24}, {160, 48}} {
		p := newPupil(t, &sound{}, tapping.Options{})
		look := func() {
			p.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
			lines := strings.Split(p.view(), "\n")
			assert.LessOrEqual(t, len(lines), size[1])
			for _, line := range lines {
				assert.LessOrEqual(t, term.Width(line), size[0], "%v: %q", size, line)
			}
		}
		look()
		p.start("enter")
		look()
		p.sound.frame = p.m.Plan().Steps[0].At*rate + 100
		look()
		p.tap(map[string]float64{"&": 0.3}, 0)
		p.end()
		look()
	}
}
