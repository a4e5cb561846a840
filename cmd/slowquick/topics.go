package main

import (
	"embed"
	"fmt"
	"strings"

	"github.com/mattn/go-runewidth"
	"github.com/spf13/cobra"

	"dance.example/slowquick/player/screen"
)

//go:embed topics/*.txt
var topicPages embed.FS

// topics are pages of the help, and no commands.
func (a *app) topics() []*cobra.Command {
	page := func(name string) string {
		text, err := topicPages.ReadFile("topics/" + name + ".txt")
		if err != nil {
			panic(err) // it is embedded
		}
		return string(text)
	}
	return []*cobra.Command{
		{Use: "files", Short: "Which files are kept, and where", Long: page("files")},
		{Use: "keys", Short: "Every key of the screen", Long: keysPage()},
		{Use: "sheet", Short: "How a sheet is written, on one page", Long: page("sheet")},
		{Use: "tempo", Short: "How tempi are written and changed", Long: page("tempo")},
	}
}

// keysPage lists every key.
func keysPage() string {
	var page strings.Builder
	for _, g := range screen.Keys() {
		fmt.Fprintf(&page, "%s\n", g.Title)
		for _, k := range g.Keys {
			name := k.Help().Key
			fmt.Fprintf(&page, "    %s%s  %s\n", name, strings.Repeat(" ", max(10-runewidth.StringWidth(name), 0)), k.Help().Desc)
		}
		page.WriteString("\n")
	}
	return page.String() + "ctrl+z holds the dance and gives the terminal back to the shell, until fg."
}
