//go:build soundserver

package stage_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/device/nullsink"
	"dance.example/slowquick/audio/voice"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/stage"
	"dance.example/slowquick/player/timing"
)

// TestTheCountAloneIsNoClap listens to what the stage itself plays.
func TestTheCountAloneIsNoClap(t *testing.T) {
	nullsink.Start(t)
	t.Setenv("PULSE_SOURCE", "out.monitor") // a virtual microphone
	const rate = 48000
	s := stage.Open(context.Background(), stage.Options{
		Rate: rate, Levels: player.DefaultLevels([2]bool{}), Voice: func() *voice.Voice { return voice.New(rate) }, Warn: func(error) {}, Guard: func(f func()) { f() },
	})
	defer s.Close()
	s.Settle(context.Background())
	ear, err := s.Listen(context.Background())
	require.NoError(t, err)
	defer ear.Close()
	timeline, _ := rehearsal.Read(rehearsal.Boathouse)
	set := player.DefaultSettings()
	var plan *timing.Plan
	s.Perform(func(frame int64, sounds player.Sounds) *timing.Plan {
		c := player.NewCourse(rate, sounds, timeline, set).Start(frame+rate/2, timeline, timeline.Start, set)
		plan = timing.NewPlan(c, rate, float64(frame), 4, timing.Bars{Heard: 4})
		return plan
	})
	for tick := time.NewTicker(50 * time.Millisecond); s.Heard(time.Now()) < plan.End+rate/2; {
		<-tick.C
	}
	at, unsure, err := ear.Claps(plan)
	require.NoError(t, err)
	assert.Empty(t, at)
	assert.InDelta(t, 0.005, unsure, 1e-9, "it hears itself")
}
