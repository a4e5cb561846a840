package stage

import (
	"sync"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
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
func (d *desk) perform(p *timing.Plan, song *timing.Backing) {
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
