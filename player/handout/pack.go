package handout

import (
	"math"
	"slices"

	"github.com/mattn/go-runewidth"

	"dance.example/slowquick/player/handout/prose"
)

// pack puts figures in the order in which they fill pages: each page takes the next figure, and of those
// further on the ones that fill it best. How high text is depends on the reader's fonts, so it is
// estimated, for the broadest that are usual. Nothing breaks if that is wrong: figures flow on to the
// next page.
func (p *pagePart) pack() {
	todo := p.Drawn
	p.Drawn = nil
	room := p.layout.height - math.Mod(p.opening(), p.layout.height)
	for first := true; len(todo) > 0; first = false {
		var high []float64
		for i := range todo {
			high = append(high, p.high(&todo[i]))
		}
		begins := len(p.Drawn)
		if !first {
			todo[0].Next, room = true, p.layout.height
		}
		which, most := onePage(high, room, !first)
		if i, high := p.squeeze(todo, which, room-most); i >= 0 {
			which, most = append(which, i), most+high
			slices.Sort(which)
		}
		for _, i := range which {
			p.Drawn = append(p.Drawn, todo[i])
		}
		for _, i := range slices.Backward(which) {
			todo = slices.Delete(todo, i, i+1)
		}
		spare := room - most
		if len(todo) == 0 && p.closing() < spare {
			spare -= p.closing()
		}
		p.grow(p.Drawn[begins:], spare)
	}
}

// squeeze draws a figure that no page takes yet smaller, if a third of a page would be blank otherwise and its feet can
// still hold their numbers. It returns which, and how high it is then.
func (p *pagePart) squeeze(todo []drawnFigure, taken []int, spare float64) (which int, high float64) {
	if spare < p.layout.height/3 {
		return -1, 0
	}
	for i := range todo {
		f := &todo[i]
		if slices.Contains(taken, i) || f.Beside || i > ahead {
			continue
		}
		was, o := *f, f.as
		o.Height = spare - (p.high(f) - f.size.Y)
		if o.Height < 40 {
			continue
		}
		f.set(f.drawer.Figure(f.passage, o))
		if high := p.high(f); len(f.list) == 1 && high <= spare && footOf(f.list) > leastFoot {
			return i, high
		}
		*f = was
	}
	return -1, 0
}

// mostGrown is by how much drawings are enlarged to fill a page: to feet of 18 mm.
const mostGrown = 1.5

// grow enlarges the drawings of figures that share a page, until they fill what is spare of it.
func (p *pagePart) grow(list []drawnFigure, spare float64) {
	for by := mostGrown; by > 1; by -= 0.05 {
		more := 0.0
		for i := range list {
			f := list[i]
			f.size = f.size.Times(f.growth(p.layout, by))
			more += p.high(&f) - p.high(&list[i])
		}
		if more <= spare {
			for i := range list {
				list[i].zoom = list[i].growth(p.layout, by)
			}
			spare -= more
			break
		}
	}
	for i := range list {
		spare -= list[i].arrange(spare)
	}
}

// arrange draws a figure anew if it could not be enlarged much, as it is as wide as the page, but could be
// if its pictures stand otherwise. It returns how much higher it is.
func (f *drawnFigure) arrange(spare float64) float64 {
	const much = 1.2
	if f.Beside || f.zoom > much {
		return 0
	}
	was, o := *f, f.as
	o.Widths, o.Height = o.Widths[len(o.Widths)-1:], was.size.Y*was.zoom+spare
	for o.Foot = mostGrown * f.as.Foot; o.Foot > much*f.as.Foot; o.Foot -= 1 {
		f.set(f.drawer.Figure(f.passage, o))
		if more := f.size.Y - was.size.Y*was.zoom; len(f.list) == 1 && len(was.list) == 1 && more > 0 && more <= spare && f.list[0].Scale > was.list[0].Scale*was.zoom {
			f.zoom = 1
			return more
		}
	}
	*f = was
	return 0
}

// growth returns by how much a figure's drawing is enlarged, if it is to be enlarged as much as by.
func (f *drawnFigure) growth(l *layout, by float64) float64 {
	width := l.widths[len(l.widths)-1]
	if f.Beside {
		width = l.widths[0]
	}
	return max(1, min(by, width/f.size.X))
}

