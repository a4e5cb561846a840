package routine_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// own returns a sheet that defines a dance in 4/4, with figures given as rows of count, leader and
// follower, with ";" between rows.
func own(order []string, figures ...string) string {
	var s strings.Builder
	s.WriteString("---\ndance: Quay\nmetre: 4/4\n---\n\n## Order\n\n")
	for _, item := range order {
		s.WriteString("1. " + item + "\n")
	}
	for _, fig := range figures {
		lines := strings.Split(fig, ";")
		s.WriteString("\n## " + strings.TrimSpace(lines[0]) + "\n\n")
		lines = lines[1:]
		for len(lines) > 0 && strings.HasPrefix(strings.TrimSpace(lines[0]), "-") {
			s.WriteString(strings.TrimSpace(lines[0]) + "\n")
			lines = lines[1:]
		}
		s.WriteString("\n| Count | Leader | Follower |\n|---|---|---|\n")
		for _, line := range lines {
			s.WriteString("| " + strings.TrimSpace(line) + " |\n")
		}
	}
	return s.String()
}

// TestDancesByTheirSteps: step lists of dances that are not in the library
// alternate the feet when they are right, and close when they are repeated.
func TestDancesByTheirSteps(t *testing.T) {
	swing := func(sheet string) string {
		return strings.Replace(sheet, "metre: 4/4", "metre: 4/4\nnumbers: figure", 1)
	}
	for _, test := range []struct{ name, sheet string }{
		// Wikipedia, Bachata (dance): three steps and a tap, eight counts; the
		// next phrase begins with the foot that tapped.
		{"bachata", own([]string{"Bachata × 4"}, "Bachata; 1|LF side|RF side; 2|RF close|LF close; 3|LF side|RF side; 4|RF close, tap|LF close, tap;"+
			"5|RF side|LF side; 6|LF close|RF close; 7|RF side|LF side; 8|LF close, tap|RF close, tap")},
		// Wikibooks, Swing Dancing: triple step, triple step, rock step.
		{"triple swing", swing(own([]string{"Triple swing × 2"}, "Triple swing; 1|LF side|RF side; &|RF close|LF close; 2|LF side|RF side; 3|RF side|LF side; &|LF close|RF close; 4|RF side|LF side; 5|LF back|RF back; 6|RF replace|LF replace"))},
		{"single swing", swing(own([]string{"Single swing × 2"}, "Single swing; 1-2|LF side|RF side; 3-4|RF side|LF side; 5|LF back|RF back; 6|RF replace|LF replace"))},
		{"double swing, a tap before each step", swing(own([]string{"Double swing × 2"}, "Double swing; 1|LF tap|RF tap; 2|LF in place|RF in place; 3|RF tap|LF tap; 4|RF in place|LF in place; 5|LF back|RF back; 6|RF replace|LF replace"))},
		// Common practice; the cross of the follower's feet on 5 from memory.
		{"Argentine tango in eight steps", own([]string{"Eight steps × 2"}, "Eight steps; 1|RF back|LF forward; 2|LF side|RF side; 3|RF forward, outside partner|LF back; 4|LF forward|RF back; 5|RF close|LF cross in front; 6|LF forward|RF back; 7|RF side|LF side; 8|LF close|RF close")},
		// Vernon and Irene Castle, Modern Dancing, Harper 1914, p. 43–44: a step to every count.
		{"one-step of 1914", strings.Replace(own([]string{"One-step × 8"}, "One-step; 1|LF forward|RF back; 2|RF forward|LF back"), "4/4", "2/4", 1)},
		// Walker, The Modern Dances, 1914, ch. VII: step to the side and draw; to
		// the side again and swing, with a quarter turn (which way is ours); then to
		// the other side.
		{"dream waltz of 1914", strings.Replace(own([]string{"Dream waltz × 2"}, "Dream waltz; 1-2|LF side|RF side; 3|RF close|LF close; 1-2|LF side|RF side; 3|RF kick, 1/4 L|LF kick, 1/4 L;"+
			"1-2|RF side|LF side; 3|LF close|RF close; 1-2|RF side|LF side; 3|LF kick, 1/4 R|RF kick, 1/4 R"), "4/4", "3/4", 1)},
		{"merengue", own([]string{"Merengue × 2"}, "Merengue; 1|LF side|RF side; 2|RF close|LF close; 3|LF side|RF side; 4|RF close|LF close")},
	} {
		t.Run(test.name, func(t *testing.T) {
			score, found := routine.Read("own.md", []byte(test.sheet), routine.EmptyBook{})
			for _, f := range found {
				assert.Equal(t, routine.Code("last-bar-open"), f.Code, f.Message)
			}
			assert.NotEmpty(t, score.Passages)
		})
	}
}

