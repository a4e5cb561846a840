package music

import (
	"math"
	"slices"
)

// reaches are how far around beats onsets are looked for, in parts of a beat, time after time.
var reaches = []float64{0.12, 0.08, 0.06}

// run is beats between which the music does not stop, in stretches whose beats are even.
type run struct {
	beats     []float64 // seconds
	stretches []int     // the first beat of each
	number    int       // of the first beat in its bar, from 0
}

// runs returns the beats of a song, and the margin by which they beat the best shift. They are the
// line's if the song is steady, or else those that are followed.
func (f *finder) runs(l line, r Range) (runs []run, by float64) {
	rows := f.pacer(l).row()
	for i, row := range rows {
		r := run{beats: row}
		for _, reach := range reaches {
			r = f.evened(r.beats, reach*l.period)
		}
		if runs = append(runs, r); i > 0 {
			runs[i-1].goOn(r.beats[0])
		}
	}
	by = f.shift(runs)
	if f.steady(l, runs) || !within(r, runs) {
		followed := runs[len(runs)-1].beats
		beats := f.beats(l) // while the last notes fade, nobody dances
		over, _ := slices.BinarySearch(beats, followed[len(followed)-1]+1.5*l.period)
		runs = []run{{beats: beats[:over], stretches: []int{0}}}
		by = f.shift(runs)
	}
	return runs, by
}

// within reports whether many of the beats are at a tempo in a range, and most at least near it.
func within(r Range, runs []run) bool {
	const many, almost, near = 0.25, 1.02, 1.1
	inside, around, n := 0.0, 0.0, 0.0
	for _, run := range runs {
		for i := range len(run.beats) - 1 {
			tempo := 60 / (run.beats[i+1] - run.beats[i])
			n++
			if tempo > r.Min/almost && tempo < r.Max*almost {
				inside++
			}
			if tempo > r.Min/near && tempo < r.Max*near {
				around++
			}
		}
	}
	return inside > many*n && around > n/2
}

// steady reports whether even beats are about as strong as those that were followed, where these
// are elsewhere. Upbeats, to which they may have slipped, are; after the tempo changed, even beats
// are soon nowhere. So it judges each part of a beat apart.
func (f *finder) steady(l line, runs []run) bool {
	const alike, weak, usual, fewest = 0.05, 0.3, 0.7, 5
	even, followed := map[float64][]float64{}, map[float64][]float64{} // by parts of a beat
	sum, n := 0.0, 0.0
	for _, r := range runs {
		sum, n = sum+f.swungMean(r.beats)*float64(len(r.beats)), n+float64(len(r.beats))
		for _, b := range r.beats {
			place := (b - l.phase) / l.period
			part := -1.0 // somewhere else
			for _, s := range append(shifts, 1) {
				if math.Abs(place-math.Floor(place)-s) < alike {
					part = math.Mod(s, 1)
				}
			}
			even[part] = append(even[part], l.phase+math.Round(place)*l.period)
			followed[part] = append(followed[part], b)
		}
	}
	delete(followed, 0)
	off := 0 // beats with which the even ones can't keep up
	for part, beats := range followed {
		here := f.swungMean(beats)
		if here > usual*sum/n && f.swungMean(slices.Compact(even[part])) < weak*here {
			off += len(beats)
		}
	}
	return off < fewest
}

// goOn adds the beats that are left out before the next run, if that begins in time.
func (r *run) goOn(next float64) {
	const inTime = 0.08 // of a beat
	n := len(r.beats)
	if n < 2 {
		return
	}
	period := r.beats[n-1] - r.beats[n-2]
	beats := math.Round((next - r.beats[n-1]) / period)
	if math.Abs(next-r.beats[n-1]-beats*period) > inTime*period {
		return
	}
	for i := 1.0; i < beats; i++ {
		r.beats = append(r.beats, r.beats[n-1]+i*(next-r.beats[n-1])/beats)
	}
}

