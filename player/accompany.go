package player

import (
	"math"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"dance.example/slowquick/audio/music/timestretch"
)

// How a song fades, in seconds.
const (
	before  = 0.05  // planning starts this long before a part
	fadeIn  = 0.003 // after a change that jumps; short, as it may land on an attack
	fadeOut = 0.010 // also the cross-fade at a change that does not jump
	jump    = 0.015 // how long before a jump that is known ahead the cross-fade starts
	dying   = 1.5   // at the end of the routine
)

// How far ahead a song is planned, in seconds.
const (
	atOnce  = 0.25 // before a change takes effect
	ahead   = 20.0
	refresh = 2.0 // time between two rounds of planning
	surely  = 0.5 // before a late part joins
)

// part is a playback with its stretched sound.
type part struct {
	playback
	goesOn bool  // continues the song where the part before was cut; the two cross-fade
	base   int64 // the frame of the course that is frame 0 of sound
	sound  *timestretch.Stretched
	joins  *atomic.Int64 // the frame from which it is heard, or one of the values below
}

// Values of part.joins that are not frames.
const (
	inTime  = math.MinInt64 / 4 // planned in time
	waiting = math.MaxInt64     // late, and not ready to join yet
)

// Accompaniment plays the song that a course is danced to. It is an [audio.Track].
//
// Once a frame is planned, what plays on it depends on the course alone. A goroutine
// plans ahead of what is heard. If it falls behind, the song is silent until it has
// caught up.
type Accompaniment struct {
	rate    float64
	parts   atomic.Pointer[[]part] // in order
	reached atomic.Int64           // the frame after the last one rendered
	scratch [][2]float64           // used by Add only

	mu      sync.Mutex // guards what follows; never taken by Add
	course  *Course
	changed int64 // the frame of the last change

	wake chan struct{}
}

// NewAccompaniment returns the accompaniment of a course, with nothing planned yet.
func NewAccompaniment(c *Course) *Accompaniment {
	a := &Accompaniment{rate: c.rate, scratch: make([][2]float64, 1024), course: c, wake: make(chan struct{}, 1)}
	a.parts.Store(&[]part{})
	return a
}

func (a *Accompaniment) frames(seconds float64) int64 { return int64(seconds * a.rate) }

// Follow switches to course c, which must equal the current one before frame. Parts that
// both courses share stay planned. It plans the first quarter of a second from frame on
// before it returns.
func (a *Accompaniment) Follow(c *Course, frame int64) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.course, a.changed = c, frame
	a.arrange(frame, frame+a.frames(ahead))
	for _, p := range *a.parts.Load() {
		if p.from <= frame && frame < p.to {
			p.sound.Plan(frame + a.frames(atOnce) - p.base)
		}
	}
	select {
	case a.wake <- struct{}{}:
	default:
	}
}

// Plan plans the song in [from, to), and returns when that is done.
func (a *Accompaniment) Plan(from, to int64) {
	a.mu.Lock()
	a.arrange(from, to)
	parts := *a.parts.Load()
	a.mu.Unlock()
	for i := range parts {
		a.plan(&parts[i], to, nil)
	}
}

// plan plans a part up to frame to of the course, or to the part's end. It works in small
// steps, so that a change need not wait, and stops when done is closed.
func (a *Accompaniment) plan(p *part, to int64, done <-chan struct{}) {
	if p.rises(a) >= to {
		return
	}
	to = min(to, p.ends(a)+a.frames(surely)) - p.base
	for step := a.frames(atOnce); p.sound.Planned() < to; {
		select {
		case <-done:
			return
		default:
		}
		if p.sound.Plan(min(to, p.sound.Planned()+step)) {
			return
		}
	}
}