// TestWeight: a step needs its foot free; tap, brush, point, kick and "no weight" leave the weight
// where it was, part weight counts as weight, and a dancer turns on the foot that bears it (common
// practice).
func TestWeight(t *testing.T) {
	for _, test := range []struct {
		name  string
		steps []string // the leader's, on 1, 2, 3 …
		want  string   // the finding, and its row
	}{
		{"step after step", []string{"LF side", "RF close", "LF side", "RF close"}, ""},
		{"the same foot twice", []string{"LF side", "LF close", "RF side", "LF close"}, "foot-not-free 2"},
		{"a tap, then the same foot", []string{"LF side", "RF tap", "RF side", "LF close"}, ""},
		{"a tap, then the other foot", []string{"LF side", "RF tap", "LF side", "RF close"}, "foot-not-free 3"},
		{"brush, point and kick", []string{"LF side", "RF close, brush", "RF side, point", "RF kick"}, ""},
		{"a close without weight", []string{"LF side", "RF close without weight", "RF side", "LF side"}, ""},
		{"a close with weight", []string{"LF side", "RF close", "RF side", "LF side"}, "foot-not-free 3"},
		{"part weight is weight", []string{"LF side", "RF close, part weight", "LF in place", "RF side"}, ""},
		{"part weight does not leave the foot free", []string{"LF side", "RF close, part weight", "RF side", "LF side"}, "foot-not-free 3"},
		{"a press is part weight", []string{"LF side, press", "RF replace", "LF close", "RF side"}, ""},
		{"a tap with the standing foot", []string{"LF side", "LF tap", "RF side", "LF side"}, "foot-not-free 2"},
		{"a swivel on the standing foot", []string{"LF side", "LF swivel, 1/2 R", "RF side", "LF side"}, ""},
		{"a swivel on the free foot", []string{"LF side", "RF swivel, 1/2 R", "RF side", "LF side"}, "foot-not-free 2"},
		{"standing still", []string{"LF side", "–", "RF side", "–"}, ""},
		{"replace is a step onto the other foot", []string{"LF forward, check", "RF replace", "LF close", "RF side"}, ""},
		{"replace onto the standing foot", []string{"LF forward, check", "LF replace", "RF close", "LF side"}, "foot-not-free 2"},
		{"a step that can't be read frees both", []string{"LF side", "RF slide", "RF side", "LF side"}, "unknown-word 2"},
	} {
		t.Run(test.name, func(t *testing.T) {
			var rows strings.Builder
			for i, s := range test.steps {
				rows.WriteString("; " + string(rune('1'+i)) + "|" + s + "|–")
			}
			src := own([]string{"Lantern step"}, "Lantern step"+rows.String())
			got := ""
			for _, f := range routine.Check("weight.md", []byte(src), routine.EmptyBook{}) {
				got += fmt.Sprintf("%s %d", f.Code, f.Span.Start.Line-strings.Count(src[:strings.Index(src, "| 1|")], "\n"))
			}
			assert.Equal(t, test.want, got)
		})
	}
}

