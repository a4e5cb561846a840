package routine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/routine"
)

// TestSides: a figure is found however its side is told.
func TestSides(t *testing.T) {
	lib := shipped()
	for dance, names := range map[string]map[string]string{
		"cha-cha": {
			"Spot turn R": "Spot turn to the right", "Spot turn right": "Spot turn to the right", "Right spot turn": "Spot turn to the right",
			"Spot turn (L)": "Spot turn to the left", "New York left": "New York to the left side", "New York, right": "New York to the right side",
			"New York on the right side": "New York to the right side", "Underarm turn R": "Underarm turn to the right", "L underarm turn": "Underarm turn to the left",
		},
		"foxtrot": {"Natural turn": "Natural turn"},
		"samba":   {"Whisk L": "Whisk to the left", "Whisk to right": "Whisk to the right"},
		"tango":   {"RF rock": "Right foot rock", "Rock, left foot": "Left foot rock", "Rock LF": "Left foot rock"},
	} {
		for said, want := range names {
			score, found := routine.Read("side.md", []byte(of(dance)+"\n## Order\n\n1. "+said+"\n"), lib)
			assert.NotContains(t, codes(found), routine.Code("unknown-figure"), said)
			if assert.NotNil(t, score.Items[0].Figure, said) {
				assert.Equal(t, want, score.Items[0].Figure.Name, said)
			}
		}
	}
}

// TestASideThatIsNotTold is asked for, or both are danced in turn.
func TestASideThatIsNotTold(t *testing.T) {
	read := func(dance, order string) (names []string, cs []routine.Code) {
		score, found := routine.Read("side.md", []byte(of(dance)+"\n## Order\n\n"+order), shipped())
		for _, p := range score.Passages {
			names = append(names, p.Figure.Name)
		}
		return names, codes(found)
	}
	names, cs := read("samba", "1. Travelling volta\n")
	assert.Empty(t, names)
	assert.Equal(t, []routine.Code{"side-missing"}, cs)

	const left, right = "New York to the left side", "New York to the right side"
	names, cs = read("cha-cha", "1. New York × 3\n")
	assert.Equal(t, []string{left, right, left}, names)
	assert.Equal(t, []routine.Code{"sides-alternate"}, cs)

	names, cs = read("cha-cha", "1. New York to the left side\n2. New York × 2\n")
	assert.Equal(t, []string{left, right, left}, names, "the other side comes first where only that fits")
	assert.Equal(t, []routine.Code{"sides-alternate"}, cs)

	names, cs = read("cha-cha", "1. New York × 2 — look out\n   - tempo: 28 to 32 bars/min\n")
	assert.Equal(t, []string{left, right}, names)
	assert.Equal(t, []routine.Code{"sides-alternate"}, cs)

	names, _ = read("cha-cha", "1. New York to the left side × 2\n")
	assert.Equal(t, []string{left, left}, names, "a side that is told is kept")
}

// TestSidesThatAlternateShareATempo that grows.
func TestSidesThatAlternateShareATempo(t *testing.T) {
	score, _ := routine.Read("side.md", []byte(of("cha-cha")+"\n## Order\n\n1. New York × 2 — look out\n   - tempo: 28 to 32 bars/min\n   - corner: after\n"), shipped())
	const bars = 4 * routine.BeatPerMinute
	a, b := score.Items[0], score.Items[1]
	assert.Equal(t, []routine.Tempo{28 * bars, 30 * bars, 30 * bars, 32 * bars}, []routine.Tempo{a.Tempo, a.TempoTo, b.Tempo, b.TempoTo})
	assert.Equal(t, []string{"look out", ""}, []string{a.Remark, b.Remark})
	assert.Equal(t, []bool{false, true}, []bool{a.Corner, b.Corner})
}

// TestAFigureThatIsNotDanced is mentioned; one whose name is nearly danced is asked about.
func TestAFigureThatIsNotDanced(t *testing.T) {
	lib := shipped()
	figure := func(name string) string { return inPlace(name, "2 3 4 1", routine.LF) }
	for _, test := range []struct {
		sheet string
		want  []place
	}{
		{of("cha-cha") + "\n## Order\n\n1. Closed basic\n\n" + figure("Quay step"), []place{{"figure-not-danced", 10, 4}}},
		{of("cha-cha") + "\n## Order\n\n1. Closed basic\n\n" + figure("Closd basic"), []place{{"figure-near", 10, 4}}},
		{of("cha-cha") + "\n## Order\n\n1. Quay stop\n\n" + figure("Quay step"), []place{{"unknown-figure", 7, 4}}},
		{of("cha-cha") + "\n## Order\n\n1. Quay step\n\n" + figure("Quay step"), nil},
	} {
		var got []place
		for _, f := range routine.Check("idle.md", []byte(test.sheet), lib) {
			if f.Code != "last-bar-open" {
				got = append(got, place{f.Code, f.Span.Start.Line, f.Span.Start.Column})
			}
		}
		assert.Equal(t, test.want, got, test.sheet)
	}
}
