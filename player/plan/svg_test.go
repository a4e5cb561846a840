package plan_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// jetty is a sheet that uses every mark of a plan.
const jetty = `---
dance: quickstep
title: Jetty quickstep
faces: DW
floor: 10 x 6 m
forward step: 60 cm
side step: 40 cm
---

## Order

1. Jetty walk × 2
2. Bollard turn
   - corner: after
3. Jetty walk, steps 1–3
4. Lantern wait

## Jetty walk

- starts: closed, leader RF free, follower LF free

| Count | Leader | Follower |
|---|---|---|
| S | RF forward | LF back |
| S | LF forward, tap | RF back, tap |
| Q | LF side | RF side |
| Q | RF close | LF close |
| S | LF in place | RF in place |

## Bollard turn

- starts: closed, leader RF free, follower LF free

| Count | Leader | Follower |
|---|---|---|
| S | RF side | LF side |
| S | RF swivel, 1/4 L | LF swivel, 1/4 L |
| S | LF press | RF press |
| S | RF replace, 1/8 L | LF replace, 1/8 L |
| S | LF close | RF close |

## Lantern wait

- starts: closed, leader RF free, follower LF free

| Count | Leader | Follower |
|---|---|---|
| S | RF side | LF side |
| S | – | – |
`

type element struct {
	XMLName xml.Name
	Attrs   []xml.Attr `xml:",any,attr"`
	Inside  []element  `xml:",any"`
	Text    string     `xml:",chardata"`
}

