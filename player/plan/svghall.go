package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// room draws the whole path in the hall, from above, with the first line of
// dance going to the right.
type room struct {
	path   *floor.Path
	scale  scale
	origin floor.Point  // of the path, from the floor's corner behind the couple, on the side of the centre
	bounds floor.Bounds // of everything drawn, in centimetres
	way    []floor.Point
	items  []floor.Point // where each item of the order begins
	high   float64       // height of the drawing, in millimetres
	size   floor.Point
}

// Limits on what is drawn of a long routine.
const (
	mostPlaces = 4000 // on the way
	mostItems  = 60
)

// hallScale returns the largest usual scale, up to the panels' own, at which
// span, in centimetres, fits into width by height millimetres.
func hallScale(span floor.Point, width, height float64) scale {
	least := max(span.X*10/width, span.Y*10/height, float64(scales[0]))
	for tens := 10.0; ; tens *= 10 {
		for _, ones := range [...]float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8} {
			if tens*ones >= least {
				return scale(tens * ones)
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

// look works out the way and the panel's layout.
func (r *room) look(path *floor.Path, width float64) {
	r.path = path
	score := path.Score
	if score.Floor != (routine.Room{}) {
		r.origin = path.Origin(score.Floor)
		r.bounds = floor.Bounds{}.Including(floor.Point{}).Including(floor.Point{X: float64(score.Floor.Along), Y: float64(score.Floor.Across)})
	}
	rows := 0
	for i := range score.Passages {
		rows += score.Passages[i].To - score.Passages[i].From
	}
	every := rows/mostPlaces + 1
	row := 0
	for i := range score.Passages {
		couples := path.Passage(i)
		for score.Passages[i].Item >= len(r.items) {
			r.items = append(r.items, r.middle(&couples[0]))
		}
		for k := range couples {
			for _, dancer := range couples[k] {
				r.bounds = r.bounds.Including(dancer.Body.Plus(r.origin))
			}
			if row++; row%every == 0 || k == 0 && i == 0 {
				r.way = append(r.way, r.middle(&couples[k]))
			}
		}
	}
	r.way = append(r.way, r.middle(&path.End))
	span := r.bounds.Max.Minus(r.bounds.Min)
	r.scale = hallScale(span, width-2*(panelEdge+hallEdge), tallestHall)
	r.high = max(r.scale.of(span.Y), leastHall)
	r.size = floor.Point{X: width, Y: panelHead + 2*hallEdge + r.high + panelFoot + panelEdge + orderLine*float64(len(journey(path))+r.orderLines()+1)}
}

// middle returns where a couple's middle is on the floor.
func (r *room) middle(c *floor.Couple) floor.Point { return c.Middle().Plus(r.origin) }

// orderLines returns how many lines the order takes, set in columns.
func (r *room) orderLines() int {
	n := min(len(r.path.Score.Items), mostItems)
	return (n + columns - 1) / columns
}

// draw writes the panel with its upper left corner at a place.
func (r *room) draw(p *pen, at floor.Point) {
	score := r.path.Score
	p.open("hall", "The whole way")
	p.rectangle("frame", rectangle{at, at.Plus(r.size)}.grown(-0.15))
	inner := r.size.X - 2*panelEdge
	p.text(at.Plus(floor.Point{X: panelEdge, Y: 5.5}), nameLetters.within(inner), "The whole way")
	p.text(at.Plus(floor.Point{X: panelEdge, Y: 9.3}), factLetters.within(inner), r.facts())
	corner := at.Plus(floor.Point{X: panelEdge + hallEdge, Y: panelHead + hallEdge})
	onPaper := func(q floor.Point) floor.Point { return r.scale.place(q.Minus(r.bounds.Min)).Plus(corner) }
	if score.Floor != (routine.Room{}) {
		r.drawFloor(p, rectangle{onPaper(floor.Point{}), onPaper(floor.Point{X: float64(score.Floor.Along), Y: float64(score.Floor.Across)})})
	}
	r.drawWay(p, onPaper)
	foot := floor.Point{X: at.X + panelEdge, Y: corner.Y + r.high + hallEdge + panelFoot - panelEdge}
	scaleBar(p, foot, r.scale)
	if d, name, known := landmark(score); known && !(score.Dance.Travels && score.Floor != (routine.Room{})) {
		compass(p, floor.Point{X: at.X + r.size.X - panelEdge - 4, Y: foot.Y - 3}, d, name)
	}
	line := foot.Plus(floor.Point{Y: orderLine + 1})
	for _, sentence := range journey(r.path) {
		p.text(line, lettering{class: "journey"}, sentence)
		line.Y += orderLine
	}
	r.drawOrder(p, line.Plus(floor.Point{Y: 1}), inner)
	p.close()
}

// facts returns the line below the panel's name.
func (r *room) facts() string {
	if size := r.path.Score.Floor; size != (routine.Room{}) {
		return "from above · the couple's middle, on a floor of " + size.String()
	}
	return "from above · the couple's middle"
}

// drawFloor writes the floor's edge and, for a dance that travels, its line of dance.
func (r *room) drawFloor(p *pen, edge rectangle) {
	p.rectangle("floor", edge)
	if !r.path.Score.Dance.Travels {
		return
	}
	corners := [...]floor.Point{{X: edge.min.X, Y: edge.max.Y}, edge.max, {X: edge.max.X, Y: edge.min.Y}, edge.min}
	for i, from := range corners {
		to := corners[(i+1)%len(corners)]
		way := to.Minus(from)
		length := math.Hypot(way.X, way.Y)
		way = way.Times(1 / length)
		out := floor.Point{X: -way.Y, Y: way.X}.Times(2.5)
		middle := from.Plus(to).Times(0.5).Plus(out)
		half := way.Times(min(12, length/3))
		p.line("way", middle.Minus(half), middle.Plus(half))
		p.tip("tip", middle.Plus(half), way, 2.4)
	}
	p.text(floor.Point{X: edge.middle().X, Y: edge.max.Y + 6}, lettering{class: "count middle"}, "line of dance")
}

// drawWay writes the way, the couple at both ends, and where each item begins.
func (r *room) drawWay(p *pen, onPaper func(floor.Point) floor.Point) {
	var places []floor.Point
	for _, q := range r.way {
		q = onPaper(q)
		if len(places) == 0 || q.Distance(places[len(places)-1]) > 0.2 {
			places = append(places, q)
		}
	}
	for _, q := range routine.Partners() {
		for _, c := range []struct {
			class  string
			couple floor.Couple
		}{{"ends", r.path.End}, {"begins", r.path.Start(0)}} {
			d := c.couple[q]
			body(p, q, c.class, onPaper(d.Body.Plus(r.origin)), d.Facing, r.bodyScale())
		}
	}
	p.line("journey", places...)
	travelled := 0.0
	for i := 1; i < len(places); i++ {
		way := places[i].Minus(places[i-1])
		if travelled += math.Hypot(way.X, way.Y); travelled > 22 {
			p.tip("tip", places[i-1].Plus(way.Times(0.6)), way, 2.2)
			travelled = 0
		}
	}
	r.drawItems(p, onPaper, places)
}

// bodyScale returns how many millimetres are drawn for a centimetre of a body.
func (r *room) bodyScale() float64 { return min(max(r.scale.of(2), 0.14), 0.25) }

// drawItems writes the items' numbers where they begin, beside the line of the
// way. Items that begin at one place share a label.
func (r *room) drawItems(p *pen, onPaper func(floor.Point) floor.Point, line []floor.Point) {
	room := rectangle{onPaper(r.bounds.Min), onPaper(r.bounds.Max)}.grown(hallEdge)
	type begun struct {
		at    floor.Point
		items []int
	}
	var places []begun
	for i := range r.items[:min(len(r.items), mostItems)] {
		at := onPaper(r.items[i])
		k := slices.IndexFunc(places, func(b begun) bool { return b.at.Distance(at) < 3 })
		if k < 0 {
			k = len(places)
			places = append(places, begun{at: at})
		}
		places[k].items = append(places[k].items, i)
	}
	var taken []rectangle
	for _, c := range [...]floor.Couple{r.path.Start(0), r.path.End} {
		for _, dancer := range c {
			taken = append(taken, turned(onPaper(dancer.Body.Plus(r.origin)), dancer.Facing, 2*(chest+nose), 2*shoulders, r.bodyScale()))
		}
	}
	for _, b := range places {
		taken = append(taken, around(b.at, 2, 2))
	}
	for i := 1; i < len(line) && len(taken) < mostPlaces; i++ {
		way := line[i].Minus(line[i-1])
		parts := math.Ceil(math.Hypot(way.X, way.Y) / 1.5)
		for k := range int(parts) {
			taken = append(taken, around(line[i-1].Plus(way.Times(float64(k)/parts)), 1, 1))
		}
	}
	for _, b := range places {
		p.circle("dot", b.at, 0.9)
		text := list(b.items)
		width, height := textWidth(text)*numberLetters.size, 3.0
		var boxes []rectangle
		for _, away := range [...]float64{1.4, 5, 9} {
			for eighth := range routine.Direction(8) {
				way := toward(routine.Centre.Turned(routine.Turn(eighth)))
				boxes = append(boxes, around(b.at.Plus(floor.Point{X: way.X * (width/2 + away), Y: way.Y * (height/2 + away)}), width, height))
			}
		}
		box := clearest(boxes, taken, room)
		taken = append(taken, box)
		p.line("leads", b.at, box.middle())
		p.rectangle("plate", box)
		p.text(floor.Point{X: box.middle().X, Y: box.max.Y - 0.5}, numberLetters, text)
	}
}

// drawOrder writes the order in columns.
func (r *room) drawOrder(p *pen, at floor.Point, width float64) {
	items := r.path.Score.Items
	lines := r.orderLines()
	column := width / columns
	for i := range min(len(items), mostItems) {
		text := fmt.Sprintf("%d  %s%s", i+1, items[i].Name, addition(&items[i]))
		if i == mostItems-1 && len(items) > mostItems {
			text = fmt.Sprintf("… and %d more", len(items)-mostItems+1)
		}
		p.text(at.Plus(floor.Point{X: float64(i/lines) * column, Y: float64(i%lines) * orderLine}), factLetters.within(column-3), text)
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
	switch _, _, known := landmark(score); {
	case !known: // only directions relative to the leader are known
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
