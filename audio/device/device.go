// Package device plays a beep streamer and says which of its frames is heard at any time. It is the
// only importer of a sound driver, and keeps time in silence where there is none.
//
// A [Line] never fails: it keeps time from the moment it is opened, looks for an output in the
// background, joins it to the running time, and goes on in silence when the output is lost.
//
// While nothing sounds, a Line can rest: the output plays nothing, time stands still with it, and
// neither costs anything. See [Options].Silence.
package device

import (
	"strings"
	"time"
)

// Options says how to open a Line. The zero value is useful.
type Options struct {
	// Late returns how much later than the output says its sound is heard, for example over Bluetooth:
	// -200 ms to 1 s; nil means not at all. It is called for each frame of the screen and must not
	// block.
	Late func(Status) time.Duration
	// Describe also finds out the name that people use for the device.
	Describe bool
	// Guard runs each of the Line's goroutines; nil just calls f.
	Guard func(f func())
	// Silent keeps time without looking for an output.
	Silent bool
	// Silence reports whether the source is silent from a frame on unless it is changed. If it is, and
	// the last Change lies some seconds back, an output stops, and the frame that is heard stands
	// still. The next Change lets both go on, so whatever makes a silent source sound must do so within
	// one. Silence is called with frames that were heard, from one goroutine at a time, and must be
	// quick. Nil means that the source is never known to be silent.
	Silence func(from int64) bool
}

// guard runs the body of a goroutine.
func (o Options) guard(f func()) {
	if o.Guard != nil {
		o.Guard(f)
	} else {
		f()
	}
}

// Status says where the sound goes.
type Status struct {
	Output   string // "PulseAudio", "aplay", "oto" or "silent"
	Device   Device // what the output plays on; empty if silent
	Sounding bool   // whether the source is heard
	Problem  string // why it is not, in plain words; "" if nothing is wrong
}

// Asleep reports whether there is an output that does not play yet, or no longer, but may do so by
// itself: wireless loudspeakers take seconds to wake.
func (s Status) Asleep() bool { return s.Output != silent && !s.Sounding && s.Problem != "" }

// Device is the loudspeaker or headphones that an output plays on. The names come from elsewhere: they
// are valid UTF-8 of at most 256 bytes, but may contain what controls a terminal.
type Device struct {
	Name   string // the output's own name for it; "" if it has none
	Called string // the name that people use; "" if unknown
}

// mostName is how many bytes of a name are kept. PulseAudio's own names have at most 128: from memory.
const mostName = 256

// bounded makes a name valid for a Device.
func bounded(name string) string {
	return strings.ToValidUTF8(name[:min(len(name), mostName)], "")
}

// silent is the Output of a Line that only keeps time.
const silent = "silent"

// frameBytes is the size of a frame on its way to an output: one little-endian float32 for each of two
// channels.
const frameBytes = 8

// latency is the time between rendering and hearing, as far as the output lets one choose. With a
// shorter one the sound has gaps when the processor is busy.
const latency = 150 * time.Millisecond

// patience is how long an output may take to answer.
const patience = 500 * time.Millisecond

// failure is an error with a text for dancers.
type failure struct {
	plain string
	cause error
}

func (f *failure) Error() string {
	if f.cause == nil {
		return f.plain
	}
	return f.plain + ": " + f.cause.Error()
}

func (f *failure) Unwrap() error { return f.cause }
