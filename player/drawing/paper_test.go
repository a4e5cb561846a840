package drawing_test

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
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
	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine/floor"
	_ "dance.example/slowquick/testdata/thorough"
)

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

// all returns all elements of a name inside e.
func (e *element) all(name string) (list []*element) {
	for i := range e.Inside {
		if e.Inside[i].XMLName.Local == name {
			list = append(list, &e.Inside[i])
		}
		list = append(list, e.Inside[i].all(name)...)
	}
	return list
}

// texts returns all texts, in the order in which they are written.
func (e *element) texts() (list []string) {
	for _, text := range e.all("text") {
		list = append(list, text.Text)
	}
	return list
}

// written returns a plan as text, and as an XML reader that knows nothing of plans sees it.
func written(t require.TestingT, paper drawing.Paper, path *floor.Path) (string, *element) {
	var out bytes.Buffer
	require.NoError(t, paper.SVG(&out, path))
	root := new(element)
	require.NoError(t, xml.Unmarshal(out.Bytes(), root))
	require.Equal(t, xml.Name{Space: "http://www.w3.org/2000/svg", Local: "svg"}, root.XMLName)
	return out.String(), root
}

var bothSides = drawing.Paper{Shown: both}

func TestJettySVG(t *testing.T) {
	text, _ := written(t, bothSides, trace(t, jetty))
	golden.Equal(t, text)
}

// TestADrawnPlanIsThatOfTheSVG: the same texts, each as far down as its part of the page says.
func TestADrawnPlanIsThatOfTheSVG(t *testing.T) {
	path := trace(t, jetty)
	_, root := written(t, bothSides, path)
	d := bothSides.Draw(path)
	number := func(text string) (f float64) {
		f, err := strconv.ParseFloat(cmp.Or(text, "0"), 64)
		require.NoError(t, err)
		return f
	}
	assert.InDelta(t, number(strings.TrimSuffix(root.attr("height"), "mm")), d.Size.Y, 0.01)
	var texts, paths []*drawing.Shape
	for i := range d.Shapes {
		if s := &d.Shapes[i]; s.Text.Words != "" {
			texts = append(texts, s)
		} else {
			paths = append(paths, s)
		}
	}
	assert.Len(t, root.all("path"), len(paths))
	require.Len(t, root.all("text"), len(texts))
	for _, part := range root.Inside {
		for _, text := range part.all("text") {
			assert.Equal(t, text.Text, texts[0].Text.Words)
			assert.InDelta(t, number(part.attr("x"))+number(text.attr("x")), texts[0].Text.At.X, 0.02, text.Text)
			assert.InDelta(t, number(part.attr("y"))+number(text.attr("y")), texts[0].Text.At.Y, 0.02, text.Text)
			texts = texts[1:]
		}
	}
}

// parts are the elements that a plan is made of, and the attributes each may have.
var parts = map[string][]string{
	"svg": {"xmlns", "version", "x", "y", "width", "height", "viewBox"}, "title": nil, "desc": nil, "style": {"type"},
	"g":    {"font-family", "stroke-linejoin", "stroke-linecap"},
	"rect": {"width", "height", "fill"}, "path": {"d", "fill", "stroke", "stroke-width", "stroke-dasharray"},
	"text": {"x", "y", "font-size", "font-weight", "text-anchor", "fill", "textLength", "lengthAdjust"},
}

// sound asserts that a plan consists of nothing else, all drawings in it on the paper.
func sound(t require.TestingT, root *element) {
	number := func(text string) float64 {
		f, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		return f
	}
	box := strings.Fields(root.attr("viewBox"))
	require.Len(t, box, 4)
	height := number(box[3])
	require.Equal(t, "0 0 190", strings.Join(box[:3], " "))
	require.Equal(t, box[3]+"mm", root.attr("height"))
	var check func(e *element)
	check = func(e *element) {
		may, known := parts[e.XMLName.Local]
		require.True(t, known, "%s is no part of a plan", e.XMLName.Local)
		for _, a := range e.Attrs {
			require.Contains(t, may, a.Name.Local)
			if a.Name.Local == "d" {
				require.Regexp(t, `^M[-\d. LQCZ]+$`, a.Value)
				require.NotContains(t, a.Value, "NaN")
			}
		}
		for i := range e.Inside {
			check(&e.Inside[i])
		}
	}
	check(root)
	for _, part := range root.all("svg") {
		if part.attr("x") != "" {
			require.LessOrEqual(t, number(part.attr("x"))+number(part.attr("width")), 190.01)
			require.LessOrEqual(t, number(part.attr("y"))+number(part.attr("height")), height)
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
			assert.Equal(t, test.shows, root.all("title")[0].Text)
			assert.Contains(t, root.texts(), test.shows)
			assert.Contains(t, root.texts(), "1  "+test.shows)
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
		assert.Less(t, len(text), 60_000)
		cut := 0
		for _, e := range append(root.all("text"), root.all("title")...) {
			assert.LessOrEqual(t, utf8.RuneCountInString(e.Text), 161)
			if strings.HasSuffix(e.Text, "…") {
				cut++
			}
			if length := e.attr("textLength"); length != "" {
				from, err := strconv.ParseFloat(e.attr("x"), 64)
				require.NoError(t, err)
				width, err := strconv.ParseFloat(length, 64)
				require.NoError(t, err)
				assert.LessOrEqual(t, from+width, 190.0)
			}
		}
		assert.Equal(t, 5, cut, "title and figure twice, and the order: %q", letter)
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
			says := slices.DeleteFunc(root.texts(), func(text string) bool {
				return !strings.HasPrefix(text, "One run-through") && !strings.HasPrefix(text, "The leader ends")
			})
			assert.Equal(t, test.says, says)
		})
	}
}

