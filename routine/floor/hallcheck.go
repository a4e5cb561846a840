package floor

import (
	"fmt"

	"dance.example/slowquick/routine"
)

// cornerRoom is how far, in centimetres, a couple may be from the end of a side where it takes the
// corner. Estimated: a couple keeps about 1 m from the wall, and a figure goes about 2 m.
const cornerRoom = 300.0

// hall judges a path within the walls of a floor.
type hall struct {
	path   *Path
	room   routine.Room
	origin Point
	found  []routine.Finding
}

// inHall reports where the couple would leave the floor, and which corners are missing or come too early.
func inHall(path *Path) []routine.Finding {
	room := path.Score.Floor
	if room == (routine.Room{}) {
		return nil
	}
	h := hall{path: path, room: room, origin: path.Origin(room)}
	var out outing
	for i := range path.Score.Passages {
		for k, couple := range path.Passage(i) {
			if off, who := h.off(&couple); off > slack {
				if out.off == 0 {
					out = outing{passage: i, step: k, off: off, who: who}
				}
				out.ahead = max(out.ahead, -h.left(i, &couple))
			} else if out.off > 0 {
				h.report(out)
				out = outing{}
			}
		}
		h.early(i)
	}
	if out.off > 0 {
		h.report(out)
	}
	return h.found
}

// outing is a way off the floor: where it begins and, in centimetres, how far off that is and how far
// it goes beyond the end of the side.
type outing struct {
	passage, step int
	who           routine.Partner
	off, ahead    float64
}

// off returns how far, in centimetres, a couple is off the floor, and the partner who is.
func (h *hall) off(couple *Couple) (off float64, who routine.Partner) {
	for _, q := range routine.Partners() {
		at := couple[q].Body.Plus(h.origin)
		if by := max(-at.X, at.X-float64(h.room.Along), -at.Y, at.Y-float64(h.room.Across)); by > off {
			off, who = by, q
		}
	}
	return off, who
}

// left returns how much of a passage's side a couple has in front of it.
func (h *hall) left(passage int, couple *Couple) float64 {
	along, across := float64(h.room.Along), float64(h.room.Across)
	left := along + across
	for _, d := range couple {
		at := d.Body.Plus(h.origin)
		left = min(left, [...]float64{along - at.X, at.Y, at.X, across - at.Y}[h.path.Score.Passages[passage].Corners%4])
	}
	return left
}

// report adds the finding for an outing.
func (h *hall) report(out outing) {
	s := h.path.Score
	p := &s.Passages[out.passage]
	item := &s.Items[p.Item]
	on := fmt.Sprintf("on %s of %s", p.Figure.Rows[max(p.From, p.From+out.step-1)].Count, item.Name)
	if s.Dance.Travels && out.ahead > float64(s.Stride.Forward) {
		h.found = append(h.found, routine.NewFinding("corner-missing", item.At,
			fmt.Sprintf("%s the couple comes to the end of this side of a floor of %s, and the order goes %.1f m on", on, h.room, out.ahead/100), h.wayRound(out.passage)))
		return
	}
	hint := "take smaller steps, or change the order"
	if s.Dance.Travels {
		hint = "take smaller steps, dance fewer figures on this side, or take the corner earlier: write \"- corner: after\" below an item"
	}
	h.found = append(h.found, routine.NewFinding("floor-left", item.At, fmt.Sprintf("%s the %s is %.0f cm off a floor of %s", on, out.who, out.off, h.room), hint))
}

// wayRound says after which item the corner could be taken so that a passage comes after it.
func (h *hall) wayRound(passage int) string {
	s := h.path.Score
	p := &s.Passages[passage]
	switch item := &s.Items[p.Item]; {
	case p.Round > 0:
		return fmt.Sprintf("take the corner before it: make %s × %d an item of its own, with \"- corner: after\" below it", item.Name, p.Round)
	case p.Item > 0 && s.Passages[passage-1].Corners == p.Corners:
		return fmt.Sprintf("take the corner before it: write \"- corner: after\" below %s", s.Items[p.Item-1].Name)
	}
	return "dance fewer or shorter figures on this side"
}

// early reports a corner that is taken after a passage far from the end of its side.
func (h *hall) early(i int) {
	s := h.path.Score
	item := &s.Items[s.Passages[i].Item]
	if !s.Dance.Travels || !item.Corner || i+1 < len(s.Passages) && s.Passages[i+1].Item == s.Passages[i].Item {
		return
	}
	couple := h.path.after(i)
	left := h.left(i, &couple)
	if left <= cornerRoom {
		return
	}
	h.found = append(h.found, routine.NewFinding("corner-early", item.At,
		fmt.Sprintf("after %s the corner is taken %.1f m before the end of this side of a floor of %s", item.Name, left/100, h.room),
		"dance more figures on this side first, or take the corner after a later item"))
}
