package pages_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/internal/pdfread"
	"dance.example/slowquick/player/pages"
	"dance.example/slowquick/player/typeface"
	"dance.example/slowquick/routine/floor"
)

func newBook() *pages.Book {
	return pages.New("Lantern Night", "en", pages.Look{Paper: pages.A4, Margin: floor.Point{X: 15, Y: 15}, Size: 10 * pages.Point, Foot: "Lantern Night"})
}

func read(t require.TestingT, b *pages.Book) pdfread.Document {
	var out bytes.Buffer
	require.NoError(t, b.Write(&out))
	return pdfread.Read(t, out.Bytes())
}

// pageOf returns the pages of the parts whose words begin so.
func pageOf(doc pdfread.Document, words string) (on []int) {
	for _, p := range doc.Parts {
		if strings.HasPrefix(p.Words, words) {
			on = append(on, p.Pages...)
		}
	}
	return on
}

// lines sets that many paragraphs of a line.
func lines(b *pages.Book, n int) {
	for i := range n {
		b.Text(pages.Plain(fmt.Sprintf("line %d", i+1)))
	}
}

func TestPagesAreNumbered(t *testing.T) {
	b := newBook()
	lines(b, 120)
	doc := read(t, b)
	require.Len(t, doc.Pages, 3)
	for i, p := range doc.Pages {
		assert.Equal(t, []string{"Lantern Night", fmt.Sprintf("page %d of 3", i+1)}, p.Foot)
	}
	assert.Len(t, doc.Parts, 121)
	assert.Equal(t, []int{1}, pageOf(doc, "line 1 "))
	assert.Equal(t, []int{3}, pageOf(doc, "line 120 "))
	assert.Equal(t, pages.Letter, floor.Point{X: 8.5 * 25.4, Y: 11 * 25.4})
}

// TestAHeadingStaysWithWhatFollows, wherever the page ends.
func TestAHeadingStaysWithWhatFollows(t *testing.T) {
	two := 0
	for n := 38; n < 46; n++ {
		b := newBook()
		lines(b, n)
		place := b.Heading(2, "Figures")
		b.Text(pages.Plain("below it"))
		doc := read(t, b)
		assert.Equal(t, pageOf(doc, "Figures"), pageOf(doc, "below it"), n)
		assert.Equal(t, []int{place.Page}, pageOf(doc, "Figures"))
		assert.Equal(t, []pdfread.Bookmark{{Words: "Figures", Page: place.Page}}, doc.Bookmarks)
		if place.Page == 2 {
			two++
		}
	}
	assert.Positive(t, two)
}

// TestWhatBelongsTogetherStaysTogether, if a page has room for it; else it goes over to the next.
func TestWhatBelongsTogetherStaysTogether(t *testing.T) {
	for n, want := range map[int]int{20: 1, 80: 3} {
		b := newBook()
		lines(b, 40)
		b.Together(func() {
			for i := range n {
				b.Text(pages.Plain(fmt.Sprintf("together %d", i)))
			}
		})
		on := map[int]bool{}
		for _, page := range pageOf(read(t, b), "together") {
			on[page] = true
		}
		assert.Len(t, on, want, n)
	}
}

// TestATablesHeadingsAreRepeated on each page, but read once.
func TestATablesHeadingsAreRepeated(t *testing.T) {
	b := newBook()
	table := pages.Table{Heads: []string{"Count", "Leader"}}
	for i := range 100 {
		table.Rows = append(table.Rows, []pages.Cell{{Spans: pages.Plain(fmt.Sprint(i + 1)), Heads: true}, {Spans: pages.Plain("LF side"), Notes: []string{"softly"}}})
	}
	b.Table(table)
	doc := read(t, b)
	require.Greater(t, len(doc.Pages), 2)
	for i, p := range doc.Pages {
		assert.Equal(t, []string{"Count", "Leader"}, p.Lines[:2], "page %d", i+1)
	}
	assert.Equal(t, []int{1}, pageOf(doc, "Leader"))
	var tags []string
	for _, p := range doc.Parts[:8] {
		tags = append(tags, p.Tag)
	}
	assert.Equal(t, []string{"Document", "Table", "TR", "TH", "TH", "TR", "TH", "TD"}, tags)
	assert.Equal(t, "LF side softly ", doc.Parts[7].Words)
}

// TestWhatStandsBesideIsReadAfter, and is not set at all if no page holds it.
func TestWhatStandsBesideIsReadAfter(t *testing.T) {
	b := newBook()
	text := func(words string, n int) func(*pages.Column) {
		return func(c *pages.Column) {
			for range n {
				c.Text(pages.Plain(words))
			}
		}
	}
	assert.True(t, b.Beside(80, 4, text("left", 3), text("right", 2)))
	assert.False(t, b.Beside(80, 4, text("left", 3), text("too high", 200)))
	doc := read(t, b)
	assert.Equal(t, []string{"left", "left", "left", "right", "right"}, doc.Pages[0].Lines[:5])
	assert.Len(t, doc.Parts, 6)
}

