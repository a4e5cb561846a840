package term

import (
	"dance.example/slowquick/player/harmless"
	"github.com/charmbracelet/bubbles/textinput"
	"github.com/charmbracelet/lipgloss"
)

// InputLine draws i as one line with a cursor that does not blink.
func InputLine(width int, t Theme, i textinput.Model) string {
	r := NewRow(width).Put(t.Strong, i.Prompt)
	text := []rune(i.Value())
	if len(text) == 0 {
		return r.Put(t.Present, " ").Put(t.Faint, i.Placeholder).String()
	}
	at := min(i.Position(), len(text))
	// The cursor must stay in sight.
	from := 0
	for from < at && Width(harmless.Line(string(text[from:at]))) > r.Left()-1 {
		from++
	}
	r.Put(Plain, string(text[from:at]))
	if at == len(text) {
		return r.Put(t.Present, " ").String()
	}
	return r.Put(t.Present, string(text[at:at+1])).Put(Plain, string(text[at+1:])).String()
}

// NewInput returns a focused line to type in; example is shown while it is empty.
func NewInput(prompt, example string) textinput.Model {
	i := textinput.New()
	i.Prompt, i.Placeholder = prompt, example
	i.CharLimit = 64
	i.PromptStyle, i.TextStyle, i.PlaceholderStyle = lipgloss.NewStyle(), lipgloss.NewStyle(), lipgloss.NewStyle()
	i.KeyMap.Paste.SetEnabled(false) // the terminal pastes; the key would run other programs
	i.Focus()                        // its command only blinks the cursor
	return i
}
