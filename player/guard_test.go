package player_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
)

// slippingLine panics when it is changed.
type slippingLine struct{}

func (slippingLine) Heard(time.Time) float64  { return 0 }
func (slippingLine) Change(func(frame int64)) { panic("an oar slips") }

// TestAGuardSeesThePanicOfATransport, and the transport can still be closed.
func TestAGuardSeesThePanicOfATransport(t *testing.T) {
	seen := make(chan any, 2)
	guard := func(f func()) {
		defer func() { seen <- recover() }()
		f()
	}
	course := player.NewCourse(rate, sounds, player.NewTimeline(score(t, lanternSheet(""))), player.DefaultSettings())
	tr := player.NewTransport(slippingLine{}, audio.NewEngine(rate), course, guard)
	tr.Start()
	tr.Close()
	assert.ElementsMatch(t, []any{"an oar slips", nil}, []any{<-seen, <-seen}, "the other goroutine just ends")
}
