package device

import (
	"context"
	"errors"
	"math"
	"sync"
	"sync/atomic"
	"time"

	"github.com/gopxl/beep/v2"
)

const (
	// retry is the pause between two attempts to find an output.
	retry = time.Second
	// loyalty is how long to wait for a lost output before a later way is tried: a sound server that
	// restarts must find the sound card free.
	loyalty = 5 * time.Second
	// apart is how far an output's position may be from the clock before the sound is realigned; the
	// clock follows smaller differences.
	apart = 0.060 // s
	// certain is how many positions in a row must be apart.
	certain = 3
	// mostAhead bounds how long before it is heard a frame counts as no longer alterable, whatever an
	// output says.
	mostAhead = 4 * time.Second
	// linger is how long after a Change nothing rests: at least [mostLate], so that all has been heard,
	// and long enough for another Change.
	linger = 2 * time.Second
	// waking is how long time stands still for an output to go on after a rest.
	waking = time.Second
	// leaving is how long Close waits for an output to end.
	leaving = time.Second
)

const keepsTime = ": sound is off, the screen keeps time"

// Line plays a source and knows which of its frames is heard.
//
// All methods may be called from any goroutine.
type Line struct {
	src     beep.StreamSeeker
	rate    int
	opt     Options
	clock   *clock
	status  atomic.Pointer[Status]
	changed chan struct{}

	// changing is held while deciding which frame can still be altered: by Change, and when an output
	// joins, is realigned or leaves.
	changing sync.Mutex
	joined   *feed // nil if nothing is heard
	latest   int64 // the last frame that Change passed on

	resting atomic.Bool   // the output and the clock stand still until the next Change; set by attend
	woke    atomic.Int64  // when the last rest ended, in Unix nanoseconds
	woken   chan struct{} // of capacity 1: a rest has ended

	stop    context.CancelFunc
	stopped chan struct{}
}

// Open plays src, at rate frames a second, from its frame 0, which is heard now: time runs from this
// moment on, and sound joins it when an output is found. From now on only the Line, or a function
// passed to Change, may seek or stream src.
//
// Open returns at once and does not fail; Status has what is wrong.
func Open(src beep.StreamSeeker, rate int, o Options) *Line {
	ways := outputs()
	if o.Silent {
		ways = nil
	}
	return open(src, rate, o, ways)
}

func open(src beep.StreamSeeker, rate int, o Options, ways []opener) *Line {
	ctx, stop := context.WithCancel(context.Background())
	l := &Line{
		src:     src,
		rate:    rate,
		opt:     o,
		clock:   newClock(rate, time.Now()),
		changed: make(chan struct{}, 1),
		woken:   make(chan struct{}, 1),
		stop:    stop,
		stopped: make(chan struct{}),
	}
	l.status.Store(&Status{Output: silent})
	go l.opt.guard(func() { l.supervise(ctx, ways) })
	return l
}

// Heard returns the frame of the source that is heard at t, which may lie a little in the future. For
// times that do not decrease, neither does the frame, unless Late changes, as when the sound moves to
// another device. It stands still while the Line rests. It does not block.
func (l *Line) Heard(t time.Time) float64 {
	return l.clock.ask(t.Add(-l.late()))
}

// The bounds of [Options].Late.
const (
	mostEarly = -200 * time.Millisecond
	mostLate  = time.Second
)

// late returns how much later than the output says the device is heard.
func (l *Line) late() time.Duration {
	if l.opt.Late == nil {
		return 0
	}
	return min(max(l.opt.Late(l.Status()), mostEarly), mostLate)
}

// Status says where the sound goes.
func (l *Line) Status() Status { return *l.status.Load() }

// Changed receives when the Status has changed since it was last received.
func (l *Line) Changed() <-chan struct{} { return l.changed }

// Change calls f with the first frame whose sound can still be altered: frames from there on are
// rendered after f has returned, even if they had been before. The frame is not before the one heard
// now, nor before that of an earlier Change. Calls wait for each other; f must be quick and must not
// call Change.
//
// It returns within a second even if the sound server hangs.
func (l *Line) Change(f func(frame int64)) {
	l.changing.Lock()
	defer l.changing.Unlock()
	if l.resting.Load() {
		l.woke.Store(time.Now().UnixNano())
		l.resting.Store(false)
		put(l.woken, struct{}{})
	}
	if j := l.joined; j != nil {
		err := j.out.hold(func(frame int64) {
			// An output that stands still is behind time.
			ahead := l.ahead()
			said := min(j.base+frame, ahead+int64(mostAhead.Seconds()*float64(l.rate)))
			l.latest = max(l.latest, said, ahead)
			f(l.latest)
		})
		if err == nil {
			return
		}
		l.joined = nil // it has ended
	}
	l.latest = max(l.latest, l.ahead())
	f(l.latest)
}

// ahead returns the first frame that time has not reached yet.
func (l *Line) ahead() int64 { return int64(math.Ceil(l.clock.at(time.Now()))) }

// Close stops the sound; Heard and Change go on in silence. An output that has not ended within a
// second is abandoned. It returns nil.
func (l *Line) Close() error {
	l.stop()
	select {
	case <-l.stopped:
	case <-time.After(leaving):
	}
	return nil
}

