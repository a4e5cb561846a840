package screen

import (
	"fmt"

	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// page is a text that can be longer than the screen.
type page struct {
	keys pageKeys
	top  int // the first line that is seen
}

type pageTurn uint8

const (
	pageStay pageTurn = iota
	pageBack
	pageQuit
)

// press carries a key out on a page of lines, of which rows are seen.
func (p *page) press(msg tea.KeyMsg, rows, lines int) pageTurn {
	switch k := p.keys; {
	case key.Matches(msg, k.quit):
		return pageQuit
	case key.Matches(msg, k.back):
		return pageBack
	case key.Matches(msg, k.up):
		p.top--
	case key.Matches(msg, k.down):
		p.top++
	case key.Matches(msg, k.pageUp):
		p.top -= rows
	case key.Matches(msg, k.pageDown):
		p.top += rows
	}
	p.top = max(0, min(p.top, lines-rows))
	return pageStay
}

// textRows is how many lines of a page are seen: all but the keys.
func (m Model) textRows() int {
	if m.height > 1 {
		return m.height - 1
	}
	return m.height
}

func (m Model) pageLines() []string {
	if m.pane == helpPane {
		return helpPage(m.width, m.theme)
	}
	return findingsPage(m.width, m.theme, m.sheet, m.dance != nil)
}

func (m Model) pageView() string {
	lines := m.pageLines()
	rows := m.textRows()
	top := max(0, min(m.page.top, len(lines)-rows))
	var foot []string
	if rows < m.height {
		foot = []string{helpLine(m.width, m.page.keys.line())}
	}
	return join(m.height, nil, lines[top:min(top+rows, len(lines))], foot)
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
	book, song := newBookKeys(), newSongKeys()
	return append(groups, helpGroup{handbookTitle, book.helpText()}, helpGroup{songTitle, song.helpText()})
}

// helpPage lists every key, and the cautions.
func helpPage(width int, t Theme) []string {
	groups := helpGroups()
	var lines []string
	// The longest of all, so that the columns stand below each other.
	keyWidth, what := 0, 0
	for _, g := range groups {
		for _, k := range g.keys {
			keyWidth = max(keyWidth, textWidth(k.Help().Key))
			what = max(what, textWidth(k.Help().Desc))
		}
	}
	column := keyWidth + what + 4
	columns := max(1, width/column)
	for _, g := range groups {
		lines = append(lines, newRow(width).put(t.heading, g.title).String())
		rows := (len(g.keys) + columns - 1) / columns
		for i := range rows {
			r := newRow(width)
			for k := i; k < len(g.keys); k += rows {
				h := g.keys[k].Help()
				at := k / rows * column
				r.to(at+1).put(t.strong, h.Key).to(at+keyWidth+2).put(noInk, h.Desc)
			}
			lines = append(lines, r.String())
		}
	}
	paragraphs := func(title string, texts []string) {
		lines = append(lines, newRow(width).put(t.heading, title).String())
		for _, text := range texts {
			for i, part := range wrap(text, width-1) {
				r := newRow(width).to(1)
				if i > 0 {
					r.to(3)
				}
				lines = append(lines, r.put(noInk, part).String())
			}
		}
	}
	paragraphs("The plan of the floor", []string{plan.Legend, "Dots: where the bodies came from in this figure. Steps have the dance's usual length."})
	paragraphs("Take care", append(cautions(), moreCautions...))
	return lines
}

// findingsPage lists all that was found in a sheet; goesOn says that an earlier
// state of it is danced.
func findingsPage(width int, t Theme, l Loaded, goesOn bool) []string {
	var lines []string
	say := func(k ink, indent int, text string) {
		for _, part := range wrap(text, max(width-indent, 1)) {
			lines = append(lines, newRow(width).to(indent).put(k, part).String())
		}
	}
	say(t.heading, 0, l.Name)
	switch {
	case l.danceable() && len(l.Findings) == 0:
		say(noInk, 0, "Nothing was found: the sheet can be danced as it stands.")
	case l.danceable():
		say(noInk, 0, "The sheet can be danced, but a teacher would ask:")
	case goesOn:
		say(t.alarm, 0, "The sheet as it was saved can't be danced. What was danced before goes on.")
	default:
		say(t.alarm, 0, "The sheet can't be danced yet. It is read again each time it is saved.")
	}
	if !l.danceable() && !routine.HasErrors(l.Findings) {
		say(noInk, 0, "It has no steps to dance.")
	}
	for _, f := range l.Findings {
		lines = append(lines, "")
		k := noInk
		if f.Severity == routine.Error {
			k = t.alarm
		}
		say(k, 0, findingText(f))
		if f.Hint != "" {
			say(noInk, 2, "hint: "+f.Hint)
		}
		for _, r := range f.Related {
			say(noInk, 2, fmt.Sprintf("line %d: %s", r.Span.Start.Line, r.Message))
		}
	}
	return lines
}

// findingText is a finding on one line.
func findingText(f routine.Finding) string {
	return fmt.Sprintf("line %d: %s", f.Span.Start.Line, f.Message)
}