func TestContents(t *testing.T) {
	b := newBook()
	places := make([]*pages.Place, 2)
	b.Contents([]string{"Waltz", "Rumba"}, places)
	for i, name := range []string{"Waltz", "Rumba"} {
		b.FreshPage()
		places[i] = b.Heading(1, name)
		lines(b, 60)
	}
	doc := read(t, b)
	assert.Equal(t, []string{"Waltz", "2", "Rumba", "4"}, doc.Pages[0].Lines[:4])
	assert.Equal(t, "Rumba", doc.Pages[3].Lines[0])
}

// TestCards are cut along crosses, four or eight to a page; what has no room on one goes over to another, under its name.
func TestCards(t *testing.T) {
	text := func(n int) func(*pages.Column) {
		return func(c *pages.Column) {
			c.CardHeading("Jetty")
			for i := range n {
				c.Text(pages.Plain(fmt.Sprintf("row %d", i+1)))
			}
		}
	}
	for _, down := range []int{2, 4} {
		b := newBook()
		room := b.CardRoom(2, down)
		assert.InDelta(t, 180.0/2-8, room.X, 1e-9)
		assert.InDelta(t, 267/float64(down)-8, room.Y, 1e-9)
		assert.InDelta(t, 2*b.Within(room.X, text(3)), b.Within(room.X, func(c *pages.Column) { text(3)(c); text(3)(c) }), 1e-9)
		b.Cards(2, down, []pages.Card{{Name: "Jetty", Set: text(2)}, {Name: "Jetty", Set: text(40)}, {Name: "Jetty", Set: text(1)}})
		doc := read(t, b)
		assert.Len(t, tags(doc, "Sect"), 3)
		assert.Len(t, tags(doc, "H1"), 3)
		assert.Len(t, tags(doc, "P"), 43, "each row once")
		over := 0
		for _, p := range doc.Pages {
			for _, line := range p.Lines {
				if line == "Jetty, goes on" {
					over++
				}
			}
		}
		lines := room.Y / (10 * pages.Point * 1.6)
		assert.InDelta(t, 40/lines, float64(over)+0.5, 1, "%v lines on a card", lines)
		assert.Len(t, doc.Pages, (3+over+2*down-1)/(2*down))
	}
}

// tags returns the parts of a kind.
func tags(doc pdfread.Document, tag string) (list []pdfread.Part) {
	for _, p := range doc.Parts {
		if p.Tag == tag {
			list = append(list, p)
		}
	}
	return list
}

func TestListsAndFigures(t *testing.T) {
	b := newBook()
	list, end := b.List()
	list.Indented("LI", "1.", 2, func(c *pages.Column) { c.Text(pages.Plain("hold hands")) })
	end()
	b.Figure([]drawing.Drawing{drawing.Key([2]bool{true, true}, 180)}, 1, "The marks.")
	b.Code("LF  side\nRF close\n")
	doc := read(t, b)
	var tags []string
	for _, p := range doc.Parts {
		tags = append(tags, p.Tag)
	}
	assert.Equal(t, []string{"Document", "L", "LI", "Lbl", "LBody", "P", "Figure", "P"}, tags)
	assert.Equal(t, "1. ", doc.Parts[3].Words)
	assert.Equal(t, "The marks.", doc.Parts[6].Alt)
	assert.Equal(t, "LF  side RF close ", doc.Parts[7].Words)
}

// TestALongDrawingIsCut: each of its shapes is on the page where it begins.
func TestALongDrawingIsCut(t *testing.T) {
	d := drawing.Drawing{Size: floor.Point{X: 190, Y: 250}}
	for _, y := range []float64{9, 99, 106, 250} {
		d.Shapes = append(d.Shapes, drawing.Shape{Look: drawing.Look{Fill: 1 << 24}, Text: drawing.Text{Words: fmt.Sprint(y), At: floor.Point{X: 1, Y: y}, Size: 5}})
	}
	var out bytes.Buffer
	require.NoError(t, pages.Cut(&out, "Jetty", &d, 100))
	doc := pdfread.Read(t, out.Bytes())
	assert.Equal(t, "Jetty", doc.Title)
	require.Len(t, doc.Pages, 3)
	for i, want := range [][]string{{"9", "99"}, {"106"}, {"250"}} {
		assert.Equal(t, want, doc.Pages[i].Lines)
	}
}

// TestNoTextIsLost: lines have all letters, in order, and none is wider than its column unless it is one
// letter.
func TestNoTextIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var spans []pages.Span
		want := ""
		for _, word := range rapid.SliceOfN(rapid.StringMatching(`[a-zé½社]{0,40}`), 0, 30).Draw(t, "words") {
			style := typeface.Style(rapid.IntRange(0, int(typeface.Styles)-1).Draw(t, "style"))
			spans = append(spans, pages.Span{Words: rapid.SampledFrom([]string{"", " ", "\t\n"}).Draw(t, "space") + word, Style: style})
			want += word
		}
		most := rapid.Float64Range(-1, 50).Draw(t, "width")
		got := ""
		for _, line := range pages.Wrapped(spans, most) {
			text, width := "", 0.0
			for _, s := range line {
				text += s.Words
				width += typeface.Of(s.Style).Width(s.Words)
			}
			if utf8.RuneCountInString(text) > 1 {
				assert.LessOrEqual(t, width, most+1e-9, text)
			}
			got += strings.ReplaceAll(text, " ", "")
		}
		assert.Equal(t, want, got)
	})
}
