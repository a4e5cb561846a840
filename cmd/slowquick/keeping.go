package main

import (
	"fmt"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/harmless"
)

// closeDiary writes what is still waiting, and warns of what could not be kept.
func (a *app) closeDiary(w *diary.Writer) {
	a.warn(w.Close(func(problem error) {
		text := fmt.Sprintf("waiting up to %.0f s to keep what was danced", diary.LastWait.Seconds())
		if problem != nil {
			text += ": " + harmless.Message(problem)
		}
		fmt.Fprintf(a.err, "slowquick: %s\n", text)
	}))
}