func (e *element) attr(name string) string {
	for _, a := range e.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func (e *element) number(t require.TestingT, name string) float64 {
	f, err := strconv.ParseFloat(e.attr(name), 64)
	require.NoError(t, err, "%s of %s", name, e.XMLName.Local)
	return f
}

// is reports whether an element has a class.
func (e *element) is(class string) bool {
	return slices.Contains(strings.Fields(e.attr("class")), class)
}

// all returns the element and everything inside it that has a class.
func (e *element) all(class string) (list []*element) {
	if e.is(class) {
		list = append(list, e)
	}
	for i := range e.Inside {
		list = append(list, e.Inside[i].all(class)...)
	}
	return list
}

// title returns an element's title.
func (e *element) title() string {
	for i := range e.Inside {
		if e.Inside[i].XMLName.Local == "title" {
			return e.Inside[i].Text
		}
	}
	return ""
}

// numbers returns the step numbers in an element, in order.
func (e *element) numbers(t require.TestingT) (list []int) {
	for _, text := range e.all("number") {
		n, err := strconv.Atoi(text.Text)
		require.NoError(t, err)
		list = append(list, n)
	}
	slices.Sort(list)
	return list
}

// written returns a plan as text, and as an XML reader that knows nothing of plans sees it.
func written(t require.TestingT, paper plan.Paper, path *floor.Path) (string, *element) {
	var out bytes.Buffer
	require.NoError(t, paper.SVG(&out, path))
	root := new(element)
	require.NoError(t, xml.Unmarshal(out.Bytes(), root))
	require.Equal(t, xml.Name{Space: "http://www.w3.org/2000/svg", Local: "svg"}, root.XMLName)
	return out.String(), root
}

var bothSides = plan.Paper{Shown: both}

func TestJettySVG(t *testing.T) {
	text, _ := written(t, bothSides, trace(t, jetty))
	golden.Equal(t, text)
}

// TestEveryStepIsDrawn compares the numbers on the feet of each panel with the
// chart, and so the marks of feet that are used once.
func TestEveryStepIsDrawn(t *testing.T) {
	paths := append(figures(t), trace(t, jetty))
	feet, turns := 0, 0
	for _, path := range paths {
		_, root := written(t, bothSides, path)
		panels := root.all("panel")
		shown := map[string]bool{}
		for i := range path.Score.Passages {
			p := &path.Score.Passages[i]
			name := p.Figure.Name
			if p.To-p.From < len(p.Figure.Rows) {
				name += fmt.Sprintf(", steps %d–%d", p.From+1, p.To)
			}
			if shown[name] {
				continue
			}
			shown[name] = true
			k := slices.IndexFunc(panels, func(e *element) bool { return e.title() == name })
			require.GreaterOrEqual(t, k, 0, name)
			for _, q := range routine.Partners() {
				if !p.Figure.Has[q] {
					continue
				}
				placed, pivots := map[int]*routine.Step{}, []int(nil)
				for row := p.From; row < p.To; row++ {
					switch s := &p.Figure.Rows[row].Steps[q]; {
					case s.Pivots():
						pivots = append(pivots, row+1)
					case !s.Stands():
						placed[row+1] = s
					}
				}
				var onFeet, onRings []int
				for _, side := range panels[k].all(q.String()) {
					for _, step := range side.all("step") {
						numbers := step.numbers(t)
						onFeet = append(onFeet, numbers...)
						if len(numbers) == 1 && placed[numbers[0]] != nil {
							s := placed[numbers[0]]
							assert.True(t, step.is([...]string{routine.Full: "full", routine.Part: "part", routine.None: "free"}[s.Weight]), "%s %d", name, numbers[0])
							assert.Contains(t, step.title(), s.Foot.String())
						}
					}
					for _, turn := range side.all("turn") {
						onRings = append(onRings, turn.numbers(t)...)
					}
				}
				slices.Sort(onFeet)
				var want []int
				for n := range placed {
					want = append(want, n)
				}
				slices.Sort(want)
				assert.Equal(t, want, onFeet, "%s of %s", q, name)
				assert.Equal(t, pivots, onRings, "%s of %s", q, name)
				feet, turns = feet+len(onFeet), turns+len(onRings)
			}
		}
		assert.Len(t, panels, len(shown))
	}
	assert.Greater(t, feet, 1000)
	assert.Greater(t, turns, 2)
}

// TestNumbersCanBeRead checks that none is written over another, nor on a foot
// that a later one covers.
func TestNumbersCanBeRead(t *testing.T) {
	for _, path := range append(figures(t), trace(t, jetty)) {
		_, root := written(t, bothSides, path)
		for _, panel := range root.all("panel") {
			for _, q := range routine.Partners() {
				for _, side := range panel.all(q.String()) {
					numbers := side.all("number")
					for i, a := range numbers {
						for _, b := range numbers[:i] {
							apart := math.Hypot(a.number(t, "x")-b.number(t, "x"), a.number(t, "y")-b.number(t, "y"))
							assert.Greater(t, apart, 1.8, "%s: %s and %s", panel.title(), a.Text, b.Text)
						}
					}
				}
			}
		}
	}
}

// boxStep returns where the leader's numbers are in a box step, which goes 60
// cm forward and 45 cm to the side.
func boxStep(t *testing.T, settings string, view plan.View) map[string]floor.Point {
	_, root := written(t, plan.Paper{Shown: leaderOnly, View: view}, trace(t, order(settings, "Box step")))
	at := map[string]floor.Point{}
	for _, panel := range root.all("panel") {
		assert.Empty(t, panel.all("follower"))
		for _, n := range panel.all("number") {
			at[n.Text] = floor.Point{X: n.number(t, "x"), Y: n.number(t, "y")}
		}
	}
	require.Len(t, at, 6)
	return at
}

// TestThePlanIsToScale checks that a panel is drawn at 1 to 30, so that 60 cm are 20 mm.
func TestThePlanIsToScale(t *testing.T) {
	near := func(want, got floor.Point) {
		t.Helper()
		assert.InDelta(t, 0, want.Distance(got), 0.02, "%v is not %v", got, want)
	}
	for _, faces := range []string{"LOD", "DW", "against LOD"} {
		settings := strings.Replace(waltz, "DW", faces, 1)
		at := boxStep(t, settings, plan.Behind)
		near(floor.Point{Y: 20}, at["4"].Minus(at["2"]))
		near(floor.Point{X: -15}, at["6"].Minus(at["4"]))
		at = boxStep(t, settings, plan.Opposite)
		near(floor.Point{Y: -20}, at["4"].Minus(at["2"]))
		near(floor.Point{X: 15}, at["6"].Minus(at["4"]))
	}
	at := boxStep(t, strings.Replace(waltz, "DW", "LOD", 1), plan.Above)
	near(floor.Point{X: -20}, at["4"].Minus(at["2"]))
	near(floor.Point{Y: -15}, at["6"].Minus(at["4"]))
}

// parts are the elements that a plan is made of, and the attributes each may have.
var parts = map[string][]string{
	"svg": {"xmlns", "version", "width", "height", "viewBox"}, "title": nil, "style": {"type"}, "g": {"class"},
	"rect": {"class", "x", "y", "width", "height", "fill"}, "circle": {"class", "cx", "cy", "r"}, "path": {"class", "d"},
	"text": {"class", "x", "y", "textLength", "lengthAdjust"},
}

var inPath = regexp.MustCompile(`-?[\d.]+`)

// sound asserts that a plan consists of nothing else, all of it on the paper.
func sound(t require.TestingT, root *element) {
	box := strings.Fields(root.attr("viewBox"))
	require.Len(t, box, 4)
	height, err := strconv.ParseFloat(box[3], 64)
	require.NoError(t, err)
	require.Equal(t, "0 0 190", strings.Join(box[:3], " "))
	require.Equal(t, box[3]+"mm", root.attr("height"))
	within := func(text string, most float64) {
		f, err := strconv.ParseFloat(text, 64)
		if err != nil || !(f >= 0 && f <= most) { // an assertion for each would be too slow
			require.Failf(t, "not on the paper", "%s, of at most %v", text, most)
		}
	}
	var check func(e *element)
	check = func(e *element) {
		may, known := parts[e.XMLName.Local]
		require.True(t, known, "%s is no part of a plan", e.XMLName.Local)
		for _, a := range e.Attrs {
			require.Contains(t, may, a.Name.Local)
			switch a.Name.Local {
			case "x", "cx":
				within(a.Value, 190)
			case "y", "cy":
				within(a.Value, height)
			case "d":
				numbers := inPath.FindAllString(a.Value, -1)
				require.NotEmpty(t, numbers)
				require.Regexp(t, `^M[-\d. LQCAZ]+$`, a.Value)
				for _, n := range numbers {
					within(n, max(height, 190))
				}
			}
		}
		for i := range e.Inside {
			check(&e.Inside[i])
		}
	}
	check(root)
}

// TestAllIsOnThePaper draws each figure in one of the views, in all with THOROUGH=1.
func TestAllIsOnThePaper(t *testing.T) {
	for i, path := range append(figures(t), trace(t, jetty)) {
		for view := range plan.View(plan.Views) {
			if os.Getenv("THOROUGH") == "" && (i+int(view))%plan.Views != 0 {
				continue // each figure in one view, in turn
			}
			_, root := written(t, plan.Paper{Shown: both, View: view}, path)
			sound(t, root)
		}
	}
}

// TestNamesAreText checks that the plan shows any name in a sheet as text.
func TestNamesAreText(t *testing.T) {
	tests := []struct{ name, text, shows string }{
		{"markup", `<script>alert(1)</script> & "q" 'a'`, `<script>alert(1)</script> & "q" 'a'`},
		{"end of CDATA", "a]]>b<!--c-->", "a]]>b<!--c-->"},
		{"entity", "&lt;b&gt; &#0; &xxe;", "&lt;b&gt; &#0; &xxe;"},
		{"control characters", "bell\x07 escape\x1b[2J", "bell\uFFFD escape\uFFFD[2J"},
		{"text that turns what is around it", "a\u202eb\u2066c", "a\uFFFDb\uFFFDc"},
		{"right to left", "ריקוד רומבה", "ריקוד רומבה"},
		{"what XML forbids", "a\uFFFEb\uFFFFc", "a\uFFFDb\uFFFDc"},
		{"wide letters", "社交ダンス", "社交ダンス"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			path := trace(t, order(waltz, "Box step"))
			path.Score.Title = test.text
			figure := *path.Score.Passages[0].Figure
			figure.Name = test.text
			path.Score.Passages[0].Figure, path.Score.Items[0].Name = &figure, test.text
			text, root := written(t, bothSides, path)
			sound(t, root)
			assert.Equal(t, test.shows, root.title())
			for _, class := range []string{"title", "name"} {
				require.NotEmpty(t, root.all(class))
				assert.Equal(t, test.shows, root.all(class)[0].Text)
			}
			assert.Contains(t, root.all("hall")[0].all("fact")[1].Text, test.shows)
			for _, bad := range []string{"<script", "<!", "href", "url(", "&xxe;\"", "\x07", "\x1b", "\u202e"} {
				assert.NotContains(t, text, bad)
			}
		})
	}
}

