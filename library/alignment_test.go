package library_test

import (
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
)

// chart is a figure as printed: each row is the count, then the beginnings of the
// leader's and the follower's cell, in our words. A "…" stands where the chart says
// nothing, charts differ, or the words are ours.
type chart struct {
	dance, figure, source string
	rows                  []string
}

// charts are printed charts of the trade. "Common practice" means that several printed
// charts agree, or one chart and the alignments.
var charts = []chart{
	{"waltz", "box step", "common practice", []string{
		"1 | LF forward | RF back", "2 | RF side | LF side", "3 | LF close | RF close",
		"1 | RF back | LF forward", "2 | LF side | RF side", "3 | RF close | LF close",
	}},
	{"waltz", "natural turn", "common practice", []string{
		"1 | RF forward, facing DW, HT | LF back, backing DW, TH",
		"2 | LF side, 1/4 R, backing DC, T | RF side, 3/8 R, pointing LOD, T",
		"3 | RF close, 1/8 R, backing LOD, TH | LF close, facing LOD, TH",
		"1 | LF back, backing LOD, TH | RF forward, facing LOD, HT",
		"2 | RF side, 3/8 R, pointing DC, T | LF side, 1/4 R, backing centre, T",
		"3 | LF close, facing DC, TH | RF close, 1/8 R, backing DC, TH",
	}},
	{"waltz", "progressive chassé to the right", "common practice", []string{
		"1 | LF forward, facing DC, HT | RF back, backing DC, TH",
		"2 | RF side, 1/8 L, backing wall, T | LF side, 1/4 L, pointing DW, T",
		"& | LF close, 1/8 L, backing DW, T | RF close, facing DW, T",
		"3 | RF side and slightly back, backing DW, TH | LF side and slightly forward, facing DW, TH",
	}},
	{"waltz", "drag hesitation", "common practice", []string{
		"1 | LF forward, facing LOD, HT | RF back…",
		"2 | RF side, 1/4 L, backing wall, T | LF side, 1/4 L, facing wall, T",
		"3 | LF close, 1/8 L, backing DW, no weight | RF close, 1/8 L, facing DW, no weight",
	}},
	{"waltz", "chassé from promenade", "common practice for the leader and the follower's first step", []string{
		"1 | RF forward and across… | LF forward and across, facing DC…",
		"2 | LF side and slightly forward… | RF side…", "& | RF close… | LF close…",
		"3 | LF side and slightly forward… | RF side and slightly back, backing DW, TH",
	}},
	{"viennese waltz", "RF forward change", "common practice", []string{
		"1 | RF forward, 1/8 R, facing LOD | LF back, 1/8 R, backing LOD",
		"2 | LF diagonally forward, 1/8 R, facing DW | RF diagonally back, 1/8 R, backing DW",
		"3 | RF close | LF close",
	}},
	{"foxtrot", "feather step", "common practice", []string{
		"S | RF forward… | LF back…", "Q | LF forward… | RF back…", "Q | RF forward… | LF back…",
	}},
	{"foxtrot", "three step", "common practice", []string{
		"S | LF forward, HT | RF back, TH", "Q | RF forward, HT | LF back, TH", "Q | LF forward, TH | RF back, TH",
	}},
	{"foxtrot", "closed impetus and feather finish", "common practice for the leader and the follower's first two steps", []string{
		"S | LF back, backing LOD, TH | RF forward, facing LOD, HT",
		"Q | RF close, 3/8 R, facing DC, HT, heel turn | LF side, 3/8 R, backing DC, T",
		"Q | LF side and slightly back, 1/4 R, backing DC against LOD, TH | RF…",
		"S | RF back… | LF…", "Q | LF side and slightly forward, 1/4 L, pointing DC, T | RF…",
		"Q | RF forward, facing DC, TH, CBMP, outside partner | LF…",
	}},
	{"quickstep", "progressive chassé", "common practice", []string{
		"S | RF back, backing DC, TH | LF forward…", "Q | LF side, 1/4 L… | RF side…", "Q | RF close… | LF close…",
		"S | LF side and slightly forward… | RF back and slightly side…",
	}},
	{"tango", "progressive link", "common practice", []string{
		"Q | LF forward, facing DW, CBMP | RF back, backing DW, CBMP",
		"Q | RF side and slightly back, facing DW, in promenade | LF side and slightly back, 1/4 R, facing DC, in promenade",
	}},
	{"rumba", "closed basic", "common practice", []string{
		"2 | LF forward | RF back", "3 | RF replace | LF replace", "4-1 | LF side | RF side",
		"2 | RF back | LF forward", "3 | LF replace | RF replace", "4-1 | RF side | LF side",
	}},
	{"cha-cha", "closed basic", "common practice, three printed charts agree", []string{
		"2 | LF forward | RF back", "3 | RF replace | LF replace", "4 | LF side | RF side", "& | RF half close | LF half close", "1 | LF side | RF side",
		"2 | RF back | LF forward", "3 | LF replace | RF replace", "4 | RF side | LF side", "& | LF half close | RF half close", "1 | RF side | LF side",
	}},
	{"waltz", "RF closed change", "common practice, with the leader's footwork", []string{
		"1 | RF forward, HT | LF back…", "2 | LF side and slightly forward, T | RF side and slightly back…", "3 | RF close, TH | LF close…",
	}},
	{"waltz", "LF closed change", "common practice, the other's mirror", []string{
		"1 | LF forward, HT | RF back…", "2 | RF side and slightly forward, T | LF side and slightly back…", "3 | LF close, TH | RF close…",
	}},
	{"waltz", "whisk", "common practice", []string{
		"1 | LF forward… | RF back…", "2 | RF side… | LF…", "3 | LF cross behind, facing DW, TH, in promenade | RF cross behind…",
	}},
	{"waltz", "reverse turn", "common practice", []string{
		"1 | LF forward, facing DC, HT | RF back, backing DC, TH",
		"2 | RF side, 1/4 L, backing DW, T | LF side, 3/8 L, pointing LOD, T",
		"3 | LF close, 1/8 L, backing LOD, TH | RF close, facing LOD, TH",
		"1 | RF back, backing LOD, TH | LF forward, facing LOD, HT",
		"2 | LF side, 3/8 L, pointing DW, T | RF side, 1/4 L, backing wall, T",
		"3 | RF close, facing DW, TH | LF close, 1/8 L, backing DW, TH",
	}},
	{"waltz", "natural spin turn", "common practice for the first half", []string{
		"1 | RF forward, facing DW, HT | LF back, backing DW, TH",
		"2 | LF side, 1/4 R, backing DC, T | RF side, 3/8 R, pointing LOD, T",
		"3 | RF close, 1/8 R, backing LOD, TH | LF close, facing LOD, TH",
		"1 | LF back, backing LOD, THT | RF forward, facing LOD, HT", "2 | RF forward… | LF back…", "3 | LF… | RF…",
	}},
	{"waltz", "hesitation waltz of 1914", "Vernon and Irene Castle, Modern Dancing, Harper 1914, p. 71", []string{
		"1 | RF back | LF forward", "2 | LF back | RF forward", "3 | RF forward | LF back", "1-3 | LF forward | RF back",
	}},
	{"social foxtrot", "forward basic", "common practice", []string{
		"S | LF forward | RF back", "S | RF forward | LF back", "Q | LF side | RF side", "Q | RF close | LF close",
	}},
	{"tango", "two walks", "common practice", []string{"S | LF forward… | RF back…", "S | RF forward | LF back"}},
	{"tango", "progressive side step", "common practice for the leader", []string{
		"Q | LF forward, H, CBMP | RF…", "Q | RF side and slightly back, IE | LF…", "S | LF forward, H, CBMP | RF…",
	}},
	{"tango", "open promenade", "common practice", []string{
		"S | LF side… | RF side…", "Q | RF forward and across… | LF forward and across…", "Q | LF side and slightly forward… | RF side and slightly back…",
		"S | RF forward, CBMP, outside partner | LF back, CBMP, outside partner",
	}},
	{"tango", "american tango basic", "common practice for the leader; the last is drawn without weight", []string{
		"S | LF forward | RF…", "S | RF forward | LF…", "Q | LF forward | RF…", "Q | RF side | LF…", "S | LF close, draw | RF…",
	}},
	{"rumba", "new york to the left side", "common practice; the follower opposite", []string{
		"2 | LF forward, 1/4 R… | RF forward, 1/4 L…", "3 | RF replace | LF replace", "4-1 | LF side, 1/4 L | RF side, 1/4 R",
	}},
	{"rumba", "spot turn to the left", "common practice", []string{
		"2 | RF forward, 1/4 L | LF forward, 1/4 R", "3 | LF replace, 1/2 L | RF replace, 1/2 R", "4-1 | RF side, 1/4 L | LF side, 1/4 R",
	}},
	{"rumba", "hockey stick", "common practice for the follower", []string{
		"2 | LF… | RF close", "3 | RF… | LF forward", "4-1 | LF… | RF forward", "2 | RF… | LF forward…", "3 | LF… | RF forward", "4-1 | RF… | LF back…",
	}},
	{"cha-cha", "side step to the left", "common practice", []string{
		"2 | LF side | RF side", "3 | RF close | LF close", "4 | LF side | RF side", "& | RF half close | LF half close", "1 | LF side | RF side",
	}},
	{"cha-cha", "new york to the left side", "Philippine Department of Education, Physical Education 9 Learner's Material, draft 2014, p. 60, for the feet", []string{
		"2 | LF forward… | RF forward…", "3 | RF replace | LF replace", "4 | LF side… | RF side…", "& | RF… | LF…", "1 | LF side | RF side",
	}},
	{"cha-cha", "time step", "common practice", []string{
		"2 | LF close | RF close", "3 | RF in place | LF in place", "4 | LF side | RF side", "& | RF… | LF…", "1 | LF side | RF side",
		"2 | RF close | LF close", "3 | LF in place | RF in place", "4 | RF side | LF side", "& | LF… | RF…", "1 | RF side | LF side",
	}},
	{"samba", "bota fogo to promenade", "common practice", []string{
		"1 | LF forward | RF back", "a | RF side, part weight | LF side, part weight", "2 | LF replace… in promenade | RF replace… in promenade",
	}},
	{"samba", "travelling volta to the right", "common practice for the pattern and its count", []string{
		"1 | LF cross in front | RF cross in front", "a | RF side… | LF side…", "2 | LF cross in front | RF cross in front", "a | RF side… | LF side…",
		"3 | LF cross in front | RF cross in front", "a | RF side… | LF side…", "4 | LF cross in front | RF cross in front",
	}},
	{"samba", "progressive basic", "a printed chart, with its alignments", []string{
		"1 | RF forward, facing DW | LF back, backing DW", "a | LF close, part weight | RF close, part weight", "2 | RF in place | LF in place",
		"1 | LF side, facing DW | RF side, backing DW", "a | RF close, part weight | LF close, part weight", "2 | LF in place | RF in place",
	}},
	{"samba", "open rocks", "a printed chart", []string{
		"S | RF forward | LF back", "Q | LF small forward | RF small back, 1/4 R", "Q | RF replace | LF replace",
		"S | LF forward | RF back and slightly side…", "Q | RF small forward | LF small back, 1/4 L", "Q | LF replace | RF replace…",
	}},
	{"paso doble", "sur place", "common practice: on the balls, right foot first", []string{
		"1 | RF in place, B | LF in place, B", "2 | LF in place, B | RF in place, B", "3 | RF in place, B | LF in place, B", "4 | LF in place, B | RF in place, B",
		"5 | RF in place, B | LF in place, B", "6 | LF in place, B | RF in place, B", "7 | RF in place, B | LF in place, B", "8 | LF in place, B | RF in place, B",
	}},
	{"salsa", "cross-body lead", "common practice", []string{
		"1 | LF forward | RF back", "2 | RF replace | LF replace", "3-4 | LF side… | RF forward…", "5 | RF back | LF forward", "6 | LF replace… | RF…", "7-8 | RF forward… | LF back…",
	}},
	{"samba", "natural basic", "common practice", []string{
		"1 | RF forward | LF back", "a | LF close, part weight | RF close, part weight", "2 | RF in place | LF in place",
		"1 | LF back | RF forward", "a | RF close, part weight | LF close, part weight", "2 | LF in place | RF in place",
	}},
}

