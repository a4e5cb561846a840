package routine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/routine"
)

// TestPartsOfTheOrder: which figures an order with parts dances.
func TestPartsOfTheOrder(t *testing.T) {
	const basic, turn = "Closed basic", "Time step"
	for name, test := range map[string]struct {
		order string
		want  []string
		codes []routine.Code
	}{
		"parts in their order":        {"## Order\n\n1. Closed basic\n\n### Part B\n\n1. Time step\n2. Closed basic\n", []string{basic, turn, basic}, nil},
		"beside the order":            {"## Order\n\n1. Closed basic\n\n## Part B\n\n1. Time step\n", []string{basic, turn}, nil},
		"the order goes on":           {"## Order\n\n1. Closed basic\n\n## Order part 2\n\n1. Time step\n", []string{basic, turn}, nil},
		"the order, continued":        {"## Order\n\n1. Closed basic\n\n## Order (continued)\n\n1. Time step\n", []string{basic, turn}, nil},
		"parts that the order names":  {"## Order\n\n1. Part A × 2\n2. Part B\n3. Part A\n\n### Part A\n\n1. Closed basic\n\n### Part B\n\n1. Time step\n", []string{basic, basic, turn, basic}, nil},
		"a part danced again":         {"## Order\n\n### Part A\n\n1. Closed basic\n\n### Part B\n\n1. Time step\n2. Part A, twice\n", []string{basic, turn, basic, basic}, nil},
		"the order of the parts":      {"## Order\n\n### Part A\n\n1. Closed basic\n\n### Part B\n\n1. Time step\n\n### All together\n\n1. Part B\n2. 2x Part A\n", []string{turn, basic, basic}, []routine.Code{"order-parts", "order-parts"}},
		"from the top":                {"## Order\n\n1. Closed basic\n2. Time step\n3. From the top\n", []string{basic, turn, basic, turn}, nil},
		"from the top, twice":         {"## Order\n\n1. Closed basic\n2. Repeat from the top × 2\n", []string{basic, basic, basic}, nil},
		"by another name":             {"## Choreography\n\n1. Closed basic\n", []string{basic}, nil},
		"bullets in a part":           {"## Routine\n\n- Closed basic\n\n### Part B\n\n- Time step\n", []string{basic, turn}, []routine.Code{"loose-form"}},
		"prose of that name":          {"## Routine\n\nWe meet by the river.\n\n## Order\n\n1. Closed basic\n", []string{basic}, nil},
		"a part within itself":        {"## Order\n\n1. Part A\n\n### Part A\n\n1. Closed basic\n2. Part A\n", []string{basic}, []routine.Code{"order-loop"}},
		"two parts within each other": {"## Order\n\n1. Part A\n\n### Part A\n\n1. Part B\n\n### Part B\n\n1. Part A\n", nil, []routine.Code{"order-loop"}},
		"too many":                    {"## Order\n\n1. Closed basic\n" + strings.Repeat("1. From the top × 99\n", 9), nil, []routine.Code{"too-large"}},
		"parts of nothing":            {"## Order\n\n1. Closed basic\n2. A × 99\n### A\n1. B × 99\n### B\n1. C × 99\n### C\n1. D × 99\n### D\n1. E × 99\n### E\n1. F × 99\n### F\n", []string{basic}, []routine.Code{"too-large"}},
		"steps of a part":             {"## Order\n\n1. Closed basic\n2. Part A, steps 1–2\n\n### Part A\n\n1. Time step\n", []string{basic}, []routine.Code{"steps-range"}},
		"two orders":                  {"## Order\n\n1. Closed basic\n\n## Choreography\n\n1. Time step\n", []string{basic}, []routine.Code{"order-again"}},
		"a quote of a figure":         {"## Order\n\n1. Closed basic\n\n> 2. Time step\n> With a smile.\n", []string{basic}, []routine.Code{"order-not-read"}},
		"a table of figures":          {"## Order\n\n1. Closed basic\n\n| 2 | Time step |\n|---|---|\n| 3 | Closed basic |\n", []string{basic}, []routine.Code{"order-not-read"}},
		"verses by their names":       {"## Order\n\n1. Verse\n2. Chorus\n\n### Verse\n\n1. Closed basic\n\n### Chorus\n\n1. Time step\n", []string{basic, turn}, nil},
		"a verse of its own":          {"## Order\n\n1. Closed basic\n\n## Second verse\n\n- Time step\n", []string{basic, turn}, []routine.Code{"loose-form"}},
		"an ending":                   {"## Order\n\n1. Closed basic\n\n## Ending\n\n1. Time step\n", []string{basic, turn}, nil},
		"a list beside the order":     {"## Order\n\n1. Closed basic\n\n## Tonight\n\n1. Time step\n", []string{basic}, []routine.Code{"order-not-read"}},
		"a figure as a heading":       {"## Order\n\n1. Closed basic\n\n### Time step\n", []string{basic}, []routine.Code{"order-not-read"}},
		"a repeat in words":           {"## Order\n\n1. Closed basic\n\nRepeat everything twice.\n", []string{basic}, []routine.Code{"order-not-read"}},
		"times of all":                {"## Order\n\n1. Closed basic\n\n(x2)\n", []string{basic}, []routine.Code{"order-not-read"}},
		"a sentence at the end":       {"## Order\n\n1. Closed basic\n\nAnd finish with a Time step, please.\n", []string{basic}, []routine.Code{"order-not-read"}},
		"a figure behind a word":      {"## Order\n\n1. Closed basic\n\nNew: Time step\n", []string{basic}, []routine.Code{"order-not-read"}},
		"a row below the list":        {"## Order\n\n1. Closed basic\n\n| Time step | Closed basic |\n", []string{basic}, []routine.Code{"order-not-read"}},
		"a tempo beside the list":     {"## Order\n\n1. Closed basic\n\nTempo: 28 bars/min\n", []string{basic}, []routine.Code{"unknown-setting"}},
		"a tempo above":               {"Tempo: 28 bars/min\n\n## Order\n\n1. Closed basic\n", []string{basic}, []routine.Code{"unknown-setting"}},
		"bullets after numbers":       {"## Order\n\n1. Closed basic\n\nAnd then:\n\n- Time step\n- Closed basic\n", []string{basic}, []routine.Code{"order-not-read", "order-not-read"}},
		"a list in a block of code":   {"## Order\n\n1. Closed basic\n\n```\n2. Time step\n```\n", []string{basic}, []routine.Code{"order-not-read"}},
	} {
		t.Run(name, func(t *testing.T) {
			src := of("cha-cha") + "\n" + test.order
			score, found := routine.Read("parts.md", []byte(src), shipped())
			var got []string
			for _, item := range score.Items {
				got = append(got, item.Name)
			}
			if test.want != nil {
				assert.Equal(t, test.want, got)
			}
			var gotCodes []routine.Code
			for _, f := range found {
				if !strings.HasPrefix(string(f.Code), "join-") && f.Code != "last-bar-open" {
					gotCodes = append(gotCodes, f.Code)
				}
			}
			assert.Equal(t, test.codes, gotCodes, "%+v", found)
		})
	}
}

// TestWhatIsSetForAPart holds for its figures.
func TestWhatIsSetForAPart(t *testing.T) {
	src := of("cha-cha") + "\n## Order\n\n1. Part A × 2 — softly\n   - tempo: 30 bars/min\n   - corner: after\n\n### Part A\n\n1. Closed basic\n2. Closed basic — look up\n   - tempo: 28 bars/min\n"
	score, found := routine.Read("part.md", []byte(src), shipped())
	assert.Empty(t, found)
	const bars = 4 * routine.BeatPerMinute
	var tempi []routine.Tempo
	for _, item := range score.Items {
		tempi = append(tempi, item.Tempo)
	}
	assert.Equal(t, []routine.Tempo{30 * bars, 28 * bars, 30 * bars, 28 * bars}, tempi)
	assert.Equal(t, []string{"softly", "look up"}, []string{score.Items[0].Remark, score.Items[1].Remark})
	assert.False(t, score.Items[1].Corner)
	assert.True(t, score.Items[3].Corner)
}
