package device

import (
	"context"
	"encoding/binary"
	"errors"
	"math"
	"slices"
	"sync"
	"time"
)

// loudspeaker is an output that exists only in time. It plays one frame after the other at its own
// rate, has its feed rendered some frames ahead, and keeps what was heard.
type loudspeaker struct {
	feed    *feed
	rate    int
	fast    float64       // how much faster than rate it plays, as a fraction
	ahead   int64         // frames rendered before they are heard
	rewinds bool          // whether it can drop what is queued
	noise   func() int64  // error of the positions it reports, in frames
	hangs   time.Duration // how long hold takes, without an answer
	begun   time.Time
	device  Device // that it starts on

	mu      sync.Mutex
	still   bool // suspended, or rests
	dead    bool // does not wake from a rest
	resting bool
	rests   int     // how often it was to rest
	pos     float64 // the frame to be heard next
	last    time.Time
	next    int64           // the frame to be rendered next
	queue   map[int64]heard // rendered but not yet heard
	played  []moment

	*ending
}

// heard is one frame of a counter, left and right.
type heard struct{ left, right float32 }

// frame returns which frame of a counter it is; 0 for silence.
func (h heard) frame() int64 { return int64(math.Round(float64(h.right) * frameUnit)) }

// marks returns how many marks had passed.
func (h heard) marks() int { return int(math.Round(float64(h.left) * markUnit)) }

// moment is a frame and when it was heard.
type moment struct {
	at time.Time
	heard
}

func (s *loudspeaker) start(f *feed) {
	s.feed, s.queue = f, map[int64]heard{}
	s.begun, s.last = time.Now(), time.Now()
	s.ending = newEnding()
	f.plays(s.device)
	s.tasks.Go(s.run)
}

func (s *loudspeaker) run() {
	tick := time.NewTicker(10 * time.Millisecond)
	defer tick.Stop()
	for n := 0; ; n++ {
		s.mu.Lock()
		s.play(time.Now())
		for s.next < int64(s.pos)+s.ahead {
			s.render()
		}
		at, pos, still := s.last, s.pos, s.still
		if s.noise != nil {
			pos += float64(s.noise())
		}
		s.mu.Unlock()
		if n%5 == 4 {
			s.feed.observe(at, pos, !still)
		}
		select {
		case <-s.Done():
			return
		case <-tick.C:
		}
	}
}

// play hears everything up to now.
func (s *loudspeaker) play(now time.Time) {
	if !s.still {
		pace := float64(s.rate) * (1 + s.fast)
		until := s.pos + now.Sub(s.last).Seconds()*pace
		for f := int64(math.Ceil(s.pos)); float64(f) < until; f++ {
			at := s.last.Add(time.Duration((float64(f) - s.pos) / pace * 1e9))
			s.played = append(s.played, moment{at, s.queue[f]})
			delete(s.queue, f)
		}
		s.pos = until
	}
	s.last = now
}

// render takes 32 frames.
func (s *loudspeaker) render() {
	var raw [32 * frameBytes]byte
	s.feed.fill(raw[:], s.next)
	for i := range int64(32) {
		s.queue[s.next+i] = heard{
			math.Float32frombits(binary.LittleEndian.Uint32(raw[i*frameBytes:])),
			math.Float32frombits(binary.LittleEndian.Uint32(raw[i*frameBytes+4:])),
		}
	}
	s.next += 32
}

func (s *loudspeaker) hold(f func(int64)) error {
	if s.hangs > 0 {
		select {
		case <-time.After(s.hangs):
			s.end(errors.New("hangs"))
		case <-s.Done():
		}
	}
	if err := s.err(); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.rewinds {
		s.play(time.Now())
		s.next = min(s.next, int64(math.Ceil(s.pos))+100)
	}
	f(s.next)
	if s.resting && !s.dead {
		s.play(time.Now())
		s.still, s.resting = false, false
	}
	return nil
}

func (s *loudspeaker) rest() error {
	if err := s.err(); err != nil {
		return err
	}
	s.suspend(true)
	s.mu.Lock()
	defer s.mu.Unlock()
	s.resting = true
	s.rests++
	return nil
}

// rested returns how often it was to rest.
func (s *loudspeaker) rested() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.rests
}

// suspend stops it, or lets it go on.
func (s *loudspeaker) suspend(still bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.play(time.Now())
	s.still = still
}

// skip moves its position, as a longer or shorter way to the ear does.
func (s *loudspeaker) skip(frames float64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.play(time.Now())
	s.pos += frames
}

// heardSince returns what was heard from a time on.
func (s *loudspeaker) heardSince(t time.Time) []moment {
	s.mu.Lock()
	defer s.mu.Unlock()
	i, _ := slices.BinarySearchFunc(s.played, t, func(m moment, t time.Time) int { return m.at.Compare(t) })
	return slices.Clone(s.played[i:])
}

// shop hands out loudspeakers, one per opening; nil stands for a failure.
type shop struct {
	name   string
	mu     sync.Mutex
	stock  []*loudspeaker
	opened []time.Time // the times of the attempts
	delay  time.Duration
	pause  time.Duration
}

var errSoldOut = &failure{plain: "no sound server found"}

func (s *shop) opener() opener {
	return opener{name: s.name, pause: s.pause, open: func(ctx context.Context, f *feed, rate int, o Options) (output, error) {
		select {
		case <-time.After(s.delay):
		case <-ctx.Done():
			return nil, ctx.Err()
		}
		s.mu.Lock()
		defer s.mu.Unlock()
		s.opened = append(s.opened, time.Now())
		if len(s.stock) == 0 {
			return nil, errSoldOut
		}
		out := s.stock[0]
		s.stock = s.stock[1:]
		if out == nil {
			return nil, errSoldOut
		}
		out.start(f)
		return out, nil
	}}
}

// add puts loudspeakers in stock.
func (s *shop) add(l ...*loudspeaker) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.stock = append(s.stock, l...)
}

func (s *shop) asked() []time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.opened)
}
