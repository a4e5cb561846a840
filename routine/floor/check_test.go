package floor_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// place is a finding without its text.
type place struct {
	code         routine.Code
	line, column int
}

func places(found []routine.Finding) []place {
	list := []place{}
	for _, f := range found {
		list = append(list, place{f.Code, f.Span.Start.Line, f.Span.Start.Column})
	}
	return list
}

func findingsIn(text string) []routine.Finding {
	_, found := check.Sheet("boathouse.md", []byte(text), shipped)
	return found
}

func TestPartnersWhoPart(t *testing.T) {
	for _, test := range []struct {
		name    string
		starts  string
		rows    []string
		want    []place
		message string // how the first begins
	}{
		{"together", "closed", box, []place{}, ""},
		{"one goes the other way", "closed", []string{"1 | LF forward | RF forward", "2 | RF side | LF side", "3 | LF close | RF close"},
			[]place{{"place-missed", 16, 20}}, "on 1 both go forward, into each other: the follower is 100 cm too far towards the leader's back for closed"},
		{"one closes where the other steps", "closed", []string{"1 | LF forward | RF back", "2 | RF large side | LF close", "3 | LF close | RF close"},
			[]place{{"place-missed", 17, 23}}, "the follower is"},
		{"through each other", "open facing", []string{"1 | LF forward | RF forward", "2 | RF replace | LF replace", "3 | LF close | RF close"},
			[]place{{"too-near", 16, 20}}, "the partners run into each other"},
		{"past each other's arms", "open facing", []string{"1 | LF large back | RF back", "2 | RF replace | LF replace", "3 | LF close | RF close"},
			[]place{{"too-far", 16, 23}}, "the partners are"},
		{"let go", "open facing", []string{"1 | LF large back, in apart | RF back, in apart", "2 | RF replace | LF replace", "3 | LF close | RF close"},
			[]place{}, ""},
		{"a fan that is not reached", "closed", []string{"1 | LF back | RF forward", "2 | RF replace | LF forward, 1/4 L", "3 | LF side | RF back, in fan"},
			[]place{{"place-missed", 18, 17}}, "the follower is"},
		{"in promenade they go along its open end", "promenade", []string{"1 | RF forward and across | LF forward and across", "2 | LF forward | RF forward", "3 | RF close | LF close"},
			[]place{}, ""},
		{"what is wrong already is not judged again", "closed", []string{"1 | LF forward | RF forward", "2 | LF side | LF side", "3 | LF close | RF close"},
			[]place{{"foot-not-free", 17, 7}}, ""},
		{"nothing is known of a start that is not said", "leader LF free", []string{"1 | LF forward | RF forward", "2 | RF side | LF side", "3 | LF close | RF close"},
			[]place{}, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			found := findingsIn(sheet("", "", test.starts, test.rows...))
			assert.Equal(t, test.want, places(found), "%v", found)
			if test.message != "" && len(found) > 0 {
				assert.True(t, strings.HasPrefix(found[0].Message, test.message), found[0].Message)
				assert.NotEmpty(t, found[0].Hint)
			}
		})
	}
}

// TestPartsThatDoNotMeet cuts a figure where the next one can't begin. That is
// reported at the item, because nothing is wrong with the figure.
func TestPartsThatDoNotMeet(t *testing.T) {
	text := "---\ndance: waltz\n---\n\n## Order\n\n1. Lantern step, steps 1–3\n2. Jetty step\n\n" +
		"## Lantern step\n\n- starts: closed\n\n| Count | Leader | Follower |\n|---|---|---|\n" +
		"| 1 | LF back, in apart | RF back, in apart |\n| 2 | RF back | LF back |\n| 3 | LF close | RF close |\n" +
		"| 1 | RF forward | LF forward |\n| 2 | LF forward | RF forward |\n| 3 | RF close, in closed | LF close, in closed |\n\n" +
		"## Jetty step\n\n- starts: closed\n\n| Count | Leader | Follower |\n|---|---|---|\n" +
		"| 1 | RF forward | LF back |\n| 2 | LF side | RF side |\n| 3 | RF close | LF close |\n"
	found := findingsIn(text)
	require.Equal(t, []place{{"place-missed", 7, 4}}, places(found), "%v", found)
	assert.Contains(t, found[0].Message, "on 3 of Lantern step the follower is")
	whole := strings.Replace(text, ", steps 1–3\n2. Jetty step", "", 1)
	assert.Empty(t, routine.Objections(findingsIn(whole)))
}

// walks returns a sheet of a couple that walks three bars along the line of dance.
func walks(settings, order string) string {
	return sheet(settings, order, "closed", "1 | LF forward | RF back", "2 | RF forward | LF back", "3 | LF forward | RF back",
		"1 | RF forward | LF back", "2 | LF forward | RF back", "3 | RF close | LF close")
}

