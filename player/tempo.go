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

// OwnTempo returns the tempo at 100 %: the sheet's or, with a song, the song's.
func (t *Timeline) OwnTempo() routine.Tempo {
	switch {
	case t.music == nil:
		return t.Score.Tempo
	case t.music.Grid.Tempo > 0:
		return routine.Tempo(math.Round(t.music.Grid.Tempo * float64(routine.BeatPerMinute)))
	}
	return t.tempo.at(t.Start)
}

// ParseTempo reads how fast a timeline is to be danced: "80 %", "24 bars/min" or
// "96 beats/min". By is the timeline's tempo at the place asked about, which becomes the
// tempo in text. The results are for [Settings]; tempo is 0 if text is a percentage. The
// error tells the dancer what is wrong, also if the tempo is too slow or too fast.
func (t *Timeline) ParseTempo(text string, by routine.Tempo) (percent float64, tempo routine.Tempo, err error) {
	if number, ok := strings.CutSuffix(strings.TrimSpace(text), "%"); ok {
		if percent, err = strconv.ParseFloat(strings.TrimSpace(number), 64); err != nil || math.IsNaN(percent) {
			return 0, 0, fmt.Errorf("%q is not a percentage", text)
		}
	} else {
		first, last, err := routine.ParseTempo(text, t.Score.Dance.Metre)
		switch {
		case err != nil:
			return 0, 0, err
		case first != last:
			return 0, 0, errors.New("say one tempo, not a range")
		}
		percent = first.Float() / by.Float() * 100
		tempo = t.OwnTempo().Scaled(percent)
	}
	return percent, tempo, t.reaches(percent, strings.TrimSpace(text))
}

// Check returns an error that tells the dancer why a timeline can't be danced as slowly or
// as fast as settings ask; nil if it can. The nearest possible tempo is used instead.
func (t *Timeline) Check(s Settings) error {
	switch {
	case s.Ladder != (Ladder{}):
		return nil
	case s.Tempo > 0:
		return t.reaches(s.asked(t, 0), t.Score.Dance.TempoText(s.Tempo))
	}
	return t.reaches(s.Percent, strconv.FormatFloat(s.Percent, 'f', -1, 64)+" %")
}

// reaches returns an error if a percentage can't be danced. Asked is the text in which the
// dancer asked for it.
func (t *Timeline) reaches(percent float64, asked string) error {
	slowest, fastest, wrong := t.slowest(), t.fastest(), "slow"
	switch {
	case percent > fastest:
		wrong = "fast"
	case percent >= slowest:
		return nil
	}
	own := t.Score.Dance.BarsPerMinute(t.OwnTempo())
	tenths := func(x float64) string { return strconv.FormatFloat(x/10, 'f', -1, 64) }
	least, most := math.Ceil(own*slowest/10-1e-6), math.Floor(own*fastest/10+1e-6)
	return fmt.Errorf("%s is too %s: the %s's %s bars/min can be danced from %.0f to %.0f %%: %s to %s bars/min",
		asked, wrong, t.leads(), tenths(math.Round(10*own)), slowest, fastest, tenths(least), tenths(most))
}

// ParseItems returns the interval of some items of the order, which are numbered from 1: "2" or "2-3".
func (t *Timeline) ParseItems(text string) (Interval, error) {
	first, last, isRange := strings.Cut(strings.ReplaceAll(text, "–", "-"), "-")
	if !isRange {
		last = first
	}
	most := len(t.Score.Items)
	from, err1 := strconv.Atoi(strings.TrimSpace(first))
	to, err2 := strconv.Atoi(strings.TrimSpace(last))
	if err1 != nil || err2 != nil || from < 1 || to < from || to > most {
		return Interval{}, fmt.Errorf("%q names no figures of the order, which has 1 to %d", text, most)
	}
	var s Interval
	for i, p := range t.Score.Passages {
		if p.Item+1 == from && s.To == 0 {
			s.From = t.Passage(i).From
		}
		if p.Item+1 >= from && p.Item+1 <= to {
			s.To = t.Passage(i).To
		}
	}
	return s, nil
}
