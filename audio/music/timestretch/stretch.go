// Package timestretch plays recorded sound slower or faster without changing its
// pitch.
//
// The stretched sound is a list of splices over the recorded one: it is read
// on at its own speed, and now and then the reading jumps back (slower) or
// ahead (faster), cross-faded, where the sound before and after the jump is
// most alike; what of it differs in phase is turned meanwhile. No attack is
// ever within what is repeated or skipped. So the list is also the exact map
// between the two times, and a sample is a pure function of the list and of its
// frame.
//
// Reading on with jumps to where the waves are alike is WSOLA: Verhelst and
// Roelands, "An overlap-add technique based on waveform similarity (WSOLA)",
// ICASSP 1993. That attacks need to be left alone is in Driedger and Müller,
// "A Review of Time-Scale Modification of Music Signals", Applied Sciences 6
// (2016) 57. That the jumps between two attacks are chosen together, by
// dynamic programming, that the loudness is evened out over what is repeated,
// and how the phases are turned, is our own.
package timestretch

import (
	"fmt"
	"math"
)

// Sound is recorded sound in two channels.
type Sound struct {
	Rate   int // frames a second
	Frames [][2]int16
}

// MinRate is the least rate of a sound, in frames a second: below it, what is
// compared would hold too little of the sound.
const MinRate = 4000

// Source is a sound in which it is known where attacks are and how loud it is:
// what a splice needs to know. It is a value that never changes; any number of
// goroutines may use it. It needs 16 % more memory than its sound.
type Source struct {
	frames  [][2]int16
	lengths lengths
	mono    []float32        // one for each lengths.thin frames
	loud    [][bands]float32 // the loudness round every lengths.hop frames; positive
	split   [bands - 1]int64 // the widths of the filters between the bands
	attacks []int64          // the frames just before the strong attacks, ascending
	slight  []float32        // the sum of the strengths of weaker attacks, up to each hop
}

// lengths are the lengths that depend on the rate, in frames.
type lengths struct {
	rate  int
	thin  int     // a value of mono
	block int     // the raster of places for a splice
	hop   int     // the raster on which attacks and loudness are known
	most  float64 // of dueMost
	cell  float64 // of a dueCell
}

func (l lengths) of(ms float64) int64 { return int64(math.Round(ms / 1000 * float64(l.rate))) }

// blockLength is how many values of Source.mono are a block.
const blockLength = 16

// New finds the attacks of a sound, which must not change any more. It is an
// error when the rate is below [MinRate].
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

// Len returns the number of frames of the recorded sound.
func (s *Source) Len() int64 { return int64(len(s.frames)) }

// Rate returns the frames a second.
func (s *Source) Rate() int { return s.lengths.rate }

// emphasis is how much of the value before is taken off each of Source.mono, so
// that the bass does not outweigh all else.
const emphasis = 0.8

// thinned is one channel at a rate that is by so much less, what is higher in
// it emphasised. The channels have different weights, so that none is lost
// where they are out of phase.
func thinned(frames [][2]int16, by int) []float32 {
	out := make([]float32, len(frames)/by)
	// A triangle over two steps keeps most of what would be folded away.
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
