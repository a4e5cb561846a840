package library_test

import (
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/testdata/thorough"
)

// TestAWrongEighthIsFound: the turns of printed charts add up to their alignments, so a
// turn that is an eighth off is found, at its cell.
func TestAWrongEighthIsFound(t *testing.T) {
	tests := []struct {
		chapter, figure string
		old, new        string // the first old in the figure becomes new
	}{
		{"waltz.md", "Natural turn", "LF side, 1/4 R, backing DC, T", "LF side, 3/8 R, backing DC, T"},
		{"waltz.md", "Reverse turn", "LF side, 3/8 L, pointing LOD, T", "LF side, 1/4 L, pointing LOD, T"},
		{"waltz.md", "Natural turn", "RF close, 1/8 R, backing LOD, TH", "RF close, 1/4 R, backing LOD, TH"},
		{"waltz.md", "Natural turn", "RF side, 3/8 to 1/4 R, pointing DC, T", "RF side, 1/2 to 3/8 R, pointing DC, T"},
		{"waltz.md", "Natural turn", "LF side, 1/4 to 1/8 R, backing centre, T", "LF side, 1/8 to 0 R, backing centre, T"},
		{"waltz.md", "Reverse turn", "RF side, 1/4 L, backing DW, T", "RF side, 1/4 R, backing DW, T"},
		{"waltz.md", "Progressive chassé to the right", "LF side, 1/4 to 3/8 L, pointing DW, T", "LF side, 3/8 to 1/2 L, pointing DW, T"},
		{"waltz.md", "Drag hesitation", "LF close, 1/8 L, backing DW, no weight", "LF close, 1/4 L, backing DW, no weight"},
		{"viennese-waltz.md", "RF forward change", "LF diagonally forward, 1/8 R, facing DW", "LF diagonally forward, 1/4 R, facing DW"},
		{"foxtrot.md", "Closed impetus and feather finish", "RF close, 3/8 R, facing DC, HT, heel turn", "RF close, 1/2 R, facing DC, HT, heel turn"},
		{"tango.md", "Progressive link", "LF side and slightly back, 1/4 to 1/8 R, facing DC, in promenade", "LF side and slightly back, 3/8 to 1/4 R, facing DC, in promenade"},
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
// eighth more and, with THOROUGH=1, an eighth less. As the directions close (right turns clockwise,
// "backing" the opposite of facing), each is one finding, at that very cell.
func TestEveryWrongEighthIsFound(t *testing.T) {
	lib := shipped()
	offs := []routine.Turn{-1, 1}
	if !thorough.Asked() {
		offs = offs[1:]
	}
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
					for _, off := range offs {
						wrong := s
						wrong.Turn += off
						if wrong.Varies.Varies() {
							wrong.Varies = routine.Range{From: s.Varies.From + off, To: s.Varies.To + off}
						}
						from, to := s.At.Start.Offset, s.At.End.Offset
						sheet := front + text[start:from] + wrong.String() + text[to:end]
						at := len(front) + from - start
						_, found := routine.ReadChapter(c.File, []byte(sheet))
						var got []string
						for _, f := range found {
							if f.Code != "unknown-figure" { // which the dance's sequences name
								got = append(got, fmt.Sprintf("%s at %d", f.Code, f.Span.Start.Offset))
							}
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
	lib := shipped()
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
