package timestretch

import "math"

// The planner works from strong attack to strong attack. In between it makes
// the jumps that the tempo asks for, where they are least heard. Just before an
// attack, which masks a splice, it makes up what is then still due.
const (
	beforeAttack = 1.5   // ms before the mark of an attack, left alone
	afterAttack  = 14.0  // ms after it, left alone
	markEarly    = 1.0   // ms by which the sound of an attack usually comes after its mark
	maskedFade   = 4.0   // ms: the fade of the splice that an attack masks
	maskedReach  = 12.0  // ms: how much earlier that splice may be made
	maskedTrust  = 0.5   // ms: how far it may miss what is due, to join better
	dueTrust     = 1.0   // ms: if no more is due, it is left
	dueMost      = 45.0  // ms: the furthest the sound should ever be from its place
	dueEasy      = 10.0  // ms: being nearer than this costs nothing
	anchorTrust  = 2.0   // ms: the same where the tempo has an anchor
	passageMost  = 700.0 // ms: about the longest passage
)

// planner extends an edit, passage by passage.
type planner struct {
	source *Source
	tempo  Tempo
	edit   edit
	at     Anchor // how far the reading is decided
	match  matcher
	join   joiner
	rows   [][]state
	nodes  []node
	over   []point // the anchors that a jump passes over, where the tempo wants them
	done   bool
}

// due returns how many frames the stretched sound is early at a point: that
// many must be repeated or, if negative, skipped.
func (p *planner) due(at Anchor) float64 { return p.tempo.Out(float64(at.In)) - float64(at.Out) }

// dueAt returns what is due when the reading gets to frame in without a jump.
func (p *planner) dueAt(in int64) float64 {
	return p.due(Anchor{In: in, Out: p.at.Out + in - p.at.In})
}

// state is the cheapest way found to be at a place with this much due.
type state struct {
	cost   float32
	sum    int32   // of its jumps, in values of Source.mono; back is positive
	node   int32   // its last jump, -1 for none
	astray float32 // summed over its anchors, see displaced
}

const unreached = math.MinInt32

func (s *state) reached() bool { return s.sum != unreached }

// node is a jump on a way, with the index of the one before it.
type node struct {
	place, lag int32
	before     int32
}

// point is relative to where a jump ends, in frames; out is what it would be
// without the jump.
type point struct{ in, out float64 }
