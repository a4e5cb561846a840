package player

import (
	"math"
	"sort"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/routine"
)

// Settings is how a routine is danced. The zero value is not useful; see
// [DefaultSettings].
type Settings struct {
	Percent float64       // of the timeline's own tempo, without a ladder
	Tempo   routine.Tempo // in place of its own tempo, whatever leads; 0 for Percent of it
	LeadIn  int           // bars counted before the first step, 0–4
	Repeat  Stretch       // danced again and again; empty for none
	Rest    int           // bars counted between two passes, 0–4
	Ladder  Ladder        // zero for none

	Count     routine.CountStyle // how the voice counts; StyleUnset as the sheet says
	FeetApart bool               // left feet are heard left, right ones right
	Call      bool               // the next figure is named aloud before it begins
	Quiet     bool               // only the song is heard
}

// DefaultSettings is full tempo after one bar of lead-in.
func DefaultSettings() Settings { return Settings{Percent: 100, LeadIn: 1} }

// The tempi that may be asked for, in per cent of the routine's own.
const (
	SlowestPercent = 10.0
	FastestPercent = 200.0
)

// MostLeadIn is how many bars are counted at the most before the first step, and before
// each pass.
const MostLeadIn = 4

// LeadInLength is how long is counted before the first step, in a metre.
func (s *Settings) LeadInLength(m routine.Metre) routine.Beats { return counted(s.LeadIn, m) }

// RestLength is how long is counted between two passes, in a metre.
func (s *Settings) RestLength(m routine.Metre) routine.Beats { return counted(s.Rest, m) }

func counted(bars int, m routine.Metre) routine.Beats {
	return routine.Beats(min(max(bars, 0), MostLeadIn)) * m.Bar()
}

// percent is the tempo of a pass through a timeline, counted from 0.
func (s *Settings) percent(line *Timeline, pass int) float64 {
	return min(max(s.asked(line, pass), line.slowest()), line.fastest())
}

// asked is percent as it is asked for, also if that can't be danced.
func (s *Settings) asked(line *Timeline, pass int) float64 {
	switch {
	case s.Ladder != (Ladder{}):
		return s.Ladder.percent(pass)
	case s.Tempo > 0:
		return s.Tempo.Float() / line.OwnTempo().Float() * 100
	}
	return s.Percent
}

// At gives settings with a constant tempo, as [Timeline.ParseTempo] reads it.
func (s Settings) At(percent float64, tempo routine.Tempo) Settings {
	s.Percent, s.Tempo, s.Ladder = percent, tempo, Ladder{}
	return s
}

// settled is the pass from which the tempo stays as it is.
func (s *Settings) settled(pass int) int {
	if s.Ladder == (Ladder{}) {
		return pass
	}
	return s.Ladder.settled(pass)
}

// State is what the couple does.
type State uint8

// The states.
const (
	Holding State = iota // stands still
	LeadIn               // hears the counts before the first step
	Dancing
	Finished // has danced the last step
)

// Moment is where the couple is on one frame.
type Moment struct {
	State    State
	Timeline *Timeline
	Beat     routine.Beats // the place in the timeline
	Begins   routine.Beats // where the first step is: after the lead-in, or if the couple that stands is started
	Event    int           // the event that lasts; -1 before the first
	Pass     int           // times through the part that is repeated, from 0
	Percent  float64
	Tempo    routine.Tempo
	Settings Settings
}

// Course says, for every frame, where in a routine the couple is and what
// sounds. It is immutable: a change gives a new course that is the same up to
// the frame of the change.
type Course struct {
	rate   float64
	sounds Sounds
	legs   []leg // in order of from
}

// leg is a part of a course that is danced, or stood through, at one go.
type leg struct {
	from  float64 // the frame on which it begins
	cut   float64 // the frame from which it is not heard any more
	state State
	line  *Timeline
	set   Settings

	tempo  tempoMap
	origin float64       // second of tempo at from; of a leg that stands, the one it stands at
	first  routine.Beats // the first beat that may sound in it
	last   routine.Beats // the beat before which it ends, the first time through
	breath bool          // a lead-in before whose first beat the voice takes breath: it is at that beat already
	since  routine.Beats // of a leg that dances, the first beat that was heard without a break
	called heardCall     // as the leg begins
	calls  Calls
	repeat Stretch // what follows then; empty if the leg ends
	again  Stretch // what follows the leg in one of its own; empty if nothing is danced then
	pass   int     // pass at from
	strike bool    // standing, sounds the event it stands on
}

