package shot_test

import (
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/screen/internal/shot"
)

// TestDraw draws colours in all three notations, half blocks, and dots.
func TestDraw(t *testing.T) {
	img, err := shot.Draw("\x1b[38;2;10;20;30m█\x1b[48;5;196m▀\x1b[0;31m▄\x1b[7m \x1b[m⠁⢀\x1b[91;2mX", false)
	require.NoError(t, err)
	w, h := shot.Cell.X, shot.Cell.Y
	require.Equal(t, 7*w, img.Rect.Dx())
	require.Equal(t, h, img.Rect.Dy())
	ground, red := color.RGBA{0x11, 0x13, 0x16, 255}, color.RGBA{205, 0, 0, 255}
	for _, at := range []struct {
		name string
		x, y int
		want color.RGBA
	}{
		{"true colour", 0, 0, color.RGBA{10, 20, 30, 255}},
		{"upper half", w, 0, color.RGBA{10, 20, 30, 255}},
		{"256 colours behind the lower half", w, h - 1, color.RGBA{255, 0, 0, 255}},
		{"reset behind the upper half", 2 * w, 0, ground},
		{"16 colours", 2 * w, h - 1, red},
		{"reverse", 3 * w, 0, red},
		{"the first dot", 4*w + 1, 1, color.RGBA{0xe0, 0xe0, 0xe0, 255}},
		{"no other dot", 4*w + 5, 13, ground},
		{"the last dot", 5*w + 5, 13, color.RGBA{0xe0, 0xe0, 0xe0, 255}},
	} {
		assert.Equal(t, at.want, img.RGBAAt(at.x, at.y), at.name)
	}
	light, err := shot.Draw(" ", true)
	require.NoError(t, err)
	assert.Equal(t, color.RGBA{255, 255, 255, 255}, light.RGBAAt(0, 0))
}
