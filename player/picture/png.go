package picture

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"math"

	"dance.example/slowquick/player/drawing"
)

// perInch is how many pixels an inch has if nobody says otherwise: as many as printers show.
const perInch = 300

// MostPixels is the most that a picture has.
const MostPixels = 40_000_000

// sized returns how many pixels a drawing has, and how many a millimetre has.
func sized(d *drawing.Drawing, width int) (size image.Point, scale float64, err error) {
	scale = float64(width) / d.Size.X
	if width == 0 {
		scale = min(perInch/25.4, math.Sqrt(MostPixels/(d.Size.X*d.Size.Y)))
	}
	size = image.Pt(max(int(scale*d.Size.X+0.5), 1), max(int(scale*d.Size.Y+0.5), 1))
	if size.X > MostPixels/size.Y+1 {
		return size, 0, fmt.Errorf("a picture of %d x %d pixels is too large; %d are the most", size.X, size.Y, MostPixels)
	}
	return size, scale, nil
}

// PNG writes a drawing that many pixels wide or, if that is 0, with 300 to the inch, or fewer if there
// would be too many.
func PNG(w io.Writer, d *drawing.Drawing, width int) error {
	size, scale, err := sized(d, width)
	if err != nil {
		return err
	}
	page := image.NewRGBA(image.Rectangle{Max: size})
	painted(page, d, scale)
	var out bytes.Buffer
	if err := png.Encode(&out, page); err != nil {
		return err
	}
	const head = 8 + 25 // the signature, and the chunk that says how many pixels there are
	for _, part := range [][]byte{out.Bytes()[:head], density(scale), out.Bytes()[head:]} {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return nil
}

// density returns a chunk that says how large a picture is on paper (PNG, third edition, 11.3.4.3: pHYs).
func density(perMillimetre float64) []byte {
	each := uint32(perMillimetre*1000 + 0.5)
	chunk := binary.BigEndian.AppendUint32([]byte("pHYs"), each)
	chunk = append(binary.BigEndian.AppendUint32(chunk, each), 1) // a metre
	out := binary.BigEndian.AppendUint32(nil, uint32(len(chunk)-4))
	return binary.BigEndian.AppendUint32(append(out, chunk...), crc32.ChecksumIEEE(chunk))
}
