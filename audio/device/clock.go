package device

import (
	"sync"
	"time"
)

const (
	// settling is the time over which a difference between the clock and an observation is made up for,
	// evenly.
	settling = 500 * time.Millisecond
	// adapting is how fast the clock learns a device's own rate: the change of drift per second, for
	// each second of difference.
	adapting = 0.04
	// maxDrift bounds what is learnt. Quartz clocks differ by some 0.0001.
	maxDrift = 0.005
)

// clock maps time to the frame that is heard, from occasional observations.
//
// It runs by itself and never jumps: it makes up for a difference by running a little faster or slower.
// It can be stopped; the next observation, or free, lets it go on. All times are passed in.
type clock struct {
	rate float64 // frames a second

	mu    sync.Mutex // held only for a few instructions
	from  time.Time  // when frame was heard
	frame float64
	drift float64 // seconds of the device per second of ours
	owing float64 // seconds of the device still to be made up for, as of from
	still bool    // stopped: frame is heard from then on

	// the latest time asked for, and the answer
	asked    time.Time
	answered float64
}

// newClock starts a clock: frame 0 is heard now.
func newClock(rate int, now time.Time) *clock {
	return &clock{rate: float64(rate), from: now, drift: 1, asked: now}
}

// at returns the frame that is heard at t.
func (c *clock) at(t time.Time) float64 {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.predict(t)
}

// ask is at for callers that must not see time go back: for times that do not decrease, the frames do
// not either, whatever is observed in between.
func (c *clock) ask(t time.Time) float64 {
	c.mu.Lock()
	defer c.mu.Unlock()
	frame := c.predict(t)
	if t.Before(c.asked) {
		return frame
	}
	c.asked, c.answered = t, max(frame, c.answered)
	return c.answered
}

func (c *clock) predict(t time.Time) float64 {
	d := t.Sub(c.from)
	if c.still {
		d = min(d, 0)
	}
	made := c.owing * min(d, settling).Seconds() / settling.Seconds()
	return c.frame + c.rate*(c.drift*d.Seconds()+made)
}

// observe corrects the clock: frame was heard at t. One that was stopped goes on from there.
func (c *clock) observe(t time.Time, frame float64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.still {
		c.from, c.frame, c.still = t, frame, false
		return
	}
	since := min(max(t.Sub(c.from), 0), settling).Seconds()
	here := c.predict(t)
	c.owing = (frame - here) / c.rate
	c.drift += adapting * c.owing * since
	c.drift = min(max(c.drift, 1-maxDrift), 1+maxDrift)
	c.from, c.frame = t, here
}

// stop makes the clock stand still from t on.
func (c *clock) stop(t time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.from, c.frame = t, c.predict(t)
	c.owing, c.still = 0, true
}

// stopped reports whether the clock stands still.
func (c *clock) stopped() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.still
}

// free makes the clock run at our own rate from t on.
func (c *clock) free(t time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.from, c.frame = t, c.predict(t)
	c.drift, c.owing, c.still = 1, 0, false
}
