package player

import (
	"math"

	"dance.example/slowquick/routine"
)

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

func still(from float64, line *Timeline, beat routine.Beats, set Settings, state State) leg {
	return leg{from: from, cut: math.Inf(1), state: state, line: line, set: set, tempo: line.tempo,
		origin: line.tempo.seconds(beat), first: beat, last: beat}
}

// nearest is the frame on which something is heard whose exact place lies
// between two: half a frame goes up, also if it comes out a hair less.
func nearest(frame float64) float64 { return math.Floor(frame + 0.5 + 1e-6) }

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
