package floorview_test

import (
	"fmt"
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/screen/floorview"
	"dance.example/slowquick/player/screen/raster"
)

// dark is the ground of a dark terminal.
var dark = color.RGBA{0x11, 0x13, 0x16, 255}

// BenchmarkFrame draws and encodes one picture after the other, a thirtieth of a second
// apart, and says how many bytes they are and which part of a core thirty a second take.
func BenchmarkFrame(b *testing.B) {
	m, length := danced(b, naturalTurn)
	for _, test := range []struct {
		columns, rows int
		mode          raster.Mode
		name          string
	}{
		{34, 18, raster.Mode{Depth: raster.True, Ground: dark}, "blocks"},
		{50, 16, raster.Mode{Depth: raster.True, Ground: dark}, "blocks"},
		{110, 36, raster.Mode{Depth: raster.True, Ground: dark}, "blocks"},
		{110, 36, raster.Mode{Raster: raster.Dots}, "dots"},
		{50, 16, raster.Mode{Raster: raster.Sixel, Depth: raster.True, Ground: dark, Cell: image.Pt(8, 16)}, "sixel"},
		{50, 16, raster.Mode{Raster: raster.Kitty, Depth: raster.True, Ground: dark, Cell: image.Pt(8, 16)}, "kitty"},
	} {
		for _, from := range []floorview.From{floorview.BehindLeader, floorview.Hall} {
			b.Run(fmt.Sprintf("%dx%d/%s/%s", test.columns, test.rows, test.name, from), func(b *testing.B) {
				v := floorview.New(m, from, both)
				c := raster.New(test.columns, test.rows, raster.NewPalette(test.mode))
				b.ReportAllocs()
				bytes, frames := 0, 0
				for b.Loop() {
					c.Clear()
					v.Draw(c, float64(frames)/30/length, length)
					for _, row := range c.Rows() {
						bytes += len(row)
					}
					bytes += len(c.Picture(0, 0, frames))
					frames = (frames + 1) % 300
				}
				require.NotZero(b, bytes)
				b.ReportMetric(float64(bytes)/float64(b.N), "bytes/frame")
				b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)*30*100, "%core")
			})
		}
	}
}

// BenchmarkFirstLook works out the camera's way.
func BenchmarkFirstLook(b *testing.B) {
	m, length := danced(b, naturalTurn)
	c := raster.New(34, 18, raster.NewPalette(raster.Mode{}))
	for b.Loop() {
		floorview.New(m, floorview.BehindLeader, both).Draw(c, 0, length)
	}
}
