package practice

import (
	"encoding/json"
	"fmt"
	"math"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// Kind is what an exercise of a session is for.
type Kind string

// The kinds.
const (
	WarmUp      Kind = "warm-up"
	ShakyJoin   Kind = "join"
	DueFigure   Kind = "figure"
	TempoLadder Kind = "ladder"
	Whole       Kind = "whole"
	Breather    Kind = "breather"
	Drill       Kind = "drill"
)

// Tempi is how an exercise's tempo grows, in per cent of the sheet's.
type Tempi struct {
	Start float64 `json:"start"`
	Gain  float64 `json:"gain"` // from pass to pass; 0 to stay
	Top   float64 `json:"top"`
}

// steady is one tempo.
func steady(percent float64) Tempi { return Tempi{Start: percent, Top: percent} }

// Of is the tempo of a pass, counted from 0.
func (t Tempi) Of(pass int) float64 { return min(t.Start+t.Gain*float64(pass), t.Top) }

// Exercise is what is danced over and over for a while, or a breather.
type Exercise struct {
	Kind    Kind            `json:"kind"`
	What    string          `json:"what"` // in the dancer's words
	Why     string          `json:"why,omitempty"`
	From    int             `json:"from"`  // the first of the score's passages that it touches
	To      int             `json:"to"`    // up to, not including, this one; From for a breather
	Part    player.Interval `json:"beats"` // what is danced
	Dancers routine.Dancers `json:"side"`

	Tempi  Tempi         `json:"percent"`
	Passes int           `json:"passes"`
	Takes  time.Duration `json:"-"` // in whole seconds, with a bar counted before each pass
}

// exerciseText is how an exercise is written: how long it takes in seconds.
type exerciseText struct {
	plainExercise
	Seconds int `json:"seconds"`
}

type plainExercise Exercise

// MarshalJSON writes s for programs.
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

// Settings is how the player dances s: again and again, with a bar counted before
// each pass.
func (s Exercise) Settings() player.Settings {
	set := player.DefaultSettings()
	set.Percent, set.Rest, set.Loop = s.Tempi.Start, 1, s.Part
	if s.Tempi.Gain > 0 {
		set.Ladder = player.Ladder{Start: s.Tempi.Start, Gain: s.Tempi.Gain, Top: s.Tempi.Top, Times: 1}
	}
	return set
}

// maker makes exercises of one timeline.
type maker struct{ line *player.Timeline }

// make fills in how long an exercise takes.
func (b maker) make(s Exercise) Exercise {
	once := b.seconds(s.Part)
	for pass := range s.Passes {
		s.Takes += time.Duration(once / s.Tempi.Of(pass) * 100 * float64(time.Second))
	}
	s.Takes = s.Takes.Round(time.Second)
	return s
}

// seconds is how long a part takes at the sheet's tempo, with a bar before it.
func (b maker) seconds(part player.Interval) float64 {
	d := b.line.Score.Dance
	bar := d.Metre.Bar().Float() * 60 / b.line.Tempo(part.From).Float()
	return b.line.Seconds(part.To) - b.line.Seconds(part.From) + bar
}

// passages dances passages from up to, not including, to.
func (b maker) passages(kind Kind, from, to int, dancers routine.Dancers, tempi Tempi, passes int) Exercise {
	part := player.Interval{From: b.line.Passage(from).From, To: b.line.Passage(to - 1).To}
	return b.make(Exercise{Kind: kind, What: b.name(from, to), From: from, To: to, Part: part, Dancers: dancers, Tempi: tempi, Passes: passes})
}

// join dances the bars in which a passage and the one before it meet.
func (b maker) join(kind Kind, second int, dancers routine.Dancers, tempi Tempi, passes int) Exercise {
	p := b.line.Score.Passages
	what := p[second-1].Figure.Name + " into " + p[second].Figure.Name
	return b.make(Exercise{Kind: kind, What: what, From: second - 1, To: second + 1, Part: b.line.Join(second - 1), Dancers: dancers, Tempi: tempi, Passes: passes})
}

// name says in words what passages dance.
func (b maker) name(from, to int) string {
	p := b.line.Score.Passages
	switch to - from {
	case len(p):
		return "the whole routine"
	case 1:
		return p[from].Figure.Name
	}
	return fmt.Sprintf("%s to %s", p[from].Figure.Name, p[to-1].Figure.Name)
}

// breather is a pause.
func breather(takes time.Duration) Exercise {
	return Exercise{Kind: Breather, What: "a breather", Takes: takes}
}

// The tempi of drills, in per cent of the tempo at which it went wrong (our own choice).
const drillSlower, drillStep = 75, 5

// Drills is how to mend what went wrong at a tempo, in per cent of the sheet's:
// slower, then at that tempo alone, then with what comes before and after, then
// the whole.
func Drills(timeline *player.Timeline, at Place, dancers routine.Dancers, percent float64) []Exercise {
	b := maker{timeline}
	slow := Tempi{Start: max(percent*drillSlower/100, player.SlowestPercent), Gain: drillStep, Top: percent}
	last := len(timeline.Score.Passages)
	from, to := at.Passage, at.Passage+1
	alone := func(tempi Tempi, passes int) Exercise { return b.passages(Drill, from, to, dancers, tempi, passes) }
	if at.Join {
		from--
		alone = func(tempi Tempi, passes int) Exercise { return b.join(Drill, at.Passage, dancers, tempi, passes) }
	} else {
		from, to = max(from-1, 0), min(to+1, last)
	}
	around := b.passages(Drill, from, to, dancers, steady(percent), 2)
	if !at.Join {
		from, to = at.Passage, at.Passage+1
	}
	list := []Exercise{alone(slow, 3), alone(steady(percent), 2)}
	if around.To-around.From > 1 && around.To-around.From < last {
		list = append(list, around)
	}
	return append(list, b.passages(Drill, 0, last, dancers, steady(percent), 1))
}

// roundPercent makes a tempo one that a dancer would name: to the half per cent, and playable.
func roundPercent(p float64) float64 {
	return min(max(math.Round(p*2)/2, player.SlowestPercent), player.FastestPercent)
}

// percentOf is a tempo in per cent of the sheet's.
func percentOf(timeline *player.Timeline, t routine.Tempo) float64 {
	return t.Float() / timeline.Score.Tempo.Float() * 100
}
