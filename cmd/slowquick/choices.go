package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/screen/caution"
	"dance.example/slowquick/player/store"
)

// choices returns the dancer's earlier choices. It warns if they can't be read.
func (a *app) choices() store.Choices {
	chosen, err := store.ReadChoices()
	a.Warn(err)
	return chosen
}

// choosePause keeps the value of --pause-after or, without the flag, takes the one kept earlier.
func (a *app) choosePause(cmd *cobra.Command, h *flags.Dance) error {
	if !cmd.Flags().Changed("pause-after") {
		chosen, _ := store.ReadChoices() // choices warns
		h.PauseAfter = chosen.PauseAfter
		return nil
	}
	if !store.IsPause(h.PauseAfter) {
		return outcome.Usage(fmt.Errorf("--pause-after: use 1 to %.0f minutes, or 0 for never", store.LongestPause))
	}
	a.Warn(store.KeepPauseAfter(h.PauseAfter))
	return nil
}

// cautioning returns two functions: seen, to be called when the dancer has seen the cautions, and
// after, to be called once the screen is gone, which warns if that could not be kept. Seen is nil if
// the dancer saw them on an earlier start.
func (a *app) cautioning() (seen, after func()) {
	if chosen, _ := store.ReadChoices(); chosen.CautionsSeen {
		return nil, func() {}
	}
	var err error
	return func() { err = store.KeepCautionsSeen() }, func() { a.Warn(err) }
}

// printCautions prints the cautions on the first start.
func (a *app) printCautions() {
	seen, after := a.cautioning()
	if seen == nil {
		return
	}
	fmt.Fprintln(a.Err, cautions)
	seen()
	after()
}

// cautions stand in the program's help, on the screen and in the README.
const cautions = caution.Text
