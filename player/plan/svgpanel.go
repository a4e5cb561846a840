package plan

import (
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// panel draws a subject in stages.
type panel struct {
	subject
	stages []stage
	size   floor.Point
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
			known[key] = &panel{subject: subject{path: path, passage: i}}
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

func (s *stage) draw(p *pen, origin floor.Point) {
	at := origin.Plus(s.at)
	for _, d := range s.sides {
		d.draw(p, at)
		at.X += d.size().X + betweenTwo
	}
}
