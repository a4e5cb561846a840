package calling

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/speech"
	"dance.example/slowquick/library"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rate is the frames a second at which the tests dance.
const rate = 48000

const twoFigures = `---
dance: cha-cha
---

## Order

1. Closed basic
2. New York to the left side
`

// TestComplaints: each is made once, by itself, in a dancer's words.
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

// heardIn returns the lengths of the names that a course sounds, one for each time it does.
func heardIn(s audio.Schedule) (lengths []int) {
	for _, h := range s.Hits(nil, 0, 60*rate) {
		if h.Layer == player.VoiceLayer {
			lengths = append(lengths, len(h.Sound))
		}
	}
	return lengths
}

// TestNamesComeWhenTheyAreReady: the course being danced gets them at once, and so does the next. Names
// that nobody will hear are not asked for.
func TestNamesComeWhenTheyAreReady(t *testing.T) {
	score, _ := routine.Read("two.md", []byte(twoFigures), library.Open())
	timeline := player.NewTimeline(score)
	asked, said := make(chan string), make(chan audio.Sound)
	say := func(_ context.Context, name string) (audio.Sound, error) {
		asked <- name
		return <-said, nil
	}
	c := NewCaller(t.Context(), func() Sayer { return say }, false, func(err error) { t.Error(err) }, func(f func()) { f() })
	engine := &lastSchedule{}
	begin := func() Transport {
		set := player.Settings{Percent: 100, Call: c.Calling()}
		tr := player.NewTransport(stillLine{}, engine, player.NewCourse(rate, player.Sounds{}, timeline, set), nil)
		return c.Serve(tr, timeline)
	}
	first := begin()
	first.Set(func(m player.Moment) player.Settings {
		s := m.Settings
		s.Call = true
		return s
	})
	first.Start()
	first.Sync()
	assert.Empty(t, heardIn(engine.playing.Load()))
	require.Equal(t, "Closed basic", <-asked)
	said <- nil // it can't be said
	require.Equal(t, "New York to the left side", <-asked)
	said <- make(audio.Sound, 100)
	c.Settle(t.Context())
	first.Sync()
	assert.Equal(t, []int{100}, heardIn(engine.playing.Load()), "while it is danced")

	c.Leave()
	first.Close()
	second := begin()
	second.Start()
	second.Sync()
	assert.Equal(t, []int{100}, heardIn(engine.playing.Load()))
	c.Close()
	second.Close()
}

// lastSchedule is an engine that plays nothing.
type lastSchedule struct{ playing atomic.Pointer[player.Course] }

func (l *lastSchedule) Play(s audio.Schedule)              { l.playing.Store(s.(*player.Course)) }
func (l *lastSchedule) Accompany(audio.Track, audio.Layer) {}
func (*lastSchedule) SetLevels(int64, audio.Levels)        {}
func (*lastSchedule) Levels() (levels audio.Levels)        { return levels }

// TestLeavingEndsWhatIsBeingSaid, and waits until it has ended.
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
	c := NewCaller(t.Context(), func() Sayer { return say }, true, func(err error) { t.Error(err) }, func(f func()) { f() })
	c.dances(player.NewTimeline(score))
	<-begun
	c.Close()
	assert.True(t, ended.Load())
	c.dances(player.NewTimeline(score)) // asks for nothing more
	c.Settle(t.Context())
}