// NewCourse stands at the start of a timeline.
func NewCourse(rate int, sounds Sounds, line *Timeline, set Settings) *Course {
	c := &Course{rate: float64(rate), sounds: sounds}
	c.legs = []leg{still(0, line, line.Start, set, Holding)}
	return c
}

// WithCalls gives the course that goes on, and names figures so from a frame on.
func (c *Course) WithCalls(frame int64, calls Calls) *Course {
	known := *c
	known.sounds.Calls = calls
	return known.With(frame, c.At(float64(frame)).Settings)
}

func still(from float64, line *Timeline, beat routine.Beats, set Settings, state State) leg {
	return leg{from: from, cut: math.Inf(1), state: state, line: line, set: set, tempo: line.tempo,
		origin: line.tempo.seconds(beat), first: beat, last: beat}
}

// nearest is the frame on which something is heard whose exact place lies
// between two: half a frame goes up, also if it comes out a hair less.
func nearest(frame float64) float64 { return math.Floor(frame + 0.5 + 1e-6) }

// legAt is the leg that is heard on a frame.
func (c *Course) legAt(frame float64) *leg {
	i := sort.Search(len(c.legs), func(i int) bool { return nearest(c.legs[i].from) > frame })
	return &c.legs[max(i-1, 0)]
}

// At is where the couple is on a frame. An event lasts from the frame on which
// it is heard.
func (c *Course) At(frame float64) Moment {
	l := c.legAt(frame)
	m := Moment{State: l.state, Timeline: l.line, Pass: l.pass, Settings: l.set, Beat: l.first}
	if !l.standing() {
		k := l.passAt(c.rate, frame)
		m.Pass += k
		switch m.Beat = min(l.beat(c.rate, k, frame), l.end(k)-1); {
		case l.breath:
			m.Beat = max(m.Beat, l.first)
		case l.resting(c.rate, k, frame):
			m.State = LeadIn
			m.Beat = min(m.Beat, l.repeat.From-1)
		case l.state == Dancing:
			if k > 0 {
				m.Beat = max(m.Beat, l.repeat.From)
			}
			m.Beat = l.within(c.rate, k, frame, m.Beat)
		}
	}
	switch {
	case l.state == LeadIn:
		m.Event, m.Begins = -1, l.last
	case m.State == LeadIn:
		m.Event, m.Begins = -1, l.repeat.From
	default:
		m.Event, m.Begins = l.line.At(m.Beat), l.line.startFrom(m.Beat, l.set.Repeat)
	}
	m.Percent = l.set.percent(l.line, m.Pass)
	m.Tempo = l.line.tempo.at(m.Beat).Scaled(m.Percent)
	return m
}

// within moves a beat that was found from a frame into the event that is heard
// on it: frames of events are rounded.
func (l *leg) within(rate float64, k int, frame float64, beat routine.Beats) routine.Beats {
	events := l.line.Events
	i := l.line.At(beat)
	if next := i + 1; next < len(events) && events[next].At < l.end(k) && float64(l.heard(rate, k, events[next].At)) <= frame {
		return events[next].At
	}
	if i > 0 && events[i].At > l.start(k) && float64(l.heard(rate, k, events[i].At)) > frame {
		return events[i].At - 1
	}
	return beat
}

func (l *leg) standing() bool { return l.state == Holding || l.state == Finished }

// end is the beat before which a pass of the leg ends.
func (l *leg) end(k int) routine.Beats {
	if k > 0 {
		return l.repeat.To
	}
	return l.last
}

// start is the first beat that may sound in a pass of the leg.
func (l *leg) start(k int) routine.Beats {
	if k > 0 {
		return l.repeat.From
	}
	return l.first
}

// unbroken is the first beat of a pass of the leg that was heard without a break.
func (l *leg) unbroken(k int) routine.Beats {
	if k > 0 {
		return l.repeat.From
	}
	return l.since
}

// frames is how many frames a second of the tempo map takes in a pass.
func (l *leg) frames(rate float64, k int) float64 {
	return rate * 100 / l.set.percent(l.line, l.pass+k)
}