// TestJoins: where one figure ends and the next begins, foot, position, direction and count must agree.
// Which figures follow which is from the trade's charts ("precedes and follows").
func TestJoins(t *testing.T) {
	lib := shipped()
	for _, test := range []struct {
		name  string
		dance string
		order []string
		want  []place
	}{
		// Charts let a natural turn follow facing DW, a reverse turn facing DC, and
		// join them by closed changes.
		{"natural, RF change, reverse, LF change, natural", "waltz", []string{"Natural turn", "RF closed change", "Reverse turn", "LF closed change", "Natural turn"}, nil},
		{"natural and reverse without a change", "waltz", []string{"Natural turn", "Reverse turn"}, []place{{"join-foot", 8, 4}}},
		{"reverse and natural without a change", "waltz", []string{"Reverse turn", "Natural turn"}, []place{{"join-foot", 8, 4}}},
		{"two natural turns", "waltz", []string{"Natural turn", "Natural turn"}, []place{{"join-direction", 8, 4}}},
		{"chassé without the whisk before it", "waltz", []string{"RF closed change", "Chassé from promenade"}, []place{{"join-foot", 8, 4}, {"join-position", 8, 4}}},
		{"whisk and chassé", "waltz", []string{"Whisk", "Chassé from promenade", "Natural turn"}, nil},
		{"the fan leads to the alemana and the hockey stick", "rumba", []string{"Closed basic, steps 1–3", "Fan", "Alemana", "Closed basic, steps 1–3", "Fan", "Hockey stick"}, nil},
		{"another position and another direction", "waltz", []string{"Natural turn", "Chassé from promenade"}, []place{{"join-direction", 8, 4}, {"join-position", 8, 4}}},
		{"no alemana without a fan", "rumba", []string{"Closed basic", "Alemana from fan"}, []place{{"join-position", 8, 4}}},
		{"not from a fan into the basic", "rumba", []string{"Closed basic, steps 1–3", "Fan", "Closed basic"}, []place{{"join-position", 9, 4}}},
		{"half a basic changes the foot", "cha-cha", []string{"Closed basic, steps 1–5", "Closed basic"}, []place{{"join-foot", 8, 4}}},
		{"the other half goes on", "cha-cha", []string{"Closed basic, steps 1–5", "Closed basic, steps 6–10", "Closed basic"}, nil},
		{"a bar and a half, then wherever it stops", "quickstep", []string{"Quarter turn", "Progressive chassé", "Forward lock × 2"}, nil},
		// The three step begins with the left foot; one page has the right, which its own reader
		// doubts.
		{"feather, then three step", "foxtrot", []string{"Feather step", "Three step"}, nil},
		{"three steps on end", "foxtrot", []string{"Three step", "Three step"}, []place{{"join-foot", 8, 4}}},
		{"what ends as it started keeps what it was given", "cha-cha", []string{"Closed basic, steps 1–5", "New York to the right side", "Side step to the left", "Fan"}, []place{{"join-position", 10, 4}}},
		{"foot and bar, sorted", "cha-cha", []string{"Closed basic, steps 1–4", "Spot turn to the left"}, []place{{"bar-not-full", 8, 4}, {"join-foot", 8, 4}}},
		{"a figure that is cut before its bar is full", "cha-cha", []string{"Closed basic, steps 1–2", "Time step"}, []place{{"bar-not-full", 8, 4}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			src := of(test.dance) + "\n## Order\n\n1. " + strings.Join(test.order, "\n1. ") + "\n"
			_, found := routine.Read("joins.md", []byte(src), lib)
			var got []routine.Finding
			for _, f := range found {
				if f.Severity == routine.Error {
					got = append(got, f)
				}
			}
			assert.Equal(t, test.want, places(got), "%v", got)
		})
	}
}

// TestPositionsAreKept: partners who turn together keep their position, partners who turn away from
// each other leave it, and one who stands keeps the foot free.
func TestPositionsAreKept(t *testing.T) {
	for _, test := range []struct {
		name    string
		figures [2]string
		want    []place
	}{
		{"both turn the same way", [2]string{"Jetty step;- starts: closed;1-4|LF side, 1/4 L|RF side, 1/4 L", "Quay step;- starts: open facing;1-4|RF side|LF side"}, []place{{"join-position", 10, 4}}},
		{"each turns away", [2]string{"Jetty step;- starts: closed;1-4|LF side, 1/4 L|RF side, 1/4 R", "Quay step;- starts: right side;1-4|RF side|LF side"}, nil},
		{"each turns away, and not back", [2]string{"Jetty step;- starts: closed;1-4|LF side, 1/4 L|RF side, 1/4 R", "Quay step;- starts: closed;1-4|RF side|LF side"}, []place{{"join-direction", 10, 4}}},
		{"one turns round", [2]string{"Jetty step;- starts: closed;1-4|LF side|RF side, 1/2 R", "Quay step;- starts: tandem follower behind;1-4|RF side|LF side"}, nil},
		{"one stands", [2]string{"Jetty step;1-4|LF side|–", "Quay step;1-4|RF side|LF side"}, []place{{"join-foot", 10, 4}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			// The follower's right foot is free beforehand.
			src := own([]string{"Bank step", "Jetty step", "Quay step"}, "Bank step;1-4|RF side|LF side", test.figures[0], test.figures[1])
			assert.Equal(t, test.want, places(routine.Check("kept.md", []byte(src), routine.EmptyBook{})), src)
		})
	}
}

// TestPositions: the difference between the partners' directions that a position fixes, in eighths
// clockwise from the leader to the follower: face to face a half turn, fan a quarter, side by side none
// (the trade's definitions). All turns of the follower from closed hold are tried with each position.
func TestPositions(t *testing.T) {
	facing, alike := []int{4}, []int{0}
	out, counter := []int{6, 7, 0}, []int{0, 1, 2}
	for name, want := range map[string][]int{
		"closed": facing, "contact": facing, "open facing": facing, "outside partner": facing, "wing": facing, "left contra": facing,
		"right contra": facing, "back to back": facing, "fan": {2}, "promenade": out, "open promenade": out, "fallaway": out,
		"counter promenade": counter, "open counter promenade": counter, "left side": alike, "right side": alike, "left shadow": alike,
		"right shadow": alike, "tandem leader behind": alike, "tandem follower behind": alike, "apart": {0, 1, 2, 3, 4, 5, 6, 7},
	} {
		for eighths := range 8 {
			// In closed hold the follower faces half a turn from the leader.
			turn := routine.Turn((eighths + 4) % 8).String()
			cell := "RF side, in " + name
			if turn != "" {
				cell += ", " + turn
			}
			src := own([]string{"Lantern step"}, "Lantern step;- starts: closed;1-4|–|"+cell)
			found := routine.Check("positions.md", []byte(src), routine.EmptyBook{})
			fits := false
			for _, w := range want {
				fits = fits || w == eighths
			}
			if fits {
				assert.Empty(t, found, "%s at %d", name, eighths)
				continue
			}
			require.Len(t, found, 1, "%s at %d", name, eighths)
			assert.Equal(t, routine.Code("position-contradicted"), found[0].Code)
		}
	}
}

