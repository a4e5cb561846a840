package screentest

import (
	tea "github.com/charmbracelet/bubbletea"

	_ "dance.example/slowquick/player/screen/internal/quiet" // before bubbletea
)

var keyTypes = map[string]tea.KeyType{
	" ": tea.KeySpace, "enter": tea.KeyEnter, "esc": tea.KeyEsc, "left": tea.KeyLeft, "right": tea.KeyRight, "up": tea.KeyUp, "down": tea.KeyDown,
	"pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome, "ctrl+c": tea.KeyCtrlC, "ctrl+p": tea.KeyCtrlP, "ctrl+n": tea.KeyCtrlN,
	"backspace": tea.KeyBackspace, "end": tea.KeyEnd, "ctrl+s": tea.KeyCtrlS, "ctrl+y": tea.KeyCtrlY, "ctrl+z": tea.KeyCtrlZ, "tab": tea.KeyTab, "f5": tea.KeyF5,
}

// Key returns the message of a key, as "enter" or "pgup", or of letters.
func Key(name string) tea.KeyMsg {
	if k, ok := keyTypes[name]; ok {
		msg := tea.KeyMsg{Type: k}
		if k == tea.KeySpace {
			msg.Runes = []rune{' '}
		}
		return msg
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}