// evened makes a row of beats even in as few stretches as their onsets allow: it minimises how
// far the beats are from the onsets around them, up to reach away, plus a cost for each stretch.
func (f *finder) evened(row []float64, reach float64) run {
	sums := f.sums(row, reach)
	const stretchCost, exact = 12, 0.012 // and how exactly onsets are heard, in seconds
	costs, from := make([]float64, len(row)+1), make([]int, len(row)+1)
	for to := 1; to <= len(row); to++ {
		costs[to] = math.Inf(1)
		for first := range to {
			if c := costs[first] + stretchCost + sums[to].less(sums[first]).apart()/(exact*exact); c < costs[to] {
				costs[to], from[to] = c, first
			}
		}
	}
	out := run{beats: make([]float64, len(row))}
	for to := len(row); to > 0; to = from[to] {
		line := sums[to].less(sums[from[to]])
		for i := from[to]; i < to; i++ {
			out.beats[i] = row[0] + line.at(float64(i))
		}
		out.stretches = append(out.stretches, from[to])
	}
	slices.Reverse(out.stretches)
	return out
}

// sums are weighted sums over beats, of which x is the number and y the time, to fit lines to.
type sums struct{ w, x, y, xx, xy, yy float64 }

func (s sums) less(o sums) sums {
	return sums{s.w - o.w, s.x - o.x, s.y - o.y, s.xx - o.xx, s.xy - o.xy, s.yy - o.yy}
}

// slope and at return the line's period, and the time of a beat.
func (s sums) slope() float64 {
	spread := s.w*s.xx - s.x*s.x
	if spread < 1e-9 {
		return 0 // one beat
	}
	return (s.w*s.xy - s.x*s.y) / spread
}

func (s sums) at(x float64) float64 { return (s.y + s.slope()*(s.w*x-s.x)) / s.w }

// apart returns the summed squares of how far the beats are from the line.
func (s sums) apart() float64 {
	return max(0, s.yy-s.y*s.y/s.w-s.slope()*(s.xy-s.x*s.y/s.w))
}

// sums returns the sums before each beat of a row and after the last. Times are from the first on.
func (f *finder) sums(row []float64, reach float64) []sums {
	out := make([]sums, len(row)+1)
	for i, b := range row {
		y, w := f.middle(b, reach)
		w = min(w/4, 1) + 0.05
		x, s := float64(i), out[i]
		y -= row[0]
		out[i+1] = sums{s.w + w, s.x + w*x, s.y + w*y, s.xx + w*x*x, s.xy + w*x*y, s.yy + w*y*y}
	}
	return out
}

// shift moves each run by the likeliest part of a beat, and returns the mean margin by which the
// beats then beat the next best shift.
func (f *finder) shift(runs []run) (by float64) {
	const slipped = 20 // what a change from one run to the next must bring
	scores := make([][]float64, len(runs))
	for i, r := range runs {
		rows := make([][]float64, len(shifts))
		for j, s := range shifts {
			rows[j] = shifted(r.beats, s)
		}
		scores[i] = f.likely(rows)
		scale(scores[i], float64(len(r.beats)))
	}
	chosen, by := choose(scores, slipped)
	for i, r := range runs {
		runs[i].beats = shifted(r.beats, shifts[chosen[i]])
		for j, first := range r.stretches {
			runs[i].stretches[j] = min(first, max(len(runs[i].beats)-1, 0))
		}
	}
	return by / beatsOf(runs)
}

// number numbers the beats of each run by where the harmony changes, and returns the mean margin
// by which these bars beat the next best. Bars go on after a stop unless the harmony says otherwise.
func (f *finder) number(runs []run) (by float64) {
	const broken = 8 // what other bars from one run to the next must bring
	scores := make([][]float64, len(runs))
	first := 0 // beat of the run, counted from that of the song
	for i, r := range runs {
		scores[i] = make([]float64, f.metre)
		for place, s := range f.harmony.barStarts(f.metre, r.beats)[0] {
			scores[i][mod(first+place, f.metre)] = s
		}
		scale(scores[i], float64(len(r.beats)))
		first += len(r.beats)
	}
	chosen, by := choose(scores, broken)
	first = 0
	for i, r := range runs {
		runs[i].number = mod(first-chosen[i], f.metre)
		first += len(r.beats)
	}
	return by / beatsOf(runs)
}

