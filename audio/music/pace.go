package music

import (
	"math"
	"slices"
)

// pacer follows beats whose tempo changes. Of all rows of beats it finds the one with the most
// strength, minus the cost of its changes. Strengths and costs are in units of the usual strength
// of a beat; a place in the search is a beat, at a value, and the period that it begins.
type pacer struct {
	usual         float64      // the usual period, in values
	periods       []float64    // in values, each a hundredth longer than the one before
	odd           []float64    // what each of them costs
	steps         []int        // each as whole values
	uneven        [][3]float64 // what it costs to be a value early, none, a value late
	first, values int          // where the search begins and ends
	beat          []float64    // how good a beat is at each value
	onset         []float64    // the strength there

	ring   [][]float64 // the most that the latest places can have
	ways   []way       // by which each place is best reached
	most   []float64   // at each value, of its best period
	best   []int16     // that period
	before []int32     // at each value, the beat before if there was a stop
	loud   []float64   // reused by stop
}

// way is how a place is reached from the beat before.
type way uint8

const (
	begins  way          = iota // it is the first
	stopped                     // after a stop
	turned                      // to any period; one for each value that the beat is early or late
	went    = turned + 3        // to the same period or one beside it; three for each of these values
)

// The periods that are tried, and what changes cost. The songs that are learnt from are as well
// found if any of these is a third more or less.
const (
	fastest, slowest = 0.8, 1.8 // periods, as parts of the usual one
	periodStep       = 1.01
	halfShare        = 0.3 // of what is between two beats, so that no row slips to upbeats
	worth            = 0.5 // what a beat must have to be worth finding
	unevenCost       = 0.1 // of a beat that is a value early or late
	driftCost        = 0.06
	turnCost         = 2.5
	stopCost         = 1.5
	missedCost       = 0.3 // of each beat that is missing in a stop, or at the ends
	noiseCost        = 3   // of the strongest onset where it should be still
	oddCost          = 2
	longestStop      = 6 // seconds
)

// pacer returns one for a song whose usual period is a line's.
func (f *finder) pacer(l line) *pacer {
	p := &pacer{usual: l.period * perSecond}
	for x := p.usual * fastest; x <= p.usual*slowest; x *= periodStep {
		p.periods = append(p.periods, x)
		const usually = 0.12
		p.odd = append(p.odd, oddCost*max(0, math.Abs(math.Log(x/p.usual))-usually))
		step, costs := int(math.Round(x)), [3]float64{}
		for d := range costs {
			off := float64(step+d-1) - x
			costs[d] = unevenCost * off * off
		}
		p.steps, p.uneven = append(p.steps, step), append(p.uneven, costs)
	}
	p.first, p.values = max(int(f.from*perSecond-p.usual/4), 0), min(int(f.to*perSecond)+1, len(f.strength))
	p.beat, p.onset = make([]float64, p.values), make([]float64, p.values)
	level := f.usualStrength(l)
	for t := range p.beat {
		const swingShare, dottedShare = 0.4, 0.5
		strength := func(part float64) float64 { return at(f.strength, float64(t)+part*p.usual) / level }
		p.onset[t] = f.strength[t] / level
		p.beat[t] = (2*p.onset[t]+at(f.strength, float64(t-1))/level+at(f.strength, float64(t+1))/level)/4 +
			swingShare*(strength(-1./3)-strength(1./3)) + halfShare*strength(1./2) - worth +
			dottedShare*swing(max(p.onset[t], 0), max(strength(-1./4), 0), max(strength(1./4), 0))
	}
	kinds := len(p.periods)
	p.ring = make([][]float64, int(p.periods[kinds-1])+3)
	for i := range p.ring {
		p.ring[i] = make([]float64, kinds)
	}
	p.ways, p.most = make([]way, p.values*kinds), make([]float64, p.values)
	p.best, p.before = make([]int16, p.values), make([]int32, p.values)
	return p
}

