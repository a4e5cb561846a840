package handout_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/internal/pdfread"
)

// TestEachFigureHasACard with its whole chart, as on the page; large cards have the figures' drawings or, where
// their feet would be too small, words.
func TestEachFigureHasACard(t *testing.T) {
	for _, name := range []string{"lantern-night-waltz", "lantern-night-cha-cha", "lantern-night-rumba"} {
		text := sheetTexts(t)[name]
		given := handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: wholeRoutine()}
		whole := parsePage(t, page(t, text, wholeRoutine()))
		var figures, cells []string
		for _, h := range whole.all("h3") {
			figures = append(figures, h.text())
		}
		for _, chart := range class(whole.all("table"), "chart") {
			for _, cell := range chart.all("td") {
				cells = append(cells, cell.text())
			}
		}
		for _, size := range []handout.CardSize{handout.LargeCards, handout.SmallCards} {
			var out bytes.Buffer
			require.NoError(t, size.HTML(&out, given))
			doc := parsePage(t, out.Bytes())
			var onCards, inCells []string
			drawn := map[string]bool{}
			for _, card := range class(doc.all("section"), "card") {
				name := card.one(t, "h2").text()
				if chart := class(card.all("table"), "chart"); len(chart) > 0 {
					onCards = append(onCards, name)
				} else {
					assert.NotEmpty(t, card.all("svg"), "a card without a chart has the drawing")
				}
				said := false
				for _, p := range class(card.all("p"), "spoken") {
					said = strings.HasPrefix(p.text(), "The figure ")
				}
				assert.True(t, said || len(card.all("svg")) > 0 || size == handout.SmallCards, "%s is told in words, if it isn't drawn", name)
				for _, plan := range class(card.all("div"), "plan") {
					drawn[name] = true
					assert.Contains(t, plan.attr("aria-label"), "Plan of the floor: "+name+". The figure ")
				}
			}
			for _, cell := range doc.all("td") {
				inCells = append(inCells, cell.text())
			}
			assert.ElementsMatch(t, figures, onCards)
			assert.ElementsMatch(t, cells, inCells)
			if size == handout.LargeCards {
				assert.GreaterOrEqual(t, len(drawn), len(figures)/2, name)
			}

			out.Reset()
			require.NoError(t, size.PDF(&out, given))
			paper := pdfread.Read(t, out.Bytes())
			var named []string
			for _, heading := range tagged(paper, "H1") {
				if len(named) == 0 || named[len(named)-1] != heading { // else it is the drawing's
					named = append(named, heading)
				}
			}
			assert.ElementsMatch(t, figures, named)
			assert.ElementsMatch(t, cells, tagged(paper, "TD"))
			assert.Contains(t, paper.Pages[0].Foot, whole.one(t, "title").text())
		}
	}
}