func TestTheFloor(t *testing.T) {
	// Five steps of 60 cm a time; the couple starts 1 m from the wall behind.
	for _, test := range []struct {
		name     string
		settings string
		order    string
		want     []place
	}{
		{"not said", "", " × 20", []place{}},
		{"long enough", "floor: 12 x 8 m\n", " × 3", []place{}},
		{"too short by a little", "floor: 12 x 8 m\nforward step: 54 cm\n", " × 4", []place{{"floor-left", 10, 4}}},
		{"too short", "floor: 12 x 8 m\n", " × 4", []place{{"corner-missing", 9, 4}}},
		{"a corner in the middle", "floor: 20 x 12 m\n", " × 3\n   - corner: after\n2. Boathouse step × 3", []place{{"corner-early", 9, 4}}},
		{"small steps", "floor: 12 x 8 m\nforward step: 40 cm\n", " × 4", []place{}},
		{"round a corner", "floor: 12 x 12 m\n", " × 3\n   - corner: after\n2. Boathouse step × 3\n   - corner: after\n3. Boathouse step × 3\n   - corner: after\n4. Boathouse step × 3", []place{}},
		{"too narrow after the corner", "floor: 12 x 8 m\n", " × 3\n   - corner: after\n2. Boathouse step × 3", []place{{"corner-missing", 11, 4}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			text := walks(test.settings, test.order)
			if strings.Contains(test.order, "corner") { // the turn at the corner is danced
				text = strings.Replace(text, "RF close | LF close", "RF close, 1/4 L | LF close, 1/4 L", 1)
				text = strings.Replace(text, " × 3", "", -1)
				text = strings.Replace(text, "| 3 | LF forward | RF back |\n", "| 3 | LF forward | RF back |\n"+strings.Repeat("| 1 | RF forward | LF back |\n| 2 | LF forward | RF back |\n| 3 | RF forward | LF back |\n| 1 | LF forward | RF back |\n| 2 | RF forward | LF back |\n| 3 | LF forward | RF back |\n", 2), 1)
			}
			found := findingsIn(text)
			assert.Equal(t, test.want, places(found), "%v\n%s", found, text)
		})
	}
}

// TestACornerTurnsTheLineOfDance checks that diagonally to the centre becomes
// diagonally to the wall of the new line of dance, so that two natural turns
// can follow each other at a corner, and only there (common practice: a natural
// turn begins facing DW and ends facing DC).
func TestACornerTurnsTheLineOfDance(t *testing.T) {
	text := "---\ndance: waltz\n---\n\n## Order\n\n1. Natural turn%s\n2. Natural turn\n"
	found := findingsIn(fmt.Sprintf(text, ""))
	require.Equal(t, []place{{"join-direction", 8, 4}}, places(found), "%v", found)
	assert.Contains(t, found[0].Message, "facing DC")

	score, found := check.Sheet("boathouse.md", fmt.Appendf(nil, text, "\n   - corner: after"), shipped)
	require.Empty(t, found)
	path := floor.Trace(score)
	last := len(score.Passages) - 1
	assert.Equal(t, 1, score.Passages[last].Corners)
	assert.Equal(t, routine.DW, score.Passages[last].Begins.Facing[routine.Leader], "by the new line of dance")
	assert.Equal(t, routine.DC, path.Start(last)[routine.Leader].Facing, "by the first")
}

// TestSummary compares with distances worked out by hand: a quarter turn on one foot takes
// a body, 7 cm beside it, 7 cm back and 7 to the side, and a half turn 14 to the side.
func TestSummary(t *testing.T) {
	for _, test := range []struct{ name, sheet, want string }{
		{"a box", sheet("", "", "closed", box...), "stays in place and ends facing LOD"},
		{"a walk", walks("", ""), "goes 3.0 m along the line of dance, and ends facing LOD"},
		{"a walk against it", strings.Replace(walks("", ""), "faces: LOD", "faces: against LOD", 1), "goes 3.0 m against the line of dance, and ends facing against LOD"},
		{"to the wall, a quarter to the left", sheet("", "", "closed", "1 | LF forward | RF back", "2 | RF side | LF side", "3 | LF close, 1/4 L | RF close, 1/4 L"),
			"goes 0.5 m along the line of dance and 0.5 m to the wall, and ends facing centre"},
		{"a dance that stays", "---\ndance: rumba\nfaces: wall\n---\n\n## Order\n\n1. Lantern step\n\n## Lantern step\n\n- starts: open facing\n\n" +
			"| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF back | RF forward |\n| 3 | RF back | LF forward |\n| 4-1 | LF side, 1/2 R | RF side, 1/2 R |\n",
			"goes 0.8 m back and 0.5 m to the right, and ends turned 1/2 L"},
		{"nothing", "---\ndance: waltz\n---\n", ""},
	} {
		score, _ := routine.Read("boathouse.md", []byte(test.sheet), shipped)
		assert.Equal(t, test.want, floor.Trace(score).Summary(), test.name)
	}
}