func beatsOf(runs []run) (n float64) {
	for _, r := range runs {
		n += float64(len(r.beats))
	}
	return max(n, 1)
}

func scale(values []float64, by float64) {
	for i := range values {
		values[i] *= by
	}
}

// choose returns the choice in each row that has the most in sum, where another choice than in the
// row before costs as much as dear. By is how far these are ahead of the next best in each row.
func choose(rows [][]float64, dear float64) (chosen []int, by float64) {
	if len(rows) == 0 {
		return nil, 0
	}
	sums, from := slices.Clone(rows[0]), make([][]int, len(rows))
	for i, row := range rows[1:] {
		best, _ := lead(sums)
		next := slices.Clone(row)
		from[i+1] = make([]int, len(row))
		for k := range next {
			from[i+1][k] = k
			if sums[best]-dear > sums[k] {
				from[i+1][k] = best
			}
			next[k] += max(sums[k], sums[best]-dear)
		}
		sums = next
	}
	chosen = make([]int, len(rows))
	best, _ := lead(sums)
	for i := len(rows) - 1; i >= 0; i-- {
		chosen[i] = best
		others := math.Inf(-1)
		for k, x := range rows[i] {
			if k != best {
				others = max(others, x)
			}
		}
		if len(rows[i]) > 1 {
			by += rows[i][best] - others
		}
		if i > 0 {
			best = from[i][best]
		}
	}
	return chosen, by
}

// late is by how much, in seconds, onsets are taken to be heard late: instruments are, by 7 ms on
// average, and clicks are heard 6 ms early.
const late = 0.004

// grid makes a grid of the beats of runs.
func (f *finder) grid(runs []run) Grid {
	g := Grid{Rate: f.songRate, Frames: f.frames, Metre: f.metre}
	var beats []float64
	for _, r := range runs {
		beats = append(beats, r.beats...)
		for i, b := range r.beats {
			if frame := f.frame(b - late); len(g.Beats) == 0 || frame > g.Beats[len(g.Beats)-1].Frame {
				g.Beats = append(g.Beats, Beat{frame, mod(r.number+i, f.metre) + 1})
			}
		}
	}
	g.Steady, g.Doubtful = f.steadyIn(runs), f.doubtful(runs)
	g.Strength, g.Tempo = f.evenStrength(beats), g.usualTempo()
	return g
}

// steadyIn returns the steady stretches of runs.
func (f *finder) steadyIn(runs []run) (steady []Stretch) {
	const shortest, most = 10, 0.5 // seconds, and of the song
	sum := 0.0
	for _, r := range runs {
		for i, first := range r.stretches {
			last := len(r.beats) - 1
			if i+1 < len(r.stretches) {
				last = r.stretches[i+1]
			}
			if lasts := r.beats[last] - r.beats[first]; lasts >= shortest {
				sum += lasts
				steady = append(steady, Stretch{f.frame(r.beats[first] - late), f.frame(r.beats[last] - late)})
			}
		}
	}
	if sum < most*(f.to-f.from) {
		return nil
	}
	return steady
}

// doubtful returns where beats are a guess: stops, and stretches of a few beats.
func (f *finder) doubtful(runs []run) (doubts []Stretch) {
	const few = 6
	add := func(from, to float64) {
		s := Stretch{f.frame(from - late), f.frame(to - late)}
		if n := len(doubts); n > 0 && doubts[n-1].To >= s.From {
			doubts[n-1].To = s.To
		} else if s.From < s.To {
			doubts = append(doubts, s)
		}
	}
	for i, r := range runs {
		last := len(r.beats) - 1
		for j, first := range r.stretches {
			to := last
			if j+1 < len(r.stretches) {
				to = r.stretches[j+1]
			}
			if to-first < few {
				add(r.beats[first], r.beats[to])
			}
		}
		if i+1 < len(runs) && len(runs[i+1].beats) > 0 {
			add(r.beats[last], runs[i+1].beats[0])
		}
	}
	return doubts
}
