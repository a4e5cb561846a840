// Package stage opens the sound on which one routine after the other is danced.
//
// A [Stage] joins what a dance sounds with: the device, the engine, the voice and the names of
// figures. [Stage.Put] puts a routine on it. Begin with [Open].
package stage

import (
	"context"
	"sync"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/device"
	"dance.example/slowquick/audio/voice"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/calling"
	"dance.example/slowquick/player/store"
)

// Options say how a stage sounds.
type Options struct {
	Rate   int
	Silent bool    // time is kept without sound
	Shown  [2]bool // the partners whose steps are shown, and so sound
	Call   bool    // figures are named
	Levels audio.Levels

	// Voice makes the voice that counts. It is called once, in a goroutine unless Wait is set.
	Voice func() *voice.Voice
	Wait  bool // until the voice is made, so that what is wrong with it can be printed

	Warn  func(error)  // of settings that can't be read
	Tell  func(error)  // of names that can't be said; nil for Stage.Notes
	Guard func(func()) // runs goroutines
}

// Stage is the sound on which one routine after the other is danced.
type Stage struct {
	line   *device.Line
	desk   *desk
	sounds func() player.Sounds // waits for those that are still being made
	from   Options
	now    *player.Transport // nil before the first routine
	caller *calling.Caller
	notes  chan string
	late   map[string]store.Lateness // of devices

	performing sync.Mutex    // orders calls of Perform and Rest; the audio thread never takes it
	songEnds   chan struct{} // closed when what is performed ends; nil if nothing is
}

// Open opens the sound. It never fails: without a sound device time is kept in silence, and
// Status says so.
func Open(ctx context.Context, o Options) *Stage {
	s := &Stage{desk: &desk{Engine: audio.NewEngine(o.Rate)}, from: o, notes: make(chan string, 8)}
	voice := sync.OnceValue(o.Voice)
	s.sounds = sync.OnceValue(func() player.Sounds {
		if o.Silent {
			return player.Sounds{Kit: audio.NewKit(o.Rate)}
		}
		return player.Sounds{Kit: audio.NewKit(o.Rate), Voice: voice(), Band: audio.NewBand(o.Rate)}
	})
	say := sync.OnceValue(func() calling.Sayer { return calling.NewSayer(voice(), o.Rate, calling.Folder()) })
	if o.Silent {
		say = nil
	}
	tell := o.Tell
	if tell == nil {
		tell = s.Note
	}
	s.caller = calling.NewCaller(ctx, say, o.Call, tell, o.Guard)
	if o.Wait {
		s.sounds()
	} else {
		go o.Guard(func() { s.sounds() })
	}
	s.desk.SetLevels(0, o.Levels)
	var err error
	if s.late, err = store.Latenesses(); err != nil {
		o.Warn(err)
	}
	s.line = device.Open(s.desk.Engine, o.Rate, device.Options{Silent: o.Silent, Silence: s.desk.Silent, Late: store.LatenessOf(s.late), Guard: o.Guard})
	return s
}

// Settle waits, for a while at most, until the sound is heard or known to be missing, and then
// until the names of figures are ready.
func (s *Stage) Settle(ctx context.Context) {
	Settle(ctx, s.line)
	ctx, cancel := context.WithTimeout(ctx, Patience)
	defer cancel()
	s.caller.Settle(ctx)
}

// Put returns a transport at the start of a timeline, and ends the one before. Figures are named
// if they were named before.
func (s *Stage) Put(timeline *player.Timeline, set player.Settings) calling.Transport {
	s.Rest()
	s.caller.Leave()
	if s.now != nil {
		s.now.Close()
	}
	set.Call = s.caller.Calling()
	s.now = player.NewTransport(s.line, s.desk, player.NewCourse(s.from.Rate, s.sounds(), timeline, set), s.from.Guard)
	return s.caller.Serve(s.now, timeline)
}

// Levels returns how loud each layer is by now.
func (s *Stage) Levels() audio.Levels { return s.desk.Levels() }

// Calling reports whether figures are named by now.
func (s *Stage) Calling() bool { return s.caller.Calling() }

// Close ends the sound.
func (s *Stage) Close() {
	s.Rest()
	s.caller.Close()
	if s.now != nil {
		s.now.Close()
	}
	s.line.Close()
}

// Note sends a screen what is wrong. It is dropped if nobody reads the notes.
func (s *Stage) Note(err error) {
	select {
	case s.notes <- err.Error():
	default:
	}
}

// Notes receives what is to be told once, in plain words.
func (s *Stage) Notes() <-chan string { return s.notes }

// Status says in plain words why nothing is heard; "" if all is well.
func (s *Stage) Status() string { return s.line.Status().Problem }

// Changed receives when Status may say something else.
func (s *Stage) Changed() <-chan struct{} { return s.line.Changed() }

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
