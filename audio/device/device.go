// Package device makes a beep streamer heard and tells which of its frames is
// heard at any time; it is the only importer of a sound driver, and also the
// silent device.
//
// A [Line] never fails: it keeps time from the moment it is opened, looks for
// an output behind the scenes, joins it to the running time, and goes on in
// silence when the output is lost.
package device

import (
	"context"
	"errors"
	"strings"
	"time"
)

// Options says how to open a Line. The zero value is good.
type Options struct {
	// Latency is what lies between rendering and hearing, as far as the
	// output lets one choose: 150 ms if 0, else 20 ms to 2 s. A short one
	// drops out when the processor is busy.
	Latency time.Duration
	// Name is what the sound server calls the program; "Slowquick" if "".
	Name string
	// Late is how much later than the output says its sound is heard, as over
	// the air: -200 ms to 1 s; nil for not at all. It is asked with each frame
	// of the screen and must not wait.
	Late func(Status) time.Duration
	// Describe asks also what people call the device that plays.
	Describe bool
	// Guard carries out what the Line's goroutines do; nil does just that.
	Guard func(f func())
	// Silent keeps time without looking for an output.
	Silent bool
}

func (o Options) withDefaults() Options {
	if o.Latency == 0 {
		o.Latency = 150 * time.Millisecond
	}
	o.Latency = min(max(o.Latency, 20*time.Millisecond), 2*time.Second)
	if o.Name == "" {
		o.Name = "Slowquick"
	}
	return o
}

// guard carries out what a goroutine does.
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
	Device   Device // what the output plays on now; none if silent
	Sounding bool   // the source is heard now
	Problem  string // why not, in plain words; "" if nothing is wrong
}

// Asleep reports whether there is an output that does not play yet, or not any more, but
// may by itself: loudspeakers over the air take seconds to wake.
func (s Status) Asleep() bool { return s.Output != silent && !s.Sounding && s.Problem != "" }

// Device is the loudspeaker or the like that an output plays on. What stands in
// it comes from elsewhere: it is valid UTF-8 of at most 256 bytes, but may hold
// what a terminal obeys.
type Device struct {
	Name   string // the output's own name for it; "" if it tells none
	Called string // what people call it; "" if that is not known
}

// mostName is how many bytes of a name are kept. PulseAudio's own names have at
// most 128: from memory.
const mostName = 256

// bounded keeps a name within what a Device may hold.
func bounded(name string) string {
	return strings.ToValidUTF8(name[:min(len(name), mostName)], "")
}

// silent is the Output of a Line that only keeps time.
const silent = "silent"

// frameBytes is the size of a frame on its way to an output: one float32,
// little-endian, for each of two channels.
const frameBytes = 8

// patience is how long an output may take to answer.
const patience = 500 * time.Millisecond

// output plays what a feed renders. It pulls frames from 0 on, each once
// unless hold steps back, and tells the feed now and then which one is heard.
type output interface {
	// hold drops what has been rendered but not yet heard, where the output
	// can, and calls f with the frame that is rendered next; rendering waits
	// meanwhile. It returns an error, within patience and without having
	// called f, if the output can play no more; then done is closed.
	hold(f func(frame int64)) error

	// done is closed when the output can play no more; then err says why.
	done() <-chan struct{}
	err() error

	// close ends the output and returns once it has stopped rendering.
	close()
}

// opener is a way to open an output. Open may take a few seconds, if ctx
// allows.
type opener struct {
	name  string
	open  func(ctx context.Context, f *feed, rate int, o Options) (output, error)
	pause time.Duration // between attempts, at least
}

// failure is an error that can also be told to a dancer.
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

// errClosed is the cause of an output that was closed on purpose.
var errClosed = errors.New("closed")
