package main

import (
	"context"
	"time"

	"dance.example/slowquick/audio/voice"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/settings"
	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/tapping"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/songs"
	"dance.example/slowquick/player/stage"
	"dance.example/slowquick/player/timing"
	"dance.example/slowquick/routine"
)

// openStage opens the sound. Names that can't be said go to tell, or if that is nil, to the screen.
func (a *app) openStage(ctx context.Context, how flags.Dance, silent bool, tell func(error)) *stage.Stage {
	return stage.Open(ctx, stage.Options{
		Rate: rate, Silent: silent, Shown: how.Dancers.Each(), Call: how.Call, Levels: a.set.Levels(how.Dancers.Each()),
		Voice: func() *voice.Voice { return a.Voice(rate, how.Voice) },
		Wait:  how.Voice != "", // once the screen is shown, warnings can't be printed
		Warn:  a.Warn, Tell: tell, Guard: a.Guard,
	})
}

// closeStage ends the sound, and keeps the levels, and whether figures are named, if the dancer changed them.
func (a *app) closeStage(s *stage.Stage, how flags.Dance) {
	s.Close()
	shown := how.Dancers.Each()
	values := settings.LevelsChanged(a.set.Levels(shown), s.Levels(), shown)
	if s.Calling() != how.Call {
		values[settings.Call] = settings.YesOrNo(s.Calling())
	}
	a.keep(values)
}

// show runs the screen on a stage until the dancer leaves it. More sets the options in which the
// callers differ.
func (a *app) show(ctx context.Context, s *stage.Stage, given *sheets.Document, book songs.Book, pauseAfter float64, more func(*screen.Options, *diary.Writer)) error {
	kept := diary.NewWriter(diary.File())
	defer a.closeDiary(kept)
	seen, after := a.cautioning()
	defer after()
	o := screen.Options{
		Program: program.Options{Guard: a.Guard}, Shelf: shelf{a, given}, Handbook: screen.LibraryBook{Library: a.Library}, Songs: book, Sound: s, Notes: s.Notes(), Make: a.making(),
		Diary: kept, Seen: seen, PauseAfter: flags.InMinutes(pauseAfter),
		Learn: screen.Learn{Joins: choreography.Joins{}, Past: func(score *routine.Score) *practice.History { return diary.History(score, time.Local, s.Note) }, Tapping: func(now func() player.Moment) tapping.Options {
			return tapping.Options{Sound: heard{s}, Rate: rate, Keep: keepTiming(kept), Danced: func() (*player.Timeline, player.Settings) {
				now := now()
				set := now.Onward()
				return now.Timeline, set.At(now.Percent, 0)
			}}
		}},
	}
	more(&o, kept)
	return screen.Run(ctx, o)
}

// heard makes a stage a [tapping.Sound].
type heard struct{ *stage.Stage }

func (h heard) Listen(ctx context.Context) (tapping.Ear, error) {
	ear, err := h.Stage.Listen(ctx)
	if err != nil {
		return nil, err
	}
	return ear, nil
}

// keepTiming returns what keeps results in the diary.
func keepTiming(kept *diary.Writer) func(*routine.Score, timing.Result, routine.Tempo) {
	return func(score *routine.Score, r timing.Result, tempo routine.Tempo) {
		kept.KeepTimed(diary.NewTimed(practice.SheetOf(score), time.Now(), tempo, r))
	}
}
