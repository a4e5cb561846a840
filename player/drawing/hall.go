package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// hall draws the whole path in the hall, from above, with the first line of
// dance going to the right.
type hall struct {
	*sheet
	route  *floor.Path
	scale  float64      // millimetres for a centimetre
	origin floor.Point  // of the path, from the floor's corner behind the couple, on the side of the centre
	bounds floor.Bounds // of everything drawn, in centimetres
	corner floor.Point  // of the bounds, on paper
	way    []floor.Point
	items  []floor.Point // where each item of the order begins
	taken  []box         // by what is drawn already, where no name should be written
	high   float64       // height of the drawing, in millimetres
	size   floor.Point
}

// Limits on what is drawn of a long routine.
const (
	mostPlaces = 4000 // on the way
	mostItems  = 60
)

// largestHall is the largest scale of a hall, 1 to 30, in millimetres for a centimetre.
const largestHall = 10.0 / 30

// hallScale returns the largest usual scale at which span, in centimetres, fits into width by height
// millimetres.
func hallScale(span floor.Point, width, height float64) float64 {
	least := max(span.X*10/width, span.Y*10/height, 10/largestHall)
	for tens := 10.0; ; tens *= 10 {
		for _, ones := range [...]float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8} {
			if tens*ones >= least {
				return 10 / (tens * ones)
			}
		}
	}
}

// The space that the parts of the hall's panel take, in millimetres.
const (
	hallEdge    = 8.0
	tallestHall = 150.0
	leastHall   = 20.0
	orderLine   = 4.0
	columns     = 3
)

// Hall draws where the whole routine leads, in a frame of a width in millimetres: the couple's way from
// above, the places where items begin, and their names.
func Hall(path *floor.Path, width float64) Drawing {
	h := &hall{sheet: new(sheet), route: path}
	h.look()
	h.fit(width-2*(panelEdge+hallEdge), tallestHall)
	h.size = floor.Point{X: width, Y: panelHead + 2*hallEdge + h.high + panelFoot + panelEdge + orderLine*float64(len(journey(path))+h.orderLines()+1)}
	h.draw()
	return Drawing{Size: h.size, Shapes: h.shapes, Scale: h.scale, Name: "The whole way", Said: strings.Join(journey(path), " ")}
}

// fit chooses the scale at which what is drawn fits into width by height millimetres.
func (h *hall) fit(width, height float64) {
	span := h.bounds.Max.Minus(h.bounds.Min)
	h.scale = hallScale(span, width, height)
	h.high = max(h.scale*span.Y, leastHall)
}

// look works out the way.
func (h *hall) look() {
	path, score := h.route, h.route.Score
	if score.Floor != (routine.Room{}) {
		h.origin = path.Origin(score.Floor)
		h.bounds = floor.Bounds{}.Including(floor.Point{}).Including(floor.Point{X: float64(score.Floor.Along), Y: float64(score.Floor.Across)})
	}
	rows := 0
	for i := range score.Passages {
		rows += score.Passages[i].To - score.Passages[i].From
	}
	every := rows/mostPlaces + 1
	row := 0
	for i := range score.Passages {
		couples := path.Passage(i)
		for score.Passages[i].Item >= len(h.items) {
			h.items = append(h.items, h.middle(&couples[0]))
		}
		for k := range couples {
			for _, dancer := range couples[k] {
				h.bounds = h.bounds.Including(dancer.Body.Plus(h.origin))
			}
			if row++; row%every == 0 || k == 0 && i == 0 {
				h.way = append(h.way, h.middle(&couples[k]))
			}
		}
	}
	h.way = append(h.way, h.middle(&path.End))
}

// middle returns where a couple's middle is on the floor.
func (h *hall) middle(c *floor.Couple) floor.Point { return c.Middle().Plus(h.origin) }

// orderLines returns how many lines the order takes, set in columns.
func (h *hall) orderLines() int {
	n := min(len(h.route.Score.Items), mostItems)
	return (n + columns - 1) / columns
}

