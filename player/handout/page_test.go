package handout_test

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/routine"
)

// node is an element of a page with everything below it.
type node struct{ *html.Node }

func parsePage(t testing.TB, page []byte) node {
	t.Helper()
	doc, err := html.Parse(bytes.NewReader(page))
	require.NoError(t, err)
	return node{doc}
}

// all returns the elements of a name, in the order of the page.
func (n node) all(name string) (list []node) {
	for d := range n.Descendants() {
		if d.Type == html.ElementNode && d.Data == name {
			list = append(list, node{d})
		}
	}
	return list
}

// one returns the only element of a name.
func (n node) one(t testing.TB, name string) node {
	t.Helper()
	list := n.all(name)
	require.Len(t, list, 1, name)
	return list[0]
}

// class returns the nodes that have a class.
func class(list []node, name string) (kept []node) {
	for _, n := range list {
		if strings.Contains(" "+n.attr("class")+" ", " "+name+" ") {
			kept = append(kept, n)
		}
	}
	return kept
}

func (n node) attr(name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// text returns what a reader reads.
func (n node) text() string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode && d.Parent.Data != "style" {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func page(t testing.TB, text string, o handout.Options) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, handout.HTML(&out, "", handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: o}))
	return out.Bytes()
}

// TestThePageStandsAlone: nothing in it is loaded from elsewhere or run.
func TestThePageStandsAlone(t *testing.T) {
	for name, text := range sheetTexts(t) {
		out := page(t, text, wholeRoutine())
		assert.NotContains(t, string(out), "http:", name)
		assert.NotContains(t, string(out), "https:", name)
		doc := parsePage(t, out)
		for _, element := range []string{"script", "link", "img", "iframe", "object", "embed", "base", "form", "audio", "video", "image", "use"} {
			assert.Empty(t, doc.all(element), "%s in %s", element, name)
		}
		for d := range doc.Descendants() {
			for _, a := range d.Attr {
				assert.False(t, strings.HasPrefix(a.Key, "on"), a.Key)
				if a.Key == "href" {
					assert.True(t, strings.HasPrefix(a.Val, "#"), a.Val)
				}
				assert.NotEqual(t, "src", a.Key)
			}
		}
		assert.NotContains(t, doc.one(t, "style").FirstChild.Data, "url(")
	}
}

// TestThePageCanBeHeard: what screen readers rely on. Source: W3C, Web Content Accessibility Guidelines
// 2.2: 1.1.1 text for pictures, 1.3.1 headings and table headers, 2.4.2 a title, 2.4.4 links that lead
// somewhere, 3.1.1 the language.
func TestThePageCanBeHeard(t *testing.T) {
	for name, text := range sheetTexts(t) {
		doc := parsePage(t, page(t, text, wholeRoutine()))
		assert.Equal(t, "en", doc.one(t, "html").attr("lang"))
		assert.NotEmpty(t, doc.one(t, "head").one(t, "title").text())
		doc.one(t, "h1")
		doc.one(t, "main")
		ids := map[string]bool{}
		level := 0
		for d := range doc.Descendants() {
			n := node{d}
			if id := n.attr("id"); id != "" {
				assert.False(t, ids[id], "%s: %s twice", name, id)
				ids[id] = true
			}
			if len(d.Data) == 2 && d.Data[0] == 'h' && d.Data[1] >= '1' && d.Data[1] <= '6' {
				now := int(d.Data[1] - '0')
				assert.LessOrEqual(t, now, level+1, "%s: a heading of level %d after one of %d", name, now, level)
				level = now
			}
		}
		for _, a := range doc.all("a") {
			assert.True(t, ids[strings.TrimPrefix(a.attr("href"), "#")], "%s: %s leads nowhere", name, a.attr("href"))
		}
		for _, table := range class(doc.all("table"), "chart") {
			assert.NotEmpty(t, table.one(t, "caption").text())
			for _, th := range table.all("th") {
				assert.Contains(t, []string{"col", "row"}, th.attr("scope"), name)
			}
		}
		plans := class(doc.all("div"), "plan")
		assert.Len(t, plans, len(class(doc.all("table"), "chart")))
		for _, p := range plans {
			assert.Equal(t, "img", p.attr("role"))
			assert.Contains(t, p.attr("aria-label"), "Plan of the floor: ")
			assert.NotEmpty(t, p.all("svg"))
		}
		assert.Len(t, doc.all("figcaption"), len(plans)+len(class(doc.all("section"), "route")))
	}
}