// passStart is the frame of the first step of the leg's k-th pass, from the start
// of the leg and never from the pass before; pass 0 began before the leg.
func (l *leg) passStart(rate float64, k int) float64 {
	at := l.from + (l.tempo.seconds(l.last)-l.origin)*l.frames(rate, 0)
	rest := l.restSeconds()
	length := l.passSeconds() + rest
	settled := l.set.settled(l.pass) - l.pass
	var sum float64 // frames a second, of the passes 1 to k-1
	for j := 1; j < min(k, settled); j++ {
		sum += l.frames(rate, j)
	}
	if rest := k - max(1, settled); rest > 0 {
		sum += float64(rest) * l.frames(rate, settled)
	}
	return at + length*sum + rest*l.frames(rate, k)
}

// restSeconds is how long a rest between two passes lasts: at the tempo, and
// the per cent, of the pass that follows.
func (l *leg) restSeconds() float64 {
	if l.set.Rest <= 0 || l.repeat.Empty() {
		return 0
	}
	return l.restLeft(l.restFrom())
}

// restLeft is how many seconds of tempo are left, on a beat of a rest, until the first
// step: to a song, as its own beats before that are far from each other.
func (l *leg) restLeft(beat routine.Beats) float64 {
	if l.line.music != nil {
		return l.tempo.seconds(l.repeat.From) - l.tempo.seconds(beat)
	}
	return (l.repeat.From - beat).Float() * l.restBeat()
}

// restBeatAt is the beat of a rest on which so many seconds of tempo are left.
func (l *leg) restBeatAt(left float64) float64 {
	if l.line.music != nil {
		return l.tempo.beat(l.tempo.seconds(l.repeat.From) - left)
	}
	return l.repeat.From.Float() - left/l.restBeat()
}

// restBeat is how many seconds of tempo a beat of a rest lasts.
func (l *leg) restBeat() float64 { return 60 / l.tempo.at(l.repeat.From).Float() }

// restFrom is the beat with which the count of a rest begins.
func (l *leg) restFrom() routine.Beats {
	return l.repeat.From - l.set.RestLength(l.line.Score.Dance.Metre)
}

// passBegin is the frame on which the rest before a pass begins.
func (l *leg) passBegin(rate float64, k int) float64 {
	return l.passStart(rate, k) - l.restSeconds()*l.frames(rate, k)
}

// resting reports whether a frame of a pass lies in the rest before its first step.
func (l *leg) resting(rate float64, k int, frame float64) bool {
	return k > 0 && l.restSeconds() > 0 && frame < nearest(l.passStart(rate, k))
}

// restFrame is the frame of a beat that is counted in the rest before a pass.
func (l *leg) restFrame(rate float64, k int, beat routine.Beats) float64 {
	return l.passStart(rate, k) - l.restLeft(beat)*l.frames(rate, k)
}

func (l *leg) passSeconds() float64 {
	return l.tempo.seconds(l.repeat.To) - l.tempo.seconds(l.repeat.From)
}

// passAt is the pass of the leg that is heard on a frame.
func (l *leg) passAt(rate, frame float64) int {
	begun := func(k int) bool { return nearest(l.passBegin(rate, k)) <= frame }
	if l.repeat.Empty() || !begun(1) {
		return 0
	}
	k := 1
	settled := l.set.settled(l.pass) - l.pass
	for k < settled && begun(k+1) {
		k++
	}
	if k >= settled {
		k += int((frame - l.passBegin(rate, k)) / ((l.passSeconds() + l.restSeconds()) * l.frames(rate, k)))
		for begun(k + 1) { // the division may round down
			k++
		}
		for k > 1 && !begun(k) {
			k--
		}
	}
	return k
}

// seconds is the second of the tempo map that a frame of a pass falls on.
func (l *leg) seconds(rate float64, k int, frame float64) float64 {
	if k == 0 {
		return l.origin + (frame-l.from)/l.frames(rate, 0)
	}
	return l.tempo.seconds(l.repeat.From) + (frame-l.passStart(rate, k))/l.frames(rate, k)
}

