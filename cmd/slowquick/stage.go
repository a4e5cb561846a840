package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/device"
	"dance.example/slowquick/audio/voice"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/calling"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// stage is the sound on which one sheet after the other is danced.
type stage struct {
	line   *device.Line
	engine *audio.Engine
	sounds func() player.Sounds // waits for those that are still being made
	shown  [2]bool
	began  audio.Levels
	now    *player.Transport
	caller *calling.Caller
	called bool        // whether figures were named in the beginning
	notes  chan string // for a screen
	guard  func(func())
}

// voice is the one that counts. A folder, if one is named, has recordings in
// place of its own words; what can't be used is told.
func (a *app) voice(rate int, folder string) *voice.Voice {
	v := voice.New(rate)
	if folder == "" {
		return v
	}
	a.inputs = append(a.inputs, folder)
	v, bad := v.With(os.DirFS(folder))
	for _, err := range bad {
		a.warn(fmt.Errorf("%s: %w", folder, err))
	}
	return v
}

// speechFolder returns where spoken names are kept, or "" for nowhere.
func speechFolder() string {
	dir, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "slowquick", "speech")
}

// openStage opens the sound. It never fails: without a sound device time is
// kept in silence, and the line's status says so.
//
// Names that can't be said are told by tell; nil tells the screen.
func (a *app) openStage(ctx context.Context, shown [2]bool, how howToDance, silent bool, tell func(error)) *stage {
	folder := how.voice
	s := &stage{engine: audio.NewEngine(rate), called: how.call, notes: make(chan string, 8), guard: a.guard}
	voice := sync.OnceValue(func() *voice.Voice { return a.voice(rate, folder) })
	s.sounds = sync.OnceValue(func() player.Sounds {
		if silent {
			return player.Sounds{Kit: audio.NewKit(rate)}
		}
		return player.Sounds{Kit: audio.NewKit(rate), Voice: voice(), Band: audio.NewBand(rate)}
	})
	say := sync.OnceValue(func() calling.Sayer { return calling.NewSayer(voice(), rate, speechFolder()) })
	if silent {
		say = nil
	}
	if tell == nil {
		tell = s.note
	}
	s.caller = calling.NewCaller(ctx, say, how.call, tell, a.guard)
	if folder == "" {
		go a.guard(func() { s.sounds() })
	} else {
		s.sounds() // before the screen, on which nothing can be told
	}
	levels, err := store.Levels(shown)
	if err != nil {
		a.warn(err)
	}
	s.shown, s.began = shown, levels
	s.engine.SetLevels(0, levels)
	late, err := store.Latenesses()
	if err != nil {
		a.warn(err)
	}
	s.line = device.Open(s.engine, rate, device.Options{Silent: silent, Late: store.LatenessOf(late), Guard: a.guard})
	return s
}

// patience is how long a routine waits for the sound, so that its first counts
// are not lost while a sound server is looked for.
const patience = time.Second

// settle waits until the sound is heard or known to be missing, and then until the names of
// figures are ready.
func (s *stage) settle(ctx context.Context) {
	settleSound(ctx, s.line)
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	s.caller.Settle(ctx)
}

func settleSound(ctx context.Context, s soundState) device.Status {
	return awaitSound(ctx, s, patience, func(now device.Status) bool { return now.Sounding || now.Problem != "" })
}

// soundState tells whether the sound is heard; a [device.Line] is one.
type soundState interface {
	Status() device.Status
	Changed() <-chan struct{}
}

// awaitSound waits for a status that is wanted, for so long at most, and gives the last.
func awaitSound(ctx context.Context, s soundState, most time.Duration, wanted func(device.Status) bool) device.Status {
	ctx, cancel := context.WithTimeout(ctx, most)
	defer cancel()
	for {
		now := s.Status()
		if wanted(now) {
			return now
		}
		select {
		case <-s.Changed():
		case <-ctx.Done():
			return now
		}
	}
}

// put gives a transport that stands at the start of a timeline, and ends the
// one before. Figures are named if they were named before.
func (s *stage) put(timeline *player.Timeline, set player.Settings) calling.Transport {
	s.caller.Leave()
	if s.now != nil {
		s.now.Close()
	}
	set.Call = s.caller.Calling()
	s.now = player.NewGuardedTransport(s.line, s.engine, player.NewCourse(rate, s.sounds(), timeline, set), s.guard)
	return s.caller.Serve(s.now, timeline)
}

// note tells a screen what is wrong; what nobody reads is dropped.
func (s *stage) note(err error) {
	select {
	case s.notes <- err.Error():
	default:
	}
}

// closeStage ends the sound and keeps the levels, and whether figures are named, if
// they were changed.
func (a *app) closeStage(s *stage) {
	s.caller.Close()
	if s.now != nil {
		s.now.Close()
	}
	s.line.Close()
	if aloud := s.caller.Calling(); aloud != s.called {
		if err := store.KeepNamesAloud(aloud); err != nil {
			a.warn(err)
		}
	}
	if err := store.KeepLevels(s.began, s.engine.Levels(), s.shown); err != nil {
		a.warn(err)
	}
}

// past is what the diary knows of a score, for a screen.
func (s *stage) past(score *routine.Score) *practice.History {
	return diary.History(score, time.Local, s.note)
}

// Status and Changed make a stage a [screen.Sound].
func (s *stage) Status() string { return s.line.Status().Problem }

func (s *stage) Changed() <-chan struct{} { return s.line.Changed() }