// Work plans ahead of what is heard until done is closed.
func (a *Accompaniment) Work(done <-chan struct{}) {
	tick := time.NewTimer(0)
	defer tick.Stop()
	for {
		select {
		case <-done:
			return
		case <-a.wake:
		case <-tick.C:
		}
		a.mu.Lock()
		now := max(a.reached.Load(), a.changed)
		a.arrange(now, now+a.frames(ahead))
		course, parts := a.course, *a.parts.Load()
		a.mu.Unlock()
		for i := range parts {
			a.plan(&parts[i], now+a.frames(ahead), done)
		}
		if len(parts) > 0 && !course.Silent(now) {
			tick.Reset(time.Duration(refresh * float64(time.Second)))
		}
	}
}

// arrange makes a part for each playback of the course in [from, to). Parts that the course
// no longer has end at from; nothing before that changes.
func (a *Accompaniment) arrange(from, to int64) {
	old := *a.parts.Load()
	playbacks := a.course.playbacks(from-a.frames(dying), to+a.frames(jump))
	var list []part
	taken := make([]bool, len(playbacks))
	for i := range old {
		p := old[i]
		if p.ends(a) < from-a.frames(kept) {
			continue
		}
		next := -1
		for k := range playbacks {
			if r := &playbacks[k]; !taken[k] && r.from <= p.to && p.from < r.to && p.same(r) {
				next = k
			}
		}
		switch {
		case next >= 0:
			r := &playbacks[next]
			taken[next] = true
			p.to, p.cut, p.over = r.to, r.cut, r.over
		case p.from >= from:
			continue
		case p.to > from: // the course no longer has it
			p.to, p.cut, p.over = from, true, false
		}
		list = append(list, p)
	}
	for k := range playbacks {
		if r := &playbacks[k]; !taken[k] && r.to > from {
			if p, ok := a.part(r, from); ok {
				p.goesOn = slices.ContainsFunc(list, func(old part) bool {
					return old.cut && old.to == p.from && old.continues(r, p.from)
				})
				list = append(list, p)
			}
		}
	}
	a.parts.Store(&list)
}

// part returns the part for a playback, starting at now if that began earlier. It reports
// false if there is nothing to play.
func (a *Accompaniment) part(r *playback, now int64) (part, bool) {
	p := part{playback: *r, base: r.from - a.frames(before), joins: new(atomic.Int64)}
	p.joins.Store(inTime)
	if r.sharp { // it reads on from where the part before is
		p.base = r.from
	}
	if late := now - a.frames(1); p.base < late { // the past need not be planned
		p.base = late
	}
	first := timestretch.Anchor{In: int64(math.Round(r.at(p.base)))}
	if first.In < 0 {
		first = timestretch.Anchor{Out: int64(math.Ceil(-r.at(p.base) / r.speed))}
	}
	if p.base+first.Out >= p.ends(a) || first.In >= r.song.Len() {
		return part{}, false
	}
	var err error
	if p.sound, err = r.song.Stretch(r.anchors(first, p.base)); err != nil {
		return part{}, false
	}
	if a.reached.Load() > r.from+a.frames(fadeIn) {
		p.joins.Store(waiting)
	}
	return p, true
}

// besideStep is how long, in seconds, the song keeps its own speed before and after each
// place where a step falls, so that the attack there is not stretched. The attack lies a
// little before or after the beat that was found.
const besideStep = 0.015

// beforeStep is the distance, in seconds, below which a part that begins before such a
// place plays up to it at the song's own speed: there is too little in between to slow.
const beforeStep = 0.1