// TestTheSharpnessOfThePlaces reverses the follower's steps in the library's figures, one
// at a time. In figures that begin in closed hold, about two thirds must be found.
func TestTheSharpnessOfThePlaces(t *testing.T) {
	other := map[routine.Way]routine.Way{routine.Forward: routine.Back, routine.Back: routine.Forward,
		routine.DiagonallyForward: routine.DiagonallyBack, routine.DiagonallyBack: routine.DiagonallyForward}
	type found struct{ changed, noticed int }
	var inHold, byHands found
	for _, name := range shipped.Dances() {
		c, _ := shipped.Chapter(name)
		for _, fig := range c.Figures {
			if len(whole(c.Dance, fig)) > 0 {
				continue // which is reported by the library's own tests
			}
			count := &byHands
			if fig.Starts.Positions.Has(routine.Closed) {
				count = &inHold
			}
			for i := range fig.Rows {
				way, ok := other[fig.Rows[i].Steps[routine.Follower].Way]
				if !ok {
					continue
				}
				wrong := *fig
				wrong.Rows = append([]routine.Row(nil), fig.Rows...)
				wrong.Rows[i].Steps[routine.Follower].Way = way
				count.changed++
				if len(whole(c.Dance, &wrong)) > 0 {
					count.noticed++
				}
			}
		}
	}
	t.Logf("begun in closed hold: %+v; otherwise: %+v", inHold, byHands)
	require.Greater(t, inHold.changed, 200)
	assert.Greater(t, inHold.noticed*100, inHold.changed*62)
}

// whole returns the findings in one figure.
func whole(d *routine.Dance, fig *routine.Figure) []routine.Finding {
	return floor.Check(&routine.Score{Sheet: routine.Sheet{Dance: d, Stride: d.Stride, Figures: []*routine.Figure{fig}}}, nil)
}

// TestAStartThatLaterFiguresDecide checks that a figure which may begin closed
// or open begins as the next one needs it.
func TestAStartThatLaterFiguresDecide(t *testing.T) {
	either := sheet("", "", "closed or open facing", box...) + "\n## Jetty step\n\n- starts: open facing\n\n| Count | Leader | Follower |\n|---|---|---|\n" +
		"| 1 | LF back | RF back |\n| 2 | RF forward | LF forward |\n| 3 | LF close | RF close |\n"
	either = strings.Replace(either, "1. Boathouse step", "1. Boathouse step × 2\n2. Jetty step", 1)
	score := read(t, either)
	for _, p := range score.Passages {
		assert.Equal(t, routine.PositionSet(1<<routine.OpenFacing), p.Begins.Positions)
	}
	assert.InDelta(t, 75, floor.Trace(score).Passage(0)[0][routine.Leader].Body.Distance(floor.Trace(score).Passage(0)[0][routine.Follower].Body), nothing)
}

// TestOnePartnersChart: where only one partner's steps are told, the finding says so.
func TestOnePartnersChart(t *testing.T) {
	score, found := routine.Read("lantern.md", []byte("---\ndance: waltz\n---\n\n## Order\n\n1. Lantern turn\n\n## Lantern turn\n\n- starts: closed\n- ends: closed\n\n"+
		"| Count | Leader |\n|---|---|\n| 1 | RF forward |\n| 2 | LF side |\n| 3 | RF close |\n"), shipped)
	require.Empty(t, found)
	found = floor.Check(score, found)
	require.NotEmpty(t, found)
	assert.Equal(t, routine.Code("place-missed"), found[0].Code)
	assert.Contains(t, found[0].Message, "the chart has no steps of the follower")
}

// FuzzPlaces checks that every foot is somewhere, whatever is danced, and that
// findings lie within the sheet.
func FuzzPlaces(f *testing.F) {
	seeds, err := filepath.Glob("../../testdata/*.md")
	require.NoError(f, err)
	require.NotEmpty(f, seeds)
	for _, name := range seeds {
		text, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(text)
	}
	f.Add([]byte(walks("floor: 2 x 3 m\nside step: 1 m\n", " × 3\n   - corner: after")))
	f.Add([]byte(sheet("", "", "fan or closed", "1 | LF swivel, 1/4 R | –", "& | RF tap | LF forward and across, small", "2 | LF back, 3 R | RF replace", "3 | – | LF half close, in wing")))
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 4000 {
			return
		}
		score, found := check.Sheet("fuzz.md", text, shipped)
		for _, f := range found {
			assert.True(t, 0 <= f.Span.Start.Offset && f.Span.Start.Offset <= f.Span.End.Offset && f.Span.End.Offset <= len(text), "%v", f)
		}
		if len(score.Passages) > 100 {
			return
		}
		path := floor.Trace(score)
		for i := range score.Passages {
			for _, couple := range path.Passage(i) {
				for _, p := range routine.Partners() {
					d := couple[p]
					far := d.Body.Distance(floor.Point{}) + d.Foot(routine.LF).At.Distance(d.Foot(routine.RF).At)
					require.Less(t, far, 1e9) // fails for NaN too
				}
			}
		}
	})
}

// long returns a routine of about that many steps.
func long(b *testing.B, steps int) *routine.Score {
	const times = 50
	items := steps / times / len(box)
	return read(b, sheet("", fmt.Sprintf(" × %d", times)+strings.Repeat(fmt.Sprintf("\n1. Boathouse step × %d", times), items), "closed", box...))
}

func BenchmarkTrace(b *testing.B) {
	score := long(b, 10000)
	require.Greater(b, len(score.Passages), 1600)
	b.ReportAllocs()
	for b.Loop() {
		floor.Trace(score)
	}
}
