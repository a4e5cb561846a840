package motion_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/motion"
)

// shipped is the library of all tests: its chapters are read once.
var shipped = library.Open()

// danced is a motion and what it shows.
type danced struct {
	name   string
	motion *motion.Motion
	path   *floor.Path
	beat   float64 // its length in seconds
}

func newDanced(name string, s *routine.Score) danced {
	path := floor.Trace(s)
	return danced{name, motion.New(path), path, 60 / s.Tempo.Float()}
}

// all returns the motion of every figure of the library from each position in which it may
// begin, and of every example sheet.
func all(t testing.TB) (list []danced) {
	for _, dance := range shipped.Dances() {
		c, ok := shipped.Chapter(dance)
		require.True(t, ok)
		for _, fig := range c.Figures {
			starts := []routine.PositionSet{fig.Starts.Positions}
			if ps := fig.Starts.Positions; ps != 0 && !ps.Unknown() {
				starts = starts[:0]
				for p := range ps.Positions() {
					starts = append(starts, 1<<p)
				}
			}
			for _, from := range starts {
				list = append(list, newDanced(fmt.Sprintf("%s, %s, from %s", dance, fig.Name, from), fig.Alone(c.Dance, c.Dance.Stride, from)))
			}
		}
	}
	require.Greater(t, len(list), 300)
	for _, name := range shipped.Sheets() {
		list = append(list, newDanced(name, sheet(t, name)))
	}
	return list
}

func sheet(t testing.TB, name string) *routine.Score {
	src, err := shipped.Sheet(name)
	require.NoError(t, err)
	score, _ := check.Sheet(name, src, shipped)
	require.NotEmpty(t, score.Passages)
	return score
}

// rows calls do for each row of a path: the couple before it and after, and its beat.
func rows(path *floor.Path, do func(p *routine.Passage, k int, couples []floor.Couple, beat float64)) {
	for i := range path.Score.Passages {
		p := &path.Score.Passages[i]
		couples := path.Passage(i)
		for k := range couples[1:] {
			do(p, k, couples, p.At(p.From+k).Float())
		}
	}
}

// footMoves returns the foot that a step puts somewhere.
func footMoves(s *routine.Step) routine.Foot {
	if s.Stands() || s.Pivots() {
		return routine.NoFoot
	}
	return s.Foot
}

const exact = 1e-9 // cm

func sameDirection(d routine.Direction, angle float64) bool {
	return math.Abs(math.Remainder(angle-float64(d), 8)) < exact
}

// TestFeetArriveOnTheirBeat checks feet and bodies against the path: bodies on every beat,
// and feet on the last beat before they move on.
func TestFeetArriveOnTheirBeat(t *testing.T) {
	seen := 0
	for _, m := range all(t) {
		rows(m.path, func(p *routine.Passage, k int, couples []floor.Couple, beat float64) {
			s := m.motion.At(beat, m.beat)
			for q, d := range couples[k+1] {
				at := fmt.Sprintf("%s, row %d, %s", m.name, k, routine.Partner(q))
				require.InDelta(t, 0, d.Body.Distance(s.Couple[q].Body.At), exact, at)
				require.True(t, sameDirection(d.Facing, s.Couple[q].Body.Angle), at)
				for f := range s.Couple[q].Feet {
					foot := routine.LF + routine.Foot(f)
					require.True(t, sameDirection(d.Foot(foot).Toward, s.Couple[q].Feet[f].Angle), at)
					require.Zero(t, math.Round(1e9*s.Couple[q].Feet[f].Lift), at)
					if next := p.From + k + 1; next < p.To && footMoves(&p.Figure.Rows[next].Steps[q]) == foot {
						require.InDelta(t, 0, d.Foot(foot).At.Distance(s.Couple[q].Feet[f].At), exact, at)
						seen++
					}
				}
			}
		})
	}
	assert.Greater(t, seen, 2000)
}

// TestAFootThatStandsDoesNotSlide looks at every foot between the beats on which it does
// not move.
func TestAFootThatStandsDoesNotSlide(t *testing.T) {
	seen := 0
	for _, m := range all(t) {
		for i := 1; i <= m.motion.Steps(); i++ {
			from, before := m.motion.Step(i - 1)
			to, after := m.motion.Step(i)
			p := &m.path.Score.Passages[after.Passage]
			if before.Passage != after.Passage && !p.Joined {
				continue
			}
			for _, part := range [...]float64{0.3, 0.8, 0.97, 1} {
				s := m.motion.At(from+part*(to-from), m.beat)
				for q := range s.Couple {
					for f := range s.Couple[q].Feet {
						if footMoves(&p.Figure.Rows[after.Row].Steps[q]) == routine.LF+routine.Foot(f) {
							continue
						}
						slid := before.Couple[q].Feet[f].At.Distance(s.Couple[q].Feet[f].At)
						require.InDelta(t, 0, slid, exact, "%s, row %d, %s", m.name, after.Row, routine.Partner(q))
						seen++
					}
				}
			}
		}
	}
	assert.Greater(t, seen, 10000)
}

