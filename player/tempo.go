package player

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	"dance.example/slowquick/routine"
)

// tempoMap is when each beat falls at full tempo: stretches of constant or
// evenly changing tempo, without a gap. Before the first and after the last
// their tempo goes on.
type tempoMap []tempoStretch

// tempoStretch begins at a beat and a second. Its tempo changes evenly with the
// beats from first, at from, to last, at to; a constant one has first == last.
// Where a song is danced to, each of its beats is a stretch of its own length,
// and first only tells about how fast it is there.
type tempoStretch struct {
	from, to    routine.Beats
	begins      float64 // seconds
	first, last routine.Tempo
	perBeat     float64 // seconds; 0 if it is 60/first
}

// constantTempo has one tempo; its second 0 is at beat zero.
func constantTempo(zero routine.Beats, t routine.Tempo) tempoMap {
	return tempoMap{{from: zero, to: zero, first: t, last: t}}
}

// newTempoMap gives each passage the score's tempo, or its item's own; an
// item's ramp goes over all its times.
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
		m = m.then(tempoStretch{from: s.Passages[i].Start, to: s.Passages[j-1].End, first: first, last: last})
		i = j
	}
	if len(m) == 0 {
		return constantTempo(s.Start, s.Tempo)
	}
	return m
}

// then appends a stretch; one of the same constant tempo lengthens the one before.
func (m tempoMap) then(s tempoStretch) tempoMap {
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

// seconds is when a beat falls.
func (m tempoMap) seconds(b routine.Beats) float64 {
	i := max(0, sort.Search(len(m), func(i int) bool { return m[i].from > b })-1)
	return m[i].seconds(b.Float())
}

// beat is the beat that falls at a second.
func (m tempoMap) beat(seconds float64) float64 {
	i := max(0, sort.Search(len(m), func(i int) bool { return m[i].begins > seconds })-1)
	return m[i].beat(seconds)
}

// at is the tempo at a beat, to the thousandth.
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

// beatSeconds is how long a beat lasts where the tempo is constant, or before it changes.
func (s *tempoStretch) beatSeconds() float64 {
	if s.perBeat > 0 {
		return s.perBeat
	}
	return 60 / s.first.Float()
}

// slope is how many beats a minute the tempo gains with each beat.
func (s *tempoStretch) slope() float64 {
	return (s.last - s.first).Float() / (s.to - s.from).Float()
}

// seconds integrates the time that each beat takes, 60/tempo: a logarithm
// where the tempo changes evenly.
func (s *tempoStretch) seconds(beat float64) float64 {
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

// beat is seconds turned round.
func (s *tempoStretch) beat(seconds float64) float64 {
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

// ParsePercent reads how fast a timeline is to be danced: "80 %", or a tempo,
// "24 bars/min" or "96 beats/min", as a per cent of the one it is measured by.
// The error says in the dancer's words what is wrong.
func (t *Timeline) ParsePercent(text string, by routine.Tempo) (float64, error) {
	percent, slowest, fastest := 0.0, t.slowest(), t.fastest()
	if number, ok := strings.CutSuffix(strings.TrimSpace(text), "%"); ok {
		var err error
		if percent, err = strconv.ParseFloat(strings.TrimSpace(number), 64); err != nil || math.IsNaN(percent) {
			return 0, fmt.Errorf("%q is no per cent", text)
		}
	} else {
		first, last, err := routine.ParseTempo(text, t.Score.Dance.Metre)
		switch {
		case err != nil:
			return 0, err
		case first != last:
			return 0, errors.New("say one tempo, not a range")
		}
		percent = first.Float() / by.Float() * 100
	}
	if percent < slowest || percent > fastest {
		return 0, fmt.Errorf("%s is %.0f %% of the %s's tempo, which can be danced from %.0f to %.0f %%", text, percent, t.leads(), slowest, fastest)
	}
	return percent, nil
}