// TestLongNamesAreCut checks that they fit the paper, in any script.
func TestLongNamesAreCut(t *testing.T) {
	for _, letter := range []string{"W", "i", "é", "社", "a\u0301", "\u0301", "🕺", "&", "ש "} {
		path := trace(t, order(waltz, "Box step"))
		long := strings.Repeat(letter, 10000)
		path.Score.Title = long
		figure := *path.Score.Passages[0].Figure
		figure.Name = long
		path.Score.Passages[0].Figure, path.Score.Items[0].Name = &figure, long
		text, root := written(t, bothSides, path)
		assert.Less(t, len(text), 40_000)
		for _, class := range []string{"title", "name"} {
			cut := root.all(class)[0]
			assert.True(t, strings.HasSuffix(cut.Text, "…"), "%q", letter)
			assert.LessOrEqual(t, utf8.RuneCountInString(cut.Text), 161)
			if length := cut.attr("textLength"); length != "" {
				assert.LessOrEqual(t, cut.number(t, "x")+cut.number(t, "textLength"), 190.0)
			}
		}
	}
}

// TestWhereARunThroughLeads compares the sentences with what the steps add up to: a waltz
// goes 60 cm forward and 45 cm to the side. Someone who turns in place by a quarter ends up
// 7 cm forward and to the left of where they were, because the feet are that far from the
// body's middle; by a half, twice as far to the left.
func TestWhereARunThroughLeads(t *testing.T) {
	walk := []string{"1 | LF forward | RF back", "2 | RF forward | LF back", "3 | LF close, no weight | RF close, no weight"}
	corner := strings.Replace(invented("dance: waltz\nfaces: LOD\n", "closed", walk...), "1. Boathouse step", "1. Boathouse step\n   - corner: after\n2. Boathouse step", 1)
	four := strings.Replace(corner, "2. Boathouse step", strings.Repeat("2. Boathouse step\n   - corner: after\n", 3), 1)
	tests := []struct {
		name, sheet string
		says        []string
	}{
		{"along the line of dance", invented("dance: waltz\nfaces: LOD\n", "closed", walk...),
			[]string{"One run-through travels 1.2 m along the line of dance; the leader ends facing LOD."}},
		{"diagonally", invented("dance: waltz\nfaces: DC\n", "closed", walk...),
			[]string{"One run-through travels 0.8 m along the line of dance and 0.8 m towards the centre; the leader ends facing DC."}},
		{"against it", invented("dance: waltz\nfaces: against LOD\n", "closed", walk...),
			[]string{"One run-through travels 1.2 m against the line of dance; the leader ends facing against LOD."}},
		{"nowhere", order(waltz, "Box step"), []string{"One run-through ends where it began, the leader facing DW."}},
		{"round a corner", corner, []string{"One run-through takes a corner and ends 2.4 m along the first line of dance.",
			"The leader ends facing wall, as the line of dance goes then."}},
		{"round four corners", four, []string{"One run-through takes 4 corners and ends 4.8 m along the first line of dance.",
			"The leader ends facing LOD, as the line of dance goes then."}},
		{"a dance that may face anywhere", invented("dance: rumba\nforward step: 60 cm\nside step: 40 cm\n", "open facing", "2 | LF forward | RF back", "3 | RF side | LF side", "4-1 | LF close | RF close"),
			[]string{"One run-through ends 0.6 m forward and 0.4 m to the right, facing as it began."}},
		{"turned", invented("dance: rumba\n", "apart", "2 | LF in place, 1/4 L | RF in place, 1/4 L", "3 | RF in place | LF in place", "4-1 | LF in place | RF in place"),
			[]string{"One run-through ends 0.1 m forward and 0.1 m to the left, turned 1/4 L."}},
		{"turned half round", invented("dance: rumba\n", "apart", "2 | LF in place, 1/4 L | RF in place, 1/4 L", "3 | RF in place, 1/4 L | LF in place, 1/4 L", "4-1 | LF in place | RF in place"),
			[]string{"One run-through ends 0.1 m to the left, facing back."}},
		{"a dance that faces the wall", order("dance: rumba\nfaces: wall\n", "Closed basic"),
			[]string{"One run-through ends where it began, the leader facing wall."}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, root := written(t, bothSides, trace(t, test.sheet))
			var says []string
			for _, e := range root.all("hall")[0].all("journey") {
				if e.XMLName.Local == "text" {
					says = append(says, e.Text)
				}
			}
			assert.Equal(t, test.says, says)
		})
	}
}

