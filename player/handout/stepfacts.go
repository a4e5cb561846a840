package handout

import (
	"math"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// couple is what the partners step on one count, for programs; timeline.schema.json describes its parts.
type couple struct {
	Leader   *stepFacts `json:"leader,omitempty"`
	Follower *stepFacts `json:"follower,omitempty"`
}

type stepFacts struct {
	Foot      string   `json:"foot,omitempty"`
	Way       string   `json:"way,omitempty"`
	Slightly  string   `json:"slightly,omitempty"`
	Size      string   `json:"size,omitempty"`
	Weight    string   `json:"weight"`
	Turn      int      `json:"turn"`
	After     int      `json:"turnAfter"`
	Alignment string   `json:"alignment,omitempty"`
	Footwork  string   `json:"footwork,omitempty"`
	Actions   []string `json:"actions,omitempty"`
	Positions []string `json:"positions,omitempty"`
	Hands     string   `json:"hands,omitempty"`
	Lead      string   `json:"lead,omitempty"`
	Note      string   `json:"note,omitempty"`
	Places    places   `json:"places"`
}

// places is where a partner is after a step.
type places struct {
	Body  spot   `json:"body"`
	Left  spot   `json:"leftFoot"`
	Right spot   `json:"rightFoot"`
	On    string `json:"weightOn,omitempty"`
}

// spot is a place in the hall, and a direction.
type spot struct {
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	Toward int     `json:"toward"`
}

func newSpot(at floor.Point, toward routine.Direction) spot {
	tenth := func(x float64) float64 { return math.Round(10*x) / 10 }
	return spot{tenth(at.X), tenth(at.Y), 45 * int(toward)}
}

// newCouple returns what is stepped in an event on which a row begins; nil if nobody who is shown steps.
func newCouple(path *floor.Path, e *player.Event, o *Options) *couple {
	after := path.Passage(e.Passage)[e.Row-path.Score.Passages[e.Passage].From+1]
	c := &couple{}
	for _, q := range o.Partners() {
		if s := e.Steps[q]; s != nil {
			*[2]**stepFacts{&c.Leader, &c.Follower}[q] = newStepFacts(s, &after[q])
		}
	}
	if *c == (couple{}) {
		return nil
	}
	return c
}

func newStepFacts(s *routine.Step, after *floor.Dancer) *stepFacts {
	f := &stepFacts{
		Way: s.Way.String(), Slightly: s.Slightly.String(), Size: s.Size.String(), Turn: int(s.Turn), After: int(s.After),
		Weight:    [...]string{routine.Full: "full", routine.Part: "part", routine.None: "none", routine.Split: "both feet"}[s.Weight],
		Alignment: s.Alignment.String(), Footwork: s.Footwork, Actions: s.Actions, Lead: s.Lead, Note: s.Note,
	}
	if !s.Stands() {
		f.Foot = s.Foot.String()
	}
	for p := range s.Position.Positions() {
		f.Positions = append(f.Positions, p.String())
	}
	if s.Hands != 0 {
		f.Hands = s.Hands.String()
	}
	left, right := after.Foot(routine.LF), after.Foot(routine.RF)
	f.Places = places{Body: newSpot(after.Body, after.Facing), Left: newSpot(left.At, left.Toward), Right: newSpot(right.At, right.Toward)}
	if after.Weight != routine.NoFoot {
		f.Places.On = after.Weight.String()
	}
	return f
}
