package player

import (
	"math"
	"strings"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/routine"
)

// State is what the couple is doing.
type State uint8

// The states.
const (
	Holding State = iota // standing still
	LeadIn               // being counted in
	Dancing
	Finished // after the last step
)

// leg is a piece of a course with one state, timeline and settings. One that loops holds
// many run-throughs, numbered from 0 by k; run-through 0 may have begun before the leg.
type leg struct {
	from     float64 // the frame on which it begins
	cut      float64 // the frame from which a change has replaced it
	state    State
	timeline *Timeline
	set      Settings

	tempo      tempoMap
	origin     float64       // second of tempo at from; where a leg stands, if it does
	first      routine.Beats // the first beat that may sound in it
	last       routine.Beats // the beat before which run-through 0 ends
	breath     bool          // a lead-in that leaves the voice time for a breath; it is at its first beat already
	since      routine.Beats // when dancing, the first beat heard without a break
	called     heardCall     // the last call before from
	calls      Calls
	say        func(word string) (sound audio.Sound, moment int, ok bool) // counts; nil without a voice
	loop       Interval                                                   // the loop, danced from run-through 1 on; empty if the leg ends
	again      Interval                                                   // what a later leg dances next; empty if nothing follows
	runThrough int                                                        // the number of run-through 0 in the course
	strike     bool                                                       // of a leg that stands: it sounds its event
}

// heardCall is a call that began before a leg: the beat it announces, and the frame on
// which it ends.
type heardCall struct {
	before routine.Beats
	until  int64
}

// newLeg returns a leg that begins on a frame, at the tempo of its timeline.
func newLeg(from float64, state State, timeline *Timeline, set Settings, runThrough int, sounds *Sounds) leg {
	l := leg{from: from, cut: math.Inf(1), state: state, timeline: timeline, set: set, tempo: timeline.tempo, runThrough: runThrough, calls: sounds.Calls}
	if sounds.Voice != nil {
		l.say = sounds.Voice.In(strings.ToLower(timeline.Language(set.Count).String()))
	}
	return l
}

// still returns a leg in which the couple stands.
func still(from float64, timeline *Timeline, beat routine.Beats, set Settings, state State, sounds *Sounds) leg {
	l := newLeg(from, state, timeline, set, 0, sounds)
	l.calls = nil // nothing is announced
	l.origin, l.first, l.last = timeline.tempo.seconds(beat), beat, beat
	return l
}

// nearest rounds an exact place to the frame on which it is heard. Halves round up, even
// if a rounding error leaves them a hair below.
func nearest(frame float64) float64 { return math.Floor(frame + 0.5 + 1e-6) }

// within corrects a beat computed from a frame: events start on whole frames, so the beat
// may fall just outside the event heard on that frame.
func (l *leg) within(rate float64, k int, frame float64, beat routine.Beats) routine.Beats {
	events := l.timeline.Events
	i := l.timeline.At(beat)
	if next := i + 1; next < len(events) && events[next].At < l.end(k) && float64(l.heard(rate, k, events[next].At)) <= frame {
		return events[next].At
	}
	if i > 0 && events[i].At > l.start(k) && float64(l.heard(rate, k, events[i].At)) > frame {
		return events[i].At - 1
	}
	return beat
}

func (l *leg) standing() bool { return l.state == Holding || l.state == Finished }

// end returns the beat before which run-through k ends.
func (l *leg) end(k int) routine.Beats {
	if k > 0 {
		return l.loop.To
	}
	return l.last
}

// start returns the first beat that may sound in run-through k.
func (l *leg) start(k int) routine.Beats {
	if k > 0 {
		return l.loop.From
	}
	return l.first
}

// unbroken returns the beat of run-through k from which everything was heard unbroken.
func (l *leg) unbroken(k int) routine.Beats {
	if k > 0 {
		return l.loop.From
	}
	return l.since
}

// frames returns how many frames a second of the tempo map takes in run-through k.
func (l *leg) frames(rate float64, k int) float64 {
	return rate * 100 / l.set.percent(l.timeline, l.runThrough+k)
}

// runStart returns the exact frame of the first step of run-through k, for k > 0. It
// counts from the start of the leg, not from the run-through before.
func (l *leg) runStart(rate float64, k int) float64 {
	at := l.from + (l.tempo.seconds(l.last)-l.origin)*l.frames(rate, 0)
	rest := l.restSeconds()
	length := l.runSeconds() + rest
	settled := l.set.settled(l.runThrough) - l.runThrough
	var sum float64 // frames a second, summed over run-throughs 1 to k-1
	for j := 1; j < min(k, settled); j++ {
		sum += l.frames(rate, j)
	}
	if steady := k - max(1, settled); steady > 0 {
		sum += float64(steady) * l.frames(rate, settled)
	}
	return at + length*sum + rest*l.frames(rate, k)
}

