// Package quiz shows questions about the sheet that is danced. What is asked, and
// what is right, is package practice's. Begin with [New].
package quiz

import (
	"fmt"
	"math/rand/v2"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// Model shows one question at a time, and how many answers were right.
type Model struct {
	from   *practice.Quiz
	theme  term.Theme
	keys   keys
	asked  practice.Question
	none   bool // the sheet is too small to ask about
	answer int  // an index of the options; -1 before it is given

	right, answered int
}

type keys struct{ options, next, back, quit key.Binding }

func newKeys() keys {
	return keys{
		options: term.Bind("1–4", "answer", "1", "2", "3", "4"), next: term.Bind("space", "next question", " ", "enter", "n"),
		back: term.Bind("esc", "back to the dance", "esc", "u"), quit: term.Bind("q", "quit", "q", "ctrl+c"),
	}
}

// New returns a model with its first question, for one of the partners. It asks most
// about what is shaky in the past, which may be nil.
func New(s *routine.Score, dancers routine.Dancers, joins practice.Joins, past *practice.History, t term.Theme) *Model {
	partners := dancers.Partners()
	partner := partners[rand.IntN(len(partners))]
	q := &Model{from: practice.NewQuiz(s, partner, joins, rand.Uint64()), theme: t, keys: newKeys()}
	if past != nil {
		q.from.Favour(past, practice.DayOf(time.Now()))
	}
	q.next()
	return q
}

func (q *Model) next() {
	var ok bool
	q.asked, ok = q.from.Ask()
	q.none, q.answer = !ok, -1
}

// Press carries out a key and returns where it leads.
func (q *Model) Press(msg tea.KeyMsg) term.PageTurn {
	switch {
	case key.Matches(msg, q.keys.quit):
		return term.PageQuit
	case key.Matches(msg, q.keys.back):
		return term.PageBack
	case key.Matches(msg, q.keys.options):
		if i := int(msg.String()[0] - '1'); q.answer < 0 && i < len(q.asked.Options) {
			q.answer = i
			q.answered++
			if q.from.Answer(q.asked, i) {
				q.right++
			}
		}
	case key.Matches(msg, q.keys.next) && q.answer >= 0:
		q.next()
	}
	return term.PageStay
}

// View draws the question and, once it is answered, which answer is right, why, and the steps.
func (q *Model) View(width, height int) string {
	foot := []string{term.HelpLine(width, []key.Binding{q.keys.options, q.keys.next, q.keys.back, q.keys.quit})}
	if q.none {
		return term.Join(height, []string{term.NewRow(width).Put(term.Plain, "Not enough in this sheet to ask about.").String()}, nil, foot)
	}
	lines := append([]string{q.head(width), ""}, inLines(q.theme.Strong, q.asked.Text, width)...)
	lines = append(lines, "")
	for i, option := range q.asked.Options {
		ink, mark := term.Plain, " "
		switch {
		case q.answer < 0:
		case i == q.asked.Right:
			ink, mark = q.theme.Strong, "✓"
		case i == q.answer:
			ink, mark = q.theme.Alarm, "✗"
		}
		lines = append(lines, term.NewRow(width).Put(ink, fmt.Sprintf("%s %d  %s", mark, i+1, option)).String())
	}
	if q.answer >= 0 {
		lines = append(lines, "")
		lines = append(lines, inLines(term.Plain, q.why(), width)...)
		lines = append(lines, "")
		lines = append(lines, q.chart(width, height-len(lines)-len(foot))...)
	}
	return term.Join(height, lines, nil, foot)
}

// head says how many answers were right, and how many questions will come back.
func (q *Model) head(width int) string {
	title := "Do you know it?"
	if q.asked.Again {
		title = "Do you know it now?"
	}
	head := term.NewRow(width).Put(q.theme.Heading, title)
	if q.answered > 0 {
		text := fmt.Sprintf("%d of %d right", q.right, q.answered)
		if n := q.from.Missed(); n > 0 {
			text += fmt.Sprintf(", %d will come back", n)
		}
		head.Right(term.Plain, text)
	}
	return head.String()
}

// why says what the answer makes of the question.
func (q *Model) why() string {
	right := q.asked.Why[q.asked.Right]
	if q.answer == q.asked.Right {
		return "Right. " + right
	}
	return "Not quite. " + q.asked.Why[q.answer] + " " + right
}

// chart draws the steps, or the order, with an arrow at the right ones, as many rows as there is room for.
func (q *Model) chart(width, rows int) []string {
	const between = 2
	lines := q.asked.Chart
	var widths []int
	asked := 0
	for i, l := range lines {
		for c, cell := range l.Cells {
			if c == len(widths) {
				widths = append(widths, 0)
			}
			widths[c] = max(widths[c], term.Width(cell))
		}
		if l.Asked {
			asked = i
		}
	}
	rows = max(0, min(rows, len(lines)))
	first := term.FirstSeen(len(lines), asked, rows)
	var drawn []string
	for _, l := range lines[first : first+rows] {
		ink, mark := term.Plain, "  "
		if l.Asked {
			ink, mark = q.theme.Strong, "▸ "
		}
		r, at := term.NewRow(width).Put(ink, mark), len("  ")
		for c, cell := range l.Cells {
			r.To(at).Put(ink, term.Cut(cell, q.share(c, widths, width)))
			at += min(widths[c], q.share(c, widths, width)) + between
		}
		drawn = append(drawn, r.String())
	}
	return drawn
}

// share returns how many columns a cell of the chart may fill: what comes after a line's name shares what is
// left.
func (q *Model) share(c int, widths []int, width int) int {
	name := min(widths[0], width/3)
	if c == 0 {
		return name
	}
	return max((width-name-2)/(len(widths)-1)-2, 1)
}

func inLines(ink term.Ink, text string, width int) (lines []string) {
	for _, line := range term.Wrap(text, width) {
		lines = append(lines, term.NewRow(width).Put(ink, line).String())
	}
	return lines
}
