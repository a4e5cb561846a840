package music

import (
	"cmp"
	"math"
	"slices"
)

// Range is the tempi among which to look for beats, in beats a minute.
type Range struct{ Min, Max float64 }

// folds is at how many places in a beat onsets are summed. Beats are judged in units of the root mean
// square of the onset strength.
const folds = 48

// finder searches a song for beats. All its times are in seconds.
type finder struct {
	*Heard
	metre    int
	from, to float64 // where there is sound
}

// line has beats at a constant tempo: beat n is at phase + n·period.
type line struct {
	phase, period float64
	score         float64
}

// sounding returns when the song's sound begins and ends, in seconds. Anything
// 45 dB below the song counts as silence.
func (h *Heard) sounding() (from, to float64) {
	const silent = 0.0056
	square := 0.0
	for _, x := range h.loud {
		square += x * x
	}
	floor := max(silent*math.Sqrt(square/float64(max(len(h.loud), 1))), 1e-5)
	first, last := slices.IndexFunc(h.loud, func(x float64) bool { return x > floor }), len(h.loud)-1
	if first < 0 {
		return 0, 0
	}
	for last > first && h.loud[last] <= floor {
		last--
	}
	return float64(first) / perSecond, float64(last) / perSecond
}

// frame converts seconds to a frame of the song.
func (h *Heard) frame(seconds float64) int64 {
	return min(max(int64(math.Round(seconds*float64(h.songRate))), 0), h.frames)
}

// search returns the likeliest line, of the best ones around each period.
func (f *finder) search(r Range) line {
	shortest, longest := 60/r.Max, 60/r.Min
	var lines []line
	var rows [][]float64
	for _, period := range f.periods(r) {
		const reach = 0.03
		step := period * period / (8 * (f.to - f.from)) // an eighth of a beat over the song
		l := f.best(max(period*(1-reach), shortest), min(period*(1+reach), longest), step)
		l = f.best(l.period-step, l.period+step, step/8)
		part, _ := f.likeliest(f.beats(l))
		l.phase += part * l.period
		lines, rows = append(lines, l), append(rows, f.beats(l))
	}
	best, _ := lead(f.likely(rows))
	return lines[best]
}

// best returns the best line with a period between shortest and longest.
func (f *finder) best(shortest, longest, step float64) (best line) {
	for p := shortest; p <= longest; p += step {
		if l := f.lay(p); l.score > best.score || best.period == 0 {
			best = l
		}
	}
	return best
}

// periods returns up to four periods in the range at which the onsets repeat,
// the best first.
func (f *finder) periods(r Range) []float64 {
	weights := map[int]float64{1: 1, 2: 1, 3: 0.5, 4: 1, 6: 0.5, 8: 0.5} // by beats
	longest := 60 * perSecond / r.Min
	alike := f.alike(int(8*longest) + 2)
	middle := math.Log(60 * perSecond / math.Sqrt(r.Min*r.Max))
	width := math.Log(r.Max/r.Min)/2 + 0.1
	type candidate struct{ period, score float64 }
	var row []candidate
	for p := 60 * perSecond / r.Max; p <= longest*1.0001; p += 0.25 {
		sum := 0.0
		for beats, w := range weights {
			sum += w * at(alike, float64(beats)*p)
		}
		away := (math.Log(p) - middle) / width
		row = append(row, candidate{p, sum * math.Exp(-away*away/8)})
	}
	var peaks []candidate
	for i, c := range row {
		if (i == 0 || row[i-1].score <= c.score) && (i == len(row)-1 || row[i+1].score < c.score) {
			peaks = append(peaks, c)
		}
	}
	slices.SortFunc(peaks, func(a, b candidate) int { return cmp.Compare(b.score, a.score) })
	var periods []float64
	for _, c := range peaks[:min(len(peaks), 4)] {
		periods = append(periods, c.period/perSecond)
	}
	return periods
}

// alike returns the autocorrelation of the onset strengths at lags of 0, 1 … values.
func (f *finder) alike(most int) []float64 {
	out := make([]float64, min(most, len(f.strength)))
	for lag := range out {
		sum := 0.0
		for i, x := range f.strength[lag:] {
			sum += x * f.strength[i]
		}
		out[lag] = sum
	}
	return out
}

// fold returns the mean strength at each place of a period, counted from f.from.
func (f *finder) fold(strength []float64, period float64) (mean [folds]float64) {
	n := int((f.to - f.from) / period)
	for i := range n {
		for b := range mean {
			mean[b] += at(strength, (f.from+(float64(i)+float64(b)/folds)*period)*perSecond)
		}
	}
	for b := range mean {
		mean[b] /= float64(max(n, 1))
	}
	return mean
}

