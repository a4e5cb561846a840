package raster

import (
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestThePaletteFindsTheNearestColour compares it with the standard library's search.
func TestThePaletteFindsTheNearestColour(t *testing.T) {
	p := NewPalette(Mode{Depth: True})
	whole := map[uint16]bool{}
	for _, c := range p.colors {
		c := c.(color.RGBA)
		whole[uint16(bucket(c.R, c.G, c.B))] = true
	}
	differ := 0
	for i, got := range p.nearest() {
		middle := color.RGBA{uint8(i>>10<<3 | 4), uint8(i>>5<<3&0xf8 | 4), uint8(i<<3&0xf8 | 4), 255}
		if !whole[uint16(i)] && int(got) != p.colors.Index(middle) {
			differ++
		}
	}
	assert.Zero(t, differ)
	for i, c := range p.colors {
		c := c.(color.RGBA)
		assert.Equal(t, c, p.colors[p.nearest()[bucket(c.R, c.G, c.B)]], i)
	}
}

func BenchmarkPalette(b *testing.B) {
	b.Run("made", func(b *testing.B) {
		for b.Loop() {
			NewPalette(Mode{})
		}
	})
	b.Run("searched", func(b *testing.B) {
		p := NewPalette(Mode{})
		for b.Loop() {
			p.findNearest()
		}
	})
}
