package screen

import (
	"context"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/caution"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/player/screen/making"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/player/screen/tapping"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/screen/terminal"
	"dance.example/slowquick/player/screen/view"

	tea "github.com/charmbracelet/bubbletea"
)

// New returns the screen with the list, or on its way to the sheet that is danced at once. Its
// commands end with ctx.
func New(ctx context.Context, o Options) Model {
	theme := term.NewTheme(!o.Look.NoColor)
	m := Model{
		ctx: ctx, o: o, theme: theme, list: sheetlist.New(o.Shelf, o.Handbook != nil, theme),
		kept:  &kept{view: view.New(theme, o.Look.shown(o.Look.Mode)), mode: o.Look.Mode, pauses: &dance.Pauses{Spell: practice.Spell{Every: o.PauseAfter}}},
		sheet: opened{leave: func() {}},
	}
	m.kept.view.Show(o.Look.View)
	m.list.MayMake(o.Make != nil)
	if o.Sound != nil {
		m.sound = o.Sound.Status()
	}
	switch {
	case o.Open != nil:
		m.list.News.Say("opening " + o.Open.ID)
	case o.Make != nil && o.Make.First != nil:
		m.list.News.Say("opening it")
	case o.Make != nil && o.Make.Begin:
		m = toBegin(m)
	case o.First != nil:
		m.pane = startPane
	}
	return m
}

// Init reads the list and the sheet that is danced at once.
func (m Model) Init() tea.Cmd {
	cmds := []tea.Cmd{m.list.Init(), awaitSound(m.ctx, m.o.Sound), awaitNote(m.ctx, m.o.Notes)}
	if m.o.Open != nil {
		entry := *m.o.Open
		cmds = append(cmds, func() tea.Msg { return opening{entry} })
	} else if m.o.Make != nil && m.o.Make.First != nil {
		cmds = append(cmds, drafted(m, m.o.Make.First))
	}
	return tea.Batch(cmds...)
}

// Update passes a message on to what it concerns.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		return m.resized(msg.Width, msg.Height), nil
	case tea.KeyMsg:
		return m.pressed(msg)
	case terminal.Answers:
		m.kept.mode = msg.Mode(m.kept.mode)
		m.kept.view.SetMode(m.o.Look.shown(m.kept.mode))
	case sheetlist.Msg:
		m.list.Update(msg)
	case handbook.Msg:
		m.book.Update(msg)
	case opening:
		return m.opens(msg.entry)
	case openedMsg:
		return m.opened(msg)
	case drilledMsg:
		return m.drilled(msg)
	case dance.Over:
		return m, sums(m.o.Sums, msg, m.sheet.visit)
	case summaryMsg:
		if m.dance != nil && msg.visit == m.sheet.visit && len(msg.sections) > 0 {
			m.summary = msg.sections
			return m.show(summaryPane), nil
		}
	case savedMsg:
		return m.savedAgain(msg)
	case pastMsg:
		if m.dance != nil && msg.visit == m.sheet.visit && m.pane == dancePane {
			return m.asksOf(msg.past), nil
		}
	case soundMsg:
		m.sound = string(msg)
		if m.dance != nil {
			m.dance.SetSound(m.sound)
		}
		return m, awaitSound(m.ctx, m.o.Sound)
	case noteMsg:
		var cmd tea.Cmd
		if m.dance != nil {
			cmd = m.dance.Say(string(msg))
		}
		return m, tea.Batch(cmd, awaitNote(m.ctx, m.o.Notes))
	case draftMsg:
		return makes(m, msg)
	case leftMsg:
		return left(m, msg)
	case unkeptMsg:
		if m.made.model != nil {
			m.made.model.Problem(msg.err)
		}
	case making.Msg:
		if m.made.model != nil {
			return m, m.made.model.Update(msg)
		}
	case dance.Msg:
		if m.dance != nil {
			return m, m.dance.Update(msg)
		}
	case tapping.Msg:
		if m.tap != nil {
			return m.taps(msg)
		}
	case songpage.Msg:
		if m.dance != nil {
			cmd := m.dance.SongTells(msg)
			return m.withoutSong(), cmd
		}
	}
	return m, nil
}

