package handout

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/routine"
)

// Table is what a table lists.
type Table uint8

// What tables list: the steps of each figure, the lines of the order, or questions and their answers.
const (
	Charts Table = iota
	Order
	Cards
)

// TableNames are the names of the tables.
var TableNames = [...]string{Charts: "charts", Order: "order", Cards: "cards"}

// CSV writes a table for spreadsheets. What a spreadsheet would take for a formula has an apostrophe
// before it.
//
// Source: RFC 4180, Common Format and MIME Type for CSV Files.
func (k Table) CSV(w io.Writer, timeline *player.Timeline, o Options) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	for _, row := range k.rows(timeline, &o) {
		for i, cell := range row {
			row[i] = harmless.Handout(cell)
			if strings.ContainsAny(cell[:min(len(cell), 1)], "=+-@") {
				row[i] = "'" + row[i]
			}
		}
		_ = out.Write(row) // the error stays, and is returned below
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("write table: %w", err)
	}
	return nil
}

// TSV writes a table for programs that teach with cards: a line for each, its cells apart by tabs.
//
// Source: IANA, text/tab-separated-values: no cell holds a tab.
func (k Table) TSV(w io.Writer, timeline *player.Timeline, o Options) error {
	out := bufio.NewWriter(w)
	for _, row := range k.rows(timeline, &o) {
		for i, cell := range row {
			row[i] = harmless.Handout(cell) // without tabs
		}
		fmt.Fprintln(out, strings.Join(row, "\t"))
	}
	if err := out.Flush(); err != nil {
		return fmt.Errorf("write table: %w", err)
	}
	return nil
}

// rows returns the head of a table, if it has one, and its rows.
func (k Table) rows(timeline *player.Timeline, o *Options) [][]string {
	switch k {
	case Order:
		return orderRows(newProgramme(timeline, *o))
	case Cards:
		return cardRows(timeline, o)
	}
	return chartRows(timeline, o)
}

func orderRows(p *programme) [][]string {
	rows := [][]string{{"Line", "Figure", "Bars", "Begins at", "Remarks"}}
	for _, o := range p.Order {
		rows = append(rows, []string{strconv.Itoa(o.Number), o.Name, o.Bars, o.At, strings.Join(o.Remarks, "; ")})
	}
	return rows
}

// danced calls do for each figure that is danced, and each part of one, with the first passage that dances it.
func danced(timeline *player.Timeline, o *Options, do func(passage *routine.Passage, name string)) {
	type part struct {
		figure   *routine.Figure
		from, to int
	}
	seen := map[part]bool{}
	from, to := o.passages(timeline)
	for i := from; i < to; i++ {
		p := &timeline.Score.Passages[i]
		if key := (part{p.Figure, p.From, p.To}); !seen[key] {
			seen[key] = true
			do(p, fullName(p))
		}
	}
}

// fullName is what a passage dances, and how that differs from the chart.
func fullName(p *routine.Passage) string {
	if text := p.Figure.Differs(); text != "" {
		return p.Name() + " (" + text + ")"
	}
	return p.Name()
}

func chartRows(timeline *player.Timeline, o *Options) [][]string {
	head := []string{"Figure", "Step", "Count"}
	for _, q := range o.Partners() {
		who := title(q.String())
		head = append(head, who+"'s foot", who+" goes", who+"'s turn", who+"'s details")
	}
	rows := [][]string{append(head, "Position")}
	danced(timeline, o, func(p *routine.Passage, name string) {
		for i := p.From; i < p.To; i++ {
			r := &p.Figure.Rows[i]
			row := []string{name, strconv.Itoa(i + 1), r.Count.String()}
			positions := routine.PositionSet(0)
			for _, q := range o.Partners() {
				s := r.Steps[q]
				if !r.Written[q] {
					row = append(row, "", "", "", "")
					continue
				}
				foot := ""
				if !s.Stands() {
					foot = s.Foot.String()
				}
				turn := s.Varies.Text(s.Turn)
				positions |= s.Position
				s.Turn, s.Position, s.Varies = 0, 0, routine.Range{}
				row = append(row, foot, s.Where(), turn, strings.Join(s.Details(), ", "))
			}
			text := ""
			if positions != 0 {
				text = positions.String()
			}
			rows = append(rows, append(row, text))
		}
	})
	return rows
}

// cardRows asks for each partner what the figure is, what comes after each step, and what figure comes
// after each.
func cardRows(timeline *player.Timeline, o *Options) (rows [][]string) {
	danced(timeline, o, func(p *routine.Passage, name string) {
		for _, q := range o.Partners() {
			var steps []string
			for i := p.From; i < p.To; i++ {
				r := &p.Figure.Rows[i]
				if !r.Written[q] {
					continue
				}
				step := r.Count.String() + ": " + r.Steps[q].Words()
				if n := len(steps); n > 0 {
					rows = append(rows, []string{fmt.Sprintf("%s, %s: what comes after “%s”?", name, q, steps[n-1]), step})
				}
				steps = append(steps, step)
			}
			if len(steps) > 0 {
				rows = append(rows, []string{fmt.Sprintf("%s, %s: how does it begin?", name, q), steps[0]}, []string{fmt.Sprintf("%s, %s: all steps", name, q), strings.Join(steps, " · ")})
			}
		}
	})
	list := newProgramme(timeline, *o).Order
	for i := range list {
		question, answer := fmt.Sprintf("Order: what comes after line %d, %s?", list[i].Number, list[i].Name), "the end"
		if i+1 < len(list) {
			answer = list[i+1].Name
		}
		rows = append(rows, []string{question, answer})
	}
	return rows
}
