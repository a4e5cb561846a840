package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/device"
	"dance.example/slowquick/audio/voice"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/calling"
	"dance.example/slowquick/player/lines"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/songs"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

func (a *app) dance() *cobra.Command {
	var how howToDance
	plain, silent := false, false
	cmd := &cobra.Command{
		Use:   "dance SHEET",
		Short: "Count, sound and show a routine in time",
		Long: `Dance plays a sheet: the count large on the screen, both partners' steps, and
a voice, clicks and the dance's rhythm, each as loud as you like. The sheet is
watched: save it while you dance, and the next bar is danced as it stands then.

Without a terminal, or with --plain, it prints a line for each step in time.

` + cautions,
		Example:           "  slowquick dance lantern-night-cha-cha --tempo '70 %' --repeat\n  slowquick dance lantern-night.md --side follower --plain",
		Args:              sheetArgs(1),
		ValidArgsFunction: a.completeSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			d, err := a.open(args[0])
			if err != nil {
				return err
			}
			if !cmd.Flags().Changed("call") {
				how.call = a.choices().NamesAloud
			}
			if err := a.choosePause(cmd, &how); err != nil {
				return err
			}
			if plain || !a.draws() {
				return a.danceOnLines(cmd.Context(), d, how, silent)
			}
			return a.danceOnScreen(cmd.Context(), d, how, silent, nil)
		},
	}
	how.flags(cmd)
	how.liveFlags(cmd)
	how.musicFlag(cmd)
	cmd.Flags().BoolVar(&plain, "plain", false, "print a line for each step instead of drawing a screen")
	cmd.Flags().BoolVar(&silent, "silent", false, "keep time without sound")
	return cmd
}

// rate is the frames a second at which the program sounds.
const rate = 48000

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

// warn tells of what went wrong and does no harm.
func (a *app) warn(err error) { fmt.Fprintf(a.err, "slowquick: warning: %s\n", message(err)) }

// past is what the diary knows of a score, for a screen.
func (s *stage) past(score *routine.Score) *practice.History {
	return history(score, time.Local, s.note)
}

// Status and Changed make a stage a [screen.Sound].
func (s *stage) Status() string           { return s.line.Status().Problem }
func (s *stage) Changed() <-chan struct{} { return s.line.Changed() }

// danceOnScreen shows one sheet, and the list behind it, and leads through a
// session of it, if there is one.
func (a *app) danceOnScreen(ctx context.Context, d sheets.Document, how howToDance, silent bool, session *practice.Session) error {
	shown, err := how.shown()
	if err != nil {
		return err
	}
	o := screen.Options{Guard: a.guard, Open: &screen.Entry{ID: d.Name, Title: d.Name}}
	if o.Dancers, err = how.dancers(); err != nil {
		return err
	}
	if o.Count, err = how.style(); err != nil {
		return err
	}
	sh := shelf{app: a}
	if d.Name == sheets.StandardInput {
		sh.given = &d
	}
	if _, err := how.settings(a.sheets().Read(d).Timeline); err != nil {
		return err
	}
	s := a.openStage(ctx, shown, how, silent, nil)
	defer a.closeStage(s)
	o.Shelf, o.Handbook, o.Sound, o.Notes = sh, handbook{a.library}, s, s.notes
	o.Songs = songbook{songs.Book{Rate: rate, Given: how.music, For: d.Name}}
	begun := false
	o.Stage = func(l screen.Loaded) screen.Transport {
		set := player.DefaultSettings()
		if l.ID == d.Name && !begun { // the flags are for the sheet that was named, once it can be danced
			begun = true
			var wrong error // which was not to be known before
			if set, wrong = how.settings(l.Timeline); wrong != nil {
				s.note(wrong)
			}
		}
		return s.put(l.Timeline, set)
	}
	kept := keepDiary()
	defer a.closeDiary(kept)
	o.Diary, o.Joins, o.Past = kept, joins{}, s.past
	if session != nil {
		o.Session = func(*player.Timeline) practice.Session { return *session }
		o.Left = func(score *routine.Score, plan practice.Session) { kept.Leave(practice.SheetOf(score), plan) }
	}
	seen, after := a.cautioning()
	defer after()
	o.Seen, o.PauseAfter = seen, inMinutes(how.pauseAfter)
	if err := screen.Run(ctx, o); err != nil {
		return failed(err, "--plain needs no screen")
	}
	return nil
}

// danceOnLines prints a line for each step in time.
func (a *app) danceOnLines(ctx context.Context, d sheets.Document, how howToDance, silent bool) error {
	dancers, err := how.dancers()
	if err != nil {
		return err
	}
	shown, err := how.shown()
	if err != nil {
		return err
	}
	style, err := how.style()
	if err != nil {
		return err
	}
	score, err := a.score(d)
	if err != nil {
		return err
	}
	timeline, err := a.layOn(ctx, songs.Book{Rate: rate, Given: how.music, For: d.Name}, d, player.NewTimeline(score))
	if err != nil {
		a.warn(fmt.Errorf("without music: %w", err))
	}
	set, err := how.settings(timeline)
	if err != nil {
		return err
	}
	a.printCautions()
	s := a.openStage(ctx, shown, how, silent, a.warn)
	defer a.closeStage(s)
	t := s.put(timeline, set)
	if !silent {
		s.settle(ctx)
	}
	t.Start()
	kept := keepDiary()
	defer a.closeDiary(kept)
	err = lines.Write(ctx, a.out, t, lines.Options{Dancers: dancers, Count: style, Sound: s, Diary: kept})
	if err != nil {
		return failed(fmt.Errorf("print the steps: %w", err), "")
	}
	return nil
}

// choose opens the list of sheets.
func (a *app) choose(ctx context.Context) error {
	sh := shelf{app: a}
	if !a.draws() {
		entries, err := sh.Entries()
		if err != nil {
			return failed(err, "")
		}
		for _, e := range entries {
			fmt.Fprintf(a.out, "%s\t%s\t%s\n", harmless(e.ID), e.Dance, e.Title)
		}
		fmt.Fprintln(a.err, "slowquick: hint: slowquick dance SHEET dances one; slowquick help says more")
		return nil
	}
	chosen := a.choices()
	s := a.openStage(ctx, [2]bool{true, true}, howToDance{call: chosen.NamesAloud}, false, nil)
	defer a.closeStage(s)
	kept := keepDiary()
	defer a.closeDiary(kept)
	seen, after := a.cautioning()
	defer after()
	err := screen.Run(ctx, screen.Options{
		Guard: a.guard,
		Shelf: sh, Handbook: handbook{a.library}, Songs: songbook{songs.Book{Rate: rate}}, Sound: s, Notes: s.notes, Diary: kept, Joins: joins{}, Past: s.past, Seen: seen,
		PauseAfter: inMinutes(chosen.PauseAfter),
		Stage:      func(l screen.Loaded) screen.Transport { return s.put(l.Timeline, player.DefaultSettings()) },
	})
	if err != nil {
		return failed(err, "slowquick dance SHEET --plain needs no screen")
	}
	return nil
}
