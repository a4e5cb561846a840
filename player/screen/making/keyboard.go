package making

import (
	"dance.example/slowquick/player/screen/term"

	"github.com/charmbracelet/bubbles/key"
)

// keyboard holds the keys. Those of the order are letters; in the figures, letters are typed.
type keyboard struct {
	put, other, save, undo, redo, back, quit, discard key.Binding // anywhere
	dance, help, kind, kindBefore                     key.Binding // while nothing is typed
	links, suggest, title, leadIn, hall, own          key.Binding // in the order
	line                                              lineKeys
}

// lineKeys are the keys that change the marked line of the order.
type lineKeys struct {
	more, fewer                                         key.Binding // in the figures too, while nothing is typed
	remove, up, down, part, remark, tempo, ends, corner key.Binding
	gather, apart                                       key.Binding // of a part of the order
}

func newKeyboard() keyboard {
	return keyboard{
		put: term.Bind("enter", "put it in", "enter"), other: term.Bind("tab", "the order", "tab"),
		save: term.Bind("ctrl+s", "save", "ctrl+s"), undo: term.Bind("ctrl+z", "undo", "ctrl+z"), redo: term.Bind("ctrl+y", "redo", "ctrl+y"),
		back: term.Bind("esc", "back", "esc"), quit: term.Bind("ctrl+c", "quit", "ctrl+c"), discard: term.Bind("x", "throw away", "x"),
		dance: term.Bind("space", "dance", " "), help: term.Bind("?", "help", "?"),
		kind: term.Bind("→", "other figures", "right"), kindBefore: term.Bind("←", "other figures", "left"),
		links: term.Bind("l", "links", "l"), suggest: term.Bind("g", "suggest", "g"), title: term.Bind("n", "the title", "n"), leadIn: term.Bind("i", "the lead-in", "i"), hall: term.Bind("h", "the hall", "h"), own: term.Bind("f", "write a figure of your own", "f"),
		line: lineKeys{
			more: term.Bind("+", "once more", "+", "="), fewer: term.Bind("−", "once less", "-", "_"),
			remove: term.Bind("x", "take it out", "x", "delete", "backspace"), up: term.Bind("K", "move it up", "K", "shift+up"), down: term.Bind("J", "move it down", "J", "shift+down"),
			part: term.Bind("p", "only some of its steps", "p"), remark: term.Bind("r", "a remark", "r"), tempo: term.Bind("t", "its tempo", "t"),
			ends: term.Bind("e", "the hold it ends in", "e"), corner: term.Bind("c", "a corner after it", "c"),
			gather: term.Bind("a", "make a part", "a"), apart: term.Bind("A", "take it apart", "A"),
		},
	}
}

// HelpKeys lists the keys, as a page of help explains them.
func HelpKeys() []key.Binding {
	k, c := newKeyboard(), term.NewChooser("")
	return []key.Binding{
		c.UpDown("choose"), term.Bind("a–z", "find a figure by typing"), term.Named(k.put, "enter", "put the figure in after the marked line"),
		term.Pair(k.kindBefore, k.kind, "←→", "all figures, level 1, danced before …"), term.Named(k.other, "tab", "from the figures to the order, and back"),
		term.Named(k.dance, "space", "dance from the marked line on"), term.Pair(k.line.more, k.line.fewer, "+−", "once more, once less"),
		k.undo, k.redo, k.save, k.back, k.line.remove, term.Pair(k.line.up, k.line.down, "K J", "move the line up, down"),
		k.line.part, k.line.remark, term.Named(k.line.tempo, "t", "its tempo, at the start the routine's"), k.line.ends, k.line.corner, term.Named(k.links, "l", "what links it with the line before or after"), term.Named(k.suggest, "g", "suggest how to go on"), term.Named(k.line.gather, "a", "make a part, from this line to another"), term.Named(k.line.apart, "A", "take the part apart that it names or is in"),
		k.title, k.leadIn, k.hall, k.own,
	}
}