// beat is the beat that a frame of a pass falls on, rounded down.
func (l *leg) beat(rate float64, k int, frame float64) routine.Beats {
	if l.resting(rate, k, frame) {
		left := (l.passStart(rate, k) - frame) / l.frames(rate, k)
		return routine.Beats(math.Floor(l.restBeatAt(left) * float64(routine.Beat)))
	}
	return routine.Beats(math.Floor(l.tempo.beat(l.seconds(rate, k, frame)) * float64(routine.Beat)))
}

// frame is the exact frame of a beat in a pass of the leg.
func (l *leg) frame(rate float64, k int, beat routine.Beats) float64 {
	if k == 0 {
		return l.from + (l.tempo.seconds(beat)-l.origin)*l.frames(rate, 0)
	}
	return l.passStart(rate, k) + (l.tempo.seconds(beat)-l.tempo.seconds(l.repeat.From))*l.frames(rate, k)
}

// ends is the frame on which the leg has no more to dance.
func (l *leg) ends(rate float64) float64 {
	if l.standing() || !l.repeat.Empty() {
		return math.Inf(1)
	}
	return l.frame(rate, 0, l.last)
}

// heard is the frame on which a beat is heard: the nearest, but not before the leg.
func (l *leg) heard(rate float64, k int, beat routine.Beats) int64 {
	return int64(nearest(max(l.frame(rate, k, beat), l.from)))
}

// Hits appends the sounds that begin in [from, to). It makes Course an [audio.Schedule].
func (c *Course) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	index := len(dst)
	ahead := int64(0) // words begin before the beats they are said on
	if c.sounds.Voice != nil {
		ahead = int64(longestMoment * c.rate)
	}
	i := sort.Search(len(c.legs), func(i int) bool { return c.legs[i].cut > float64(from) })
	for ; i < len(c.legs) && c.legs[i].from < float64(to+ahead)+1; i++ {
		l := &c.legs[i]
		own := len(dst)
		switch {
		case l.set.Quiet:
		case l.state == LeadIn:
			dst = callHit(dst, c.firstCall(l))
			dst = c.leadInHits(dst, l, from, to+ahead)
		case l.strike:
			if e := l.line.At(l.first); e >= 0 {
				dst = c.eventHits(dst, l, e, int64(nearest(l.from)), call{})
			}
		case l.state == Dancing:
			dst = c.danceHits(dst, l, from, to+ahead)
		}
		begin, end := from, to
		if l.cut < float64(to) {
			end = int64(l.cut)
		}
		if i > 0 && c.legs[i-1].cut <= l.from { // what would have begun before a change, was said before it
			begin = max(from, int64(nearest(l.from)))
		}
		dst = inOrder(dst, own, begin, end)
	}
	return inOrder(dst, index, from, to)
}

// leadInHits sounds the whole beats before the first step.
func (c *Course) leadInHits(dst []audio.Hit, l *leg, from, to int64) []audio.Hit {
	bar := l.line.Score.Dance.Metre.Bar()
	for b := l.first.Ceil(routine.Beat); b < l.last; b += routine.Beat {
		at := l.heard(c.rate, 0, b)
		if at >= to {
			break
		}
		if at >= from {
			dst = c.countHits(dst, l, b, l.last, at, b%bar == 0)
		}
	}
	return dst
}

// countHits counts a beat before the first step.
func (c *Course) countHits(dst []audio.Hit, l *leg, beat, begins routine.Beats, at int64, barStart bool) []audio.Hit {
	dst = append(dst, c.beatHit(at, barStart, true))
	if c.sounds.Voice != nil {
		dst = c.wordHit(dst, l, numberWord(l.line.LeadInNumber(beat, begins)), at, call{})
	}
	return dst
}

func (c *Course) danceHits(dst []audio.Hit, l *leg, from, to int64) []audio.Hit {
	for k := l.passAt(c.rate, float64(from)-1); ; k++ {
		if k > 0 && (l.repeat.Empty() || l.passBegin(c.rate, k) > float64(to)+1) {
			return dst
		}
		if k > 0 && l.set.Rest > 0 {
			dst = c.restHits(dst, l, k, from, to)
		}
		dst = c.strokes(dst, l, k, from, to)
		dst = c.callHits(dst, l, k, from, to)
		next := call{before: math.MinInt64} // of the figures that the event is in
		first, last := l.start(k), l.end(k)
		// One event before the frame asked for, as its frame may be rounded up.
		begin := max(first, l.beat(c.rate, k, float64(from)-1)-1)
		for i := max(0, l.line.At(begin)); i < len(l.line.Events) && l.line.Events[i].At < last; i++ {
			e := &l.line.Events[i]
			if e.At < first {
				continue
			}
			at := l.heard(c.rate, k, e.At)
			if at >= to {
				return dst
			}
			if at >= from {
				if l.set.Call && e.At >= next.before {
					next = c.callFrom(l, k, e.Passage)
				}
				dst = c.eventHits(dst, l, i, at, next)
			}
		}
	}
}

