package picture

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/gif"
	"io"

	"dance.example/slowquick/player/drawing"
)

// usualWidth is how many pixels wide a moving picture is if nobody says otherwise.
const usualWidth = 480

// MostFrames is the most that a moving picture has.
const MostFrames = 3000

// GIF writes drawings of one size one after the other, each for that many hundredths of a second, over and
// over; it is that many pixels wide or, if that is 0, 480. Of each frame it has only what differs from
// the one before.
func GIF(w io.Writer, frames int, frame func(i int) drawing.Drawing, hundredths, width int) error {
	if frames > MostFrames {
		return fmt.Errorf("a moving picture of %d frames is too long; %d are the most", frames, MostFrames)
	}
	if width == 0 {
		width = usualWidth
	}
	var film gif.GIF
	var palette *inks
	var before *image.Paletted
	for i := range frames {
		d := frame(i)
		size, scale, err := sized(&d, width)
		if err != nil {
			return err
		}
		if palette == nil {
			palette = newInks(&d)
		}
		page := image.NewRGBA(image.Rectangle{Max: size})
		painted(page, &d, scale)
		now := palette.reduced(page)
		part := now
		if before != nil {
			part = now.SubImage(changed(before, now)).(*image.Paletted)
		}
		film.Image = append(film.Image, part)
		film.Delay = append(film.Delay, hundredths)
		film.Disposal = append(film.Disposal, gif.DisposalNone)
		before = now
	}
	var out bytes.Buffer
	if err := gif.EncodeAll(&out, &film); err != nil {
		return err
	}
	_, err := w.Write(out.Bytes())
	return err
}

// changed returns where two pictures of one size differ: a pixel at least.
func changed(was, is *image.Paletted) (area image.Rectangle) {
	b := is.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		row, old := is.Pix[y*is.Stride:][:b.Dx()], was.Pix[y*was.Stride:][:b.Dx()]
		if bytes.Equal(row, old) {
			continue
		}
		from, to := 0, len(row)
		for row[from] == old[from] {
			from++
		}
		for row[to-1] == old[to-1] {
			to--
		}
		area = area.Union(image.Rect(from, y, to, y+1))
	}
	if area.Empty() {
		area = image.Rect(0, 0, 1, 1)
	}
	return area
}

// inks is the colours of a moving picture, of which GIF has 256.
type inks struct {
	colours color.Palette
	known   map[color.RGBA]uint8
}

// newInks returns those of a drawing, each in steps to white, as edges need them, then others evenly spread.
func newInks(d *drawing.Drawing) *inks {
	const most, spread, steps = 256, 5, 10
	p := &inks{known: map[color.RGBA]uint8{}}
	add := func(r, g, b int) {
		c := color.RGBA{R: uint8(r), G: uint8(g), B: uint8(b), A: 0xff}
		if _, ok := p.known[c]; !ok && len(p.colours) < most {
			p.known[c] = uint8(len(p.colours))
			p.colours = append(p.colours, c)
		}
	}
	for i := range d.Shapes {
		for _, ink := range []drawing.Color{d.Shapes[i].Fill, d.Shapes[i].Ink} {
			c := rgb(ink)
			for k := range steps {
				to := func(part uint8) int { return int(part) + (255-int(part))*k/steps }
				add(to(c.R), to(c.G), to(c.B))
			}
		}
	}
	for i := range spread * spread * spread {
		level := func(n int) int { return n % spread * 255 / (spread - 1) }
		add(level(i/spread/spread), level(i/spread), level(i))
	}
	return p
}

// reduced returns a picture in the colours that are nearest to its own.
func (p *inks) reduced(page *image.RGBA) *image.Paletted {
	out := image.NewPaletted(page.Bounds(), p.colours)
	for i := range out.Pix {
		c := color.RGBA{page.Pix[4*i], page.Pix[4*i+1], page.Pix[4*i+2], 0xff}
		index, ok := p.known[c]
		if !ok {
			index = uint8(p.colours.Index(c))
			p.known[c] = index
		}
		out.Pix[i] = index
	}
	return out
}