// TestThePanels checks that a repeated figure has no second panel, that a part of a figure
// has its own, and that each says where it is danced: after three eighths to the left and a
// corner, someone who began facing DW faces the new line of dance.
func TestThePanels(t *testing.T) {
	_, root := written(t, bothSides, trace(t, jetty))
	var says []string
	for _, panel := range root.all("panel") {
		says = append(says, panel.title()+": "+panel.all("fact")[0].Text)
	}
	assert.Equal(t, []string{
		"Jetty walk: no. 1 of the order · begins in closed, facing DW",
		"Bollard turn: no. 2 of the order · begins in closed, facing DW",
		"Jetty walk, steps 1–3: no. 3 of the order · begins in closed, facing LOD",
		"Lantern wait: no. 4 of the order · begins in closed, facing LOD",
	}, says)
	var order []string
	for _, line := range root.all("hall")[0].all("fact")[1:] {
		order = append(order, line.Text)
	}
	assert.Equal(t, []string{"1  Jetty walk × 2", "2  Bollard turn, then a corner", "3  Jetty walk, steps 1–3", "4  Lantern wait"}, order)
	assert.Contains(t, root.all("hall")[0].all("fact")[0].Text, "10 x 6 m")
}

// TestPanelsKeepToPages checks that none that fits on a page of A4 crosses the end of one.
func TestPanelsKeepToPages(t *testing.T) {
	for _, name := range shipped.Sheets() {
		text, err := shipped.Sheet(name)
		require.NoError(t, err)
		_, root := written(t, bothSides, trace(t, string(text)))
		frames := root.all("frame")
		require.NotEmpty(t, frames)
		for _, f := range frames {
			from := f.number(t, "y")
			to := from + f.number(t, "height")
			assert.Equal(t, int(from/277), int(to/277), "%s: from %.1f to %.1f mm", name, from, to)
		}
	}
}

