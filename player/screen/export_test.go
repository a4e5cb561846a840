package screen

import (
	"context"
	"fmt"
	"strings"

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
		for _, line := range helpLines(groups, moving) {
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

// KeyTable is every key and what it does, as a table in Markdown.
func KeyTable() string {
	var out strings.Builder
	out.WriteString("| key | what it does |\n|---|---|\n")
	for _, g := range danceActions() {
		for _, a := range g.actions {
			fmt.Fprintf(&out, "| `%s` | %s |\n", a.Help().Key, a.Help().Desc)
		}
	}
	return out.String()
}

// NewSyncing is the screen on which it is tapped.
func NewSyncing(ctx context.Context, o SyncOptions) tea.Model { return newSyncing(ctx, o) }

// FoundBy is what such a screen has found, and whether that is to be kept.
func FoundBy(m tea.Model) (Synced, bool) { s := m.(syncing); return s.synced(), s.keep }
