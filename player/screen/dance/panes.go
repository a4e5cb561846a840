package dance

import (
	"fmt"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/pane"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// rows returns the rows of the menu that is open.
func (m *Model) rows() []pane.Row {
	switch m.open.kind {
	case mixing:
		return mixerRows(m)
	case learning:
		return learnRows(m)
	case marked:
		return markRows(m)
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
			keep(m, m.book.Judge(o.ticks.List, o.ticks.Shown))
			if _, asked := m.lead.Asked(); asked && o.ticks.Clean() {
				m.book.Clean(m.lead.Danced())
			}
			m.news.Say("Kept: " + judged(o.ticks))
		case pane.Dropped:
			keep(m, m.book.Keep())
		default:
			return nil
		}
		after := o.after
		o.kind, o.after, m.turn = closed, nil, o.then
		if _, asked := m.lead.Asked(); asked {
			return tea.Batch(after, nextExercise(m))
		}
		return after
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
		{Name: "count", Value: countText(m.cue.Style(m.cue.Event())), Change: func(by int) tea.Cmd {
			m.cue.Count.Style = next(m.cue.Style(m.cue.Event()), by, routine.InWords)
			return countOtherwise(m)
		}},
		{Name: "language of counts", Value: m.cue.Language().String(), Change: func(by int) tea.Cmd {
			m.cue.Count.Language = next(m.cue.Language(), by, routine.Italian)
			return countOtherwise(m)
		}},
		{Name: "pictures", Value: m.o.View.Pictures(), Change: func(by int) tea.Cmd { m.o.View.NextPictures(by); return nil }},
		{Name: "change the order of figures", Do: func() tea.Cmd { m.turn = Edit; return nil }, Leaves: true},
		{Name: "the song, and where its beats are", Do: func() tea.Cmd {
			if m.song.Open() {
				m.turn = Song
			}
			return nil
		}, Leaves: true},
	}
	warnings := "none"
	if n := len(routine.Objections(m.sheet.Findings)); n > 0 {
		warnings = fmt.Sprint(n)
	}
	return append(rows, pane.Row{Name: "warnings about the sheet", Value: warnings, Do: func() tea.Cmd { m.turn = Findings; return nil }, Leaves: true})
}

// next returns the value that many places on from one of 1 to last, and around.
func next[T ~uint8](now T, by int, last T) T { return T((int(now)-1+by+int(last))%int(last) + 1) }

// countOtherwise has the voice count as the screen does.
func countOtherwise(m *Model) tea.Cmd {
	count := m.cue.Count
	m.o.Transport.Set(func(now player.Moment) player.Settings {
		s := now.Settings
		s.Count = count
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

// mixerRows are what is heard.
func mixerRows(m *Model) []pane.Row {
	x := &m.mixer
	rows := []pane.Row{
		x.row("counting aloud", player.VoiceLayer),
		x.row("clicks", player.ClickLayer),
	}
	for _, p := range m.cue.Dancers.Partners() {
		rows = append(rows, x.row(p.String()+"'s steps", player.StepLayers[p]))
	}
	rows = append(rows, x.row("drums and rhythm", player.RhythmLayer))
	if m.cue.Moment.Timeline.Music() != nil {
		rows = append(rows, x.row("the song", player.MusicLayer))
	}
	set := &m.cue.Moment.Settings
	return append(rows,
		setting(m, "names of figures aloud", pane.OnOff(set.Call), func(s *player.Settings, _ int) { s.Call = !s.Call }),
		setting(m, "left foot in the left ear, right foot in the right", pane.OnOff(set.FeetApart), func(s *player.Settings, _ int) { s.FeetApart = !s.FeetApart }),
	)
}
