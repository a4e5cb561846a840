package plan

import (
	"fmt"
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// subject is what a panel draws: a figure, or the part of it that is danced, from where it is first danced.
type subject struct {
	path    *floor.Path
	passage int
	items   []int // the items in which it is danced, from 0
	frame   frame
	couples []floor.Couple // as [floor.Path.Passage] returns them
	to      int            // how many rows are drawn, from the passage's From on
	scale   scale
}

func (f *subject) of() *routine.Passage { return &f.path.Score.Passages[f.passage] }

// row returns row i of what is drawn, from 0.
func (f *subject) row(i int) *routine.Row { return &f.of().Figure.Rows[f.of().From+i] }

// facts is what is said below the name.
func (f *subject) facts() string {
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
func (f *subject) compass() (d routine.Direction, name string, known bool) {
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