// restSeconds returns the length of a rest between two run-throughs, in seconds of tempo.
// A rest has the tempo of the run-through that follows.
func (l *leg) restSeconds() float64 {
	if l.set.Rest <= 0 || l.loop.Empty() {
		return 0
	}
	return l.restLeft(l.restFrom())
}

// restLeft returns the seconds of tempo from a beat of a rest to the first step. With a
// song, the rest's beats are the song's own.
func (l *leg) restLeft(beat routine.Beats) float64 {
	if l.timeline.music != nil {
		return l.tempo.seconds(l.loop.From) - l.tempo.seconds(beat)
	}
	return (l.loop.From - beat).Float() * l.restBeat()
}

// restBeatAt is the inverse of restLeft.
func (l *leg) restBeatAt(left float64) float64 {
	if l.timeline.music != nil {
		return l.tempo.beat(l.tempo.seconds(l.loop.From) - left)
	}
	return l.loop.From.Float() - left/l.restBeat()
}

// restBeat returns the length of a beat of a rest without a song, in seconds of tempo.
func (l *leg) restBeat() float64 { return 60 / l.tempo.at(l.loop.From).Float() }

// restFrom returns the beat on which a rest begins.
func (l *leg) restFrom() routine.Beats {
	return l.loop.From - l.set.RestLength(l.timeline.Score.Dance.Metre)
}

// runBegin returns the frame on which run-through k begins, with its rest.
func (l *leg) runBegin(rate float64, k int) float64 {
	return l.runStart(rate, k) - l.restSeconds()*l.frames(rate, k)
}

// resting reports whether a frame of run-through k lies in its rest.
func (l *leg) resting(rate float64, k int, frame float64) bool {
	return k > 0 && l.restSeconds() > 0 && frame < nearest(l.runStart(rate, k))
}

// restFrame returns the frame of a beat counted in the rest of run-through k.
func (l *leg) restFrame(rate float64, k int, beat routine.Beats) float64 {
	return l.runStart(rate, k) - l.restLeft(beat)*l.frames(rate, k)
}

func (l *leg) runSeconds() float64 {
	return l.tempo.seconds(l.loop.To) - l.tempo.seconds(l.loop.From)
}

// runAt returns the k of the run-through heard on a frame.
func (l *leg) runAt(rate, frame float64) int {
	begun := func(k int) bool { return nearest(l.runBegin(rate, k)) <= frame }
	if l.loop.Empty() || !begun(1) {
		return 0
	}
	k := 1
	settled := l.set.settled(l.runThrough) - l.runThrough
	for k < settled && begun(k+1) {
		k++
	}
	if k >= settled {
		k += int((frame - l.runBegin(rate, k)) / ((l.runSeconds() + l.restSeconds()) * l.frames(rate, k)))
		for begun(k + 1) { // the division may round down
			k++
		}
		for k > 1 && !begun(k) {
			k--
		}
	}
	return k
}

// seconds returns the second of the tempo map on which a frame of run-through k falls.
func (l *leg) seconds(rate float64, k int, frame float64) float64 {
	if k == 0 {
		return l.origin + (frame-l.from)/l.frames(rate, 0)
	}
	return l.tempo.seconds(l.loop.From) + (frame-l.runStart(rate, k))/l.frames(rate, k)
}

// beat returns the beat on which a frame of run-through k falls, rounded down.
func (l *leg) beat(rate float64, k int, frame float64) routine.Beats {
	if l.resting(rate, k, frame) {
		left := (l.runStart(rate, k) - frame) / l.frames(rate, k)
		return routine.Beats(math.Floor(l.restBeatAt(left) * float64(routine.Beat)))
	}
	return routine.Beats(math.Floor(l.tempo.beat(l.seconds(rate, k, frame)) * float64(routine.Beat)))
}

// frame returns the exact frame of a beat in run-through k.
func (l *leg) frame(rate float64, k int, beat routine.Beats) float64 {
	if k == 0 {
		return l.from + (l.tempo.seconds(beat)-l.origin)*l.frames(rate, 0)
	}
	return l.runStart(rate, k) + (l.tempo.seconds(beat)-l.tempo.seconds(l.loop.From))*l.frames(rate, k)
}

// ends returns the frame on which the leg has nothing more to dance.
func (l *leg) ends(rate float64) float64 {
	if l.standing() || !l.loop.Empty() {
		return math.Inf(1)
	}
	return l.frame(rate, 0, l.last)
}

// heard returns the frame on which a beat is heard: the nearest, but not before the leg.
func (l *leg) heard(rate float64, k int, beat routine.Beats) int64 {
	return int64(nearest(max(l.frame(rate, k, beat), l.from)))
}
