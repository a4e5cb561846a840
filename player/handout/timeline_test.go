package handout_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

func schema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(handout.TimelineSchema))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("urn:slowquick:timeline", doc))
	s, err := c.Compile("urn:slowquick:timeline")
	require.NoError(t, err)
	return s
}

// TestTheSchemaTellsTheTimeline: what is written is valid, whatever is asked for, and the schema doesn't
// accept just anything.
func TestTheSchemaTellsTheTimeline(t *testing.T) {
	s := schema(t)
	for name, timeline := range routines(t) {
		for _, o := range variants(timeline) {
			var out bytes.Buffer
			require.NoError(t, handout.JSON(&out, timeline, o))
			doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(out.Bytes()))
			require.NoError(t, err)
			assert.NoError(t, s.Validate(doc), name)
			for key := range doc.(map[string]any) {
				without, err := jsonschema.UnmarshalJSON(bytes.NewReader(out.Bytes()))
				require.NoError(t, err)
				delete(without.(map[string]any), key)
				assert.Error(t, s.Validate(without), "%s is required", key)
			}
			doc.(map[string]any)["more"] = 1
			assert.Error(t, s.Validate(doc))
		}
	}
}

// variants are unusual options.
func variants(timeline *player.Timeline) []handout.Options {
	usual := wholeRoutine()
	slow := wholeRoutine()
	slow.Settings.Percent, slow.Settings.LeadIn, slow.Times = 83, 2, 2
	slow.Shown = [2]bool{false, true}
	part := wholeRoutine()
	part.Part = player.Interval{From: timeline.Passage(1).From, To: timeline.Passage(2).To}
	part.Times, part.Settings.Rest, part.Settings.LeadIn = 3, 1, 0
	part.Settings.Ladder = player.Ladder{Start: 70, Gain: 10, Top: 90, Times: 1}
	part.Shown = [2]bool{true, false}
	part.Before = 0.16
	return []handout.Options{usual, slow, part}
}

// TestAPartOfTheTimeline: its figures are counted from its own first one, its seconds from its first step,
// and its run-throughs from the start of the track. It has only the steps asked for.
func TestAPartOfTheTimeline(t *testing.T) {
	timeline := lantern(t)
	var out bytes.Buffer
	require.NoError(t, handout.JSON(&out, timeline, variants(timeline)[2]))
	var doc struct {
		LeadIn, Figures []any
		Passes          []struct{ Seconds, Percent float64 }
		Events          []struct {
			Figure           int
			Seconds          float64
			Leader, Follower string
		}
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &doc))
	assert.Empty(t, doc.LeadIn)
	assert.Len(t, doc.Figures, 2)
	assert.Zero(t, doc.Events[0].Seconds)
	assert.Equal(t, 0, doc.Events[0].Figure)
	assert.NotEmpty(t, doc.Events[0].Leader)
	assert.Empty(t, doc.Events[0].Follower)
	require.Len(t, doc.Passes, 3)
	assert.Equal(t, []float64{70, 80, 90}, []float64{doc.Passes[0].Percent, doc.Passes[1].Percent, doc.Passes[2].Percent})
	// The basic has two bars and the New York one, at 70 % of 28 bars a minute; a bar of rest at 80 %.
	bar := 60 / 28.0
	assert.InDelta(t, 0.16, doc.Passes[0].Seconds, 1e-6)
	assert.InDelta(t, 0.16+3*bar/0.7+bar/0.8, doc.Passes[1].Seconds, 1e-6)
}

// TestTheStepsComeInParts: they say what the texts say, and where the floor plan has the feet.
func TestTheStepsComeInParts(t *testing.T) {
	type spot struct {
		X, Y   float64
		Toward int
	}
	type parts struct {
		Foot, Way string
		Turn      int
		Places    struct {
			Body, LeftFoot, RightFoot spot
			WeightOn                  string
		}
	}
	for name, timeline := range routines(t) {
		path := floor.Trace(timeline.Score)
		var out bytes.Buffer
		require.NoError(t, handout.JSON(&out, timeline, wholeRoutine()))
		var doc struct {
			Version int
			Events  []struct {
				Figure, Step     int
				Leader, Follower string
				Steps            struct{ Leader, Follower *parts }
			}
		}
		require.NoError(t, json.Unmarshal(out.Bytes(), &doc))
		assert.Equal(t, 1, doc.Version)
		for _, e := range doc.Events {
			for q, text := range []string{e.Leader, e.Follower} {
				step := []*parts{e.Steps.Leader, e.Steps.Follower}[q]
				require.Equal(t, text != "", step != nil, name)
				if step == nil {
					continue
				}
				assert.True(t, strings.HasPrefix(text, step.Foot), text)
				assert.Contains(t, text, step.Way)
				if step.Turn != 0 {
					assert.Contains(t, text, map[bool]string{true: " R", false: " L"}[step.Turn > 0])
				}
				dancer := path.Passage(e.Figure)[e.Step-timeline.Score.Passages[e.Figure].From][q]
				for foot, at := range map[routine.Foot]spot{routine.LF: step.Places.LeftFoot, routine.RF: step.Places.RightFoot} {
					assert.InDelta(t, dancer.Foot(foot).At.X, at.X, 0.06, "%s: %s", name, text)
					assert.InDelta(t, dancer.Foot(foot).At.Y, at.Y, 0.06, "%s: %s", name, text)
				}
				assert.Equal(t, 45*int(dancer.Facing), step.Places.Body.Toward)
			}
		}
	}
}
