package cue_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/routine"
)

// standing returns the cue at an event of a sheet.
func standing(t *testing.T, sheet string, event int, set player.Settings) *cue.Cue {
	t.Helper()
	timeline, found := rehearsal.Read(sheet)
	require.NotNil(t, timeline, "%v", found)
	m := player.NewCourse(rehearsal.Rate, player.Sounds{}, timeline, set).Stand(0, timeline.Events[event].At).At(1)
	return &cue.Cue{Moment: m}
}

func TestTheCountAndTheSteps(t *testing.T) {
	c := standing(t, rehearsal.Boathouse, 3, player.DefaultSettings()) // 2 3 4 &
	assert.Equal(t, "&", c.Counted())
	assert.Equal(t, "R", c.Foot(routine.Leader, c.Event()))
	assert.Equal(t, "L", c.Foot(routine.Follower, c.Event()))
	s, at := c.Next(routine.Leader, c.Event())
	assert.Equal(t, 4, at)
	assert.Equal(t, "LF side", c.Words(routine.Leader, s, at))
	assert.Equal(t, []string{"Lantern step again", "Oar turn", "Lantern step", "the end"}, c.Coming(9))
	assert.Equal(t, "Lantern step", c.Following())
	assert.Empty(t, c.Ahead(), "the couple stands")
	assert.Equal(t, "Lantern step", c.Name(c.Item(c.Event())))
	assert.Equal(t, []string{"1", "2", "3", "4", "&"}, c.Counts())
	c.Count = player.Counting{Style: routine.InWords, Language: routine.Italian}
	assert.Equal(t, "cha", c.Counted(), "it has no Italian word")
	assert.Equal(t, []string{"1", "2", "3", "4", "due", "tre", "cha", "quattro", "uno"}, c.Counts(), "a lead-in in numbers, then words")
	c.Dancers = routine.LeaderAlone
	assert.False(t, c.Moving())
}

// TestWhatIsHeldGoesOn: a held count continues the step before, and a count on which nothing is said the
// count before.
func TestWhatIsHeldGoesOn(t *testing.T) {
	c := standing(t, rehearsal.Boathouse, 0, player.DefaultSettings())
	timeline := c.Moment.Timeline
	turn := timeline.At(timeline.Passage(2).From)
	held, at := c.Step(routine.Leader, turn+2)
	assert.Equal(t, turn+1, at)
	assert.Equal(t, "RF replace", held.Words())
	assert.Equal(t, "-", c.Foot(routine.Leader, turn+4), "the couple stands on 2")
}

func TestAfterGoesRoundTheLoop(t *testing.T) {
	set := player.DefaultSettings()
	c := standing(t, rehearsal.Boathouse, 0, set)
	first := c.Moment.Timeline.Passage(0)
	c.Moment.Settings.Loop = first
	last := c.Moment.Timeline.At(first.To - 1)
	assert.Equal(t, 0, c.After(last))
	assert.Equal(t, []string{"again from bar 1, count 2"}, c.Coming(9))
	c.Moment.Settings.Loop = player.Interval{}
	assert.Equal(t, last+1, c.After(last))
	assert.Equal(t, -1, c.After(len(c.Moment.Timeline.Events)-1))
}

func TestALoopThatEndsInAFigureGoesBack(t *testing.T) {
	c := standing(t, rehearsal.Boathouse, 0, player.DefaultSettings())
	timeline := c.Moment.Timeline
	c.Moment.Settings.Loop = player.Interval{From: timeline.Start, To: timeline.Bar(timeline.Start).To}
	assert.Equal(t, "Lantern step", c.Following())
	assert.Equal(t, "the end", standing(t, rehearsal.Boathouse, len(timeline.Events)-1, player.DefaultSettings()).Following())
}

