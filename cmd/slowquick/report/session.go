package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// Session lists the exercises of a session.
func Session(p Page, timeline *player.Timeline, s practice.Session, w practice.Wish) {
	d, own := timeline.Score.Dance, timeline.Score.Tempo
	tempo := func(percent float64) string { return roughly(d, own.Scaled(percent)) }
	by := ""
	if !w.By.IsZero() {
		by = " by " + w.By.Format(time.DateOnly)
	}
	lines := p.Lines(fmt.Sprintf("%s (%s), %s", harmless.Masked(s.Title), s.Dance, audio.Clock(s.Takes().Seconds())))
	lines = append(lines, p.Lines(fmt.Sprintf("from %s; today to %s; the goal is %s%s", tempo(s.Level), tempo(s.Today), tempo(s.Goal), by))...)
	lines = append(append(lines, ""), sessionLines(p, s, tempo)...)
	if s.Why != "" {
		lines = append(append(lines, ""), p.Lines(fmt.Sprintf("Not %g min: %s.", w.Minutes, s.Why))...)
	}
	if len(s.Tomorrow) > 0 {
		lines = append(append(lines, ""), p.Lines("Tomorrow: "+harmless.Masked(someOf(s.Tomorrow))+".")...)
	}
	fmt.Fprintln(p, strings.Join(lines, "\n"))
}

// mostNamed is how many names someOf gives.
const mostNamed = 6

// someOf names the first few of a list, and how many more there are.
func someOf(list []string) string {
	if more := len(list) - mostNamed; more > 1 {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:mostNamed], ", "), more)
	}
	return strings.Join(list, ", ")
}

// sessionRow is a line of the list of a session: an exercise, or all that take turns.
type sessionRow struct {
	practice.Exercise
	last float64 // tempo
}

// sessionRows returns the lines of a session's list.
func sessionRows(s practice.Session) (rows []sessionRow) {
	var names []string // of those that take turns
	for _, e := range s.Exercises {
		row := sessionRow{e, e.Tempi.Of(e.Passes - 1)}
		if e.Kind != practice.Mixed {
			rows, names = append(rows, row), nil
			continue
		}
		if names == nil {
			row.Takes, row.Passes, row.Why = 0, 0, "first by heart, then with the steps"
			rows = append(rows, row)
		}
		turns := &rows[len(rows)-1]
		turns.Takes += e.Takes
		turns.Passes += e.Passes
		turns.Tempi.Start, turns.last = min(turns.Tempi.Start, row.Tempi.Start), max(turns.last, row.last)
		if e.Dancers != turns.Dancers {
			turns.Dancers = routine.Both
		}
		if !slices.Contains(names, e.What) {
			names = append(names, e.What)
		}
		if turns.What = names[0]; len(names) > 1 {
			turns.What = "by turns: " + strings.Join(names, "; ")
		}
	}
	return rows
}

// sessionLines returns a table of the exercises of a session that fits the page.
func sessionLines(p Page, s practice.Session, tempo func(percent float64) string) []string {
	bars := func(percent float64) string { return strings.TrimSuffix(tempo(percent), " bars/min") }
	rows := [][]string{{"AT", "TIME", "DANCE", "PARTNER", "BARS/MIN", "TIMES", "WHY"}}
	narrow := [][]string{{"AT", "TIME", "DANCE"}}
	at := time.Duration(0)
	for _, st := range sessionRows(s) {
		row := []string{audio.Clock(at.Seconds()), audio.Clock(st.Takes.Seconds()), harmless.Masked(st.What)}
		below := row
		if st.Kind == practice.Breather {
			row = append(row, "", "", "", "")
		} else {
			tempi := bars(st.Tempi.Start)
			if st.last > st.Tempi.Start {
				tempi += " to " + bars(st.last)
			}
			row = append(row, st.Dancers.String(), tempi, strconv.Itoa(st.Passes), st.Why)
			below = append(below, st.Dancers.String()+", "+tempi+" bars/min, "+routine.Plural(st.Passes, "run-through"), st.Why)
		}
		rows, narrow = append(rows, row), append(narrow, below)
		at += st.Takes
	}
	const dance, why = 2, 6
	return p.table(rows, []int{dance, why}, narrow, dance)
}
