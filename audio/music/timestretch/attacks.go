package timestretch

import (
	"cmp"
	"math"
	"slices"
)

// An attack is a rise in the log energy of the sound or of its treble. A window
// shorter than a period of the bass would take the wave itself for attacks, so
// only the treble has short ones.
const (
	highWindow = 6.0  // ms
	fullWindow = 20.0 // ms
	highFloor  = 2e-4 // of the mean energy: anything quieter counts as this
	fullFloor  = 0.02

	sharpHops    = 2    // the window that finds where an attack begins, in hops
	attackMemory = 30.0 // ms before an attack in which every window has less energy

	strongAttack = 1.0
	slightAttack = 0.25
	attackApart  = 45.0 // ms: of two strong attacks nearer than this, only the stronger counts
)

// hear finds the attacks and measures the loudness.
func (s *Source) hear() {
	high, full := s.energies()
	memory := s.hops(attackMemory)
	sharp := rises(high, sharpHops, memory, highFloor)
	rise := rises(high, s.hops(highWindow), memory, highFloor)
	for i, r := range rises(full, s.hops(fullWindow), memory, fullFloor) {
		rise[i] += r
	}
	s.hearBands()

	peaks := peaks(rise, slightAttack)
	slices.SortStableFunc(peaks, func(a, b int) int { return cmp.Compare(rise[b], rise[a]) })
	s.slight = make([]float32, len(rise)+1)
	apart := s.hops(attackApart)
	taken := make([]bool, len(rise))
	for _, p := range peaks {
		if rise[p] < strongAttack || slices.Contains(taken[max(0, p-apart):min(len(taken), p+apart+1)], true) {
			s.slight[p+1] = rise[p]
			continue
		}
		taken[p] = true
		s.attacks = append(s.attacks, int64(sharpest(sharp, p))*int64(s.lengths.hop))
	}
	slices.Sort(s.attacks)
	for i := 1; i < len(s.slight); i++ {
		s.slight[i] += s.slight[i-1]
	}
}

// sharpest returns the hop near p at which the attack begins. What else sounds
// can move the peak of the longer windows.
func sharpest(sharp []float32, p int) int {
	best := p
	for i := max(0, p-1); i < min(len(sharp), p+5); i++ {
		if sharp[i] > sharp[best] {
			best = i
		}
	}
	return best
}

// energies returns the energy of every hop: of the treble, which is the second
// difference, and of the whole sound.
func (s *Source) energies() (high, full []float32) {
	hop := s.lengths.hop
	n := (len(s.frames) + hop - 1) / hop
	high, full = make([]float32, n), make([]float32, n)
	var a, b [2]float32 // the previous two frames
	for i := range n {
		var h, f float32
		for _, frame := range s.frames[i*hop : min((i+1)*hop, len(s.frames))] {
			l, r := float32(frame[0])/32768, float32(frame[1])/32768
			dl, dr := l-2*b[0]+a[0], r-2*b[1]+a[1]
			h += dl*dl + dr*dr
			f += l*l + r*r
			a, b = b, [2]float32{l, r}
		}
		high[i], full[i] = h, f
	}
	return high, full
}

// rises returns, for the start of every hop, the natural logarithm of how much
// more energy the window after it has than any window in the memory before it;
// at least 0. Beats between the notes of a chord recur all the time, so they
// don't count as rises; an attack exceeds everything just before it.
func rises(energy []float32, window, memory int, floor float64) []float32 {
	sum := sums(energy)
	n := len(energy)
	least := floor*sum[n]/float64(max(n, 1))*float64(window) + 1e-9
	out := make([]float32, n)
	for i := range out {
		after := sum[min(n, i+window)] - sum[i]
		before := 0.0
		for j := i; j >= max(0, i-memory) && before < after; j-- {
			before = max(before, sum[j]-sum[max(0, j-window)])
		}
		if after > before {
			out[i] = float32(math.Log((after + least) / (before + least)))
		}
	}
	return out
}

// peaks returns the indices of values that are at least least and the highest
// among their five neighbours, or the first of equals.
func peaks(values []float32, least float32) []int {
	var out []int
	for i, v := range values {
		if v < least {
			continue
		}
		highest := true
		for j := max(0, i-2); j < min(len(values), i+3); j++ {
			if values[j] > v || j < i && values[j] == v {
				highest = false
			}
		}
		if highest {
			out = append(out, i)
		}
	}
	return out
}

// attackAfter returns the index of the first strong attack after frame in.
func (s *Source) attackAfter(in int64) int {
	i, found := slices.BinarySearch(s.attacks, in)
	if found {
		i++
	}
	return i
}

// slightIn returns the summed strength of the weaker attacks in [from, to).
func (s *Source) slightIn(from, to int64) float32 {
	hop := int64(s.lengths.hop)
	last := int64(len(s.slight) - 1)
	a := min(max((from+hop-1)/hop, 0), last)
	b := min(max((to+hop-1)/hop, a), last)
	return s.slight[b] - s.slight[a]
}
