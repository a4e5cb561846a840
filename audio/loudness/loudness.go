// Package loudness measures how loud a programme is, as broadcasters do.
//
// Source: Recommendation ITU-R BS.1770-4, Algorithms to measure audio programme loudness and true-peak
// audio level. The peak is that of the samples, not the true peak.
package loudness

import "math"

// Meter measures stereo sound. Begin with [NewMeter].
type Meter struct {
	shelf, high filter
	peak        float64
	step        int // frames of a quarter of a block
	filled      int // of the step that is under way
	sum         float64
	steps       []float64 // the energy of each step
}

// NewMeter returns a meter of sound with rate frames a second.
func NewMeter(rate int) *Meter {
	return &Meter{shelf: shelf(float64(rate)), high: high(float64(rate)), step: rate / 10}
}

// Add measures more sound.
func (m *Meter) Add(frames [][2]float64) {
	for _, f := range frames {
		for side, x := range f {
			m.peak = max(m.peak, x, -x)
			y := m.high.next(side, m.shelf.next(side, x))
			m.sum += y * y
		}
		if m.filled++; m.filled == m.step {
			m.steps = append(m.steps, m.sum/float64(m.step))
			m.filled, m.sum = 0, 0
		}
	}
}

// Peak returns the largest absolute sample.
func (m *Meter) Peak() float64 { return m.peak }

// What is quieter than these doesn't count: in LUFS, and in LU below the rest.
const (
	absoluteGate = -70.0
	relativeGate = -10.0
)

// Loudness returns the integrated loudness in LUFS: of blocks of 400 ms, each 100 ms after the one before.
// It is -Inf for silence, and for less than a block.
func (m *Meter) Loudness() float64 {
	gated := m.mean(absoluteGate)
	return lufs(m.mean(lufs(gated) + relativeGate))
}

// mean returns the mean energy of the blocks that are louder than a gate in LUFS.
func (m *Meter) mean(gate float64) float64 {
	const quarters = 4
	sum, n := 0.0, 0
	for i := quarters; i <= len(m.steps); i++ {
		energy := 0.0
		for _, e := range m.steps[i-quarters : i] {
			energy += e / quarters
		}
		if level := lufs(energy); level > absoluteGate && level > gate {
			sum += energy
			n++
		}
	}
	return sum / float64(max(n, 1))
}

func lufs(energy float64) float64 { return -0.691 + 10*math.Log10(energy) }

// filter is a biquad, one for each side.
type filter struct {
	b0, b1, b2, a1, a2 float64
	state              [2][2]float64
}

func (f *filter) next(side int, x float64) float64 {
	s := &f.state[side]
	y := f.b0*x + s[0]
	s[0] = f.b1*x - f.a1*y + s[1]
	s[1] = f.b2*x - f.a2*y
	return y
}

// shelf and high are the two filters that weigh frequencies as the ear does. The recommendation prints
// their coefficients for 48 kHz; these are the analogue filters behind them, from memory, which give the
// printed ones at that rate.
func shelf(rate float64) filter {
	const frequency, gain, q = 1681.974450955533, 3.999843853973347, 0.7071752369554196
	k := math.Tan(math.Pi * frequency / rate)
	top := math.Pow(10, gain/20)
	middle := math.Pow(top, 0.4996667741545416)
	a0 := 1 + k/q + k*k
	return filter{
		b0: (top + middle*k/q + k*k) / a0, b1: 2 * (k*k - top) / a0, b2: (top - middle*k/q + k*k) / a0,
		a1: 2 * (k*k - 1) / a0, a2: (1 - k/q + k*k) / a0,
	}
}

func high(rate float64) filter {
	const frequency, q = 38.13547087602444, 0.5003270373238773
	k := math.Tan(math.Pi * frequency / rate)
	a0 := 1 + k/q + k*k
	return filter{b0: 1, b1: -2, b2: 1, a1: 2 * (k*k - 1) / a0, a2: (1 - k/q + k*k) / a0}
}
