package tapping_test

import (
	"context"
	"errors"
	"io"
	"strings"
	"sync"
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
	plays  *timing.Plan
	ear    tapping.Ear
	missed error
}

func (s *sound) Heard(time.Time) float64 { return s.frame }
func (s *sound) Perform(start func(int64, player.Sounds) *timing.Plan) {
	if p := start(int64(s.frame), player.Sounds{Kit: audio.NewKit(rate)}); p != nil {
		s.plays = p
	}
}
func (s *sound) Unsure() float64                             { return 0.015 }
func (s *sound) Rest()                                       { s.plays = nil }
func (s *sound) Listen(context.Context) (tapping.Ear, error) { return s.ear, s.missed }

// ear hears claps.
type ear struct {
	at     func() []float64
	err    error
	closed chan struct{}
	once   sync.Once
}

func newEar() *ear { return &ear{closed: make(chan struct{})} }

func (e *ear) Claps(*timing.Plan) ([]float64, float64, error) {
	if e.err != nil {
		return nil, 0, e.err
	}
	return e.at(), 0.005, nil
}
func (e *ear) Close() { e.once.Do(func() { close(e.closed) }) }

// requireClosed waits until nothing is heard any more.
func (e *ear) requireClosed(t *testing.T) {
	t.Helper()
	select {
	case <-e.closed:
	case <-time.After(time.Minute):
		require.FailNow(t, "it still listens")
	}
}

// pupil is a dancer at the screen.
type pupil struct {
	t     *testing.T
	m     tapping.Model
	sound *sound
}

func newPupil(t *testing.T, s *sound, o tapping.Options) *pupil {
	t.Helper()
	p := &pupil{t, newModel(t, s, o), s}
	p.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	return p
}

func newModel(t testing.TB, s *sound, o tapping.Options) tapping.Model {
	t.Helper()
	timeline, _ := rehearsal.Read(rehearsal.Boathouse)
	require.NotNil(t, timeline)
	o.Sound, o.Rate, o.Theme = s, rate, term.NewTheme(false)
	if o.Danced == nil {
		o.Danced = func() (*player.Timeline, player.Settings) {
			set := player.DefaultSettings()
			set.Percent = 50 // 120 beats a minute
			set.Loop = timeline.Passage(0)
			return timeline, set
		}
	}
	return tapping.New(context.Background(), o)
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
	p := newPupil(t, &sound{}, tapping.Options{Keep: func(score *routine.Score, r timing.Result, tempo routine.Tempo) {
		assert.Equal(t, "Lantern Night at the boathouse", score.Title)
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
	e := newEar()
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
	assert.Equal(t, timing.Unsure{Taps: 0.005}, r.Unsure)
	e.requireClosed(t)
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

	e := newEar()
	e.err = errors.New("the microphone has recorded nothing")
	p = newPupil(t, &sound{ear: e}, tapping.Options{Mic: true})
	p.start("enter")
	p.tap(nil, 0)
	p.send(p.end()())
	_, ok = p.m.Result()
	require.True(t, ok)
	assert.Contains(t, p.view(), "the microphone has recorded nothing")
}

func TestLeavingEndsTheSoundAndTheMicrophone(t *testing.T) {
	e := newEar()
	p := newPupil(t, &sound{ear: e}, tapping.Options{Mic: true})
	p.start("enter")
	p.press("esc")
	assert.True(t, p.m.Left())
	e.requireClosed(t)
	assert.Nil(t, p.sound.plays)

	e = newEar()
	late := newPupil(t, &sound{ear: e}, tapping.Options{Mic: true})
	cmd := late.press("enter")
	late.press("esc")
	begun := cmd() // it begins to listen only now
	e.requireClosed(t)
	assert.Nil(t, late.sound.plays, "nobody is there to hear it")
	late.send(begun)
	assert.True(t, late.m.Left())

	done := newPupil(t, &sound{}, tapping.Options{})
	done.start("enter")
	done.end()
	done.press("enter")
	assert.True(t, done.m.Left())
	assert.Nil(t, done.sound.plays, "the dance goes on with its own sound")
}

// TestTheNextTryIsOfWhatIsDancedThen, as a sheet may be saved meanwhile.
func TestTheNextTryIsOfWhatIsDancedThen(t *testing.T) {
	text := rehearsal.Boathouse
	danced := func() (*player.Timeline, player.Settings) {
		timeline, _ := rehearsal.Read(text)
		return timeline, player.DefaultSettings()
	}
	p := newPupil(t, &sound{}, tapping.Options{Danced: danced})
	p.start("enter")
	beat := p.m.Plan().Steps[0].Beat
	text = strings.Replace(text, "60 bars/min", "30 bars/min", 1)
	p.send(p.m.Look())
	assert.InDelta(t, beat, p.m.Plan().Steps[0].Beat, 1e-9, "this one goes on")
	p.end()
	p.start("r")
	assert.InDelta(t, 2*beat, p.m.Plan().Steps[0].Beat, 1e-9)
}

// hasty is a sound on which seconds pass with each look.
type hasty struct {
	sound
	plan  *timing.Plan
	looks int
}

func (h *hasty) Heard(time.Time) float64 {
	h.looks++
	return float64(h.looks) * 3 * rate
}

func (h *hasty) Perform(start func(int64, player.Sounds) *timing.Plan) {
	h.plan = start(0, player.Sounds{Kit: audio.NewKit(rate)})
}

func TestTappingWithoutAScreen(t *testing.T) {
	timeline, _ := rehearsal.Read(rehearsal.Boathouse)
	run := func(s *hasty, keys io.Reader, mic bool) (string, timing.Result, bool, error) {
		var out strings.Builder
		r, ok, err := tapping.RunPlain(t.Context(), tapping.Options{Sound: s, Rate: rate, Mic: mic, Danced: func() (*player.Timeline, player.Settings) {
			return timeline, player.DefaultSettings()
		}}, keys, &out)
		return out.String(), r, ok, err
	}

	e := newEar()
	s := &hasty{sound: sound{ear: e}}
	e.at = func() (at []float64) {
		for _, s := range s.plan.Steps {
			at = append(at, s.At)
		}
		return at
	}
	out, r, ok, err := run(s, nil, true)
	require.NoError(t, err)
	require.True(t, ok)
	assert.Zero(t, r.Missed+r.Extra)
	assert.Equal(t, `Clap or stamp on each step, near the microphone, for 16 bars.
The count is heard throughout.
Afterwards you see how early or late each count comes, and how evenly.
Nothing that the microphone hears is kept.
Get ready.
Looking for your claps.
`, out)

	_, _, ok, err = run(&hasty{sound: sound{missed: errors.New("no microphone found")}}, nil, true)
	require.EqualError(t, err, "hear claps: no microphone found")
	assert.False(t, ok)

	keys, press := io.Pipe()
	go func() { _, _ = press.Write([]byte("\r")) }()
	out, r, ok, err = run(&hasty{}, keys, false)
	require.NoError(t, err)
	assert.True(t, ok)
	assert.NotZero(t, r.Missed, "nobody tapped")
	assert.Contains(t, out, "Tap the space bar on each step, for 16 bars.\r\n")
	assert.Contains(t, out, "Enter starts, q leaves.\r\nGet ready.\r\n")

	keys, press = io.Pipe()
	go func() { _, _ = press.Write([]byte("q")) }()
	_, _, ok, err = run(&hasty{}, keys, false)
	require.NoError(t, err)
	assert.False(t, ok)
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
