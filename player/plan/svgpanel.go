package plan

import (
	"fmt"
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// panel draws a figure, or the part of it that is danced, from where it is first danced.
type panel struct {
	path    *floor.Path
	passage int
	items   []int // the items in which it is danced, from 0
	frame   frame
	couples []floor.Couple // as [floor.Path.Passage] returns them
	to      int            // how many rows are drawn, from the passage's From on
	scale   scale
	stages  []stage
	size    floor.Point
}

// mostRows is how many rows of a figure are drawn at most.
const mostRows = 64

// panelKey is what two passages must share to share a panel.
type panelKey struct {
	figure   *routine.Figure
	from, to int
	begins   routine.PositionSet
}

// panels returns the panels of a path, in the order in which their figures are
// first danced, at most most of them. All is how many there would be.
func panels(path *floor.Path, most int) (list []*panel, all int) {
	known := map[panelKey]*panel{}
	for i := range path.Score.Passages {
		passage := &path.Score.Passages[i]
		key := panelKey{passage.Figure, passage.From, passage.To, passage.Begins.Positions}
		if known[key] == nil {
			known[key] = &panel{path: path, passage: i}
			if all++; all <= most {
				list = append(list, known[key])
			}
		}
		if p := known[key]; len(p.items) == 0 || p.items[len(p.items)-1] != passage.Item {
			p.items = append(p.items, passage.Item)
		}
	}
	return list, all
}

func (f *panel) of() *routine.Passage { return &f.path.Score.Passages[f.passage] }

// row returns row i of what is drawn, from 0.
func (f *panel) row(i int) *routine.Row { return &f.of().Figure.Rows[f.of().From+i] }

// facts is what is said below the name.
func (f *panel) facts() string {
	p := f.of()
	facts := []string{"no. " + list(f.items) + " of the order"}
	if len(f.items) > 1 {
		facts[0] = "nos. " + list(f.items) + " of the order"
	}
	begins := ""
	if ps := p.Begins.Positions; ps != 0 && !ps.Unknown() {
		begins = "begins in " + ps.String()
	}
	if _, _, known := f.compass(); known {
		if begins == "" {
			begins = "begins"
		} else {
			begins += ","
		}
		begins += " facing " + p.Begins.Facing[routine.Leader].String()
	}
	if begins != "" {
		facts = append(facts, begins)
	}
	if f.to < p.To-p.From {
		facts = append(facts, fmt.Sprintf("the first %d of %d steps", f.to, p.To-p.From))
	}
	return strings.Join(facts, " · ")
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

// compass returns the hall's landmark as a direction on paper.
func (f *panel) compass() (d routine.Direction, name string, known bool) {
	d, name, known = landmark(f.path.Score)
	d = d.Turned(-routine.CornerTurn * routine.Turn(f.of().Corners))
	return f.frame.direction(d), name, known
}

// landmark returns the direction by which a routine is described: the line of dance if it
// travels, else the wall. Known is false if the routine may face anywhere.
func landmark(s *routine.Score) (d routine.Direction, name string, known bool) {
	if s.Dance.Travels {
		return routine.LOD, "LOD", true
	}
	return routine.Wall, "wall", s.Faces != nil
}

// scale is how large a panel is drawn: 1 to scale.
type scale float64

// scales are those of panels. All use the first, except those that do not fit the paper.
var scales = []scale{30, 40, 60, 80, 100, 150, 200, 300, 500, 1000, 2000}

// smallestFeet is the smallest scale at which feet are drawn. At smaller ones
// they are drawn larger than they are.
const smallestFeet scale = 30

// of returns the length of cm centimetres on paper, in millimetres.
func (s scale) of(cm float64) float64 { return cm * 10 / float64(s) }

// feet returns how many millimetres are drawn for a centimetre of a foot.
func (s scale) feet() float64 { return 10 / float64(min(s, smallestFeet)) }

func (s scale) place(p floor.Point) floor.Point { return p.Times(10 / float64(s)) }

// The space that the parts of a panel take, in millimetres.
const (
	panelEdge   = 3.0
	panelHead   = 11.0
	panelFoot   = 8.0
	stageHead   = 4.0
	labelRoom   = 3.5 // around the feet
	betweenTwo  = 3.0 // between two diagrams
	stageGap    = 5.0
	leastPanel  = 58.0
	tallestPart = 225.0
)

// arrange works out the scale at which a panel fits a width, and its size.
func (f *panel) arrange(shown [2]bool, view View, width float64) {
	p := f.of()
	f.frame = view.frame(f.path, f.passage, shown)
	f.couples = f.path.Passage(f.passage)
	f.to = min(p.To-p.From, mostRows)
	inner := width - 2*panelEdge
	for _, f.scale = range scales {
		f.stages = f.split(shown)
		widest, tallest := 0.0, 0.0
		for i := range f.stages {
			size := f.stages[i].size()
			widest, tallest = max(widest, size.X), max(tallest, size.Y)
		}
		if widest <= inner && tallest <= tallestPart {
			break
		}
	}
	f.flow(inner)
	title := min(max(textWidth(p.Name())*nameLetters.size, textWidth(f.facts())*factLetters.size), inner/2)
	f.size.X = min(max(f.size.X, title, leastPanel-2*panelEdge)+2*panelEdge, width)
	f.size.Y += panelHead + panelFoot + panelEdge
}

// flow places the stages in rows.
func (f *panel) flow(width float64) {
	at, line := floor.Point{}, 0.0
	for i := range f.stages {
		s := &f.stages[i]
		size := s.size()
		if at.X > 0 && at.X+size.X > width {
			at = floor.Point{Y: at.Y + line + stageGap}
			line = 0
		}
		s.at = at
		at.X += size.X + stageGap
		line = max(line, size.Y)
		f.size = floor.Point{X: max(f.size.X, s.at.X+size.X), Y: max(f.size.Y, s.at.Y+size.Y)}
	}
}

// stage is a run of rows drawn together: as many as do not cover each other.
type stage struct {
	from, to int
	sides    []*diagram
	at       floor.Point // in the panel, below its head
}

func (s *stage) size() floor.Point {
	size := floor.Point{X: betweenTwo * float64(len(s.sides)-1)}
	for _, d := range s.sides {
		size.X += d.size().X
		size.Y = max(size.Y, d.size().Y+stageHead+d.remarkHeight())
	}
	return size
}

// measure works out the space that the diagrams need. They are equally high, so
// that the partners can be found at the same height in both.
func (s *stage) measure() {
	for _, d := range s.sides {
		d.measure()
	}
	for _, d := range s.sides {
		for _, e := range s.sides {
			d.bounds.Min.Y, d.bounds.Max.Y = min(d.bounds.Min.Y, e.bounds.Min.Y), max(d.bounds.Max.Y, e.bounds.Max.Y)
		}
	}
}

// split divides the rows into stages. A new stage begins where a foot would
// cover another, or with the bar if one has begun since the last stage.
func (f *panel) split(shown [2]bool) (stages []stage) {
	for from := 0; from < f.to || from == 0; {
		s := stage{from: from, to: f.to}
		for _, q := range routine.Partners() {
			if shown[q] && f.of().Figure.Has[q] {
				d := f.diagram(q, from, s.to)
				s.to = d.to
				s.sides = append(s.sides, d)
			}
		}
		if s.to < f.to {
			s.to = f.barBefore(from, s.to)
		}
		for i, d := range s.sides {
			if d.to != s.to {
				s.sides[i] = f.diagram(d.partner, from, s.to)
			}
		}
		s.measure()
		stages = append(stages, s)
		if s.to == from {
			break
		}
		from = s.to
	}
	return stages
}

// barBefore returns the last row in (from, to] that begins a bar of the figure,
// or to if there is none.
func (f *panel) barBefore(from, to int) int {
	bar := f.path.Score.Dance.Metre.Bar()
	for i := to; i > from; i-- {
		if (f.row(i).At-f.row(0).At)%bar == 0 {
			return i
		}
	}
	return to
}

// The styles of text in a panel.
var (
	nameLetters   = lettering{class: "name", size: 4}
	factLetters   = lettering{class: "fact", size: 2.5}
	stageLetters  = lettering{class: "stage", size: 2.4}
	numberLetters = lettering{class: "number", size: 2.4}
	countLetters  = lettering{class: "count", size: 2.2}
)

func (l lettering) within(width float64) lettering {
	l.width = width
	return l
}

// draw writes a panel of the given size at a place.
func (f *panel) draw(p *pen, at, size floor.Point) {
	p.open("panel", f.of().Name())
	p.rectangle("frame", rectangle{at, at.Plus(size)}.grown(-0.15))
	inner := size.X - 2*panelEdge
	p.text(at.Plus(floor.Point{X: panelEdge, Y: 5.5}), nameLetters.within(inner), f.of().Name())
	p.text(at.Plus(floor.Point{X: panelEdge, Y: 9.3}), factLetters.within(inner), f.facts())
	for i := range f.stages {
		f.stages[i].draw(p, at.Plus(floor.Point{X: panelEdge, Y: panelHead}))
	}
	foot := at.Plus(floor.Point{X: panelEdge, Y: size.Y - panelEdge})
	scaleBar(p, foot, f.scale)
	if d, name, known := f.compass(); known {
		compass(p, at.Plus(floor.Point{X: size.X - panelEdge - 4, Y: size.Y - panelEdge - 3}), d, name)
	}
	p.close()
}

// scaleBar writes a bar one metre long, or as many metres as it takes to be seen.
func scaleBar(p *pen, at floor.Point, s scale) {
	metres := 1.0
	for s.of(100*metres) < 8 {
		metres *= 2
	}
	end := at.Plus(floor.Point{X: s.of(100 * metres)})
	up := floor.Point{Y: -1.6}
	p.line("bar", at.Plus(up), at, end, end.Plus(up))
	p.text(at.Plus(floor.Point{X: 1, Y: -0.9}), countLetters, fmt.Sprintf("%g m", metres))
}

// compass writes an arrow in direction d, with its name to the left.
func compass(p *pen, at floor.Point, d routine.Direction, name string) {
	way := toward(d)
	p.circle("compass", at, 3)
	p.line("bar", at.Minus(way.Times(2.4)), at.Plus(way.Times(1.5)))
	p.tip("tip", at.Plus(way.Times(2.7)), way, 2)
	p.text(at.Plus(floor.Point{X: -4, Y: 0.9}), lettering{class: "count end"}, name)
}

func (s *stage) draw(p *pen, origin floor.Point) {
	at := origin.Plus(s.at)
	for _, d := range s.sides {
		d.draw(p, at)
		at.X += d.size().X + betweenTwo
	}
}
