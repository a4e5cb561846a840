package music

import (
	"math"
	"slices"
)

// Grid is where the beats of a song lie. It is a value: no method changes it.
type Grid struct {
	Rate  int // frames a second
	Metre int // beats to a bar
	Beats []Beat
	Tempo float64 // beats a minute, over the steady part; 0 if there is no beat

	// From where to where the tempo is steady, in frames; alike if it nowhere is.
	SteadyFrom, SteadyTo int64

	Confidence
	Origin Origin
}

// Beat is one beat.
type Beat struct {
	Frame  int64
	Number int // in its bar, from 1
}

// Confidence is how sure a grid is of itself. Numbers are measured; see [Grid.Clear],
// [Grid.SureOfBeat] and [Grid.SureOfBar] for what they mean.
type Confidence struct {
	Strength float64 // of the onsets on beats, in units of the root mean square of all
	Phase    float64 // how far the beats are before those that lie between them
	Bar      float64 // how far the bars' first beats are before the next likely ones
}

// Origin is who says where the beats are.
type Origin int

// The origins of a grid.
const (
	Found   Origin = iota // the beat finder
	Given                 // a text
	Tapped                // the dancer's taps
	Changed               // the dancer, who moved what was found
)

// grid numbers beats, which are in seconds, by where the harmony changes.
func (f *finder) grid(beats []float64, margin float64) Grid {
	g := Grid{Rate: f.songRate, Metre: f.metre}
	places := byPlace(standard(f.harmony.changes(beats)), f.metre)
	first, by := lead(places)
	g.Confidence = Confidence{Strength: f.mean(f.strength, beats, 0), Phase: margin, Bar: by}
	for i, b := range beats {
		g.Beats = append(g.Beats, Beat{f.frame(b), mod(i-first, f.metre) + 1})
	}
	return g
}

// mod is the remainder of a, from 0 to m-1.
func mod(a, m int) int { return ((a % m) + m) % m }

// Seconds gives when beats are.
func (g Grid) Seconds() []float64 {
	out := make([]float64, len(g.Beats))
	for i, b := range g.Beats {
		out[i] = float64(b.Frame) / float64(g.Rate)
	}
	return out
}

// nearest is the beat that is nearest to a frame; -1 if there is none.
func (g Grid) nearest(frame int64) int {
	best := -1
	for i, b := range g.Beats {
		if best < 0 || abs(b.Frame-frame) < abs(g.Beats[best].Frame-frame) {
			best = i
		}
	}
	return best
}

func abs(x int64) int64 { return max(x, -x) }

// tempoOf is how many beats a minute most beats have.
func tempoOf(beats []float64) float64 {
	if len(beats) < 2 {
		return 0
	}
	between := make([]float64, len(beats)-1)
	for i := range between {
		between[i] = beats[i+1] - beats[i]
	}
	slices.Sort(between)
	return 60 / math.Max(between[len(between)/2], 1e-3)
}
