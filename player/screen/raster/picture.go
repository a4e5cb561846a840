package raster

import (
	"bytes"
	"encoding/base64"
	"image/png"
	"strconv"
)

// images are the ids of the two kitty images that are shown in turn, so that the old one
// is seen until the new one is whole.
var images = [2]string{"7311", "7312"}

// Picture returns what shows the canvas in real pixels, or "" in cells. Its top left cell
// is at column and row of the window, from 0; n counts the pictures.
//
// It belongs at the end of the last line of the view, so that it is written after the text
// of the same picture, and the lines that it covers hold [Canvas.Rows], which skips them.
// Whoever draws the lines must not erase to their end: beside the picture there has to be a
// column to the right.
func (c *Canvas) Picture(column, row, n int) string {
	var b []byte
	switch c.palette.mode.Raster {
	case Sixel:
		b = c.sixel(nil)
	case Kitty:
		b = c.kitty(nil, images[n&1], images[n&1^1])
	default:
		return ""
	}
	at := "\x1b7\x1b[" + strconv.Itoa(row+1) + ";" + strconv.Itoa(column+1) + "H"
	return at + string(b) + "\x1b8"
}

// Gone returns what takes the last pictures away, to be written once when they are no
// longer shown; "" where text that is written over them does that.
func (m Mode) Gone() string {
	if m.Raster != Kitty {
		return ""
	}
	return deleteImage(images[0]) + deleteImage(images[1])
}

func deleteImage(id string) string { return "\x1b_Ga=d,d=I,q=2,i=" + id + "\x1b\\" }

// sixel appends the picture in sixels. It paints the ground too, so that each picture
// covers the last.
//
// Source: VT330/VT340 Programmer Reference Manual, volume 2, chapter 14.
func (c *Canvas) sixel(b []byte) []byte {
	b = append(b, "\x1bP0;1q\"1;1;"...)
	b = strconv.AppendInt(b, int64(c.size.X), 10)
	b = append(b, ';')
	b = strconv.AppendInt(b, int64(c.size.Y), 10)
	for i, col := range c.palette.colors {
		r, g, bl, _ := col.RGBA()
		b = append(b, '#')
		b = strconv.AppendInt(b, int64(i), 10)
		b = append(b, ";2"...)
		for _, v := range []uint32{r, g, bl} {
			b = append(b, ';')
			b = strconv.AppendInt(b, int64(v*100+0x7fff)/0xffff, 10)
		}
	}
	// bits holds for each colour the six pixels of each column of a band.
	bits := make([]uint8, len(c.palette.colors)*c.size.X)
	for top := 0; top < c.size.Y; top += 6 {
		var used [256]bool
		for y := top; y < min(top+6, c.size.Y); y++ {
			for x := range c.size.X {
				n := c.shown(x, y)
				used[n] = true
				bits[int(n)*c.size.X+x] |= 1 << (y - top)
			}
		}
		first := true
		for n := range c.palette.colors {
			if !used[n] {
				continue
			}
			if !first {
				b = append(b, '$')
			}
			first = false
			b = append(b, '#')
			b = strconv.AppendInt(b, int64(n), 10)
			b = appendRuns(b, bits[n*c.size.X:][:c.size.X])
			clear(bits[n*c.size.X:][:c.size.X])
		}
		b = append(b, '-')
	}
	return append(b, "\x1b\\"...)
}

// appendRuns appends a band in one colour.
func appendRuns(b, line []byte) []byte {
	for len(line) > 0 {
		n := 1
		for n < len(line) && line[n] == line[0] {
			n++
		}
		switch sign := '?' + line[0]; {
		case n == len(line) && line[0] == 0: // nothing more
		case n > 3:
			b = append(b, '!')
			b = strconv.AppendInt(b, int64(n), 10)
			b = append(b, sign)
		default:
			for range n {
				b = append(b, sign)
			}
		}
		line = line[n:]
	}
	return b
}

// kitty appends the picture as the image id, and takes another away.
//
// Source: the kitty graphics protocol, "Transferring pixel data" and "Deleting images".
func (c *Canvas) kitty(b []byte, id, old string) []byte {
	var file bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestSpeed, BufferPool: &c.png}
	if err := encoder.Encode(&file, c.Image()); err != nil {
		return b // it has no pixels
	}
	data := base64.StdEncoding.AppendEncode(nil, file.Bytes())
	const chunk = 4096
	for first := true; first || len(data) > 0; first = false {
		n := min(chunk, len(data))
		b = append(b, "\x1b_G"...)
		if first {
			b = append(b, "a=T,f=100,i="+id+",p=1,q=2,C=1,c="+strconv.Itoa(c.cols)+",r="+strconv.Itoa(c.rows)+","...)
		}
		b = append(b, "m=0;"...)
		if n < len(data) {
			b[len(b)-2] = '1'
		}
		b = append(append(b, data[:n]...), "\x1b\\"...)
		data = data[n:]
	}
	return append(b, deleteImage(old)...)
}
