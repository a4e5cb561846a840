package device

import (
	"errors"
	"math"
	"sync/atomic"
)

// counter is a source whose samples say which frame they are: frame n has n/2^24 on the right, exact in
// a float32 up to frame 2^24, and on the left how many marks lie at or before n, in 1/1024.
type counter struct {
	pos   int
	marks atomic.Pointer[[]int64]
}

const (
	frameUnit = 1 << 24
	markUnit  = 1 << 10
)

// mark adds a mark. Calls must not overlap.
func (c *counter) mark(frame int64) {
	var marks []int64
	if m := c.marks.Load(); m != nil {
		marks = append(marks, *m...)
	}
	marks = append(marks, frame)
	c.marks.Store(&marks)
}

func (c *counter) Stream(samples [][2]float64) (int, bool) {
	var marks []int64
	if m := c.marks.Load(); m != nil {
		marks = *m
	}
	for i := range samples {
		passed := 0
		for _, m := range marks {
			if m <= int64(c.pos) {
				passed++
			}
		}
		samples[i] = [2]float64{float64(passed) / markUnit, float64(c.pos) / frameUnit}
		c.pos++
	}
	return len(samples), true
}

func (c *counter) Err() error    { return nil }
func (c *counter) Len() int      { return math.MaxInt }
func (c *counter) Position() int { return c.pos }

func (c *counter) Seek(p int) error {
	if p < 0 {
		return errors.New("before the first frame")
	}
	c.pos = p
	return nil
}
