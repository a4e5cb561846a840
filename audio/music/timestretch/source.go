package timestretch

import "math"

// Sound is recorded sound in two channels.
type Sound struct {
	Rate   int // frames a second
	Frames [][2]int16
}

// MinRate is the lowest rate of a sound, in frames a second. Below it, the
// windows that are compared would hold too few samples.
const MinRate = 4000

// Source is a sound with its attacks and loudness, which is what a splice needs
// to know. It never changes, so any number of goroutines may use it. It needs
// 16 % more memory than its sound.
type Source struct {
	frames  [][2]int16
	lengths lengths
	mono    []float32        // one value for every lengths.thin frames
	loud    [][bands]float32 // the loudness around every lengths.hop frames; positive
	split   [bands - 1]int64 // the widths of the filters between the bands
	attacks []int64          // the frames just before the strong attacks, ascending
	slight  []float32        // the summed strength of the weaker attacks before each hop
}

// bands is the number of bands whose loudness is known.
const bands = 3

// lengths are in frames and depend on the rate.
type lengths struct {
	rate  int
	thin  int     // frames for each value of mono
	block int     // splices lie a multiple of this from the start of a passage
	hop   int     // attacks and loudness are known at multiples of this
	most  float64 // dueMost
	cell  float64 // dueCell
}

func (l lengths) of(ms float64) int64 { return int64(math.Round(ms / 1000 * float64(l.rate))) }

// blockLength is the number of values of Source.mono in a block.
const blockLength = 16

// Len returns the number of frames of the recorded sound.
func (s *Source) Len() int64 { return int64(len(s.frames)) }

// Rate returns the number of frames a second.
func (s *Source) Rate() int { return s.lengths.rate }

// hops converts ms to hops, at least one.
func (s *Source) hops(ms float64) int {
	return max(1, int(math.Round(ms/1000*float64(s.lengths.rate)/float64(s.lengths.hop))))
}

// frame returns a recorded frame, or silence beyond the ends.
func (s *Source) frame(in int64) (l, r int32) {
	if uint64(in) >= uint64(len(s.frames)) {
		return 0, 0
	}
	f := &s.frames[in]
	return int32(f[0]), int32(f[1])
}

// full converts a recorded sample to the range -1 to 1.
const full = 1.0 / 32768

// sums returns, for every index and for the end, the sum of the values before it.
func sums(values []float32) []float64 {
	out := make([]float64, len(values)+1)
	for i, v := range values {
		out[i+1] = out[i] + float64(v)
	}
	return out
}
