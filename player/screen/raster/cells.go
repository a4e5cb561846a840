package raster

import (
	"strconv"
	"strings"
)

// Rows returns the picture as lines of the terminal, each as many columns wide as the
// canvas and ending as it began: without attributes. Where there are real pixels they only
// skip what the image covers; see [Canvas.Picture].
func (c *Canvas) Rows() []string {
	rows := make([]string, c.rows)
	for y := range rows {
		switch c.palette.mode.Raster {
		case Sixel, Kitty:
			rows[y] = "\x1b[" + strconv.Itoa(max(c.cols, 1)) + "C"
		default:
			rows[y] = c.row(y)
		}
	}
	return rows
}

// look is how a cell is written, in SGR parameters; "" is the terminal's own.
type look struct{ over, under, attr string }

// row returns a line in blocks or dots.
func (c *Canvas) row(y int) string {
	w := writer{}
	for x := range c.cols {
		if l := c.letterAt(x, y); l != nil {
			w.put(c.lookOf(*l), l.r)
			continue
		}
		switch {
		case c.palette.mode.Raster == Dots:
			c.dots(&w, x, y)
		case c.palette.mode.Depth == Mono:
			c.mono(&w, x, y)
		case c.palette.mode.Depth == Sixteen:
			c.blocks(&w, c.sixteen(x, 2*y), c.sixteen(x, 2*y+1))
		default:
			c.blocks(&w, c.deep(x, 2*y), c.deep(x, 2*y+1))
		}
	}
	return w.end()
}

func (c *Canvas) letterAt(col, row int) *letter {
	for i := range c.letters {
		if l := &c.letters[i]; l.col == col && l.row == row {
			return l
		}
	}
	return nil
}

// lookOf returns how a letter is written.
func (c *Canvas) lookOf(l letter) look {
	p := c.palette
	if p.mode.Depth == Mono {
		_, share := l.ink.share()
		switch {
		case l.on != Ground:
			return look{attr: "7"}
		case share < 1:
			return look{attr: "2"}
		}
		return look{attr: "1"}
	}
	ink := c.readable(l.ink, l.on)
	on := c.tone(l.on)
	return look{over: c.tone(ink).over, under: on.under, attr: "1"}
}

// tone is a colour as foreground and as background; "" is the terminal's own.
type tone struct{ over, under string }

func (c *Canvas) tone(i Ink) tone {
	p := c.palette
	if p.mode.Depth == Sixteen {
		n := p.sgr16[i]
		if n == 0 { // a tint is not seen
			n = p.sgr16[Ground]
			i = Ground
		}
		if i == Ground && !p.painted {
			return tone{strconv.Itoa(n), ""}
		}
		return tone{strconv.Itoa(n), strconv.Itoa(n + 10)}
	}
	n := p.number(i)
	return tone{p.over[n], p.under[n]}
}

func (c *Canvas) sixteen(x, y int) tone { return c.tone(c.pixels[y*c.size.X+x].ink) }

func (c *Canvas) deep(x, y int) tone {
	n := c.shown(x, y)
	return tone{c.palette.over[n], c.palette.under[n]}
}

// blocks writes two pixels, one above the other, changing as little as it can.
func (c *Canvas) blocks(w *writer, top, bottom tone) {
	const own = ""
	switch {
	case top == bottom && (top.under == own || w.now.under == top.under):
		w.put(look{over: w.now.over, under: top.under}, ' ')
	case top == bottom:
		w.put(look{over: top.over, under: w.now.under}, '█')
	case top.under == own:
		w.put(look{over: bottom.over, under: own}, '▄')
	case bottom.under == own:
		w.put(look{over: top.over, under: own}, '▀')
	case w.now.over == bottom.over || w.now.under == top.under:
		w.put(look{over: bottom.over, under: top.under}, '▄')
	default:
		w.put(look{over: top.over, under: bottom.under}, '▀')
	}
}

// level says how a pixel is seen without colours: not at all, faint, or plainly.
func (i Ink) level() int {
	_, share := i.share()
	switch {
	case i == Ground || share < 0.5:
		return 0
	case share < 1:
		return 1
	}
	return 2
}

// mono writes two pixels without colours.
func (c *Canvas) mono(w *writer, x, y int) {
	top, bottom := c.pixels[2*y*c.size.X+x].ink.level(), c.pixels[(2*y+1)*c.size.X+x].ink.level()
	l := look{}
	if max(top, bottom) == 1 {
		l.attr = "2"
	}
	switch {
	case top > 0 && bottom > 0:
		w.put(l, '█')
	case top > 0:
		w.put(l, '▀')
	case bottom > 0:
		w.put(l, '▄')
	default:
		w.put(look{}, ' ')
	}
}

// dotBits are the bits of the dots in a braille character, from the left, from above.
//
// Source: The Unicode Standard, block Braille Patterns, U+2800.
var dotBits = [4][2]rune{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

// dots writes eight pixels in one colour, that of most of them.
func (c *Canvas) dots(w *writer, x, y int) {
	var r rune
	var votes [inks]int
	ink := Ground
	for dy, bits := range dotBits {
		for dx, bit := range bits {
			i := c.pixels[(4*y+dy)*c.size.X+2*x+dx].ink
			if i.level() == 0 {
				continue
			}
			r |= bit
			if votes[i]++; votes[i] > votes[ink] {
				ink = i
			}
		}
	}
	l := look{}
	switch {
	case r == 0 && c.palette.painted:
		l.under = c.tone(Ground).under
	case r == 0:
	case c.palette.mode.Depth != Mono:
		l = look{over: c.tone(ink).over, under: c.tone(Ground).under}
	case ink.level() == 1:
		l.attr = "2"
	}
	if r == 0 {
		w.put(l, ' ')
		return
	}
	w.put(l, 0x2800+r)
}

// writer writes cells, changing attributes only where they change.
type writer struct {
	b   strings.Builder
	now look
}

func (w *writer) put(l look, r rune) {
	if r == ' ' && l.attr == "" { // it shows no foreground
		l.over = w.now.over
		if w.now.attr != "" {
			l.over = ""
		}
	}
	if l != w.now {
		var p []string
		if l.attr != w.now.attr && w.now.attr != "" || l.over == "" && w.now.over != "" {
			p, w.now = append(p, "0"), look{}
		}
		if l.attr != w.now.attr {
			p = append(p, l.attr)
		}
		if l.over != w.now.over {
			p = append(p, l.over)
		}
		if l.under != w.now.under {
			if l.under == "" {
				p = append(p, "49")
			} else {
				p = append(p, l.under)
			}
		}
		w.b.WriteString("\x1b[" + strings.Join(p, ";") + "m")
		w.now = l
	}
	w.b.WriteRune(r)
}

func (w *writer) end() string {
	if w.now != (look{}) {
		w.b.WriteString("\x1b[m")
	}
	return w.b.String()
}
