package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"github.com/gopxl/beep/v2"
	"github.com/gopxl/beep/v2/wav"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/speech"
	"dance.example/slowquick/library"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// pretendToSpeak is the speech program of the tests: half a second of a tone, at once.
// It notes what it is asked to say, and fails if it is told to.
func pretendToSpeak() {
	text, err := io.ReadAll(os.Stdin)
	if err != nil || os.Getenv("SPEECH_FAILS") != "" {
		os.Exit(3)
	}
	if path := os.Getenv("SPEECH_HEARD"); path != "" {
		heard, err := os.OpenFile(path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
		if err == nil {
			_, err = heard.Write(append(text, '\n'))
		}
		if err != nil {
			os.Exit(4)
		}
	}
	n := 0
	tone := beep.StreamerFunc(func(samples [][2]float64) (int, bool) {
		for i := range samples {
			x := 0.3 * math.Cos(2*math.Pi*480*float64(n)/rate)
			samples[i] = [2]float64{x, x}
			n++
		}
		return len(samples), true
	})
	var out bytes.Buffer
	if err := audio.WriteWAV(&out, tone, rate, 16, spokenFrames); err != nil {
		os.Exit(5)
	}
	_, _ = os.Stdout.Write(out.Bytes())
}

// spokenFrames is how long the speech program of the tests speaks.
const spokenFrames = rate / 2

// speechProgram puts that program, and no other, on the PATH.
func speechProgram(t *testing.T) {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	name := "espeak-ng"
	if runtime.GOOS == "windows" {
		name += ".exe"
	}
	bin := t.TempDir()
	require.NoError(t, os.Symlink(self, filepath.Join(bin, name)))
	t.Setenv("PATH", bin)
	t.Setenv("XDG_CACHE_HOME", filepath.Join(bin, "cache"))
	t.Setenv("HOME", bin)
}

// twoFigures is a sheet of two figures of two bars and one, at 120 beats a minute.
const twoFigures = `---
dance: cha-cha
tempo: 30 bars/min
---

## Order

1. Lantern step × 2
2. Quay step

## Lantern step

| Count | Leader     | Follower   |
|:-----:|------------|------------|
|   2   | LF forward | RF back    |
|   3   | RF replace | LF replace |
|   4   | LF side    | RF side    |
|   &   | RF close   | LF close   |
|   1   | LF side    | RF side    |
|   2   | RF back    | LF forward |
|   3   | LF replace | RF replace |
|   4   | RF side    | LF side    |
|   &   | LF close   | RF close   |
|   1   | RF side    | LF side    |

## Quay step

| Count | Leader   | Follower |
|:-----:|----------|----------|
|   2   | LF side  | RF side  |
|   3   | RF close | LF close |
|  4-1  | LF tap   | RF tap   |
`

// track is the left channel of a click track that the program writes of that sheet.
func track(t *testing.T, flags ...string) []float64 {
	t.Helper()
	path := filepath.Join(t.TempDir(), "track.wav")
	var said bytes.Buffer
	require.Equal(t, exitOK, run(append([]string{"write", "wav", "-", "-o", path}, flags...), bytes.NewReader([]byte(twoFigures)), io.Discard, &said), said.String())
	require.Empty(t, said.String())
	f, err := os.Open(path)
	require.NoError(t, err)
	s, format, err := wav.Decode(f)
	require.NoError(t, err)
	defer s.Close()
	require.EqualValues(t, rate, format.SampleRate)
	buf := make([][2]float64, s.Len())
	left := make([]float64, 0, s.Len())
	for len(left) < s.Len() {
		n, ok := s.Stream(buf)
		require.True(t, ok)
		for _, x := range buf[:n] {
			left = append(left, x[0])
		}
	}
	return left
}

// TestTheNamesAreInTheTrack, where they belong, and nothing else is changed by them: the
// first one before the lead-in, which comes a beat later; the second over the last
// beats of the figure before, ended before the last one's word could begin.
func TestTheNamesAreInTheTrack(t *testing.T) {
	speechProgram(t)
	without, with := track(t), track(t, "--call")
	const beat, breath, faded = rate / 2, rate * 16 / 100, rate / 100 // in which levels come to where they are
	shift := spokenFrames + beat
	require.Len(t, with, len(without)+shift)
	quay := shift + (4+15)*beat - breath // 4 beats of lead-in, 16 of the lantern steps
	in := func(i int) bool { return i < spokenFrames || i >= quay-spokenFrames && i < quay }
	named, most := 0.0, 0.0
	for i, x := range with {
		if i >= shift {
			x -= without[i-shift]
		}
		if i >= shift && i < shift+faded {
			continue
		}
		if in(i) {
			named += x * x
		} else {
			most = max(most, math.Abs(x))
		}
	}
	assert.InDelta(t, 0.7*0.09, math.Sqrt(named/(2*spokenFrames)), 0.01, "as loud as the voice, at its level")
	assert.Less(t, most, 2.0/(1<<15), "but for rounding the same elsewhere")
}

// TestTheCountGivesWay to a name: while it is said nothing is counted, from the last
// beat on all is.
func TestTheCountGivesWay(t *testing.T) {
	speechProgram(t)
	counted, named, both := track(t, "--aloud"), track(t, "--call"), track(t, "--aloud", "--call")
	const beat, breath = rate / 2, rate * 16 / 100
	shift := spokenFrames + beat - breath // the name comes in place of the breath
	first := breath + 4*beat              // of the first step, when it is only counted
	require.Len(t, both, len(counted)+shift)
	require.Len(t, both, len(named))
	name := first + 15*beat - breath - spokenFrames
	differs := func(other []float64, later, from, to int) float64 {
		sum := 0.0
		for i := from; i < to; i++ {
			d := both[i+shift] - other[i+later]
			sum += d * d
		}
		return math.Sqrt(sum / float64(to-from))
	}
	const rounding = 2.0 / (1 << 15)
	assert.Less(t, differs(counted, 0, 0, name-beat), rounding)
	assert.Less(t, differs(named, shift, name, name+spokenFrames), rounding, "the name alone")
	assert.Greater(t, differs(counted, 0, name, name+spokenFrames), 0.05)
	assert.Less(t, differs(counted, 0, first+15*beat, len(counted)), rounding)
	assert.Greater(t, differs(named, shift, first+15*beat, first+16*beat), 0.01, "which is counted")
}

// TestComplaints are told one by one, and in a dancer's words.
func TestComplaints(t *testing.T) {
	var told []string
	o := tellingOnce(func(err error) { told = append(told, err.Error()) })
	for range 2 {
		o.complain(errors.Join(errors.New("espeak-ng: exit status 3"), errors.New("flite: was silent")))
		o.complain(speech.ErrNone)
		o.complain(nil)
	}
	assert.Equal(t, []string{"name the figures: espeak-ng: exit status 3", "name the figures: flite: was silent",
		"no speech program found: install espeak-ng to hear the names"}, told)
}

// stillLine is a sound device on which nothing is heard yet.
type stillLine struct{}

func (stillLine) Heard(time.Time) float64    { return 0 }
func (stillLine) Change(f func(frame int64)) { f(1) }

// heardIn are the names that a course has sounding, as often as they do.
func heardIn(s audio.Schedule) (lengths []int) {
	for _, h := range s.Hits(nil, 0, 60*rate) {
		if h.Layer == player.VoiceLayer {
			lengths = append(lengths, len(h.Sound))
		}
	}
	return lengths
}

// TestNamesComeWhenTheyAreReady: the course that is danced gets them without more
// ado, and so does the next; what is not wanted is not asked for.
func TestNamesComeWhenTheyAreReady(t *testing.T) {
	score, _ := routine.Read("two.md", []byte(twoFigures), library.Open())
	timeline := player.NewTimeline(score)
	asked, said := make(chan string), make(chan audio.Sound)
	say := func(_ context.Context, name string) (audio.Sound, error) {
		asked <- name
		return <-said, nil
	}
	n := newNames(t.Context(), func() sayer { return say }, false, func(err error) { t.Error(err) }, func(f func()) { f() })
	engine := &lastSchedule{}
	begin := func() *player.Transport {
		set := player.Settings{Percent: 100, Call: n.calling.Load()}
		tr := player.NewTransport(stillLine{}, engine, player.NewCourse(rate, player.Sounds{}, timeline, set))
		n.serve(tr, timeline)
		return tr
	}
	first := begin()
	naming{first, n}.Set(func(m player.Moment) player.Settings {
		s := m.Settings
		s.Call = true
		return s
	})
	first.Start()
	first.Sync()
	assert.Empty(t, heardIn(engine.playing.Load()))
	require.Equal(t, "Lantern step", <-asked)
	said <- nil // it can't be said
	require.Equal(t, "Quay step", <-asked)
	said <- make(audio.Sound, 100)
	n.settle(t.Context())
	first.Sync()
	assert.Equal(t, []int{100}, heardIn(engine.playing.Load()), "while it is danced")

	n.leave()
	first.Close()
	second := begin()
	second.Start()
	second.Sync()
	assert.Equal(t, []int{100}, heardIn(engine.playing.Load()))
	n.close()
	second.Close()
}

// lastSchedule is an engine that plays nothing.
type lastSchedule struct{ playing atomic.Pointer[player.Course] }

func (l *lastSchedule) Play(s audio.Schedule)              { l.playing.Store(s.(*player.Course)) }
func (l *lastSchedule) Accompany(audio.Track, audio.Layer) {}
func (*lastSchedule) SetLevels(int64, audio.Levels)        {}
func (*lastSchedule) Levels() (levels audio.Levels)        { return levels }

// TestLeavingEndsWhatIsBeingSaid, and waits for that.
func TestLeavingEndsWhatIsBeingSaid(t *testing.T) {
	score, _ := routine.Read("two.md", []byte(twoFigures), library.Open())
	begun := make(chan struct{})
	ended := atomic.Bool{}
	say := func(ctx context.Context, _ string) (audio.Sound, error) {
		close(begun)
		<-ctx.Done()
		ended.Store(true)
		return nil, ctx.Err()
	}
	n := newNames(t.Context(), func() sayer { return say }, true, func(err error) { t.Error(err) }, func(f func()) { f() })
	n.dances(player.NewTimeline(score))
	<-begun
	n.close()
	assert.True(t, ended.Load())
	n.dances(player.NewTimeline(score)) // asks for nothing more
	n.settle(t.Context())
}
