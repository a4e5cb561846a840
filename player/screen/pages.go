package screen

import (
	"fmt"

	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/player/screen/making"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/summary"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
)

// wordLines explain the words of the steps that a dance shows.
func wordLines(width int, t term.Theme, d *dance.Model) []string {
	words := d.Words()
	if len(words) == 0 {
		return nil
	}
	lines := []string{term.NewRow(width).Put(t.Heading, "The words of these steps").String()}
	column := 0
	for _, w := range words {
		column = max(column, term.Width(w.Word)+3)
	}
	for _, w := range words {
		lines = append(lines, term.NewRow(width).To(1).Put(t.Strong, w.Word).To(column).Put(term.Plain, w.Meaning).String())
	}
	return lines
}

// summaryLines are the page at the end of a session.
func summaryLines(width int, t term.Theme, list []summary.Section) (lines []string) {
	for i, s := range list {
		if i > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, term.NewRow(width).Put(t.Heading, s.Title).String())
		for _, text := range s.Lines {
			for k, line := range term.Wrap(text, width-4) {
				lines = append(lines, term.NewRow(width).To(2+min(k, 1)*2).Put(term.Plain, line).String())
			}
		}
	}
	return lines
}

// remote says what a presentation remote does.
var remote = []string{
	"Next: start; while you dance, a little faster.",
	"Previous: again from the start of the loop, a little slower.",
	"Start and end of a show (F5, Esc): start, hold. Black screen (b or .): the same when only the count is shown.",
}

// KeyGroup is keys that belong together.
type KeyGroup struct {
	Title string
	Keys  []key.Binding
}

// Keys lists every key and what it does: of the dance, and then of each other screen.
func Keys() []KeyGroup {
	return append(danceKeys(), []KeyGroup{
		{"In the handbook", handbook.HelpKeys()},
		{"On the page of a song", songpage.HelpKeys()},
		{"While you make a routine", making.HelpKeys()},
		{"While you write a figure", making.FigureHelpKeys()},
	}...)
}

func danceKeys() (groups []KeyGroup) {
	for _, g := range dance.Groups() {
		group := KeyGroup{Title: g.Title}
		for _, a := range g.Actions {
			group.Keys = append(group.Keys, a.Binding)
		}
		groups = append(groups, group)
	}
	return groups
}

// keyLines list keys in as many columns as there is room for.
func keyLines(width int, t term.Theme, groups []KeyGroup) (lines []string) {
	// The longest of all, so that the columns stand below each other.
	keyWidth, what := 0, 0
	for _, g := range groups {
		for _, k := range g.Keys {
			keyWidth = max(keyWidth, term.Width(k.Help().Key))
			what = max(what, term.Width(k.Help().Desc))
		}
	}
	column := keyWidth + what + 4
	columns := max(1, width/column)
	for _, g := range groups {
		lines = append(lines, term.NewRow(width).Put(t.Heading, g.Title).String())
		rows := (len(g.Keys) + columns - 1) / columns
		for i := range rows {
			r := term.NewRow(width)
			for k := i; k < len(g.Keys); k += rows {
				h := g.Keys[k].Help()
				at := k / rows * column
				r.To(at+1).Put(t.Strong, h.Key).To(at+keyWidth+2).Put(term.Plain, h.Desc)
			}
			lines = append(lines, r.String())
		}
	}
	return lines
}

// paragraphs are a heading and texts below it, broken into lines.
func paragraphs(width int, t term.Theme, title string, texts []string) []string {
	lines := []string{term.NewRow(width).Put(t.Heading, title).String()}
	for _, text := range texts {
		for i, part := range term.Wrap(text, width-1) {
			r := term.NewRow(width).To(1)
			if i > 0 {
				r.To(3)
			}
			lines = append(lines, r.Put(term.Plain, part).String())
		}
	}
	return lines
}

// findingsLines list all that was found in a sheet; goesOn says that an earlier state of it is danced.
func findingsLines(width int, t term.Theme, s dance.Sheet, goesOn bool) []string {
	var lines []string
	say := func(k term.Ink, indent int, text string) {
		for _, part := range term.Wrap(text, max(width-indent, 1)) {
			lines = append(lines, term.NewRow(width).To(indent).Put(k, part).String())
		}
	}
	say(t.Heading, 0, s.Name)
	switch {
	case s.Danceable() && len(routine.Objections(s.Findings)) == 0:
		say(term.Plain, 0, "No errors or warnings: the sheet can be danced as it stands.")
	case s.Danceable():
		say(term.Plain, 0, "The sheet can be danced, but a teacher would ask:")
	case goesOn:
		say(t.Alarm, 0, "The saved sheet has errors. You are still dancing the last good one.")
	default:
		say(t.Alarm, 0, "The sheet can't be danced yet. It is reloaded each time you save it.")
	}
	if !s.Danceable() && !routine.HasErrors(s.Findings) {
		say(term.Plain, 0, "It has no steps to dance.")
	}
	noted := false
	for _, f := range s.Findings {
		lines = append(lines, "")
		if f.Severity == routine.Note && !noted {
			say(term.Plain, 0, "Worth knowing:")
			noted = true
		}
		k := term.Plain
		if f.Severity == routine.Error {
			k = t.Alarm
		}
		say(k, 0, fmt.Sprintf("line %d: %s", f.Span.Start.Line, f.Message))
		if f.Hint != "" {
			say(term.Plain, 2, "hint: "+f.Hint)
		}
		for _, r := range f.Related {
			say(term.Plain, 2, fmt.Sprintf("line %d: %s", r.Span.Start.Line, r.Message))
		}
	}
	return lines
}