// anchors returns the tempo of a playback's sound: anchors around the places where steps fall,
// on the beats and between them, starting with first. It goes on past the end, as the playback
// may still grow longer. The last anchor leaves the speed at 1.
func (r *playback) anchors(first timestretch.Anchor, base int64) timestretch.Tempo {
	rate := float64(r.song.Rate())
	at := func(in float64) timestretch.Anchor {
		return timestretch.Anchor{In: int64(math.Round(in)), Out: int64(math.Round((in-r.in)/r.speed)) + r.from - base}
	}
	out := timestretch.Tempo{first}
	for i := range r.tempo {
		beat := &r.tempo[i]
		beside := int64(min(besideStep, beat.perBeat*r.places.apart()/8) * rate)
		for _, part := range r.places {
			a, last := at((beat.begins+part*beat.perBeat)*rate), out[len(out)-1]
			ahead := a.Out - first.Out
			switch {
			case len(out) == 1 && ahead > 0 && ahead < int64(beforeStep*rate) && a.In >= ahead:
				out = timestretch.Tempo{{In: a.In - ahead, Out: first.Out}, a}
			case a.In-last.In > 3*beside && a.Out-last.Out > 3*beside:
				out = append(out, timestretch.Anchor{In: a.In - beside, Out: a.Out - beside}, timestretch.Anchor{In: a.In + beside, Out: a.Out + beside})
			}
		}
	}
	return append(out, at(float64(out[len(out)-1].In)+rate))
}

// ends returns the frame by which a part has fallen silent.
func (p *part) ends(a *Accompaniment) int64 {
	switch {
	case p.over:
		return p.to + a.frames(dying)
	case p.cut:
		return p.to + a.frames(fadeOut)
	}
	return p.to - a.frames(jump) + a.frames(fadeOut)
}

// Add mixes the song into out, which starts at frame at. Only the audio thread calls it.
func (a *Accompaniment) Add(out [][2]float64, at int64) {
	parts := *a.parts.Load()
	end := at + int64(len(out))
	for i := range parts {
		p := &parts[i]
		from, to := max(at, p.rises(a)), min(end, p.ends(a))
		if p.sharp {
			from = max(from, p.from)
		}
		for from < to {
			n := min(to-from, int64(len(a.scratch)))
			p.add(a, out[from-at:from-at+n], from)
			from += n
		}
	}
	a.reached.Store(end)
}

// Silent reports whether the song, as it is planned, is over on a frame.
func (a *Accompaniment) Silent(from int64) bool {
	for _, p := range *a.parts.Load() {
		if p.ends(a) > from {
			return false
		}
	}
	return true
}

// rises returns the frame on which a part begins to fade in, unless it joins late.
func (p *part) rises(a *Accompaniment) int64 {
	if p.sharp {
		return p.from
	}
	return p.from - a.frames(jump)
}

// add mixes a part into out, all of which must lie between its rise and its end.
func (p *part) add(a *Accompaniment, out [][2]float64, at int64) {
	n := int64(len(out))
	joins, done := p.joins.Load(), p.sound.Planned()+p.base
	leaves := int64(waiting)
	switch ready := at + n + a.frames(fadeOut); {
	case p.sound.Planned() >= p.sound.End(): // all is planned
		done = waiting
	case joins != waiting && done < ready: // the planning has fallen behind
		leaves = at
		p.joins.Store(waiting)
	}
	if joins == waiting {
		if done < at+n+a.frames(surely) {
			return
		}
		joins = at
		p.joins.Store(at)
	}
	buf := a.scratch[:n]
	p.sound.Render(buf, at-p.base)
	in, rise := p.rises(a), a.frames(fadeOut)
	if p.sharp && !p.goesOn {
		rise = a.frames(fadeIn)
	}
	fall, length := p.ends(a)-a.frames(fadeOut), a.frames(fadeOut)
	if p.over {
		fall, length = p.to, a.frames(dying)
	}
	for i := range buf {
		f := at + int64(i)
		g := ramp(f-in, rise) * ramp(f-joins, a.frames(fadeOut)) * (1 - ramp(f-fall, length))
		if f >= leaves {
			g *= 1 - ramp(f-leaves, a.frames(fadeOut))
		}
		out[i][0] += buf[i][0] * g
		out[i][1] += buf[i][1] * g
	}
}

// ramp returns how far a fade of length frames has come after some of them, 0 to 1.
func ramp(after, length int64) float64 {
	switch {
	case after >= length:
		return 1
	case after <= 0:
		return 0
	}
	return float64(after) / float64(length)
}