// onePage returns which of some heights stand on a page with some room, and how high they are: on a fresh
// one whatever is next, even if it is higher, and what fills the rest best.
func onePage(high []float64, room float64, fresh bool) (which []int, most float64) {
	if !fresh {
		return fill(high, room)
	}
	more, most := fill(high[1:], room-high[0])
	which = []int{0}
	for _, i := range more {
		which = append(which, i+1)
	}
	return which, most + high[0]
}

// ahead is how many figures further on are looked at to fill a page.
const ahead = 10

// fill returns which of some heights fill a room best, and how much they fill: the first of equals.
func fill(high []float64, room float64) (which []int, most float64) {
	for i := range min(len(high), ahead) {
		if high[i] > room {
			continue
		}
		more, sum := fill(high[i+1:], room-high[i])
		if sum += high[i]; sum > most+5 {
			most, which = sum, []int{i}
			for _, k := range more {
				which = append(which, i+1+k)
			}
		}
	}
	return which, most
}

// Of text in print, in millimetres: the height of a line of 9 points and of 8, and how broad a letter of
// each is in the broadest fonts that are usual.
const (
	line, smallLine     = 3.97, 3.53
	letter, smallLetter = 1.86, 1.66
)

// lines returns how many lines a text takes in a width.
func lines(text string, width, letter float64) float64 {
	return math.Ceil(float64(runewidth.StringWidth(text)) * letter / width)
}

// opening returns about how high what stands above the first figure is.
func (p *pagePart) opening() float64 {
	facts := 0
	for _, f := range p.Facts {
		facts += len([]rune(f.Name+f.Value)) + 4
	}
	high := 16 + math.Ceil(float64(facts)*letter/p.layout.width)*line // title and facts
	for _, s := range p.Prose.Intro {
		if s.Name != "" {
			high += 10
		}
		high += p.blocks(s.Blocks, p.layout.width)
	}
	high += 14 + p.blocks(p.Prose.Order, p.layout.width) // the order's heading, and its table's
	for _, item := range p.Order {
		high += line + 1 + line*float64(len(item.Remarks))
	}
	short := 0
	for _, e := range p.ShortForms() {
		short += len([]rune(e.Word+e.Meaning)) + 4
	}
	return high + 38 + math.Ceil(float64(short)*smallLetter/p.layout.width)*smallLine // the figures' heading, and the marks
}

// closing returns about how high what stands below the last figure is.
func (p *pagePart) closing() float64 {
	high := 14.0
	if p.Route != nil {
		high += 22 + p.Route.high
	}
	for _, x := range p.Sources() {
		high += 0.8 + lines(x.Name+": "+x.Value, p.layout.width/2-8, smallLetter)*smallLine/2
	}
	return high
}

// blocks returns about how high prose is.
func (p *pagePart) blocks(list []prose.Block, width float64) (high float64) {
	for _, b := range list {
		high += 2 + lines(prose.PlainText(b.Spans), width, letter)*line
		for _, item := range b.Items {
			high += p.blocks(item, width-10)
		}
		high += float64(len(b.Rows)) * (line + 1)
	}
	return high
}

// high returns about how high a figure is.
func (p *pagePart) high(f *drawnFigure) float64 {
	width := p.layout.width
	if f.Beside {
		width -= f.size.X + 5
	}
	facts := ""
	for _, x := range f.Facts {
		if x.Name != "Source" {
			facts += x.Name + " " + x.Value + " · "
		}
	}
	text := 3 + lines(f.Name, width, 2.2)*5 + 2 + lines(facts, width, letter)*line + p.blocks(f.Prose, width) + 5
	cell := width - 22
	if f.Styled {
		cell -= 14
	}
	if f.HasPosition {
		cell -= 22
	}
	cell = cell/float64(len(p.Sides)) - 1
	for _, r := range f.Rows {
		most := 1.0
		for i, step := range r.Steps {
			most = max(most, lines(step+", "+r.Turns[i], cell, letter))
		}
		text += most*line + 0.9
	}
	text += 2 + (lines("Spoken: "+f.Spoken, width, smallLetter)+lines(f.Said, width, smallLetter))*smallLine
	if f.Beside {
		return max(text, f.size.Y+1) + 3
	}
	return text + f.size.Y + 4
}
