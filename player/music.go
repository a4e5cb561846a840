package player

import (
	"fmt"
	"math"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/music/timestretch"
	"dance.example/slowquick/routine"
)

// The limits of the tempo at which a song is danced to, in per cent of its own.
const (
	SlowestMusic = 50.0
	FastestMusic = 120.0
)

// Music is a song that a routine may be danced to. It must not change once a timeline has
// it.
type Music struct {
	Grid  music.Grid
	Sound *timestretch.Source // nil if there is none; silent unless it has the course's rate
	Bar   int                 // the bar of the song in which the dance begins, from 1; 0 for the first steady one
}

// places lists where in a beat steps may fall, in ascending parts of a beat from 0, which
// is always there.
type places []float64

// apart returns the smallest distance between two places, in beats.
func (p places) apart() float64 {
	least := 1 - p[len(p)-1]
	for i := range len(p) - 1 {
		least = min(least, p[i+1]-p[i])
	}
	return least
}

// one returns the index of the song's beat on which the dance's first bar begins.
func (m *Music) one() (int, error) {
	g := &m.Grid
	if len(g.Beats) < 2 {
		return 0, fmt.Errorf("the song's beats are not known")
	}
	bar, last := 0, -1
	for i, b := range g.Beats {
		if b.Number != 1 {
			continue
		}
		bar, last = bar+1, i
		if m.Bar == bar || m.Bar == 0 && steadyFrom(g, i) {
			return i, nil
		}
	}
	switch {
	case last < 0:
		return 0, fmt.Errorf("the song's bars are not known")
	case m.Bar > 0:
		return 0, fmt.Errorf("the song has %s, so the dance can't begin with its bar %d", routine.Plural(bar, "bar"), m.Bar)
	}
	return 0, fmt.Errorf("the song has no steady bar")
}

// steadyFrom reports whether the song's introduction, if any, is over at a beat: whether
// the first steady stretch has begun or, if the grid has none, whether the next two bars have
// about the song's average tempo.
func steadyFrom(g *music.Grid, beat int) bool {
	if len(g.Steady) > 0 {
		return g.Beats[beat].Frame >= g.Steady[0].From-int64(g.Rate)/10
	}
	const about = 0.08
	usual := float64(g.Beats[len(g.Beats)-1].Frame-g.Beats[0].Frame) / float64(len(g.Beats)-1)
	for i := beat; i < min(beat+2*g.Metre, len(g.Beats)-1); i++ {
		if length := float64(g.Beats[i+1].Frame - g.Beats[i].Frame); math.Abs(length/usual-1) > about {
			return false
		}
	}
	return true
}

// around is the number of beats over which a tempo is averaged, as single beats vary.
const around = 8

// tempo returns a map with a section for each beat of the song, in the song's seconds.
func (m *Music) tempo(one int) tempoMap {
	g := &m.Grid
	seconds := func(i int) float64 { return float64(g.Beats[i].Frame) / float64(g.Rate) }
	out := make(tempoMap, len(g.Beats)-1)
	for i := range out {
		first, last := max(i-around/2, 0), min(i+around/2, len(out))
		tempo := routine.Tempo(math.Round(60 * float64(last-first) / (seconds(last) - seconds(first)) * float64(routine.BeatPerMinute)))
		out[i] = tempoSection{
			from: routine.Beats(i-one) * routine.Beat, to: routine.Beats(i+1-one) * routine.Beat,
			begins: seconds(i), first: tempo, last: tempo, perBeat: seconds(i+1) - seconds(i),
		}
	}
	return out
}