// large returns a sheet of that many figures, each with that many bars of a box
// step, danced that many times.
func large(figures, bars, times int) string {
	var order, told strings.Builder
	for i := range figures {
		fmt.Fprintf(&order, "1. Pier %d walk × %d\n", i, times)
		fmt.Fprintf(&told, "\n## Pier %d walk\n\n- starts: closed, leader LF free, follower RF free\n\n| Count | Leader | Follower |\n|---|---|---|\n", i)
		for range bars {
			told.WriteString("| 1 | LF forward | RF back |\n| 2 | RF side | LF side |\n| 3 | LF close | RF close |\n| 1 | RF forward | LF back |\n| 2 | LF side | RF side |\n| 3 | RF close | LF close |\n")
		}
	}
	return "---\n" + waltz + "---\n\n## Order\n\n" + order.String() + told.String()
}

// TestLargeRoutinesAreCut checks that the paper ends, and that the plan says
// what it leaves out.
func TestLargeRoutinesAreCut(t *testing.T) {
	path := trace(t, large(100, 1, 20))
	text, root := written(t, bothSides, path)
	sound(t, root)
	assert.Len(t, root.all("panel"), 60)
	assert.Contains(t, text, "Only the first 60 of 100 figures are drawn.")
	assert.Contains(t, text, "… and 41 more")
	path = trace(t, large(1, 330, 99))
	require.Greater(t, path.Score.Passages[98].Item+len(path.Score.Passages)*1980, 190_000, "steps")
	text, root = written(t, bothSides, path)
	sound(t, root)
	assert.Less(t, len(text), 300_000)
	assert.Contains(t, text, "the first 64 of 1980 steps")
	for _, q := range routine.Partners() {
		var numbers []int
		for _, side := range root.all("panel")[0].all(q.String()) {
			numbers = append(numbers, side.numbers(t)...)
		}
		assert.Len(t, numbers, 64)
	}
}

