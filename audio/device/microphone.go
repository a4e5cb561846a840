package device

import (
	"errors"
	"math"
	"slices"
	"sync"
	"time"

	"github.com/gopxl/beep/v2"
)

// Microphone records into memory, and nowhere else.
type Microphone struct {
	Name string // the sound system's name for it

	heard func(time.Time) float64
	rate  int
	close func()
	done  <-chan struct{}
	cause func() error

	mu      sync.Mutex
	samples []float32
	marks   []sound
}

// sound is a sample of a recording and the frame that was heard when it was recorded.
type sound struct{ sample, frame float64 }

// longest is how much is recorded at most.
const longest = 5 * time.Minute

// Take is what was recorded.
type Take struct {
	Samples []float32 // mono, as many a second as frames
	// Frame is the frame that was heard at sample 0; each sample lasts Pace frames, which differs from 1
	// if the two devices have clocks of their own.
	Frame, Pace float64
	Error       float64 // frames by which that may be wrong, as far as the devices tell the truth
}

// At returns the frame that was heard when a sample was recorded.
func (t Take) At(sample float64) float64 { return t.Frame + t.Pace*sample }

// Played returns what src plays while the take is recorded, as mono samples that line up with the take's.
func (t Take) Played(src beep.StreamSeeker) ([]float32, error) {
	first := max(0, int(t.At(0))-1)
	if err := src.Seek(first); err != nil {
		return nil, err
	}
	frames := make([][2]float64, max(0, int(t.At(float64(len(t.Samples)))))-first+2)
	for rest := frames; len(rest) > 0; {
		n, ok := src.Stream(rest)
		if !ok {
			break
		}
		rest = rest[n:]
	}
	mono := func(i int) float64 {
		if i < 0 || i >= len(frames) {
			return 0
		}
		return (frames[i][0] + frames[i][1]) / 2
	}
	out := make([]float32, len(t.Samples))
	for i := range out {
		at, part := math.Modf(t.At(float64(i)) - float64(first))
		out[i] = float32(mono(int(at))*(1-part) + mono(int(at)+1)*part)
	}
	return out, nil
}

// Close ends the recording.
func (m *Microphone) Close() { m.close() }

// Done is closed when nothing more is recorded; then Err says why.
func (m *Microphone) Done() <-chan struct{} { return m.done }

// Err returns why the recording has ended.
func (m *Microphone) Err() error { return m.cause() }

// fewestMarks is how many positions it takes to tell when something was recorded.
const fewestMarks = 5

// errUnknown says that too little is known.
var errUnknown = &failure{plain: "the microphone has recorded nothing"}

// Take returns what has been recorded so far.
func (m *Microphone) Take() (Take, error) {
	m.mu.Lock()
	samples, marks := slices.Clone(m.samples), slices.Clone(m.marks)
	m.mu.Unlock()
	if len(marks) < fewestMarks || len(samples) == 0 {
		return Take{}, errUnknown
	}
	frame, pace, off := line(marks, float64(m.rate))
	return Take{samples, frame, pace, off}, nil
}

// record appends samples.
func (m *Microphone) record(samples []float32) {
	m.mu.Lock()
	defer m.mu.Unlock()
	room := int(longest.Seconds()*float64(m.rate)) - len(m.samples)
	m.samples = append(m.samples, samples[:min(len(samples), max(room, 0))]...)
}

// mark notes that a sample was recorded at a time.
func (m *Microphone) mark(sample float64, at time.Time) {
	frame := m.heard(at)
	m.mu.Lock()
	defer m.mu.Unlock()
	m.marks = append(m.marks, sound{sample, frame})
}

// Plainly returns an error in words for dancers.
func Plainly(err error) string {
	var f *failure
	if errors.As(err, &f) {
		return f.plain
	}
	return err.Error()
}

// line fits a line to marks, and returns it with the standard deviation of its middle. In a few seconds
// the pace can't be told from 1.
func line(marks []sound, rate float64) (frame, pace, off float64) {
	const (
		enough = 10.0 // s
		stray  = 4    // spreads
	)
	pace = 1
	for range 3 { // the later rounds without stray marks
		var n, x, y float64
		for _, m := range marks {
			n, x, y = n+1, x+m.sample, y+m.frame
		}
		x, y = x/n, y/n
		var xx, xy float64
		for _, m := range marks {
			xx += (m.sample - x) * (m.sample - x)
			xy += (m.sample - x) * (m.frame - y)
		}
		if marks[len(marks)-1].sample-marks[0].sample > enough*rate {
			pace = min(max(xy/xx, 1-maxDrift), 1+maxDrift)
		}
		frame = y - pace*x
		sum := 0.0
		for _, m := range marks {
			d := m.frame - frame - pace*m.sample
			sum += d * d
		}
		spread := math.Sqrt(sum / n)
		off = spread / math.Sqrt(n)
		kept := slices.DeleteFunc(slices.Clone(marks), func(m sound) bool {
			return math.Abs(m.frame-frame-pace*m.sample) > stray*spread
		})
		if len(kept) < fewestMarks {
			break
		}
		marks = kept
	}
	return frame, pace, off
}
