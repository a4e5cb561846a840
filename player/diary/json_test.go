package diary_test

import (
	"bytes"
	"encoding/json"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// TestTheSchemaTellsTheExport: exports are valid, every key of the schema is written, and the schema
// doesn't accept just anything.
func TestTheSchemaTellsTheExport(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(diary.Schema))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	require.NoError(t, c.AddResource("urn:slowquick:diary", doc))
	schema, err := c.Compile("urn:slowquick:diary")
	require.NoError(t, err)

	d := fresh(t)
	marked := pass(evening(0), 112, "Basic", "Oar turn")
	marked.Danced[0].Whole, marked.Judged = false, [2]bool{false, true}
	marked.Marks = []practice.Mark{{Place: 1, Join: true, Partner: routine.Leader}}
	marked.TakenBack = []practice.Mark{{Place: 1, Partner: routine.Follower}}
	keep(t, d.Begin(lantern, evening(0)), marked, pass(evening(1), 110, "Basic"))
	drift := 0.0104
	require.NoError(t, d.KeepTimed(diary.Timed{
		At: evening(1), Sheet: lantern, Tempo: 120 * routine.BeatPerMinute, Whole: -12345 * time.Microsecond, Unsure: 29 * time.Millisecond,
		Drift: &drift, Counts: []diary.TimedCount{{Name: "&", Median: -60 * time.Millisecond, Spread: 15 * time.Millisecond, Taps: 9}},
	}))
	require.NoError(t, d.KeepTimed(diary.Timed{At: evening(2), Sheet: lantern, Tempo: 120 * routine.BeatPerMinute}))
	var none *diary.Diary
	for _, d := range []*diary.Diary{none, d} {
		x, err := d.Export(2, evening(1))
		require.NoError(t, err)
		text, err := json.Marshal(x)
		require.NoError(t, err)
		decoded := func() map[string]any {
			v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
			require.NoError(t, err)
			return v.(map[string]any)
		}
		assert.NoError(t, schema.Validate(decoded()))
		for key := range decoded() {
			without := decoded()
			delete(without, key)
			assert.Error(t, schema.Validate(without), "%s is required", key)
		}
		more := decoded()
		more["more"] = 1
		assert.Error(t, schema.Validate(more))
	}
	x, err := d.Export(2, evening(1))
	require.NoError(t, err)
	require.Len(t, x.RunThroughs, 2)
	first := x.RunThroughs[0]
	assert.Equal(t, []string{"follower"}, first.Judged)
	assert.Empty(t, first.Clean, "a mark was taken back")
	assert.Equal(t, []diary.Mark{{Figure: "Basic", Into: "Oar turn", Partner: "leader"}}, first.Marks)
	assert.Equal(t, []diary.Mark{{Figure: "Oar turn", Partner: "follower"}}, first.TakenBack)
	assert.Equal(t, []diary.DancedPart{{Figure: "Basic"}, {Figure: "Oar turn", Whole: true}}, first.Danced)
	assert.Equal(t, []string{"leader", "follower"}, x.RunThroughs[1].Clean)
	require.Len(t, x.Marks, 1)
	assert.Equal(t, "Basic", x.Marks[0].Figure)
	assert.Equal(t, 1, x.Marks[0].Times)
	assert.Equal(t, []diary.Timing{
		{evening(1).Format(time.RFC3339), lantern.Dance, lantern.Title, 120 * routine.BeatPerMinute, -12.345, 29, &drift, []diary.TimingCount{{"&", -60, 15, 9}}},
		{evening(2).Format(time.RFC3339), lantern.Dance, lantern.Title, 120 * routine.BeatPerMinute, 0, 0, nil, []diary.TimingCount{}},
	}, x.Timings)
}
