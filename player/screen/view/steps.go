package view

import (
	"slices"
	"strings"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/player/screen/pictogram"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// form is which signs there is room for beside the count.
type form uint8

const (
	wide    form = iota // foot, way, turn and the next step, side by side
	stacked             // foot and way, and beside them the turn above the next step
	narrow              // foot and way
)

// Shares of a sign's side.
const (
	footSize = 0.85 // the letter of a foot
	footWide = 0.68
	turnSize = 0.85
	nextSize = 0.7 // of the next step in the wide form
	halfSize = 0.5 // of turn and next step in the stacked form
)

// gap is the columns between two signs.
const gap = 2

// columns returns how wide a form is with signs of so many rows. A sign is as wide as two columns a row.
func (f form) columns(rows int) int {
	side := float64(2 * rows)
	step := func(size float64) float64 { return whole(size*footWide) + gap + size }
	switch f {
	case wide:
		return int(step(side) + gap + whole(side*turnSize) + 2*gap + step(whole(side*nextSize)))
	case stacked:
		return int(step(side) + gap + step(whole(side*halfSize)))
	}
	return int(step(side))
}

// layout is how the steps are laid out.
type layout struct {
	form     form
	partners []routine.Partner
	rows     int // of a sign
	count    int // columns of the count
	words    int // rows of the words below each partner's signs
}

// layOut finds the largest signs for a window: both partners' if they can be told apart there,
// else one partner's.
func layOut(partners []routine.Partner, width, height int) layout {
	best := layout{count: width, partners: partners, words: 1}
	if len(partners) == 0 {
		return best
	}
	for _, shown := range [][]routine.Partner{partners, partners[:1]} {
		for _, f := range []form{wide, stacked, narrow} {
			l := layout{form: f, partners: shown, words: 1, count: max(width/6, 8)}
			if f == narrow {
				l.count = max(width/4, 8)
			}
			for l.rows = height/len(shown) - l.words; l.rows >= least && f.columns(l.rows) > width-l.count-gap; {
				l.rows--
			}
			if l.rows >= least && float64(l.rows) > enough*float64(best.rows) {
				best = l
			}
		}
		if best.rows >= readable {
			break
		}
	}
	if best.rows == 0 {
		return best
	}
	best.count = min(width-gap-best.form.columns(best.rows), width/3, 3*height/2)
	if left := height/len(best.partners) - best.rows - best.words; left >= largeWords {
		best.words += largeWords
	}
	return best
}

// largeWords is the rows of words that can be read from afar.
const largeWords = 3

// least is the rows of the smallest sign that is drawn, and readable those of the smallest that can be
// told from all others.
const (
	least    = 3
	readable = pictogram.Size / 2
)

// enough is how much larger signs must be for a form that shows less.
const enough = 1.3

// moment is all that the steps are drawn from.
type moment struct {
	timeline      *player.Timeline
	event         int
	counted       string
	dancers       routine.Dancers
	count         player.Counting
	hidden        practice.Hidden
	loop          player.Interval
	width, height int
}

// steps draws the steps of both partners.
type steps struct {
	letters

	of    moment   // of which they were drawn last
	drawn []string // then; nil if they have to be drawn anew
}

// draw draws the steps, or returns them as they were drawn last if nothing of them has changed: beside
// a couple that moves they are asked for at each of its pictures.
func (v *steps) draw(c *cue.Cue, width, height int) []string {
	now := moment{c.Moment.Timeline, c.Event(), c.Counted(), c.Dancers, c.Count, c.Hidden, c.Moment.Settings.Loop, width, height}
	if v.drawn == nil || now != v.of {
		v.of, v.drawn = now, v.drawSteps(c, width, height)
		for y, line := range v.drawn {
			v.drawn[y] = fill(line, width)
		}
	}
	return slices.Clone(v.drawn)
}

// drawSteps draws the count, and each partner's step and the next as signs with their words.
func (v *steps) drawSteps(c *cue.Cue, width, height int) []string {
	l := layOut(c.Dancers.Partners(), width, height)
	if l.rows == 0 {
		return v.inWords(c, l, width, height)
	}
	band := l.rows + l.words
	high := band*len(l.partners) - l.words
	count := v.large(c.Counted(), c.Counts(), l.count, min(high, height), raster.Strong)
	lines := make([]string, 0, height)
	for i, p := range l.partners {
		signs := v.signs(c, p, l, width-l.count)
		for y := range band {
			left := blank(l.count)
			if at := i*band + y; at < len(count) {
				left = count[at]
			}
			switch {
			case y < l.rows:
				lines = append(lines, left+signs[y])
			case y == l.rows:
				lines = append(lines, left+v.words(c, p, width-l.count))
			case y == l.rows+1:
				for i, row := range v.largeWords(c, p, width-l.count) {
					if at := len(lines); at < len(count) && i > 0 {
						left = count[at]
					}
					lines = append(lines, left+row)
				}
			}
		}
	}
	if len(l.partners) < len(c.Dancers.Partners()) && len(lines) < height {
		p := c.Dancers.Partners()[1]
		lines = append(lines, blank(l.count)+v.words(c, p, width-l.count))
	}
	return pad(lines, height)
}

// signs draws a partner's step and the next.
func (v *steps) signs(c *cue.Cue, p routine.Partner, l layout, width int) []string {
	canvas := raster.New(width, l.rows, v.cells)
	side := float64(2 * l.rows)
	x := 0.0
	foot := func(f routine.Foot, size, y float64, ink raster.Ink) {
		high := whole(size * footSize)
		pictogram.Foot(canvas, f, raster.Point{X: x - (high-whole(size*footWide))/2, Y: y + size - high}, high, ink)
		x += whole(size*footWide) + gap
	}
	event := c.Event()
	if s, at := c.Step(p, event); s != nil && c.Shows(p, at) {
		foot(s.Foot, side, 0, inks[p])
		pictogram.Way(canvas, s, raster.Point{X: x}, side, inks[p])
		x += side + gap
		switch l.form {
		case wide:
			size := whole(side * turnSize)
			pictogram.Turn(canvas, s.Turns(), raster.Point{X: x, Y: whole((side - size) / 2)}, size)
			if s.Turns() != 0 {
				pictogram.Amount(canvas, s.Turns(), raster.Point{X: x + size/2, Y: side - 1}, raster.Accent)
			}
		case stacked:
			pictogram.Turn(canvas, s.Turns(), raster.Point{X: x}, whole(side*halfSize))
		}
	} else {
		x += whole(side*footWide) + gap + side + gap
	}
	s, at := c.Next(p, event)
	if s == nil || !c.Shows(p, at) || l.form == narrow {
		return canvas.Rows()
	}
	size, y := whole(side*nextSize), whole(side*(1-nextSize))
	switch l.form {
	case wide:
		x += whole(side*turnSize) + 2*gap
	case stacked:
		size, y = whole(side*halfSize), whole(side*(1-halfSize))
	}
	foot(s.Foot, size, y, inks[p].Dim())
	pictogram.Way(canvas, s, raster.Point{X: x, Y: y}, size, inks[p].Dim())
	return canvas.Rows()
}

// whole rounds down to an even number of pixels, so that a sign begins with a cell.
func whole(pixels float64) float64 { return float64(int(pixels) / 2 * 2) }

// words are a partner's step and the next in words.
func (v *steps) words(c *cue.Cue, p routine.Partner, width int) string {
	event := c.Event()
	r := term.NewRow(width)
	s, _ := c.Step(p, event)
	text := c.Words(p, s, event)
	next, at := c.Next(p, event)
	after, short := "", ""
	if next != nil {
		short = "next " + c.Label(at)
		after = short + ": " + c.Words(p, next, at)
	}
	r.Put(v.ink(p), p.String()).To(NameColumns)
	for term.Width(text) > r.Left() && lessWords(text) != "" {
		text = lessWords(text)
	}
	r.Put(v.theme.Strong, text)
	if room := r.Left() - 3; room >= term.Width(after) {
		r.Right(term.Plain, after)
	} else if room >= term.Width(short) {
		r.Right(term.Plain, short)
	}
	return r.String()
}

// largeWords are a partner's step in words, in letters that can be read from afar if there is room.
func (v *steps) largeWords(c *cue.Cue, p routine.Partner, width int) []string {
	s, _ := c.Step(p, c.Event())
	text := c.Words(p, s, c.Event())
	for text != "" && v.leastName() <= largeWords {
		if lines := v.name(text, width, largeWords, 1, inks[p]); lines != nil {
			return lines
		}
		text = lessWords(text)
	}
	return make([]string, largeWords)
}

// lessWords returns a step without its last detail, which is needed least, or without the lesser of two ways;
// "" if it has neither.
func lessWords(text string) string {
	i := strings.LastIndex(text, ", ")
	if i < 0 {
		i = strings.LastIndex(text, " and ")
	}
	return text[:max(i, 0)]
}

// inWords draws the count as large as there is room, and the steps in words.
func (v *steps) inWords(c *cue.Cue, l layout, width, height int) []string {
	var lines []string
	if high := height - len(l.partners); high >= 3 {
		lines = v.large(c.Counted(), c.Counts(), l.count, high, raster.Strong)
	} else if high > 0 {
		lines = append(lines, term.NewRow(width).Put(v.theme.Present, " "+c.Counted()+" ").String())
	}
	for _, p := range l.partners {
		lines = append(lines, v.words(c, p, width))
	}
	return pad(lines, height)
}
