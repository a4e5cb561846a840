package floor_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// danced returns the couple before a library's figure and after each of its rows.
func danced(t *testing.T, dance, name string) (*routine.Figure, []floor.Couple) {
	c, ok := shipped.Chapter(dance)
	require.True(t, ok, dance)
	for _, fig := range c.Figures {
		if fig.Name == name {
			return fig, floor.Trace(fig.Alone(c.Dance, c.Dance.Stride, fig.Starts.Positions)).Passage(0)
		}
	}
	require.Fail(t, "no such figure", name)
	return nil, nil
}

// TestTheOneWhoStandsIsGoneRound: a partner who turns on the spot stays over the standing foot, and the other goes
// round: the follower in a twist turn, as the leader untwists (idans.nl, Natural Twist Turn); she crosses in front of
// a leader who replaces in a cross-body lead, and he goes round her heel turn in a double reverse spin (common practice).
func TestTheOneWhoStandsIsGoneRound(t *testing.T) {
	for _, test := range []struct {
		dance, name string
		stands      routine.Partner
		rows        []int
	}{
		{"tango", "Natural twist turn", routine.Leader, []int{5, 6}},
		{"salsa", "Cross-body lead", routine.Leader, []int{5}},
		{"salsa", "Cross-body lead on 2", routine.Leader, []int{5}},
		{"mambo", "Cross-body lead", routine.Leader, []int{5}},
		{"waltz", "Double reverse spin", routine.Follower, []int{2}},
	} {
		_, couples := danced(t, test.dance, test.name)
		for _, row := range test.rows {
			d := couples[row][test.stands]
			assert.Less(t, d.Body.Distance(d.Foot(d.Weight).At), 20.0, "%s, row %d", test.name, row)
		}
	}
}

// TestTheFollowerWalksRoundATwist: in a twist turn she comes up to the leader along the line of dance, passes on his right
// side and is beyond him, facing wall, before he untwists her into promenade (idans.nl, Natural Twist Turn; dancecentral.info,
// Tango Natural Twist Turn).
func TestTheFollowerWalksRoundATwist(t *testing.T) {
	_, couples := danced(t, "tango", "Natural twist turn")
	apart := func(row int) floor.Point {
		return couples[row][routine.Follower].Body.Minus(couples[row][routine.Leader].Body)
	}
	assert.Negative(t, apart(4).X, "he stands farther along the line")
	assert.Positive(t, apart(5).X, "then she does")
	assert.Negative(t, apart(5).Y, "nearer the centre: his right side, as he backed the line")
	assert.Equal(t, routine.Wall, couples[5][routine.Follower].Facing)
}

// TestBothGoBackInFallaway: from fallaway both partners go the same way, away from the open end of their V, whatever each
// faces (common practice).
func TestBothGoBackInFallaway(t *testing.T) {
	judged := 0
	for _, dance := range shipped.Dances() {
		c, _ := shipped.Chapter(dance)
		for _, fig := range c.Figures {
			path := floor.Trace(fig.Alone(c.Dance, c.Dance.Stride, fig.Starts.Positions))
			couples := path.Passage(0)
			for i, held := range path.Score.Passages[0].Held {
				r := &fig.Rows[i]
				if held != 1<<routine.Fallaway || r.Steps[0].Way != routine.Back || r.Steps[1].Way != routine.Back {
					continue
				}
				var went [2]floor.Point
				for q := range went {
					went[q] = couples[i+1][q].Body.Minus(couples[i][q].Body)
				}
				assert.Positive(t, went[0].X*went[1].X+went[0].Y*went[1].Y, "%s: %s, row %d: %v, %v", dance, fig.Name, i+1, went[0], went[1])
				judged++
			}
		}
	}
	assert.Greater(t, judged, 8)
}

// TestTheBodyFollowsTheFoot: where the leader's foot points as a figure ends, his body completes its turn with the first
// step of the next (dancecentral.info, Waltz Outside Change), and the follower's with it, as they hold each other.
func TestTheBodyFollowsTheFoot(t *testing.T) {
	path := trace(t, "---\ndance: waltz\n---\n\n## Order\n\n1. Outside change\n2. Natural turn\n")
	change, turn := path.Passage(0), path.Passage(1)
	ended, begun := change[len(change)-1], turn[1]
	assert.Equal(t, routine.DW, ended[routine.Leader].Foot(routine.LF).Toward)
	assert.Equal(t, routine.Wall, ended[routine.Leader].Facing)
	assert.Equal(t, routine.Wall.Turned(4), ended[routine.Follower].Facing)
	assert.Equal(t, routine.DW, begun[routine.Leader].Facing)
	assert.Equal(t, routine.DW.Turned(4), begun[routine.Follower].Facing)
}

// TestASlipPivotTurnsOneMore: the fallaway reverse and slip pivot, in which the follower turns three quarters
// while the leader turns three eighths (dancecentral.info, Waltz Fallaway Reverse And Slip Pivot).
func TestASlipPivotTurnsOneMore(t *testing.T) {
	rows := []string{"1 | LF forward, facing DC | RF back, backing DC",
		"2 | RF back, 1/4 L, backing DW, in fallaway | LF back, backing DC, in fallaway",
		"3 | LF back, 1/8 L, backing LOD, CBMP | RF small back, backing DC, CBMP",
		"& | RF small back, 3/8 L, facing DW, pivot, in closed | LF small forward, 3/4 L, backing DW, CBMP, in closed"}
	text := strings.Replace(sheet("", "", "closed, facing DC", rows...), "faces: LOD\n", "", 1)
	assert.Empty(t, routine.Objections(findingsIn(text)))
	couples := trace(t, text).Passage(0)
	ahead := func(row int) float64 {
		return couples[row].Apart().Turned(routine.Turn(couples[row][routine.Leader].Facing)).X
	}
	assert.Positive(t, ahead(0), "the follower is farther along the line of dance")
	assert.Negative(t, ahead(3), "then the leader (idans.nl, Fallaway Reverse Turn & Slip Pivot, 1 February 2017)")
	assert.Positive(t, ahead(4), "and after the pivot she is again")
}