func (h *hall) draw() {
	h.frame(box{Max: h.size}, "The whole way", h.facts())
	h.corner = floor.Point{X: panelEdge + hallEdge, Y: panelHead + hallEdge}
	h.floor()
	h.drawItems(h.drawWay(), grown(box{Min: h.onPaper(h.bounds.Min), Max: h.onPaper(h.bounds.Max)}, hallEdge), number)
	foot := floor.Point{X: panelEdge, Y: h.corner.Y + h.high + hallEdge + panelFoot - panelEdge}
	h.measure(foot)
	h.sides(foot.Y - 3)
	line := foot.Plus(floor.Point{Y: orderLine + 1})
	for _, sentence := range journey(h.route) {
		h.write(line, factLetters, sentence)
		line.Y += orderLine
	}
	h.drawOrder(line.Plus(floor.Point{Y: 1}), h.size.X-2*panelEdge)
}

// onPaper returns where a place in the hall is on paper.
func (h *hall) onPaper(at floor.Point) floor.Point {
	return at.Minus(h.bounds.Min).Times(h.scale).Plus(h.corner)
}

// sides says where the hall's sides are, if they are known and its floor doesn't show the line of dance.
func (h *hall) sides(y float64) {
	score := h.route.Score
	if placed(score) && !(score.Dance.Travels && score.Floor != (routine.Room{})) {
		h.compass(floor.Point{X: h.size.X - compassRoom/2, Y: y}, score.Dance.Travels, func(d routine.Direction) routine.Direction { return d })
	}
}

// measure draws a scale.
func (h *hall) measure(at floor.Point) {
	metres := 1.0
	for 100*metres*h.scale < 8 {
		metres *= 2
	}
	h.scaleBar(at, 100*metres*h.scale, fmt.Sprintf("%g m", metres))
}

// facts returns the line below the panel's name.
func (h *hall) facts() string {
	if size := h.route.Score.Floor; size != (routine.Room{}) {
		return "from above · the couple's middle, on a floor of " + size.String()
	}
	return "from above · the couple's middle"
}

// floor draws the floor's edge, if it is known, and the line of dance if the dance travels.
func (h *hall) floor() {
	size := h.route.Score.Floor
	if size == (routine.Room{}) {
		return
	}
	edge := box{Min: h.onPaper(floor.Point{}), Max: h.onPaper(floor.Point{X: float64(size.Along), Y: float64(size.Across)})}
	h.path(Look{Ink: black, Width: 0.5}, rectangle(edge))
	corners := [...]floor.Point{{X: edge.Min.X, Y: edge.Max.Y}, edge.Max, {X: edge.Max.X, Y: edge.Min.Y}, edge.Min}
	for i, from := range corners {
		h.taken = append(h.taken, covered(from, corners[(i+1)%len(corners)])...)
	}
	if !h.route.Score.Dance.Travels {
		return
	}
	for i, from := range corners {
		to := corners[(i+1)%len(corners)]
		way := to.Minus(from)
		length := math.Hypot(way.X, way.Y)
		way = way.Times(1 / length)
		out := floor.Point{X: -way.Y, Y: way.X}.Times(2.5)
		middle := from.Plus(to).Times(0.5).Plus(out)
		half := way.Times(min(12, length/3))
		h.path(Look{Ink: grey, Width: 0.25}, line(middle.Minus(half), middle.Plus(half)))
		h.taken = append(h.taken, covered(middle.Minus(half), middle.Plus(half))...)
		h.tip(Look{Fill: grey}, middle.Plus(half), way)
	}
	below := floor.Point{X: middle(edge).X, Y: edge.Max.Y + 6.5}
	h.write(below, lettering{size: small, anchor: Middle}, "line of dance")
	h.taken = append(h.taken, around(below.Minus(floor.Point{Y: small / 3}), textWidth("line of dance")*small, small))
}

// drawWay draws the way, and the couple at both ends. It returns the way on paper.
func (h *hall) drawWay() (places []floor.Point) {
	for _, q := range h.way {
		q = h.onPaper(q)
		if len(places) == 0 || q.Distance(places[len(places)-1]) > 0.2 {
			places = append(places, q)
		}
	}
	for _, q := range routine.Partners() {
		for _, c := range []struct {
			look   Look
			couple floor.Couple
		}{{ended, h.route.End}, {begun, h.route.Start(0)}} {
			d := c.couple[q]
			h.body(c.look, q, h.onPaper(d.Body.Plus(h.origin)), d.Facing, h.bodyScale())
		}
	}
	if len(places) > 1 {
		h.path(Look{Ink: black, Width: 0.4}, line(places...))
	}
	travelled := 0.0
	for i := 1; i < len(places); i++ {
		way := places[i].Minus(places[i-1])
		if travelled += math.Hypot(way.X, way.Y); travelled > 22 {
			h.tip(Look{Fill: black}, places[i-1].Plus(way.Times(0.6)), way)
			travelled = 0
		}
	}
	return places
}

