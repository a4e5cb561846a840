package routine

import (
	"fmt"
	"slices"
	"strings"
)

// turns returns the changes of one turn that may mend a figure whose turns do not lead where it ends.
func (m *diagnosis) turns(v variant, f *fault) (list []mend) {
	if f.code != "end-contradicted" && f.code != "position-contradicted" || f.hint == "" {
		return nil
	}
	for _, t := range m.likelyTurns(v, f.row) {
		rows := slices.Clone(v.fig.Rows)
		s := &rows[t.row].Steps[t.partner]
		cause := *f
		cause.row, cause.at = t.row, s.At
		cause.hint = fmt.Sprintf("on %s, with %s for the %s instead of %s, it would be right; %s", rows[t.row].Count, t.turn.orNone(), t.partner, s.Turn.orNone(), f.hint)
		cause.related = []Related{{f.at, "here"}}
		s.Turn = t.turn
		list = append(list, mend{variant: v.with(rows, v.rows), cause: cause, fewer: 1, until: -1})
	}
	return list
}

// orNone returns t, or "no turn".
func (t Turn) orNone() string {
	if t == 0 {
		return "no turn"
	}
	return t.String()
}

// turnAt is another turn for one step.
type turnAt struct {
	row     int
	partner Partner
	turn    Turn
}

// likelyTurns returns the turns that may be meant up to a row, the likeliest first: what the library's
// figure has; as far as the partner turns; to the other side.
func (m *diagnosis) likelyTurns(v variant, until int) (list []turnAt) {
	rows := v.fig.Rows[:min(until+1, len(v.fig.Rows))]
	each := func(see func(i int, p Partner, s, other *Step)) {
		for i := range rows {
			for _, p := range Partners() {
				if s := &rows[i].Steps[p]; !s.Stands() && !s.unclear {
					see(i, p, s, &rows[i].Steps[1-p])
				}
			}
		}
	}
	each(func(i int, p Partner, s, _ *Step) {
		if m.model != nil && len(m.model.Rows) == len(v.fig.Rows) {
			if was := m.model.Rows[i].Steps[p].Turn; was != s.Turn {
				list = append(list, turnAt{i, p, was})
			}
		}
	})
	each(func(i int, p Partner, s, other *Step) {
		if s.Turn != 0 && other.Turn == 0 {
			list = append(list, turnAt{i, p, 0})
		}
		if other.Turn != 0 && s.Turn == 0 {
			list = append(list, turnAt{i, p, other.Turn}, turnAt{i, p, -other.Turn})
		}
	})
	each(func(i int, p Partner, s, other *Step) {
		if s.Turn != 0 && s.Turn != other.Turn {
			list = append(list, turnAt{i, p, -s.Turn})
		}
	})
	each(func(i int, p Partner, s, other *Step) {
		if s.Turn != 0 && s.Turn == other.Turn {
			list = append(list, turnAt{i, p, -s.Turn})
		}
	})
	return list
}

// turningRows says which steps turn, "the leader turns on 2 (1/4 R) and the follower on 3 (1/8 L)".
func turningRows(rows []Row) string {
	var texts []string
	for _, p := range Partners() {
		var at []string
		for i := range rows {
			if t := rows[i].Steps[p].Turns(); t != 0 && len(at) < 12 {
				at = append(at, fmt.Sprintf("%s (%s)", rows[i].Count, t))
			}
		}
		if len(at) > 0 {
			texts = append(texts, fmt.Sprintf("the %s turns on %s", p, strings.Join(at, ", ")))
		}
	}
	if len(texts) == 0 {
		return "nobody turns"
	}
	return strings.Join(texts, "; ")
}