// TestAFootWithoutWeightTakesNobodyAnywhere: as a promenade closes over feet that take no weight, the step through it has
// brought the couple there: the follower's foot stays behind the leader, so that she can turn to face him (dancecentral.info,
// Tango Technique, 1 June 2010). Both then stand over their feet.
func TestAFootWithoutWeightTakesNobodyAnywhere(t *testing.T) {
	for _, name := range []string{"Outside swivel closed", "Reverse promenade link", "Reverse outside swivel", "Promenade link"} {
		fig, couples := danced(t, "tango", name)
		last := couples[len(fig.Rows)]
		for _, p := range routine.Partners() {
			assert.Less(t, last[p].Body.Distance(last[p].Foot(last[p].Weight).At), 20.0, "%s, %s", name, p)
		}
		assert.Less(t, math.Abs(last.Apart().Y), 25.0, "%s: in front of each other", name)
	}
}

// TestAPivotTurnsOnFeetThatAreNear: in a pivot the follower's foot goes between the leader's feet, so that both
// turn about one point and neither is left behind (common practice). Their feet stay where they are.
func TestAPivotTurnsOnFeetThatAreNear(t *testing.T) {
	for _, test := range []struct {
		dance, name string
		rows        []int // in which both swivel
	}{
		{"quickstep", "Natural pivot turn", []int{5}},
		{"quickstep", "Reverse pivot", []int{2}},
		{"quickstep", "Rumba cross", []int{4}},
		{"viennese waltz", "Natural pivot turns", []int{2, 4}},
		{"waltz", "Closed impetus with reverse pivot", []int{5}},
	} {
		_, couples := danced(t, test.dance, test.name)
		for _, row := range test.rows {
			for _, p := range routine.Partners() {
				before, d := couples[row-1][p], couples[row][p]
				assert.Equal(t, before.Foot(d.Weight).At, d.Foot(d.Weight).At, "%s, row %d", test.name, row)
				assert.Less(t, d.Body.Distance(d.Foot(d.Weight).At), 30.0, "%s, row %d, %s", test.name, row, p)
			}
		}
	}
}

// TestAPivotTakesTheCoupleAlongTheLine: the natural spin turn's pivot goes on along the line of dance (common practice).
func TestAPivotTakesTheCoupleAlongTheLine(t *testing.T) {
	_, couples := danced(t, "waltz", "Natural spin turn")
	along := couples[5].Middle().X - couples[3].Middle().X
	assert.Greater(t, along, 80.0, "a step back and one forward, of 60 cm each")
}

// TestASideStepGoesWhileTheBodyTurns: a foot is placed from where the body is on its way, not from where it will
// be (dancecentral.info, Standard Ballroom Technique: Foot Alignment, 27 July 2010). So the last step of a telemark,
// begun diagonally to the centre, goes along the line of dance rather than to the centre.
func TestASideStepGoesWhileTheBodyTurns(t *testing.T) {
	for _, test := range []struct {
		starts, leader, follower string
		toward                   float64 // degrees to the right of the line of dance
	}{
		{"DC against LOD", "LF side, 1/2 L, facing DW", "RF side, 1/2 L", -45},
		{"DW against LOD", "RF side, 1/2 R, facing DC", "LF side, 1/2 R", 45},
	} {
		other := map[bool]string{true: "RF close | LF close", false: "LF close | RF close"}[strings.HasPrefix(test.leader, "LF")]
		couples := trace(t, strings.Replace(sheet("", "", "closed, facing "+test.starts, "1 | "+other, "2-3 | "+test.leader+" | "+test.follower), "faces: LOD\n", "", 1)).Passage(0)
		stood, went := couples[1][routine.Leader], couples[2][routine.Leader]
		way := went.Foot(went.Weight).At.Minus(stood.Foot(stood.Weight).At)
		assert.InDelta(t, test.toward, math.Atan2(way.Y, way.X)*180/math.Pi, 15, test.starts)
	}
}

// TestClosingWithoutWeight: a promenade link closes on a foot that takes no weight, also where only the follower
// turns, or both turn to the left (dancecentral.info, Tango Promenade Link).
func TestClosingWithoutWeight(t *testing.T) {
	for _, test := range []struct{ faces, leader, follower, closes string }{
		{"DW", "RF forward and across, facing DW", "LF forward and across, 1/8 L, facing centre", "RF small side, 1/8 L, backing DW"},
		{"LOD", "RF forward and across, 1/8 L, facing DC", "LF forward and across, 1/8 L, facing DC against LOD", "RF small side, 1/4 L, backing DC"},
	} {
		text := "---\ndance: tango\n---\n\n## Order\n\n1. Boathouse link\n\n## Boathouse link\n\n- starts: promenade, facing " + test.faces +
			"\n\n| Count | Leader | Follower |\n|---|---|---|\n| S | LF side, in promenade | RF side, in promenade |\n" +
			"| Q | " + test.leader + " | " + test.follower + " |\n| Q | LF small side, no weight, in closed | " + test.closes + ", no weight, in closed |\n"
		assert.NotContains(t, fmt.Sprint(findingsIn(text)), "place-missed", test.faces)
		if test.faces == "DW" {
			apart := strings.Replace(text, "LF forward and across, 1/8 L", "LF back, 1/8 L", 1)
			assert.Contains(t, fmt.Sprint(findingsIn(apart)), "place-missed", "the follower goes back")
		}
	}
}
