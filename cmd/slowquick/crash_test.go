package main

import (
	"os"
	"os/signal"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
)

// crashOnSignal is the program with a command that dances, and panics with a signal.
func crashOnSignal() {
	asked := make(chan os.Signal, 1)
	signal.Notify(asked, crashSignal)
	os.Exit(start(os.Stdin, os.Stdout, os.Stderr, func(a *app) int {
		root := a.root()
		root.AddCommand(&cobra.Command{Use: "crash WHERE SHEET", RunE: func(cmd *cobra.Command, args []string) error {
			d, err := a.Open(args[1])
			if err != nil {
				return err
			}
			switch args[0] {
			case "goroutine", "hangs":
				go a.Guard(func() { <-asked; oarSlips() })
			}
			if args[0] == "hangs" {
				defer func() { select {} }() // as what waits for who is gone
			}
			return a.danceOnScreen(cmd.Context(), d, flags.Dance{Tempo: "100 %"}, true, nil)
		}})
		return a.carryOut(root, os.Args[1:])
	}))
}

func oarSlips() { panic("an oar slips") }
