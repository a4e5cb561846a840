package handout

import (
	"fmt"
	"slices"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/handout/prose"
	"dance.example/slowquick/player/pages"
	"dance.example/slowquick/player/typeface"
	"dance.example/slowquick/routine/floor"
)

// paperPages sets programmes on pages of paper.
type paperPages struct {
	*pages.Book
	zoom float64 // of drawings
}

// look returns how pages look, with words at their foot.
func look(o Options, foot string) pages.Look {
	return pages.Look{
		Paper:  [...]floor.Point{A4: pages.A4, Letter: pages.Letter}[o.Paper],
		Margin: floor.Point{X: 12, Y: 12},
		Size:   9 * pages.Point,
		Foot:   foot,
	}
}

// foot returns what stands at the foot of a sheet's pages.
func (p *programme) foot() string {
	if said := p.lesson(); said != "" {
		return p.Title + " · " + said
	}
	return p.Title
}

// largeZooms is by how much drawings may be enlarged in large print: the first has their smallest letters, of
// 8.2 points, be as large as all others.
var largeZooms = [...]float64{2.2, 1.8, 1.4, 1.2, 1}

// programme sets a routine, and returns where it begins.
func (p paperPages) programme(sheet *programme) *pages.Place {
	begins := p.Heading(1, sheet.Title)
	if sheet.Side != "" {
		p.Text(styledSpans(sheet.Side+"’s steps", typeface.Italic))
	}
	facts(&p.Column, sheet.Facts)
	for _, s := range sheet.Prose.Intro {
		if s.Name != "" {
			p.Heading(2, s.Name)
		}
		blocks(&p.Column, s.Blocks)
	}
	p.Heading(2, "Order")
	p.Table(orderTable(sheet))
	blocks(&p.Column, sheet.Prose.Order)
	p.Heading(2, "Figures")
	if sheet.Figures != nil {
		p.Note(pages.Plain(sheet.Drawings()))
		p.Figure([]drawing.Drawing{drawing.Key(sheet.set.Shown, p.Width/p.zoom)}, p.zoom, "The marks of the drawings.")
	}
	if sheet.Earlier != nil {
		p.Note(pages.Plain("These are shown with a routine before:"))
		shownOn(&p.Column, sheet.Earlier)
		p.Space(0.5)
	}
	var short []pages.Span
	for _, e := range sheet.ShortForms() {
		short = append(short, pages.Span{Words: e.Word, Style: typeface.Bold}, pages.Span{Words: " " + e.Meaning + "   "})
	}
	if short != nil {
		p.Note(short)
	}
	p.figures(sheet)
	p.closing(sheet, p.Left())(&p.Column)
	return begins
}

// closing returns a function that sets what follows the figures: where the routine leads, drawn as high as there is
// room for on a page, and the sources.
func (p paperPages) closing(sheet *programme, room float64) (set func(*pages.Column)) {
	for _, high := range [...]float64{tallest, 0.75 * tallest, 0.55 * tallest} {
		set = func(c *pages.Column) {
			p.route(c, sheet, high)
			sources(c, sheet)
		}
		if p.Height(set) <= room {
			return set
		}
	}
	return func(c *pages.Column) {
		p.route(c, sheet, tallest)
		sources(c, sheet)
	}
}

// route draws where a routine leads.
func (p paperPages) route(c *pages.Column, sheet *programme, high float64) {
	if !drawing.Routed(sheet.timeline.Score) {
		return
	}
	route, said := drawing.Route(sheet.path, c.Width/p.zoom, high/p.zoom)
	c.Together(func() {
		c.Heading(2, "The way through the room")
		c.Figure([]drawing.Drawing{route}, p.zoom, said)
		c.Note(pages.Plain(routeRead(said)))
	})
}

// sources says where the charts are from.
func sources(c *pages.Column, sheet *programme) {
	list := sheet.Sources()
	if list == nil {
		return
	}
	c.Heading(2, "Sources")
	for _, s := range list {
		c.Note(pages.Plain(s.Name + ": " + s.Value))
	}
}

// shownOn sets on which pages figures are.
func shownOn(c *pages.Column, list []*shownFigure) {
	names, places := make([]string, len(list)), make([]*pages.Place, len(list))
	for i, f := range list {
		names[i], places[i] = f.Name+", "+f.Dance, f.place
	}
	c.Contents(names, places)
}

// besideGap is between a chart and the drawing beside it, in millimetres.
const besideGap = 4.0

