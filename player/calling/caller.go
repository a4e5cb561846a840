package calling

import (
	"context"
	"maps"
	"sync"
	"sync/atomic"
	"time"

	"dance.example/slowquick/player"
)

// Caller has the names of the figures spoken in a goroutine of its own, once a dancer wants to
// hear them, and hands those that are ready to the transport. Its methods may be called from any
// goroutine.
type Caller struct {
	ctx     context.Context
	stop    context.CancelFunc
	say     func() Sayer // nil in silence
	calling atomic.Bool  // whether names are wanted
	guard   func(func()) // runs goroutines

	mu      sync.Mutex
	once    once
	line    *player.Timeline  // what is danced
	to      *player.Transport // what dances it; nil for nothing
	calls   player.Calls      // the names that are ready; replaced, never written to
	asked   map[string]bool
	waiting []string
	quiet   chan struct{} // closed while nothing is being said
}

// NewCaller returns a caller that says names until ctx ends or it is closed. Say is called
// once there is a name to say; it is nil in silence. Calling is whether names are wanted from
// the start. Tell is called once for each thing that goes wrong, and guard runs each goroutine.
func NewCaller(ctx context.Context, say func() Sayer, calling bool, tell func(error), guard func(func())) *Caller {
	c := &Caller{say: say, guard: guard, once: tellingOnce(tell), asked: map[string]bool{}, quiet: make(chan struct{})}
	c.ctx, c.stop = context.WithCancel(ctx)
	c.calling.Store(calling)
	close(c.quiet)
	return c
}

// Close stops what is being said, and returns once it has stopped.
func (c *Caller) Close() {
	c.stop()
	c.Leave()
	c.mu.Lock()
	quiet := c.quiet
	c.mu.Unlock()
	<-quiet
}

// Leave stops handing names to the transport, so that it may be closed.
func (c *Caller) Leave() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.to = nil
}

// Serve hands names to a transport from now on. It returns that transport as it is to be used:
// one that tells the caller what is danced and whether names are wanted.
func (c *Caller) Serve(t *player.Transport, timeline *player.Timeline) Transport {
	c.mu.Lock()
	c.to = t
	if len(c.calls) > 0 {
		t.Name(c.calls)
	}
	c.mu.Unlock()
	c.dances(timeline)
	return Transport{t, c}
}

// Calling reports whether names are wanted.
func (c *Caller) Calling() bool { return c.calling.Load() }

// Settle waits until nothing is being said, or ctx ends.
func (c *Caller) Settle(ctx context.Context) {
	c.mu.Lock()
	quiet := c.quiet
	c.mu.Unlock()
	select {
	case <-quiet:
	case <-ctx.Done():
	}
}

// dances takes note of the timeline that is danced.
func (c *Caller) dances(timeline *player.Timeline) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.line = timeline
	if c.calling.Load() {
		c.ask()
	}
}

// set takes note of whether names are wanted. It doesn't take the lock itself, as it is called
// while the sound is being changed.
func (c *Caller) set(calling bool) {
	if c.calling.Swap(calling) || !calling {
		return
	}
	go c.guard(func() {
		c.mu.Lock()
		defer c.mu.Unlock()
		c.ask()
	})
}

// ask queues the names that have not been asked for yet. The caller holds mu.
func (c *Caller) ask() {
	if c.say == nil || c.line == nil || c.ctx.Err() != nil {
		return
	}
	idle := len(c.waiting) == 0
	for _, name := range figureNames(c.line) {
		if !c.asked[name] {
			c.asked[name] = true
			c.waiting = append(c.waiting, name)
		}
	}
	if idle && len(c.waiting) > 0 {
		c.quiet = make(chan struct{})
		quiet := c.quiet
		go c.guard(func() { c.work(quiet) })
	}
}

// often is how long names are gathered before the transport gets them.
const often = 200 * time.Millisecond

// work says the names that wait, and closes quiet when there are no more.
func (c *Caller) work(quiet chan struct{}) {
	defer close(quiet)
	say := c.say()
	ready, given := player.Calls{}, time.Now()
	for more := true; more; {
		c.mu.Lock()
		name := c.waiting[0]
		c.mu.Unlock()
		sound, err := say(c.ctx, name)
		c.mu.Lock()
		if c.ctx.Err() == nil {
			c.once.complain(err)
		}
		if sound != nil {
			ready[name] = sound
		}
		c.waiting = c.waiting[1:]
		if more = len(c.waiting) > 0 && c.ctx.Err() == nil; !more || time.Since(given) > often {
			c.give(ready)
			ready, given = player.Calls{}, time.Now()
		}
		c.mu.Unlock()
	}
}

// give adds names to those the transport has. The caller holds mu.
func (c *Caller) give(ready player.Calls) {
	if len(ready) == 0 {
		return
	}
	all := maps.Clone(ready)
	maps.Copy(all, c.calls)
	c.calls = all
	if c.to != nil {
		c.to.Name(all)
	}
}

// Transport is a transport whose figures are named.
type Transport struct {
	*player.Transport
	caller *Caller
}

// Set is like [player.Transport.Set], and has names spoken once they are wanted.
func (t Transport) Set(f func(player.Moment) player.Settings) {
	t.Transport.Set(func(m player.Moment) player.Settings {
		s := f(m)
		t.caller.set(s.Call)
		return s
	})
}

// Replace is like [player.Transport.Replace], and has the names in the new timeline spoken.
func (t Transport) Replace(timeline *player.Timeline) {
	t.Transport.Replace(timeline)
	t.caller.dances(timeline)
}
