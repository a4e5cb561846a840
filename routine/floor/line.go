package floor

import (
	"fmt"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// How far, in centimetres, a figure may take the couple against the line of dance. One whose chart says how
// it is aligned may do so by nature, as a back corté or a fallaway does.
const (
	against         = 50.0
	againstByNature = 120.0
)

// againstLine reports the figures of a dance that travels which go against the line of dance, or are begun
// where they aren't done. If the couple may begin on several alignments, it is judged on the best of them.
func againstLine(path *Path) []routine.Finding {
	if s := path.Score; !s.Dance.Travels || !s.Known {
		return nil
	}
	l := line{path: path}
	for i := range path.Score.Passages {
		end := path.after(i)
		l.ways = append(l.ways, end.middleOf(path.Score.Passages[i].Figure).Minus(path.starts[i].middleOf(path.Score.Passages[i].Figure)))
	}
	var best []routine.Finding
	for n, turn := range path.Score.Turnable() {
		if found := l.judged(turn); n == 0 || len(found) < len(best) {
			best = found
		}
	}
	return best
}

// middleOf returns the middle of the partners whose steps a figure has.
func (c *Couple) middleOf(fig *routine.Figure) Point {
	for _, q := range routine.Partners() {
		if !fig.Has[1-q] {
			return c[q].Body
		}
	}
	return c.Middle()
}

// line judges a path against the line of dance.
type line struct {
	path *Path
	ways []Point // of the couple's middle in each passage
}

// judged returns what is wrong with the path if the couple as a whole begins turned by t. What follows a
// figure that is wrong, before the couple is where it should be again, is wrong for the same reason.
func (l *line) judged(t routine.Turn) (found []routine.Finding) {
	s := l.path.Score
	astray := false
	for i := range s.Passages {
		p := &s.Passages[i]
		message, hint := l.wrong(i, t)
		switch {
		case message == "":
			astray = astray && !p.Aligned() && !p.Figure.MindsWhere()
		case !astray:
			astray = true
			found = append(found, routine.NewFinding("against-line-of-dance", s.Items[p.Item].At, message, hint))
		}
	}
	return found
}

// wrong says what is wrong with a passage, and the way out; "" if nothing is.
func (l *line) wrong(i int, t routine.Turn) (message, hint string) {
	s := l.path.Score
	p := &s.Passages[i]
	name := s.Items[p.Item].Name
	leader := l.path.starts[i][routine.Leader]
	faces := leader.Facing.Turned(leader.lag + t)
	fine := func(corners int) bool { return l.fine(i, t, corners, faces) }
	if !slices.ContainsFunc(l.corners(i), fine) {
		now := faces.Turned(routine.CornerTurn * routine.Turn(p.Corners))
		if back := -l.along(i, t, p.Corners); back > against {
			message = fmt.Sprintf("%s takes the couple %.1f m against the line of dance: it begins facing %s", name, back/100, now)
		} else {
			message = fmt.Sprintf("%s begins facing %s, where it isn't danced", name, now)
		}
		return message, l.wayOut(i, t, faces)
	}
	if i > 0 {
		return turnsBack(&s.Passages[i-1], p)
	}
	return "", ""
}

// corners returns how many corners may be thought to lie behind a passage: those that do, and one more or
// less where one is taken right after it or before.
func (l *line) corners(i int) []int {
	ps := l.path.Score.Passages
	all := []int{ps[i].Corners}
	if i > 0 && ps[i-1].Corners < ps[i].Corners {
		all = append(all, ps[i-1].Corners)
	}
	if item := &l.path.Score.Items[ps[i].Item]; item.Corner && ps[i].Round == item.Times-1 {
		all = append(all, ps[i].Corners+1)
	}
	return all
}

// fine reports whether a passage may begin where it does, after so many corners.
func (l *line) fine(i int, t routine.Turn, corners int, faces routine.Direction) bool {
	p := &l.path.Score.Passages[i]
	if begun := p.Figure.Begun; len(begun) > 0 && p.From == 0 {
		to := faces.Turned(routine.CornerTurn * routine.Turn(corners))
		return slices.ContainsFunc(begun, func(a routine.Alignment) bool { return a.Direction() == to })
	}
	most := against
	if p.Aligned() {
		most = againstByNature
	}
	return l.along(i, t, corners) >= -most || l.itemAlong(i, t, corners) >= -most
}

// along returns how far a passage goes along the line of dance, after so many corners.
func (l *line) along(i int, t routine.Turn, corners int) float64 {
	return l.ways[i].Turned(t + routine.CornerTurn*routine.Turn(corners)).X
}

// itemAlong returns how far the whole of a passage's item goes. A box that turns goes there and back.
func (l *line) itemAlong(i int, t routine.Turn, corners int) (sum float64) {
	ps := l.path.Score.Passages
	for i -= ps[i].Round; i < len(ps) && ps[i].Item == ps[i-ps[i].Round].Item; i++ {
		sum += l.along(i, t, corners)
	}
	return sum
}

// turnsBack says so if a passage ends with the leader going one way and the next begins with him going the other.
func turnsBack(before, p *routine.Passage) (message, hint string) {
	switch first := firstStep(p); {
	case first == nil:
	case backs(before) && ahead(first.Way) && before.Corners == p.Corners:
		ends := before.Figure.Rows[before.To-1].Steps[routine.Leader].Alignment
		return fmt.Sprintf("%s ends %s and goes on back, but %s begins forward, against that", before.Figure.Name, ends, p.Figure.Name),
			"dance a figure between them, or one instead, in which the leader begins back"
	case advances(before) && first.Way == routine.Back && first.Alignment.Stand == routine.Backing && lasting(first.Position)&^(1<<routine.Closed) == 0:
		return fmt.Sprintf("%s ends forward, but %s begins back, against that", before.Figure.Name, p.Figure.Name),
			"dance a figure between them, or one instead, in which the leader begins forward"
	}
	return "", ""
}

// backs reports whether a passage ends with the leader going back, as its chart says.
func backs(p *routine.Passage) bool {
	s := &p.Figure.Rows[p.To-1].Steps[routine.Leader]
	return s.Alignment.Stand == routine.Backing && (astern(s.Way) || astern(s.Slightly)) && !slices.Contains(s.Actions, "check")
}

// advances reports whether a passage ends with the leader going forward.
func advances(p *routine.Passage) bool {
	s := &p.Figure.Rows[p.To-1].Steps[routine.Leader]
	return (ahead(s.Way) || ahead(s.Slightly)) && !slices.Contains(s.Actions, "check")
}

// firstStep returns the first step that takes the leader anywhere; nil if none does.
func firstStep(p *routine.Passage) *routine.Step {
	for i := range p.Figure.Rows[p.From:p.To] {
		if s := &p.Figure.Rows[p.From+i].Steps[routine.Leader]; s.Moves() {
			return s
		}
	}
	return nil
}

// wayOut says where a passage could begin instead, if the leader, without the turn, faces so.
func (l *line) wayOut(i int, t routine.Turn, faces routine.Direction) string {
	s := l.path.Score
	p := &s.Passages[i]
	where := p.Figure.Begun
	for _, turn := range []routine.Turn{-1, 1, -2, 2, -3, 3, 4} {
		if to := faces.Turned(turn); len(where) == 0 && l.fine(i, t+turn, p.Corners, to) {
			where = []routine.Alignment{{Stand: routine.Facing, To: to.Turned(routine.CornerTurn * routine.Turn(p.Corners))}}
		}
	}
	if i == 0 {
		return "begin " + either(where) + ": write \"faces\" at the top of the sheet"
	}
	hint := "dance something before it that ends " + either(where)
	if before := &s.Items[s.Passages[i-1].Item]; !before.Corner && l.fine(i, t, p.Corners+1, faces) {
		hint += "; or, if the room has its corner here, write \"- corner: after\" below " + before.Name
	}
	return hint
}

// either returns alignments as one says them: "facing DW, LOD or DC".
func either(as []routine.Alignment) string {
	var text strings.Builder
	last := routine.NoStand
	for i, a := range as {
		switch {
		case i == 0:
		case i == len(as)-1:
			text.WriteString(" or ")
		default:
			text.WriteString(", ")
		}
		if a.Stand == last {
			text.WriteString(a.To.String())
		} else {
			text.WriteString(a.String())
		}
		last = a.Stand
	}
	return text.String()
}
