package device

import (
	"encoding/binary"
	"math"
	"sync/atomic"
	"time"

	"github.com/gopxl/beep/v2"
)

// feed is what one output plays: silence until it has joined, from then on the source, whose frame is
// base plus the output's.
type feed struct {
	src beep.StreamSeeker
	out output // set once it is open

	// Written by the supervisor while it holds the output; read while the output renders or is held.
	joined bool
	base   int64

	next int64 // the frame at which src stands, if any
	buf  [][2]float64

	device atomic.Pointer[Device]
	moved  chan struct{} // of capacity 1: device has changed

	sightings chan sighting // of capacity 1: the latest
	strange   int           // how many sightings in a row were far off
}

// sighting is a position that an output reports.
type sighting struct {
	at      time.Time
	frame   float64 // the output's own
	running bool    // whether frames are being heard at all
}

func newFeed(src beep.StreamSeeker) *feed {
	f := &feed{src: src, next: -1, moved: make(chan struct{}, 1), sightings: make(chan sighting, 1)}
	f.device.Store(&Device{})
	return f
}

// plays records the device that the output plays on. It must be called from one goroutine of the
// output, and does not block.
func (f *feed) plays(d Device) {
	f.device.Store(&Device{bounded(d.Name), bounded(d.Called)})
	put(f.moved, struct{}{})
}

// fill renders the frames from frame on into dst. It must be called from the output's rendering
// goroutine, and does not block.
func (f *feed) fill(dst []byte, frame int64) {
	n := len(dst) / frameBytes
	at := f.base + frame
	if !f.joined || at < 0 {
		clear(dst)
		return
	}
	if at != f.next {
		f.next = at
		if f.src.Seek(int(at)) != nil {
			f.next = -1
			clear(dst)
			return
		}
	}
	if len(f.buf) < n {
		f.buf = make([][2]float64, n)
	}
	got, _ := f.src.Stream(f.buf[:n])
	clear(f.buf[got:n])
	f.next += int64(n)
	for i, s := range f.buf[:n] {
		binary.LittleEndian.PutUint32(dst[frameBytes*i:], math.Float32bits(float32(s[0])))
		binary.LittleEndian.PutUint32(dst[frameBytes*i+4:], math.Float32bits(float32(s[1])))
	}
}

// observe records that the output's frame was heard at a time. It must be called from one goroutine of
// the output, and does not block.
func (f *feed) observe(at time.Time, frame float64, running bool) {
	put(f.sightings, sighting{at, frame, running})
}

// put replaces what waits in a channel of capacity 1. It does not block.
func put[T any](c chan T, v T) {
	select {
	case <-c:
	default:
	}
	select {
	case c <- v:
	default:
	}
}

// output plays what a feed renders. It pulls frames from 0 on, each once unless hold steps back, and
// now and then reports to the feed which one is heard.
type output interface {
	// hold drops what has been rendered but not yet heard, if the output can, and calls f with the
	// frame to be rendered next; rendering waits meanwhile. If the output can't play any more, hold
	// returns an error, within patience and without calling f, and done is closed. Once f has returned,
	// an output that rests plays on.
	hold(f func(frame int64)) error

	// rest stops playing until the next hold. What has been rendered but not yet heard may be heard,
	// dropped, or played afterwards. Meanwhile no position is reported as running. It returns within
	// patience, with an error if the output can't play any more.
	rest() error

	// done is closed when the output can't play any more; then err says why.
	done() <-chan struct{}
	err() error

	// close ends the output and returns once it has stopped rendering.
	close()
}
