package changes_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/changes"
	"dance.example/slowquick/player/internal/rehearsal"
)

// at returns the moment at which a figure of the boathouse sheet begins; figures count from 0.
func at(t *testing.T, figure int, set player.Settings) player.Moment {
	t.Helper()
	timeline, found := rehearsal.Read(rehearsal.Boathouse)
	require.NotNil(t, timeline, "%v", found)
	return player.NewCourse(rehearsal.Rate, player.Sounds{}, timeline, set).Stand(0, timeline.Passage(figure).From).At(1)
}

func bars(m player.Moment, set player.Settings) float64 {
	tempo := player.NewCourse(rehearsal.Rate, player.Sounds{}, m.Timeline, set).At(0).Tempo
	return m.Timeline.Score.Dance.BarsPerMinute(tempo)
}

func TestFasterGoesByWholeBarsAMinute(t *testing.T) {
	tests := []struct {
		percent float64 // of 60 bars a minute
		by      int
		want    float64
	}{{100, 1, 61}, {100, -1, 59}, {99, 1, 60}, {99, -1, 59}, {50, 5, 35}, {76, -2, 44}}
	for _, tt := range tests {
		m := at(t, 0, player.DefaultSettings().At(tt.percent, 0))
		assert.InDelta(t, tt.want, bars(m, changes.Faster(tt.by)(m)), 0.001, "%v %% by %d", tt.percent, tt.by)
	}
}

func TestNextLoopGoesFromTheFigureToItsJoinToNothing(t *testing.T) {
	set := player.DefaultSettings()
	m := at(t, 1, set)
	m.Settings = changes.NextLoop(m)
	assert.Equal(t, m.Timeline.Passage(1), m.Settings.Loop)
	m.Settings = changes.NextLoop(m)
	assert.Equal(t, m.Timeline.Join(1), m.Settings.Loop)
	m.Settings = changes.NextLoop(m)
	assert.True(t, m.Settings.Loop.Empty())

	last := at(t, 3, set)
	last.Settings = changes.NextLoop(last)
	require.Equal(t, last.Timeline.Passage(3), last.Settings.Loop)
	assert.True(t, changes.NextLoop(last).Loop.Empty(), "the last figure has no join")

	m.Settings = changes.Loop(player.Interval{From: m.Timeline.Start, To: m.Timeline.Passage(2).From})(m)
	assert.True(t, changes.NextLoop(m).Loop.Empty(), "a loop that was set by hand ends")
}

// TestALadderGoesOnThroughTheWhole: a loop that changes leaves the ladder on its rung, and a loop that ends
// leaves it the whole routine.
func TestALadderGoesOnThroughTheWhole(t *testing.T) {
	m := at(t, 1, player.DefaultSettings())
	m.Settings = changes.Climb(player.Ladder{Start: 70, Gain: 10, Top: 100})(m)
	assert.Equal(t, changes.Whole(m.Timeline), m.Settings.Loop)
	m.RunThrough = 2
	m.Settings, m.RunThrough = changes.NextLoop(m), 0
	assert.Equal(t, m.Timeline.Passage(1), m.Settings.Loop, "the whole is no loop that somebody chose")
	assert.Equal(t, 2, m.Settings.Ladder.Rung(0))
	m.Settings = changes.Loop(player.Interval{})(m)
	assert.Equal(t, changes.Whole(m.Timeline), m.Settings.Loop)
}

func TestRung(t *testing.T) {
	m := at(t, 0, player.DefaultSettings())
	assert.InDelta(t, 100+changes.Step, changes.Rung(1)(m).Percent, 1e-9)
	assert.InDelta(t, 100-2*changes.Step, changes.Rung(-2)(m).Percent, 1e-9)

	m.Settings = changes.Climb(player.Ladder{Start: 70, Gain: 10, Top: 100})(m)
	set := changes.Rung(1)(m)
	assert.Equal(t, 1, set.Ladder.Rung(0))
	m.Percent = 80
	kept := changes.KeepTempo(player.Moment{Timeline: m.Timeline, Settings: set, Percent: 80})
	assert.Zero(t, kept.Ladder)
	assert.InDelta(t, 80, kept.Percent, 1e-9)
	plain := player.DefaultSettings()
	assert.Equal(t, plain, changes.KeepTempo(player.Moment{Timeline: m.Timeline, Settings: plain, Percent: 100}))
}
