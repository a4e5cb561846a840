package screen

import (
	"context"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/caution"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/player/screen/making"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/quiz"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/player/screen/tapping"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/screen/terminal"
	"dance.example/slowquick/player/screen/view"
	"dance.example/slowquick/player/summary"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// pane is which part of the screen is seen.
type pane uint8

const (
	listPane pane = iota
	startPane
	dancePane
	helpPane
	findingsPane
	sheetPane // how to write one
	bookPane
	quizPane
	songPane
	summaryPane
	tapPane
	beginPane  // of a new routine
	makingPane // it is made
)

// Model is the whole screen. It is a [tea.Model].
type Model struct {
	ctx           context.Context // ends when the screen is left; for its commands
	o             Options
	theme         term.Theme
	width, height int

	pane    pane
	back    pane // from a page
	home    pane // from a dance: the list, or the handbook
	list    *sheetlist.Model
	start   start
	page    term.Page         // of help, findings, or how to write a sheet
	dance   *dance.Model      // nil if no sheet is danced
	quiz    *quiz.Model       // nil until it is asked for
	summary []summary.Section // of the session that is over
	book    *handbook.Browser // nil until it is opened
	tap     *tapping.Model    // nil unless steps are tapped
	made    made

	kept  *kept
	sound string
	sheet opened
}

// kept is what stays from one sheet to the next.
type kept struct {
	view   *view.Model
	mode   raster.Mode // of the terminal, as far as it is known
	pauses *dance.Pauses
	due    *program.Due // when what is drawn may be seen; nil for at once
}

// opened is the sheet that is open.
type opened struct {
	dance.Sheet     // as it was read last
	visit       int // numbers the sheets that are opened
	saved       <-chan dance.Sheet
	ctx         context.Context    // ends when the sheet is left
	leave       context.CancelFunc // ends it
}

// New returns the screen with the list, or on its way to the sheet that is danced at once. Its
// commands end with ctx.
func New(ctx context.Context, o Options) Model {
	theme := term.NewTheme(!o.Look.NoColor)
	m := Model{
		ctx: ctx, o: o, theme: theme, list: sheetlist.New(o.Shelf, o.Handbook != nil, theme),
		kept:  &kept{view: view.New(theme, o.Look.shown(o.Look.Mode)), mode: o.Look.Mode, pauses: &dance.Pauses{Spell: practice.Spell{Every: o.PauseAfter}}},
		sheet: opened{leave: func() {}},
	}
	m.list.MayMake(o.Make != nil)
	if o.Sound != nil {
		m.sound = o.Sound.Status()
	}
	switch {
	case o.Open != nil:
		m.list.News.Say("opening " + o.Open.ID)
	case o.First != nil:
		m.pane = startPane
	}
	return m
}

// opening is the message that a sheet has to be opened.
type opening struct{ entry sheetlist.Entry }

// Init reads the list and the sheet that is danced at once.
func (m Model) Init() tea.Cmd {
	cmds := []tea.Cmd{m.list.Init(), awaitSound(m.ctx, m.o.Sound), awaitNote(m.ctx, m.o.Notes)}
	if m.o.Open != nil {
		entry := *m.o.Open
		cmds = append(cmds, func() tea.Msg { return opening{entry} })
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
		return m.makes(msg)
	case discardedMsg:
		return m.discarded(msg)
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
		return m.pressBegin(msg)
	case makingPane:
		return m.pressMaking(msg)
	case quizPane:
		switch m.quiz.Press(msg) {
		case term.PageBack:
			m.pane = dancePane
		case term.PageQuit:
			return m.danceTurns(dance.Quit, nil)
		}
		return m, nil
	case helpPane, findingsPane, sheetPane, summaryPane:
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
			return m.edits(entry.ID)
		}
		return m.opens(entry)
	case sheetlist.Make:
		return m.toBegin(), nil
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
		return m.editsDanced(cmd)
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

// toTapping has the steps of what is danced tapped.
func (m Model) toTapping() Model {
	o := m.o.Learn.Tapping(m.dance.Moment)
	o.Theme = m.theme
	tap := tapping.New(m.sheet.ctx, o)
	tap.Resize(m.width, m.height)
	m.tap, m.pane = &tap, tapPane
	return m
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

// toBook turns to the handbook, where it was left.
func (m Model) toBook() (Model, tea.Cmd) {
	m.pane = bookPane
	m.sheet.visit++ // a sheet that is being opened is not wanted any more
	if m.book != nil {
		return m, nil
	}
	m.book = handbook.New(m.o.Handbook, m.theme)
	m.book.Resize(m.width, m.height)
	return m, m.book.Init()
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

// show turns to a page of text.
func (m Model) show(p pane) Model {
	m.back, m.pane, m.page = m.pane, p, term.NewPage()
	return m
}

// opens leaves the sheet that is open and reads another.
func (m Model) opens(e sheetlist.Entry) (Model, tea.Cmd) {
	m = m.leaves()
	m.home = listPane
	m.list.News.Say("opening " + e.Name())
	return m, openSheet(m.sheet.ctx, m.o.Shelf, e, m.sheet.visit)
}

// leaves leaves what is open for something else.
func (m Model) leaves() Model {
	m.sheet.leave()
	m.sheet.ctx, m.sheet.leave = context.WithCancel(m.ctx)
	m.sheet.visit++
	return m
}

// drills asks how to dance a figure over and over.
func (m Model) drills(c *handbook.Chapter, fig *routine.Figure) (Model, tea.Cmd) {
	m = m.leaves()
	m.home = bookPane
	m.book.News.Say("finding what leads back to it …")
	return m, readDrill(m.o.Handbook, c, fig, m.sheet.visit)
}

// drilled dances a figure over and over.
func (m Model) drilled(msg drilledMsg) (tea.Model, tea.Cmd) {
	if msg.visit != m.sheet.visit {
		return m, nil
	}
	m.book.News.Clear()
	if !msg.drill.Danceable() {
		text := "it can't be danced by itself"
		if len(msg.drill.Findings) > 0 {
			text += ": " + msg.drill.Findings[0].Message
		}
		m.book.News.Warn(text)
		return m, nil
	}
	m.sheet.Sheet, m.sheet.saved = msg.drill.Sheet, nil
	m, cmd := m.begin()
	return m, tea.Batch(cmd, m.dance.DrillFigure(msg.drill.Returns))
}

func (m Model) opened(msg openedMsg) (tea.Model, tea.Cmd) {
	if msg.visit != m.sheet.visit {
		return m, nil
	}
	m.list.News.Clear()
	if msg.err != nil {
		m.pane = listPane
		m.list.News.Warn(msg.err.Error())
		return m, nil
	}
	m.sheet.Sheet, m.sheet.saved = msg.sheet, msg.saved
	await := awaitSaved(m.sheet.ctx, m.sheet.saved, m.sheet.visit)
	if !m.sheet.Danceable() {
		m = m.show(findingsPane)
		m.back = listPane
		return m, await
	}
	m, cmd := m.begin()
	return m, tea.Batch(cmd, await)
}

// begin stands at the start of the sheet that was read.
func (m Model) begin() (Model, tea.Cmd) {
	o := dance.Options{
		Transport: m.o.Stage(m.sheet.Sheet), Songs: m.o.Songs, Theme: m.theme, View: m.kept.view, Due: m.kept.due, Pauses: m.kept.pauses,
		Diary: m.o.Diary, Past: m.o.Past, Session: m.o.Session, Left: m.o.Left, Dancers: m.o.Dancers, Count: m.o.Count, Sound: m.sound,
		Drill: m.home == bookPane, Teach: m.start.learns,
	}
	if m.home == bookPane {
		o.Session = nil // it is of a sheet
	} else if m.o.Open != nil {
		m.o.Session = nil // it is of this sheet
	}
	m.start.learns = false
	var cmd tea.Cmd
	m.dance, cmd = dance.New(m.sheet.ctx, m.sheet.Sheet, o)
	m.dance.Resize(m.width, m.height)
	m.pane = dancePane
	return m, cmd
}

// savedAgain takes in a sheet that was saved while it is open.
func (m Model) savedAgain(msg savedMsg) (tea.Model, tea.Cmd) {
	if msg.visit != m.sheet.visit {
		return m, nil
	}
	await := awaitSaved(m.sheet.ctx, m.sheet.saved, m.sheet.visit)
	if msg.sheet.Err == nil {
		m.sheet.Sheet = msg.sheet
	}
	if m.dance != nil {
		return m, tea.Batch(m.dance.Saved(msg.sheet), await)
	}
	if !m.sheet.Danceable() {
		return m, await
	}
	m, cmd := m.begin()
	return m, tea.Batch(cmd, m.dance.Say("Sheet reloaded"), await)
}

// withoutSong closes the page of a song that is gone.
func (m Model) withoutSong() Model {
	if m.dance.HasSong() {
		return m
	}
	if m.pane == songPane {
		m.pane = dancePane
	}
	if m.back == songPane {
		m.back = dancePane
	}
	return m
}

// toList leaves what is danced, for where it was chosen.
func (m Model) toList() Model {
	m.sheet.leave()
	m.sheet.leave = func() {}
	m.sheet.visit++
	if m.dance != nil {
		m.dance.Stop()
		m.dance = nil
	}
	m.pane = m.home
	return m
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
	case helpPane, findingsPane, sheetPane, summaryPane:
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

// asks turns to the questions, as soon as it is known what to ask most about.
func (m Model) asks() (Model, tea.Cmd) {
	if m.o.Past == nil {
		return m.asksOf(nil), nil
	}
	past, score, visit := m.o.Past, m.dance.Score(), m.sheet.visit
	return m, func() tea.Msg { return pastMsg{visit, past(score)} }
}

// asksOf turns to the questions, most of what is shaky.
func (m Model) asksOf(past *practice.History) Model {
	m.quiz, m.pane = quiz.New(m.dance.Score(), m.dance.Dancers(), m.o.Learn.Joins, past, m.theme), quizPane
	return m
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
	case toSheet:
		return m.show(sheetPane), nil
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
	case sheetPane:
		return paragraphs(m.width, m.theme, "Make a routine of your own", OwnRoutine())
	}
	return findingsLines(m.width, m.theme, m.sheet.Sheet, m.dance != nil)
}

// helpLines are the help of what it was asked from: what its words mean, its own keys, and the
// cautions.
func (m Model) helpLines() []string {
	var lines []string
	switch m.back {
	case bookPane:
		lines = keyLines(m.width, m.theme, []keyGroup{{"The handbook", handbook.HelpKeys()}})
	case songPane:
		lines = keyLines(m.width, m.theme, []keyGroup{{"The song", songpage.HelpKeys()}})
	case makingPane:
		lines = keyLines(m.width, m.theme, []keyGroup{{"Making a routine", making.HelpKeys()}})
	case dancePane:
		if title := m.dance.Pane(); title != "" {
			lines = keyLines(m.width, m.theme, []keyGroup{{title, m.dance.Keys()}})
			break
		}
		lines = append(wordLines(m.width, m.theme, m.dance), keyLines(m.width, m.theme, danceKeys())...)
		lines = append(lines, paragraphs(m.width, m.theme, "A presentation remote leads a class", remote)...)
	default:
		lines = keyLines(m.width, m.theme, []keyGroup{{"The list", m.list.HelpKeys()}})
	}
	return append(lines, paragraphs(m.width, m.theme, "Take care", caution.All())...)
}