// fastest is the greatest speed of a foot in the library, in centimetres a second, as
// measured: steps of a quarter of a beat.
const fastest = 1500.0

// TestNothingJumps looks at the couple a hundred times a beat, over passages, and before and
// after them.
func TestNothingJumps(t *testing.T) {
	const apart = 0.01 // beats
	top := 0.0
	unfit, found := check.Sheet("boathouse.md", []byte("---\ndance: waltz\nfaces: DW\n---\n\n## Order\n\n1. Natural turn\n1. Chassé from promenade\n1. Whisk\n"), shipped)
	require.NotEmpty(t, found)
	require.False(t, unfit.Passages[1].Joined, "the couple has to stand anew")
	for _, m := range append(all(t), newDanced("figures that do not fit", unfit)) {
		start, end := m.path.Score.Start.Float()-3, m.path.Score.End.Float()+2
		most := fastest * apart * m.beat
		last := m.motion.At(start, m.beat)
		for beat := start; beat < end; beat += apart {
			s := m.motion.At(beat, m.beat)
			for q := range s.Couple {
				now, was := &s.Couple[q], &last.Couple[q]
				far := now.Body.At.Distance(was.Body.At)
				for f := range now.Feet {
					far = max(far, now.Feet[f].At.Distance(was.Feet[f].At))
				}
				if top = max(top, far/apart/m.beat); far > most || math.Abs(now.Body.Angle-was.Body.Angle) > 1 {
					require.Fail(t, "a jump", "%s, beat %.2f", m.name, beat)
				}
			}
			for i, h := range s.Holds {
				was, same := last.Holds[i], last.Holds[i].Leader == h.Leader && last.Holds[i].Follower == h.Follower
				if same && h.At.Distance(was.At) > 2*most || !same && was.Firm+h.Firm > 0.5 {
					require.Fail(t, "hands jump", "%s, beat %.2f", m.name, beat)
				}
			}
			last = s
		}
	}
	t.Logf("fastest foot: %.1f m/s", top/100)
}

// TestBodiesTurnAsTheChartSays adds up the turns of each figure. A body whose foot points
// completes its turn on the next step, and a partner's in a closed hold with it.
func TestBodiesTurnAsTheChartSays(t *testing.T) {
	for _, m := range all(t) {
		for i := range m.path.Score.Passages {
			p := &m.path.Score.Passages[i]
			before := m.motion.At(m.motion.Before(p.Start.Float()), m.beat)
			turned := [2]float64{}
			for row := p.From; row < p.To; row++ {
				s := m.motion.At(p.At(row).Float(), m.beat)
				for q := range s.Couple {
					step := &p.Figure.Rows[row].Steps[q]
					turned[q] += float64(step.Turns())
					late := turned[q] - (s.Couple[q].Body.Angle - before.Couple[q].Body.Angle)
					if i > 0 && row == p.From && late != 0 {
						turned[q], late = turned[q]-late, 0 // what the passage before left
					}
					at := fmt.Sprintf("%s, row %d, %s", m.name, row, routine.Partner(q))
					if pointing := func(q int) bool { return p.Figure.Rows[row].Steps[q].Alignment.Stand == routine.Pointing }; pointing(0) || pointing(1) {
						require.LessOrEqual(t, math.Abs(late), 1+exact, at)
					} else {
						require.InDelta(t, 0, late, exact, at)
					}
				}
			}
		}
	}
}

// TestAFootGoesRoundTheOther measures how near the middle of a foot comes to that of the
// standing foot, whose length counts 1/1.8: to 9 cm or, if it begins or ends near it, to
// four fifths of that distance.
func TestAFootGoesRoundTheOther(t *testing.T) {
	const room = 9.0 // cm
	swings, least := 0, math.Inf(1)
	for _, m := range all(t) {
		for i := 1; i <= m.motion.Steps(); i++ {
			from, before := m.motion.Step(i - 1)
			to, after := m.motion.Step(i)
			for q := range after.Couple {
				foot := footMoves(&m.path.Score.Passages[after.Passage].Figure.Rows[after.Row].Steps[q])
				if foot == routine.NoFoot {
					continue
				}
				f := foot - routine.LF
				swings++
				off := func(s *motion.Scene) float64 {
					stand := s.Couple[q].Feet[1-f]
					stand.Angle = (before.Couple[q].Feet[1-f].Angle + after.Couple[q].Feet[1-f].Angle) / 2
					by := s.Couple[q].Feet[f].At.Minus(stand.At)
					ahead := motion.Toward(stand.Angle)
					return math.Hypot((by.X*ahead.X+by.Y*ahead.Y)/1.8, by.Y*ahead.X-by.X*ahead.Y)
				}
				ends := min(room, 0.8*off(&before), 0.8*off(&after))
				for k := range 201 {
					s := m.motion.At(from+(to-from)*float64(k)/200, m.beat)
					near := off(&s)
					if ends == room {
						least = min(least, near)
					}
					if near < ends-0.6 {
						require.Fail(t, "through the standing foot", "%s, row %d, %s: %.1f cm", m.name, after.Row, routine.Partner(q), near)
					}
				}
			}
		}
	}
	t.Logf("%d swings; the nearest of those that begin and end %g cm off or more: %.1f cm", swings, room, least)
	assert.Greater(t, swings, 3000)
}

