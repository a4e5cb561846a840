//go:build manpages

package main

import (
	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"dance.example/slowquick/cmd/slowquick/outcome"
)

// forPackages are the commands that only those need who pack the program.
func (a *app) forPackages() []*cobra.Command {
	return []*cobra.Command{{
		Use:    "manpages FOLDER",
		Hidden: true,
		Args:   cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			root := cmd.Root()
			root.DisableAutoGenTag = true
			root.PersistentFlags().Lookup("library").DefValue = "~/.local/share/slowquick/library" // not the packer's own
			return outcome.Failed(doc.GenManTree(root, &doc.GenManHeader{Section: "1", Source: "Slowquick", Manual: "Slowquick"}, args[0]), "")
		},
	}}
}
