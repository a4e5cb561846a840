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
			if i == q.asked.Right {
				q.right++
			}
		}
	case key.Matches(msg, q.keys.next) && q.answer >= 0:
		q.next()
	}
	return term.PageStay
}

// View draws the question and, once it is answered, which answer is right.
func (q *Model) View(width, height int) string {
	foot := []string{term.HelpLine(width, []key.Binding{q.keys.options, q.keys.next, q.keys.back, q.keys.quit})}
	if q.none {
		return term.Join(height, []string{term.NewRow(width).Put(term.Plain, "Not enough in this sheet to ask about.").String()}, nil, foot)
	}
	head := term.NewRow(width).Put(q.theme.Heading, "Do you know it?")
	if q.answered > 0 {
		head.Right(term.Plain, fmt.Sprintf("%d of %d right", q.right, q.answered))
	}
	lines := []string{head.String(), ""}
	for _, text := range term.Wrap(q.asked.Text, width) {
		lines = append(lines, term.NewRow(width).Put(q.theme.Strong, text).String())
	}
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
	return term.Join(height, lines, nil, foot)
}
