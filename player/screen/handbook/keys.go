package handbook

import (
	"dance.example/slowquick/player/screen/term"

	"github.com/charmbracelet/bubbles/key"
)

// browserKeys are the keys besides those that choose.
type browserKeys struct{ open, dance, left, right, view, back, sheets, help, leave, quit key.Binding }

func newKeys() browserKeys {
	return browserKeys{
		open: term.Bind("enter", "open", "enter"), dance: term.Bind("space", "dance it", " "),
		left: term.Bind("←", "previous part", "left"), right: term.Bind("→", "next part", "right"), view: term.Bind("v", "view", "v"),
		back: term.Bind("esc", "back", "esc"), sheets: term.Bind("tab", "sheets", "tab"), help: term.Bind("?", "help", "?"),
		leave: term.Bind("q", "quit", "q"), quit: term.Bind("ctrl+c", "quit", "ctrl+c"),
	}
}

// HelpKeys lists the keys, as a page of help explains them.
func HelpKeys() []key.Binding {
	k := newKeys()
	c := term.NewChooser("")
	return []key.Binding{
		term.Named(k.sheets, "tab", "the handbook; the sheets again"), c.UpDown("choose, or read on"),
		term.Bind("a–z", "find by typing"), term.Named(k.open, "enter", "open"),
		term.Named(k.dance, "space", "dance the figure of the page"), term.Pair(k.left, k.right, "←→", "steps, floor, after, before"),
		term.Named(k.view, "v", "view of the floor"), term.Named(k.back, "esc", "a step back"),
	}
}