// bodyScale returns how many millimetres are drawn for a centimetre of a body.
func (h *hall) bodyScale() float64 { return min(max(2*h.scale, 0.14), 0.25) }

// number returns the number of an item in the order.
func number(item int) string { return strconv.Itoa(item + 1) }

// drawItems writes what the items are called where they begin, beside the line of the
// way, in a room on paper. Items that begin at one place share a label.
func (h *hall) drawItems(way []floor.Point, room box, called func(item int) string) {
	type place struct {
		at    floor.Point
		lines []string
	}
	var places []place
	for i := range h.items[:min(len(h.items), mostItems)] {
		at := h.onPaper(h.items[i])
		k := slices.IndexFunc(places, func(b place) bool { return b.at.Distance(at) < 3 })
		if k < 0 {
			k = len(places)
			places = append(places, place{at: at})
		}
		places[k].lines = labelled(places[k].lines, called(i))
	}
	taken := h.taken
	for _, c := range [...]floor.Couple{h.route.Start(0), h.route.End} {
		for _, dancer := range c {
			taken = append(taken, around(h.onPaper(dancer.Body.Plus(h.origin)), 2*shoulders*h.bodyScale(), 2*shoulders*h.bodyScale()))
		}
	}
	for _, b := range places {
		taken = append(taken, around(b.at, 2, 2))
	}
	for i := 1; i < len(way) && len(taken) < mostPlaces; i++ {
		taken = append(taken, covered(way[i-1], way[i])...)
	}
	var names []box
	for _, b := range places {
		h.path(Look{Fill: black}, circle(b.at, 0.9))
		width, height := 0.0, 3.5*float64(len(b.lines))-0.5
		for _, text := range b.lines {
			width = max(width, bold*textWidth(text)*numberLetters.size)
		}
		var boxes []box
		for _, away := range [...]float64{1.4, 5, 9, 14, 20, 27} {
			for part := range 16 {
				sin, cos := math.Sincos(float64(part) * math.Pi / 8)
				way := floor.Point{X: sin, Y: -cos}
				boxes = append(boxes, around(b.at.Plus(floor.Point{X: way.X * (width/2 + away), Y: way.Y * (height/2 + away)}), width, height))
			}
		}
		best := clearest(boxes, taken, room, func(name box) (crossed float64) { // by the line to the place
			for _, part := range covered(b.at, middle(name)) {
				for _, other := range names {
					crossed += 5 * overlap(part, other)
				}
			}
			return crossed
		})
		taken, names = append(append(taken, best), covered(b.at, middle(best))...), append(names, best)
		h.path(Look{Ink: grey, Width: 0.15}, line(b.at, middle(best)))
		h.path(Look{Fill: white}, rectangle(best))
		for i, text := range b.lines {
			h.write(floor.Point{X: middle(best).X, Y: best.Min.Y + 2.5 + 3.5*float64(i)}, lettering{size: small, bold: true, anchor: Middle}, text)
		}
	}
}

// bold is how much broader bold letters are.
const bold = 1.12

// mostLines is how many lines a label has.
const mostLines = 6

// labelled adds what an item is called to the lines of a label: numbers to the last line, which
// is as long as eight of them, names each on a line.
func labelled(lines []string, called string) []string {
	last := len(lines) - 1
	if _, err := strconv.Atoi(called); err == nil && last >= 0 {
		switch n := strings.Count(lines[last], ","); {
		case n < 7:
			lines[last] += ", " + called
		case n == 7 && !strings.HasSuffix(lines[last], "…"):
			lines[last] += " …"
		}
		return lines
	}
	switch {
	case len(lines) < mostLines:
		return append(lines, called)
	case !strings.HasSuffix(lines[last], "…"):
		lines[last] += " …"
	}
	return lines
}

