package drawing

import (
	"fmt"
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Routed reports whether a routine has a way through a room that is worth drawing.
func Routed(score *routine.Score) bool { return score.Dance.Travels || score.Floor != (routine.Room{}) }

// Route draws where the whole routine leads in the hall, with the figures' names along it and where the
// leader faces as each begins, in no more than width by height millimetres. It returns what it shows in words, too.
func Route(path *floor.Path, width, height float64) (Drawing, string) {
	h := &hall{sheet: new(sheet), route: path}
	h.look()
	h.fit(width-4*hallEdge, height-2*hallEdge-keyHeight)
	span := h.bounds.Max.Minus(h.bounds.Min).Times(h.scale)
	around := hallEdge // above and below, for names
	if path.Score.Floor == (routine.Room{}) {
		around = max(around, min(mostAround, (height-keyHeight-h.high)/2))
	}
	h.size = floor.Point{X: width, Y: h.high + 2*around + keyHeight}
	h.corner = floor.Point{X: (width - span.X) / 2, Y: around + (h.high-span.Y)/2}
	score := path.Score
	h.floor()
	way := h.drawWay()
	item := -1
	for i := range score.Passages {
		if p := &score.Passages[i]; p.Item != item && i > 0 {
			couple := path.Start(i)
			h.heading(h.onPaper(h.middle(&couple)), toward(couple[routine.Leader].Facing))
		}
		item = score.Passages[i].Item
	}
	called := number
	if width >= leastNamed {
		called = func(i int) string {
			return cut(fmt.Sprintf("%d %s%s", i+1, score.Items[i].Name, addition(&score.Items[i])), longestCalled)
		}
	}
	h.drawItems(way, box{Min: floor.Point{X: 2}, Max: h.size.Minus(floor.Point{X: 2, Y: keyHeight})}, called)
	h.measure(floor.Point{X: 1, Y: h.size.Y - 2})
	h.sides(h.size.Y - 6)
	return Drawing{Size: h.size, Shapes: h.shapes, Scale: h.scale}, strings.Join(journey(path), " ")
}

const (
	longestCalled = 16.0  // how broad the name of an item is along the way, in units of its size
	leastNamed    = 120.0 // millimetres: narrower routes have only the items' numbers
	mostAround    = 20.0  // millimetres above and below a way, for names
)

// heading draws where the leader faces.
func (h *hall) heading(at, way floor.Point) {
	across := floor.Point{X: -way.Y, Y: way.X}.Times(1.7)
	back := at.Minus(way.Times(1.2))
	h.path(Look{Fill: white, Ink: blue, Width: 0.3}, closed(at.Plus(way.Times(3.2)), back.Plus(across), at, back.Minus(across)))
}
