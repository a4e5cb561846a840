package picture_test

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"image/gif"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/picture"
	"dance.example/slowquick/routine/floor"
)

const (
	white drawing.Color = 1<<24 | 0xffffff
	red   drawing.Color = 1<<24 | 0xc00000
	blue  drawing.Color = 1<<24 | 0x0000c0
)

func points(xy ...float64) (list []floor.Point) {
	for i := 0; i < len(xy); i += 2 {
		list = append(list, floor.Point{X: xy[i], Y: xy[i+1]})
	}
	return list
}

// marks is a drawing of 20 by 10 mm with one of each: an area, a broad line, a dashed one, a curve and a text.
var marks = drawing.Drawing{Size: floor.Point{X: 20, Y: 10}, Shapes: []drawing.Shape{
	{Look: drawing.Look{Fill: red}, Path: drawing.Path{Letters: "MLLLZ", Places: points(1, 1, 4, 1, 4, 4, 1, 4)}},
	{Look: drawing.Look{Ink: blue, Width: 1}, Path: drawing.Path{Letters: "MLL", Places: points(6, 2, 9, 2, 9, 5)}},
	{Look: drawing.Look{Ink: blue, Width: 1, Dash: 2}, Path: drawing.Path{Letters: "ML", Places: points(1, 8, 10, 8)}},
	{Look: drawing.Look{Fill: blue}, Path: drawing.Path{Letters: "MQZ", Places: points(12, 1, 14, 9, 16, 1)}},
	{Look: drawing.Look{Fill: red}, Text: drawing.Text{Words: "I", At: floor.Point{X: 18, Y: 8}, Size: 8, Anchor: drawing.Middle, Bold: true}},
}}

func decoded(t testing.TB, d *drawing.Drawing, width int) image.Image {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, picture.PNG(&out, d, width))
	m, err := png.Decode(&out)
	require.NoError(t, err)
	return m
}

func rgba(c drawing.Color) color.Color {
	return color.RGBA{R: uint8(c >> 16), G: uint8(c >> 8), B: uint8(c), A: 255}
}

// TestShapesArePainted where they are, in their colours, on white.
func TestShapesArePainted(t *testing.T) {
	m := decoded(t, &marks, 200) // 10 pixels a millimetre
	assert.Equal(t, image.Rect(0, 0, 200, 100), m.Bounds())
	for at, want := range map[image.Point]drawing.Color{
		{X: 25, Y: 25}:  red,   // in the area
		{X: 8, Y: 25}:   white, // beside it
		{X: 75, Y: 20}:  blue,  // on the line
		{X: 75, Y: 27}:  white,
		{X: 92, Y: 18}:  blue, // its corner is round
		{X: 94, Y: 15}:  white,
		{X: 20, Y: 80}:  blue, // a dash
		{X: 42, Y: 80}:  white,
		{X: 60, Y: 80}:  blue,
		{X: 140, Y: 40}: blue, // in the curve, which does not reach its control point
		{X: 140, Y: 60}: white,
		{X: 180, Y: 50}: red, // the letter
		{X: 190, Y: 50}: white,
	} {
		assert.Equal(t, rgba(want), color.RGBAModel.Convert(m.At(at.X, at.Y)), at)
	}
}

// TestAPictureIsAsLargeAsOnPaper: 300 pixels to the inch, which it says.
func TestAPictureIsAsLargeAsOnPaper(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, picture.PNG(&out, &marks, 0))
	assert.Contains(t, out.String(), "pHYs\x00\x00\x2e\x23\x00\x00\x2e\x23\x01", "11811 a metre")
	m, err := png.Decode(&out)
	require.NoError(t, err)
	assert.Equal(t, image.Rect(0, 0, 236, 118), m.Bounds())
}

// TestNoPictureIsTooLarge for a computer to hold: a long one is less fine.
func TestNoPictureIsTooLarge(t *testing.T) {
	long := drawing.Drawing{Size: floor.Point{X: 190, Y: 9000}}
	for _, width := range []int{100_000, 1 << 40} {
		assert.ErrorContains(t, picture.PNG(new(bytes.Buffer), &long, width), "too large")
	}
	assert.Equal(t, image.Rect(0, 0, 19, 900), decoded(t, &long, 19).Bounds())
	size, _, err := picture.Sized(&long, 0)
	require.NoError(t, err)
	assert.InDelta(t, picture.MostPixels, size.X*size.Y, picture.MostPixels/1000)
}

// TestAMovingPictureMoves: a square goes to the right, frame by frame, in its own colour and over and over.
func TestAMovingPictureMoves(t *testing.T) {
	const frames = 5
	frame := func(i int) drawing.Drawing {
		x := float64(2 * i)
		return drawing.Drawing{Size: floor.Point{X: 20, Y: 10}, Shapes: []drawing.Shape{
			{Look: drawing.Look{Fill: blue}, Path: drawing.Path{Letters: "MLLLZ", Places: points(x, 1, x+2, 1, x+2, 3, x, 3)}}}}
	}
	var out bytes.Buffer
	require.NoError(t, picture.GIF(&out, frames, frame, 4, 200))
	film, err := gif.DecodeAll(&out)
	require.NoError(t, err)
	assert.Equal(t, []int{4, 4, 4, 4, 4}, film.Delay)
	assert.Zero(t, film.LoopCount, "for ever")
	assert.Equal(t, image.Rect(0, 0, 200, 100), film.Image[0].Bounds())
	shown := image.NewRGBA(film.Image[0].Bounds())
	for i, part := range film.Image {
		draw.Draw(shown, part.Bounds(), part, part.Bounds().Min, draw.Over)
		for k := range frames {
			want := rgba(white)
			if k == i {
				want = rgba(blue)
			}
			assert.Equal(t, want, shown.RGBAAt(20*k+10, 20), "frame %d, place %d", i, k)
		}
		if i > 0 {
			assert.Equal(t, image.Rect(20*i-20, 10, 20*i+20, 30), part.Bounds(), "only what changed")
		}
	}
	assert.ErrorContains(t, picture.GIF(&out, picture.MostFrames+1, frame, 4, 200), "too long")
	assert.ErrorIs(t, picture.GIF(failing{}, frames, frame, 4, 200), errFull)
}

type failing struct{}

var errFull = errors.New("the disk is full")

func (failing) Write([]byte) (int, error) { return 0, errFull }

func TestWriteError(t *testing.T) { assert.ErrorIs(t, picture.PNG(failing{}, &marks, 0), errFull) }
