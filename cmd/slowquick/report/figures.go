package report

import (
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"text/tabwriter"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// Join says whether a figure can be danced beside another.
type Join struct {
	Danceable bool    `json:"danceable"`
	Name      string  `json:"name"`            // with the steps if only a part can be danced there
	Way       string  `json:"way,omitempty"`   // in which it is danced there, if not as charted
	Other     string  `json:"other,omitempty"` // the same of the figure that was asked about
	Turn      string  `json:"turn,omitempty"`  // that would make it danceable, before the first step
	Why       []Cause `json:"why,omitempty"`
}

// Cause is a reason for which a figure can't be danced there.
type Cause struct {
	Code    routine.Code `json:"code"`
	Message string       `json:"message"`
}

// Neighbours prints what can be danced after or before a figure, which where says, and, if all is set, why
// the rest can't. It returns how many it doesn't print.
func Neighbours(p Page, list []Figure, where, of string, all bool) (hidden int) {
	where += " " + of
	var can, cannot []Figure
	for _, e := range list {
		if e.Join.Danceable {
			can = append(can, e)
		} else {
			cannot = append(cannot, e)
		}
	}
	w := tabwriter.NewWriter(p, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "Can be danced %s:\n", where)
	for _, e := range can {
		fmt.Fprintf(w, "  %s\tlevel %d\tends %s\t%s\n", e.Join.Name, e.Level, e.Ends, e.Join.how(of))
	}
	if len(can) == 0 {
		fmt.Fprintln(w, "  none")
	}
	_ = w.Flush() // the output keeps its error
	if !all {
		return len(cannot)
	}
	if len(cannot) > 0 {
		fmt.Fprintf(p, "\nCan't be danced %s:\n", where)
	}
	for _, e := range cannot {
		why := e.Join.Why[0].Message
		for _, first := range []string{of, e.Name} { // the heading or the line says it already
			why = strings.TrimPrefix(why, "after "+first+" ")
		}
		fmt.Fprintln(p, p.Wrapped(e.Name+": "+why, "  ", "    "))
	}
	return 0
}

// how says how two figures are danced if not as charted; of is the one that was asked about.
func (j *Join) how(of string) string {
	var how []string
	if j.Way != "" {
		how = append(how, j.Way)
	}
	if j.Other != "" {
		how = append(how, of+" "+j.Other)
	}
	if j.Turn != "" {
		how = append(how, "after turning "+j.Turn+" before the first step")
	}
	return strings.Join(how, "; ")
}

// Figure is a figure as programs read it.
type Figure struct {
	library.Entry
	Join *Join `json:"join,omitempty"` // with the figure that was asked about
}

// Figures lists figures, and returns false if the page is too narrow for all columns.
func Figures(p Page, list []Figure) bool {
	rows := [][]string{{"DANCE", "FIGURE", "LEVEL", "COUNT", "STARTS", "ENDS"}}
	for _, e := range list {
		rows = append(rows, []string{e.Dance, e.Name, strconv.Itoa(e.Level), strings.Join(e.Counts, " "), e.Starts, e.Ends})
	}
	all, width := len(rows[0]), math.MaxInt
	columns := all
	if p.Fits {
		width = p.Columns
	}
	lines := term.Table(rows, nil, width)
	for lines == nil {
		if columns--; columns == 3 {
			width = math.MaxInt
		}
		for i := range rows {
			rows[i] = rows[i][:columns]
		}
		lines = term.Table(rows, nil, width)
	}
	fmt.Fprintln(p, strings.Join(lines, "\n"))
	return columns == all
}

// Origins says which figures are the dancer's own, from a folder, and which they replace.
func Origins(p Page, list []Figure, folder string) {
	before := "\n"
	for _, e := range list {
		if e.File == "" {
			continue
		}
		instead := ""
		if e.Overrides != "" {
			instead = ", in place of the one in " + e.Overrides
		}
		fmt.Fprintf(p, "%s%s is from %s%s\n", before, e.Name, harmless.Masked(filepath.Join(folder, e.File)), instead)
		before = ""
	}
}
