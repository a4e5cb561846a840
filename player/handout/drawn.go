package handout

import "dance.example/slowquick/player/drawing"

// draw draws where the feet go in a figure.
func (p *pagePart) draw(d *drawing.Drawer, f *figurePart) drawnFigure {
	o := drawing.Options{
		Shown:  p.set.Shown,
		Up:     up(p.programme, f),
		Widths: p.layout.widths,
		Height: p.layout.tallest,
		Foot:   12,
	}
	out := drawnFigure{figurePart: *f, zoom: p.layout.zoom, drawer: d, as: o}
	if p.layout.zoom > 1 {
		o.Height = p.below(&out)
	}
	if out.set(d.Figure(f.passage, o)); p.layout.zoom > 1 && footOf(out.list) < leastFoot { // it stands on a page of its own
		o.Height = 0.95 * p.layout.height / p.layout.zoom
		out.set(d.Figure(f.passage, o))
	}
	out.Beside = p.layout.zoom == 1 && len(out.list) == 1 && out.size.X <= narrow
	if out.size.X > narrow {
		o.Widths = []float64{narrow}
		out.slim = d.Figure(f.passage, o)
	}
	return out
}

// below returns how high a drawing in large print may be for its page to have room for the chart, too. Text that is
// twice as large is as high as usual text in half the width is twice, but for fonts narrower than the broadest: a
// drawing that is too high just goes over to the next page.
func (p *pagePart) below(f *drawnFigure) float64 {
	const larger, narrower = 2, 0.8
	half, page := *p.layout, *p
	half.width /= larger * narrower
	page.layout = &half
	return max(0, p.layout.height-larger*page.high(f)) / p.layout.zoom
}
