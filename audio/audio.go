// Package audio turns "this sound at that frame" into samples.
//
// A [Schedule] says what sounds when, an [Engine] renders it, and [WriteWAV]
// keeps the result in a file. A frame is one sample for each of the two
// channels; frames count from 0 at the engine's rate, and the frame is the
// only clock there is.
package audio

// Sound is one voice: mono samples at the engine's rate, none beyond ±1. It
// is never written to once it is in a Schedule.
type Sound []float32

// Layer is a group of sounds with a level of its own, from 0 to Layers-1.
type Layer uint8

// Layers is how many layers there are.
const Layers = 8

// Levels holds the level of each layer: a factor for its samples, from 0 for
// silence to 1 for unchanged.
type Levels [Layers]float32

// Hit is a sound that begins at a frame.
type Hit struct {
	Frame int64 // on which the first sample of Sound is heard
	Sound Sound
	Layer Layer   // one that does not exist is silent
	Gain  float32 // 0..1
	Pan   float32 // -1 left .. +1 right; 0 is unattenuated in both channels
}

// Schedule says what sounds when.
//
// Hits appends to dst the hits that begin in [from, to), in order of Frame,
// and returns the extended slice; from may be negative. It is called by the
// audio thread, so it must neither block nor allocate beyond dst. A Schedule
// is immutable: the same arguments always give the same hits in the same
// order.
type Schedule interface {
	Hits(dst []Hit, from, to int64) []Hit
}
