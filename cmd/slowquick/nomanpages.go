//go:build !manpages

package main

import "github.com/spf13/cobra"

// forPackages are the commands that only those need who pack the program: here none, so
// that nobody else's program holds what writes manual pages.
func (a *app) forPackages() []*cobra.Command { return nil }
