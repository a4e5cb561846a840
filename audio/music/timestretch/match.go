package timestretch

import (
	"math"
	"slices"
)

// The length of a jump, in ms. A shorter one would keep the bass and tear what
// is above it; a longer one sounds like a stumble.
const (
	minJump = 8.0
	maxJump = 65.0
)

const (
	fadeLongest = 50.0 // ms
	fadeBlocks  = 2    // the shortest fade, in blocks
	choices     = 10   // the most jumps considered at a place
)

// choice is a possible jump at a place of a passage.
type choice struct {
	lag  int // in values of Source.mono
	cost float32
}

// matcher finds the good jumps of a passage of the recording. It reuses its
// slices from passage to passage.
type matcher struct {
	source *Source
	from   int64 // the first frame
	blocks int
	fade   int       // in blocks
	cost   []float32 // of a jump by lag at a place: cost[place*lags+lag-least]
	least  int
	lags   int
	energy []float32
	diff   []float32
	found  []choice
}

// load takes the passage [from, to) and the length of the fades. It reports
// whether the passage has room for the shortest jump and fade.
//
// A jump costs the energy of the difference between what it fades together,
// over the energy of both; but 70 % of that denominator is the passage's mean,
// so that quiet places are cheap.
func (m *matcher) load(source *Source, from, to, fade int64) bool {
	l := source.lengths
	x := source.mono
	start := int((from + int64(l.thin) - 1) / int64(l.thin))
	stop := min(int(to/int64(l.thin)), len(x))
	m.source, m.from = source, int64(start)*int64(l.thin)
	m.blocks = max(0, (stop-start)/blockLength)
	m.fade = max(fadeBlocks, min(int(fade)/l.block, m.blocks/3))
	thin := float64(l.rate) / float64(l.thin) / 1000 // values per ms
	m.least = int(math.Ceil(minJump * thin))
	most := min(int(maxJump*thin), (m.blocks-m.fade)*blockLength)
	m.lags = most - m.least + 1
	if m.lags <= 0 {
		return false
	}
	x = x[start:stop]
	m.energy = sized(m.energy, len(x)+1)
	for i, v := range x {
		m.energy[i+1] = m.energy[i] + v*v
	}
	width := m.fade * blockLength
	usual := 2 * m.energy[len(x)] / float32(len(x)) * float32(width)
	m.cost = sized(m.cost, m.blocks*m.lags)
	m.diff = sized(m.diff, m.blocks+1)
	for lag := m.least; lag <= most; lag++ {
		m.column(x, lag, usual, width)
	}
	return true
}

// fadeFor returns the longest fade that leaves room in a passage of the given
// length for jumps that sum to due: a few long ones, or more that are shorter.
// A jump may begin once the last one has faded in, and no sooner than three
// quarters of its own length after it.
func fadeFor(l lengths, length, due int64) int64 {
	due += due / 16
	most, longest := l.of(maxJump), int64(0)
	fewest := max(1, (due+most-1)/most)
	for n := fewest; n == fewest || due/n >= l.of(2*minJump); n++ {
		jump := due / n
		fade := (length - jump) / n
		if close := 3 * jump / 4; fade < close {
			fade = length - jump - (n-1)*close
		}
		longest = max(longest, fade)
	}
	return min(longest, l.of(fadeLongest))
}

// column works out the costs of all jumps by one lag: it compares the sound
// from each place with the sound a lag earlier.
func (m *matcher) column(x []float32, lag int, usual float32, width int) {
	first := (lag + blockLength - 1) / blockLength
	for k := first; k < m.blocks; k++ {
		a := x[k*blockLength:][:blockLength]
		b := x[k*blockLength-lag:][:blockLength]
		var sum float32
		for i, v := range a {
			d := v - b[i]
			sum += d * d
		}
		m.diff[k] = sum
	}
	var sum float32
	for k := first; k < first+m.fade-1 && k < m.blocks; k++ {
		sum += m.diff[k]
	}
	for k := first; k+m.fade <= m.blocks; k++ {
		sum += m.diff[k+m.fade-1]
		at := k * blockLength
		both := m.energy[at+width] - m.energy[at] + m.energy[at-lag+width] - m.energy[at-lag]
		m.cost[k*m.lags+lag-m.least] = sum / (0.3*both + 0.7*usual + 1e-9)
		sum = max(0, sum-m.diff[k])
	}
}

// at returns the best jump in each range of lengths at a place, so that jumps
// can add up to any length. The result is valid until the next call.
func (m *matcher) at(place int) []choice {
	m.found = m.found[:0]
	n := min(m.lags, place*blockLength-m.least+1)
	if n <= 0 || place+m.fade > m.blocks {
		return nil
	}
	cost := m.cost[place*m.lags:][:n]
	width := (m.lags + choices - 1) / choices
	for from := 0; from < n; from += width {
		best := from
		for i := from; i < min(n, from+width); i++ {
			if cost[i] < cost[best] {
				best = i
			}
		}
		lag := m.least + best
		m.found = append(m.found, choice{lag, cost[best] + m.slight(place, lag)})
	}
	return m.found
}

// slight returns the cost of the weaker attacks that a jump repeats or skips.
func (m *matcher) slight(place, lag int) float32 {
	l := m.source.lengths
	to := m.from + int64((place+m.fade/2)*l.block)
	from := m.from + int64(place*l.block-lag*l.thin)
	return slightCost * m.source.slightIn(from, to)
}

const slightCost = 0.3

// refine returns the jump, to the frame, that joins best of those within frames
// of the given one.
func (s *Source) refine(in, jump, fade, within int64) (best int64) {
	least := math.Inf(1)
	best = jump
	for d := -within; d <= within; d++ {
		if diff, ok := s.difference(in, in+jump+d, fade); ok && diff < least {
			least, best = diff, jump+d
		}
	}
	return best
}

// difference returns the energy of the difference between n frames from a and from
// b, taken over every second frame. It is not ok if either goes beyond the ends.
func (s *Source) difference(a, b, n int64) (sum float64, ok bool) {
	if min(a, b) < 0 || max(a, b)+n > s.Len() {
		return 0, false
	}
	x, y := s.frames[a:a+n], s.frames[b:b+n]
	for i := 0; i < len(x) && i < len(y); i += 2 {
		l, r := float32(x[i][0])-float32(y[i][0]), float32(x[i][1])-float32(y[i][1])
		sum += float64(l*l + r*r)
	}
	return sum, true
}

// sized returns a slice of length n that reuses the storage of s if it is large
// enough. Its values are undefined.
func sized[T any](s []T, n int) []T { return slices.Grow(s[:0], n)[:n] }
