package main

import (
	_ "embed"

	"github.com/spf13/cobra"
)

// sheetPage tells the language of sheets on one page.
//
//go:embed sheet.txt
var sheetPage string

// helpSheet is a topic of the help, and not a command.
func (a *app) helpSheet() *cobra.Command {
	return &cobra.Command{Use: "sheet", Short: "How a sheet is written, on one page", Long: sheetPage}
}
