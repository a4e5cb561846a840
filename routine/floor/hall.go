package floor

import (
	"fmt"
	"strings"

	"dance.example/slowquick/routine"
)

// The room that a couple keeps to the edge of the floor, in centimetres.
// Common practice: an elbow's breadth beside, and some steps behind.
const (
	beside = 60.0
	back   = 100.0
)

// Bounds is the smallest rectangle that holds some places.
type Bounds struct{ Min, Max Place }

// Including is b made large enough to hold a place. The zero Bounds holds none.
func (b Bounds) Including(p Place) Bounds {
	if b == (Bounds{}) {
		return Bounds{p, Place{p.X, p.Y + 1e-9}}
	}
	return Bounds{Place{min(b.Min.X, p.X), min(b.Min.Y, p.Y)}, Place{max(b.Max.X, p.X), max(b.Max.Y, p.Y)}}
}

// Bounds holds the bodies of both partners all along a path, or up to the first
// corner of the room.
func (p *Path) Bounds(toCorner bool) (b Bounds) {
	for i := range p.Score.Passages {
		if toCorner && p.Score.Passages[i].Corners > 0 {
			break
		}
		for _, c := range p.Passage(i) {
			b = b.Including(c[0].Body).Including(c[1].Body)
		}
	}
	return b
}

// Origin is where the path's origin lies on a floor whose first wall behind the
// couple is at X = 0 and whose wall beside it at Y = its width.
//
// A dance that travels is laid along the line of dance: its first side begins
// by the wall behind and keeps beside the wall. Any other is danced in the
// middle. Common practice.
func (p *Path) Origin(room routine.Room) Place {
	along, across := float64(room.Along), float64(room.Across)
	if p.Score.Dance.Travels {
		b := p.Bounds(true)
		return Place{back - b.Min.X, across - beside - b.Max.Y}
	}
	b := p.Bounds(false)
	return Place{(along - b.Min.X - b.Max.X) / 2, (across - b.Min.Y - b.Max.Y) / 2}
}

// Travel is the way of the couple's middle through one pass of the routine.
func (p *Path) Travel() Place {
	if len(p.starts) == 0 {
		return Place{}
	}
	return p.End.Middle().Minus(p.starts[0].Middle())
}

// Middle is the point between both bodies.
func (c *Couple) Middle() Place {
	return c[routine.Leader].Body.Plus(c[routine.Follower].Body).Times(0.5)
}

// room finds where the couple would leave the floor: the first step of each
// time that it does.
func (c *checker) room(path *Path) {
	room := c.score.Floor
	origin := path.Origin(room)
	outside := false
	for i := range c.score.Passages {
		p := &c.score.Passages[i]
		for k, couple := range path.Passage(i) {
			off, who := 0.0, routine.Leader
			for _, q := range routine.Partners() {
				at := couple[q].Body.Plus(origin)
				if by := max(-at.X, at.X-float64(room.Along), -at.Y, at.Y-float64(room.Across)); by > off {
					off, who = by, q
				}
			}
			if off > slack && !outside {
				item := &c.score.Items[p.Item]
				row := max(p.From, p.From+k-1)
				hint := "smaller steps, fewer figures on this side, or a corner before: \"- corner: after\" below an item"
				if !c.score.Dance.Travels {
					hint = "smaller steps, or another order"
				}
				c.add("floor-left", item.At, fmt.Sprintf("on %s of %s the %s is %.0f cm off a floor of %s",
					p.Figure.Rows[row].Count, item.Name, who, off, room), hint)
			}
			outside = off > slack
		}
	}
}

// Summary says in words how far one pass of the routine travels, and how the
// leader ends: by the line of dance where the dance travels, else by where he
// faced at the start.
func (p *Path) Summary() string {
	if len(p.starts) == 0 {
		return ""
	}
	start, end := p.starts[0][routine.Leader].Facing, p.End[routine.Leader].Facing
	words := [4]string{"forward", "back", "to the right", "to the left"}
	way := p.Travel()
	ends := "ends facing as it began"
	if t := start.To(end); t != 0 {
		ends = "ends turned " + t.String()
	}
	if p.Score.Dance.Travels {
		words = [4]string{"along the line of dance", "against the line of dance", "to the wall", "to the centre"}
		last := &p.Score.Passages[len(p.Score.Passages)-1]
		ends = "ends facing " + end.Turned(routine.CornerTurn*routine.Turn(last.Corners)).String()
	} else {
		way = way.seenFrom(start)
	}
	var ways []string
	for i, by := range []float64{way.X, way.Y} {
		word := words[2*i]
		if by < 0 {
			word, by = words[2*i+1], -by
		}
		if by >= 5 {
			ways = append(ways, fmt.Sprintf("%.1f m %s", by/100, word))
		}
	}
	if len(ways) == 0 {
		return "stays in place and " + ends
	}
	return "goes " + strings.Join(ways, " and ") + ", and " + ends
}
