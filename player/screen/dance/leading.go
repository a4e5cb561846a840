package dance

import (
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/changes"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/session"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// leads begins to lead through a session from where it was left.
func leads(m *Model, l *session.Lead) tea.Cmd {
	m.lead = l
	return exercise(m)
}

func drills(m *Model, list []practice.Exercise) tea.Cmd {
	return leads(m, session.New(practice.Session{Exercises: list}, m.cue.Moment.Timeline, nil, m.lead))
}

// nextExercise goes on to the next exercise.
func nextExercise(m *Model) tea.Cmd {
	m.lead.Next()
	return exercise(m)
}

// over ends an exercise that was danced: it asks how it went, or goes on.
func over(m *Model) tea.Cmd {
	if !keeps(m) || !m.lead.Ask() {
		return nextExercise(m)
	}
	m.o.Transport.Hold()
	m.book.Jump()
	return nil
}

// answer takes a key as the answer to how an exercise went; known is false if it is none.
func answer(m *Model, name string) (cmd tea.Cmd, known bool) {
	e, asked := m.lead.Asked()
	if !asked {
		return nil, false
	}
	m.class.remote = m.class.remote || name == "pgdown" || name == "pgup"
	switch name {
	case " ", "pgdown":
		keep(m, m.book.Clean(m.lead.Danced()))
		return nextExercise(m), true
	case "pgup":
		if place, ok := e.Place(m.cue.Moment.Timeline); ok {
			m.book.MarkLast(place, m.cue.Dancers.Partners()...)
		}
		m.lead.Again()
		hide(m)
		m.o.Transport.Start()
	case "z":
		wrong(m, e, m.cue.Dancers.Partners()...)
	case "1":
		wrong(m, e, routine.Leader)
	case "2":
		wrong(m, e, routine.Follower)
	default:
		return nil, false
	}
	return nil, true
}

// wrong marks what an exercise was for; of several figures it opens the list.
func wrong(m *Model, e practice.Exercise, by ...routine.Partner) {
	if place, ok := e.Place(m.cue.Moment.Timeline); ok {
		text := "Marked: " + m.book.MarkLast(place, by...)
		m.news.Say(fitting(m.width, text+". Space goes on", text))
	} else {
		m.open.list(m.book.Ticks(), m.cue.Dancers, Stay)
	}
}

// hide hides the steps while an exercise is by heart, and shows afterwards what the dancer has chosen.
func hide(m *Model) {
	hidden, byHeart := m.lead.Hidden()
	switch chosen := m.learning.chosen; {
	case byHeart && chosen == nil:
		was := m.cue.Hidden
		m.learning.chosen = &was
		m.cue.Hidden = hidden
	case !byHeart && chosen != nil:
		m.cue.Hidden, m.learning.chosen = *chosen, nil
	}
}

// exercise stands at the start of the exercise that is next.
func exercise(m *Model) tea.Cmd {
	led := m.lead
	lead, next := led.Begin(time.Now())
	m.lead = lead
	m.clock.expect()
	hide(m)
	if lead == nil {
		m.news.Say("Session complete. Space: keep dancing. Esc: leave")
		m.o.Transport.Set(func(now player.Moment) player.Settings {
			set := changes.KeepTempo(now)
			set.Loop = player.Interval{}
			return set
		})
		return ends(m, led)
	}
	m.o.Transport.Hold()
	if next.Kind == practice.Breather {
		return nil
	}
	m.cue.Dancers = next.Dancers
	wanted := next.Settings()
	m.o.Transport.Set(func(now player.Moment) player.Settings {
		set := now.Settings.At(wanted.Percent, 0)
		set.Loop, set.Ladder, set.Rest = wanted.Loop, wanted.Ladder, wanted.Rest
		return set
	})
	m.book.Jump()
	m.o.Transport.Go(false, func(player.Moment) routine.Beats { return next.Part.From })
	return nil
}

// Over says that a planned session has been danced to its end, and by whom.
type Over struct {
	Session practice.Session
	Score   *routine.Score
	Dancers routine.Dancers
}

// ends returns what brings an [Over] if a lead was through a planned session: at once, or when the dancers
// have said what went wrong last.
func ends(m *Model, led *session.Lead) tea.Cmd {
	planned, ok := led.Planned()
	if !ok {
		return nil
	}
	over := Over{planned, m.Score(), m.cue.Dancers}
	told := func() tea.Msg { return over }
	if judge(m, Stay) {
		m.open.after = told
		return nil
	}
	keep(m, m.book.Keep())
	return told
}

// drillWorst drills the first thing that was marked in the last run-through, and then goes on
// as before.
func drillWorst(m *Model) tea.Cmd {
	timeline := m.cue.Moment.Timeline
	at, percent, ok := m.book.Worst(timeline)
	if !ok {
		m.news.Say("Nothing to drill. Press z when something goes wrong")
		return nil
	}
	return drills(m, practice.Drills(timeline, at, m.cue.Dancers, percent))
}
