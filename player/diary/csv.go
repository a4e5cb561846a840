package diary

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"dance.example/slowquick/routine"
)

// WriteCSV writes a line for each run-through as comma-separated values (RFC 4180), none of which
// a spreadsheet calculates. A nil diary is empty. Where the diary is damaged, the error is a
// *Damaged and the rest is written.
func (d *Diary) WriteCSV(out io.Writer) error {
	entries := func(func(Entry, error) bool) {}
	if d != nil {
		entries = d.Entries("")
	}
	w := csv.NewWriter(out)
	err := w.Write([]string{"practice", "ended", "dance", "sheet", "danced", "side", "beats_per_minute", "seconds", "finished", "judged", "clean", "marks"})
	for e, readErr := range entries {
		if err = cmp.Or(readErr, err); err != nil {
			break
		}
		cells := []string{
			strconv.FormatInt(e.Practice, 10), e.At.Format(time.RFC3339), e.Sheet.Dance, e.Sheet.Title, e.danced(), e.Dancers.String(),
			strconv.FormatFloat(e.Tempo.Float(), 'f', -1, 64), strconv.FormatFloat(float64(e.Took.Milliseconds())/1000, 'f', -1, 64),
			strconv.FormatBool(e.Finished), whose(e.Judged), whose([2]bool{e.Clean(routine.Leader), e.Clean(routine.Follower)}), e.marks(),
		}
		err = w.Write(noFormulas(cells))
	}
	w.Flush()
	return cmp.Or(err, w.Error())
}

// WriteTimingCSV writes a line for each count whenever steps were tapped, like WriteCSV. Milliseconds are
// negative if they are early.
func (d *Diary) WriteTimingCSV(out io.Writer) error {
	w := csv.NewWriter(out)
	err := w.Write([]string{"ended", "dance", "sheet", "beats_per_minute", "count", "ms", "spread_ms", "taps", "all_ms", "unsure_ms", "drift_percent"})
	list, damaged := d.Timings()
	number := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	for i := range list {
		t := list[i].exported()
		drift := ""
		if t.Drift != nil {
			drift = number(math.Round(*t.Drift*1e6) / 1e4)
		}
		for _, c := range t.Counts {
			err = cmp.Or(err, w.Write(append(noFormulas([]string{t.At, t.Dance, t.Sheet, number(t.Tempo.Float()), c.Name}),
				number(c.Median), number(c.Spread), strconv.Itoa(c.Taps), number(t.Whole), number(t.Unsure), drift)))
		}
	}
	w.Flush()
	return cmp.Or(err, damaged, w.Error())
}

// noFormulas applies noFormula to each cell.
func noFormulas(cells []string) []string {
	for i := range cells {
		cells[i] = noFormula(cells[i])
	}
	return cells
}

// whose names partners; "" for none of them.
func whose(partners [2]bool) string {
	switch partners {
	case [2]bool{true, true}:
		return routine.Both.String()
	case [2]bool{true, false}:
		return routine.LeaderAlone.String()
	case [2]bool{false, true}:
		return routine.FollowerAlone.String()
	}
	return ""
}

// danced lists the figures of a run-through.
func (e *Entry) danced() string {
	names := make([]string, len(e.Danced))
	for i, d := range e.Danced {
		if names[i] = d.Figure.Name; !d.Whole {
			names[i] += " (in part)"
		}
	}
	return strings.Join(names, "; ")
}

// marks lists what went wrong in a run-through, and for whom.
func (e *Entry) marks() string {
	var texts []string
	for _, m := range e.Marks {
		name := e.Danced[m.Place].Figure.Name
		if m.Join {
			name = e.Danced[m.Place-1].Figure.Name + " into " + name
		}
		texts = append(texts, fmt.Sprintf("%s (%s)", name, m.Partner))
	}
	return strings.Join(texts, "; ")
}

// noFormula puts a ' before whatever a spreadsheet would calculate: at the start of a
// text, or after what it may take for the end of a cell, as some take semicolons.
//
// Source: OWASP, CSV Injection.
func noFormula(text string) string {
	var out strings.Builder
	begins := true // a cell
	for _, r := range text {
		if begins && strings.ContainsRune("=+-@\t\r\n", r) {
			out.WriteByte('\'')
		}
		out.WriteRune(r)
		begins = strings.ContainsRune(",;\"\t\r\n", r)
	}
	return out.String()
}
