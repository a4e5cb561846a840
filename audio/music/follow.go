package music

import (
	"math"
	"slices"
)

// How steady a song is.
const (
	judged    = 8.0  // seconds judged at a time
	bad       = 0.62 // a line's beats weaker than this part of the tracked ones are off the beat
	mostFree  = 0.3  // the most of a song that may begin, or end, freely
	farBetter = 1.15 // how much stronger tracked beats must be throughout, each sixteen made even
)

// follow returns the beats of a song that line l fits, perhaps only in part,
// and from when to when it fits. Both times are 0 if it fits nowhere.
func (f *finder) follow(l line, r Range) (beats []float64, from, to float64) {
	straight, tracked := f.beats(l), f.track(l)
	const beyond = 1.02 // how far outside the range a changing tempo may be
	tempo := tempoOf(tracked)
	inRange := tempo > r.Min/beyond && tempo < r.Max*beyond
	on, n := 0, 0
	for _, fits := range f.judge(straight, tracked, shifts[:1]) {
		if n++; fits {
			on++
		}
	}
	if inRange && on*2 < n && f.evenStrength(tracked) > farBetter*f.evenStrength(straight) {
		return tracked, 0, 0
	}
	// Only the start and the end may be free. Where the upbeats are stronger
	// than the beats, and got tracked instead, the tempo is still the line's.
	steady := f.judge(straight, tracked, shifts)
	first := max(slices.Index(steady, true), 0)
	last := n - 1 // the last that fits
	for last > first && !steady[last] {
		last--
	}
	from, to = f.from, f.to
	if float64(first) > 0 && float64(first) <= mostFree*float64(n) {
		from += float64(first) * judged
		straight = join(tracked, straight, from, l.period)
	}
	if free := n - 1 - last; free > 0 && float64(free) <= mostFree*float64(n) {
		to = f.from + float64(last+1)*judged
		straight = join(straight, tracked, to, l.period)
	}
	return straight, from, to
}

// judge reports for every eight seconds whether the line's beats, moved by any
// of parts of a beat, are about as strong as the tracked ones.
func (f *finder) judge(straight, tracked, parts []float64) (fits []bool) {
	for from := f.from; from < f.to; from += judged {
		inside := func(beats []float64) []float64 {
			first, _ := slices.BinarySearch(beats, from)
			last, _ := slices.BinarySearch(beats, from+judged)
			return beats[first:last]
		}
		best := math.Inf(-1)
		for _, part := range parts {
			best = max(best, f.swungMean(shifted(inside(straight), part)))
		}
		fits = append(fits, best >= bad*f.swungMean(inside(tracked)))
	}
	return fits
}

// join takes the beats up to about a time from one row and the rest from
// another. It changes over where both have the same beat.
func join(before, after []float64, time, period float64) []float64 {
	near := func(row []float64, t float64) (int, float64) {
		i, _ := slices.BinarySearch(row, t)
		if i > 0 && (i == len(row) || t-row[i-1] < row[i]-t) {
			i--
		}
		return i, math.Abs(row[i] - t)
	}
	if len(before) == 0 || len(after) == 0 {
		return append(slices.Clone(before), after...)
	}
	best, at, cost := 0, 0, math.Inf(1)
	for i, b := range before {
		if math.Abs(b-time) > 4*period {
			continue
		}
		j, apart := near(after, b)
		if c := apart + 0.02*math.Abs(b-time); c < cost {
			best, at, cost = i, j, c
		}
	}
	if math.IsInf(cost, 1) {
		best, _ = near(before, time)
		at, _ = near(after, before[best])
	}
	return append(slices.Clone(before[:best]), after[at:]...)
}

// track follows beats whose tempo changes, by up to 30 % around a line's. Of all rows of
// beats, it returns the one with the most strength minus the cost of its changes of tempo.
// A place in the search is a beat with the interval before it, in values.
func (f *finder) track(l line) []float64 {
	const around, dear, swingShare = 0.3, 1500, 0.4
	period := l.period * perSecond
	shortest, longest := int(math.Floor(period*(1-around))), int(math.Ceil(period*(1+around)))
	n, kinds := int(f.to*perSecond)+1, longest-shortest+1
	n = min(n, len(f.strength))
	costs := make([]float64, kinds*kinds)
	for p := range kinds {
		for q := range kinds {
			switch d := max(p-q, q-p); {
			case d == 1:
				costs[p*kinds+q] = 0.05
			case d > 1:
				ratio := math.Log(float64(shortest+p) / float64(shortest+q))
				costs[p*kinds+q] = dear * ratio * ratio
			}
		}
	}
	from := make([]int16, n*kinds)
	best := make([][]float64, longest+1) // for the last longest+1 values
	for i := range best {
		best[i] = make([]float64, kinds)
	}
	first := int(f.from * perSecond)
	for t := max(first-int(period/4), 0); t < n; t++ {
		place := float64(t)
		s := (2*at(f.strength, place)+at(f.strength, place-1)+at(f.strength, place+1))/4 +
			swingShare*(at(f.strength, place-period/3)-at(f.strength, place+period/3))
		here := best[t%len(best)]
		for p := range kinds {
			here[p], from[t*kinds+p] = s, -1
			before := t - shortest - p
			if before < first {
				continue
			}
			most := math.Inf(-1)
			for q, b := range best[before%len(best)] {
				if b -= costs[p*kinds+q]; b > most {
					most, from[t*kinds+p] = b, int16(q)
				}
			}
			here[p] += most
		}
	}
	t, p, most := 0, 0, math.Inf(-1)
	for i := max(n-longest, 0); i < n; i++ {
		for q, b := range best[i%len(best)] {
			if b > most {
				t, p, most = i, q, b
			}
		}
	}
	var beats []float64
	for {
		time, _ := f.middle(float64(t)/perSecond, 0.06*l.period)
		beats = append(beats, time)
		q := int(from[t*kinds+p])
		if q < 0 || len(beats) > n {
			break
		}
		t, p = t-shortest-p, q
	}
	slices.Reverse(beats)
	return beats
}
