package timestretch

import (
	"fmt"
	"math"
)

// New finds the attacks of a sound, which must not change afterwards. It fails
// if the rate is below [MinRate].
func New(s Sound) (*Source, error) {
	if s.Rate < MinRate {
		return nil, fmt.Errorf("stretch sound: %d frames a second, need at least %d", s.Rate, MinRate)
	}
	l := lengths{rate: s.Rate, thin: max(1, int(math.Round(float64(s.Rate)/6000)))}
	l.block = blockLength * l.thin
	l.hop = int(l.of(1.5))
	l.most, l.cell = float64(l.of(dueMost)), float64(dueCell*l.thin)
	source := &Source{frames: s.Frames, lengths: l, mono: thinned(s.Frames, l.thin)}
	source.hear()
	return source, nil
}

// emphasis is the part of the previous value that is subtracted from each value
// of Source.mono, so that the bass does not outweigh everything else.
const emphasis = 0.8

// thinned mixes frames down to one channel at a rate lower by a factor of by,
// with its treble emphasised. The channels have different weights, so that
// sound which is out of phase between them does not cancel.
func thinned(frames [][2]int16, by int) []float32 {
	out := make([]float32, len(frames)/by)
	// A triangle two steps wide removes most of what would alias.
	weight := make([]float32, 2*by)
	for i := range weight {
		weight[i] = float32(min(i+1, 2*by-i)) / float32(by*(by+1))
	}
	for i := range out {
		from := i*by - by/2
		var sum float32
		if from >= 0 && from+2*by <= len(frames) {
			for j, f := range frames[from : from+2*by] {
				sum += weight[j] * (0.65*float32(f[0]) + 0.35*float32(f[1]))
			}
		} else {
			for j, w := range weight {
				if k := from + j; k >= 0 && k < len(frames) {
					sum += w * (0.65*float32(frames[k][0]) + 0.35*float32(frames[k][1]))
				}
			}
		}
		out[i] = sum / 32768
	}
	for i := len(out) - 1; i > 0; i-- {
		out[i] -= emphasis * out[i-1]
	}
	return out
}