// TestThePageShowsASide: the other partner's steps are neither in the charts nor in the plans.
func TestThePageShowsASide(t *testing.T) {
	text := sheetTexts(t)["lantern-night-cha-cha"]
	o := wholeRoutine()
	o.Shown = [2]bool{true, false}
	doc := parsePage(t, page(t, text, o))
	assert.Contains(t, doc.text(), "Leader’s steps")
	for _, table := range class(doc.all("table"), "chart") {
		assert.NotContains(t, table.text(), "Follower")
	}
	for _, svg := range doc.all("svg") {
		assert.NotContains(t, strings.ToLower(svg.text()), "follower")
	}
	assert.Contains(t, doc.text(), "seen from behind the leader as")
	o.Shown = [2]bool{false, true}
	assert.Contains(t, parsePage(t, page(t, text, o)).text(), "seen from behind the follower as")
}

// TestThePageIsOfThePart: it shows only what is danced, the way it is danced.
func TestThePageIsOfThePart(t *testing.T) {
	text := sheetTexts(t)["lantern-night-cha-cha"]
	timeline := timeline(t, text)
	o := wholeRoutine()
	o.Part = player.Interval{From: timeline.Passage(2).From, To: timeline.Passage(4).To}
	o.Times, o.Settings.Percent, o.Settings.Count.Style, o.Paper, o.Large = 3, 50, routine.InWords, handout.Letter, true
	doc := parsePage(t, page(t, text, o))
	var headings []string
	for _, h := range doc.all("h3") {
		headings = append(headings, h.text())
	}
	assert.Equal(t, []string{"New York to the left side", "New York to the right side", "Boathouse step"}, headings)
	all := doc.text()
	for _, want := range []string{"Tempo 14 bars/min (56 beats/min), 50 % of the sheet's", "Part bars 5–9 of the routine", "Danced 3 times", "Counted in two three four one",
		"2 New York to the left side 5–6 0:00", "Spoken: two three cha cha cha"} {
		assert.Contains(t, all, want)
	}
	assert.Contains(t, doc.one(t, "style").FirstChild.Data, "@page{size:letter")
	assert.Equal(t, "large", doc.one(t, "html").attr("class"))
}

// TestProseIsText: what a sheet says to people is kept, and nothing in it is markup.
func TestProseIsText(t *testing.T) {
	text := `---
dance: waltz
title: River waltz
---

# River waltz

Bring **soft** shoes, ` + "`and water`" + `, and [a light](http://river.example/x?a=b).
<b>loud</b> &amp; clear \*really\* <http://boat.example>

![a map](map.png)

## At the door

> Ring *twice*.

- wipe your feet
  1. left
  2. right

| Who | When |
|---|---|
| all | at 7 |

    as it is <i>

<div onclick="x()">
block
</div>

## Order

1. Pier wait

Then rest.

## Pier wait

Look at the lights.

- starts: closed

| Count | Leader | Follower |
|---|---|---|
| 1 | LF side | RF side |
| 2-3 | RF close | LF close |
`
	doc := parsePage(t, page(t, text, wholeRoutine()))
	all := doc.text()
	for _, want := range []string{
		"Bring soft shoes, and water , and a light (http://river.example/x?a=b). <b>loud</b> & clear *really* http://boat.example",
		"a map", "At the door Ring twice . wipe your feet left right Who When all at 7 as it is <i>", `<div onclick="x()"> block </div>`,
		"Pier wait 1 0:00 Then rest.", "Starts closed", "Look at the lights.",
	} {
		assert.Contains(t, all, want)
	}
	assert.Equal(t, "soft", doc.one(t, "strong").text())
	assert.Len(t, doc.all("h1"), 1, "the title is told once")
}

// footed returns a sheet that says for whom it is, with a title that would end a style sheet.
const footed = "---\ndance: waltz\ntitle: 'Pier \"waltz\" </style>'\nteacher: The boathouse\nclass: Beginners\ndate: 2026-09-04\n---\n\n## Order\n\n1. Whisk\n2. Chassé from promenade\n"

// TestEachPageSaysForWhomItIs: title, teacher, class, date and the number of pages are at its foot.
func TestEachPageSaysForWhomItIs(t *testing.T) {
	doc := parsePage(t, page(t, footed, wholeRoutine()))
	style := doc.one(t, "style").FirstChild.Data
	for _, want := range []string{`@bottom-left{`, `content:"Pier \22 waltz\22  \3c /style\3e "}`, `content:"The boathouse · Beginners · 2026-09-04"}`, `content:"page " counter(page) " of " counter(pages)}`} {
		assert.Contains(t, style, want)
	}
	assert.Contains(t, doc.one(t, "header").text(), "Class The boathouse · Beginners · 2026-09-04")
}