// TestThePanels checks that a repeated figure has no second panel, that a part of a figure
// has its own, and that each says where it is danced: after three eighths to the left and a
// corner, someone who began facing DW faces the new line of dance.
func TestThePanels(t *testing.T) {
	_, root := written(t, bothSides, trace(t, jetty))
	texts := root.texts()
	var says []string
	for i, text := range texts {
		if strings.HasPrefix(text, "no. ") {
			says = append(says, texts[i-1]+": "+text)
		}
	}
	assert.Equal(t, []string{
		"Jetty walk: no. 1 of the order · begins in closed, facing DW",
		"Bollard turn: no. 2 of the order · begins in closed, facing DW",
		"Jetty walk, steps 1–3: no. 3 of the order · begins in closed, facing LOD",
		"Lantern wait: no. 4 of the order · begins in closed, facing LOD",
	}, says)
	assert.Equal(t, []string{"1  Jetty walk × 2", "2  Bollard turn, then a corner", "3  Jetty walk, steps 1–3", "4  Lantern wait"}, texts[len(texts)-4:])
	assert.Contains(t, texts, "from above · the couple's middle, on a floor of 10 x 6 m")
}

// TestPanelsKeepToPages checks that none that fits on a page of A4 crosses the end of one.
func TestPanelsKeepToPages(t *testing.T) {
	frame := regexp.MustCompile(`^M[\d.]+ ([\d.]+)L[\d.]+ [\d.]+L[\d.]+ ([\d.]+)L[\d.]+ [\d.]+Z$`)
	for _, name := range shipped.Sheets() {
		text, err := shipped.Sheet(name)
		require.NoError(t, err)
		_, root := written(t, bothSides, trace(t, string(text)))
		frames := 0
		for _, path := range root.all("path") {
			if m := frame.FindStringSubmatch(path.attr("d")); m != nil && path.attr("stroke") == "#aaaaaa" {
				from, err := strconv.ParseFloat(m[1], 64)
				require.NoError(t, err)
				to, err := strconv.ParseFloat(m[2], 64)
				require.NoError(t, err)
				assert.Equal(t, int(from/277), int(to/277), "%s: from %.1f to %.1f mm", name, from, to)
				frames++
			}
		}
		assert.Greater(t, frames, 1)
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
	assert.Contains(t, root.texts(), "Pier 59 walk")
	assert.NotContains(t, root.texts(), "Pier 60 walk")
	assert.Contains(t, text, "Only the first 60 of 100 figures are drawn.")
	assert.Contains(t, text, "… and 41 more")
	path = trace(t, large(1, 330, 99))
	require.Greater(t, path.Score.Passages[98].Item+len(path.Score.Passages)*1980, 190_000, "steps")
	text, root = written(t, bothSides, path)
	sound(t, root)
	assert.Less(t, len(text), 600_000)
	assert.Contains(t, text, "the first 64 of 1980 steps")
	assert.Contains(t, root.texts(), "64")
	assert.NotContains(t, root.texts(), "65")
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
		paper := drawing.Paper{Shown: rapid.SampledFrom([][2]bool{both, leaderOnly, followerOnly, {}}).Draw(t, "shown"),
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

// TestTheRouteNamesTheFigures along the way, with a mark where the leader faces, in letters of 8 points, all on the paper.
func TestTheRouteNamesTheFigures(t *testing.T) {
	path := trace(t, jetty)
	route, said := drawing.Route(path, 186, 110)
	var words []string
	facing := 0
	for _, s := range route.Shapes {
		if s.Text.Words != "" {
			words = append(words, s.Text.Words)
			assert.GreaterOrEqual(t, s.Text.Size, 8*25.4/72)
		}
		if s.Path.Letters == "MLLLZ" && s.Fill == 1<<24|0xffffff && s.Ink == 1<<24|0x0b4a8f {
			facing++
		}
		for _, at := range append(s.Path.Places, s.Text.At) {
			assert.True(t, at.X >= 0 && at.Y >= 0 && at.X <= route.Size.X && at.Y <= route.Size.Y, "%v is off the paper", at)
		}
	}
	for _, name := range []string{"1 Jetty walk × 2", "2 Bollard turn, then a corner", "3 Jetty walk, steps 1–3", "4 Lantern wait", "line of dance"} {
		assert.Contains(t, words, name)
	}
	assert.Equal(t, len(path.Score.Items)-1, facing, "at each item but the first, where the couple stands")
	assert.Contains(t, said, "takes a corner")
	assert.LessOrEqual(t, route.Size.Y, 110.0)
	narrow, _ := drawing.Route(path, 93, 110)
	for _, s := range narrow.Shapes {
		assert.NotContains(t, s.Text.Words, "Jetty", "a phone has no room for names")
	}
}

// TestNoRouteOfADanceOnTheSpot, unless its floor is known.
func TestNoRouteOfADanceOnTheSpot(t *testing.T) {
	assert.False(t, drawing.Routed(trace(t, order("dance: rumba\n", "New York to the left side")).Score))
	assert.True(t, drawing.Routed(trace(t, order("dance: rumba\nfaces: wall\nfloor: 8 x 6 m\n", "New York to the left side")).Score))
	assert.True(t, drawing.Routed(trace(t, order(waltz, "Box step")).Score))
}

// TestARouteSaysWhereTheHallsSidesAre if its floor doesn't show the line of dance.
func TestARouteSaysWhereTheHallsSidesAre(t *testing.T) {
	for sheet, want := range map[string]string{
		order(waltz, "Box step"):                                             "LOD",
		order(waltz+"floor: 8 x 6 m\n", "Box step"):                          "line of dance",
		order("dance: rumba\nfaces: wall\nfloor: 8 x 6 m\n", "Closed basic"): "wall",
		order("dance: rumba\nfloor: 8 x 6 m\n", "Closed basic"):              "",
	} {
		route, _ := drawing.Route(trace(t, sheet), 93, 110)
		said := ""
		for _, s := range route.Shapes {
			if words := s.Text.Words; words == "LOD" || words == "line of dance" || words == "wall" && said == "" {
				said = words
			}
		}
		assert.Equal(t, want, said, sheet)
	}
}

// TestNamesAlongTheRouteStandApart: none hides another, or a wall.
func TestNamesAlongTheRouteStandApart(t *testing.T) {
	type box struct{ least, most floor.Point }
	bounds := func(s *drawing.Shape) (b box) {
		b = box{s.Path.Places[0], s.Path.Places[0]}
		for _, p := range s.Path.Places {
			b.least = floor.Point{X: min(b.least.X, p.X), Y: min(b.least.Y, p.Y)}
			b.most = floor.Point{X: max(b.most.X, p.X), Y: max(b.most.Y, p.Y)}
		}
		return b
	}
	apart := func(a, b box) bool {
		return a.most.X <= b.least.X || b.most.X <= a.least.X || a.most.Y <= b.least.Y || b.most.Y <= a.least.Y
	}
	within := func(a, b box) bool {
		return a.least.X >= b.least.X && a.most.X <= b.most.X && a.least.Y >= b.least.Y && a.most.Y <= b.most.Y
	}
	waltz, err := os.ReadFile("../../library/sheets/lantern-night-waltz.md")
	require.NoError(t, err)
	for _, text := range []string{jetty, string(waltz)} {
		route, _ := drawing.Route(trace(t, text), 186, 110)
		var names []box
		var hall box
		for i := range route.Shapes {
			switch s := &route.Shapes[i]; {
			case s.Path.Letters != "MLLLZ":
			case s.Fill == 1<<24|0xffffff && s.Ink == 0:
				names = append(names, bounds(s))
			case s.Width == 0.5:
				hall = bounds(s)
			}
		}
		require.Greater(t, len(names), 3)
		require.NotZero(t, hall)
		for i, name := range names {
			assert.True(t, within(name, hall) || apart(name, hall), "%v hides a wall", name)
			for _, other := range names[i+1:] {
				assert.True(t, apart(name, other), "%v and %v", name, other)
			}
		}
	}
}
