package stage

import (
	"sync"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/player/timing"
)

// desk is an engine that plays what a transport wants, except while something else is performed. No
// method is called on the audio thread.
type desk struct {
	*audio.Engine
	mu        sync.Mutex
	schedule  audio.Schedule // of the transport
	track     audio.Track    // beside it
	layer     audio.Layer
	performed bool
}

// Play plays a transport's schedule, as soon as nothing else is performed.
func (d *desk) Play(s audio.Schedule) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.schedule = s; !d.performed {
		d.Engine.Play(s)
	}
}

// Accompany plays a transport's track, as soon as nothing else is performed.
func (d *desk) Accompany(t audio.Track, layer audio.Layer) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.track, d.layer = t, layer; !d.performed {
		d.Engine.Accompany(t, layer)
	}
}

// perform plays a plan and its song in place of what the transport wants.
func (d *desk) perform(p *timing.Plan, song *timing.Song) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.performed = true
	d.Engine.Play(p)
	d.Engine.Accompany(song, player.MusicLayer)
}

// rest goes back to what the transport wants by now.
func (d *desk) rest() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.performed = false
	d.Engine.Play(d.schedule)
	d.Engine.Accompany(d.track, d.layer)
}

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
		song, done := plan.Song(), make(chan struct{})
		song.Follow(frame)
		s.songEnds = done
		go s.from.Guard(func() { song.Work(done) })
		s.desk.perform(plan, song)
	})
}

// Rest ends what is performed, if anything is.
func (s *Stage) Rest() {
	s.performing.Lock()
	defer s.performing.Unlock()
	if s.songEnds != nil {
		s.endSong()
		s.line.Change(func(int64) { s.desk.rest() })
	}
}

// endSong ends the planning of what is performed. The caller holds performing.
func (s *Stage) endSong() {
	if s.songEnds != nil {
		close(s.songEnds)
		s.songEnds = nil
	}
}
