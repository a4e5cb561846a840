package handout_test

import (
	"bytes"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/internal/pdfread"
)

func writtenPDF(t testing.TB, name string, sheets ...handout.Sheet) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, handout.PDF(&out, name, sheets...))
	return out.Bytes()
}

// tagged returns the words of the parts of a kind.
func tagged(doc pdfread.Document, tag string) (list []string) {
	for _, p := range doc.Parts {
		if p.Tag == tag {
			list = append(list, strings.TrimSpace(p.Words))
		}
	}
	return list
}

// TestThePDFSaysWhatThePageSays: the same headings, and the cells of the same tables. A page may have
// its figures in another order, to fill its paper.
func TestThePDFSaysWhatThePageSays(t *testing.T) {
	for _, name := range []string{"lantern-night-waltz", "lantern-night-cha-cha", "late"} {
		text := sheetTexts(t)[name]
		given := handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: wholeRoutine()}
		html := parsePage(t, page(t, text, wholeRoutine()))
		doc := pdfread.Read(t, writtenPDF(t, "", given))
		assert.Equal(t, html.one(t, "title").text(), doc.Title)
		assert.Equal(t, "en", doc.Language)
		for _, level := range []string{"h1", "h2", "h3"} {
			var want []string
			for _, h := range html.all(level) {
				want = append(want, h.text())
			}
			assert.ElementsMatch(t, want, tagged(doc, strings.ToUpper(level)), name)
		}
		var want []string
		for _, cell := range html.all("td") {
			want = append(want, cell.text())
		}
		assert.ElementsMatch(t, want, tagged(doc, "TD"), name)
		for _, caption := range class(html.all("section"), "route") {
			assert.Contains(t, tagged(doc, "P"), caption.one(t, "figcaption").text(), name)
		}
		drawings := 0
		for _, p := range doc.Parts {
			if p.Tag == "Figure" {
				assert.NotEmpty(t, p.Alt)
				drawings++
			}
		}
		assert.GreaterOrEqual(t, drawings, 1+len(html.all("h3")), "the key, and a drawing of each figure")
		assert.Len(t, doc.Bookmarks, len(html.all("h1"))+len(html.all("h2"))+len(html.all("h3")))
	}
}

// TestAPDFIsOnItsPaper, in large print too, and is the same bytes each time.
func TestAPDFIsOnItsPaper(t *testing.T) {
	text := sheetTexts(t)["lantern-night-rumba"]
	given := handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: wholeRoutine()}
	small := pdfread.Read(t, writtenPDF(t, "", given))
	assert.InDelta(t, 841.89, small.Pages[0].Height, 0.01, "A4")
	given.Options.Paper, given.Options.Large = handout.Letter, true
	once := writtenPDF(t, "", given)
	large := pdfread.Read(t, once)
	assert.Equal(t, [2]float64{612, 792}, [2]float64{large.Pages[0].Width, large.Pages[0].Height})
	assert.Greater(t, len(large.Pages), len(small.Pages))
	const point = 25.4 / 72
	assert.InDelta(t, 8.5*point, small.Pages[0].FootSize, 0.001)
	assert.GreaterOrEqual(t, large.Pages[0].FootSize, 16*point, "large print has 16 points at least (UK Association for Accessible Formats; from memory)")
	assert.Equal(t, once, writtenPDF(t, "", given))
}

// TestLargeDrawingsShareTheirChartsPage if their feet can be large there; else they have the next to themselves.
func TestLargeDrawingsShareTheirChartsPage(t *testing.T) {
	text := sheetTexts(t)["lantern-night-waltz"]
	given := handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: wholeRoutine()}
	given.Options.Large = true
	chart, apart := 0, map[string][]int{}
	for _, p := range pdfread.Read(t, writtenPDF(t, "", given)).Parts {
		switch name, drawn := strings.CutPrefix(p.Alt, "Plan of the floor: "); {
		case p.Tag == "H3":
			chart = p.Pages[0]
		case drawn:
			name, _, _ = strings.Cut(name, ". The figure ")
			for _, page := range p.Pages {
				apart[name] = append(apart[name], page-chart)
			}
		}
	}
	assert.Equal(t, map[string][]int{"Box step": {0}, "Whisk": {0}, "Chassé from promenade": {0}, "Natural turn": {1}, "RF closed change": {0},
		"Reverse turn": {1}, "Lantern step": {0}, "LF closed change": {0}}, apart)
}