// TestHiddenStepsAndNames: no method returns what is hidden.
func TestHiddenStepsAndNames(t *testing.T) {
	tests := []struct {
		hidden      practice.Stage
		event       int
		foot, words string
		name        string
	}{
		{practice.HiddenNothing, 1, "R", "RF replace", "Lantern step"},
		{practice.HiddenSteps, 1, "", "…", "Lantern step"},
		{practice.HiddenButFirst, 0, "L", "LF forward", "Lantern step"},
		{practice.HiddenButFirst, 1, "", "…", "Lantern step"},
		{practice.HiddenNames, 1, "R", "RF replace", "…"},
		{practice.HiddenButCounts, 0, "", "…", "…"},
	}
	for _, tt := range tests {
		c := standing(t, rehearsal.Boathouse, tt.event, player.DefaultSettings())
		c.Hidden.Stage = tt.hidden
		s, _ := c.Step(routine.Leader, tt.event)
		assert.Equal(t, tt.foot, c.Foot(routine.Leader, tt.event), "%s, event %d", tt.hidden, tt.event)
		assert.Equal(t, tt.words, c.Words(routine.Leader, s, tt.event), "%s, event %d", tt.hidden, tt.event)
		assert.Equal(t, tt.name, c.Name(c.Item(tt.event)), "%s", tt.hidden)
	}
}

// TestHidingAPartnerOrALine: what is hidden of one partner, or in one line of the order, is shown of the
// other and elsewhere.
func TestHidingAPartnerOrALine(t *testing.T) {
	timeline := standing(t, rehearsal.Boathouse, 0, player.DefaultSettings()).Moment.Timeline
	last := len(timeline.Events) - 1 // of the second line with a Lantern step
	seen := func(h practice.Hidden, event int) [3]string {
		c := standing(t, rehearsal.Boathouse, event, player.DefaultSettings())
		c.Hidden = h
		return [3]string{c.Foot(routine.Leader, event), c.Foot(routine.Follower, event), c.Name(c.Item(event))}
	}
	all := practice.HiddenStepsAndNames
	assert.Equal(t, [3]string{"", "R", "…"}, seen(practice.Hidden{Stage: all, Of: routine.LeaderAlone}, 0))
	only := practice.Hidden{Stage: all, In: practice.Within{Figure: "Lantern step", Line: 1}}
	assert.Equal(t, [3]string{"", "", "…"}, seen(only, 0))
	assert.Equal(t, [3]string{"R", "L", "Lantern step"}, seen(only, last))
	each := practice.Hidden{Stage: all, In: practice.Within{Figure: "Lantern step"}}
	assert.Equal(t, [3]string{"", "", "…"}, seen(each, last))
}

// TestTheLeadIn: the first step is shown, with the beats that are counted until then.
func TestTheLeadIn(t *testing.T) {
	timeline, _ := rehearsal.Read(rehearsal.Boathouse)
	course := player.NewCourse(rehearsal.Rate, player.Sounds{}, timeline, player.DefaultSettings()).Start(0, timeline, timeline.Start, player.DefaultSettings())
	c := cue.Cue{Moment: course.At(2.5 * float64(rehearsal.Beat.Milliseconds()))}
	require.Equal(t, player.LeadIn, c.Moment.State)
	assert.True(t, c.Moving())
	assert.Equal(t, 0, c.Event())
	assert.Equal(t, "L", c.Foot(routine.Leader, c.Event()))
	assert.NotEmpty(t, c.Counted())
	assert.Contains(t, c.Counts(), c.Counted())

	c.Moment = course.At(float64((4 + 6) * rehearsal.Beat.Milliseconds()))
	require.Equal(t, player.Dancing, c.Moment.State)
	assert.Equal(t, "Lantern step", c.Ahead(), "it begins within a bar")
}

func TestPlace(t *testing.T) {
	timeline, _ := rehearsal.Read(rehearsal.Boathouse)
	assert.Equal(t, "bar 1, count 2", cue.Place(timeline, timeline.Start))
}
