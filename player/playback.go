package player

import (
	"math"
	"sort"

	"dance.example/slowquick/audio/music/timestretch"
)

// playback is a part of a course through which a song plays at one speed, without a jump.
type playback struct {
	song     *timestretch.Source
	tempo    tempoMap // with the song's beats
	places   places   // where in a beat steps fall
	from, to int64    // frames of the course; to is math.MaxInt64/2 if there is no end
	in       float64  // the frame of the song at from
	speed    float64  // frames of the song per frame of the course

	sharp bool // it begins on the frame of a change, before which nothing may be altered
	cut   bool // it ends on the frame of a change
	over  bool // it ends with the routine
}

// at returns the frame of the song on a frame of the course.
func (r *playback) at(frame int64) float64 { return r.in + float64(frame-r.from)*r.speed }

// continues reports whether r and s are at the same place of the song on a frame.
func (r *playback) continues(s *playback, frame int64) bool {
	const near = 2 // frames; places are rounded to a whole one
	return r.song == s.song && math.Abs(r.at(frame)-s.at(frame)) < near
}

// same reports whether s continues r at the same speed.
func (r *playback) same(s *playback) bool {
	return r.speed == s.speed && r.continues(s, s.from)
}

// playbacks returns the playbacks of songs in [from, to) of a course, in order.
func (c *Course) playbacks(from, to int64) (out []playback) {
	i := sort.Search(len(c.legs), func(i int) bool { return c.ended(i) > float64(from) })
	for ; i < len(c.legs) && c.legs[i].from < float64(to); i++ {
		l := &c.legs[i]
		m := l.timeline.music
		if l.standing() || m == nil || m.Sound == nil || float64(m.Sound.Rate()) != c.rate {
			continue
		}
		end := c.ended(i)
		for k := l.runAt(c.rate, max(float64(from), l.from)); ; k++ {
			begins, ends := l.from, end
			if k > 0 {
				begins = l.runBegin(c.rate, k)
			}
			if begins >= end || begins >= float64(to) {
				break
			}
			if !l.loop.Empty() {
				ends = min(end, l.runBegin(c.rate, k+1))
			}
			r := playback{song: m.Sound, tempo: l.tempo, places: l.timeline.places, from: int64(nearest(begins)), to: frameOf(ends), speed: c.rate / l.frames(c.rate, k)}
			r.in = (l.seconds(c.rate, k, float64(r.from))) * c.rate
			r.sharp = begins <= l.from && i > 0 && c.legs[i-1].cut <= l.from
			r.cut = ends == end && l.cut <= end
			r.over = ends == end && !r.cut && i+1 < len(c.legs) && c.legs[i+1].standing()
			if r.to > r.from {
				out = joined(out, r)
			}
			if l.loop.Empty() || ends == end {
				break
			}
		}
	}
	return out
}

// joined appends a playback, or lengthens the last one if r only continues it.
func joined(list []playback, r playback) []playback {
	if n := len(list); n > 0 {
		if before := &list[n-1]; before.to == r.from && before.same(&r) {
			before.to, before.cut, before.over = r.to, r.cut, r.over
			return list
		}
	}
	return append(list, r)
}

// ended returns the frame after which leg i is no longer heard.
func (c *Course) ended(i int) float64 {
	end := c.legs[i].cut
	if i+1 < len(c.legs) {
		end = min(end, c.legs[i+1].from)
	}
	return end
}

func frameOf(frame float64) int64 {
	if frame >= math.MaxInt64/2 {
		return math.MaxInt64 / 2
	}
	return int64(nearest(frame))
}
