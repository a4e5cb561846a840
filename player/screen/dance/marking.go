package dance

import (
	"strings"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/changes"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// wentWrong returns the action of marking for some partners, or for those shown. Whoever climbs a
// ladder goes down a rung with it.
func wentWrong(by ...routine.Partner) func(*Model) tea.Cmd {
	return func(m *Model) tea.Cmd {
		partners, whose := by, ""
		if len(partners) == 0 {
			partners = m.cue.Dancers.Partners()
		} else {
			whose = " for the " + by[0].String()
		}
		marked := m.book.Mark(time.Now(), m.cue.Moment.Beat, partners...)
		if marked == "" {
			m.news.Say("Nothing to mark yet: nothing has been danced")
			return nil
		}
		text := "Marked" + whose + ": " + marked
		figure, _, join := strings.Cut(text, " (")
		if join {
			figure += " and the join"
		}
		m.news.Say(fitting(m.width, text+". Backspace takes it back", text, figure))
		if len(by) == 0 && m.cue.Moment.Settings.Ladder != (player.Ladder{}) && m.cue.Moving() {
			m.o.Transport.Set(changes.Rung(-1))
		}
		return nil
	}
}

// fitting returns the first of some texts that fits, or the last.
func fitting(width int, texts ...string) string {
	for _, text := range texts {
		if term.Width(text) <= width {
			return text
		}
	}
	return texts[len(texts)-1]
}

func takeBack(m *Model) tea.Cmd {
	if text := m.book.TakeBack(); text != "" {
		m.news.Say("No longer marked: " + text)
	} else {
		m.news.Say("No mark to take back")
	}
	return nil
}

// keep takes in a run-through that was kept: one that was danced by heart hides more, or
// less if something was marked.
func keep(m *Model, kept *practice.Kept) {
	if kept != nil && kept.Finished && m.learning.heart {
		m.cue.Hidden = m.cue.Hidden.After(kept.Unmarked())
		m.news.Say(m.cue.Hidden.Stage.String())
	}
}

// judge opens the list of what went wrong, and reports whether there is a run-through whose marks are
// worth asking for. Then says where to go afterwards.
func judge(m *Model, then Turn) bool {
	worth := keeps(m) && m.lead == nil
	if worth {
		m.open.list(m.book.Ticks(), m.cue.Dancers, then)
	}
	return worth
}

// keeps reports whether a run-through waits for its marks, and will be kept with them.
func keeps(m *Model) bool {
	return m.book.Waits() && m.o.Diary != nil && m.o.Diary.Status() == "" && !m.book.Pausing
}
