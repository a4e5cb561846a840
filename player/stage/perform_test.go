package stage

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/voice"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/timing"
)

// TestWhatIsPerformedGoesOn while the routine that stands still is replaced, as when its sheet is saved.
func TestWhatIsPerformedGoesOn(t *testing.T) {
	const rate = 48000
	s := Open(t.Context(), Options{
		Rate: rate, Silent: true, Levels: player.DefaultLevels([2]bool{}), Voice: func() *voice.Voice { return voice.New(rate) }, Warn: func(error) {}, Guard: func(f func()) { f() },
	})
	defer s.Close()
	timeline, _ := rehearsal.Read(rehearsal.Boathouse)
	saved, _ := rehearsal.Read(rehearsal.Lounge)
	transport := s.Put(timeline, player.DefaultSettings())
	var plan *timing.Plan
	perform := func() {
		s.Perform(func(frame int64, sounds player.Sounds) *timing.Plan {
			set := player.DefaultSettings()
			c := player.NewCourse(rate, sounds, timeline, set).Start(frame+rate/2, timeline, timeline.Start, set)
			plan = timing.NewPlan(c, rate, float64(frame), 2, timing.Bars{Heard: 2})
			return plan
		})
	}
	sounds := func() bool {
		require.NoError(t, s.desk.Seek(int(plan.Steps[0].At*rate)-1))
		heard := make([][2]float64, rate/10)
		s.desk.Stream(heard)
		return slices.ContainsFunc(heard, func(f [2]float64) bool { return f[0] != 0 || f[1] != 0 })
	}
	perform()
	assert.True(t, sounds())
	transport.Replace(saved)
	transport.Sync()
	assert.True(t, sounds(), "it goes on")
	s.Perform(func(int64, player.Sounds) *timing.Plan { return nil })
	assert.True(t, sounds(), "nothing has changed")
	s.Rest()
	assert.False(t, sounds(), "the routine stands still")
	s.Rest()
	perform()
	s.Put(saved, player.DefaultSettings())
	assert.False(t, sounds(), "another routine is put on the stage")
}