// figures sets figures in the order in which they fill pages, as on a page for browsers, and enlarges their
// drawings to what is left of each.
func (p paperPages) figures(sheet *programme) {
	drawer := drawing.New(sheet.path)
	var todo []*paperFigure
	var high []float64
	for i := range sheet.Figures {
		f := p.figure(sheet, &sheet.Figures[i], drawer)
		todo, high = append(todo, f), append(high, p.Height(f.set))
	}
	for room, fresh := p.Left(), false; len(todo) > 0; room, fresh = p.Tall(), true {
		which, most := onePage(high, room, fresh)
		if len(which) == len(todo) { // what follows has room, too
			if rest := p.Height(p.closing(sheet, room-most)); most+rest <= room {
				room -= rest
			}
		}
		var page []*paperFigure
		for _, i := range which {
			page = append(page, todo[i])
		}
		p.grow(page, room)
		for _, f := range page {
			f.set(&p.Column)
		}
		for _, i := range slices.Backward(which) {
			todo, high = slices.Delete(todo, i, i+1), slices.Delete(high, i, i+1)
		}
		if len(todo) > 0 {
			p.FreshPage()
		}
	}
}

// grow enlarges the drawings of figures that share a page, as far as that has room.
func (p paperPages) grow(list []*paperFigure, room float64) {
	spare := 0.0
	for percent := 100 * mostGrown; percent >= 100; percent -= 5 {
		spare = room
		for _, f := range list {
			f.grown = max(1, min(percent/100, f.broadest/f.width()))
			spare -= p.Height(f.set)
		}
		if spare >= 0 {
			break
		}
	}
	for _, f := range list {
		spare -= p.arrange(f, spare)
	}
}

// arrange draws a figure anew that is as wide as its page, and so could not be enlarged much, if it can be with its
// pictures placed otherwise. It returns how much higher the figure is.
func (p paperPages) arrange(f *paperFigure, spare float64) float64 {
	const much = 1.2
	if p.zoom > 1 || f.beside || f.grown > much || spare <= 0 || len(f.drawings) != 1 {
		return 0
	}
	was, high := *f, p.Height(f.set)
	for foot := 12 * mostGrown; foot > f.foot()*was.grown*1.05; foot-- {
		f.draw(foot, []float64{p.Width}, was.drawings[0].Size.Y*was.zoom*was.grown+spare)
		if f.grown = 1; len(f.drawings) == 1 && f.foot() > was.foot()*was.grown && p.Height(f.set) <= high+spare {
			return p.Height(f.set) - high
		}
		*f = was
	}
	return 0
}

// paperFigure is a figure on paper: its chart, and beside it or below it how it is drawn.
type paperFigure struct {
	*figurePart
	chart    pages.Table
	drawings []drawing.Drawing
	zoom     float64 // of large print
	grown    float64 // and by how much more the drawings are enlarged
	beside   bool    // the drawing stands beside the chart
	broadest float64 // how wide drawings may be, in millimetres

	draw func(foot float64, widths []float64, height float64) // with feet and sizes in millimetres, enlarged
}

func (p paperPages) figure(sheet *programme, f *figurePart, drawer *drawing.Drawer) *paperFigure {
	out := &paperFigure{figurePart: f, chart: chartTable(sheet, f), zoom: p.zoom, grown: 1, broadest: p.Width}
	beside := p.Width - besideGap - p.Least(&out.chart)
	out.draw = func(foot float64, widths []float64, height float64) {
		o := drawing.Options{Shown: sheet.set.Shown, Up: up(sheet, f), Height: height / out.zoom, Foot: foot}
		for _, width := range widths {
			o.Widths = append(o.Widths, width/out.zoom)
		}
		out.drawings = drawer.Figure(f.passage, o)
	}
	draw := func(height float64) { out.draw(12, []float64{max(beside, p.Width/3), p.Width}, height) }
	if p.zoom == 1 {
		draw(tallest)
	} else {
		p.enlarge(out, draw)
	}
	if len(out.drawings) == 1 && out.width() <= beside && p.Height(out.written) <= p.Tall() {
		out.beside, out.broadest = true, beside
	}
	return out
}

// enlarge draws a figure for large print: below its chart if there is room for feet of 12 mm, or on the next page.
// The drawing is enlarged less than all else if its feet would be too small to hold their numbers.
func (p paperPages) enlarge(f *paperFigure, draw func(height float64)) {
	f.drawings = make([]drawing.Drawing, 1) // of no height
	left := p.Tall() - p.Height(f.set)
	for _, f.zoom = range largeZooms {
		if draw(left); f.foot() >= max(leastFoot, 12/f.zoom) && p.Height(f.set) <= p.Tall() {
			return
		}
	}
	for _, f.zoom = range largeZooms {
		if draw(p.Tall()); f.foot() >= leastFoot {
			return
		}
	}
}

// foot returns how long the smallest feet are, in millimetres before they are enlarged.
func (f *paperFigure) foot() float64 { return footOf(f.drawings) }

// width returns how wide the widest drawing is, before it grows.
func (f *paperFigure) width() (most float64) {
	for i := range f.drawings {
		most = max(most, f.drawings[i].Size.X*f.zoom)
	}
	return most
}

