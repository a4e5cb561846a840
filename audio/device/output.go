package device

import (
	"context"
	"errors"
	"sync"
	"sync/atomic"
	"time"
)

// opener is a way to open an output. Open may take a few seconds, until ctx ends.
type opener struct {
	name  string
	open  func(ctx context.Context, f *feed, rate int, o Options) (output, error)
	pause time.Duration // between attempts, at least
}

// asleep is the time without sound after which an output counts as asleep.
const asleep = 300 * time.Millisecond

// ending is how an output ends: once, and the first cause counts.
type ending struct {
	context.Context // of all that the output does
	end             context.CancelCauseFunc
	tasks           sync.WaitGroup
}

func newEnding() *ending {
	ctx, end := context.WithCancelCause(context.Background())
	return &ending{Context: ctx, end: end}
}

func (e *ending) done() <-chan struct{} { return e.Done() }

func (e *ending) err() error { return context.Cause(e) }

func (e *ending) close() {
	e.end(errClosed)
	e.tasks.Wait()
}

// errClosed is the cause of an output that was closed on purpose.
var errClosed = errors.New("closed")

// forward is an output that can't drop what it has rendered.
type forward struct {
	*ending
	feed      *feed
	rendering sync.Mutex
	written   int64         // the frame to be rendered next
	resting   atomic.Bool   // changed while rendering is held
	woken     chan struct{} // of capacity 1: it rests no more
}

func newForward(f *feed) forward {
	return forward{ending: newEnding(), feed: f, woken: make(chan struct{}, 1)}
}

// render fills buf and returns the frame after it. It is not ok once the output has ended.
func (o *forward) render(buf []byte) (written int64, ok bool) {
	o.rendering.Lock()
	defer o.rendering.Unlock()
	if o.Err() != nil {
		return 0, false
	}
	o.feed.fill(buf, o.written)
	o.written += int64(len(buf) / frameBytes)
	return o.written, true
}

func (o *forward) hold(f func(frame int64)) error {
	o.rendering.Lock()
	defer o.rendering.Unlock()
	if err := o.err(); err != nil {
		return err
	}
	f(o.written)
	if o.resting.Swap(false) {
		put(o.woken, struct{}{})
	}
	return nil
}

func (o *forward) rest() error {
	o.rendering.Lock()
	defer o.rendering.Unlock()
	o.resting.Store(true)
	return o.err()
}

// sleep waits until it rests no more, and reports whether it has waited. It is not ok once the output
// has ended.
func (o *forward) sleep() (waited, ok bool) {
	for o.resting.Load() {
		waited = true
		select {
		case <-o.Done():
			return waited, false
		case <-o.woken:
		}
	}
	return waited, true
}