// usualStrength returns how strong beats with a line's period are at best, on average over the song.
func (f *finder) usualStrength(l line) float64 {
	const judged = 8.0 // seconds at a time
	sum, n := 0.0, 0.0
	for from := f.from; from+judged/2 < f.to; from += judged {
		part := &finder{Heard: f.Heard, from: from, to: min(from+judged, f.to)}
		sum, n = sum+part.lay(l.period).score, n+1
	}
	return max(sum/max(n, 1), 0.1)
}

// row returns the best row of beats, in runs between which the music stops. Times are in seconds.
func (p *pacer) row() (runs [][]float64) {
	for t := p.first; t < p.values; t++ {
		here, ways := p.ring[t%len(p.ring)], p.ways[t*len(p.periods):]
		most, by := -missedCost*float64(t-p.first)/p.usual, begins
		if x := p.stop(t); x > most {
			most, by = x, stopped
		}
		p.most[t] = math.Inf(-1)
		for k := range here {
			here[k], ways[k] = most, by
			if x, w := p.goOn(t, k); x > most {
				here[k], ways[k] = x, w
			}
			here[k] += p.beat[t] - p.odd[k]
			if here[k] > p.most[t] {
				p.most[t], p.best[t] = here[k], int16(k)
			}
		}
	}
	last, score := p.first, math.Inf(-1)
	for t := p.first; t < p.values; t++ {
		if x := p.most[t] - missedCost*float64(p.values-1-t)/p.usual; x >= score {
			last, score = t, x
		}
	}
	return p.trace(last)
}

// goOn returns the most that a beat at t can have a period after another, and the way there.
func (p *pacer) goOn(t, k int) (most float64, by way) {
	most = math.Inf(-1)
	for d, cost := range p.uneven[k] {
		before := t - p.steps[k] - d + 1
		if before < p.first {
			continue
		}
		row := p.ring[before%len(p.ring)]
		if x := row[k] - cost; x > most {
			most, by = x, went+way(3*d+1)
		}
		if x := p.most[before] - cost - turnCost; x > most {
			most, by = x, turned+way(d)
		}
		cost += driftCost
		if k > 0 && row[k-1]-cost > most {
			most, by = row[k-1]-cost, went+way(3*d)
		}
		if k+1 < len(row) && row[k+1]-cost > most {
			most, by = row[k+1]-cost, went+way(3*d+2)
		}
	}
	return most, by
}

// stop returns the most that a beat at t can have after a stop, and remembers the beat before.
// Nothing should begin in a stop, from about when the next beat was due, until an onset ends it.
func (p *pacer) stop(t int) float64 {
	const edge, due, shortest, again = 4, 0.9, 1.2, 0.3
	most := math.Inf(-1)
	if p.onset[t] < again {
		return most
	}
	p.loud = p.loud[:0] // the strongest onset from so many values before t on
	for before := t; before >= max(p.first, t-longestStop*perSecond); before-- {
		loudest := 0.0
		if n := len(p.loud); n > 0 {
			loudest = p.loud[n-1]
		}
		if t-before > edge {
			loudest = max(loudest, p.onset[before])
		}
		p.loud = append(p.loud, loudest)
		period := p.periods[p.best[before]]
		lasts := float64(t - before)
		if before == t || lasts < shortest*period {
			continue
		}
		x := p.most[before] - stopCost - missedCost*(lasts/period-1) - noiseCost*p.loud[int(lasts-due*period)]
		if x > most {
			most, p.before[t] = x, int32(before)
		}
	}
	return most
}

// trace returns the row of beats that ends best at t.
func (p *pacer) trace(t int) (runs [][]float64) {
	k := p.best[t]
	run := []float64{}
	for {
		run = append(run, float64(t)/perSecond)
		switch w := p.ways[t*len(p.periods)+int(k)]; {
		case w == begins || w == stopped:
			slices.Reverse(run)
			runs = append(runs, run)
			if w == begins {
				slices.Reverse(runs)
				return runs
			}
			run, t = nil, int(p.before[t])
			k = p.best[t]
		case w < went:
			t -= p.steps[k] + int(w-turned) - 1
			k = p.best[t]
		default:
			t -= p.steps[k] + int(w-went)/3 - 1
			k += int16(w-went)%3 - 1
		}
	}
}
