package flags

import (
	"errors"
	"fmt"
	"time"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// Practise holds the flags of practise.
type Practise struct {
	Dance
	Minutes  float64
	Goal, By string
	Couple   bool
	Swap     bool
	Breather float64 // minutes
}

// mostMinutes bounds a session.
const mostMinutes = 240

// Wish returns the session that the flags ask for.
func (h *Practise) Wish(timeline *player.Timeline, now time.Time) (w practice.Wish, err error) {
	w = practice.Wish{Now: now, Minutes: h.Minutes, Couple: h.Couple, Swap: h.Swap, Every: InMinutes(h.Breather), Dancers: h.Dancers}
	if !(h.Minutes >= 1 && h.Minutes <= mostMinutes) { // NaN isn't either
		return w, outcome.Usage(fmt.Errorf("--minutes: use 1 to %d", mostMinutes))
	}
	if !(h.Breather >= 1 && h.Breather <= mostMinutes) {
		return w, outcome.Usage(fmt.Errorf("--breather: use 1 to %d minutes", mostMinutes))
	}
	if h.Couple && w.Dancers != routine.Both {
		return w, outcome.Usage(errors.New("--couple is for both partners; leave --partner out"))
	}
	if h.Goal != "" {
		percent, _, err := timeline.ParseTempo(h.Goal, timeline.Score.Tempo)
		if err != nil {
			return w, outcome.New(outcome.UsageCode, fmt.Errorf("--goal: %w", err), "28 bars/min, 112 beats/min or 100 %")
		}
		w.Goal = timeline.Score.Tempo.Scaled(percent)
	}
	if h.By != "" {
		if w.By, err = time.ParseInLocation(time.DateOnly, h.By, now.Location()); err != nil {
			return w, outcome.New(outcome.UsageCode, fmt.Errorf("--by: %q is not a date", h.By), "write it as 2026-12-20")
		}
		if practice.DayOf(w.By) < practice.DayOf(now) {
			return w, outcome.Usage(fmt.Errorf("--by: %s is in the past", h.By))
		}
	}
	return w, nil
}

// InMinutes returns a number of minutes as a duration.
func InMinutes(n float64) time.Duration { return time.Duration(n * float64(time.Minute)) }
