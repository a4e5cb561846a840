package program

import (
	"sync/atomic"
	"time"
)

// Lead is how far ahead of time a punctual screen draws: that leaves it time to draw, and its
// picture is held back until it is due.
const Lead = 8 * time.Millisecond

// Due says when the picture that was drawn last may be seen. A nil Due holds nothing back.
type Due struct{ nanoseconds atomic.Int64 }

// Set makes the picture due at a time.
func (d *Due) Set(at time.Time) {
	if d != nil {
		d.nanoseconds.Store(at.UnixNano())
	}
}

// wait waits until the picture is due, but never longer than the lead.
func (d *Due) wait() {
	if d == nil {
		return
	}
	left := time.Duration(d.nanoseconds.Load() - time.Now().UnixNano())
	if left > 0 && left <= Lead {
		time.Sleep(left)
	}
}
