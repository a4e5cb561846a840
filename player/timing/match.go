package timing

import (
	"math"
	"slices"
)

// Step is a step to tap.
type Step struct {
	At      float64 // when it is heard, in seconds
	Beat    float64 // the length of a beat, in seconds
	Count   string
	Silence int // the silent stretch in which it lies, from 1; 0 if it is heard
}

// What matching costs, in beats. A tap is expected to be as early or late as the one before, so that
// somebody who drifts, or is late all along, isn't taken to leave steps out.
const (
	moving    = 1.0  // for each beat by which a tap's offset differs from the last one's
	away      = 0.25 // for each beat of its offset
	leftOut   = 0.35 // for a step without a tap, or a tap without a step
	farthest  = 0.75 // the most beats between a step and its tap
	mostInRow = 8    // the most steps in a row that are left out before the offset is forgotten
)

// pair is a step with its tap.
type pair struct {
	step, tap int
	cost      float64 // of the cheapest way to get here
	before    int     // the index of the previous pair; -1 for none
}

// match assigns taps to steps, each at most once and in order, at the least cost. Both must be in
// order of time.
func match(steps []Step, taps []float64) []pair {
	var all []pair
	var first []int // the first pair of each step
	low := 0
	for i := range steps {
		first = append(first, len(all))
		s := &steps[i]
		for low < len(taps) && taps[low] < s.At-farthest*s.Beat {
			low++
		}
		for j := low; j < len(taps) && taps[j] <= s.At+farthest*s.Beat; j++ {
			p := pair{step: i, tap: j, before: -1, cost: float64(i+j) * leftOut}
			for k := first[max(0, i-mostInRow)]; k < first[i]; k++ {
				q := all[k]
				if q.tap >= j {
					continue
				}
				skipped := float64(i - q.step - 1 + j - q.tap - 1)
				moved := math.Abs((taps[j] - s.At) - (taps[q.tap] - steps[q.step].At))
				if cost := q.cost + skipped*leftOut + moved/s.Beat*moving; cost < p.cost {
					p.cost, p.before = cost, k
				}
			}
			p.cost += math.Abs(taps[j]-s.At) / s.Beat * away
			all = append(all, p)
		}
	}
	last, least := -1, math.Inf(1)
	for k, p := range all {
		if cost := p.cost + float64(len(steps)-p.step+len(taps)-p.tap)*leftOut; cost < least {
			last, least = k, cost
		}
	}
	var pairs []pair
	for ; last >= 0; last = all[last].before {
		pairs = append(pairs, all[last])
	}
	slices.Reverse(pairs)
	return pairs
}
