package term

import (
	"io"

	"github.com/charmbracelet/bubbles/help"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// HelpLine writes as many keys as fit on one line, with what they do: whole ones, the first first.
func HelpLine(width int, keys []key.Binding) string {
	for ; len(keys) > 0; keys = keys[:len(keys)-1] {
		if line := newHelp(1000).ShortHelpView(keys); Width(line) <= width {
			return line
		}
	}
	return ""
}

// Bind binds keys; a line of keys shows them as shown, and what they do.
func Bind(shown, what string, keys ...string) key.Binding {
	return key.NewBinding(key.WithKeys(keys...), key.WithHelp(shown, what))
}

// Named returns b, shown in other words.
func Named(b key.Binding, shown, what string) key.Binding {
	return key.NewBinding(key.WithKeys(b.Keys()...), key.WithHelp(shown, what))
}

// Pair returns the keys of a and b as one binding.
func Pair(a, b key.Binding, shown, what string) key.Binding {
	return key.NewBinding(key.WithKeys(append(a.Keys(), b.Keys()...)...), key.WithHelp(shown, what))
}

// newHelp returns what writes lines of keys, with the keys in bold.
func newHelp(width int) help.Model {
	// The shared renderer would drop even the bold where there are no colours.
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.ANSI)
	h := help.New()
	h.Width = width
	h.ShortSeparator = "  "
	plain := r.NewStyle()
	h.Styles = help.Styles{Ellipsis: plain, ShortKey: plain.Bold(true), ShortDesc: plain, ShortSeparator: plain}
	return h
}