// TestHostilePlans draws whatever a sheet may say.
func TestHostilePlans(t *testing.T) {
	cells := []string{"–", "LF forward", "RF back, 1/2 R", "large side", "LF cross behind, 7/8 L", "RF tap", "LF swivel, 3/8 R", "RF in place",
		"LF forward, pointing DW", "what?", "RF replace, in fan", "LF close, back to back", "RF small diagonally back", "LF across, apart"}
	rapid.Check(t, func(t *rapid.T) {
		var rows []string
		for i := range rapid.IntRange(1, 40).Draw(t, "rows") {
			cell := rapid.SampledFrom(cells)
			rows = append(rows, fmt.Sprintf("%d | %s | %s", i%3+1, cell.Draw(t, "leader"), cell.Draw(t, "follower")))
		}
		settings := rapid.SampledFrom([]string{"", "floor: 1 x 1 m\n", "floor: 200 x 1 m\n", "floor: 8 x 6 m\n"}).Draw(t, "floor")
		starts := rapid.SampledFrom([]string{"closed", "fan", "apart", "promenade"}).Draw(t, "starts")
		score, _ := check.Sheet("boathouse.md", []byte(invented(settings+waltz, starts, rows...)), shipped)
		if len(score.Passages) == 0 {
			return
		}
		paper := plan.Paper{Shown: rapid.SampledFrom([][2]bool{both, leaderOnly, followerOnly, {}}).Draw(t, "shown"),
			View: rapid.SampledFrom([]plan.View{plan.Behind, plan.Opposite, plan.Above}).Draw(t, "view")}
		_, root := written(t, paper, floor.Trace(score))
		sound(t, root)
	})
}

// failing fails every write.
type failing struct{}

var errFull = errors.New("the disk is full")

func (failing) Write([]byte) (int, error) { return 0, errFull }

func TestWriteError(t *testing.T) {
	assert.ErrorIs(t, bothSides.SVG(failing{}, trace(t, jetty)), errFull)
}

// BenchmarkSVG writes the plan of 200 000 steps.
func BenchmarkSVG(b *testing.B) {
	path := trace(b, large(1, 330, 99))
	for b.Loop() {
		require.NoError(b, bothSides.SVG(io.Discard, path))
	}
}
