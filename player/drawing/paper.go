package drawing

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Paper is how a routine is drawn on paper.
type Paper struct {
	Shown [2]bool   // whose steps are drawn
	View  plan.View // of the figures; the hall is always seen from above
}

// PageHeight is how much of a plan stands on a page of A4, in millimetres.
const PageHeight = 277.0

// The paper, in millimetres: A4 with a margin of 10, whose width fits Letter too.
const (
	paperWidth  = 190.0
	panelGap    = 4.0
	tallestPart = 127.0 // so that two fit a page
	mostPanels  = 60
)

// SVG writes [Paper.Draw]'s drawing as an SVG 1.1 document.
func (paper Paper) SVG(w io.Writer, path *floor.Path) error {
	if err := paper.document(path).to(w, path.Score.Title); err != nil {
		return fmt.Errorf("write plan: %w", err)
	}
	return nil
}

// Draw draws the floor plan of a routine, 190 mm wide and as long as it needs: a panel for each figure, in
// the order in which they are first danced, and one with the whole way in the hall. No panel that fits on
// a page crosses the end of one, each [PageHeight]. The path must have at least one passage.
func (paper Paper) Draw(path *floor.Path) Drawing {
	d := paper.document(path)
	for _, p := range d.parts {
		d.shapes = append(d.shapes, p.drawing.Moved(p.at).Shapes...)
	}
	return Drawing{Size: floor.Point{X: paperWidth, Y: d.height}, Shapes: d.shapes}
}

func (paper Paper) document(path *floor.Path) *document {
	d := new(document)
	d.head(paper, path.Score)
	list, all := panels(path)
	drawer := New(path)
	for _, p := range list {
		p.draw(drawer, paper)
	}
	d.shelve(list)
	if all > len(list) {
		d.y += 4
		d.write(floor.Point{Y: d.y}, factLetters, fmt.Sprintf("Only the first %d of %d figures are drawn.", len(list), all))
		d.y += panelGap
	}
	hall := Hall(path, paperWidth)
	d.y = ontoPage(d.y, hall.Size.Y)
	d.put(&hall, floor.Point{Y: d.y})
	d.height = d.y + hall.Size.Y + 1
	return d
}

// document is a long drawing, with others in it.
type document struct {
	sheet
	parts  []part  // the other drawings
	y      float64 // where what comes next begins
	height float64 // of all of it
}

// part is a drawing at a place in a document.
type part struct {
	drawing *Drawing
	at      floor.Point
}

// put draws a drawing at a place.
func (d *document) put(drawing *Drawing, at floor.Point) {
	d.parts = append(d.parts, part{drawing, at})
}

// head writes the title and what the marks mean.
func (d *document) head(paper Paper, score *routine.Score) {
	d.write(floor.Point{Y: 8}, lettering{size: 7, bold: true, width: paperWidth}, score.Title)
	d.write(floor.Point{Y: 14}, lettering{size: 3.5, width: paperWidth},
		fmt.Sprintf("%s · %s · figures seen %s", score.Dance.Name, score.Dance.TempoText(score.Tempo), paper.View.Of(paper.Shown)))
	key := Key(paper.Shown, paperWidth)
	d.put(&key, floor.Point{Y: 17})
	d.y = 17 + key.Size.Y + panelGap
}

