package screen

import (
	"strconv"
	"strings"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/textinput"
	"github.com/charmbracelet/lipgloss"
)

// number writes f with at most one decimal.
func number(f float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(f, 'f', 1, 64), ".0")
}

// tempoText gives the tempo at a moment, and how much of the sheet's it is. A song that
// hardly leaves its tempo has one, not another with each beat.
func tempoText(m player.Moment) string {
	tempo := m.Tempo
	if m.Timeline.Music() != nil {
		const hardly = 50 // a fiftieth
		if own := m.Timeline.OwnTempo().Scaled(m.Percent); max(own-tempo, tempo-own) <= own/hardly {
			tempo = own
		}
	}
	text := number(m.Timeline.Score.Dance.BarsPerMinute(tempo)) + " bars/min"
	if p := strconv.FormatFloat(m.Percent, 'f', 0, 64); p != "100" {
		text += " (" + p + " %)"
	}
	return text
}

// newInput gives a line to type in, in plain letters.
func newInput(prompt, example string) textinput.Model {
	i := textinput.New()
	i.Prompt, i.Placeholder = prompt, example
	i.CharLimit = 64
	i.PromptStyle, i.TextStyle, i.PlaceholderStyle = lipgloss.NewStyle(), lipgloss.NewStyle(), lipgloss.NewStyle()
	i.KeyMap.Paste.SetEnabled(false) // the terminal pastes; the key would run other programs
	i.Focus()                        // its command only blinks the cursor
	return i
}

// countText says how the count is said.
func countText(s routine.CountStyle) string {
	switch s {
	case routine.SlowQuick:
		return "slow/quick"
	case routine.InWords:
		return "in words"
	}
	return "as charted"
}
