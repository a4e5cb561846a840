package main

import (
	"cmp"
	"errors"
	"fmt"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/harmless"
)

// closeDiary writes what is still waiting, and warns of what could not be kept.
func (a *app) closeDiary(w *diary.Writer) {
	a.Warn(w.Close(func(problem error) {
		text := fmt.Sprintf("waiting up to %.0f s to keep what was danced", diary.LastWait.Seconds())
		if problem != nil {
			text += ": " + harmless.Message(problem)
		}
		fmt.Fprintf(a.Err, "slowquick: %s\n", text)
	}))
}

// asFarAsRead prints what was read, unless that is nothing, and returns what was wrong.
func (a *app) asFarAsRead(damaged error, prints func() error) (err error) {
	if damaged == nil || diary.IsDamaged(damaged) {
		err = prints()
	}
	return cmp.Or(err, outcome.Failed(damaged, wayOut(damaged)))
}

// wayOut returns what to do about a diary that can't be read, or only in part; "" for nothing.
func wayOut(err error) string {
	switch {
	case errors.Is(err, diary.ErrCorrupt):
		return "move " + diary.File() + " away or delete it; a new diary begins when you dance"
	case diary.IsDamaged(err):
		return "the rest can still be read; to begin a new diary, delete this one with slowquick diary forget"
	}
	return ""
}
