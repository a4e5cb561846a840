package dance

import (
	"cmp"
	"fmt"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/pane"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// kind is what is open below the dance.
type kind uint8

const (
	closed kind = iota
	typing      // a tempo
	mixing
	learning
	choosing // options
	judging  // the list of what went wrong
)

// opened is what is open below the dance.
type opened struct {
	kind  kind
	menus [choosing + 1]pane.Menu
	tempo *pane.Tempo
	ticks *pane.Ticks
	then  Turn // where to go once the list is closed
}

// show opens a pane.
func (o *opened) show(k kind) {
	o.kind = k
	if k == typing {
		o.tempo = pane.NewTempo()
	}
	o.menus[mixing].Title, o.menus[learning].Title, o.menus[choosing].Title = "Sound", "Learn", "Options"
}

// list opens the list of what went wrong; then says where to go afterwards.
func (o *opened) list(m *Model, then Turn) {
	o.kind, o.then = judging, then
	o.ticks = pane.NewTicks("What went wrong?", m.book.Ticks(), m.cue.Dancers)
}

// key returns the key that opened the pane.
func (o *opened) key() string {
	return [...]string{mixing: "m", learning: "u", choosing: "o"}[o.kind]
}

// Pane returns what is open below the dance in words; "" for nothing.
func (m *Model) Pane() string {
	switch m.open.kind {
	case closed:
		return ""
	case typing:
		return "Tempo"
	case judging:
		return m.open.ticks.Title
	}
	return m.open.menus[m.open.kind].Title
}

// rows returns the rows of the menu that is open.
func (m *Model) rows() []pane.Row {
	switch m.open.kind {
	case mixing:
		return mixerRows(m)
	case learning:
		return learnRows(m)
	}
	return optionRows(m)
}

// pressPane carries out a key on what is open.
func (m *Model) pressPane(msg tea.KeyMsg) tea.Cmd {
	o := &m.open
	if msg.String() == "ctrl+c" {
		m.turn = Quit
		return nil
	}
	if msg.String() == "?" && o.kind != typing {
		m.turn = Help
		return nil
	}
	switch o.kind {
	case typing:
		change, closes := o.tempo.Press(msg, m.cue.Moment)
		if closes {
			o.kind = closed
		}
		if change != nil {
			m.o.Transport.Set(change)
		}
		return nil
	case judging:
		switch o.ticks.Press(msg) {
		case pane.Keep:
			m.keep(m.book.Judge(o.ticks.List))
			m.news.Say("Kept: " + judged(o.ticks))
		case pane.Dropped:
			m.keep(m.book.Keep())
		default:
			return nil
		}
		o.kind, m.turn = closed, o.then
		return nil
	}
	was := o.kind
	closes, cmd := o.menus[was].Press(msg, o.key(), m.rows())
	if closes && o.kind == was { // what was chosen may have opened something else
		o.kind = closed
	}
	return cmd
}

// judged says what a list says.
func judged(l *pane.Ticks) string {
	if l.Clean() {
		return "all went well"
	}
	n := 0
	for _, t := range l.List {
		if t.Wrong != [2]bool{} {
			n++
		}
	}
	return routine.Plural(n, "thing") + " to practise. u drills the first"
}

// setting returns a row that changes how it is danced.
func setting(m *Model, name, value string, change func(s *player.Settings, by int)) pane.Row {
	return pane.Row{Name: name, Value: value, Change: func(by int) tea.Cmd {
		m.o.Transport.Set(func(now player.Moment) player.Settings {
			s := now.Settings
			change(&s, by)
			return s
		})
		return nil
	}}
}

// optionRows are what is set rarely.
func optionRows(m *Model) []pane.Row {
	set := &m.cue.Moment.Settings
	bars := func(n int) string {
		if n == 0 {
			return "none"
		}
		return routine.Plural(n, "bar")
	}
	round := func(n, by int) int { return (n + by + player.MostLeadIn + 1) % (player.MostLeadIn + 1) }
	rows := []pane.Row{
		setting(m, "lead-in", bars(set.LeadIn), func(s *player.Settings, by int) { s.LeadIn = round(s.LeadIn, by) }),
		setting(m, "rest between run-throughs", bars(set.Rest), func(s *player.Settings, by int) { s.Rest = round(s.Rest, by) }),
		{Name: "count", Value: countText(m.cue.Style(m.cue.Event())), Change: func(by int) tea.Cmd { return countOtherwise(m, by) }},
		{Name: "pictures", Value: m.o.View.Pictures(), Change: func(by int) tea.Cmd { m.o.View.NextPictures(by); return nil }},
		{Name: "the song, and where its beats are", Do: func() tea.Cmd {
			if m.song.Open() {
				m.turn = Song
			}
			return nil
		}, Leaves: true},
	}
	warnings := "none"
	if n := len(m.sheet.Findings); n > 0 {
		warnings = fmt.Sprint(n)
	}
	return append(rows, pane.Row{Name: "warnings about the sheet", Value: warnings, Do: func() tea.Cmd { m.turn = Findings; return nil }, Leaves: true})
}

// countOtherwise counts otherwise, on the screen and aloud.
func countOtherwise(m *Model, by int) tea.Cmd {
	n := int(routine.InWords)
	style := routine.CountStyle((int(m.cue.Style(m.cue.Event()))-1+by+n)%n + 1)
	m.cue.Count = style
	m.o.Transport.Set(func(now player.Moment) player.Settings {
		s := now.Settings
		s.Count = style
		return s
	})
	return nil
}

// countText says how the count is said.
func countText(s routine.CountStyle) string {
	switch s {
	case routine.SlowQuick:
		return "slow and quick"
	case routine.InWords:
		return "in words"
	}
	return "as written"
}

// learnRows are the ways to learn a routine.
func learnRows(m *Model) []pane.Row {
	heart := m.cue.Hidden.String()
	rows := []pane.Row{
		{Name: "by heart", Value: heart, Change: func(by int) tea.Cmd {
			m.learning.heart = false
			m.cue.Hidden = m.cue.Hidden.Along(by)
			return nil
		}},
		{Name: "hide more after each clean run-through", Value: pane.OnOff(m.learning.heart), Change: func(int) tea.Cmd {
			m.learning.heart = !m.learning.heart
			return nil
		}},
		{Name: "questions about the routine", Do: func() tea.Cmd {
			m.o.Transport.Hold()
			m.turn = Quiz
			return nil
		}, Leaves: true},
		{Name: "drill what went wrong", Do: func() tea.Cmd { return drillWorst(m) }, Leaves: true},
		{Name: "swap parts", Value: swapped(m), Do: func() tea.Cmd { return swapParts(m) }},
	}
	if m.lead != nil {
		rows = append(rows, pane.Row{Name: "next exercise of the session", Do: func() tea.Cmd { return nextExercise(m) }, Leaves: true})
	}
	return rows
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

// judges reports whether there is a run-through whose marks are worth asking for.
func judges(m *Model) bool {
	return m.book.Waits() && m.o.Diary != nil && m.o.Diary.Status() == "" && !m.book.Pausing && m.lead == nil
}

// rests reports whether nothing on the screen changes by itself.
func rests(m *Model) bool {
	return !m.cue.Moving() && m.news.Text == "" && !m.lead.Timed() && !m.song.Reading()
}

// message is what there is to say besides the news, the most urgent first.
func message(m *Model) string {
	lost := ""
	if m.o.Diary != nil {
		lost = m.o.Diary.Status()
	}
	return cmp.Or(lost, m.o.Sound)
}