// TestWhatDiffersIsSaid: where two figures don't join, or a turn leads elsewhere, the finding says how the
// partners stand and how they would have to, and of one who steps back which way they back.
func TestWhatDiffersIsSaid(t *testing.T) {
	const (
		quay  = "Quay step;- starts: closed;1|LF forward, %s|RF back, %s;2|RF side|LF side;3-4|LF close|RF close"
		jetty = "Jetty step;- starts: closed%s;1|RF back%s|LF forward;2|LF side|RF side;3-4|RF close|LF close"
	)
	for _, test := range []struct{ quay, jetty, faces, want string }{
		{fmt.Sprintf(quay, "1/4 L", "1/8 L"), fmt.Sprintf(jetty, "", ""), "",
			"after Quay step the follower faces 3/8 to the leader's left, but when Jetty step starts, they face opposite ways"},
		{fmt.Sprintf(quay, "1/8 R", "1/8 R"), fmt.Sprintf(jetty, ", backing DC", ""), "faces: DC\n",
			"after Quay step the leader is facing LOD, but Jetty step starts backing DC"},
		{fmt.Sprintf(quay, "1/4 R", "1/4 R"), fmt.Sprintf(jetty, ", backing LOD", ""), "faces: DW\n",
			"after Quay step the leader is backing DC, but Jetty step starts backing LOD"},
		{fmt.Sprintf(quay, "1/4 R", "1/4 R"), fmt.Sprintf(jetty, ", backing LOD", ", 1/8 R, backing DC"), "faces: wall\n",
			"the turns so far leave the leader backing DW, not backing DC"},
	} {
		src := strings.Replace(own([]string{"Quay step", "Jetty step"}, test.quay, test.jetty), "---\n", "---\n"+test.faces, 1)
		found := routine.Check("differs.md", []byte(src), shipped())
		require.Len(t, found, 1, "%s %v", src, found)
		assert.Equal(t, test.want, found[0].Message)
	}
}

// TestAFootThatIsNotFreeSaysWhy: a step before it that takes no weight, or a row in which only the partner steps, is
// named as what may be meant otherwise.
func TestAFootThatIsNotFreeSaysWhy(t *testing.T) {
	const rows = "; 1|LF side|RF side; 2|RF close|LF close; 3|LF side|RF side; 4|RF close|LF close"
	for _, test := range []struct {
		name, was, is string
		times         int
		then          string // danced after it
		want          string // code and row
		hint, related string
	}{
		{"a tap within", "2|RF close", "2|RF tap", 1, "", "foot-not-free 3", "the step before takes the weight", "it takes no weight here"},
		{"a partner stands", "2|RF close", "2|–", 1, "", "foot-not-free 3", "the leader's step missing on 2, where only the follower steps", "it took the weight here"},
		{"a tap at the end, danced again", "4|RF close|LF close", "4|RF close|LF tap", 2, "", "join-foot 4", "LF takes no weight", "the figure before"},
		{"a tap at the end, then another", "4|RF close|LF close", "4|RF tap|LF close", 1, "Quay step", "join-foot -4", "RF takes no weight", "the step is here"},
	} {
		t.Run(test.name, func(t *testing.T) {
			order := []string{fmt.Sprintf("Lantern step × %d", test.times)}
			figures := []string{"Lantern step" + strings.Replace(rows, test.was, test.is, 1)}
			if test.then != "" {
				order, figures = append(order, test.then), append(figures, test.then+rows)
			}
			src := own(order, figures...)
			found := routine.Check("weight.md", []byte(src), routine.EmptyBook{})
			require.Len(t, found, 1)
			above := strings.Count(src[:strings.Index(src, "| 1|")], "\n")
			line := found[0].Span.Start.Line - above
			if line < 0 {
				line = -4
			}
			assert.Equal(t, test.want, fmt.Sprintf("%s %d", found[0].Code, line))
			assert.Contains(t, found[0].Hint, test.hint)
			require.NotEmpty(t, found[0].Related)
			assert.Equal(t, test.related, found[0].Related[len(found[0].Related)-1].Message)
		})
	}
}
