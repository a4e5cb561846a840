package timestretch_test

import (
	"fmt"
	"testing"

	"dance.example/slowquick/audio/music/timestretch"
)

// signals are the sounds by which a way of stretching is judged. Each seed
// makes different ones.
type signals struct {
	train, bedded   timestretch.Sound // clicks alone, and over a chord
	at              []float64         // the seconds of the clicks
	chords          []timestretch.Sound
	partials        [][]float64 // of each chord
	music           timestretch.Sound
	musicBegins     []float64 // the seconds at which a note begins
	trainIs, bedIs  [][2]float64
	tone            timestretch.Sound
	pitch, duration float64
}

func makeSignals(seed uint64) *signals {
	r := random(seed)
	s := &signals{duration: 24}
	train, at := clickTrain(r, s.duration)
	s.at = at
	s.train = train.recorded(0)
	train.bed(chord(r))
	s.bedded = train.recorded(0)
	for range 3 {
		partials := chord(r)
		alone := newSound(8)
		alone.bed(partials)
		s.chords, s.partials = append(s.chords, alone.recorded(0)), append(s.partials, partials)
	}
	s.pitch = uniform(r, 200, 900)
	tone := newSound(8)
	tone.bed([]float64{s.pitch})
	s.tone = tone.recorded(0.5)
	s.music = music(seed, s.duration)
	s.musicBegins = onsets(wave(s.music))
	s.trainIs, s.bedIs = wave(s.train), wave(s.bedded)
	return s
}

// figures are the measurements of a way of stretching.
type figures struct {
	plain, bedded clicks
	chords        []float64 // the level outside the partials, dB
	music         compared
	cents         []float64
}

// way returns a sound stretched to a speed.
type way func(testing.TB, timestretch.Sound, float64) [][2]float64

func ours(t testing.TB, s timestretch.Sound, speed float64) [][2]float64 {
	return rendered(atSpeed(t, newSong(t, s), speed))
}

// judge adds the measurements of a way at a speed.
func (f *figures) judge(t testing.TB, s *signals, speed float64, stretch way) {
	place := func(second float64) float64 { return second / speed }
	f.plain.add(measureClicks(s.trainIs, stretch(t, s.train, speed), s.at, place))
	f.bedded.add(measureClicks(s.bedIs, stretch(t, s.bedded, speed), s.at, place))
	for i, c := range s.chords {
		f.chords = append(f.chords, impurity(stretch(t, c, speed), s.partials[i]))
	}
	f.music.add(compareOnsets(s.musicBegins, onsets(stretch(t, s.music, speed)), place))
	f.cents = append(f.cents, cents(stretch(t, s.tone, speed), s.pitch))
}

func (f figures) String() string {
	chords, worst := 0.0, -200.0
	for _, c := range f.chords {
		chords += c / float64(len(f.chords))
		worst = max(worst, c)
	}
	return fmt.Sprintf("clicks %v | bed %v | onsets %4.1f%% lost %5.1f%% extra of %d, 95%% in %4.1f ms | chords %5.1f, worst %5.1f dB | tone %+.2f cents",
		f.plain, f.bedded, 100*f.music.lostPart(), 100*f.music.extraPart(), f.music.n, f.music.within(), chords, worst, furthest(f.cents))
}

// furthest returns the value furthest from 0.
func furthest(values []float64) (v float64) {
	for _, x := range values {
		if x*x > v*v {
			v = x
		}
	}
	return v
}

func (c clicks) String() string {
	return fmt.Sprintf("%4.2f/%4.1f ms %d lost %2d doubled", c.mean(), c.most(), c.lost, c.doubled)
}
