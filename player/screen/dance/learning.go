package dance

import (
	"slices"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/pane"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// learnRows are the ways to learn a routine.
func learnRows(m *Model) []pane.Row {
	heart := m.cue.Hidden.Stage.String()
	rows := []pane.Row{
		{Name: "by heart", Value: heart, Change: func(by int) tea.Cmd {
			m.learning.heart = false
			m.cue.Hidden.Stage = m.cue.Hidden.Stage.Along(by)
			return nil
		}},
		{Name: "hide more while nothing is marked", Value: pane.OnOff(m.learning.heart), Change: func(int) tea.Cmd {
			m.learning.heart = !m.learning.heart
			return nil
		}},
		{Name: "questions about the routine", Do: func() tea.Cmd {
			m.o.Transport.Hold()
			m.turn = Quiz
			return nil
		}, Leaves: true},
		{Name: "tap the steps: how well you keep time", Do: func() tea.Cmd {
			m.o.Transport.Hold()
			m.turn = Tap
			return nil
		}, Leaves: true},
		{Name: "drill what went wrong", Do: func() tea.Cmd { return drillWorst(m) }, Leaves: true},
		{Name: "what is marked", Do: func() tea.Cmd { return listMarks(m) }, Leaves: true},
		{Name: "swap parts", Value: swapped(m), Do: func() tea.Cmd { return swapParts(m) }},
	}
	if hides(m) {
		rows = slices.Insert(rows, 2, whoseRow(m), whereRow(m))
	}
	if m.lead != nil {
		rows = append(rows, pane.Row{Name: "next exercise of the session", Do: func() tea.Cmd { return nextExercise(m) }, Leaves: true})
	}
	return rows
}

// hides reports whether something is hidden, or will be.
func hides(m *Model) bool { return m.learning.heart || m.cue.Hidden.Stage != practice.HiddenNothing }

// whoseRow is whose steps are hidden.
func whoseRow(m *Model) pane.Row {
	whose := [...]string{routine.Both: "both partners'", routine.LeaderAlone: "the leader's", routine.FollowerAlone: "the follower's"}
	return pane.Row{Name: "hide whose steps", Value: whose[m.cue.Hidden.Of], Change: func(by int) tea.Cmd {
		m.cue.Hidden.Of = routine.Dancers((int(m.cue.Hidden.Of) + by + len(whose)) % len(whose))
		return nil
	}}
}

// whereRow is where they are hidden: everywhere, or in the figure or the line where the couple is.
func whereRow(m *Model) pane.Row {
	return pane.Row{Name: "hide where", Value: harmless.Line(m.cue.Hidden.In.String()), Change: func(by int) tea.Cmd {
		passage := &m.Score().Passages[m.cue.At().Passage]
		m.cue.Hidden.In = m.cue.Hidden.In.Along(by, passage.Figure.Name, passage.Item+1)
		return nil
	}}
}

// swapped says whose part is shown, or will be.
func swapped(m *Model) string {
	switch {
	case m.cue.Dancers == routine.Both:
		return "choose one partner first (s)"
	case m.learning.swap:
		return "the " + m.cue.Dancers.Swapped().String() + "'s with the next run-through"
	}
	return "the " + m.cue.Dancers.String() + "'s"
}

// swapParts shows the other partner's part from the next run-through on, or at once if the
// couple stands.
func swapParts(m *Model) tea.Cmd {
	switch {
	case m.cue.Dancers == routine.Both:
		m.news.Say("Choose one partner first (s)")
	case m.book.Now == nil:
		m.cue.Dancers = m.cue.Dancers.Swapped()
	default:
		m.learning.swap = !m.learning.swap
	}
	return nil
}
