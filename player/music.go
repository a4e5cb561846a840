package player

import (
	"fmt"
	"math"
	"slices"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/music/timestretch"
	"dance.example/slowquick/routine"
)

// The tempi at which a song may be danced to, in per cent of its own.
const (
	SlowestMusic = 50.0
	FastestMusic = 120.0
)

// Music is a song that a routine may be danced to. It is not written to once a
// timeline has it.
type Music struct {
	Grid  music.Grid
	Sound *timestretch.Source // at the rate of the course, else it is not heard; nil if there is none
	Bar   int                 // of the song, from 1, with which the dance begins; 0 for the first steady one
}

// To gives the timeline whose beats are those of a song: beat 0, the first of the
// routine's first bar, is the first beat of the bar with which the dance begins.
// Before and after the song its first and last beat go on. The error says in the
// dancer's words why there is no such bar.
func (t *Timeline) To(m *Music) (*Timeline, error) {
	one, err := m.one()
	if err != nil {
		return nil, err
	}
	laid := *t
	laid.music, laid.tempo, laid.places = m, m.tempo(one), t.stepPlaces()
	return &laid, nil
}

// places are where in a beat there are steps: parts of it, ascending, of which the first is 0.
type places []float64

// stepPlaces are the places of all beats together.
func (t *Timeline) stepPlaces() places {
	all := places{0}
	for _, e := range t.Events {
		all = append(all, float64(e.At%routine.Beat)/float64(routine.Beat))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// apart is how near two of them are, in beats.
func (p places) apart() float64 {
	least := 1 - p[len(p)-1]
	for i := range len(p) - 1 {
		least = min(least, p[i+1]-p[i])
	}
	return least
}

// Without gives the timeline at the tempo of its sheet.
func (t *Timeline) Without() *Timeline {
	plain := *t
	plain.music, plain.tempo = nil, newTempoMap(t.Score)
	return &plain
}

// Music is the song that the timeline is danced to; nil for none.
func (t *Timeline) Music() *Music { return t.music }

// one is which beat of the song the dance's first bar begins with.
func (m *Music) one() (int, error) {
	g := &m.Grid
	if len(g.Beats) < 2 {
		return 0, fmt.Errorf("no beat is known of the song")
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
		return 0, fmt.Errorf("no bar is known of the song")
	case m.Bar > 0:
		return 0, fmt.Errorf("the song has %s, so the dance can't begin with its bar %d", routine.Plural(bar, "bar"), m.Bar)
	}
	return 0, fmt.Errorf("no bar of the song is steady")
}

// MusicBars is how many whole bars its song has from where the dance begins; 0 without one.
func (t *Timeline) MusicBars() int {
	if t.music == nil {
		return 0
	}
	return int(t.musicEnd() / t.Score.Dance.Metre.Bar())
}

// musicEnd is the beat after the last of the song.
func (t *Timeline) musicEnd() routine.Beats { return t.tempo[len(t.tempo)-1].to + routine.Beat }

// MusicLeft is how much of its song is left at a beat, in beats; 0 without one.
func (t *Timeline) MusicLeft(beat routine.Beats) routine.Beats {
	if t.music == nil {
		return 0
	}
	return max(0, t.musicEnd()-beat)
}

// MusicFrame is the frame of its song that belongs to a beat.
func (t *Timeline) MusicFrame(beat routine.Beats) int64 {
	if t.music == nil {
		return 0
	}
	return int64(math.Round(t.tempo.seconds(beat) * float64(t.music.Grid.Rate)))
}

// steadyFrom reports whether the introduction of a song, if it has one, is over with a
// beat: whether the tempo is steady, or where none is known to be, that of two bars is
// about as the song's.
func steadyFrom(g *music.Grid, beat int) bool {
	if g.SteadyTo > g.SteadyFrom {
		return g.Beats[beat].Frame >= g.SteadyFrom-int64(g.Rate)/10
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

// around is over how many beats a tempo is told, as each by itself is a little
// shorter or longer than the next.
const around = 8

// tempo makes each beat of the song a stretch; seconds are those of the song.
func (m *Music) tempo(one int) tempoMap {
	g := &m.Grid
	seconds := func(i int) float64 { return float64(g.Beats[i].Frame) / float64(g.Rate) }
	out := make(tempoMap, len(g.Beats)-1)
	for i := range out {
		first, last := max(i-around/2, 0), min(i+around/2, len(out))
		tempo := routine.Tempo(math.Round(60 * float64(last-first) / (seconds(last) - seconds(first)) * float64(routine.BeatPerMinute)))
		out[i] = tempoStretch{
			from: routine.Beats(i-one) * routine.Beat, to: routine.Beats(i+1-one) * routine.Beat,
			begins: seconds(i), first: tempo, last: tempo, perBeat: seconds(i+1) - seconds(i),
		}
	}
	return out
}

// slowest and fastest are the tempi at which the timeline can be danced, in per cent.
func (t *Timeline) slowest() float64 {
	if t.music != nil {
		return SlowestMusic
	}
	return SlowestPercent
}

func (t *Timeline) fastest() float64 {
	if t.music != nil {
		return FastestMusic
	}
	return FastestPercent
}

// leads is what the tempo is that of.
func (t *Timeline) leads() string {
	if t.music != nil {
		return "song"
	}
	return "routine"
}

// tempoBefore is how time goes in the bars that are counted before a beat: as in the
// song, or at the tempo of that beat.
func (t *Timeline) tempoBefore(beat routine.Beats) tempoMap {
	if t.music != nil {
		return t.tempo
	}
	return constantTempo(beat, t.tempo.at(beat))
}