// restHits counts the beats of the rest before a pass.
func (c *Course) restHits(dst []audio.Hit, l *leg, k int, from, to int64) []audio.Hit {
	bar := l.line.Score.Dance.Metre.Bar()
	for b := l.restFrom().Ceil(routine.Beat); b < l.repeat.From; b += routine.Beat {
		if at := int64(nearest(l.restFrame(c.rate, k, b))); at >= from && at < to {
			dst = c.countHits(dst, l, b, l.repeat.From, at, b%bar == 0)
		}
	}
	return dst
}

// Next is the frame of the first event, or other change, after a frame;
// infinity if there is none.
func (c *Course) Next(frame float64) float64 {
	i := sort.Search(len(c.legs), func(i int) bool { return c.legs[i].from > frame })
	next := math.Inf(1)
	if i < len(c.legs) {
		next = c.legs[i].from
	}
	l := &c.legs[max(i-1, 0)]
	if l.standing() {
		return next
	}
	m := c.At(frame)
	k := m.Pass - l.pass
	var beat routine.Beats
	switch {
	case l.resting(c.rate, k, frame):
		if beat = (m.Beat + 1).Ceil(routine.Beat); beat < l.repeat.From {
			return min(next, l.restFrame(c.rate, k, beat))
		}
		return min(next, l.passStart(c.rate, k))
	case l.state == LeadIn:
		beat = (m.Beat + 1).Ceil(routine.Beat)
	case m.Event+1 < len(l.line.Events):
		beat = l.line.Events[m.Event+1].At
	default:
		beat = l.line.End
	}
	if beat < l.end(k) {
		return min(next, l.frame(c.rate, k, beat))
	}
	if !l.repeat.Empty() {
		return min(next, l.passBegin(c.rate, k+1))
	}
	return min(next, l.ends(c.rate))
}

// End is the frame on which the last step has been danced; infinity if a part
// is repeated.
func (c *Course) End() float64 {
	if l := &c.legs[len(c.legs)-1]; l.state == Finished {
		return l.from
	}
	return math.Inf(1)
}

// kept is how long, in seconds, a course remembers what was heard: longer than
// any device's delay.
const kept = 5

// from gives the course that is c before frame and legs from it on.
func (c *Course) from(frame int64, legs ...leg) *Course {
	out := &Course{rate: c.rate, sounds: c.sounds}
	for i, l := range c.legs {
		if l.from >= float64(frame) && i > 0 {
			break
		}
		if i+1 < len(c.legs) && c.legs[i+1].from < float64(frame)-kept*c.rate {
			continue
		}
		l.cut = min(l.cut, float64(frame))
		out.legs = append(out.legs, l)
	}
	out.legs = append(out.legs, legs...)
	return out
}

// place is a position in a course from which a new leg can go on.
type place struct {
	state   State
	line    *Timeline
	tempo   tempoMap
	seconds float64       // of tempo
	first   routine.Beats // the first beat not heard yet
	begins  routine.Beats // of a lead-in: the beat of the first step
	breath  bool          // as of a leg
	since   routine.Beats // as of a leg
	called  heardCall     // as of a leg
	pass    int
}

