package player_test

import (
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
)

// wallLine is a device whose frames pass with the clock, and which renders what is due
// when play is called.
type wallLine struct {
	mu     sync.Mutex
	start  time.Time
	engine *audio.Engine
}

func (l *wallLine) Heard(t time.Time) float64 { return t.Sub(l.start).Seconds() * rate }

func (l *wallLine) Change(f func(frame int64)) {
	l.mu.Lock()
	defer l.mu.Unlock()
	f(int64(l.Heard(time.Now())) + 1)
}

// play renders up to now and reports whether anything sounded.
func (l *wallLine) play() (loud bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	buf := make([][2]float64, 480)
	for end := int(l.Heard(time.Now())); l.engine.Position()+len(buf) <= end; {
		l.engine.Stream(buf)
		for _, s := range buf {
			loud = loud || s[0] > 0.05
		}
	}
	return loud
}

// TestATransportPlaysTheSong: the transport plans the song ahead by itself while the
// couple dances, and the song is silent while they stand.
func TestATransportPlaysTheSong(t *testing.T) {
	timeline, _ := laid(t, 44)
	synctest.Test(t, func(t *testing.T) {
		e := audio.NewEngine(rate)
		e.SetLevels(0, levels(player.MusicLayer))
		device := &wallLine{start: time.Now(), engine: e}
		set := player.Settings{Percent: 90, Loop: timeline.Passage(1)}
		tr := player.NewTransport(device, e, player.NewCourse(rate, sounds, timeline, set), nil)
		defer tr.Close()
		heard := func(seconds int) (n int) {
			for range seconds {
				time.Sleep(time.Second) // of the bubble's time: nothing waits
				synctest.Wait()
				if device.play() {
					n++
				}
			}
			return n
		}
		assert.Zero(t, heard(2))
		tr.Start()
		assert.Equal(t, 20, heard(20), "planned ahead, one run-through after another")
		tr.Set(func(m player.Moment) player.Settings { m.Settings.Percent = 60; return m.Settings })
		assert.Equal(t, 10, heard(10))
		assert.False(t, e.Silent(int64(e.Position())+audio.MaxRing*rate))
		tr.Hold()
		heard(1)
		require.Equal(t, player.Holding, tr.Now(time.Now()).State)
		assert.Zero(t, heard(3))
		assert.True(t, e.Silent(int64(e.Position())+audio.MaxRing*rate), "the song, too, says so")
	})
}
