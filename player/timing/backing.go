package timing

import (
	"math"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
)

// Backing plays the song to which a plan is danced, if there is one. In the plan's silent bars it goes on
// unheard. It is an [audio.Track].
type Backing struct {
	music   *player.Accompaniment
	plan    *Plan
	silent  []span
	rate    float64
	scratch [][2]float64 // used by Add only
}

var _ audio.Track = (*Backing)(nil)

// span is the frames from a silent event, or the end, to the next event that is heard.
type span struct{ from, to float64 }

// How the song falls silent and comes back, in seconds. Both are over a little before the count, as the
// attack that belongs to it may begin before the beat that was found.
const (
	fading = 0.020
	sooner = 0.015
)

// Backing returns the song of the plan, with nothing planned yet: see [Backing.Follow] and [Backing.Plan].
func (p *Plan) Backing() *Backing {
	s := &Backing{music: player.NewAccompaniment(p.course), plan: p, rate: float64(p.rate), scratch: make([][2]float64, 1024)}
	for i, e := range p.events {
		switch {
		case e.silent && (i == 0 || !p.events[i-1].silent):
			s.silent = append(s.silent, span{e.at, math.Inf(1)})
		case !e.silent && i > 0 && p.events[i-1].silent:
			s.silent[len(s.silent)-1].to = e.at
		}
	}
	s.silent = append(s.silent, span{p.End, math.Inf(1)})
	return s
}

// Follow plans what is heard soon after a frame, before which the plan has not begun. [Backing.Work] plans
// the rest.
func (s *Backing) Follow(frame int64) { s.music.Follow(s.plan.course, frame) }

// Work plans ahead of what is heard until done is closed.
func (s *Backing) Work(done <-chan struct{}) { s.music.Work(done) }

// Plan plans all that is heard before a frame.
func (s *Backing) Plan(to int64) { s.music.Plan(0, to) }

// Add mixes the song into out, whose first frame is at.
func (s *Backing) Add(out [][2]float64, at int64) {
	for len(out) > 0 {
		part := s.scratch[:min(len(out), len(s.scratch))]
		clear(part)
		s.music.Add(part, at)
		for i := range part {
			level := s.level(float64(at + int64(i)))
			out[i][0] += level * part[i][0]
			out[i][1] += level * part[i][1]
		}
		out, at = out[len(part):], at+int64(len(part))
	}
}

// Silent reports whether the plan is over on a frame, or there is no song.
func (s *Backing) Silent(from int64) bool { return s.plan.Silent(from) || s.music.Silent(from) }

// level returns how loud the song is on a frame, from 0 to 1.
func (s *Backing) level(frame float64) float64 {
	level := 1.0
	for _, silent := range s.silent {
		level -= s.fade(frame, silent.from) - s.fade(frame, silent.to)
	}
	return max(level, 0)
}

// fade returns how far a fade for an event has come, from 0 to 1.
func (s *Backing) fade(frame, event float64) float64 {
	return min(max((frame/s.rate-event/s.rate+sooner+fading)/fading, 0), 1)
}
