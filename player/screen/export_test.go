package screen

import (
	"fmt"

	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/player/screen/making"
	"dance.example/slowquick/player/screen/songpage"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// DanceKeys lists every key of the dance.
func DanceKeys() (keys []string) {
	for _, g := range dance.Groups() {
		for _, a := range g.Actions {
			keys = append(keys, a.Keys()...)
		}
	}
	return keys
}

// Opened gives m with a sheet that is danced.
func Opened(m Model, s dance.Sheet) tea.Model {
	m.sheet.ctx, m.sheet.Sheet = m.ctx, s
	m, _ = m.begin()
	return m
}

// KeyTables is every key and what it does, as tables in Markdown: of the dance,
// of the handbook, of the song, of making a routine, and of writing a figure.
func KeyTables() (tables [5]string) {
	var danced []key.Binding
	for _, g := range danceKeys() {
		danced = append(danced, g.Keys...)
	}
	for i, keys := range [][]key.Binding{danced, handbook.HelpKeys(), songpage.HelpKeys(), making.HelpKeys(), making.FigureHelpKeys()} {
		tables[i] = "| key | what it does |\n|---|---|\n"
		for _, k := range keys {
			tables[i] += fmt.Sprintf("| `%s` | %s |\n", k.Help().Key, k.Help().Desc)
		}
	}
	return tables
}