func TestFiguresAreAsPrinted(t *testing.T) {
	lib := library.Open()
	for _, c := range charts {
		t.Run(c.dance+"/"+c.figure, func(t *testing.T) {
			d, ok := lib.Dance(c.dance)
			require.True(t, ok)
			fig, ok := lib.Figure(d, c.figure)
			require.True(t, ok)
			require.Len(t, fig.Rows, len(c.rows))
			for i, row := range c.rows {
				cells := strings.Split(row, " | ")
				assert.Equal(t, cells[0], fig.Rows[i].Count.String(), "row %d", i+1)
				for _, p := range routine.Partners() {
					have := fig.Rows[i].Steps[p].String()
					if want, end, open := strings.Cut(cells[1+p], "…"); open {
						rest, ok := strings.CutPrefix(have, want)
						assert.Truef(t, ok && strings.HasSuffix(rest, end), "row %d, %s: %q is not %q (%s)", i+1, p, have, cells[1+p], c.source)
					} else {
						assert.Equal(t, want, have, "row %d, %s (%s)", i+1, p, c.source)
					}
				}
			}
		})
	}
}

// TestAWrongEighthIsFound: the turns of printed charts add up to their alignments, so a
// turn that is an eighth off is found, at its cell.
func TestAWrongEighthIsFound(t *testing.T) {
	tests := []struct {
		chapter, figure string
		old, new        string // the first old in the figure becomes new
	}{
		{"waltz.md", "Natural turn", "LF side, 1/4 R, backing DC, T", "LF side, 3/8 R, backing DC, T"},
		{"waltz.md", "Natural turn", "RF side, 3/8 R, pointing LOD, T", "RF side, 1/4 R, pointing LOD, T"},
		{"waltz.md", "Natural turn", "RF close, 1/8 R, backing LOD, TH", "RF close, 1/4 R, backing LOD, TH"},
		{"waltz.md", "Natural turn", "RF side, 3/8 R, pointing DC, T", "RF side, 1/2 R, pointing DC, T"},
		{"waltz.md", "Natural turn", "LF side, 1/4 R, backing centre, T", "LF side, 1/8 R, backing centre, T"},
		{"waltz.md", "Reverse turn", "RF side, 1/4 L, backing DW, T", "RF side, 1/4 R, backing DW, T"},
		{"waltz.md", "Progressive chassé to the right", "LF side, 1/4 L, pointing DW, T", "LF side, 3/8 L, pointing DW, T"},
		{"waltz.md", "Drag hesitation", "LF close, 1/8 L, backing DW, no weight", "LF close, 1/4 L, backing DW, no weight"},
		{"viennese-waltz.md", "RF forward change", "LF diagonally forward, 1/8 R, facing DW", "LF diagonally forward, 1/4 R, facing DW"},
		{"foxtrot.md", "Closed impetus and feather finish", "RF close, 3/8 R, facing DC, HT, heel turn", "RF close, 1/2 R, facing DC, HT, heel turn"},
		{"tango.md", "Progressive link", "LF side and slightly back, 1/4 R, facing DC, in promenade", "LF side and slightly back, 3/8 R, facing DC, in promenade"},
	}
	files := os.DirFS(".")
	for _, tt := range tests {
		t.Run(tt.figure+"/"+tt.new, func(t *testing.T) {
			src, err := fs.ReadFile(files, tt.chapter)
			require.NoError(t, err)
			text := string(src)
			figure := strings.Index(text, "## "+tt.figure+"\n")
			require.GreaterOrEqual(t, figure, 0)
			cell := strings.Index(text[figure:], "| "+tt.old+" ")
			require.GreaterOrEqual(t, cell, 0, tt.old)
			at := figure + cell + len("| ")
			text = text[:at] + tt.new + text[at+len(tt.old):]
			_, found := routine.ReadChapter(tt.chapter, []byte(text))
			require.NotEmpty(t, found)
			assert.Equal(t, routine.Code("alignment-contradicted"), found[0].Code, found[0].Message)
			assert.Equal(t, at, found[0].Span.Start.Offset)
			assert.Equal(t, strings.Count(text[:at], "\n")+1, found[0].Span.Start.Line)
		})
	}
}

