package screen

import (
	"context"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/player/screen/making"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/quiz"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/player/screen/tapping"
	"dance.example/slowquick/player/screen/term"
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

// made is the routine that is being made.
type made struct {
	begin *making.Begin // nil unless one begins
	model *making.Model // nil if none is made
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

// opening is the message that a sheet has to be opened.
type opening struct{ entry sheetlist.Entry }

// toTapping has the steps of what is danced tapped.
func (m Model) toTapping() Model {
	o := m.o.Learn.Tapping(m.dance.Moment)
	o.Theme = m.theme
	tap := tapping.New(m.sheet.ctx, o)
	tap.Resize(m.width, m.height)
	m.tap, m.pane = &tap, tapPane
	return m
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
		Diary: m.o.Diary, Past: m.o.Learn.Past, Session: m.o.Session, Left: m.o.Left, Dancers: m.o.Dancers, Count: m.o.Count, Sound: m.sound,
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

// asks turns to the questions, as soon as it is known what to ask most about.
func (m Model) asks() (Model, tea.Cmd) {
	if m.o.Learn.Past == nil {
		return m.asksOf(nil), nil
	}
	past, score, visit := m.o.Learn.Past, m.dance.Score(), m.sheet.visit
	return m, func() tea.Msg { return pastMsg{visit, past(score)} }
}

// asksOf turns to the questions, most of what is shaky.
func (m Model) asksOf(past *practice.History) Model {
	m.quiz, m.pane = quiz.New(m.dance.Score(), m.dance.Dancers(), m.o.Learn.Joins, past, m.theme), quizPane
	return m
}
