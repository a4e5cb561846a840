package practice_test

import (
	"encoding/json"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

func kinds(s practice.Session) (list []practice.Kind) {
	for _, st := range s.Exercises {
		list = append(list, st.Kind)
	}
	return list
}

// sections returns the kinds of exercises, each named once for all that follow each other, without breathers.
func sections(s practice.Session) []practice.Kind {
	return slices.Compact(slices.DeleteFunc(kinds(s), func(k practice.Kind) bool { return k == practice.Breather }))
}

func none(timeline *player.Timeline) *practice.History {
	return practice.NewHistory(timeline.Score, nil, time.UTC)
}

func TestTheFirstSession(t *testing.T) {
	timeline := read(t, boathouse)
	s := practice.NewSession(timeline, none(timeline), practice.Wish{Now: evening(0), Minutes: 12})
	assert.Equal(t, []practice.Kind{practice.WarmUp, practice.DueFigure, practice.Mixed, practice.Whole}, sections(s))
	assert.Equal(t, 70.0, s.Level)
	assert.Equal(t, 75.0, s.Today)
	assert.Equal(t, "new", s.Exercises[1].Why)
	assert.Equal(t, "Closed basic", s.Exercises[1].What)
	assert.Equal(t, "the whole routine", s.Exercises[0].What)
	assert.Empty(t, s.Why)
	assert.Empty(t, s.Tomorrow)
	for _, st := range s.Exercises {
		assert.True(t, st.ByHeart == 0 || st.Kind == practice.Mixed, "what is new is not asked by heart before it was shown")
	}
}

// TestShakyJoinsComeFirst, and what was clean until yesterday is not repeated.
func TestShakyJoinsComeFirst(t *testing.T) {
	timeline := read(t, boathouse)
	passes := []practice.Kept{
		danced(timeline, evening(0), whole(timeline), 80),
		danced(timeline, evening(0).Add(time.Minute), whole(timeline), 90, append(bothMark(2, true), bothMark(3, false)...)...),
	}
	past := practice.NewHistory(timeline.Score, passes, time.UTC)
	s := practice.NewSession(timeline, past, practice.Wish{Now: evening(1), Minutes: 15})
	assert.Equal(t, []practice.Kind{practice.WarmUp, practice.ShakyJoin, practice.InPlace, practice.DueFigure, practice.InPlace, practice.Mixed,
		practice.TempoLadder, practice.Whole}, sections(s))
	assert.Equal(t, "Boathouse step into Closed basic", s.Exercises[1].What)
	assert.Equal(t, timeline.Join(1), s.Exercises[1].Part)
	assert.Equal(t, "Boathouse step to Closed basic", s.Exercises[2].What)
	assert.Equal(t, "Time step", s.Exercises[3].What)
	assert.Equal(t, 90.0, s.Exercises[3].Tempi.Top, "it went wrong at that tempo")
	assert.Equal(t, 1, s.Exercises[len(s.Exercises)-1].ByHeart, "shown without the sheet")
	assert.Equal(t, 80.0, s.Level)
	assert.Equal(t, 85.0, s.Today)
}

// TestTheGoalByADate: each day gets its share of the way.
func TestTheGoalByADate(t *testing.T) {
	timeline := read(t, boathouse)
	passes := []practice.Kept{danced(timeline, evening(0), whole(timeline), 80)}
	past := practice.NewHistory(timeline.Score, passes, time.UTC)
	goal, _, err := routine.ParseTempo("30 bars/min", timeline.Score.Dance.Metre)
	require.NoError(t, err)
	for days, want := range map[int]float64{19: 81, 4: 84, 0: 100, -3: 100} {
		s := practice.NewSession(timeline, past, practice.Wish{Now: evening(1), Minutes: 15, Goal: goal, By: evening(1 + days)})
		assert.Equal(t, want, s.Today, "%d days", days)
		assert.Equal(t, 100.0, s.Goal)
	}
	s := practice.NewSession(timeline, past, practice.Wish{Now: evening(1), Minutes: 15, Goal: goal * 7 / 10})
	assert.Equal(t, []float64{70, 70, 70}, []float64{s.Level, s.Today, s.Goal})
	assert.NotContains(t, kinds(s), practice.TempoLadder, "it is there already")
}

// TestACouple gets first what both need, and each alone what only one needs.
func TestACouple(t *testing.T) {
	timeline := read(t, boathouse)
	leader := func(place int) practice.Mark { return practice.Mark{Place: place, Partner: routine.Leader} }
	follower := func(place int) practice.Mark { return practice.Mark{Place: place, Partner: routine.Follower} }
	passes := []practice.Kept{danced(timeline, evening(0), whole(timeline), 80, leader(0), leader(1), follower(3), leader(3))}
	past := practice.NewHistory(timeline.Score, passes, time.UTC)
	s := practice.NewSession(timeline, past, practice.Wish{Now: evening(1), Minutes: 20, Couple: true})
	var figures []practice.Exercise
	for _, st := range s.Exercises {
		if st.Kind == practice.DueFigure {
			figures = append(figures, st)
		}
	}
	require.Len(t, figures, 3)
	assert.Equal(t, "Time step", figures[0].What)
	assert.Equal(t, routine.Both, figures[0].Dancers)
	assert.Equal(t, "it went wrong, for both", figures[0].Why)
	assert.Equal(t, routine.LeaderAlone, figures[1].Dancers)
	assert.Equal(t, "it went wrong, for the leader", figures[1].Why)

	alone := practice.NewSession(timeline, past, practice.Wish{Now: evening(1), Minutes: 20, Dancers: routine.FollowerAlone})
	for _, st := range alone.Exercises {
		assert.False(t, st.What == "Boathouse step" && st.Why != "not yet at today's tempo", "only the leader marked it")
	}
}

// TestASessionIsFairToBoth partners, if it is too short for what each of them needs.
func TestASessionIsFairToBoth(t *testing.T) {
	timeline := longRoutine(t, 24)
	var marks []practice.Mark
	for i := range 16 {
		partner := routine.Leader
		if i >= 8 {
			partner = routine.Follower
		}
		marks = append(marks, practice.Mark{Place: i, Partner: partner})
	}
	past := practice.NewHistory(timeline.Score, []practice.Kept{danced(timeline, evening(0), whole(timeline), 80, marks...)}, time.UTC)
	s := practice.NewSession(timeline, past, practice.Wish{Now: evening(1), Minutes: 20, Couple: true})
	var alone [2]int
	for _, st := range s.Exercises {
		if partners := st.Dancers.Partners(); len(partners) == 1 && st.Kind == practice.DueFigure {
			alone[partners[0]]++
		}
	}
	assert.NotEmpty(t, s.Tomorrow)
	assert.Positive(t, alone[routine.Follower])
	assert.InDelta(t, alone[routine.Leader], alone[routine.Follower], 1)
}

// TestPartsAreSwapped for those who dance both, and for nobody else.
func TestPartsAreSwapped(t *testing.T) {
	timeline := read(t, boathouse)
	w := practice.Wish{Now: evening(0), Minutes: 45, Dancers: routine.LeaderAlone}
	assert.NotContains(t, kinds(practice.NewSession(timeline, none(timeline), w)), practice.Swapped)
	w.Swap = true
	s := practice.NewSession(timeline, none(timeline), w)
	require.Contains(t, kinds(s), practice.Swapped)
	for _, st := range s.Exercises {
		if st.Kind == practice.Swapped {
			assert.Equal(t, routine.FollowerAlone, st.Dancers)
		}
	}
}

// TestAMarkIsPractised until its figure was danced clean at the tempo at which it was marked.
func TestAMarkIsPractised(t *testing.T) {
	timeline := read(t, boathouse)
	kept := []practice.Kept{danced(timeline, evening(0), whole(timeline), 100, bothMark(1, false)...)}
	practised := func() (top float64) {
		past := practice.NewHistory(timeline.Score, kept, time.UTC)
		for _, st := range practice.NewSession(timeline, past, practice.Wish{Now: evening(len(kept)), Minutes: 15}).Exercises {
			if st.Why == "it went wrong" && st.Kind == practice.DueFigure {
				top = st.Tempi.Top
			}
		}
		return top
	}
	assert.Equal(t, 100.0, practised())
	for range 6 {
		kept = append(kept, danced(timeline, evening(len(kept)), whole(timeline), 90))
	}
	assert.Equal(t, 100.0, practised(), "it went well, but only slower")
	kept = append(kept, danced(timeline, evening(len(kept)), whole(timeline), 100))
	assert.Zero(t, practised())
}

// TestASessionIsLeftAndResumed, written to JSON in between.
func TestASessionIsLeftAndResumed(t *testing.T) {
	timeline := read(t, boathouse)
	s := practice.NewSession(timeline, none(timeline), practice.Wish{Now: evening(0), Minutes: 12})
	var danced []practice.Exercise
	for {
		text, err := json.Marshal(s)
		require.NoError(t, err)
		var again practice.Session
		require.NoError(t, json.Unmarshal(text, &again))
		require.Equal(t, s, again)
		next, ok := again.Next()
		if !ok {
			break
		}
		danced = append(danced, next)
		s = again.After(true)
	}
	assert.Equal(t, s.Exercises, danced)
	assert.Equal(t, s, s.After(true))
}

// TestAnySessionKeepsItsPromises for any routine and history.
func TestAnySessionKeepsItsPromises(t *testing.T) {
	lines := []*player.Timeline{read(t, boathouse)}
	for _, name := range shipped().Sheets() {
		lines = append(lines, sheet(t, name))
	}
	rapid.Check(t, func(t *rapid.T) {
		timeline := lines[rapid.IntRange(0, len(lines)-1).Draw(t, "sheet")]
		chance := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		var passes []practice.Kept
		for i := range rapid.IntRange(0, 30).Draw(t, "passes") {
			p := danced(timeline, evening(i/3).Add(time.Duration(i)*time.Minute), whole(timeline), 60+40*chance.Float64())
			for place := range p.Danced {
				if chance.IntN(4) == 0 {
					p.Marks = append(p.Marks, practice.Mark{Place: place, Join: place > 0 && chance.IntN(2) == 0, Partner: routine.Partner(chance.IntN(2))})
				}
			}
			passes = append(passes, p)
		}
		past := practice.NewHistory(timeline.Score, passes, time.UTC)
		w := practice.Wish{
			Now: evening(12), Minutes: float64(rapid.IntRange(1, 90).Draw(t, "minutes")), Couple: rapid.Bool().Draw(t, "couple"),
			Every: time.Duration(rapid.IntRange(0, 10).Draw(t, "every")) * time.Minute,
		}
		s := practice.NewSession(timeline, past, w)
		require.Equal(t, s, practice.NewSession(timeline, past, w), "the same again")
		last := s.Exercises[len(s.Exercises)-1]
		assert.Equal(t, practice.Whole, last.Kind)
		assert.Equal(t, whole(timeline), last.Part)
		if s.Takes().Minutes() > w.Minutes {
			assert.Equal(t, 1, last.Passes, "no time for more than the routine once")
			assert.Len(t, s.Exercises, 1)
		}
		for _, st := range s.Exercises {
			if st.Kind == practice.Breather {
				continue
			}
			assert.Positive(t, st.Passes)
			assert.Positive(t, st.Takes)
			assert.False(t, st.Part.Empty())
			assert.LessOrEqual(t, st.Tempi.Start, st.Tempi.Top)
			switch st.Kind {
			case practice.Varied:
				assert.Greater(t, st.Tempi.Top, s.Today)
				assert.Less(t, st.Tempi.Start, s.Today)
			case practice.WarmUp, practice.TempoLadder, practice.Whole, practice.Ending:
				assert.LessOrEqual(t, st.Tempi.Top, max(s.Today, s.Level))
			default:
				assert.LessOrEqual(t, st.Tempi.Top, max(s.Today, 100), "nobody danced faster")
			}
			assert.LessOrEqual(t, st.ByHeart, st.Passes)
			assert.GreaterOrEqual(t, st.Tempi.Start, player.SlowestPercent)
			assert.NotEmpty(t, st.Why)
		}
	})
}

// TestBreathersAreBetween exercises, so that nobody dances much longer than wished.
func TestBreathersAreBetween(t *testing.T) {
	timeline := sheet(t, "lantern-night-waltz")
	s := practice.NewSession(timeline, none(timeline), practice.Wish{Now: evening(0), Minutes: 45, Every: 3 * time.Minute})
	list := kinds(s)
	assert.Contains(t, list, practice.Breather)
	assert.NotEqual(t, practice.Breather, list[0])
	assert.NotEqual(t, practice.Breather, list[len(list)-1])
	for i := range list[1:] {
		assert.False(t, list[i] == practice.Breather && list[i+1] == practice.Breather)
	}
}

func TestNothingDanced(t *testing.T) {
	timeline := player.NewTimeline(&routine.Score{Sheet: routine.Sheet{Dance: read(t, boathouse).Score.Dance, Tempo: 120 * routine.BeatPerMinute}})
	s := practice.NewSession(timeline, practice.NewHistory(timeline.Score, nil, time.UTC), practice.Wish{Now: evening(0), Minutes: 15})
	assert.Empty(t, s.Exercises)
}

// TestDrills go from slow and alone to the whole.
func TestDrills(t *testing.T) {
	timeline := sheet(t, "lantern-night-cha-cha")
	last := len(timeline.Score.Passages)
	type shape struct {
		part       player.Interval
		start, top float64
		passes     int
	}
	shapes := func(list []practice.Exercise) (out []shape) {
		for _, s := range list {
			assert.Equal(t, practice.Drill, s.Kind)
			out = append(out, shape{s.Part, s.Tempi.Start, s.Tempi.Top, s.Passes})
		}
		return out
	}
	around := player.Interval{From: timeline.Passage(2).From, To: timeline.Passage(4).To}
	assert.Equal(t, []shape{{timeline.Passage(3), 60, 80, 3}, {timeline.Passage(3), 80, 80, 2}, {around, 80, 80, 2}, {whole(timeline), 80, 80, 1}},
		shapes(practice.Drills(timeline, practice.Place{Passage: 3}, routine.Both, 80)))
	both := player.Interval{From: timeline.Passage(2).From, To: timeline.Passage(3).To}
	assert.Equal(t, []shape{{timeline.Join(2), 75, 100, 3}, {timeline.Join(2), 100, 100, 2}, {both, 100, 100, 2}, {whole(timeline), 100, 100, 1}},
		shapes(practice.Drills(timeline, practice.Place{Passage: 3, Join: true}, routine.Both, 100)))
	for i := range last {
		for _, join := range []bool{false, i > 0} {
			list := practice.Drills(timeline, practice.Place{Passage: i, Join: join}, routine.LeaderAlone, 90)
			assert.Equal(t, whole(timeline), list[len(list)-1].Part)
			assert.Equal(t, routine.LeaderAlone, list[0].Dancers)
		}
	}
}

// TestSettings: the player's ladder has a rung for each run-through of the exercise.
func TestSettings(t *testing.T) {
	timeline := read(t, boathouse)
	s := practice.NewSession(timeline, none(timeline), practice.Wish{Now: evening(0), Minutes: 12})
	figure := s.Exercises[1]
	set := figure.Settings()
	assert.Equal(t, figure.Part, set.Loop)
	assert.Equal(t, player.Ladder{Start: 60, Gain: 5, Top: 70, Times: 1}, set.Ladder)
	assert.Equal(t, 1, set.Rest)
	assert.Equal(t, figure.Passes, set.Ladder.Rungs(), "the last pass is on the last rung")
	assert.Equal(t, s.Exercises[0].Part, s.Exercises[0].Settings().Loop)
	assert.Zero(t, s.Exercises[0].Settings().Ladder)
}

// TestAPlannedSessionFits its sheet, however much is wished for, and no longer does when something in
// it can't be danced.
func TestAPlannedSessionFits(t *testing.T) {
	timeline := read(t, boathouse)
	rapid.Check(t, func(t *rapid.T) {
		w := practice.Wish{Now: evening(0), Minutes: rapid.Float64Range(1, 240).Draw(t, "minutes"), Couple: rapid.Bool().Draw(t, "couple"),
			Goal: timeline.Score.Tempo.Scaled(rapid.Float64Range(10, 200).Draw(t, "goal"))}
		p := danced(timeline, evening(-1), whole(timeline), rapid.Float64Range(10, 200).Draw(t, "danced"), bothMark(1, true)...)
		s := practice.NewSession(timeline, practice.NewHistory(timeline.Score, []practice.Kept{p}, time.UTC), w)
		require.True(t, s.Fits(timeline))
		s.Done = rapid.IntRange(0, len(s.Exercises)).Draw(t, "done")
		require.True(t, s.Fits(timeline))
		if s.Done == len(s.Exercises) {
			return
		}
		st := &s.Exercises[rapid.IntRange(s.Done, len(s.Exercises)-1).Draw(t, "exercise")]
		if st.Kind == practice.Breather {
			return
		}
		rapid.SampledFrom([]func(){
			func() { st.From = -1 }, func() { st.To = 99 }, func() { st.To = st.From }, func() { st.Part.From = timeline.Start - 1 }, func() { st.Part.To = timeline.End + 1 },
			func() { st.Part = player.Interval{} }, func() { st.Passes = 0 }, func() { st.Passes = 1 << 40 }, func() { st.Tempi.Start = 0 }, func() { st.Tempi.Top = 1e300 },
			func() { st.Tempi.Gain = -5 }, func() { st.Tempi.Gain = 1e-9 }, func() { st.Takes = -time.Second },
		}).Draw(t, "damage")()
		require.False(t, s.Fits(timeline))
	})
}

// TestAFigureDancedTwiceIsNotCalledFromItselfToItself.
func TestAFigureDancedTwiceIsNotCalledFromItselfToItself(t *testing.T) {
	timeline := read(t, strings.Replace(boathouse, "1. Closed basic\n2. Boathouse step\n", "1. Closed basic × 2\n2. Boathouse step\n", 1))
	p := danced(timeline, evening(0), whole(timeline), 80, bothMark(0, false)...)
	s := practice.NewSession(timeline, practice.NewHistory(timeline.Score, []practice.Kept{p}, time.UTC), practice.Wish{Now: evening(1), Minutes: 3})
	var names []string
	for _, e := range s.Exercises {
		names = append(names, e.What)
	}
	assert.Contains(t, names, "Closed basic, 2 times")
	assert.NotContains(t, names, "Closed basic to Closed basic")
}
