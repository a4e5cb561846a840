package dance

import (
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/pane"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// listMarks opens the list of what is marked, and has it read.
func listMarks(m *Model) tea.Cmd {
	m.open.show(marked)
	m.learning.marks = marksMsg{}
	past, score := m.o.Past, m.Score()
	return func() tea.Msg {
		msg := marksMsg{score: score}
		if past == nil {
			return msg
		}
		for _, mark := range past(score).Marks() {
			if at, ok := practice.PlaceOf(score, mark.Piece); ok {
				msg.marks = append(msg.marks, openMark{mark, at})
			}
		}
		return msg
	}
}

// markRows are the marks, newest first. Space drills one, backspace takes it back.
func markRows(m *Model) []pane.Row {
	known := &m.learning.marks
	switch {
	case known.score == nil:
		return []pane.Row{{Name: "reading the diary …"}}
	case known.score != m.Score(): // it was saved meanwhile
		return []pane.Row{{Name: "the sheet was reloaded: open the list again"}}
	case len(known.marks) == 0:
		return []pane.Row{{Name: "nothing: all that went wrong was danced clean since"}}
	}
	var rows []pane.Row
	for i, mark := range known.marks {
		text := mark.Partner.String() + ", " + term.Decimal(m.Score().Dance.BarsPerMinute(mark.Tempo)) + " bars/min" + ", " + mark.At.Format("2 Jan")
		if mark.Times > 1 {
			text += ", " + routine.Plural(mark.Times, "time")
		}
		rows = append(rows, pane.Row{Name: mark.Piece.String(), Value: text, Leaves: true,
			Do:   func() tea.Cmd { return drillMark(m, mark) },
			Drop: func() tea.Cmd { return dropMark(m, i) },
		})
	}
	return rows
}

// drillMark drills a mark, at the tempo at which it was marked in the end, and then goes on as before.
func drillMark(m *Model, mark openMark) tea.Cmd {
	timeline, dancers := m.cue.Moment.Timeline, m.cue.Dancers
	if !dancers.Include(mark.Partner) {
		dancers = routine.Alone(mark.Partner)
	}
	percent := 100 * mark.Tempo.Float() / timeline.OwnTempo().Float()
	return drills(m, practice.Drills(timeline, mark.at, dancers, min(max(percent, player.SlowestPercent), player.FastestPercent)))
}

// dropMark takes a mark back in the diary.
func dropMark(m *Model, i int) tea.Cmd {
	known := &m.learning.marks
	mark := known.marks[i]
	if m.o.Diary != nil {
		m.o.Diary.TakeBack(mark.OpenMark)
	}
	known.marks = append(known.marks[:i:i], known.marks[i+1:]...)
	m.news.Say("No longer marked: " + mark.Piece.String() + " (" + mark.Partner.String() + ")")
	return nil
}