// drawOrder writes the order in columns.
func (h *hall) drawOrder(at floor.Point, width float64) {
	items := h.route.Score.Items
	lines := h.orderLines()
	column := width / columns
	for i := range min(len(items), mostItems) {
		text := fmt.Sprintf("%d  %s%s", i+1, items[i].Name, addition(&items[i]))
		if i == mostItems-1 && len(items) > mostItems {
			text = fmt.Sprintf("… and %d more", len(items)-mostItems+1)
		}
		h.write(at.Plus(floor.Point{X: float64(i/lines) * column, Y: float64(i%lines) * orderLine}), factLetters.within(column-3), text)
	}
}

// addition returns what the order says about an item besides its name.
func addition(item *routine.Item) (text string) {
	if figure := item.Figure; figure != nil && item.To-item.From < len(figure.Rows) && !strings.Contains(item.Name, "step") {
		text += ", " + routine.Steps(item.From, item.To)
	}
	if item.Times > 1 {
		text += fmt.Sprintf(" × %d", item.Times)
	}
	if item.Corner {
		text += ", then a corner"
	}
	return text
}

// journey says in sentences where one run-through of a routine leads.
func journey(path *floor.Path) []string {
	score := path.Score
	last := &score.Passages[len(score.Passages)-1]
	corners := last.Corners
	if score.Items[last.Item].Corner {
		corners++
	}
	travel := path.Travel()
	begins := score.Passages[0].Begins.Facing[routine.Leader]
	ends := path.End[routine.Leader].Facing.Turned(routine.CornerTurn * routine.Turn(corners))
	switch {
	case !score.Dance.Travels && score.Faces == nil: // only directions relative to the leader are known
		travel = travel.Turned(-routine.Turn(begins))
		text := "One run-through ends " + cmp.Or(travel.Named("forward", "back", "to the right", "to the left"), "where it began")
		switch turn := begins.To(ends); turn {
		case 0:
			return []string{text + ", facing as it began."}
		case -4:
			return []string{text + ", facing back."}
		default:
			return []string{text + ", turned " + turn.String() + "."}
		}
	case corners > 0:
		count := "a corner"
		if corners > 1 {
			count = fmt.Sprintf("%d corners", corners)
		}
		return []string{
			fmt.Sprintf("One run-through takes %s and ends %s.", count,
				cmp.Or(travel.Named("along the first line of dance", "against the first line of dance", "towards its wall", "towards its centre"), "where it began")),
			fmt.Sprintf("The leader ends facing %s, as the line of dance goes then.", ends),
		}
	}
	way := travel.Named("along the line of dance", "against the line of dance", "towards the wall", "towards the centre")
	if way == "" {
		return []string{fmt.Sprintf("One run-through ends where it began, the leader facing %s.", ends)}
	}
	return []string{fmt.Sprintf("One run-through travels %s; the leader ends facing %s.", way, ends)}
}

// list writes the first few of some numbers, which count from 0.
func list(numbers []int) string {
	var names []string
	for i, n := range numbers {
		if i == 8 {
			return strings.Join(names, ", ") + " …"
		}
		names = append(names, fmt.Sprint(n+1))
	}
	return strings.Join(names, ", ")
}

// covered returns small boxes that cover a line.
func covered(from, to floor.Point) (boxes []box) {
	way := to.Minus(from)
	parts := math.Ceil(math.Hypot(way.X, way.Y) / 1.5)
	for k := range int(parts) {
		boxes = append(boxes, around(from.Plus(way.Times(float64(k)/parts)), 1, 1))
	}
	return boxes
}

// clearest returns the box that overlaps least with what is taken, stays within room, and costs least; the
// first of equals.
func clearest(boxes, taken []box, room box, costs func(box) float64) box {
	best, least := boxes[0], math.Inf(1)
	for _, b := range boxes {
		size := b.Max.Minus(b.Min)
		cost := 10*(size.X*size.Y-overlap(b, room)) + costs(b)
		for _, t := range taken {
			cost += overlap(b, t)
		}
		if cost < least-0.01 {
			best, least = b, cost
		}
	}
	return best
}
