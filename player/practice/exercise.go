package practice

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// Kind is what an exercise is for.
type Kind string

// The kinds.
const (
	WarmUp      Kind = "warm-up"
	ShakyJoin   Kind = "join"   // again and again
	DueFigure   Kind = "figure" // again and again
	InPlace     Kind = "place"  // a figure or a join, with what comes before and after
	Mixed       Kind = "mixed"  // a figure or a join, taking turns with others
	TempoLadder Kind = "ladder"
	Varied      Kind = "varied"  // slower than today's tempo, and faster
	Swapped     Kind = "swapped" // the other partner's part
	Ending      Kind = "ending"  // from somewhere to the end
	Whole       Kind = "whole"
	Breather    Kind = "breather"
	Drill       Kind = "drill"
)

// Tempi says how an exercise's tempo grows, in per cent of the sheet's.
type Tempi struct {
	Start float64 `json:"start"`
	Gain  float64 `json:"gain"` // from one run-through to the next; 0 to stay
	Top   float64 `json:"top"`
}

// Asks reports whether dancers should say how s went. Partners who change parts are not asked: what they
// say would be kept as the other's.
func (s Exercise) Asks() bool {
	return s.Kind != WarmUp && s.Kind != Breather && (s.Kind != Swapped || s.Dancers != routine.Both)
}

// Place returns the figure or the join that s is for; ok is false if it is for several.
func (s Exercise) Place(timeline *player.Timeline) (at Place, ok bool) {
	switch {
	case s.To-s.From == 1:
		return Place{Passage: s.From}, true
	case s.To-s.From == 2 && s.Part == timeline.Join(s.From):
		return Place{Passage: s.From + 1, Join: true}, true
	}
	return Place{}, false
}

// Hidden returns what is hidden during a run-through, counted from 0.
func (s Exercise) Hidden(pass int) Hidden {
	if pass < s.ByHeart {
		return Hidden{Stage: HiddenSteps, Of: s.Dancers}
	}
	return Hidden{}
}

// steady returns a tempo that stays the same.
func steady(percent float64) Tempi { return Tempi{Start: percent, Top: percent} }

// Of returns the tempo of a run-through, counted from 0.
func (t Tempi) Of(pass int) float64 { return min(t.Start+t.Gain*float64(pass), t.Top) }

// Exercise is something to dance over and over for a while, or a breather.
type Exercise struct {
	Kind    Kind            `json:"kind"`
	What    string          `json:"what"` // in the dancer's words
	Why     string          `json:"why,omitempty"`
	From    int             `json:"from"`  // the first of the score's passages that it touches
	To      int             `json:"to"`    // the passage after its last; not used for a breather
	Part    player.Interval `json:"beats"` // what is danced
	Dancers routine.Dancers `json:"side"`

	Tempi   Tempi         `json:"percent"`
	Passes  int           `json:"passes"`
	ByHeart int           `json:"byHeart,omitempty"` // how many of its first run-throughs hide the steps
	Skipped bool          `json:"skipped,omitempty"` // it was left without being danced once
	Takes   time.Duration `json:"-"`                 // in whole seconds, with a bar counted before each run-through, and changeover
}

// exerciseText is an exercise as JSON, with the time it takes in seconds.
type exerciseText struct {
	plainExercise
	Seconds int `json:"seconds"`
}

type plainExercise Exercise