// TestEveryWrongEighthIsFound turns each step of the library that states its alignment an
// eighth more and an eighth less. As the directions close (right turns clockwise,
// "backing" the opposite of facing), each is one finding, at that very cell.
func TestEveryWrongEighthIsFound(t *testing.T) {
	lib := library.Open()
	cells := 0
	for _, name := range lib.Dances() {
		c, ok := lib.Chapter(name)
		require.True(t, ok)
		src, err := os.ReadFile(c.File)
		require.NoError(t, err)
		text := string(src)
		front := text[:strings.Index(text, "\n# ")+1]
		for _, fig := range c.Figures {
			if fig.Starts.Facing[routine.Leader].Stand == routine.NoStand {
				continue // nothing is known before the first alignment
			}
			// Only this figure, for speed.
			start := strings.LastIndex(text[:fig.At.Start.Offset], "\n") + 1
			end := len(text)
			if i := strings.Index(text[start+1:], "\n## "); i >= 0 {
				end = start + 1 + i
			}
			// A promenade may be opened more or less, so the follower's first
			// alignment may be any of three.
			loose := fig.Starts.Positions.String() == "promenade"
			for _, row := range fig.Rows {
				for _, p := range routine.Partners() {
					s := row.Steps[p]
					if s.Alignment.Stand == routine.NoStand {
						continue
					}
					if p == routine.Follower && loose {
						loose = false
						continue
					}
					for _, off := range []routine.Turn{-1, 1} {
						wrong := s
						wrong.Turn += off
						from, to := s.At.Start.Offset, s.At.End.Offset
						sheet := front + text[start:from] + wrong.String() + text[to:end]
						at := len(front) + from - start
						_, found := routine.ReadChapter(c.File, []byte(sheet))
						var got []string
						for _, f := range found {
							got = append(got, fmt.Sprintf("%s at %d", f.Code, f.Span.Start.Offset))
						}
						assert.Equal(t, []string{fmt.Sprintf("alignment-contradicted at %d", at)}, got, "%s, %s on %s: %s", fig.Name, p, row.Count, &wrong)
						cells++
					}
				}
			}
		}
	}
	assert.Greater(t, cells, 400)
}

