package timing

import (
	"math"
	"slices"
)

// Result is how well the steps were tapped. All times are in seconds; early is negative.
type Result struct {
	Counts []Count // in the order of their first steps
	Whole  Estimate
	Missed int // steps without a tap
	Extra  int // taps without a step
	Drift  Drift
	Unsure Unsure
}

// Unsure is how far the subtracted delays may be wrong, in seconds. That shifts Whole and all counts alike,
// so it doesn't affect the difference between two counts.
type Unsure struct {
	Sound float64 // when the sound was heard; 0 if that doesn't matter
	Taps  float64 // when it was tapped, or clapped
}

// All returns how far both may be wrong together, as they are independent.
func (u Unsure) All() float64 { return math.Hypot(u.Sound, u.Taps) }

// Count is how all the steps on one count were tapped, while they were heard.
type Count struct {
	Name    string
	Offsets []float64 // of each tap from its step, in order of time
	Estimate
	Spread float64 // about two in three taps lie this close to the median
	Gap    float64 // the time from a step on this count to the step nearest to it
	Missed int
}

// Estimate is a number and its standard error.
type Estimate struct{ Value, Error float64 }

// certain reports whether the number differs from 0 by more than twice its error, which happens by
// chance once in twenty times.
func (e Estimate) certain() bool { return math.Abs(e.Value) > 2*e.Error }

// Drift is how the tempo changes while nothing is heard.
type Drift struct {
	// Estimate is the fraction by which each interval is too long: 0.01 is 1 % too slow.
	Estimate
	Longest float64 // the length of the longest silent stretch, in seconds
	Beat    float64 // the length of a beat in it, in seconds
	Known   bool    // enough was tapped in silence to tell
}

const (
	// fewest is the least number of taps of which a median is taken.
	fewest = 3
	// For normally distributed errors, toSpread turns the median distance from the median into a
	// standard deviation, and medianError turns the error of a mean into that of a median.
	toSpread    = 1.4826
	medianError = 1.2533
)

// Judge returns how well taps keep to steps; both are in order of time. If any steps are heard, only
// those judge the counts. Taps before the first step and after the last are not mistakes.
func Judge(steps []Step, taps []float64, unsure Unsure) Result {
	r := Result{Unsure: unsure}
	if len(steps) == 0 {
		return r
	}
	first, last := steps[0], steps[len(steps)-1]
	from, _ := slices.BinarySearch(taps, first.At-first.Beat/2)
	to, _ := slices.BinarySearch(taps, last.At+last.Beat/2)
	taps = taps[from:to]
	pairs := match(steps, taps)
	r.Missed, r.Extra = len(steps)-len(pairs), len(taps)-len(pairs)

	tapped := make([]float64, len(steps)) // the offset of each step's tap
	for i := range tapped {
		tapped[i] = math.NaN()
	}
	for _, p := range pairs {
		tapped[p.step] = taps[p.tap] - steps[p.step].At
	}
	r.Counts = counts(steps, tapped)
	r.Whole = whole(r.Counts)
	r.Drift = drift(steps, tapped, r.Counts)
	return r
}

// counts gathers the offsets of the heard steps by count, or of all if none is heard.
func counts(steps []Step, tapped []float64) []Count {
	heard := slices.ContainsFunc(steps, func(s Step) bool { return s.Silence == 0 })
	var list []Count
	for i, s := range steps {
		if heard && s.Silence > 0 {
			continue
		}
		k := slices.IndexFunc(list, func(c Count) bool { return c.Name == s.Count })
		if k < 0 {
			k = len(list)
			list = append(list, Count{Name: s.Count, Gap: math.Inf(1)})
		}
		c := &list[k]
		c.Gap = min(c.Gap, gap(steps, i))
		if math.IsNaN(tapped[i]) {
			c.Missed++
		} else {
			c.Offsets = append(c.Offsets, tapped[i])
		}
	}
	var residuals []float64
	for i := range list {
		c := &list[i]
		c.Value, c.Spread = medianAndSpread(c.Offsets)
		for _, x := range c.Offsets {
			residuals = append(residuals, x-c.Value)
		}
	}
	// A few taps may agree by chance, so no count is taken to be steadier than all of them together.
	_, all := medianAndSpread(residuals)
	for i := range list {
		c := &list[i]
		c.Error = math.Inf(1)
		if n := len(c.Offsets); n >= fewest {
			c.Error = medianError * max(c.Spread, all) / math.Sqrt(float64(n))
		}
	}
	return list
}

// gap returns the time from a step to the nearest other step.
func gap(steps []Step, i int) float64 {
	g := math.Inf(1)
	if i > 0 {
		g = steps[i].At - steps[i-1].At
	}
	if i+1 < len(steps) {
		g = min(g, steps[i+1].At-steps[i].At)
	}
	return g
}

