package plan

import (
	"fmt"
	"io"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

type Paper struct {
	Shown [2]bool // whose steps are drawn
	View  View    // of the figures; the hall is always seen from above
}

// The paper, in millimetres: A4 with a margin of 10, whose width fits Letter too.
const (
	paperWidth = 190.0
	pageHeight = 277.0
	panelGap   = 4.0
	mostPanels = 60
)

// SVG writes the floor plan of a routine as an SVG 1.1 document: a panel for
// each figure, in the order in which they are first danced, and one with the
// whole way in the hall. No panel that fits on a page crosses the end of one.
// The path must have at least one passage.
func (paper Paper) SVG(w io.Writer, path *floor.Path) error {
	p := new(pen)
	score := path.Score
	at := floor.Point{Y: paper.head(p, score)}
	list, all := panels(path, mostPanels)
	for _, f := range list {
		f.arrange(paper.Shown, paper.View, paperWidth)
	}
	at.Y = shelve(p, list, at.Y)
	if all > len(list) {
		at.Y += 4
		p.text(at, lettering{class: "journey"}, fmt.Sprintf("Only the first %d of %d figures are drawn.", len(list), all))
		at.Y += panelGap
	}
	var r room
	r.look(path, paperWidth)
	at = ontoPage(at, r.size.Y)
	r.draw(p, at)
	return document(w, score, p, at.Y+r.size.Y+1)
}

// ontoPage returns at, or the start of the next page if height does not fit below it.
func ontoPage(at floor.Point, height float64) floor.Point {
	page := float64(int(at.Y/pageHeight)) * pageHeight
	if at.Y > page+1 && at.Y+height > page+pageHeight-1 && height < pageHeight {
		at.Y = page + pageHeight + 1
	}
	return at
}

// shelve draws panels in rows from y down, and returns where the last row ends.
func shelve(p *pen, list []*panel, y float64) float64 {
	for len(list) > 0 {
		n, width, height := 0, 0.0, 0.0
		for _, f := range list {
			if n > 0 && width+panelGap+f.size.X > paperWidth {
				break
			}
			if n > 0 {
				width += panelGap
			}
			n++
			width += f.size.X
			height = max(height, f.size.Y)
		}
		at := ontoPage(floor.Point{Y: y}, height)
		more := (paperWidth - width) / float64(n)
		for _, f := range list[:n] {
			size := floor.Point{X: f.size.X + more, Y: height}
			f.draw(p, at, size)
			at.X += size.X + panelGap
		}
		y = at.Y + height + panelGap
		list = list[n:]
	}
	return y
}

// head writes the title and the legend, and returns where they end.
func (paper Paper) head(p *pen, score *routine.Score) float64 {
	p.text(floor.Point{Y: 8}, lettering{class: "title", size: 7, width: paperWidth}, score.Title)
	p.text(floor.Point{Y: 14}, lettering{class: "dance", size: 3.5, width: paperWidth},
		fmt.Sprintf("%s · %s · figures seen %s", score.Dance.Name, score.Dance.TempoText(score.Tempo), paper.View.Of(paper.Shown)))
	paper.legend(p, floor.Point{Y: 18})
	return 40
}

// legend explains the marks.
func (paper Paper) legend(p *pen, at floor.Point) {
	p.open("legend", "What the marks mean")
	at = at.Plus(floor.Point{X: 3, Y: 7})
	explain := func(room float64, words ...string) {
		for i, w := range words {
			p.text(at.Plus(floor.Point{X: 2.6, Y: 3*float64(i) - 0.5}), factLetters, w)
		}
		at.X += room
	}
	foot := func(q routine.Partner, m mark, room float64, words ...string) {
		p.open(markNames[m], "")
		footprint(p, q, routine.RF, m, at, routine.Centre, scales[0].feet())
		if m == fullMark {
			p.text(at.Minus(floor.Point{Y: 1}), numberLetters, "3")
		}
		p.close()
		explain(room, words...)
	}
	someone := routine.Follower
	for _, q := range routine.Partners() {
		if paper.Shown[q] {
			someone = min(someone, q)
			p.open(q.String(), "")
			foot(q, fullMark, 22, q.String()+"'s", "third step")
			foot(q, partMark, 20, "part of", "the weight")
			foot(q, freeMark, 16, "no", "weight")
			p.close()
		}
	}
	foot(someone, oldMark, 24, "where a foot", "stands before")
	for _, q := range routine.Partners() {
		at.X += 3
		body(p, q, "ends", at, routine.Centre, scales[0].feet())
		at.X += 3
		explain(19, q.String(), "from above")
	}
	at = floor.Point{Y: at.Y + 11}
	p.text(at, factLetters, "On a foot stands the number of its step, beside it the count. Arrows lead from each foot to the next. "+
		"Dashed bodies begin, grey ones end; a thin one is the partner's.")
	p.close()
}

// style is the look of each class. Nothing is shown by colour alone.
const style = `@page{size:A4;margin:10mm}
text{font-family:Helvetica,Arial,"Liberation Sans","DejaVu Sans",sans-serif;fill:#000}
.title{font-size:7px;font-weight:bold}.dance{font-size:3.5px}.journey{font-size:3px}
.name{font-size:4px;font-weight:bold}.fact{font-size:2.5px}.stage{font-size:2.4px;font-weight:bold}
.number{font-size:2.4px;font-weight:bold;text-anchor:middle}.small{font-size:1.9px}.count{font-size:2.2px}
.middle{text-anchor:middle}.end{text-anchor:end}
.leader .sole{fill:#333;stroke:#fff;stroke-width:.3}.leader .full .number,.leader .part .number{fill:#fff}
.follower .sole{fill:#fff;stroke:#000;stroke-width:.35}
.thin{fill:#fff;stroke:#000;stroke-width:.15}
.old{fill:none;stroke:#777;stroke-width:.2;stroke-dasharray:.8 .6}
.ends{fill:#eee;stroke:#999;stroke-width:.2}.begins{fill:none;stroke:#999;stroke-width:.2;stroke-dasharray:.8 .6}
.other{fill:none;stroke:#bbb;stroke-width:.2}
.way{fill:none;stroke:#555;stroke-width:.25}.tip{fill:#555;stroke:none}.bar{fill:none;stroke:#000;stroke-width:.25}
.compass{fill:none;stroke:#999;stroke-width:.2}
.frame{fill:none;stroke:#aaa;stroke-width:.2}.floor{fill:none;stroke:#000;stroke-width:.5}
path.journey{fill:none;stroke:#000;stroke-width:.4}.dot{fill:#000}.plate{fill:#fff}.leads{stroke:#555;stroke-width:.15}
`

// document writes what p drew as a complete document of the given height.
func document(w io.Writer, score *routine.Score, p *pen, height float64) error {
	h := number(height)
	head := new(pen)
	fmt.Fprintf(&head.out, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="%smm" height="%smm" viewBox="0 0 %s %s">
`, number(paperWidth), h, number(paperWidth), h)
	head.element("title", cut(score.Title, mostLetters))
	fmt.Fprintf(&head.out, "<style type=\"text/css\">%s</style>\n<rect width=\"%s\" height=\"%s\" fill=\"#fff\"/>\n", style, number(paperWidth), h)
	for _, part := range [][]byte{head.out.Bytes(), p.out.Bytes(), []byte("</svg>\n")} {
		if _, err := w.Write(part); err != nil {
			return fmt.Errorf("write plan: %w", err)
		}
	}
	return nil
}
