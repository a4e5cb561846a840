package library_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// chart is a figure as a page of the trade prints it.
type chart struct {
	at                    string // file and line
	dance, figure, source string
	rows                  [][]string // count, leader, follower
}

// readCharts reads the printed charts in testdata/charts, whose README says how they are written.
func readCharts(t *testing.T) (charts []chart) {
	files, err := filepath.Glob("testdata/charts/*.txt")
	require.NoError(t, err)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		inChart := false
		for i, line := range strings.Split(string(text), "\n") {
			cells := strings.Split(line, " | ")
			switch {
			case line == "":
				inChart = false
			case strings.HasPrefix(line, "#"):
			case len(cells) != 3:
				t.Fatalf("%s:%d: not three cells: %s", file, i+1, line)
			case inChart:
				c := &charts[len(charts)-1]
				c.rows = append(c.rows, cells)
			default:
				inChart = true
				charts = append(charts, chart{at: fmt.Sprintf("%s:%d", file, i+1), dance: cells[0], figure: cells[1], source: cells[2]})
			}
		}
	}
	return charts
}

var (
	sized = regexp.MustCompile(` (small|large)\b`)
	note  = regexp.MustCompile(` \(.*?\)`)
)

var turning = regexp.MustCompile(`^\d(/\d| \d/\d)? [LR]$`)

// contradiction returns what of the printed cell the step does not have, or "". The foot, its way and
// its turn must be those printed, and the alignment unless none is. Of other facts the step may have
// more, and of sizes its own where none is printed. An "…" at the end says that the page leaves out the rest, an "…" alone all.
func contradiction(cell string, charted *routine.Step) string {
	step := *charted
	step.Varies, step.VariesAfter = routine.Range{}, routine.Range{}
	printed, open := strings.CutSuffix(cell, "…")
	if printed == "" {
		return ""
	}
	wants, has := strings.Split(printed, ", "), strings.Split(note.ReplaceAllString(step.String(), ""), ", ")
	if !sized.MatchString(wants[0]) {
		has[0] = sized.ReplaceAllString(has[0], "")
	}
	footOnly := open && (wants[0] == "LF" || wants[0] == "RF")
	if wants[0] != has[0] && !(footOnly && strings.HasPrefix(has[0], wants[0])) {
		return wants[0]
	}
	for _, fact := range wants[1:] {
		if !slices.Contains(has, fact) {
			return fact
		}
	}
	if step.Turn != 0 && !open && !slices.ContainsFunc(wants, turning.MatchString) {
		return "no turn"
	}
	return ""
}

// differences returns where the figure is not the printed one.
func (c *chart) differences(fig *routine.Figure) (all []string) {
	if len(fig.Rows) != len(c.rows) {
		return []string{fmt.Sprintf("%d rows, not %d", len(fig.Rows), len(c.rows))}
	}
	for i, row := range c.rows {
		if have := fig.Rows[i].Count.String(); have != row[0] {
			all = append(all, fmt.Sprintf("row %d is counted %s, not %s", i+1, have, row[0]))
		}
		for _, p := range routine.Partners() {
			step := &fig.Rows[i].Steps[p]
			if missing := contradiction(row[1+p], step); missing != "" {
				all = append(all, fmt.Sprintf("row %d, %s: %q, printed is %q (%s)", i+1, p, step, row[1+p], missing))
			}
		}
	}
	return all
}

// TestFiguresAreAsPrinted compares the library's figures, in one of the ways to dance them, with charts
// that were copied from their pages, not from the library.
func TestFiguresAreAsPrinted(t *testing.T) {
	lib := shipped()
	charts := readCharts(t)
	require.Greater(t, len(charts), 30)
	for _, c := range charts {
		t.Run(c.dance+"/"+c.figure, func(t *testing.T) {
			assert.NotEmpty(t, c.source)
			d, ok := lib.Dance(c.dance)
			require.True(t, ok, "%s: no dance %s", c.at, c.dance)
			fig, ok := lib.Figure(d, c.figure)
			require.True(t, ok, "%s: no figure %s", c.at, c.figure)
			for _, way := range fig.Ways() {
				if len(c.differences(way)) == 0 {
					return
				}
			}
			for _, difference := range c.differences(fig) {
				t.Errorf("%s: %s, %s: %s", c.at, fig.Name, c.source, difference)
			}
		})
	}
}

func TestContradictionsOfAPrintedStep(t *testing.T) {
	step := routine.Step{Foot: routine.LF, Way: routine.Side, Turn: 2, Alignment: routine.Alignment{Stand: routine.Backing, To: routine.DC}, Footwork: "T"}
	require.Equal(t, "LF side, 1/4 R, backing DC, T", step.String())
	for cell, want := range map[string]string{
		"LF side, 1/4 R, backing DC, T": "",
		"LF side, 1/4 R":                "",
		"LF side…":                      "",
		"LF…":                           "",
		"LF, backing DC…":               "",
		"…":                             "",
		"RF side, 1/4 R":                "RF side",
		"RF…":                           "RF",
		"LF si…":                        "LF si",
		"LF":                            "LF",
		"LF small side, 1/4 R":          "LF small side",
		"LF side, 3/8 R":                "3/8 R",
		"LF side, 1/4 L":                "1/4 L",
		"LF side, backing DC, T":        "no turn",
		"LF side, 1/4 R, facing DC":     "facing DC",
		"LF side, 1/4 R, TH":            "TH",
	} {
		assert.Equal(t, want, contradiction(cell, &step), cell)
	}
	small := &routine.Step{Foot: routine.LF, Way: routine.Side, Size: routine.Small}
	require.Equal(t, "LF small side", small.String())
	for cell, want := range map[string]string{"LF side": "", "LF small side": "", "LF large side": "LF large side", "LF forward": "LF forward"} {
		assert.Equal(t, want, contradiction(cell, small), cell)
	}
}
