// Package caution shows, before anything else, what to take care of when dancing.
//
// Begin with [Text], or with [Before], which puts the page of cautions before a screen.
package caution

import (
	"strings"

	"dance.example/slowquick/player/screen/term"
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Text holds the cautions. They are common practice. They defer to those who are there.
const Text = `Take care: dancing and loud sound can hurt. Start at a low level and give your
ears pauses, above all with headphones. Warm up, wear shoes that suit the
floor, and keep the floor dry, even and clear. Stop when something hurts, and
see a doctor or physiotherapist if it stays. Your teacher, your doctor and the
rules of the place where you dance come before anything this program says.`

// more is what follows Text where there is room to read on.
var more = []string{
	"Keep it soft enough to talk over. If your ears ring afterwards, it was too loud.",
	"Start slower than you think you need, and leave room on the floor for others.",
	"Dizziness or shortness of breath: stop. Do not dance on through it.",
}

// All returns the sentences of Text, and more where there is room to read on.
func All() []string { return append(sentences(), more...) }

// sentences returns the sentences of Text.
func sentences() []string {
	text := strings.ReplaceAll(Text, "\n", " ")
	list := strings.SplitAfter(text, ". ")
	for i := range list {
		list[i] = strings.TrimSpace(list[i])
	}
	return list
}

// firstPage shows the cautions before anything else begins. It is a [tea.Model]
// that next takes the place of.
type firstPage struct {
	next          tea.Model
	seen          func()
	theme         term.Theme
	width, height int
	top           int // the first line that is shown
}

// Before returns a screen with the cautions before next. It calls seen when they have
// been read; without a seen it returns next itself.
func Before(next tea.Model, seen func(), t term.Theme) tea.Model {
	if seen == nil {
		return next
	}
	return firstPage{next: next, seen: seen, theme: t}
}

// Init waits for keys.
func (firstPage) Init() tea.Cmd { return nil }

// Update reads on with any key, and after the last line begins what comes next.
func (p firstPage) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		p.width, p.height, p.top = msg.Width, msg.Height, 0
	case tea.KeyMsg:
		switch {
		case msg.Type == tea.KeyCtrlC:
			return p, tea.Quit
		case p.width <= 0 || p.height <= 0: // nothing was seen yet
		case p.more():
			p.top += p.rows()
		default:
			p.seen()
			next, cmd := p.next.Update(tea.WindowSizeMsg{Width: p.width, Height: p.height})
			return next, tea.Batch(p.next.Init(), cmd)
		}
	default: // what the next screen has to know, as what the terminal shows
		var cmd tea.Cmd
		p.next, cmd = p.next.Update(msg)
		return p, cmd
	}
	return p, nil
}

// rows returns how many lines there are for the text: all but the key's.
func (p firstPage) rows() int { return max(p.height-1, 1) }

// more reports whether there are lines below those that are shown.
func (p firstPage) more() bool { return p.top+p.rows() < len(p.lines()) }

// lines returns the text as large and as well spaced as the window allows.
func (p firstPage) lines() []string {
	head := p.bigHead()
	for _, lines := range [][]string{
		append(append([]string{""}, append(head, "")...), p.spaced(1)...), append(head, p.spaced(1)...), p.spaced(1), p.spaced(0),
	} {
		if len(lines) <= p.rows() {
			return lines
		}
	}
	return p.written(strings.Join(sentences(), " "), term.Plain)
}

// bigHead returns the title in large letters, if there is room for any.
func (p firstPage) bigHead() []string {
	const head, most = "Take care", 7 // lines
	size := term.LetteringFor([]string{head}, len(head), p.width, most)
	if !size.Readable() {
		return nil
	}
	return p.written(strings.Join(size.Draw(head), "\n"), p.theme.Strong)
}

// spaced returns the sentences, each on lines of its own, with blank lines between.
func (p firstPage) spaced(blank int) (lines []string) {
	for i, sentence := range sentences() {
		ink := term.Plain
		if i == 0 {
			ink = p.theme.Strong
		} else {
			lines = append(lines, make([]string, blank)...)
		}
		lines = append(lines, p.written(sentence, ink)...)
	}
	return lines
}

// written breaks text into lines of the window's width.
func (p firstPage) written(text string, k term.Ink) (lines []string) {
	for part := range strings.SplitSeq(text, "\n") {
		for _, line := range term.Wrap(part, p.width) {
			lines = append(lines, term.NewRow(p.width).Put(k, line).String())
		}
	}
	return lines
}

// View draws what fits, and the key.
func (p firstPage) View() string {
	if p.width <= 0 || p.height <= 0 {
		return ""
	}
	what := "to continue"
	if p.more() {
		what = "to read on"
	}
	var foot []string
	if p.height > 1 {
		foot = []string{term.HelpLine(p.width, []key.Binding{term.Bind("Press any key", what, "any key"), term.Bind("ctrl+c", "quit", "ctrl+c")})}
	}
	lines := p.lines()
	return term.Join(p.height, nil, lines[min(p.top, len(lines)):], foot)
}
