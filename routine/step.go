package routine

import (
	"cmp"
	"slices"
	"strings"
)

// Way is where a foot goes, relative to the body's direction at the end of the step.
type Way uint8

// The ways.
const (
	NoWay Way = iota
	Forward
	Back
	Side
	DiagonallyForward
	DiagonallyBack
	Close
	HalfClose
	CrossInFront
	CrossBehind
	Replace // onto the foot where it stands
	InPlace
	Across
)

var wayNames = [...]string{"", "forward", "back", "side", "diagonally forward", "diagonally back", "close", "half close",
	"cross in front", "cross behind", "replace", "in place", "across"}

// String returns w as charts write it.
func (w Way) String() string { return wayNames[w] }

// Size is how large a step is.
type Size uint8

// The sizes. Slight is less than Small.
const (
	Usual Size = iota
	Slight
	Small
	Large
)

var sizeNames = [...]string{"", "slightly", "small", "large"}

// String returns s as charts write it, "" for the usual size.
func (s Size) String() string { return sizeNames[s] }

// Weight is what a step does with the body's weight.
type Weight uint8

// Full and Part weight go onto the foot; None leaves the weight where it was, and Split puts it on both
// feet, so that either may step next.
const (
	Full Weight = iota
	Part
	None
	Split
)

var weightNames = [...]string{"", "part weight", "no weight", "weight on both feet"}

// Step is what one partner does on one count. The zero Step stands still.
type Step struct {
	Foot      Foot
	Way       Way
	Slightly  Way // "side and slightly forward": the lesser way
	Size      Size
	Turn      Turn  // made on, or just before, this step
	After     Turn  // made after it, on the foot that took the weight
	FootTurn  Turn  // of the foot alone; the body does not turn
	Varies    Range // how far Turn may vary
	Alignment Alignment
	Footwork  string // the trade's letters, "HT", "BF"
	Actions   []string
	Weight    Weight
	Position  PositionSet // reached on this step; 0 if none is named
	Hands     HandsSet    // held from this step on; 0 if not said
	Lead      string      // what is led, in words
	Note      string
	At        Span

	VariesAfter Range // how far After may vary

	unclear bool // a part of it could not be read
}

// Turns returns how far the body turns on and after the step.
func (s *Step) Turns() Turn { return s.Turn + s.After }

// CrossesV reports whether the step goes where the dancer faces although the couple stands in a V.
func (s *Step) CrossesV() bool { return s.has("across the V") }

// Stands reports whether the partner stands still.
func (s *Step) Stands() bool { return s.Foot == NoFoot }

// Pivots reports whether s turns on the standing foot: a swivel that places no foot.
func (s *Step) Pivots() bool {
	return s.Foot != NoFoot && s.Way == NoWay && s.has("swivel")
}

// OnTheSpot reports whether the dancer turns on the foot: a pivot, a swivel or a heel turn.
func (s *Step) OnTheSpot() bool { return s.has("pivot") || s.has("swivel") || s.HeelTurns() }

// HeelTurns reports whether s is the close of a heel turn, which stays where it is.
func (s *Step) HeelTurns() bool { return s.has("heel turn") }

// StepsToPivot reports whether the step takes weight onto a foot that then pivots.
func (s *Step) StepsToPivot() bool { return s.Moves() && s.has("pivot") }

// Moves reports whether the step takes weight onto its foot.
func (s *Step) Moves() bool { return s.Foot != NoFoot && s.Weight != None && !s.Pivots() }

// has reports whether the step has an action, to either side.
func (s *Step) has(action string) bool {
	return slices.ContainsFunc(s.Actions, func(a string) bool { return a == action || a == action+" L" || a == action+" R" })
}

// Where returns where the foot goes, "small side and slightly forward", without the foot and the
// details, or "stand" if the partner stands still.
func (s *Step) Where() string {
	if s.Stands() {
		return "stand"
	}
	var words []string
	if s.Size != Usual {
		words = append(words, s.Size.String())
	}
	if s.Way != NoWay {
		words = append(words, s.Way.String())
	}
	switch {
	case s.Slightly == Across:
		words = append(words, "and across")
	case s.Slightly != NoWay:
		words = append(words, "and slightly "+s.Slightly.String())
	}
	if len(words) == 0 && len(s.Actions) > 0 {
		return s.Actions[0]
	}
	return strings.Join(words, " ")
}

// Details returns what is said besides the foot and its way, in the order of charts.
func (s *Step) Details() []string {
	var d []string
	add := func(text string) {
		if text != "" {
			d = append(d, text)
		}
	}
	add(s.Varies.Text(s.Turn))
	if s.After != 0 || s.VariesAfter.Varies() {
		add(s.VariesAfter.Text(s.After) + " after")
	}
	if s.FootTurn != 0 {
		add("foot " + s.FootTurn.String())
	}
	add(s.Alignment.String())
	add(s.Footwork)
	for i, a := range s.Actions {
		if i > 0 || s.Where() != a {
			add(a)
		}
	}
	left := Full // as the actions leave the weight
	for _, a := range s.Actions {
		left = cmp.Or(actions[a], left)
	}
	if s.Weight != left && !s.Stands() {
		add(weightNames[s.Weight])
	}
	for p := range s.Position.Positions() {
		add(positionFacts[p].cell)
	}
	for h := range s.Hands.Hands() {
		add(h.String())
	}
	if s.Lead != "" {
		add("leads " + s.Lead)
	}
	return d
}

// String returns the canonical form of s, which parses as the same step.
func (s *Step) String() string {
	text := "–"
	if !s.Stands() {
		text = strings.TrimSpace(s.Foot.String() + " " + s.Where())
	}
	for _, d := range s.Details() {
		text += ", " + d
	}
	if s.Note != "" {
		text += " (" + s.Note + ")"
	}
	return text
}

// Words returns the step as [Step.String] writes it, for a reader who has no
// chart before them: a partner who stands still does so in words.
func (s *Step) Words() string {
	if s.Stands() {
		return strings.Replace(s.String(), "–", "stands still", 1)
	}
	return s.String()
}

// MarshalText writes String.
func (s *Step) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// actions are the trade's names for what is done besides stepping, and the weight that they leave on the
// foot (common practice).
var actions = map[string]Weight{
	"check": Full, "swivel": Full, "swivel L": Full, "swivel R": Full, "lock": Full, "heel turn": Full, "heel pull": Full,
	"pivot": Full, "pivot L": Full, "pivot R": Full, "spiral": Full, "spiral L": Full, "spiral R": Full,
	"spin": Full, "spin L": Full, "spin R": Full, "twist": Full, "twist L": Full, "twist R": Full,
	"rock": Full, "lunge": Full, "appel": Full, "stamp": Full,
	"CBM": Full, "CBMP": Full, "lower": Full, "lower at end": Full, "rise": Full, "rise at end": Full,
	"commence to rise": Full, "commence to rise at end": Full, "continue to rise": Full, "up": Full, "body rise": Full, "no foot rise": Full, "sway L": Full, "sway R": Full, "hip action": Full, "hook": Full, "turned out": Full, "across the V": Full, "sacada": Full, "bounce": Full, "under the arm": Full,
	"press": Part,
	"tap":   None, "brush": None, "point": None, "kick": None, "flick": None, "draw": None, "hover": None,
	"sweep": None, "rondé": None, "dig": None, "gancho": None, "boleo": None,
}
