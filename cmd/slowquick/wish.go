package main

import (
	"github.com/spf13/cobra"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
)

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
