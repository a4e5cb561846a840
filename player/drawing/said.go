package drawing

import (
	"fmt"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/motion"
)

// Said says in words what the drawing of a passage shows: where it leads, how often the partners who are shown
// step and how far they turn and, if both are shown, which hands hold, the leader's first.
func Said(path *floor.Path, passage int, shown [2]bool) string {
	p := &path.Score.Passages[passage]
	var partners []string
	for _, q := range routine.Partners() {
		if shown[q] && p.Figure.Has[q] {
			partners = append(partners, steps(p, q))
		}
	}
	said := "The figure " + leads(path, passage) + "."
	if partners != nil {
		said += " " + capital(strings.Join(partners, "; ")) + "."
	}
	if shown[routine.Leader] && shown[routine.Follower] {
		said += " " + held(motion.Held(path, passage))
	}
	return said
}

// leads says where a passage leads the couple: relative to the line of dance or, in a dance that does
// not travel, as the leader sees it at the passage's start.
func leads(path *floor.Path, passage int) string {
	s := path.Score
	start, end := path.Start(passage), path.End
	if passage+1 < len(s.Passages) {
		end = path.Start(passage + 1)
	}
	way := end.Middle().Minus(start.Middle())
	corners := routine.CornerTurn * routine.Turn(s.Passages[passage].Corners%4)
	from, to := start[routine.Leader].Facing.Turned(corners), end[routine.Leader].Facing.Turned(corners)
	var goes string
	if s.Dance.Travels {
		goes = way.Turned(corners).Named("along the line of dance", "against the line of dance", "to the wall", "to the centre")
	} else {
		goes = way.Turned(-routine.Turn(start[routine.Leader].Facing)).Named("forward", "back", "to the right", "to the left")
	}
	text := "stays in place"
	if goes != "" {
		text = "goes " + goes
	}
	switch turn := from.To(to); {
	case s.Dance.Travels || s.Faces != nil:
		return text + "; the leader ends facing " + to.String()
	case turn == 0:
		return text + " and ends facing as it began"
	default:
		return text + " and ends turned " + turn.String()
	}
}

// steps says how often a partner steps in a passage, with which foot first, and how far the partner turns.
func steps(p *routine.Passage, q routine.Partner) string {
	n, first := 0, routine.NoFoot
	var right, left routine.Turn
	for row := p.From; row < p.To; row++ {
		s := &p.Figure.Rows[row].Steps[q]
		right, left = right+max(s.Turns(), 0), left+min(s.Turns(), 0)
		if s.Stands() {
			continue
		}
		if n++; first == routine.NoFoot {
			first = s.Foot
		}
	}
	text := q.String() + " no steps"
	if n > 0 {
		text = fmt.Sprintf("%s %s, %s first", q, routine.Plural(n, "step"), first)
	}
	var turns []string
	for _, t := range []routine.Turn{right, left} {
		if t != 0 {
			turns = append(turns, t.String())
		}
	}
	if turns == nil {
		return text
	}
	return text + ", " + strings.Join(turns, " and ")
}

// held says which hands hold in a passage: as it begins, and after each row.
func held(list [][2]motion.Hold) string {
	said := hands(list[0])
	changes := slices.ContainsFunc(list, func(h [2]motion.Hold) bool { return hands(h) != said })
	ends := hands(list[len(list)-1])
	switch {
	case !changes:
		return said + "."
	case ends == said:
		return said + " at first and at the end."
	}
	return fmt.Sprintf("%s at first, at the end %s.", said, strings.ToLower(ends[:1])+ends[1:])
}

// hands says which hands hold, the leader's first.
func hands(holds [2]motion.Hold) string {
	var said []string
	name := [...]string{motion.Left: "left", motion.Right: "right"}
	for _, h := range holds {
		switch {
		case h.Follower == motion.Back:
			return "Closed hold" // with the other hand (common practice)
		case h.Leader != motion.NoHand:
			said = append(said, name[h.Leader]+" to "+name[h.Follower])
		}
	}
	if said == nil {
		return "No hands held"
	}
	return "Hands " + strings.Join(said, ", ")
}
