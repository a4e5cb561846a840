package pdf_test

import (
	"bytes"
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/internal/pdfread"
	"dance.example/slowquick/player/pdf"
	"dance.example/slowquick/player/typeface"
	"dance.example/slowquick/routine/floor"
)

const ink drawing.Color = 1 << 24

var plain = pdf.Lettering{Size: 4, Ink: ink}

// lantern returns two pages: a heading and a list that goes over from one to the next.
func lantern() *pdf.Document {
	d := pdf.New("Lantern Night", "en")
	heading, list := d.Root().Add("H1"), d.Root().Add("L")
	first, second := list.Add("LI"), list.Add("LI")
	p := d.Page(floor.Point{X: 210, Y: 297})
	p.Mark(heading)
	p.Text(floor.Point{X: 10, Y: 10}, plain, "Lantern Night")
	d.Bookmark(1, "Lantern Night", p, 6)
	p.Mark(first)
	p.Text(floor.Point{X: 10, Y: 20}, plain, "one")
	p.Mark(nil)
	p.Text(floor.Point{X: 10, Y: 290}, plain, "page 1")
	q := d.Page(floor.Point{X: 210, Y: 297})
	d.Bookmark(2, "Two", q, 10)
	d.Bookmark(2, "Three", q, 20)
	d.Bookmark(1, "The end", q, 30)
	q.Mark(first)
	q.Text(floor.Point{X: 10, Y: 20}, pdf.Lettering{Style: typeface.Bold, Size: 4, Ink: ink}, "and so on")
	q.Mark(second)
	q.Text(floor.Point{X: 10, Y: 30}, plain, "two")
	return d
}

func TestADocumentIsReadInItsOrder(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, lantern().Write(&out))
	doc := pdfread.Read(t, out.Bytes())
	assert.Equal(t, "Lantern Night", doc.Title)
	assert.Equal(t, "en", doc.Language)
	assert.Equal(t, []pdfread.Part{
		{Depth: 0, Tag: "Document"},
		{Depth: 1, Tag: "H1", Words: "Lantern Night ", Pages: []int{1}},
		{Depth: 1, Tag: "L"},
		{Depth: 2, Tag: "LI", Words: "one and so on ", Pages: []int{1, 2}},
		{Depth: 2, Tag: "LI", Words: "two ", Pages: []int{2}},
	}, doc.Parts)
	assert.Equal(t, []pdfread.Bookmark{{Words: "Lantern Night", Page: 1}, {Depth: 1, Words: "Two", Page: 2}, {Depth: 1, Words: "Three", Page: 2}, {Words: "The end", Page: 2}}, doc.Bookmarks)
	require.Len(t, doc.Pages, 2)
	assert.Equal(t, []string{"Lantern Night", "one", "page 1"}, doc.Pages[0].Lines)
	assert.Equal(t, []string{"page 1"}, doc.Pages[0].Foot)
	assert.InDelta(t, 595.276, doc.Pages[0].Width, 0.001)
	assert.InDelta(t, 841.89, doc.Pages[0].Height, 0.001)

	var again bytes.Buffer
	require.NoError(t, lantern().Write(&again))
	assert.Equal(t, out.Bytes(), again.Bytes(), "the same bytes each time")
}

// TestAnyTextIsText, even letters that the font lacks; letters with accents are one.
func TestAnyTextIsText(t *testing.T) {
	for text, want := range map[string]string{
		`) Tj ET endstream endobj <</Alt (`: "",
		`\(\) <FEFF> %`:                     "",
		"señora ß × → ♀ ½":                  "",
		"社交ダンス ליל 🏮":                       "",
		"e\u0301":                           "é",
	} {
		if want == "" {
			want = text
		}
		d := pdf.New(text, "en")
		p := d.Page(floor.Point{X: 100, Y: 100})
		p.Mark(d.Root().Add("Figure").Instead(text))
		p.Text(floor.Point{X: 1, Y: 5}, plain, text)
		d.Bookmark(1, text, p, 1)
		var out bytes.Buffer
		require.NoError(t, d.Write(&out))
		doc := pdfread.Read(t, out.Bytes())
		assert.Equal(t, text, doc.Title)
		assert.Equal(t, []string{want}, doc.Pages[0].Lines)
		assert.Equal(t, text, doc.Parts[1].Alt)
		assert.Equal(t, text, doc.Bookmarks[0].Words)
	}
}

// TestADrawingsTextIsOnThePage, whatever else is drawn.
func TestADrawingsTextIsOnThePage(t *testing.T) {
	key := drawing.Key([2]bool{true, true}, 180)
	d := pdf.New("Key", "en")
	p := d.Page(floor.Point{X: 210, Y: 297})
	p.Mark(d.Root().Add("Figure"))
	p.Draw(&key, floor.Point{X: 10, Y: 10}, 1)
	var out bytes.Buffer
	require.NoError(t, d.Write(&out))
	var want []string
	for _, s := range key.Shapes {
		if s.Text.Words != "" {
			want = append(want, s.Text.Words)
		}
	}
	assert.Equal(t, want, pdfread.Read(t, out.Bytes()).Pages[0].Lines)
}

var errFull = errors.New("the disk is full")

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errFull }

func TestWriteError(t *testing.T) { assert.ErrorIs(t, lantern().Write(failing{}), errFull) }