// to writes the whole document.
func (d *document) to(w io.Writer, title string) error {
	h := decimal(d.height)
	_, err := fmt.Fprintf(w, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="%smm" height="%smm" viewBox="0 0 %s %s">
<title>%s</title>
<style type="text/css">@page{size:A4;margin:10mm}</style>
<rect width="%s" height="%s" fill="#fff"/>
`, decimal(paperWidth), h, decimal(paperWidth), h, escaped(cut(title, mostLetters)), decimal(paperWidth), h)
	if err != nil {
		return err
	}
	text := Drawing{Size: floor.Point{X: paperWidth, Y: d.height}, Shapes: d.shapes}
	if _, err := w.Write(text.svg("", "", still)); err != nil {
		return err
	}
	for _, p := range d.parts {
		if _, err := w.Write(p.drawing.svg("", fmt.Sprintf("x=\"%s\" y=\"%s\"", decimal(p.at.X), decimal(p.at.Y)), told)); err != nil {
			return err
		}
	}
	_, err = io.WriteString(w, "</svg>\n")
	return err
}

// ontoPage returns y, or where the next page begins if height does not fit below it.
func ontoPage(y, height float64) float64 {
	page := float64(int(y/PageHeight)) * PageHeight
	if y > page+1 && y+height > page+PageHeight-1 && height < PageHeight {
		return page + PageHeight + 1
	}
	return y
}

// shelve puts panels in rows.
func (d *document) shelve(list []*panel) {
	for len(list) > 0 {
		n, width, height := 0, 0.0, 0.0
		for _, p := range list {
			if n > 0 && width+panelGap+p.size.X > paperWidth {
				break
			}
			if n > 0 {
				width += panelGap
			}
			n++
			width += p.size.X
			height = max(height, p.size.Y)
		}
		at := floor.Point{Y: ontoPage(d.y, height)}
		more := (paperWidth - width) / float64(n)
		for _, p := range list[:n] {
			size := floor.Point{X: p.size.X + more, Y: height}
			d.frame(box{Min: at, Max: at.Plus(size)}, p.of.Name(), p.facts())
			for i := range p.drawings {
				d.put(&p.drawings[i], at.Plus(p.at[i]))
			}
			at.X += size.X + panelGap
		}
		d.y = at.Y + height + panelGap
		list = list[n:]
	}
}

// panel is a figure, or a part of one, in a frame.
type panel struct {
	of       *routine.Passage
	passage  int   // where it is first danced
	items    []int // the items in which it is danced, from 0
	placed   bool  // the couple has a place in the hall
	drawings []Drawing
	at       []floor.Point // of each drawing in the frame
	size     floor.Point
}

// panelKey is what two passages must share to share a panel.
type panelKey struct {
	figure   *routine.Figure
	from, to int
	begins   routine.PositionSet
}

// panels returns the panels of a path, in the order in which their figures are first danced, at most
// mostPanels. All is how many there would be.
func panels(path *floor.Path) (list []*panel, all int) {
	known := map[panelKey]*panel{}
	for i := range path.Score.Passages {
		passage := &path.Score.Passages[i]
		key := panelKey{passage.Figure, passage.From, passage.To, passage.Begins.Positions}
		if known[key] == nil {
			known[key] = &panel{of: passage, passage: i, placed: placed(path.Score)}
			if all++; all <= mostPanels {
				list = append(list, known[key])
			}
		}
		if p := known[key]; len(p.items) == 0 || p.items[len(p.items)-1] != passage.Item {
			p.items = append(p.items, passage.Item)
		}
	}
	return list, all
}

// draw draws a panel's figure, and places its drawings in rows.
func (p *panel) draw(d *Drawer, paper Paper) {
	const inner = paperWidth - 2*panelEdge
	p.drawings = d.Figure(p.passage, Options{
		Shown:  paper.Shown,
		Up:     paper.View.Up(d.path, p.passage, paper.Shown),
		Widths: []float64{(paperWidth-panelGap)/2 - 2*panelEdge, inner},
		Height: tallestPart,
	})
	at, high := floor.Point{}, 0.0
	for i := range p.drawings {
		size := p.drawings[i].Size
		if at.X > 0 && at.X+size.X > inner {
			at, high = floor.Point{Y: at.Y + high + panelGap}, 0
		}
		p.at = append(p.at, at.Plus(floor.Point{X: panelEdge, Y: panelHead}))
		p.size.X = max(p.size.X, at.X+size.X)
		at.X += size.X + panelGap
		high = max(high, size.Y)
	}
	title := max(textWidth(p.of.Name())*nameLetters.size, textWidth(p.facts())*factLetters.size)
	p.size = floor.Point{X: max(p.size.X, min(title, inner/2-panelGap)) + 2*panelEdge, Y: panelHead + at.Y + high + panelEdge}
}

// facts is what is said below the name.
func (p *panel) facts() string {
	facts := []string{"no. " + list(p.items) + " of the order"}
	if len(p.items) > 1 {
		facts[0] = "nos. " + list(p.items) + " of the order"
	}
	begins := ""
	if ps := p.of.Begins.Positions; ps != 0 && !ps.Unknown() {
		begins = "begins in " + ps.String()
	}
	if p.placed {
		if begins == "" {
			begins = "begins"
		} else {
			begins += ","
		}
		begins += " facing " + p.of.Begins.Facing[routine.Leader].String()
	}
	if begins != "" {
		facts = append(facts, begins)
	}
	if rows := p.of.To - p.of.From; rows > mostRows {
		facts = append(facts, fmt.Sprintf("the first %d of %d steps", mostRows, rows))
	}
	return strings.Join(facts, " · ")
}

// Key draws what the marks mean, no wider than a width in millimetres.
func Key(shown [2]bool, width float64) Drawing {
	k := &legend{sheet: new(sheet), at: floor.Point{X: 3, Y: 8}, width: width}
	for _, q := range routine.Partners() {
		if shown[q] {
			k.explain(33, func() {
				k.footprint(q, routine.LF, routine.Full, k.at, routine.Centre, legendScale)
				k.at.X += 6
				k.footprint(q, routine.RF, routine.Full, k.at, routine.Centre, legendScale)
			}, q.String()+"’s", "left, right")
		}
	}
	someone := routine.Follower
	if shown[routine.Leader] {
		someone = routine.Leader
	}
	foot := func(w routine.Weight) func() {
		return func() { k.footprint(someone, routine.RF, w, k.at, routine.Centre, legendScale) }
	}
	k.explain(23, foot(routine.Part), "part of", "the weight")
	k.explain(18, foot(routine.None), "no", "weight")
	k.explain(26, func() { k.sole(before, someone, routine.RF, k.at, routine.Centre, legendScale) }, "where a foot", "begins")
	k.explain(29, func() {
		k.at.X += 4
		k.body(ended, someone, k.at, routine.Centre, legendScale)
		k.at.X += 3
	}, "where the", "body ends")
	y := k.at.Y + 11
	lines := []string{"On a foot stand the numbers of its steps,", "beside it their counts and how far they turn."}
	if shown[routine.Leader] && shown[routine.Follower] {
		lines = append(lines, "Small bodies show how the couple begins", "and ends, and dots which hands hold.")
	}
	for _, n := range [...]int{len(lines), 2} { // as few lines as the width allows
		var longer []string
		for part := range slices.Chunk(lines, n) {
			longer = append(longer, strings.Join(part, " "))
		}
		if !slices.ContainsFunc(longer, func(line string) bool { return textWidth(line)*small >= width }) {
			lines = longer
			break
		}
	}
	for _, line := range lines {
		k.write(floor.Point{Y: y}, factLetters, line)
		k.widest = max(k.widest, textWidth(line)*small)
		y += 4
	}
	return Drawing{Size: floor.Point{X: k.widest, Y: y - 2}, Shapes: k.shapes, Scale: legendScale}
}

// legend is what the marks mean, in rows.
type legend struct {
	*sheet
	at            floor.Point
	width, widest float64
}

const legendScale = 12 / footLength

// explain draws a mark, and words beside it, in a room as wide as it is said, in millimetres.
func (k *legend) explain(room float64, mark func(), words ...string) {
	begin := k.at.X
	if begin > 3 && begin+room > k.width {
		begin, k.at = 3, floor.Point{X: 3, Y: k.at.Y + 14}
	}
	mark()
	for i, w := range words {
		k.write(k.at.Plus(floor.Point{X: 3.4, Y: 3.6*float64(i) - 1}), factLetters, w)
	}
	k.at.X = begin + room
	k.widest = max(k.widest, k.at.X)
}
