package practice

import (
	"fmt"

	"dance.example/slowquick/routine"
)

// chart returns a passage's steps, with one row marked.
func chart(p *routine.Passage, row int) []Line {
	lines := []Line{partners()}
	for r := p.From; r < p.To; r++ {
		l := stepsLine(p.Figure.Rows[r].Count.String(), p.Figure, r)
		l.Asked = r == row
		lines = append(lines, l)
	}
	return lines
}

// joinChart returns where a figure ends and where the one that can follow begins, which is marked.
func joinChart(first, next *routine.Figure) []Line {
	begins := stepsLine(next.Name+" begins", next, 0)
	begins.Asked = true
	return []Line{partners(), stepsLine(first.Name+" ends", first, len(first.Rows)-1), begins}
}

// partners is the line that says whose steps are below it.
func partners() Line {
	l := Line{Cells: []string{""}}
	for _, p := range routine.Partners() {
		l.Cells = append(l.Cells, p.String())
	}
	return l
}

// stepsLine is a row's steps after a name for it.
func stepsLine(name string, fig *routine.Figure, row int) Line {
	l := Line{Cells: []string{name}}
	for _, partner := range routine.Partners() {
		l.Cells = append(l.Cells, fig.Rows[row].Steps[partner].String())
	}
	return l
}

// order returns the lines of the order, with one marked.
func order(s *routine.Score, item int) []Line {
	var lines []Line
	for i := range s.Items {
		name := s.Items[i].Figure.Part(s.Items[i].From, s.Items[i].To)
		if n := s.Items[i].Times; n > 1 {
			name += fmt.Sprintf(" × %d", n)
		}
		lines = append(lines, Line{Cells: []string{fmt.Sprint(i + 1), name}, Asked: i == item})
	}
	return lines
}
