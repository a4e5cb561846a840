package music

import (
	"errors"
	"math"
	"slices"
)

// HalfLater returns the grid with every beat half a beat later.
func (g Grid) HalfLater() Grid {
	g.Beats, g.BeatGiven, g.Doubtful = g.between(), true, nil
	return g
}

// between returns the beats moved to the middle before the next one. The last
// is left out if that is beyond the end of the song.
func (g Grid) between() []Beat {
	beats := slices.Clone(g.Beats)
	for i := range beats {
		if i+1 < len(beats) {
			beats[i].Frame += (g.Beats[i+1].Frame - g.Beats[i].Frame) / 2
		} else if i > 0 {
			beats[i].Frame += (g.Beats[i].Frame - g.Beats[i-1].Frame) / 2
		}
	}
	if n := len(beats); n > 0 && beats[n-1].Frame >= g.Frames {
		beats = beats[:n-1]
	}
	return beats
}

// BarLater returns the grid with its bars beginning that many beats later, or
// earlier if beats is negative.
func (g Grid) BarLater(beats int) Grid {
	g.Beats = slices.Clone(g.Beats)
	for i := range g.Beats {
		g.Beats[i].Number = mod(g.Beats[i].Number-1-beats, g.Metre) + 1
	}
	g.BarGiven = true
	return g
}

// OneAt returns the grid renumbered so that the beat nearest to frame begins a bar.
func (g Grid) OneAt(frame int64) Grid {
	if i := g.nearest(frame); i >= 0 {
		return g.BarLater(g.Beats[i].Number - 1)
	}
	return g
}

// nearest returns the index of the beat nearest to frame, or -1 if there are no beats.
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

// Doubled returns the grid with a beat added between every two. Bars become
// half as long; bars that already began still begin at the same place.
func (g Grid) Doubled() Grid {
	var beats []Beat
	middles := g.between()
	for i, b := range g.Beats {
		count := 2 * (b.Number - 1)
		beats = append(beats, Beat{b.Frame, count%g.Metre + 1})
		if i < len(middles) {
			beats = append(beats, Beat{middles[i].Frame, (count+1)%g.Metre + 1})
		}
	}
	g.Beats, g.Tempo, g.BeatGiven, g.Doubtful = beats, 2*g.Tempo, true, nil
	return g
}

// Halved returns the grid with only every second beat, keeping the first that
// begins a bar. Bars become twice as long.
func (g Grid) Halved() Grid {
	first := max(slices.IndexFunc(g.Beats, func(b Beat) bool { return b.Number == 1 }), 0)
	var beats []Beat
	for i := first % 2; i < len(g.Beats); i += 2 {
		beats = append(beats, Beat{g.Beats[i].Frame, mod((i-first)/2, g.Metre) + 1})
	}
	g.Beats, g.Tempo, g.BeatGiven, g.Doubtful = beats, g.Tempo/2, true, nil
	return g
}

// fewestTaps is how many taps [Heard.Along] needs at least.
const fewestTaps = 4

// ErrTaps is returned when taps don't make a tempo.
var ErrTaps = errors.New("tap at least four beats in a row")

// Along returns the beats along which the dancer tapped. Taps are in frames and in order,
// and may leave out beats. If the song has a clear beat at that tempo, its onsets say
// exactly where the beats are; otherwise they go on as tapped. The first tap begins a bar.
// The error is [ErrTaps] if the taps don't make a tempo.
func (h *Heard) Along(taps []int64, metre int) (Grid, error) {
	l, ok := lineOf(taps, h.songRate)
	if !ok {
		return Grid{}, ErrTaps
	}
	const reach = 1.04 // a tapped tempo is within 2 %
	tempo := 60 / l.period
	g := h.Find(Range{tempo / reach, tempo * reach}, metre)
	if g.Clear() {
		g = g.onTaps(taps)
	} else {
		g = h.straight(l, metre)
	}
	g.BeatGiven, g.Doubtful = true, nil
	return g.OneAt(taps[0]), nil
}

// lineOf fits a line to taps by least squares, each counted as the beat it is
// nearest to. It reports whether they make a tempo.
func lineOf(taps []int64, rate int) (line, bool) {
	if len(taps) < fewestTaps {
		return line{}, false
	}
	between := make([]float64, len(taps)-1)
	for i := range between {
		between[i] = float64(taps[i+1]-taps[i]) / float64(rate)
	}
	usual := slices.Sorted(slices.Values(between))[len(between)/2]
	if usual < 60./400 || usual > 60./20 {
		return line{}, false
	}
	var n, sx, sy, sxx, sxy float64
	count := 0.0
	for i, t := range taps {
		if i > 0 {
			count += max(math.Round(between[i-1]/usual), 1)
		}
		y := float64(t) / float64(rate)
		n, sx, sy, sxx, sxy = n+1, sx+count, sy+y, sxx+count*count, sxy+count*y
	}
	period := (n*sxy - sx*sy) / (n*sxx - sx*sx)
	return line{phase: (sy - period*sx) / n, period: period}, period > 0
}

// onTaps moves a grid by half a beat if the taps lie between its beats. People
// tap early rather than late, by some hundredths of a second.
func (g Grid) onTaps(taps []int64) Grid {
	const early = 0.02 // seconds
	x, y := 0.0, 0.0   // summed places in the beat, as directions on a circle
	for _, t := range taps {
		i, found := slices.BinarySearchFunc(g.Beats, t, func(b Beat, t int64) int { return int(b.Frame - t) })
		if !found {
			i--
		}
		if i < 0 || i+1 >= len(g.Beats) {
			continue
		}
		length := float64(g.Beats[i+1].Frame - g.Beats[i].Frame)
		place := (float64(t-g.Beats[i].Frame) + early*float64(g.Rate)) / length
		x, y = x+math.Cos(2*math.Pi*place), y+math.Sin(2*math.Pi*place)
	}
	if x < 0 {
		return g.HalfLater()
	}
	return g
}

// straight returns a grid with the beats of a line through the whole song.
func (h *Heard) straight(l line, metre int) Grid {
	g := Grid{Rate: h.songRate, Frames: h.frames, Metre: metre, Tempo: 60 / l.period}
	length := float64(h.frames) / float64(h.songRate)
	for n := math.Ceil(-l.phase / l.period); l.phase+n*l.period < length; n++ {
		g.Beats = append(g.Beats, Beat{h.frame(l.phase + n*l.period), mod(int(n), metre) + 1})
	}
	g.Steady = []Stretch{{0, h.frames}}
	return g
}
