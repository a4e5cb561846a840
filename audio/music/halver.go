package music

import "math"

// halver mixes both channels together and halves their rate until it is below
// 40 kHz, so that analysis costs about the same for every file.
type halver struct {
	from   int
	stages []*stage
	kept   []float32
}

// enough is the lowest rate that halving may lead to, in frames a second:
// analysis needs frequencies up to 10 kHz.
const enough = 20000

// newHalver returns a halver for a rate. Frames is about how many will be added.
func newHalver(rate int, frames int64) *halver {
	h := &halver{from: rate}
	for ; rate/2 >= enough; rate /= 2 {
		h.stages = append(h.stages, &stage{})
	}
	const more = 64 // for the filters' delay
	h.kept = make([]float32, 0, frames>>len(h.stages)+more)
	return h
}

func (h *halver) rate() int { return h.from >> len(h.stages) }

func (h *halver) add(frames [][2]float64) {
	for _, f := range frames {
		x, ok := (f[0]+f[1])/2, true
		for _, s := range h.stages {
			if x, ok = s.next(x); !ok {
				break
			}
		}
		if ok {
			h.kept = append(h.kept, float32(x))
		}
	}
}

// out returns everything added, without the filters' delay.
func (h *halver) out() []float32 {
	for range h.delay() {
		h.add([][2]float64{{}})
	}
	kept := h.kept
	h.kept = nil
	return kept[min(h.delay()>>len(h.stages), len(kept)):]
}

// delay returns how many frames late the stages are in all: each by half a filter.
func (h *halver) delay() (frames int) {
	for i := range h.stages {
		frames += (taps / 2) << i
	}
	return frames
}

// taps is the length of the half-band filter. Every second tap but the middle one is 0.
const taps = 31

// halfBand holds taps 1, 3, 5 … from the middle: a windowed sinc with its edge
// at a quarter of the rate. The middle tap is 1/2.
var halfBand = func() (h [taps/4 + 1]float64) {
	sum := 0.0
	for i := range h {
		n := float64(2*i + 1)
		w := 0.5 + 0.5*math.Cos(math.Pi*n/(taps/2+1))
		h[i] = w * math.Sin(math.Pi*n/2) / (math.Pi * n)
		sum += 2 * h[i]
	}
	for i := range h {
		h[i] *= 0.5 / sum
	}
	return h
}()

// stage halves a rate.
type stage struct {
	ring [32]float64 // at least the last taps frames
	at   int
	odd  bool
}

// next takes a frame; after every second one it returns a frame and true.
func (s *stage) next(x float64) (float64, bool) {
	s.at = (s.at + 1) % len(s.ring)
	s.ring[s.at] = x
	if s.odd = !s.odd; s.odd {
		return 0, false
	}
	middle := s.at + len(s.ring) - taps/2
	y := s.ring[middle%len(s.ring)] / 2
	for i, h := range halfBand {
		n := 2*i + 1
		y += h * (s.ring[(middle+n)%len(s.ring)] + s.ring[(middle-n)%len(s.ring)])
	}
	return y, true
}