// supervise looks for an output, attends to it while it plays, and looks again when it is lost.
func (l *Line) supervise(ctx context.Context, ways []opener) {
	defer close(l.stopped)
	if len(ways) == 0 {
		return
	}
	s := search{ways: ways, again: make([]time.Time, len(ways))}
	for ctx.Err() == nil {
		pause := retry
		f := newFeed(l.src)
		name, err := s.open(ctx, f, l.rate, l.opt)
		if err == nil {
			begun := time.Now()
			if err = l.attend(ctx, f, name); time.Since(begun) > retry {
				pause = 0
			}
			s.lost(time.Now())
		}
		if ctx.Err() != nil {
			break
		}
		if err != errWaiting {
			l.report(Status{Output: silent, Problem: plainly(err) + keepsTime})
		}
		select {
		case <-ctx.Done():
		case <-time.After(pause):
		}
	}
	l.report(Status{Output: silent})
}

// search tries the ways to open an output, best first.
type search struct {
	ways  []opener
	again []time.Time // the time before which each way is not tried
	last  int         // the way that worked last
}

// open sets the output of f and returns the name of the way that worked. The error is from the best way
// tried, or errWaiting if none was.
func (s *search) open(ctx context.Context, f *feed, rate int, o Options) (name string, err error) {
	for i, w := range s.ways {
		if time.Now().Before(s.again[i]) {
			continue
		}
		out, e := w.open(ctx, f, rate, o)
		if e == nil {
			f.out, s.last = out, i
			return w.name, nil
		}
		s.again[i] = time.Now().Add(w.pause)
		if err == nil {
			err = e
		}
	}
	if err == nil {
		err = errWaiting
	}
	return "", err
}

// lost keeps later ways from being tried for a while.
func (s *search) lost(now time.Time) {
	for i := range s.ways {
		if i > s.last {
			s.again[i] = now.Add(loyalty)
		}
	}
}

// errWaiting says that it is too early to try any way.
var errWaiting = errors.New("waiting for a sound output")

// attend joins an output to the running time and keeps the two together until the output ends or ctx
// does. It returns why.
func (l *Line) attend(ctx context.Context, f *feed, name string) error {
	defer l.leave(f)
	quiet := time.NewTimer(asleep)
	defer quiet.Stop()
	now := Status{Output: name}
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-f.out.done():
			return f.out.err()
		case <-l.woken:
			quiet.Reset(waking)
			continue
		case <-quiet.C:
			if l.clock.stopped() { // the output does not go on after its rest
				l.clock.free(time.Now())
			}
			now.Sounding, now.Problem = false, "the sound output is asleep"+keepsTime
		case <-f.moved:
		case s := <-f.sightings:
			if !s.running || l.outdated(s) {
				continue
			}
			if err := l.follow(f, s); err != nil {
				return err
			}
			quiet.Reset(asleep)
			if l.rest(f) {
				quiet.Stop()
			}
			now.Sounding, now.Problem = true, ""
		}
		if now.Sounding || now.Problem != "" { // else it is not known yet
			now.Device = *f.device.Load()
			l.report(now)
		}
	}
}

// follow handles a position that the output reports.
func (l *Line) follow(f *feed, s sighting) error {
	if !f.joined {
		return l.align(f, s)
	}
	frame := float64(f.base) + s.frame
	if l.clock.stopped() || math.Abs(frame-l.clock.at(s.at)) <= apart*float64(l.rate) {
		f.strange = 0
		l.clock.observe(s.at, frame)
		return nil
	}
	// The output has stood still or skipped. The tempo must not shift, so the clock keeps running and
	// the sound is realigned to it.
	if f.strange++; f.strange < certain {
		return nil
	}
	return l.align(f, s)
}

// align chooses which frame of the source the output plays next, so that what is heard agrees with the
// clock.
func (l *Line) align(f *feed, s sighting) error {
	l.changing.Lock()
	defer l.changing.Unlock()
	f.strange = 0
	return f.out.hold(func(int64) {
		f.base = int64(math.Round(l.clock.at(s.at) - s.frame))
		f.joined = true
		l.joined = f
	})
}

// rest has an output and the clock stand still, if nothing is to be heard, and reports whether they do.
func (l *Line) rest(f *feed) bool {
	if l.opt.Silence == nil || !l.changing.TryLock() { // something changes just now
		return false
	}
	defer l.changing.Unlock()
	now := time.Now()
	heard := l.clock.at(now)
	if heard < float64(l.latest)+linger.Seconds()*float64(l.rate) || !l.opt.Silence(int64(heard)) || f.out.rest() != nil {
		return false
	}
	l.clock.stop(now)
	l.resting.Store(true)
	return true
}

// outdated reports whether a sighting is from before the end of the last rest.
func (l *Line) outdated(s sighting) bool {
	return l.resting.Load() || s.at.UnixNano() < l.woke.Load()
}

// leave ends an output and lets time run by itself.
func (l *Line) leave(f *feed) {
	f.out.close()
	l.changing.Lock()
	defer l.changing.Unlock()
	l.joined = nil
	l.resting.Store(false)
	l.clock.free(time.Now())
}

func (l *Line) report(s Status) {
	if *l.status.Load() == s {
		return
	}
	kept := s // so that only a change allocates
	l.status.Store(&kept)
	put(l.changed, struct{}{})
}

// plainly returns an error in a dancer's words.
func plainly(err error) string {
	var f *failure
	if errors.As(err, &f) {
		return f.plain
	}
	return "the sound output failed"
}
