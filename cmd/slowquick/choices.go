package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/settings"
	"dance.example/slowquick/player/screen/caution"
	"dance.example/slowquick/player/store"
)

// choosePause keeps the value of --pause-after, if that is given.
func (a *app) choosePause(cmd *cobra.Command, h *flags.Dance) error {
	if !cmd.Flags().Changed(settings.PauseAfter) {
		return nil
	}
	pause, _ := settings.Named(settings.PauseAfter)
	value, err := pause.Read(fmt.Sprint(h.PauseAfter))
	if err != nil {
		return outcome.Usage(fmt.Errorf("--%s: %w", pause.Name, err))
	}
	a.keep(map[string]string{pause.Name: value})
	return nil
}

// keep keeps what the dancer chose on the way. Without a folder for settings it does nothing: that is a
// convenience.
func (a *app) keep(values map[string]string) {
	if len(values) > 0 && settings.File() != "" {
		a.Warn(settings.Keep(values))
	}
}

// cautioning returns two functions: seen, to be called when the dancer has seen the cautions, and
// after, to be called once the screen is gone, which warns if that could not be kept. Seen is nil if
// the dancer saw them on an earlier start.
func (a *app) cautioning() (seen, after func()) {
	saw, err := store.CautionsSeen()
	if saw {
		return nil, func() {}
	}
	a.Warn(err)
	err = nil
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
