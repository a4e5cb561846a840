package dance

import (
	"fmt"
	"strings"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/changes"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/session"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// follow takes in what is heard at a time, after what was heard before.
func (m *Model) follow(was player.Moment, at time.Time) tea.Cmd {
	standing := m.book.Now == nil
	ended, kept := m.book.Follow(m.cue.Moment, at, m.cue.Dancers)
	m.keep(kept)
	m.o.Pauses.follow(m.cue.Moment, at, ended != nil && ended.Finished)
	if m.book.Now != nil && (standing || ended != nil) && m.learning.swap {
		m.learning.swap = false
		m.cue.Dancers = m.cue.Dancers.Swapped()
		m.book.Now.Dancers = m.cue.Dancers
	}
	if m.cue.Moment.State == player.Finished && was.State != player.Finished && judges(m) && m.open.kind == closed {
		m.open.list(m, Stay)
	}
	var cmd tea.Cmd
	if loop, ok := m.lead.Refit(m.cue.Moment); ok {
		timeline := m.cue.Moment.Timeline
		m.o.Transport.Set(func(now player.Moment) player.Settings {
			if now.Timeline == timeline { // the screen is a little ahead
				return changes.Loop(loop)(now)
			}
			return now.Settings
		})
	}
	if m.lead.Follow(ended, at) {
		cmd = nextExercise(m)
	}
	return cmd
}

// keep takes in a run-through that was kept: one that was danced by heart hides more, or less.
func (m *Model) keep(kept *practice.Kept) {
	if kept != nil && kept.Finished && m.learning.heart {
		m.cue.Hidden = m.cue.Hidden.After(kept.Clean())
		m.news.Say(m.cue.Hidden.String())
	}
}

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

// leads begins to lead through a session from where it was left.
func leads(m *Model, l *session.Lead) tea.Cmd {
	m.lead = l
	return m.exercise()
}

func drills(m *Model, list []practice.Exercise) tea.Cmd {
	return leads(m, session.New(practice.Session{Exercises: list}, m.cue.Moment.Timeline, nil, m.lead))
}

// nextExercise goes on to the next exercise.
func nextExercise(m *Model) tea.Cmd {
	m.lead.Next()
	return m.exercise()
}

// exercise stands at the start of the exercise that is next.
func (m *Model) exercise() tea.Cmd {
	lead, next := m.lead.Begin(time.Now())
	m.lead = lead
	if lead == nil {
		m.news.Say("Session complete. Space: keep dancing. Esc: leave")
		m.o.Transport.Set(func(now player.Moment) player.Settings {
			set := changes.KeepTempo(now)
			set.Loop = player.Interval{}
			return set
		})
		return nil
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

// Saved takes in the sheet after it was saved.
func (m *Model) Saved(s Sheet) tea.Cmd {
	if s.Err != nil {
		m.news.Warn("The saved sheet can't be read: " + s.Err.Error())
		return nil
	}
	m.sheet = s
	m.news.Clear()
	m.clock.expect()
	if !s.Danceable() {
		return m.look()
	}
	lost, gone := m.lead.Replace(s.Timeline)
	var cmd tea.Cmd
	if gone {
		m.o.Transport.Hold()
	}
	m.song.Replace(s.Timeline)
	if gone {
		cmd = m.exercise()
	}
	m.news.Say("Sheet reloaded")
	if len(lost) > 0 {
		m.news.Say("No longer in the sheet, so left out of the session: " + strings.Join(lost, ", "))
	}
	if s.Timeline.Score.Music.File != m.song.File() {
		cmd = tea.Batch(cmd, m.song.Read(s.ID, s.Path))
	}
	return tea.Batch(cmd, m.look())
}

// taps are the beats of some music as somebody taps them.
type taps struct {
	player.Taps
	last time.Time
}

// fresh is how long taps say where the music's beats are (our own choice).
const fresh = 4 * time.Second

// tap takes the tempo from the music, as it is tapped. The next press of space is the 1 of a bar.
func tap(m *Model) tea.Cmd {
	m.taps.last = time.Now()
	m.taps.Tap(m.taps.last)
	pulse, ok := m.taps.Pulse()
	if !ok {
		// A sound device that rests goes on, so that the 1 that is tapped soon falls on its frame.
		m.o.Transport.Set(func(now player.Moment) player.Settings { return now.Settings })
		m.news.Say(fmt.Sprintf("Keep tapping with the music: %d of 4", m.taps.Count()))
		return nil
	}
	d := m.cue.Moment.Timeline.Score.Dance
	text := fmt.Sprintf("%s bars/min", term.Decimal(d.BarsPerMinute(pulse.Tempo())))
	if !d.Usual.Contains(pulse.Tempo()) {
		text += ": " + d.Name + " is danced at " + d.RangeText(d.Usual)
	}
	m.news.Say(text + ". Press space on a 1 to dance with the music")
	m.o.Transport.Set(func(now player.Moment) player.Settings {
		return now.Settings.At(pulse.Percent(now.Timeline, now.Beat), 0)
	})
	return nil
}

// walkBack is how many bars a couple has to go back to where a figure begins, if nothing that is
// danced leads there.
const walkBack = 2

// DrillFigure dances all of the timeline over and over, at once. Returns says that it ends so that
// it can begin again.
func (m *Model) DrillFigure(returns bool) tea.Cmd {
	m.o.Transport.Set(func(now player.Moment) player.Settings {
		set := now.Settings
		set.Loop = changes.Whole(now.Timeline)
		if !returns {
			set.Rest = walkBack
		}
		return set
	})
	m.o.Transport.Start()
	if !returns {
		m.news.Say("It ends elsewhere than it starts: walk back during the rest")
	}
	m.clock.expect()
	return m.look()
}
