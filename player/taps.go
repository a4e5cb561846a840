package player

import (
	"math"
	"slices"
	"time"

	"dance.example/slowquick/routine"
)

// Taps collects the beats of some music as somebody taps them. The zero value is empty.
type Taps struct{ times []time.Time }

const (
	leastTaps = 4
	mostTaps  = 24
	// A tap later than this after the one before starts anew.
	pauseAfter = 2500 * time.Millisecond
)

// Pulse is a steady beat.
type Pulse struct {
	Beat time.Duration // the length of a beat
	At   time.Time     // when one of the beats is
}

// Tempo returns the tempo of p.
func (p Pulse) Tempo() routine.Tempo {
	return routine.Tempo(float64(time.Minute) / float64(p.Beat) * float64(routine.BeatPerMinute))
}

// Percent returns p's tempo in per cent of a timeline's own at a beat, kept between the
// slowest and the fastest that can be danced.
func (p Pulse) Percent(timeline *Timeline, beat routine.Beats) float64 {
	percent := p.Tempo().Float() / timeline.Tempo(beat).Float() * 100
	return min(max(percent, timeline.slowest()), timeline.fastest())
}

// Nearest returns the beat of p nearest to a time.
func (p Pulse) Nearest(at time.Time) time.Time {
	beats := math.Round(float64(at.Sub(p.At)) / float64(p.Beat))
	return p.At.Add(time.Duration(beats * float64(p.Beat)))
}

// Tap adds a tap. After a pause it forgets the earlier ones.
func (t *Taps) Tap(at time.Time) {
	if n := len(t.times); n > 0 && at.Sub(t.times[n-1]) > pauseAfter {
		t.times = nil
	}
	t.times = append(t.times, at)
	if extra := len(t.times) - mostTaps; extra > 0 {
		t.times = slices.Delete(t.times, 0, extra)
	}
}

// Count returns the number of taps.
func (t *Taps) Count() int { return len(t.times) }

// Pulse returns the beat that was tapped; ok is false for fewer than four taps.
//
// It numbers the taps by their beats, in steps of the median interval, so that a missed
// beat leaves a gap and a double tap counts once. The pulse is the least-squares line
// through them. One stray tap in eight moves the tempo by less than 1 %.
func (t *Taps) Pulse() (p Pulse, ok bool) {
	if len(t.times) < leastTaps {
		return Pulse{}, false
	}
	intervals := make([]time.Duration, 0, len(t.times)-1)
	for i := range len(t.times) - 1 {
		intervals = append(intervals, t.times[i+1].Sub(t.times[i]))
	}
	slices.Sort(intervals)
	usual := intervals[len(intervals)/2]
	if usual <= 0 {
		return Pulse{}, false
	}
	first := t.times[0]
	var n, sumK, sumT, sumKK, sumKT float64
	k, last := 0, first
	for i, at := range t.times {
		if i > 0 {
			beats := int((at.Sub(last) + usual/2) / usual)
			if beats == 0 {
				continue // tapped twice
			}
			k, last = k+beats, at
		}
		x, y := float64(k), float64(at.Sub(first))
		n, sumK, sumT, sumKK, sumKT = n+1, sumK+x, sumT+y, sumKK+x*x, sumKT+x*y
	}
	spread := n*sumKK - sumK*sumK
	if n < leastTaps-1 || spread == 0 {
		return Pulse{}, false
	}
	beat := (n*sumKT - sumK*sumT) / spread
	if beat <= 0 {
		return Pulse{}, false
	}
	return Pulse{time.Duration(beat), first.Add(time.Duration((sumT - beat*sumK) / n))}, true
}