// placeAt is where the couple is on a frame before which all has been heard.
func (c *Course) placeAt(frame int64) place {
	l := c.legAt(float64(frame))
	p := place{state: l.state, line: l.line, tempo: l.tempo, pass: l.pass, first: l.first, seconds: l.origin, begins: l.last}
	if l.standing() {
		return p
	}
	k := l.passAt(c.rate, float64(frame))
	p.since, p.called = l.unbroken(k), c.calledBy(l, k, frame)
	if l.resting(c.rate, k, float64(frame)) {
		return c.restPlace(l, k, frame)
	}
	p.seconds, p.pass = l.seconds(c.rate, k, float64(frame)), l.pass+k
	// The first that is not heard before this frame, from one before it on, as
	// frames are rounded.
	p.first = max(l.beat(c.rate, k, float64(frame))-1, l.start(k))
	if l.state == LeadIn {
		if p.breath = l.breath && l.heard(c.rate, 0, l.first) >= frame; p.breath {
			p.first = l.first
			return p
		}
		for p.first = p.first.Ceil(routine.Beat); p.first < l.last && l.heard(c.rate, k, p.first) < frame; p.first += routine.Beat {
		}
		return p
	}
	for i := max(0, l.line.At(p.first)); i < len(l.line.Events); i++ {
		if at := l.line.Events[i].At; at >= l.start(k) && (at >= l.end(k) || l.heard(c.rate, k, at) >= frame) {
			p.first = min(at, l.end(k))
			return p
		}
	}
	p.first = l.end(k)
	return p
}

// restPlace is a place in the rest before a pass: a lead-in to its first step.
func (c *Course) restPlace(l *leg, k int, frame int64) place {
	p := place{state: LeadIn, line: l.line, tempo: l.line.tempoBefore(l.repeat.From), begins: l.repeat.From, pass: l.pass + k}
	p.seconds = p.tempo.seconds(p.begins) + (float64(frame)-l.passStart(c.rate, k))/l.frames(c.rate, k)
	for p.first = l.restFrom().Ceil(routine.Beat); p.first < p.begins && int64(nearest(l.restFrame(c.rate, k, p.first))) < frame; p.first += routine.Beat {
	}
	return p
}

// goOn gives the legs that go on from a place with other settings.
func (c *Course) goOn(frame int64, p place, set Settings) []leg {
	at := float64(frame)
	switch p.state {
	case LeadIn:
		lead := leg{from: at, cut: math.Inf(1), state: LeadIn, line: p.line, set: set, tempo: p.tempo, origin: p.seconds, first: p.first, last: p.begins, breath: p.breath, pass: p.pass, called: p.called, calls: c.sounds.Calls}
		return append([]leg{lead}, c.dance(lead.ends(c.rate), p.line, p.begins, p.line.tempo.seconds(p.begins), set, p.pass)...)
	case Dancing:
		legs := c.dance(at, p.line, p.first, p.seconds, set, p.pass)
		legs[0].since, legs[0].called = p.since, p.called
		return legs
	}
	return []leg{still(at, p.line, p.first, set, p.state)}
}

// dance gives the legs that dance from a second of the timeline to its end, or
// for ever where a part is repeated.
func (c *Course) dance(at float64, line *Timeline, first routine.Beats, seconds float64, set Settings, pass int) []leg {
	l := leg{from: at, cut: math.Inf(1), state: Dancing, line: line, set: set, tempo: line.tempo, origin: seconds, first: first, last: line.End, since: first, pass: pass, calls: c.sounds.Calls}
	if !set.Repeat.Empty() && first <= set.Repeat.To {
		l.repeat, l.last = set.Repeat, set.Repeat.To
		return []leg{l}
	}
	return []leg{l, still(l.ends(c.rate), line, line.End, set, Finished)}
}

// breath is how long, in seconds, a voice takes before its first beat, as a word
// begins before it.
const breath = 0.16

// Start gives the course that begins to dance at beat on a frame, after the
// lead-in. Before it, or without one before the first step, a voice takes breath; and
// a figure that is named is named before it is counted in.
//
// So the first word is heard whole: all frames are counted from where the breath ends,
// and those of the beats stay as far from each other as ever.
func (c *Course) Start(frame int64, line *Timeline, beat routine.Beats, set Settings) *Course {
	leadIn := set.LeadInLength(line.Score.Dance.Metre)
	p := place{state: LeadIn, line: line, tempo: line.tempoBefore(beat), first: beat, begins: beat}
	if leadIn > 0 {
		p.first = (beat - leadIn).Ceil(routine.Beat)
	}
	p.seconds = p.tempo.seconds(p.first)
	before := 0.0
	if c.sounds.Voice != nil {
		before = breath
	}
	if name := c.sounds.Calls.named(line, beat); leadIn > 0 && set.Call && name != nil {
		before = float64(len(name))/c.rate + c.pause(&p, &set)
	}
	if leadIn == 0 && before == 0 {
		return c.from(frame, c.dance(float64(frame), line, beat, line.tempo.seconds(beat), set, 0)...)
	}
	p.breath = before > 0
	p.seconds -= before * set.percent(line, 0) / 100
	return c.from(frame, c.goOn(frame, p, set)...)
}