// TestLargePrintIsLargeInAllItShows: 18 points where other pages have 8, in the drawings too.
func TestLargePrintIsLargeInAllItShows(t *testing.T) {
	o := wholeRoutine()
	o.Large = true
	doc := parsePage(t, page(t, footed, o))
	assert.Contains(t, doc.one(t, "style").FirstChild.Data, "@bottom-left{font:18pt")
	slim := map[*html.Node]bool{}
	for _, div := range class(doc.all("div"), "narrow") {
		slim[div.one(t, "svg").Node] = true
	}
	require.Greater(t, len(doc.all("svg")), len(slim)+2)
	for _, svg := range doc.all("svg") {
		if slim[svg.Node] { // for a phone
			continue
		}
		drawn, err := strconv.ParseFloat(strings.TrimSuffix(svg.attr("width"), "mm"), 64)
		require.NoError(t, err)
		var wide float64
		_, err = fmt.Sscanf(svg.attr("style"), "width:%fmm", &wide)
		require.NoError(t, err)
		assert.InDelta(t, 2.25, wide/drawn, 0.01)
		assert.LessOrEqual(t, wide, 186.0, "it fits the page")
	}
}

// TestOnlyShortFormsThatAreUsedAreExplained, and one turn for all.
func TestOnlyShortFormsThatAreUsedAreExplained(t *testing.T) {
	doc := parsePage(t, page(t, footed, wholeRoutine()))
	var short []string
	for _, dt := range class(doc.all("dl"), "short")[0].all("dt") {
		short = append(short, dt.text())
	}
	assert.ElementsMatch(t, []string{"LF", "RF", "HT", "TH", "T", "DW", "DC", "CBMP", "1/4 R"}, short)
	o := wholeRoutine()
	o.Shown = [2]bool{true, false}
	doc = parsePage(t, page(t, footed, o))
	assert.NotContains(t, class(doc.all("dl"), "short")[0].text(), "DC", "the follower's")
}

// TestSourcesAreAtTheEnd, not between a figure's name and its steps.
func TestSourcesAreAtTheEnd(t *testing.T) {
	text := sheetTexts(t)["lantern-night-waltz"]
	doc := parsePage(t, page(t, text, wholeRoutine()))
	article := doc.one(t, "article")
	last := class(article.all("section"), "sources")
	require.Len(t, last, 1)
	assert.Equal(t, article.all("section")[len(article.all("section"))-1], last[0])
	assert.Contains(t, last[0].text(), "Whisk: ")
	for _, f := range class(doc.all("section"), "figure") {
		assert.NotContains(t, f.text(), "Source")
	}
}

// TestAPhoneGetsNarrowDrawings, which need not be shrunk.
func TestAPhoneGetsNarrowDrawings(t *testing.T) {
	doc := parsePage(t, page(t, sheetTexts(t)["lantern-night-cha-cha"], wholeRoutine()))
	slim := 0
	for _, div := range class(doc.all("div"), "narrow") {
		for _, svg := range div.all("svg") {
			wide, err := strconv.ParseFloat(strings.TrimSuffix(svg.attr("width"), "mm"), 64)
			require.NoError(t, err)
			assert.LessOrEqual(t, wide, 93.0)
			slim++
		}
	}
	assert.Greater(t, slim, 2)
	assert.Len(t, class(doc.all("div"), "broad"), len(class(doc.all("div"), "narrow")))
}

// TestTheRouteIsOnThePage of a dance that travels, in words too.
func TestTheRouteIsOnThePage(t *testing.T) {
	doc := parsePage(t, page(t, sheetTexts(t)["lantern-night-waltz"], wholeRoutine()))
	route := class(doc.all("section"), "route")
	require.Len(t, route, 1)
	way := class(route[0].all("div"), "way")[0]
	assert.Contains(t, way.attr("aria-label"), "takes a corner")
	assert.Contains(t, route[0].one(t, "figcaption").text(), "takes a corner")
	assert.Contains(t, class(way.all("div"), "broad")[0].text(), "4 Natural turn")
	doc = parsePage(t, page(t, sheetTexts(t)["lantern-night-rumba"], wholeRoutine()))
	assert.Empty(t, class(doc.all("section"), "route"), "it stays on the spot")
}