// whole returns how early or late the counts are as a whole: their median, so that a count that comes
// often doesn't decide it.
func whole(list []Count) Estimate {
	var values []float64
	sum := 0.0
	for _, c := range list {
		if len(c.Offsets) >= fewest {
			values = append(values, c.Value)
			sum += c.Error * c.Error
		}
	}
	if len(values) == 0 {
		return Estimate{0, math.Inf(1)}
	}
	n := float64(len(values))
	return Estimate{median(values), math.Sqrt(sum) / n}
}

// drift fits a line to the offsets in silence, with one slope for all silent stretches and a start of
// its own for each. First it subtracts each count's usual offset, which is not drift.
//
// The slope is the median of the slopes between any two taps of a stretch, weighted by the time
// between them, so that a few stray taps don't move it.
func drift(steps []Step, tapped []float64, list []Count) Drift {
	usual := map[string]float64{}
	for _, c := range list {
		usual[c.Name] = c.Value
	}
	var d Drift
	var slopes, weights, residuals []float64
	var spread float64 // the sum of squares of the times, from the middle of each stretch
	for from := 0; from < len(steps); {
		to := from + 1
		for to < len(steps) && steps[to].Silence == steps[from].Silence {
			to++
		}
		if steps[from].Silence > 0 {
			if length := steps[to-1].At + steps[to-1].Beat - steps[from].At; length > d.Longest {
				d.Longest, d.Beat = length, steps[from].Beat
			}
			at, off := offsets(steps[from:to], tapped[from:to], usual)
			middle := mean(at)
			for i := range at {
				spread += (at[i] - middle) * (at[i] - middle)
				for j := range i {
					slopes, weights = append(slopes, (off[i]-off[j])/(at[i]-at[j])), append(weights, at[i]-at[j])
				}
			}
		}
		from = to
	}
	if len(slopes) == 0 || spread == 0 {
		return d
	}
	d.Value = weightedMedian(slopes, weights)
	residuals = around(steps, tapped, usual, d.Value)
	_, noise := medianAndSpread(residuals)
	// The median of slopes is nearly as efficient as least squares (Sen, "Estimates of the regression
	// coefficient based on Kendall's tau", Journal of the American Statistical Association 63, 1968).
	d.Error = noise / math.Sqrt(spread)
	d.Known = len(residuals) >= 2*fewest
	return d
}

// offsets returns the times of the steps that were tapped, and how far from the count's usual offset each was.
func offsets(steps []Step, tapped []float64, usual map[string]float64) (at, off []float64) {
	for i, s := range steps {
		if !math.IsNaN(tapped[i]) {
			at, off = append(at, s.At), append(off, tapped[i]-usual[s.Count])
		}
	}
	return at, off
}

// around returns what is left of the offsets in silence once the drift and each stretch's start are
// subtracted.
func around(steps []Step, tapped []float64, usual map[string]float64, slope float64) []float64 {
	stretches := map[int][]float64{}
	for i, s := range steps {
		if s.Silence > 0 && !math.IsNaN(tapped[i]) {
			stretches[s.Silence] = append(stretches[s.Silence], tapped[i]-usual[s.Count]-slope*s.At)
		}
	}
	var left []float64
	for _, list := range stretches {
		start := median(list)
		for _, x := range list {
			left = append(left, x-start)
		}
	}
	return left
}

func mean(list []float64) float64 {
	sum := 0.0
	for _, x := range list {
		sum += x
	}
	return sum / float64(max(len(list), 1))
}

// median returns the median of a list; 0 if it is empty.
func median(list []float64) float64 {
	n := len(list)
	if n == 0 {
		return 0
	}
	list = slices.Sorted(slices.Values(list))
	return (list[(n-1)/2] + list[n/2]) / 2
}

// medianAndSpread returns the median of a list and an estimate of the standard deviation that stray
// values don't move.
func medianAndSpread(list []float64) (middle, spread float64) {
	middle = median(list)
	away := make([]float64, len(list))
	for i, x := range list {
		away[i] = math.Abs(x - middle)
	}
	return middle, toSpread * median(away)
}

// weightedMedian returns the value below which half of the weight lies.
func weightedMedian(values, weights []float64) float64 {
	order := make([]int, len(values))
	total := 0.0
	for i := range order {
		order[i] = i
		total += weights[i]
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case values[a] < values[b]:
			return -1
		case values[a] > values[b]:
			return 1
		}
		return 0
	})
	below := 0.0
	for _, i := range order {
		if below += weights[i]; below >= total/2 {
			return values[i]
		}
	}
	return 0
}
