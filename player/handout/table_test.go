package handout_test

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
)

// tables returns what is written as CSV and as TSV.
func tables(t testing.TB, k handout.Table, timeline *player.Timeline, o handout.Options) (rows [][]string, raw, tabbed string) {
	t.Helper()
	var out, tsv bytes.Buffer
	require.NoError(t, k.CSV(&out, timeline, o))
	require.NoError(t, k.TSV(&tsv, timeline, o))
	raw = out.String()
	rows, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	return rows, raw, tsv.String()
}

// TestTheTableIsTheChart: every step that is danced is in it, once, in words that make up the step.
func TestTheTableIsTheChart(t *testing.T) {
	for name, timeline := range routines(t) {
		for _, o := range variants(timeline) {
			rows, raw, _ := tables(t, handout.Charts, timeline, o)
			assert.Equal(t, len(rows), strings.Count(raw, "\r\n"), "RFC 4180, 2.1")
			listed := map[string][]string{}
			for _, row := range rows[1:] {
				listed[row[0]+" "+row[1]] = row
			}
			assert.Len(t, listed, len(rows)-1, name)
			column := 3
			for p, shown := range o.Shown {
				if !shown {
					continue
				}
				for i := range timeline.Events {
					e := &timeline.Events[i]
					s := e.Steps[p]
					if s == nil || !o.Part.Empty() && !o.Part.Contains(e.At) {
						continue
					}
					passage := &timeline.Score.Passages[e.Passage]
					key := passage.Name()
					if text := passage.Figure.Differs(); text != "" {
						key += " (" + text + ")"
					}
					row := listed[key+" "+strconv.Itoa(e.Row+1)]
					require.NotNil(t, row, "%s %d", key, e.Row+1)
					whole := strings.Join(row[column:column+4], " ")
					for _, part := range strings.FieldsFunc(s.String(), func(r rune) bool { return r == ' ' || r == ',' || r == '–' }) {
						if s.Position == 0 {
							assert.Contains(t, whole, part, "%s: %s", key, s)
						}
					}
				}
				column += 4
			}
		}
	}
}

func TestTheTableOfTheOrder(t *testing.T) {
	rows, _, tabbed := tables(t, handout.Order, lantern(t), wholeRoutine())
	assert.Equal(t, []string{"Line", "Figure", "Bars", "Begins at", "Remarks"}, rows[0])
	assert.Equal(t, []string{"6", "Spot turn to the left", "10–11", "0:19", "let go, then find the hand again"}, rows[6])
	assert.True(t, strings.HasPrefix(tabbed, "Line\tFigure\tBars\t"))
}

// TestCardsAskOneThingEach, and their answers are in the chart.
func TestCardsAskOneThingEach(t *testing.T) {
	o := wholeRoutine()
	o.Shown = [2]bool{false, true}
	rows, _, tabbed := tables(t, handout.Cards, lantern(t), o)
	asked := map[string]string{}
	for i, line := range strings.Split(strings.TrimSuffix(tabbed, "\n"), "\n") {
		question, answer, _ := strings.Cut(line, "\t")
		assert.Equal(t, rows[i], []string{question, answer})
		assert.Empty(t, asked[question], question)
		asked[question] = answer
	}
	assert.Equal(t, "2: RF back", asked["Closed basic, follower: how does it begin?"])
	assert.Equal(t, "3: LF replace", asked["Closed basic, follower: what comes after “2: RF back”?"])
	assert.Equal(t, "the end", asked["Order: what comes after line 8, Boathouse step × 2?"])
	for question := range asked {
		assert.NotContains(t, question, "leader")
	}
}

// TestASpreadsheetRunsNothing that a sheet says.
func TestASpreadsheetRunsNothing(t *testing.T) {
	for _, name := range []string{`=HYPERLINK("http://river.example")`, "+1", "-2", "@SUM(A1)", "a\tb", `say "cha"`} {
		timeline := timeline(t, sway)
		timeline.Score.Figures[0].Name = name
		rows, _, tabbed := tables(t, handout.Charts, timeline, wholeRoutine())
		want := strings.ReplaceAll(name, "\t", " ")
		if strings.ContainsAny(name[:1], "=+-@") {
			assert.Equal(t, "'"+want, rows[1][0])
		} else {
			assert.Equal(t, want, strings.ReplaceAll(rows[1][0], "\t", " "))
		}
		for line := range strings.Lines(tabbed) {
			assert.Equal(t, len(rows[0])-1, strings.Count(line, "\t"))
		}
	}
}

// sway is a sheet of one figure.
const sway = "---\ndance: waltz\n---\n## Order\n\n1. Sway\n\n## Sway\n\n| Count | Leader | Follower |\n|---|---|---|\n| 1 | LF forward | RF back |\n| 2-3 | RF close | LF close |\n"