// swing tells a beat from a swung upbeat, which comes two thirds of a beat later, or
// three quarters if dotted. Of two onsets a third or a quarter of a beat apart, the second
// is the beat. It takes the strength at a place and that part of a beat before and after.
// The result is about 0 for a straight beat; for a swung one, as much as the weaker of its
// two onsets; for an upbeat, negative.
func swing(here, before, after float64) float64 {
	const share = 0.8
	return share * (min(here, before) - min(here, after))
}

// swung returns how good a place of a fold is as a beat.
func swung(mean [folds]float64, place int) float64 {
	third := folds / 3
	return mean[place] + swing(mean[place], mean[(place+folds-third)%folds], mean[(place+third)%folds])
}

// lay returns the best line with a given period.
func (f *finder) lay(period float64) (best line) {
	mean := f.fold(f.strength, period)
	for b := range mean {
		if s := swung(mean, b); s > best.score || b == 0 {
			best = line{phase: f.from + float64(b)/folds*period, period: period, score: s}
		}
	}
	return best
}

// shifts are the parts of a beat by which a row of beats may be off.
var shifts = []float64{0, 1. / 2, 1. / 3, 2. / 3, 1. / 4, 3. / 4}

// likeliest returns by which part of a beat the beats should be moved, and the
// margin by which they then beat the next best shift.
func (f *finder) likeliest(beats []float64) (part, by float64) {
	rows := make([][]float64, len(shifts))
	for i, s := range shifts {
		rows[i] = shifted(beats, s)
	}
	best, by := lead(f.likely(rows))
	return shifts[best], by
}

// likely scores rows of beats by their strength, their swing, and how much the
// harmony changes where bars would begin.
func (f *finder) likely(rows [][]float64) []float64 {
	const dotted, order = 0.5, 2
	scores := make([]float64, len(rows))
	for i, starts := range f.harmony.barStarts(f.metre, rows...) {
		scores[i] = f.swungMean(rows[i]) + dotted*f.swing(rows[i], 1./4) + order*slices.Max(starts)
	}
	return scores
}

// shifted returns the beats moved later by a part of a beat.
func shifted(beats []float64, part float64) []float64 {
	if part == 0 || len(beats) < 2 {
		return beats
	}
	out := make([]float64, len(beats)-1)
	for i := range out {
		out[i] = beats[i] + part*(beats[i+1]-beats[i])
	}
	return out
}

// swungMean scores beats by their strength and swing. Dotted swing is left out:
// at three quarters of the tempo, it would find triplets instead.
func (f *finder) swungMean(beats []float64) float64 {
	return f.mean(f.strength, beats, 0) + f.swing(beats, 1./3)
}

// swing returns the swing of beats whose upbeats come a part of a beat before them.
func (f *finder) swing(beats []float64, part float64) float64 {
	return swing(f.mean(f.strength, beats, 0), f.mean(f.strength, beats, -part), f.mean(f.strength, beats, part))
}

// mean returns the mean strength at the beats, or a part of a beat after them
// (before, if part is negative).
func (f *finder) mean(strength, beats []float64, part float64) float64 {
	sum := 0.0
	for i, b := range beats {
		period := 0.0
		if i+1 < len(beats) {
			period = beats[i+1] - b
		} else if i > 0 {
			period = b - beats[i-1]
		}
		sum += at(strength, (b+part*period)*perSecond)
	}
	return sum / float64(max(len(beats), 1))
}

// beats returns the beats of a line that lie in the song.
func (f *finder) beats(l line) (beats []float64) {
	early := l.period / 4 // the first sound may come a little before its beat
	for n := math.Ceil((f.from - early - l.phase) / l.period); ; n++ {
		b := l.phase + n*l.period
		if b > f.to {
			return beats
		}
		if b >= 0 {
			beats = append(beats, b)
		}
	}
}

// fit refines a line by least squares: it looks for the centre of the onsets
// around each beat, up to reach of a beat away.
func (f *finder) fit(l line, reach float64) line {
	var sw, sx, sy, sxx, sxy float64
	for _, b := range f.beats(l) {
		middle, weight := f.middle(b, reach*l.period)
		n := math.Round((b - l.phase) / l.period)
		sw += weight
		sx += weight * n
		sy += weight * (middle - b)
		sxx += weight * n * n
		sxy += weight * n * (middle - b)
	}
	spread := sw*sxx - sx*sx
	if sw == 0 || spread < 1e-9 {
		return l
	}
	slope := (sw*sxy - sx*sy) / spread
	l.phase += (sy - slope*sx) / sw
	l.period += slope
	return l
}

// middle returns the centre of the onsets around a time, and their summed strength.
func (f *finder) middle(time, reach float64) (middle, weight float64) {
	from, to := int(math.Ceil((time-reach)*perSecond)), int(math.Floor((time+reach)*perSecond))
	sum := 0.0
	for i := max(from, 0); i <= to && i < len(f.strength); i++ {
		if x := f.sharp[i]; x > 0 {
			weight += x
			sum += x * float64(i) / perSecond
		}
	}
	if weight == 0 {
		return time, 0
	}
	return sum / weight, weight
}
