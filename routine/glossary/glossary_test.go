package glossary_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/glossary"
)

func TestWordsComeOnceInTheOrderOfTheSteps(t *testing.T) {
	first := &routine.Step{Foot: routine.LF, Way: routine.Side, Slightly: routine.Forward, Size: routine.Small,
		Turn: 2, Alignment: routine.Alignment{Stand: routine.Backing, To: routine.DC}, Footwork: "HT",
		Actions: []string{"CBM"}, Position: 1 << routine.OutsidePartner}
	second := &routine.Step{Foot: routine.RF, Way: routine.Replace, Turn: 2, Footwork: "THT", Note: "softly"}
	assert.Equal(t, []glossary.Entry{
		{"LF", "left foot"},
		{"small", "a short step"},
		{"side", "step out to the side of this foot"},
		{"slightly", "only a little that way"},
		{"forward", "step ahead, the way the body faces"},
		{"1/4 R", "turn a quarter to the right"},
		{"backing", "your back is that way"},
		{"DC", "diagonally to the centre, along the line of dance"},
		{"HT", "heel first, then toe"},
		{"CBM", "turn the opposite side of the body towards the moving leg"},
		{"outside partner", "step past the partner, right side to right side"},
		{"RF", "right foot"},
		{"replace", "put the weight back on this foot where it stands"},
		{"THT", "toe first, then heel, then toe"},
	}, glossary.Of(first, second))
}

func TestActionsComeWhereTheyAreWritten(t *testing.T) {
	words := func(s routine.Step) (list []string) {
		for _, e := range glossary.Of(&s) {
			list = append(list, e.Word)
		}
		return list
	}
	for _, test := range []struct {
		step  routine.Step
		words string
	}{
		{routine.Step{Foot: routine.LF, Actions: []string{"swivel"}, Turn: -3}, "LF|swivel|3/8 L"},
		{routine.Step{Foot: routine.LF, Way: routine.Side, Actions: []string{"swivel"}, Turn: -3}, "LF|side|3/8 L|swivel"},
		{routine.Step{Foot: routine.LF, Way: routine.Forward, Slightly: routine.Across}, "LF|forward|across"},
		{routine.Step{Foot: routine.RF, Actions: []string{"tap"}, Weight: routine.None}, "RF|tap"},
		{routine.Step{Foot: routine.RF, Way: routine.Close, Weight: routine.None}, "RF|close|no weight"},
		{routine.Step{Turn: 4}, "–|1/2 R"},
		{routine.Step{Foot: routine.RF, Way: routine.Side, Footwork: "X"}, "RF|side"},
	} {
		assert.Equal(t, test.words, strings.Join(words(test.step), "|"), test.step.String())
	}
}

func TestTurnsInWords(t *testing.T) {
	for turn, meaning := range map[routine.Turn]string{
		1:   "turn an eighth to the right",
		-4:  "turn a half to the left",
		8:   "turn once to the right",
		-10: "turn once and a quarter to the left",
		23:  "turn twice and seven eighths to the right",
		24:  "turn 3 times to the right",
	} {
		entries := glossary.Of(&routine.Step{Foot: routine.LF, Way: routine.Side, Turn: turn})
		assert.Equal(t, glossary.Entry{turn.String(), meaning}, entries[len(entries)-1])
	}
}

func TestTurnsThatVaryInWords(t *testing.T) {
	entries := glossary.Of(&routine.Step{Foot: routine.LF, Way: routine.Side, Turn: 2, Varies: routine.Range{From: 0, To: 3}})
	assert.Equal(t, glossary.Entry{Word: "1/4 R (0 to 3/8)", Meaning: "usually turn a quarter to the right; none to 3/8 R as needed"}, entries[len(entries)-1])
}

func TestCountsAreThoseOfTheDance(t *testing.T) {
	tango := &routine.Dance{Slow: routine.Beat, Quick: routine.Beat / 2, And: routine.Beat / 4, A: routine.Beat / 4}
	jive := &routine.Dance{Slow: 2 * routine.Beat, Quick: routine.Beat, And: routine.Beat / 2, A: routine.Beat / 4, FigureNumbers: true}
	counts := func(texts ...string) (list []routine.Count) {
		for _, text := range texts {
			c, ok := routine.ParseCount(text)
			require.True(t, ok, text)
			list = append(list, c)
		}
		return list
	}
	assert.Equal(t, []glossary.Entry{
		{"S", "slow: it lasts 1 beat"},
		{"Q", "quick: it lasts 1/2 beat"},
		{"&", "and: it takes the last 1/4 beat of the count before it"},
	}, glossary.Counts(tango, counts("S", "Q", "q", "S", "and")...))
	assert.Equal(t, []glossary.Entry{
		{"S", "slow: it lasts 2 beats"},
		{"3", "on beat 3 of the figure"},
		{"a", "a: it takes the last 1/4 beat of the count before it"},
		{"e", "e: it comes 1/4 beat after the count before it"},
	}, glossary.Counts(jive, counts("S", "3", "a", "e")...))
	assert.Equal(t, []glossary.Entry{
		{"2", "on beat 2, as dancers count the music"},
		{"4-1", "on beat 4, then wait until beat 1 is over"},
	}, glossary.Counts(tango, counts("2", "4-1")...))
}

// TestMeaningsOfPositionsAgreeWithTheirPlaces checks the side on which a meaning says that
// the follower is against the place where the couple is put on the floor.
func TestMeaningsOfPositionsAgreeWithTheirPlaces(t *testing.T) {
	follower := regexp.MustCompile(`follower (?:at|on|to) the leader's (left|right)`)
	sides := regexp.MustCompile(`(left|right) sides? (?:next|to)`)
	checked := 0
	for p := range routine.AnyPosition.Positions() {
		s := routine.Step{Foot: routine.LF, Way: routine.Side, Position: 1 << p}
		entries := glossary.Of(&s)
		require.Len(t, entries, 3, p)
		meaning, region := entries[2].Meaning, p.Region()
		found := follower.FindStringSubmatch(meaning)
		if found == nil {
			found = sides.FindStringSubmatch(meaning)
		}
		if found != nil {
			assert.Equal(t, found[1] == "left", region.UsualBearing < 0, "%s: %s", p, meaning)
			checked++
		}
		facing := routine.PositionSet(1 << p)
		if strings.Contains(meaning, "facing the same way") || strings.Contains(meaning, "side by side") {
			assert.True(t, facing.Allows(0), "%s: %s", p, meaning)
			checked++
		}
		if strings.Contains(meaning, "face to face") || strings.Contains(meaning, "facing opposite ways") {
			assert.True(t, facing.Allows(4), "%s: %s", p, meaning)
			checked++
		}
		if strings.Contains(meaning, " V ") {
			assert.True(t, region.V, "%s: %s", p, meaning)
			checked++
		}
		if strings.Contains(meaning, "hands held") || strings.Contains(meaning, "one hand") || strings.Contains(meaning, "both arms") {
			assert.True(t, region.Hands, "%s: %s", p, meaning)
			checked++
		}
	}
	assert.Greater(t, checked, 20)
}
