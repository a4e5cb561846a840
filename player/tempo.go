package player

import (
	"math"
	"sort"

	"dance.example/slowquick/routine"
)

// tempoMap says when each beat falls at full tempo, in sections of constant or evenly
// changing tempo without gaps. The first section's tempo holds before it, the last one's
// after it.
type tempoMap []tempoSection

// tempoSection is a section of a tempo map. Its tempo changes evenly with the beats from
// first, at from, to last, at to; a constant one has first == last. For a song, each beat
// is a section with a length of its own, and first is only the approximate tempo there.
type tempoSection struct {
	from, to    routine.Beats
	begins      float64 // the second of from
	first, last routine.Tempo
	perBeat     float64 // seconds; 0 means 60/first
}

// constantTempo returns a map with one tempo, with second 0 at beat zero.
func constantTempo(zero routine.Beats, t routine.Tempo) tempoMap {
	return tempoMap{{from: zero, to: zero, first: t, last: t}}
}

// newTempoMap returns the tempo map of a score: each passage has its item's tempo, or else
// the score's. An item's ramp spans all its passages.
func newTempoMap(s *routine.Score) tempoMap {
	m := constantTempo(s.Start, s.Tempo)[:0]
	for i := 0; i < len(s.Passages); {
		item := &s.Items[s.Passages[i].Item]
		j := i
		for j < len(s.Passages) && s.Passages[j].Item == s.Passages[i].Item {
			j++
		}
		first, last := s.Tempo, s.Tempo
		if item.Tempo != 0 {
			first, last = item.Tempo, item.TempoTo
		}
		m = m.then(tempoSection{from: s.Passages[i].Start, to: s.Passages[j-1].End, first: first, last: last})
		i = j
	}
	if len(m) == 0 {
		return constantTempo(s.Start, s.Tempo)
	}
	return m
}

// then appends a section, or lengthens the last one if both have the same constant tempo.
func (m tempoMap) then(s tempoSection) tempoMap {
	if len(m) > 0 {
		before := &m[len(m)-1]
		if before.first == before.last && s.first == s.last && before.last == s.first {
			before.to = s.to
			return m
		}
		s.begins = before.seconds(s.from.Float())
	}
	return append(m, s)
}

// seconds returns the second on which a beat falls.
func (m tempoMap) seconds(b routine.Beats) float64 {
	i := max(0, sort.Search(len(m), func(i int) bool { return m[i].from > b })-1)
	return m[i].seconds(b.Float())
}

// beat returns the beat at a second.
func (m tempoMap) beat(seconds float64) float64 {
	i := max(0, sort.Search(len(m), func(i int) bool { return m[i].begins > seconds })-1)
	return m[i].beat(seconds)
}

// at returns the tempo at a beat.
func (m tempoMap) at(b routine.Beats) routine.Tempo {
	i := max(0, sort.Search(len(m), func(i int) bool { return m[i].from > b })-1)
	s := &m[i]
	if s.first == s.last || b <= s.from {
		return s.first
	}
	if b >= s.to {
		return s.last
	}
	return s.first + routine.Tempo(float64(s.last-s.first)*float64(b-s.from)/float64(s.to-s.from))
}

// beatSeconds returns the length of a beat where the tempo is constant, or before it
// changes.
func (s *tempoSection) beatSeconds() float64 {
	if s.perBeat > 0 {
		return s.perBeat
	}
	return 60 / s.first.Float()
}

// slope returns how many beats a minute the tempo gains with each beat.
func (s *tempoSection) slope() float64 {
	return (s.last - s.first).Float() / (s.to - s.from).Float()
}

// seconds returns the second of a beat: the integral of 60/tempo over the beats, which is a
// logarithm where the tempo changes evenly.
func (s *tempoSection) seconds(beat float64) float64 {
	beats := beat - s.from.Float()
	if s.first == s.last || beats <= 0 {
		return s.begins + beats*s.beatSeconds()
	}
	if over := beat - s.to.Float(); over > 0 {
		return s.seconds(s.to.Float()) + over*60/s.last.Float()
	}
	k := s.slope()
	return s.begins + 60/k*math.Log1p(k*beats/s.first.Float())
}

// beat is the inverse of seconds.
func (s *tempoSection) beat(seconds float64) float64 {
	t := seconds - s.begins
	if s.first == s.last || t <= 0 {
		return s.from.Float() + t/s.beatSeconds()
	}
	if over := seconds - s.seconds(s.to.Float()); over > 0 {
		return s.to.Float() + over*s.last.Float()/60
	}
	k := s.slope()
	return s.from.Float() + s.first.Float()/k*math.Expm1(k*t/60)
}