// set sets a figure on one page, if that has room for it.
func (f *paperFigure) set(c *pages.Column) {
	c.Together(func() {
		c.Rule()
		if place := c.Heading(3, f.Name); f.shown != nil {
			f.shown.place = place
		}
		if f.beside && c.Beside(f.width()*f.grown, besideGap, f.written, f.drawn) {
			return
		}
		f.written(c)
		f.drawn(c)
	})
}

func (f *paperFigure) written(c *pages.Column) {
	facts(c, slices.DeleteFunc(slices.Clone(f.Facts), func(x fact) bool { return x.Name == "Source" })) // which stands at the end
	blocks(c, f.Prose)
	c.Table(f.chart)
	c.Note(pages.Plain("Spoken: “" + f.Spoken + "”. " + f.Said))
}

func (f *paperFigure) drawn(c *pages.Column) {
	c.Figure(f.drawings, f.zoom*f.grown, "Plan of the floor: "+f.Name+". "+f.Said)
}

func styledSpans(words string, s typeface.Style) []pages.Span {
	return []pages.Span{{Words: words, Style: s}}
}

// facts sets facts one after the other, each after its name.
func facts(c *pages.Column, list []fact) {
	var said []pages.Span
	for i, f := range list {
		if i > 0 {
			said = append(said, pages.Plain(" · ")...)
		}
		said = append(said, pages.Span{Words: f.Name + " ", Style: typeface.Italic}, pages.Span{Words: f.Value})
	}
	c.Text(said)
}

func orderTable(sheet *programme) pages.Table {
	t := pages.Table{Heads: []string{"No.", "Figure", "Bars", "Begins at"}}
	for _, o := range sheet.Order {
		t.Rows = append(t.Rows, []pages.Cell{
			pages.Words(fmt.Sprint(o.Number)),
			{Spans: pages.Plain(o.Name), Notes: o.Remarks, Heads: true},
			pages.Words(o.Bars), pages.Words(o.At),
		})
	}
	return t
}

func chartTable(sheet *programme, f *figurePart) pages.Table {
	t := pages.Table{Heads: []string{"Step", "Count"}, Bands: true}
	if f.Styled {
		t.Heads = append(t.Heads, "Said")
	}
	t.Heads = append(t.Heads, sheet.Sides...)
	if f.HasPosition {
		t.Heads = append(t.Heads, "Position")
	}
	for _, r := range f.Rows {
		cells := []pages.Cell{pages.Words(fmt.Sprint(r.Number)), {Spans: styledSpans(r.Count, typeface.Bold), Heads: true}}
		if f.Styled {
			cells = append(cells, pages.Words(r.Said))
		}
		for i, step := range r.Steps {
			if turn := r.Turns[i]; step != "" && turn != "" {
				step += ", " + turn
			} else {
				step += turn
			}
			cells = append(cells, pages.Words(step))
		}
		if f.HasPosition {
			cells = append(cells, pages.Words(r.Position))
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// blocks sets a sheet's prose.
func blocks(c *pages.Column, list []prose.Block) {
	for _, b := range list {
		setBlock(c, b)
	}
}

func setBlock(c *pages.Column, b prose.Block) {
	const indent = 1.8 // of the letters' size
	switch b.Kind {
	case "ol", "ul":
		list, end := c.List()
		for i, item := range b.Items {
			mark := "•"
			if b.Kind == "ol" {
				mark = fmt.Sprintf("%d.", i+1)
			}
			list.Indented("LI", mark, indent, func(inner *pages.Column) { blocks(inner, item) })
		}
		end()
	case "quote":
		c.Indented("BlockQuote", "", indent, func(inner *pages.Column) {
			for _, item := range b.Items {
				blocks(inner, item)
			}
		})
	case "code":
		for _, s := range b.Spans {
			c.Code(s.Text)
		}
	case "table":
		c.Table(proseTable(b))
	case "h":
		c.Text(styledSpans(prose.PlainText(b.Spans), typeface.Bold))
	default:
		c.Text(styles(b.Spans))
	}
}

// styles returns spans in the letters of their styles.
func styles(spans []prose.Span) (list []pages.Span) {
	for _, s := range spans {
		style := typeface.Regular
		switch {
		case s.Code:
			style = typeface.Mono
		case s.Strong:
			style = typeface.Bold
		case s.Emphasis:
			style = typeface.Italic
		}
		list = append(list, pages.Span{Words: s.Text, Style: style})
	}
	return list
}

func proseTable(b prose.Block) (t pages.Table) {
	for i, cells := range b.Rows {
		var row []pages.Cell
		for _, cell := range cells {
			if i == 0 {
				t.Heads = append(t.Heads, prose.PlainText(cell))
			} else {
				row = append(row, pages.Cell{Spans: styles(cell)})
			}
		}
		if i > 0 {
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}
