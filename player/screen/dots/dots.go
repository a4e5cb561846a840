// Package dots writes on rows what package plan draws in dots: the plan of the
// floor.
package dots

import (
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// Write writes a line of the plan, changing the ink as seldom as it can.
func Write(r *term.Row, cells []plan.Cell, t *term.Theme) {
	inks := [...]term.Ink{plan.Blank: term.Plain, plan.LeaderInk: t.Partners[routine.Leader], plan.FollowerInk: t.Partners[routine.Follower], plan.RoomInk: term.Plain}
	for len(cells) > 0 && cells[len(cells)-1].Rune == ' ' {
		cells = cells[:len(cells)-1]
	}
	for from := 0; from < len(cells); {
		to := from
		text := make([]rune, 0, len(cells))
		for ; to < len(cells) && cells[to].Ink == cells[from].Ink; to++ {
			text = append(text, cells[to].Rune)
		}
		r.Put(inks[cells[from].Ink], string(text))
		from = to
	}
}
