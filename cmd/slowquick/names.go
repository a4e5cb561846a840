package main

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/speech"
	"dance.example/slowquick/audio/voice"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// sayer says a name. With a sound, the error is something else that went wrong.
type sayer func(ctx context.Context, name string) (audio.Sound, error)

// saying says names with the recordings of a voice, or else with a speech program, as
// loud as that voice.
func saying(v *voice.Voice, rate int) sayer {
	own := map[string]string{}
	for _, word := range v.Words() {
		own[routine.Key(word)] = word
	}
	speaker := speech.New(speechFolder(), rate, v.Loudness())
	return func(ctx context.Context, name string) (audio.Sound, error) {
		if word, ok := own[routine.Key(name)]; ok {
			sound, _, _ := v.Word(word)
			return sound, nil
		}
		return speaker.Say(ctx, name)
	}
}

// speechFolder is where names are kept that were spoken; "" for nowhere.
func speechFolder() string {
	dir, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "slowquick", "speech")
}

// figureNames are the names of the figures of a timeline, each once, in their order.
func figureNames(timeline *player.Timeline) (list []string) {
	for _, p := range timeline.Score.Passages {
		if name := p.Figure.Name; !slices.Contains(list, name) {
			list = append(list, name)
		}
	}
	return list
}

// complaints are the parts of an error of a sayer, as a dancer is told them.
func complaints(err error) (list []error) {
	var all interface{ Unwrap() []error }
	switch {
	case err == nil:
	case errors.As(err, &all):
		for _, e := range all.Unwrap() {
			list = append(list, complaints(e)...)
		}
	case errors.Is(err, speech.ErrNone):
		list = append(list, speech.ErrNone)
	default:
		list = append(list, fmt.Errorf("name the figures: %w", err))
	}
	return list
}

// once tells each complaint once.
type once struct {
	tell func(error)
	told map[string]bool
}

func tellingOnce(tell func(error)) once { return once{tell, map[string]bool{}} }

func (o once) complain(err error) {
	for _, e := range complaints(err) {
		if text := e.Error(); !o.told[text] {
			o.told[text] = true
			o.tell(e)
		}
	}
}

// names has the figures of what is on a stage named, as soon as a dancer wants to hear
// that. A goroutine of its own has them said, and the course gets what is ready.
type names struct {
	ctx     context.Context
	stop    context.CancelFunc
	say     func() sayer // nil in silence
	calling atomic.Bool  // whether figures are named
	guard   func(func()) // carries goroutines out

	mu      sync.Mutex
	once    once
	line    *player.Timeline  // that is danced
	to      *player.Transport // that dances it; nil for none
	calls   player.Calls      // that are ready; never written to, but replaced
	asked   map[string]bool
	waiting []string
	quiet   chan struct{} // closed when none is being said
}

func newNames(ctx context.Context, say func() sayer, calling bool, tell func(error), guard func(func())) *names {
	n := &names{say: say, guard: guard, once: tellingOnce(tell), asked: map[string]bool{}, quiet: make(chan struct{})}
	n.ctx, n.stop = context.WithCancel(ctx)
	n.calling.Store(calling)
	close(n.quiet)
	return n
}

// close ends what is being said, and waits for that.
func (n *names) close() {
	n.stop()
	n.leave()
	n.mu.Lock()
	quiet := n.quiet
	n.mu.Unlock()
	<-quiet
}

// leave ends that a transport gets names: it may be closed then.
func (n *names) leave() {
	n.mu.Lock()
	defer n.mu.Unlock()
	n.to = nil
}

// serve lets a transport that dances a timeline have its names.
func (n *names) serve(t *player.Transport, timeline *player.Timeline) {
	n.mu.Lock()
	n.to = t
	if len(n.calls) > 0 {
		t.Name(n.calls)
	}
	n.mu.Unlock()
	n.dances(timeline)
}

// dances has the figures of a timeline named, if figures are.
func (n *names) dances(timeline *player.Timeline) {
	n.mu.Lock()
	defer n.mu.Unlock()
	n.line = timeline
	if n.calling.Load() {
		n.ask()
	}
}

// set names figures, or does not. It waits for nothing, as it is called while sound
// is altered.
func (n *names) set(calling bool) {
	if n.calling.Swap(calling) || !calling {
		return
	}
	go n.guard(func() {
		n.mu.Lock()
		defer n.mu.Unlock()
		n.ask()
	})
}

// ask has the names said that have not been asked for.
func (n *names) ask() {
	if n.say == nil || n.line == nil || n.ctx.Err() != nil {
		return
	}
	idle := len(n.waiting) == 0
	for _, name := range figureNames(n.line) {
		if !n.asked[name] {
			n.asked[name] = true
			n.waiting = append(n.waiting, name)
		}
	}
	if idle && len(n.waiting) > 0 {
		n.quiet = make(chan struct{})
		quiet := n.quiet
		go n.guard(func() { n.work(quiet) })
	}
}

// often is how long names are gathered before the course gets them.
const often = 200 * time.Millisecond

// work says what is waiting.
func (n *names) work(quiet chan struct{}) {
	defer close(quiet)
	say := n.say()
	ready, given := player.Calls{}, time.Now()
	for more := true; more; {
		n.mu.Lock()
		name := n.waiting[0]
		n.mu.Unlock()
		sound, err := say(n.ctx, name)
		n.mu.Lock()
		if n.ctx.Err() == nil {
			n.once.complain(err)
		}
		if sound != nil {
			ready[name] = sound
		}
		n.waiting = n.waiting[1:]
		if more = len(n.waiting) > 0 && n.ctx.Err() == nil; !more || time.Since(given) > often {
			n.give(ready)
			ready, given = player.Calls{}, time.Now()
		}
		n.mu.Unlock()
	}
}

// give lets the course name figures that are ready.
func (n *names) give(ready player.Calls) {
	if len(ready) == 0 {
		return
	}
	all := maps.Clone(ready)
	maps.Copy(all, n.calls)
	n.calls = all
	if n.to != nil {
		n.to.Name(all)
	}
}

// settle waits for a while until the names are ready.
func (n *names) settle(ctx context.Context) {
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	n.mu.Lock()
	quiet := n.quiet
	n.mu.Unlock()
	select {
	case <-quiet:
	case <-ctx.Done():
	}
}

// naming is a transport whose figures are named.
type naming struct {
	*player.Transport
	names *names
}

// Set has names said when they are wanted.
func (t naming) Set(f func(player.Moment) player.Settings) {
	t.Transport.Set(func(m player.Moment) player.Settings {
		s := f(m)
		t.names.set(s.Call)
		return s
	})
}

// Replace has the figures of the new timeline named as well.
func (t naming) Replace(timeline *player.Timeline) {
	t.Transport.Replace(timeline)
	t.names.dances(timeline)
}

// callsOf has all figures of a timeline named, and tells what goes wrong.
func (a *app) callsOf(ctx context.Context, timeline *player.Timeline, say sayer) player.Calls {
	calls := player.Calls{}
	warn := tellingOnce(a.warn)
	for _, name := range figureNames(timeline) {
		sound, err := say(ctx, name)
		warn.complain(err)
		if sound != nil {
			calls[name] = sound
		}
	}
	return calls
}