// DropIn gives the course that counts, from a frame on, the beats that are left
// before a later frame, and dances from beat with that.
func (c *Course) DropIn(frame int64, at float64, line *Timeline, beat routine.Beats, set Settings) *Course {
	p := place{state: LeadIn, line: line, tempo: line.tempoBefore(beat), begins: beat}
	left := (at - float64(frame)) / c.rate * set.percent(line, 0) / 100 // seconds of tempo
	p.seconds = p.tempo.seconds(beat) - left
	p.first = routine.Beats(math.Ceil(p.tempo.beat(p.seconds) * float64(routine.Beat))).Ceil(routine.Beat)
	return c.from(frame, c.goOn(frame, p, set)...)
}

// Hold gives the course that stands still from a frame on, at the event it has reached.
func (c *Course) Hold(frame int64) *Course {
	m := c.At(float64(frame))
	beat := m.Beat
	switch {
	case m.State == LeadIn:
		beat = c.placeAt(frame).begins
	case m.Event >= 0:
		beat = m.Timeline.Events[m.Event].At
	}
	return c.from(frame, still(float64(frame), m.Timeline, beat, m.Settings, Holding))
}

// Stand gives the course that stands at a beat and sounds what is danced there:
// the walk through a routine without a tempo.
func (c *Course) Stand(frame int64, beat routine.Beats) *Course {
	m := c.At(float64(frame))
	l := still(float64(frame), m.Timeline, beat, m.Settings, Holding)
	l.strike = true
	return c.from(frame, l)
}

// Go gives the course that jumps to a beat and dances on from there at once.
func (c *Course) Go(frame int64, beat routine.Beats) *Course {
	m := c.At(float64(frame))
	if m.State == LeadIn {
		return c.Start(frame, m.Timeline, beat, m.Settings)
	}
	return c.from(frame, c.dance(float64(frame), m.Timeline, beat, m.Timeline.tempo.seconds(beat), m.Settings, m.Pass)...)
}

// With gives the course that goes on with other settings from a frame on,
// without a jump in the place.
func (c *Course) With(frame int64, set Settings) *Course {
	p := c.placeAt(frame)
	if l := c.legAt(float64(frame)); l.set.Ladder != set.Ladder || l.set.Repeat != set.Repeat {
		p.pass = 0
	}
	return c.from(frame, c.goOn(frame, p, set)...)
}

// Replace gives the course that dances another timeline from its next bar on,
// or at once if it does not dance. What is repeated moves along with its figures.
func (c *Course) Replace(frame int64, line *Timeline) *Course {
	m, p := c.At(float64(frame)), c.placeAt(frame)
	set := m.Settings
	set.Repeat = line.followStretch(m.Timeline, set.Repeat)
	switch {
	case m.State == LeadIn:
		return c.Start(frame, line, line.Follow(m.Timeline, p.begins), set)
	case m.State != Dancing:
		return c.from(frame, still(float64(frame), line, line.Follow(m.Timeline, m.Beat), set, m.State))
	}
	l := c.legAt(float64(frame))
	k := m.Pass - l.pass
	at, beat, pass := float64(frame), p.first, m.Pass
	switch bar := m.Timeline.Bar(m.Beat).To; {
	case bar < l.end(k):
		at, beat = l.frame(c.rate, k, bar), bar
	case !l.repeat.Empty():
		at, beat, pass = l.passBegin(c.rate, k+1), l.repeat.From, m.Pass+1
	default: // the last bar: nothing is left to wait for
		seconds := line.tempo.seconds(line.Follow(m.Timeline, m.Beat))
		return c.from(frame, c.dance(at, line, line.Follow(m.Timeline, beat), seconds, set, pass)...)
	}
	beat = line.Follow(m.Timeline, beat)
	return c.from(int64(math.Round(at)), c.dance(at, line, beat, line.tempo.seconds(beat), set, pass)...)
}

// last is the timeline that is danced in the end.
func (c *Course) last() *Timeline { return c.legs[len(c.legs)-1].line }
