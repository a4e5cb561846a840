package practice_test

import (
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/testdata/thorough"
)

// dancer is a simulated dancer of one routine.
type dancer struct {
	timeline *player.Timeline
	skills   map[practice.Piece]skill
	chance   *rand.Rand
	parts    map[player.Interval][]practice.Danced
	passes   []practice.Kept
	beats    routine.Beats // danced so far
	seconds  float64
}

// newDancer returns a dancer who finds some pieces easy and others hard.
func newDancer(timeline *player.Timeline, l law, seed uint64) *dancer {
	d := &dancer{timeline: timeline, skills: map[practice.Piece]skill{}, chance: rand.New(rand.NewPCG(seed, 1)), parts: map[player.Interval][]practice.Danced{}}
	for _, pl := range practice.PlacesOf(timeline.Score) {
		d.skills[pl.Piece] = l.new(d.chance.Float64())
	}
	return d
}

// dance dances a part once and marks what went wrong; judged says whether the dancer is asked how the rest
// went.
func (d *dancer) dance(day int, part player.Interval, percent float64, judged bool) {
	figs := d.parts[part]
	if figs == nil {
		_, figs = practice.Part(d.timeline, part)
		d.parts[part] = figs
	}
	pass := practice.Kept{
		At: evening(day).Add(time.Duration(len(d.passes)) * time.Second), Took: time.Minute, Tempo: d.timeline.Score.Tempo.Scaled(percent),
		Finished: true, Danced: figs, Judged: [2]bool{judged, judged},
	}
	each := (d.timeline.Seconds(part.To) - d.timeline.Seconds(part.From)) / float64(len(figs))
	try := func(p practice.Piece, place int) {
		s := d.skills[p]
		if s == nil {
			return
		}
		well := d.chance.Float64() < s.knows(day, d.seconds)
		s.dance(day, d.seconds, well)
		if !well {
			pass.Marks = append(pass.Marks, bothMark(place, p.Join())...)
		}
	}
	for i, fig := range figs {
		if i > 0 {
			try(practice.Piece{Figure: figs[i-1].Figure, Then: fig.Figure}, i)
		}
		if fig.Whole {
			try(practice.Piece{Figure: fig.Figure}, i)
		}
		d.seconds += each
	}
	d.passes = append(d.passes, pass)
	d.beats += part.To - part.From
}

// holds reports whether all of the routine will still be known a week later, nine times in ten.
func (d *dancer) holds(day int) bool {
	for _, s := range d.skills {
		if s.knows(day+7, d.seconds) < 0.9 {
			return false
		}
	}
	return true
}

const mostDays = 150

// minutes is how long the dancers practise each day.
const minutes = 15

// tempo is the dancers' goal, and what they begin with, in per cent of the sheet's: what they learn is the
// routine, not its tempo.
const tempo = 70

// session returns what the plan would have a dancer do.
func session(d *dancer, day int) []practice.Exercise {
	past := practice.NewHistory(d.timeline.Score, d.passes, time.UTC)
	s := practice.NewSession(d.timeline, past, practice.Wish{Now: evening(day), Minutes: minutes, Goal: d.timeline.Score.Tempo.Scaled(tempo)})
	return s.Exercises
}

// planned dances a session.
func planned(d *dancer, day int) { lead(d, day, session(d, day)) }

// plainly dances the routine over and over for as long, with a bar before each run-through.
func plainly(d *dancer, day int) {
	t := d.timeline
	once := (t.Seconds(t.End) - t.Seconds(t.Start) + t.Score.Dance.Metre.Bar().Float()*60/t.Score.Tempo.Float()) * 100 / tempo
	for left := minutes * 60.0; left >= once; left -= once {
		d.dance(day, whole(t), tempo, true)
	}
}

func lead(d *dancer, day int, list []practice.Exercise) {
	for _, s := range list {
		for pass := range s.Passes {
			d.dance(day, s.Part, s.Tempi.Of(pass), s.Asks())
		}
	}
}

// needed returns how much a dancer dances until the routine is known, in run-throughs of the whole of
// it, and how many days that takes.
func needed(t *testing.T, d *dancer, practise func(*dancer, int)) (passes float64, days int) {
	t.Helper()
	for day := range mostDays {
		practise(d, day)
		if d.holds(day) {
			return float64(d.beats) / float64(d.timeline.End-d.timeline.Start), day + 1
		}
	}
	require.FailNow(t, "never known")
	return 0, 0
}

// TestThePlanSavesRunThroughs: dancers who learn and forget by laws other than the schedule's learn a
// routine with less dancing by the plan than by repeating it all in the same minutes. It takes more days:
// much of what the plan saves is what it leaves out when more is a waste on that day.
func TestThePlanSavesRunThroughs(t *testing.T) {
	dancers := uint64(4)
	if thorough.Asked() {
		dancers = 20
	}
	sheets := []*player.Timeline{sheet(t, "lantern-night-cha-cha"), sheet(t, "lantern-night-waltz")}
	for _, l := range laws {
		var plain, plan, most float64
		var days [2]int
		for seed := range dancers {
			timeline := sheets[seed%2]
			plainly, plainDays := needed(t, newDancer(timeline, l, seed), plainly)
			planned, planDays := needed(t, newDancer(timeline, l, seed), planned)
			plain, plan, most = plain+plainly, plan+planned, max(most, planned/plainly)
			days[0], days[1] = days[0]+plainDays, days[1]+planDays
			t.Logf("%s, dancer %d: plainly %.0f run-throughs in %d days, planned %.0f in %d: %.2f", l.name, seed, plainly, plainDays, planned, planDays, planned/plainly)
		}
		t.Logf("%s: with the plan %.2f of the run-throughs of plain repetition, at most %.2f, in %d days instead of %d", l.name, plan/plain, most, days[1]/int(dancers), days[0]/int(dancers))
		assert.LessOrEqual(t, plan/plain, 0.8, l.name)
		assert.LessOrEqual(t, most, 1.0, l.name+": nobody dances more")
	}
}
