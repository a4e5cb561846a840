// Package audio turns "this sound at that frame" into samples.
//
// A [Schedule] says what sounds when, an [Engine] renders it, and [WriteWAV]
// writes the result to a file. A frame is one sample for each of the two
// channels. Frames count from 0 at the engine's rate and are the only clock.
package audio

// Sound is mono samples at the engine's rate, none beyond ±1. It must not be
// written to once it is in a Schedule.
type Sound []float32

// Layer is a group of sounds with its own level, from 0 to Layers-1.
type Layer uint8

// Layers is the number of layers.
const Layers = 8

// Levels are how loud each layer is, from 0 for silence to 1.
type Levels [Layers]float32

// Hit is a sound that begins on a frame.
type Hit struct {
	Frame int64 // the frame of Sound's first sample
	Sound Sound
	Layer Layer   // silent if it is Layers or more
	Gain  float32 // 0..1
	Pan   float32 // -1 left .. +1 right; at 0 both channels are unattenuated
}

// Schedule says what sounds when.
//
// Hits appends to dst the hits that begin in [from, to), in order of Frame, and
// returns the extended slice. From may be negative. The audio thread calls it,
// so it must not block, nor allocate beyond dst. A Schedule is immutable: the
// same arguments always return the same hits in the same order.
//
// A Schedule that comes to rest may also have a method Silent(from int64) bool,
// which reports whether no hit begins on from or later. See [Engine.Silent].
type Schedule interface {
	Hits(dst []Hit, from, to int64) []Hit
}
