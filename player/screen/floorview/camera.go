package floorview

import (
	"math"
	"slices"
	"sort"

	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/motion"
)

// camera is the way of a lens that follows a couple.
type camera struct {
	motion        *motion.Motion
	from          From
	shown         [2]bool
	width, height float64
	keys          []shot
	usual         float64 // the scale of most shots
}

// shot is where the camera is on the beat of a step.
type shot struct {
	at     float64 // in beats
	middle floor.Point
	scale  float64
	up     float64
}

// The camera goes over to the next shot in the last part of a swing, so that no foot is left
// behind, and the place of the next step is seen as soon as the foot has landed. Before a
// figure it turns, in beats.
const (
	leaves  = 0.45
	turning = 2.0
)

// edge is what is left free around the feet, in centimetres.
const edge = 3.0

// look loads a motion; nothing happens if it is what was loaded last.
func (c *camera) look(m *motion.Motion, from From, shown [2]bool, width, height float64) {
	if c.motion == m && c.from == from && c.shown == shown && c.width == width && c.height == height {
		return
	}
	*c = camera{motion: m, from: from, shown: shown, width: width, height: height, keys: make([]shot, m.Steps()+1)}
	scenes := make([]motion.Scene, len(c.keys))
	for i := range c.keys {
		k := &c.keys[i]
		k.at, scenes[i] = m.Step(i)
		switch {
		case i == 0:
			k.up = c.upwards(&scenes[i])
		case i > 1 && i == m.Steps() && again(&scenes[1], &scenes[i]):
			k.up = c.keys[1].up + scenes[i].Couple[routine.Leader].Body.Angle - scenes[1].Couple[routine.Leader].Body.Angle
			k.up += 8 * math.Round((c.keys[i-1].up-k.up)/8)
		case i > 1 && (scenes[i].Passage != scenes[i-1].Passage || scenes[i].Row < scenes[i-1].Row):
			k.up = c.upwards(&scenes[i-1])
			k.up += 8 * math.Round((c.keys[i-1].up-k.up)/8)
		default:
			k.up = c.keys[i-1].up
		}
	}
	for i := range c.keys {
		c.frame(i, &scenes[i], &scenes[min(i+1, len(scenes)-1)])
	}
	c.calm()
	if last := m.Steps(); last > 1 && again(&scenes[1], &scenes[last]) {
		c.close(&scenes[1], &scenes[last])
	}
}

// again reports whether one step is another as it is danced the next time round.
func again(s, t *motion.Scene) bool { return s.Passage == t.Passage && s.Row == t.Row }

// close makes the last shot of a loop the first one again, seen from where the couple is then.
func (c *camera) close(first, again *motion.Scene) {
	start, end := &c.keys[1], &c.keys[len(c.keys)-1]
	start.scale = min(start.scale, end.scale)
	end.scale = start.scale
	c.calm()
	from, to := first.Couple[routine.Leader].Body, again.Couple[routine.Leader].Body
	off := start.middle.Minus(from.At)
	end.middle = to.At.Plus(floor.Point(lens{up: from.Angle - to.Angle - 2, scale: 1}.way(off)))
}

// upwards returns the angle that is up in a figure before which the couple stands so.
func (c *camera) upwards(s *motion.Scene) float64 {
	who, turn := routine.Leader, 0.0
	if c.from == BehindFollower || c.from == Opposite && c.shown == [2]bool{routine.Follower: true} {
		who = routine.Follower
	}
	if c.from == Opposite {
		turn = 4
	}
	return math.Round(s.Couple[who].Body.Angle) + turn
}

// frame fits a shot to what is shown before and after a step, also while the camera turns.
func (c *camera) frame(i int, scenes ...*motion.Scene) {
	k, after := &c.keys[i], &c.keys[min(i+1, len(c.keys)-1)]
	low, high := c.extent(k.up, scenes)
	middle := lens{up: -4 - k.up, scale: 1}.way(floor.Point{X: (low.X + high.X) / 2, Y: (low.Y + high.Y) / 2}) // turned back
	k.middle, k.scale = floor.Point(middle), math.Inf(1)
	for _, beat := range [...]float64{k.at, (k.at + after.at) / 2, after.at} {
		up := c.up(beat)
		low, high := c.extent(up, scenes)
		m := lens{up: up, scale: 1}.way(k.middle)
		x, y := max(m.X-low.X, high.X-m.X)+edge, max(m.Y-low.Y, high.Y-m.Y)+edge
		k.scale = min(k.scale, (c.width-1)/(2*x), (c.height-1)/(2*y))
	}
}

