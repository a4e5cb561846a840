// Package summary puts into words what a practice session came to: what was danced, what
// got better, what is next and when. It neither draws nor prints. Begin with [Of].
package summary

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// Section is a heading and the lines below it, each a sentence or an item of a list. Names in it come
// from a sheet and may hold anything: print them through package harmless.
type Section struct {
	Title string
	Lines []string
}

// mostDays is how many days the section on what is next names.
const mostDays = 4

// Of returns what a session of a dance came to, on the day it ends; nil if nothing was danced.
func Of(s practice.Summary, d *routine.Dance, today practice.Day) []Section {
	if s.RunThroughs == 0 {
		return nil
	}
	did := fmt.Sprintf("%s, %s of dancing", routine.Plural(s.RunThroughs, "run-through"), minutes(s.Dancing))
	if s.Planned > 0 {
		did = fmt.Sprintf("%d of %s, %s", s.Exercises, routine.Plural(s.Planned, "exercise"), did)
	}
	list := []Section{{s.Title + " today", []string{did}}}
	if figures := names(s.Danced); len(figures) > 0 {
		list = append(list, Section{"Danced", []string{strings.Join(figures, ", ")}})
	}
	better := betterLines(s.Better, d)
	if len(better) == 0 {
		better = []string{"Nothing was cleaner or faster than before, as far as you said"}
	}
	list = append(list, Section{"Better", better})
	if next := nextLines(s.Next, today); len(next) > 0 {
		list = append(list, Section{"Next", next})
	}
	return list
}

func minutes(d time.Duration) string {
	if d < time.Minute {
		return "less than a minute"
	}
	return routine.Plural(int(d.Round(time.Minute)/time.Minute), "minute")
}

// names returns the figures among pieces.
func names(pieces []practice.Piece) (list []string) {
	for _, p := range pieces {
		if !p.Join() {
			list = append(list, p.String())
		}
	}
	return list
}

// groups collects names by what is said about them, in the order in which they are added.
type groups struct {
	said  []string
	names map[string][]string
}

func (g *groups) add(name, said string) {
	if g.names == nil {
		g.names = map[string][]string{}
	}
	if g.names[said] == nil {
		g.said = append(g.said, said)
	}
	if !slices.Contains(g.names[said], name) {
		g.names[said] = append(g.names[said], name)
	}
}

// betterLines says what got better: figures that are cleaner or faster, and what no longer goes wrong.
func betterLines(list []practice.Better, d *routine.Dance) (lines []string) {
	var g groups
	for i, b := range list {
		if b.Piece.Join() && !b.Mended {
			continue // its figures say it
		}
		said := howBetter(b, d)
		other := func(o practice.Better) bool {
			return o.Piece == b.Piece && o.Partner != b.Partner && howBetter(o, d) == said
		}
		if !slices.ContainsFunc(list, other) {
			said += ", for the " + b.Partner.String()
		}
		g.add(list[i].Piece.String(), said)
	}
	for _, said := range g.said {
		lines = append(lines, strings.Join(g.names[said], ", ")+": "+said)
	}
	return lines
}

func howBetter(b practice.Better, d *routine.Dance) string {
	switch {
	case b.Now > b.Was && b.Was == 0:
		return "clean for the first time, at " + bars(d, b.Now)
	case b.Now > b.Was:
		return fmt.Sprintf("clean at %s, before at %s", bars(d, b.Now), bars(d, b.Was))
	}
	return "no longer goes wrong"
}

func bars(d *routine.Dance, t routine.Tempo) string {
	return routine.Decimal(d.BarsPerMinute(t), 1) + " bars/min"
}

// nextLines says when to dance what again, a day a line.
func nextLines(list []practice.Next, today practice.Day) (lines []string) {
	var g groups
	seen := map[practice.Piece]bool{}
	for _, n := range list {
		if seen[n.Piece] || n.Piece.Join() && (n.New || n.Day > today+1) {
			continue // of joins only what went wrong today
		}
		seen[n.Piece] = true
		day := n.Day.String()
		if n.Day == today+1 {
			day = "Tomorrow, " + day
		}
		g.add(n.Piece.String(), day)
	}
	for _, day := range g.said[:min(len(g.said), mostDays)] {
		lines = append(lines, day+": "+strings.Join(g.names[day], ", "))
	}
	return lines
}
