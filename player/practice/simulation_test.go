package practice_test

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// skill is how well a simulated dancer knows a piece. Half of it is forgotten in
// halfLife days. Each run-through learns a share of what is missing, and one that
// goes well after some was forgotten makes the rest last longer. The schedule uses
// other laws.
type skill struct {
	knows    float64 // how likely it is to go well
	learns   float64
	halfLife float64
	last     int // day
}

func (s *skill) at(day int) float64 {
	return s.knows * math.Exp2(-float64(day-s.last)/s.halfLife)
}

// pass dances it once and reports whether that went well.
func (s *skill) pass(day int, chance *rand.Rand) bool {
	before := s.at(day)
	well := chance.Float64() < before
	if well {
		s.halfLife *= 1 + 2*(1-before)
	}
	s.knows, s.last = before+s.learns*(1-before), day
	return well
}

// dancer is a simulated dancer of one routine.
type dancer struct {
	timeline *player.Timeline
	skills   map[practice.Piece]*skill
	chance   *rand.Rand
	passes   []practice.Kept
	beats    routine.Beats // danced so far
}

// newDancer returns a dancer who finds some pieces easy and others hard.
func newDancer(timeline *player.Timeline, seed uint64) *dancer {
	d := &dancer{timeline: timeline, skills: map[practice.Piece]*skill{}, chance: rand.New(rand.NewPCG(seed, 1))}
	for _, pl := range practice.PlacesOf(timeline.Score) {
		ease := d.chance.Float64()
		d.skills[pl.Piece] = &skill{learns: 0.02 + 0.3*ease*ease, halfLife: 1 + 6*ease}
	}
	return d
}

// dance dances a part once and marks what went wrong.
func (d *dancer) dance(day int, part player.Interval, percent float64) {
	pass := danced(d.timeline, evening(day).Add(time.Duration(len(d.passes))*time.Second), part, percent)
	try := func(p practice.Piece, place int) {
		if s := d.skills[p]; s != nil && !s.pass(day, d.chance) {
			pass.Marks = append(pass.Marks, bothMark(place, p.Join())...)
		}
	}
	for i, fig := range pass.Danced {
		if i > 0 {
			try(practice.Piece{Figure: pass.Danced[i-1].Figure, Then: fig.Figure}, i)
		}
		if fig.Whole {
			try(practice.Piece{Figure: fig.Figure}, i)
		}
	}
	d.passes = append(d.passes, pass)
	d.beats += part.To - part.From
}

// holds reports whether all of the routine will still be known a week later, nine times in ten.
func (d *dancer) holds(day int) bool {
	for _, s := range d.skills {
		if s.at(day+7) < 0.9 {
			return false
		}
	}
	return true
}

const mostDays = 400

// minutes is how long the dancers practise each day.
const minutes = 15

// session returns what the plan would have a dancer do.
func session(d *dancer, day int) []practice.Exercise {
	past := practice.NewHistory(d.timeline.Score, d.passes, time.UTC)
	return practice.NewSession(d.timeline, past, practice.Wish{Now: evening(day), Minutes: minutes}).Exercises
}

// planned dances a session.
func planned(d *dancer, day int) { lead(d, day, session(d, day)) }

// plainly dances the routine over and over, as long each day as the plan would.
func plainly(d *dancer, day int) {
	until := d.beats
	for _, s := range session(d, day) {
		until += routine.Beats(s.Passes) * (s.Part.To - s.Part.From)
	}
	for d.beats < until {
		d.dance(day, whole(d.timeline), 100)
	}
}

// shuffled drills as much as the plan does, but figures chosen at random.
func shuffled(d *dancer, day int) {
	list := session(d, day)
	for i := range list {
		if k := list[i].Kind; k == practice.ShakyJoin || k == practice.DueFigure {
			at := d.chance.IntN(len(d.timeline.Score.Passages))
			if list[i].Part = d.timeline.Passage(at); at > 0 && k == practice.ShakyJoin {
				list[i].Part = d.timeline.Join(at - 1)
			}
		}
	}
	lead(d, day, list)
}

func lead(d *dancer, day int, list []practice.Exercise) {
	for _, s := range list {
		for pass := range s.Passes {
			d.dance(day, s.Part, s.Tempi.Of(pass))
		}
	}
}

// needed returns how much a dancer dances until the routine is known, in run-throughs of the whole of
// it, and how many days that takes.
func needed(t *testing.T, timeline *player.Timeline, seed uint64, practise func(*dancer, int)) (passes float64, days int) {
	t.Helper()
	d := newDancer(timeline, seed)
	for day := range mostDays {
		practise(d, day)
		if d.holds(day) {
			return float64(d.beats) / float64(timeline.End-timeline.Start), day + 1
		}
	}
	require.FailNow(t, "never known")
	return 0, 0
}

// TestThePlanSavesRunThroughs: dancers who forget at known rates learn a routine with less dancing by the
// plan than by plain repetition, or by drilling as much at random.
func TestThePlanSavesRunThroughs(t *testing.T) {
	dancers := 10
	if os.Getenv("THOROUGH") != "" {
		dancers = 20
	}
	for _, name := range []string{"lantern-night-cha-cha", "lantern-night-waltz"} {
		timeline := sheet(t, name)
		var toPlain []float64
		var total [3]float64
		for seed := range uint64(dancers) {
			plain, plainDays := needed(t, timeline, seed, plainly)
			plan, planDays := needed(t, timeline, seed, planned)
			chance, _ := needed(t, timeline, seed, shuffled)
			toPlain = append(toPlain, plan/plain)
			for i, x := range []float64{plain, plan, chance} {
				total[i] += x
			}
			t.Logf("%s, dancer %d: plainly %.0f passes in %d days, planned %.0f in %d, by chance %.0f", name, seed, plain, plainDays, plan, planDays, chance)
		}
		slices.Sort(toPlain)
		t.Logf("%s: with the plan %.2f of the passes of plain repetition (dancers: %.2f to %.2f), %.2f of those of drills by chance",
			name, total[1]/total[0], toPlain[0], toPlain[len(toPlain)-1], total[1]/total[2])
		assert.Less(t, total[1]/total[0], 0.9, name)
		assert.Less(t, total[1]/total[2], 0.9, name)
		assert.Less(t, toPlain[len(toPlain)*3/4], 1.0, name+": three of four dancers")
	}
}