func (m Model) resized(width, height int) Model {
	m.width, m.height = width, height
	m.list.Resize(width, height)
	if m.dance != nil {
		m.dance.Resize(width, height)
	}
	if m.book != nil {
		m.book.Resize(width, height)
	}
	if m.tap != nil {
		m.tap.Resize(width, height)
	}
	if m.made.model != nil {
		m.made.model.Resize(width, height)
	}
	return m
}

// pressed carries keys out: those that are pressed fast, or held down, arrive as one message.
func (m Model) pressed(msg tea.KeyMsg) (Model, tea.Cmd) {
	if msg.Type != tea.KeyRunes || len(msg.Runes) < 2 || msg.Paste {
		return m.press(msg)
	}
	var cmds []tea.Cmd
	for _, r := range msg.Runes {
		var cmd tea.Cmd
		m, cmd = m.press(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: msg.Alt})
		cmds = append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

// press hands a key to what is seen.
func (m Model) press(msg tea.KeyMsg) (Model, tea.Cmd) {
	switch m.pane {
	case startPane:
		return m.starts(m.start.press(msg))
	case dancePane:
		turn, cmd := m.dance.Press(msg)
		return m.danceTurns(turn, cmd)
	case songPane:
		turn, cmd := m.dance.PressSong(msg)
		return m.danceTurns(turn, cmd)
	case bookPane:
		return m.pressBook(msg)
	case tapPane:
		return m.taps(msg)
	case beginPane:
		return pressBegin(m, msg)
	case makingPane:
		return pressMaking(m, msg)
	case quizPane:
		switch m.quiz.Press(msg) {
		case term.PageBack:
			m.pane = dancePane
		case term.PageQuit:
			return m.danceTurns(dance.Quit, nil)
		}
		return m, nil
	case helpPane, findingsPane, summaryPane:
		switch m.page.Press(msg, m.height, len(m.pageLines())) {
		case term.PageBack:
			if m.pane == findingsPane && m.back == listPane {
				return m.toList(), m.list.Init()
			}
			m.pane = m.back
		case term.PageQuit:
			return m.danceTurns(dance.Quit, nil)
		}
		return m, nil
	}
	switch turn, entry := m.list.Press(msg); turn {
	case sheetlist.Open:
		if entry.Draft {
			return edits(m, entry.ID)
		}
		return m.opens(entry)
	case sheetlist.Make:
		return toBegin(m), nil
	case sheetlist.Handbook:
		return m.toBook()
	case sheetlist.Help:
		return m.show(helpPane), nil
	case sheetlist.Quit:
		return m, tea.Quit
	}
	return m, nil
}

// danceTurns goes where a key of the dance, or of its song's page, leads.
func (m Model) danceTurns(turn dance.Turn, cmd tea.Cmd) (Model, tea.Cmd) {
	switch turn {
	case dance.Help:
		m = m.show(helpPane)
	case dance.Findings:
		m = m.show(findingsPane)
	case dance.Song:
		m.pane = songPane
	case dance.Back:
		m.pane = dancePane
	case dance.Quiz:
		asking, ask := m.asks()
		return asking, tea.Batch(cmd, ask)
	case dance.Tap:
		if m.o.Learn.Tapping != nil {
			return m.toTapping(), cmd
		}
	case dance.Edit:
		return editsDanced(m, cmd)
	case dance.Leave:
		return m.toList(), tea.Batch(cmd, m.list.Init())
	case dance.Quit:
		if m.dance != nil {
			m.dance.Stop()
		}
		return m, tea.Batch(cmd, tea.Quit)
	}
	return m, cmd
}

// taps hands a message to the tapping, and goes back to the dance when that is left.
func (m Model) taps(msg tea.Msg) (Model, tea.Cmd) {
	last, cmd := m.tap.Update(msg)
	tap, ok := last.(tapping.Model)
	if !ok || !tap.Left() {
		m.tap = &tap
		return m, cmd
	}
	m.tap, m.pane = nil, dancePane
	if key, ok := msg.(tea.KeyMsg); ok && key.Type == tea.KeyCtrlC {
		return m.danceTurns(dance.Quit, nil)
	}
	return m, nil
}

func (m Model) pressBook(msg tea.KeyMsg) (Model, tea.Cmd) {
	m.sheet.visit++ // whatever is being opened, the dancer has turned to something else
	turn, cmd := m.book.Press(msg)
	switch turn {
	case handbook.Drill:
		return m.drills(m.book.Figure())
	case handbook.Sheets:
		m.pane = listPane
	case handbook.Help:
		m = m.show(helpPane)
	case handbook.Quit:
		return m, tea.Quit
	}
	return m, cmd
}

// View draws what the model holds.
func (m Model) View() string {
	if m.width <= 0 || m.height <= 0 {
		return ""
	}
	if m.pane == dancePane {
		return m.dance.View()
	}
	return m.beside() + m.kept.view.Gone()
}

// beside draws what is seen in place of the dance.
func (m Model) beside() string {
	switch m.pane {
	case startPane:
		return m.start.view(m.width, m.height, m.theme)
	case songPane:
		return m.dance.SongView()
	case helpPane, findingsPane, summaryPane:
		return m.page.View(m.width, m.height, m.pageLines())
	case bookPane:
		return m.book.View(m.sound)
	case tapPane:
		return m.tap.View()
	case quizPane:
		return m.quiz.View(m.width, m.height)
	case beginPane:
		return m.made.begin.View(m.width, m.height)
	case makingPane:
		return m.made.model.View(m.sound)
	}
	return m.list.View(m.sound)
}

// starts goes the way that was chosen.
func (m Model) starts(to way) (Model, tea.Cmd) {
	switch to {
	case toDance:
		m.start.learns = true
		return m.opens(*m.o.First)
	case toHandbook:
		if m.o.Handbook != nil {
			return m.toBook()
		}
	case toMaking:
		if m.o.Make != nil {
			return toBegin(m), nil
		}
	case toAll:
		m.pane = listPane
	case toQuit:
		return m, tea.Quit
	}
	return m, nil
}

// pageLines are the lines of the page that is seen.
func (m Model) pageLines() []string {
	switch m.pane {
	case helpPane:
		return m.helpLines()
	case summaryPane:
		return summaryLines(m.width, m.theme, m.summary)
	}
	return findingsLines(m.width, m.theme, m.sheet.Sheet, m.dance != nil)
}

// helpLines are the help of what it was asked from: what its words mean, its own keys, and the
// cautions.
func (m Model) helpLines() []string {
	var lines []string
	switch m.back {
	case bookPane:
		lines = keyLines(m.width, m.theme, []KeyGroup{{"The handbook", handbook.HelpKeys()}})
	case songPane:
		lines = keyLines(m.width, m.theme, []KeyGroup{{"The song", songpage.HelpKeys()}})
	case makingPane:
		lines = keyLines(m.width, m.theme, []KeyGroup{{"Making a routine", making.HelpKeys()}, {"Writing a figure", making.FigureHelpKeys()}})
	case dancePane:
		if title := m.dance.Pane(); title != "" {
			lines = keyLines(m.width, m.theme, []KeyGroup{{title, m.dance.Keys()}})
			break
		}
		lines = append(wordLines(m.width, m.theme, m.dance), keyLines(m.width, m.theme, danceKeys())...)
		lines = append(lines, paragraphs(m.width, m.theme, "A presentation remote leads a class", remote)...)
	default:
		lines = keyLines(m.width, m.theme, []KeyGroup{{"The list", m.list.HelpKeys()}})
	}
	return append(lines, paragraphs(m.width, m.theme, "Take care", caution.All())...)
}
