package main

import (
	"errors"
	"fmt"
	"time"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
	"github.com/spf13/cobra"
)

// howToPractise holds the flags of practise.
type howToPractise struct {
	howToDance
	minutes  float64
	goal, by string
	couple   bool
	swap     bool
	breather float64 // minutes
}

// session returns the session that was left earlier today, unless a new one is asked for, or plans one.
func (a *app) session(cmd *cobra.Command, timeline *player.Timeline, wish practice.Wish, anew bool, tell func(error)) practice.Session {
	if !anew {
		if left, ok := a.leftToday(cmd, timeline, wish, tell); ok {
			return left
		}
	}
	return practice.NewSession(timeline, diary.History(timeline.Score, wish.Now.Location(), tell), wish)
}

// leftToday returns the session that was left earlier today; ok is false if another is asked for, or
// none of it was danced.
func (a *app) leftToday(cmd *cobra.Command, timeline *player.Timeline, wish practice.Wish, tell func(error)) (left practice.Session, ok bool) {
	left, ok, err := diary.LeftToday(timeline, wish.Now)
	if err != nil {
		tell(err)
	}
	asked := cmd.Flags().Changed("partner") || cmd.Flags().Changed("side") || cmd.Flags().Changed("couple")
	return left, ok && left.Done > 0 && !(asked && left.Exercises[0].Dancers != wish.Dancers)
}

// mostMinutes bounds a session.
const mostMinutes = 240

// wish returns the session that the flags ask for.
func (h *howToPractise) wish(timeline *player.Timeline, now time.Time) (w practice.Wish, err error) {
	w = practice.Wish{Now: now, Minutes: h.minutes, Couple: h.couple, Swap: h.swap, Every: inMinutes(h.breather), Dancers: h.dancers}
	if !(h.minutes >= 1 && h.minutes <= mostMinutes) { // NaN isn't either
		return w, outcome.Usage(fmt.Errorf("--minutes: use 1 to %d", mostMinutes))
	}
	if !(h.breather >= 1 && h.breather <= mostMinutes) {
		return w, outcome.Usage(fmt.Errorf("--breather: use 1 to %d minutes", mostMinutes))
	}
	if h.couple && w.Dancers != routine.Both {
		return w, outcome.Usage(errors.New("--couple is for both partners; leave --partner out"))
	}
	if h.goal != "" {
		percent, _, err := timeline.ParseTempo(h.goal, timeline.Score.Tempo)
		if err != nil {
			return w, outcome.New(exitUsage, fmt.Errorf("--goal: %w", err), "28 bars/min, 112 beats/min or 100 %")
		}
		w.Goal = timeline.Score.Tempo.Scaled(percent)
	}
	if h.by != "" {
		if w.By, err = time.ParseInLocation(time.DateOnly, h.by, now.Location()); err != nil {
			return w, outcome.New(exitUsage, fmt.Errorf("--by: %q is not a date", h.by), "write it as 2026-12-20")
		}
		if practice.DayOf(w.By) < practice.DayOf(now) {
			return w, outcome.Usage(fmt.Errorf("--by: %s is in the past", h.by))
		}
	}
	return w, nil
}
