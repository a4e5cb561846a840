package handout

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// TestPagesAreFilled with what fits best, the first of equals.
func TestPagesAreFilled(t *testing.T) {
	for _, test := range []struct {
		high []float64
		room float64
		want []int
	}{
		{[]float64{90, 90, 90, 90}, 271, []int{0, 1, 2}},
		{[]float64{190, 187, 60, 85}, 82, []int{2}},
		{[]float64{100, 180, 85, 150}, 268, []int{1, 2}},
		{[]float64{300}, 271, nil},
		{nil, 271, nil},
	} {
		which, most := fill(test.high, test.room)
		assert.Equal(t, test.want, which)
		assert.LessOrEqual(t, most, test.room)
	}
}

// TestNoPageIsOverfilled: what is put on a page is there once, in order, and fits.
func TestNoPageIsOverfilled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		high := rapid.SliceOfN(rapid.Float64Range(10, 400), 0, 14).Draw(t, "high")
		room := rapid.Float64Range(-10, 400).Draw(t, "room")
		which, most := fill(high, room)
		sum, last := 0.0, -1
		for _, i := range which {
			assert.Greater(t, i, last)
			sum, last = sum+high[i], i
		}
		assert.InDelta(t, sum, most, 1e-6)
		assert.LessOrEqual(t, sum, max(room, 0)+1e-6)
		for _, h := range high[:min(len(high), ahead)] {
			if len(which) == 0 && h > 5 {
				assert.Greater(t, h, room, "it would fit")
			}
		}
	})
}
