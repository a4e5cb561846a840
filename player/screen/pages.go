package screen

import (
	"fmt"

	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/screen/caution"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
)

func (m Model) pageLines() []string {
	if m.pane == helpPane {
		return helpPage(m.width, m.theme)
	}
	return findingsPage(m.width, m.theme, m.sheet, m.dance != nil)
}

// helpGroup is keys that belong together on the help page.
type helpGroup struct {
	title string
	keys  []key.Binding
}

// The titles of the keys of other pages.
const (
	handbookTitle = "The handbook, which tab opens"
	songTitle     = "The page of the song, which M opens"
)

// helpGroups lists every key.
func helpGroups() (groups []helpGroup) {
	for _, g := range danceActions() {
		group := helpGroup{title: g.title}
		for _, a := range g.actions {
			group.keys = append(group.keys, a.Binding)
		}
		groups = append(groups, group)
	}
	return append(groups, helpGroup{handbookTitle, handbook.HelpKeys()}, helpGroup{songTitle, songpage.HelpKeys()})
}

// helpPage lists every key, and the cautions.
func helpPage(width int, t term.Theme) []string {
	groups := helpGroups()
	var lines []string
	// The longest of all, so that the columns stand below each other.
	keyWidth, what := 0, 0
	for _, g := range groups {
		for _, k := range g.keys {
			keyWidth = max(keyWidth, term.Width(k.Help().Key))
			what = max(what, term.Width(k.Help().Desc))
		}
	}
	column := keyWidth + what + 4
	columns := max(1, width/column)
	for _, g := range groups {
		lines = append(lines, term.NewRow(width).Put(t.Heading, g.title).String())
		rows := (len(g.keys) + columns - 1) / columns
		for i := range rows {
			r := term.NewRow(width)
			for k := i; k < len(g.keys); k += rows {
				h := g.keys[k].Help()
				at := k / rows * column
				r.To(at+1).Put(t.Strong, h.Key).To(at+keyWidth+2).Put(term.Plain, h.Desc)
			}
			lines = append(lines, r.String())
		}
	}
	paragraphs := func(title string, texts []string) {
		lines = append(lines, term.NewRow(width).Put(t.Heading, title).String())
		for _, text := range texts {
			for i, part := range term.Wrap(text, width-1) {
				r := term.NewRow(width).To(1)
				if i > 0 {
					r.To(3)
				}
				lines = append(lines, r.Put(term.Plain, part).String())
			}
		}
	}
	paragraphs("The plan of the floor", []string{plan.Legend, "Dots: where the bodies came from in this figure. Steps have the dance's usual length."})
	paragraphs("Take care", caution.All())
	return lines
}

// findingsPage lists all that was found in a sheet; goesOn says that an earlier
// state of it is danced.
func findingsPage(width int, t term.Theme, l Loaded, goesOn bool) []string {
	var lines []string
	say := func(k term.Ink, indent int, text string) {
		for _, part := range term.Wrap(text, max(width-indent, 1)) {
			lines = append(lines, term.NewRow(width).To(indent).Put(k, part).String())
		}
	}
	say(t.Heading, 0, l.Name)
	switch {
	case l.danceable() && len(l.Findings) == 0:
		say(term.Plain, 0, "Nothing was found: the sheet can be danced as it stands.")
	case l.danceable():
		say(term.Plain, 0, "The sheet can be danced, but a teacher would ask:")
	case goesOn:
		say(t.Alarm, 0, "The sheet as it was saved can't be danced. What was danced before goes on.")
	default:
		say(t.Alarm, 0, "The sheet can't be danced yet. It is read again each time it is saved.")
	}
	if !l.danceable() && !routine.HasErrors(l.Findings) {
		say(term.Plain, 0, "It has no steps to dance.")
	}
	for _, f := range l.Findings {
		lines = append(lines, "")
		k := term.Plain
		if f.Severity == routine.Error {
			k = t.Alarm
		}
		say(k, 0, findingText(f))
		if f.Hint != "" {
			say(term.Plain, 2, "hint: "+f.Hint)
		}
		for _, r := range f.Related {
			say(term.Plain, 2, fmt.Sprintf("line %d: %s", r.Span.Start.Line, r.Message))
		}
	}
	return lines
}

// findingText is a finding on one line.
func findingText(f routine.Finding) string {
	return fmt.Sprintf("line %d: %s", f.Span.Start.Line, f.Message)
}
