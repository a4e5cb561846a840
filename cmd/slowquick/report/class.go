package report

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/lessons"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// Class lists what a class knows.
func Class(p Page, name string, list []lessons.Had, now time.Time) {
	known := lessons.Knows(list)
	head := fmt.Sprintf("%s knows %s from %s", harmless.Masked(name), routine.Plural(len(known), "figure"), routine.Plural(lessons.Days(list), "lesson"))
	fmt.Fprintln(p, strings.Join(p.Lines(head), "\n"))
	if len(known) == 0 {
		return
	}
	rows := [][]string{{"FIGURE", "DANCE", "LESSONS", "LAST", "REVISE"}}
	var narrow [][]string
	for _, k := range known {
		rows = append(rows, []string{harmless.Masked(k.Figure), harmless.Masked(k.Dance), strconv.Itoa(k.Times), k.Last.Format(time.DateOnly), revise(k, now)})
		narrow = append(narrow, []string{harmless.Masked(k.Figure), "revise " + revise(k, now)})
	}
	fmt.Fprintln(p, "\n"+strings.Join(p.table(rows, []int{0, 4}, narrow, 0), "\n"))
}

// revise says when to revise a figure.
func revise(k lessons.Known, now time.Time) string {
	switch late := int(practice.DayOf(now) - k.Due()); {
	case late > 0:
		return "now, " + routine.Plural(late, "day") + " overdue"
	case late == 0:
		return "now"
	}
	return k.Due().String()
}

// Known is what is known of a figure that a class had, as programs read it.
type Known struct {
	Dance  string `json:"dance"`
	Figure string `json:"figure"`
	Times  int    `json:"lessons"`
	First  string `json:"first"`
	Last   string `json:"last"`
	Days   int    `json:"daysOverdue"` // below 0 before it is due
}

// KnownTo returns what a class knows, as programs read it.
func KnownTo(list []lessons.Had, now time.Time) []Known {
	entries := []Known{}
	for _, k := range lessons.Knows(list) {
		entries = append(entries, Known{k.Dance, k.Figure, k.Times, k.First.Format(time.DateOnly), k.Last.Format(time.DateOnly), int(practice.DayOf(now) - k.Due())})
	}
	return entries
}
