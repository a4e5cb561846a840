package screen

import (
	tea "github.com/charmbracelet/bubbletea"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/quiz"
)

// askMe turns to the questions, and lets the couple stand.
func (d *dance) askMe() tea.Cmd {
	d.transport.Hold()
	d.turn = toQuiz
	return nil
}

// pastMsg tells what was danced of a sheet, for its questions.
type pastMsg struct {
	visit int
	past  *practice.History
}

// asks turns to the questions, as soon as it is known what to ask most about.
func (m Model) asks() (Model, tea.Cmd) {
	if m.o.Past == nil {
		return m.asksOf(nil), nil
	}
	past, score, visit := m.o.Past, m.dance.now.Timeline.Score, m.visit
	return m, func() tea.Msg { return pastMsg{visit, past(score)} }
}

// asksOf turns to the questions, most of what is shaky.
func (m Model) asksOf(past *practice.History) Model {
	m.quiz, m.pane = quiz.New(m.dance.now.Timeline.Score, m.dance.dancers, m.o.Joins, past, m.theme), quizPane
	return m
}