// extent returns the corners of what is shown, in centimetres, if up points up.
func (c *camera) extent(up float64, scenes []*motion.Scene) (low, high raster.Point) {
	turn := lens{up: up, scale: 1}
	low, high = raster.Point{X: math.Inf(1), Y: math.Inf(1)}, raster.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	include := func(at motion.Pose, along, across float64) {
		p, ahead := turn.way(at.At), turn.way(motion.Toward(at.Angle))
		x, y := math.Abs(ahead.X)*along+math.Abs(ahead.Y)*across, math.Abs(ahead.Y)*along+math.Abs(ahead.X)*across
		low, high = raster.Point{X: min(low.X, p.X-x), Y: min(low.Y, p.Y-y)}, raster.Point{X: max(high.X, p.X+x), Y: max(high.Y, p.Y+y)}
	}
	for i, s := range scenes {
		if h := s.Holds[0]; h.Leader != motion.NoHand && c.shown[0] == c.shown[1] {
			include(motion.Pose{At: h.At}, 0, 0)
		}
		for q := range s.Couple {
			if !c.shown[q] && c.shown[1-q] {
				continue
			}
			d := &s.Couple[q]
			include(d.Body, chest/2, shoulders/2)
			for f := range d.Feet {
				include(d.Feet[f].Pose, footScale*footLength/2, footScale*footWidth/2)
			}
			if n := &d.Next; i == 0 && n.Foot != routine.NoFoot {
				include(n.Pose, footScale*footLength/2, footScale*footWidth/2)
				for _, part := range [...]float64{0.25, 0.5, 0.75} {
					include(motion.Pose{At: n.Way.At(part)}, 0, 0)
				}
			}
		}
	}
	return low, high
}

// calm keeps the scale from jumping.
func (c *camera) calm() {
	const neighbour, whole = 1.3, 2.2
	least := math.Inf(1)
	for _, k := range c.keys {
		least = min(least, k.scale)
	}
	for i := range c.keys {
		c.keys[i].scale = min(c.keys[i].scale, whole*least)
		if i > 0 {
			c.keys[i].scale = min(c.keys[i].scale, neighbour*c.keys[i-1].scale)
		}
	}
	for i := len(c.keys) - 2; i >= 0; i-- {
		c.keys[i].scale = min(c.keys[i].scale, neighbour*c.keys[i+1].scale)
	}
	scales := make([]float64, len(c.keys))
	for i, k := range c.keys {
		scales[i] = k.scale
	}
	slices.Sort(scales)
	c.usual = scales[len(scales)/2]
}

// find returns the last shot that is not after a beat.
func (c *camera) find(beat float64) int {
	return max(0, sort.Search(len(c.keys), func(i int) bool { return c.keys[i].at > beat })-1)
}

// at returns the lens at a beat, after a part of the swing that is under way.
func (c *camera) at(beat, swung float64) lens {
	i := c.find(beat)
	from, to := &c.keys[i], &c.keys[min(i+1, len(c.keys)-1)]
	w := smoothstep((swung - leaves) / (1 - leaves))
	l := lens{up: c.up(beat), scale: from.scale + w*(to.scale-from.scale), width: c.width, height: c.height}
	// What both shots show is seen all the time, as each place moves evenly from one to the other.
	near, far := from.middle.Times((1-w)*from.scale), to.middle.Times(w*to.scale)
	l.middle = near.Plus(far).Times(1 / l.scale)
	return l
}

// up returns the angle that points up at a beat.
func (c *camera) up(beat float64) float64 {
	i := c.find(beat)
	for j := i + 1; j < len(c.keys) && c.keys[j].at-beat < turning; j++ {
		if was, k := c.keys[j-1].up, &c.keys[j]; k.up != was {
			return was + (k.up-was)*smoothstep(1-(k.at-beat)/turning)
		}
	}
	return c.keys[i].up
}

func smoothstep(u float64) float64 {
	u = min(max(u, 0), 1)
	return u * u * (3 - 2*u)
}
