package motion

import (
	"math"
	"sort"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Looped returns the part of a motion from one beat up to another, as it is danced over and
// over. At the end the couple goes on to the first step from wherever it has got to, unless
// it rests there. It is m itself if no step begins in between.
func (m *Motion) Looped(from, to routine.Beats, rests bool) *Motion {
	begins, length := from.Float(), to.Float()-from.Float()
	end := len(m.keys)
	if m.around {
		end--
	}
	before := func(beat float64) int {
		return sort.Search(end, func(i int) bool { return m.keys[i].at >= beat })
	}
	first, last := max(1, before(begins)), before(to.Float())
	if first >= last {
		return m
	}
	loop := &Motion{path: m.path, around: !rests, keys: append(make([]key, 0, last-first+2), m.keys[first-1:last]...)}
	loop.renumber(first - 1)
	start := &loop.keys[0]
	start.at, start.passage, start.row = loop.keys[last-first].at-length, loop.keys[1].passage, -1
	if rests {
		loop.glide()
		return loop
	}
	round := loop.close(length)
	loop.glide()
	if loop.keys[1].at > begins {
		loop.resume(round)
	}
	return loop
}

// renumber takes off the next steps as many keys as were cut off before, and those that were
// cut off behind.
func (m *Motion) renumber(cut int) {
	for i := range m.keys {
		for q := range m.keys[i].dancers {
			next := &m.keys[i].dancers[q].next
			if *next -= cut; *next <= 0 || *next >= len(m.keys) {
				*next = 0
			}
		}
	}
}

// shift takes what is seen from one place to where it is seen alike from another.
type shift struct {
	from, to floor.Point
	turn     float64
}

func (s shift) place(p floor.Point) floor.Point { return s.to.Plus(turned(p.Minus(s.from), s.turn)) }

func (s shift) pose(p Pose) Pose { return Pose{s.place(p.At), p.Angle + s.turn} }

func (s shift) back() shift { return shift{s.to, s.from, -s.turn} }

// close adds the first step of the next time round, and returns the shift of one time: that
// of the leader.
func (m *Motion) close(length float64) shift {
	end := len(m.keys)
	start, first, last := &m.keys[0], &m.keys[1], &m.keys[end-1]
	from, to := start.dancers[routine.Leader].body, last.dancers[routine.Leader].body
	round := shift{from.At, to.At, math.Round(to.Angle - from.Angle)}
	again := *first
	again.at += length
	for q := range again.dancers {
		d, was, before := &again.dancers[q], &start.dancers[q], &last.dancers[q]
		shifted := func(p, turnedFrom, is Pose) Pose { // turned as it was the first time
			to := round.pose(p)
			return Pose{to.At, near(to.Angle, is.Angle+p.Angle-turnedFrom.Angle)}
		}
		d.body = shifted(d.body, was.body, before.body)
		for f := range d.feet {
			d.feet[f] = shifted(d.feet[f], was.feet[f], before.feet[f])
		}
		d.next = 0
	}
	m.keys = append(m.keys, again)
	m.step(end)
	for i := range m.keys[:end] {
		for q := range m.keys[i].dancers {
			if d := &m.keys[i].dancers[q]; d.next == 0 && again.dancers[q].foot != routine.NoFoot {
				d.next = end
			}
		}
	}
	return round
}

// resume lets a loop that begins between two steps begin as it goes on at its end.
func (m *Motion) resume(round shift) {
	start, first, last, again := &m.keys[0], &m.keys[1], &m.keys[len(m.keys)-2], &m.keys[len(m.keys)-1]
	back := round.back()
	start.grips = last.grips
	for q := range start.dancers {
		d, as, to, then := &start.dancers[q], &last.dancers[q], &first.dancers[q], &again.dancers[q]
		d.body, d.weight = Pose{back.place(as.body.At), to.body.Angle - then.body.Angle + as.body.Angle}, as.weight
		for f := range d.feet {
			d.feet[f] = Pose{back.place(as.feet[f].At), to.feet[f].Angle - then.feet[f].Angle + as.feet[f].Angle}
		}
	}
	m.step(1)
	m.glide()
	for q := range start.dancers {
		speed := last.dancers[q].speed
		start.dancers[q].speed = Pose{turned(speed.At, back.turn), speed.Angle}
	}
}