// TestALoopHasNoSeam checks that the couple at the end of a loop is the couple at its start,
// seen from elsewhere.
func TestALoopHasNoSeam(t *testing.T) {
	for _, name := range shipped.Sheets() {
		m := newDanced(name, sheet(t, name))
		for i := range m.path.Score.Passages {
			p := &m.path.Score.Passages[i]
			for _, from := range []routine.Beats{p.Start, p.Start + routine.Beat/2} {
				loop := m.motion.Looped(from, p.End, false)
				start, end := loop.At(from.Float(), m.beat), loop.At(p.End.Float()-1e-9, m.beat)
				a, b := start.Couple[routine.Leader].Body, end.Couple[routine.Leader].Body
				turn := b.Angle - a.Angle
				for q := range start.Couple {
					for f := range start.Couple[q].Feet {
						x, y := start.Couple[q].Feet[f], end.Couple[q].Feet[f]
						assert.InDelta(t, 0, seen(x.At.Minus(a.At), turn).Distance(y.At.Minus(b.At)), 1e-3, "%s, %s", name, p.Figure.Name)
						assert.InDelta(t, 0, math.Remainder(y.Angle-x.Angle-turn, 8), 1e-3, "%s, %s", name, p.Figure.Name)
					}
				}
				rests := m.motion.Looped(from, p.End, true)
				assert.Equal(t, loop.Steps()-1, rests.Steps())
				whole := loop.At(p.End.Float()-1e-9, m.beat).Couple[routine.Leader].Next
				_, first := loop.Step(1)
				assert.Equal(t, first.Row, whole.Row, "the first step is next")
				last := loop.At(from.Float(), m.beat)
				for beat := from.Float(); beat < p.End.Float(); beat += 0.01 {
					s := loop.At(beat, m.beat)
					for q := range s.Couple {
						for f := range s.Couple[q].Feet {
							far := s.Couple[q].Feet[f].At.Distance(last.Couple[q].Feet[f].At)
							require.LessOrEqual(t, far, fastest*0.01*m.beat)
						}
					}
					last = s
				}
			}
		}
	}
}

// seen returns p turned by eighths.
func seen(p floor.Point, eighths float64) floor.Point {
	c, s := motion.Toward(eighths).X, motion.Toward(eighths).Y
	return floor.Point{X: p.X*c - p.Y*s, Y: p.X*s + p.Y*c}
}

func TestBeforeAndAfterTheCoupleStands(t *testing.T) {
	m := newDanced("", sheet(t, shipped.Sheets()[0]))
	start := m.motion.At(-100, m.beat)
	for q, d := range m.path.Start(0) {
		assert.Equal(t, d.Body, start.Couple[q].Body.At)
	}
	assert.Equal(t, start, m.motion.At(m.motion.Before(m.path.Score.Start.Float()), m.beat))
	assert.Equal(t, -1, start.Row)
	end := m.motion.At(1e6, m.beat)
	for q, d := range m.path.End {
		assert.Equal(t, d.Body, end.Couple[q].Body.At)
		assert.Equal(t, routine.NoFoot, end.Couple[q].Next.Foot)
	}
}

func TestAtDoesNotAllocate(t *testing.T) {
	m := newDanced("", sheet(t, shipped.Sheets()[0]))
	var s motion.Scene
	assert.Zero(t, testing.AllocsPerRun(100, func() { s = m.motion.At(5.3, m.beat) }))
	assert.NotZero(t, s.Couple[0].Body)
}

func BenchmarkNew(b *testing.B) {
	path := floor.Trace(sheet(b, shipped.Sheets()[0]))
	for b.Loop() {
		motion.New(path)
	}
}

func BenchmarkAt(b *testing.B) {
	m := newDanced("", sheet(b, shipped.Sheets()[0]))
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		m.motion.At(float64(i%1000)/20, m.beat)
	}
}