// TestTurnsSumToTheAlignments: each partner's turns in a figure add up to the turn from
// its first alignment to its last.
func TestTurnsSumToTheAlignments(t *testing.T) {
	tests := []struct {
		dance, figure    string
		leader, follower routine.Turn // totals, in eighths
		source           string
	}{
		{"waltz", "natural turn", 6, 6, "DW to DC: three quarters (common practice)"},
		{"waltz", "reverse turn", -6, -6, "DC to DW: three quarters (common practice)"},
		{"waltz", "natural spin turn", 10, 10, "DW to backing DC (common practice)"},
		{"quickstep", "progressive chassé", -2, -2, "a quarter to the left in all (common practice)"},
		{"rumba", "spot turn to the left", -8, 8, "a quarter, a half and a quarter are one whole turn (common practice)"},
		{"jive", "stop and go", 0, 0, "half to the left and half to the right for the follower (a printed step list)"},
		{"jive", "windmill", -4, -4, "3/8 and 1/8 (a printed step list)"},
		{"samba", "reverse turn", -7, -7, "three eighths and two quarters (a printed chart)"},
		{"salsa", "cross-body lead", -4, -4, "the couple has exchanged places by half a turn (common practice)"},
	}
	lib := library.Open()
	for _, tt := range tests {
		d, ok := lib.Dance(tt.dance)
		require.True(t, ok)
		fig, ok := lib.Figure(d, tt.figure)
		require.True(t, ok, tt.figure)
		var sum [2]routine.Turn
		for _, r := range fig.Rows {
			sum[0] += r.Steps[0].Turn
			sum[1] += r.Steps[1].Turn
		}
		assert.Equal(t, [2]routine.Turn{tt.leader, tt.follower}, sum, "%s: %s", tt.figure, tt.source)
	}
}
