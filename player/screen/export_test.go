package screen

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"
)

// DanceKeys lists every key of the dance screen, the help lines' included.
func DanceKeys() []string {
	var keys []string
	groups := danceActions()
	for _, g := range groups {
		for _, a := range g.actions {
			keys = append(keys, a.Keys()...)
		}
	}
	for _, moving := range []bool{false, true} {
		for _, line := range helpLines(groups, moving, "list") {
			for _, b := range line {
				keys = append(keys, b.Keys()...)
			}
		}
	}
	seen := map[string]bool{}
	var once []string
	for _, k := range keys {
		if !seen[k] {
			seen[k] = true
			once = append(once, k)
		}
	}
	return once
}

// Tick is the tick that m awaits.
func Tick(m tea.Model) tea.Msg { return tickMsg(m.(Model).dance.tick) }

// Opened gives m with a sheet that is danced.
func Opened(m Model, l Loaded) tea.Model {
	m.open, m.sheet = m.ctx, l
	m, _ = m.begin()
	return m
}

// KeyTables is every key and what it does, as tables in Markdown: of the dance,
// of the handbook, and of the song.
func KeyTables() (tables [3]string) {
	for _, g := range helpGroups() {
		i := 0
		switch g.title {
		case handbookTitle:
			i = 1
		case songTitle:
			i = 2
		}
		if tables[i] == "" {
			tables[i] = "| key | what it does |\n|---|---|\n"
		}
		for _, k := range g.keys {
			tables[i] += fmt.Sprintf("| `%s` | %s |\n", k.Help().Key, k.Help().Desc)
		}
	}
	return tables
}
