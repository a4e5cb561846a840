package stage

import (
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/player/timing"
)

// Heard returns the frame heard at a time.
func (s *Stage) Heard(t time.Time) float64 { return s.line.Heard(t) }

// Unsure returns by how much what Heard returns may be wrong, in seconds.
func (s *Stage) Unsure() float64 { return store.UnsureOf(s.late, s.line.Status()).Seconds() }

// Perform plays the plan that start returns, and its song, until Rest. Meanwhile the routine, which must
// stand still, may change unheard. Start is called with the first frame that can be altered; if it returns
// nil, nothing changes.
func (s *Stage) Perform(start func(frame int64, sounds player.Sounds) *timing.Plan) {
	sounds := s.sounds()
	s.performing.Lock()
	defer s.performing.Unlock()
	s.line.Change(func(frame int64) {
		plan := start(frame, sounds)
		if plan == nil {
			return
		}
		s.endSong()
		song, done := plan.Backing(), make(chan struct{})
		song.Follow(frame)
		s.songEnds = done
		go s.from.Guard(func() { song.Work(done) })
		s.desk.perform(plan, song)
	})
}