// TestAClassBookShowsEachFigureOnce, with the pages of the sheets in its contents, and those of the figures in its index.
func TestAClassBookShowsEachFigureOnce(t *testing.T) {
	var sheets []handout.Sheet
	names := []string{"lantern-night-waltz", "lantern-night-rumba", "second-waltz"}
	texts := sheetTexts(t)
	texts["second-waltz"] = "---\ndance: waltz\ntitle: A second waltz\nfaces: DW\n---\n\n## Order\n\n1. Whisk\n2. Chassé from promenade\n3. Spin turn\n"
	want := map[string]int{}
	for _, name := range names {
		text := texts[name]
		sheets = append(sheets, handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: wholeRoutine()})
		for _, h := range parsePage(t, page(t, text, wholeRoutine())).all("h3") {
			want[h.text()]++
		}
	}
	require.Equal(t, 2, want["Whisk"])
	doc := pdfread.Read(t, writtenPDF(t, "Boathouse evenings", sheets...))
	assert.Equal(t, "Boathouse evenings", doc.Title)
	var begins []int
	on := map[string]int{}
	for _, p := range doc.Parts {
		switch p.Tag {
		case "H1":
			begins = append(begins, p.Pages...)
		case "H3":
			name := strings.TrimSpace(p.Words)
			assert.Zero(t, on[name], "%s is shown once", name)
			on[name] = p.Pages[0]
		}
	}
	require.Len(t, begins, 5)
	assert.Equal(t, []int{1, 2}, begins[:2])
	listed := tagged(doc, "TOCI")
	assert.Equal(t, []string{"Lantern Night waltz, Waltz 2", "Lantern Night rumba, Rumba " + strconv.Itoa(begins[2]), "A second waltz, Waltz " + strconv.Itoa(begins[3]), "Index of figures " + strconv.Itoa(begins[4])}, listed[:4])
	assert.Equal(t, []string{"Whisk, Waltz " + strconv.Itoa(on["Whisk"]), "Chassé from promenade, Waltz " + strconv.Itoa(on["Chassé from promenade"])}, listed[4:6], "where the second waltz's figures are")
	assert.Len(t, on, len(want))
	require.Len(t, listed, 6+len(on))
	assert.True(t, slices.IsSortedFunc(listed[6:], func(a, b string) int { return strings.Compare(strings.ToLower(a), strings.ToLower(b)) }))
	for _, line := range listed[6:] {
		name, page, found := strings.Cut(line, ", Waltz ")
		if !found {
			name, page, found = strings.Cut(line, ", Rumba ")
		}
		require.True(t, found, line)
		assert.Equal(t, strconv.Itoa(on[name]), page, name)
	}

	var out bytes.Buffer
	require.NoError(t, handout.HTML(&out, "Boathouse evenings", sheets...))
	html := parsePage(t, out.Bytes())
	assert.Len(t, html.all("h3"), len(want))
	assert.Contains(t, html.text(), "3 routines, "+strconv.Itoa(len(want))+" figures: Rumba, Waltz")
	ids := map[string]string{}
	for _, h := range html.all("h3") {
		ids["#"+h.attr("id")] = h.text()
	}
	for _, a := range class(html.all("section"), "index")[0].all("a") {
		assert.Equal(t, ids[a.attr("href")], a.text())
	}
	for _, a := range class(html.all("section"), "order")[2].all("a") {
		assert.Equal(t, ids[a.attr("href")], a.text(), "the order leads to the other sheet's figures")
	}
}

// The target: a handout of 64 figures as PDF in under a second.
func BenchmarkPDFOf64Figures(b *testing.B) {
	s := long(b)
	for b.Loop() {
		require.NoError(b, handout.PDF(io.Discard, "", s))
	}
}
