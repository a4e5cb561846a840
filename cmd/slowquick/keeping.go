package main

import (
	"fmt"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// keptDiary makes a diary's writer a [practice.Diary].
type keptDiary struct{ *diary.Writer }

// Begin begins a practice.
func (k keptDiary) Begin(s *routine.Score) practice.Keeper {
	return k.Writer.Begin(practice.SheetOf(s))
}

// keepDiary begins to keep the dancer's diary.
func keepDiary() keptDiary { return keptDiary{diary.NewWriter(diary.File())} }

// closeDiary writes what is still waiting, and warns of what could not be kept.
func (a *app) closeDiary(k keptDiary) {
	a.warn(k.Close(func(problem error) {
		text := fmt.Sprintf("waiting up to %.0f s to keep what was danced", diary.LastWait.Seconds())
		if problem != nil {
			text += ": " + harmless.Message(problem)
		}
		fmt.Fprintf(a.err, "slowquick: %s\n", text)
	}))
}