// MarshalJSON writes the time s takes in seconds.
func (s Exercise) MarshalJSON() ([]byte, error) {
	return json.Marshal(exerciseText{plainExercise(s), int(s.Takes.Seconds())})
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (s *Exercise) UnmarshalJSON(text []byte) error {
	var t exerciseText
	if err := json.Unmarshal(text, &t); err != nil {
		return err
	}
	*s = Exercise(t.plainExercise)
	s.Takes = time.Duration(t.Seconds) * time.Second
	return nil
}

// Settings returns how the player dances s: over and over, with a bar counted before each run-through.
func (s Exercise) Settings() player.Settings {
	set := player.DefaultSettings()
	set.Percent, set.Rest, set.Loop = s.Tempi.Start, 1, s.Part
	if s.Tempi.Gain > 0 {
		set.Ladder = player.Ladder{Start: s.Tempi.Start, Gain: s.Tempi.Gain, Top: s.Tempi.Top, Times: 1}
	}
	return set
}

// maker makes exercises on one timeline.
type maker struct{ timeline *player.Timeline }

// changeover is how long dancers take, after an exercise, to say how it went and to walk to where the
// next begins (our own choice).
const changeover = 10 * time.Second

// make sets how long an exercise takes.
func (b maker) make(s Exercise) Exercise {
	s.Takes = changeover
	once := b.seconds(s.Part)
	for pass := range s.Passes {
		s.Takes += time.Duration(once / s.Tempi.Of(pass) * 100 * float64(time.Second))
	}
	s.Takes = s.Takes.Round(time.Second)
	return s
}

// seconds returns how long a part takes at the sheet's tempo, with a bar before it.
func (b maker) seconds(part player.Interval) float64 {
	d := b.timeline.Score.Dance
	bar := d.Metre.Bar().Float() * 60 / b.timeline.Tempo(part.From).Float()
	return b.timeline.Seconds(part.To) - b.timeline.Seconds(part.From) + bar
}

// passages returns an exercise on the passages from "from" up to, but not including, "to".
func (b maker) passages(kind Kind, from, to int, dancers routine.Dancers, tempi Tempi, passes int) Exercise {
	part := player.Interval{From: b.timeline.Passage(from).From, To: b.timeline.Passage(to - 1).To}
	return b.make(Exercise{Kind: kind, What: b.name(from, to), From: from, To: to, Part: part, Dancers: dancers, Tempi: tempi, Passes: passes})
}

// join returns an exercise on the bars in which a passage and the one before it meet.
func (b maker) join(kind Kind, second int, dancers routine.Dancers, tempi Tempi, passes int) Exercise {
	p := b.timeline.Score.Passages
	what := p[second-1].Figure.Name + " into " + p[second].Figure.Name
	return b.make(Exercise{Kind: kind, What: what, From: second - 1, To: second + 1, Part: b.timeline.Join(second - 1), Dancers: dancers, Tempi: tempi, Passes: passes})
}

// places returns an exercise on figures and joins that follow each other, from the first to the last, each
// counted as a need's place is, and otherwise like another exercise.
func (b maker) places(first, last int, e Exercise) Exercise {
	part := func(place int) player.Interval {
		if place%2 == 1 {
			return b.timeline.Join(place / 2)
		}
		return b.timeline.Passage(place / 2)
	}
	e.From, e.To = first/2, (last+1)/2+1
	e.Part = player.Interval{From: part(first).From, To: part(last).To}
	e.What = b.name(e.From, e.To)
	return b.make(e)
}

// name names passages in the dancer's words.
func (b maker) name(from, to int) string {
	p := b.timeline.Score.Passages
	first, last := p[from].Figure.Name, p[to-1].Figure.Name
	other := func(pass routine.Passage) bool { return pass.Figure.Name != first }
	switch {
	case to-from == len(p):
		return "the whole routine"
	case to-from == 1:
		return first
	case !slices.ContainsFunc(p[from:to], other):
		return fmt.Sprintf("%s, %d times", first, to-from)
	}
	return fmt.Sprintf("%s to %s", first, last)
}

// breather returns a rest.
func breather(takes time.Duration) Exercise {
	return Exercise{Kind: Breather, What: "a breather", Takes: takes}
}

// The tempi of drills, in per cent of the tempo at which it went wrong (our own choice).
const drillSlower, drillStep = 75, 5

// Drills returns exercises to mend what went wrong at a tempo, in per cent of the sheet's: slower, then
// at that tempo alone, then with what comes before and after, then the whole.
func Drills(timeline *player.Timeline, at Place, dancers routine.Dancers, percent float64) []Exercise {
	b := maker{timeline}
	slow := Tempi{Start: max(percent*drillSlower/100, player.SlowestPercent), Gain: drillStep, Top: percent}
	last := len(timeline.Score.Passages)
	alone := func(tempi Tempi, passes int) Exercise {
		return b.passages(Drill, at.Passage, at.Passage+1, dancers, tempi, passes)
	}
	from, to := max(at.Passage-1, 0), min(at.Passage+2, last)
	if at.Join {
		alone = func(tempi Tempi, passes int) Exercise { return b.join(Drill, at.Passage, dancers, tempi, passes) }
		to = at.Passage + 1
	}
	around := b.passages(Drill, from, to, dancers, steady(percent), 2)
	list := []Exercise{alone(slow, 3), alone(steady(percent), 2)}
	if around.To-around.From > 1 && around.To-around.From < last {
		list = append(list, around)
	}
	return append(list, b.passages(Drill, 0, last, dancers, steady(percent), 1))
}

// roundPercent rounds a tempo to one that a dancer would name: half per cents, and playable.
func roundPercent(p float64) float64 {
	return min(max(math.Round(p*2)/2, player.SlowestPercent), player.FastestPercent)
}

// percentOf returns a tempo in per cent of the sheet's.
func percentOf(timeline *player.Timeline, t routine.Tempo) float64 {
	return t.Float() / timeline.Score.Tempo.Float() * 100
}
