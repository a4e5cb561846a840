package screen

import (
	"context"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/quiz"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// pane is which part of the screen is seen.
type pane uint8

const (
	listPane pane = iota
	dancePane
	helpPane
	findingsPane
	bookPane
	quizPane
	songPane
)

// Model is the whole screen. It is a [tea.Model].
type Model struct {
	ctx           context.Context // ends when the screen is left; for its commands
	o             Options
	theme         term.Theme
	width, height int

	pane  pane
	list  *sheetlist.Model
	page  term.Page         // of help or findings
	dance *dance            // nil if no sheet is danced
	quiz  *quiz.Model       // nil until it is asked for
	book  *handbook.Browser // nil until it is opened

	pauses *pauses

	visit int    // numbers the sheets that are opened
	sheet Loaded // as it was read last
	saved <-chan Loaded
	open  context.Context    // ends when the sheet is left
	leave context.CancelFunc // ends open
	sound string
	back  pane         // from a page
	due   *program.Due // when what is drawn may be seen; nil for at once
	home  pane         // from a dance: the list, or the handbook
}

// New gives the screen with the list, or on its way to the sheet that is danced
// at once. Its commands end with ctx.
func New(ctx context.Context, o Options) Model {
	theme := term.NewTheme(!o.NoColor)
	m := Model{ctx: ctx, o: o, theme: theme, list: sheetlist.New(o.Shelf, o.Handbook != nil, theme), leave: func() {},
		pauses: &pauses{spell: practice.Spell{Every: o.PauseAfter}}}
	if o.Sound != nil {
		m.sound = o.Sound.Status()
	}
	if o.Open != nil {
		m.list.News.Say("opening " + o.Open.ID)
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
		m.width, m.height = msg.Width, msg.Height
		m.list.Resize(m.width, m.height)
		if m.dance != nil {
			m.dance.arrange(m.width, m.height)
		}
		if m.book != nil {
			m.book.Resize(m.width, m.height)
		}
		return m, nil
	case tea.KeyMsg:
		return m.pressed(msg)
	case tickMsg:
		if m.dance == nil || int(msg) != m.dance.tick {
			return m, nil
		}
		return m, m.dance.look()
	case sheetlist.Msg:
		m.list.Update(msg)
		return m, nil
	case handbook.Msg:
		m.book.Update(msg)
		return m, nil
	case drilledMsg:
		return m.drilled(msg)
	case opening:
		return m.opens(msg.entry)
	case openedMsg:
		return m.opened(msg)
	case savedMsg:
		return m.savedAgain(msg)
	case songpage.Msg:
		if m.dance == nil {
			return m, nil
		}
		cmd := m.dance.songTells(msg)
		return m.withoutSong(), cmd
	case soundMsg:
		m.sound = string(msg)
		if m.dance != nil {
			m.dance.sound = m.sound
		}
		return m, awaitSound(m.ctx, m.o.Sound)
	case noteMsg:
		if m.dance != nil {
			m.dance.news.Warn(string(msg))
		}
		return m, awaitNote(m.ctx, m.o.Notes)
	case pastMsg:
		if m.dance != nil && msg.visit == m.visit && m.pane == dancePane {
			m = m.asksOf(msg.past)
		}
		return m, nil
	case levelsMsg:
		if m.dance != nil && msg.visit == m.visit && msg.number >= m.dance.told {
			m.dance.levels, m.dance.told = &msg.levels, msg.number
		}
		return m, nil
	}
	return m, nil
}

// pressed carries keys out: those that are pressed fast, or held down, arrive as
// one message.
func (m Model) pressed(msg tea.KeyMsg) (Model, tea.Cmd) {
	if msg.Type != tea.KeyRunes || len(msg.Runes) < 2 || msg.Paste {
		return m.pressedOne(msg)
	}
	var cmds []tea.Cmd
	for _, r := range msg.Runes {
		var cmd tea.Cmd
		m, cmd = m.pressedOne(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: msg.Alt})
		cmds = append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

func (m Model) pressedOne(msg tea.KeyMsg) (Model, tea.Cmd) {
	switch m.pane {
	case dancePane, songPane:
		cmd := m.pressDance(msg)
		turn := m.dance.turn
		m.dance.turn = stay
		switch turn {
		case toHelp:
			m = m.show(helpPane)
		case toSong:
			m.pane = songPane
		case toDance:
			m.pane = dancePane
		case toFindings:
			m = m.show(findingsPane)
		case toQuiz:
			asking, ask := m.asks()
			return asking, tea.Batch(cmd, ask)
		case toList:
			return m.toList(), tea.Batch(cmd, m.list.Init())
		}
		return m, cmd
	case bookPane:
		return m.pressedBook(msg)
	case quizPane:
		switch m.quiz.Press(msg) {
		case term.PageBack:
			m.pane = dancePane
		case term.PageQuit:
			return m, m.dance.quit()
		}
		return m, nil
	case helpPane, findingsPane:
		switch m.page.Press(msg, m.height, len(m.pageLines())) {
		case term.PageBack:
			if m.pane == findingsPane && m.back == listPane {
				return m.toList(), m.list.Init()
			}
			m.pane = m.back
		case term.PageQuit:
			return m, tea.Quit
		}
		return m, nil
	}
	switch turn, entry := m.list.Press(msg); turn {
	case sheetlist.Open:
		return m.opens(entry)
	case sheetlist.Handbook:
		return m.toBook()
	case sheetlist.Help:
		return m.show(helpPane), nil
	case sheetlist.Quit:
		return m, tea.Quit
	}
	return m, nil
}

// pressDance carries a key out on the dance, or on the page of its song.
func (m Model) pressDance(msg tea.KeyMsg) tea.Cmd {
	if m.pane == songPane {
		return m.dance.pressSong(msg)
	}
	return m.dance.press(msg)
}

// toBook turns to the handbook, where it was left.
func (m Model) toBook() (Model, tea.Cmd) {
	m.pane = bookPane
	m.visit++ // a sheet that is being opened is not wanted any more
	if m.book != nil {
		return m, nil
	}
	m.book = handbook.New(m.o.Handbook, m.theme)
	m.book.Resize(m.width, m.height)
	return m, m.book.Init()
}

func (m Model) pressedBook(msg tea.KeyMsg) (Model, tea.Cmd) {
	m.visit++ // whatever is being opened, the dancer has turned to something else
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
	return m, openSheet(m.open, m.o.Shelf, e, m.visit)
}

// leaves leaves what is open for something else.
func (m Model) leaves() Model {
	m.leave()
	m.open, m.leave = context.WithCancel(m.ctx)
	m.visit++
	return m
}

// drills asks how to dance a figure over and over.
func (m Model) drills(c *handbook.Chapter, fig *routine.Figure) (Model, tea.Cmd) {
	m = m.leaves()
	m.home = bookPane
	m.book.News.Say("finding what leads back to it …")
	return m, readDrill(m.o.Handbook, c, fig, m.visit)
}

// drilled dances a figure over and over.
func (m Model) drilled(msg drilledMsg) (tea.Model, tea.Cmd) {
	if msg.visit != m.visit {
		return m, nil
	}
	m.book.News.Clear()
	if !msg.drill.danceable() {
		text := "it can't be danced by itself"
		if len(msg.drill.Findings) > 0 {
			text += ": " + msg.drill.Findings[0].Message
		}
		m.book.News.Warn(text)
		return m, nil
	}
	m.sheet, m.saved = msg.drill.Loaded, nil
	m, cmd := m.begin()
	return m, tea.Batch(cmd, m.dance.startDrill(msg.drill.Returns))
}

func (m Model) opened(msg openedMsg) (tea.Model, tea.Cmd) {
	if msg.visit != m.visit {
		return m, nil
	}
	m.list.News.Clear()
	if msg.err != nil {
		m.list.News.Warn(msg.err.Error())
		return m, nil
	}
	m.sheet, m.saved = msg.loaded, msg.saved
	await := awaitSaved(m.open, m.saved, m.visit)
	if !m.sheet.danceable() {
		m = m.show(findingsPane)
		m.back = listPane
		return m, await
	}
	m, cmd := m.begin()
	return m, tea.Batch(cmd, await)
}

// begin stands at the start of the sheet that was read.
func (m Model) begin() (Model, tea.Cmd) {
	tick := 0
	if m.dance != nil {
		tick = m.dance.tick // none of the old ticks may be taken for a new one
	}
	d := &dance{
		ctx: m.open, visit: m.visit, theme: m.theme, groups: danceActions(), transport: m.o.Stage(m.sheet),
		found: m.sheet.Findings, dancers: m.o.Dancers, count: m.o.Count, sound: m.sound, tick: tick, drill: m.home == bookPane, due: m.due,
		pauses: m.pauses,
	}
	d.pauses.leave() // what was danced before
	d.layout.width, d.layout.height = m.width, m.height
	var led tea.Cmd
	if m.o.Diary != nil {
		d.record.diary, d.record.keeper = m.o.Diary, m.o.Diary.Begin(m.sheet.Timeline.Score)
	}
	d.song = songpage.New(m.open, m.o.Songs, d.transport, m.sheet.Timeline, m.theme, &d.news)
	d.now = d.transport.Now(time.Now())
	if m.o.Session != nil {
		session := m.o.Session(m.sheet.Timeline)
		led = d.leads(&leading{session: session, line: m.sheet.Timeline, left: m.o.Left, resumed: session.Done > 0})
		m.o.Session = nil // it is of this sheet
	}
	m.dance, m.pane = d, dancePane
	levels := setLevels(m.open, d.transport, m.visit, 0, func(l audio.Levels) audio.Levels { return l })
	look := d.look()
	return m, tea.Batch(levels, led, look, d.song.Read(m.sheet.ID, m.sheet.Path))
}

// savedAgain takes in a sheet that was saved while it is open.
func (m Model) savedAgain(msg savedMsg) (tea.Model, tea.Cmd) {
	if msg.visit != m.visit {
		return m, nil
	}
	await := awaitSaved(m.open, m.saved, m.visit)
	if err := msg.loaded.Err; err != nil {
		if m.dance != nil {
			m.dance.news.Warn("the saved sheet can't be read: " + err.Error())
		}
		return m, await
	}
	m.sheet = msg.loaded
	if m.dance != nil {
		return m, tea.Batch(m.dance.saved(msg.loaded), await)
	}
	if !m.sheet.danceable() {
		return m, await
	}
	m, cmd := m.begin()
	m.dance.news.Say("the sheet was read again")
	return m, tea.Batch(cmd, await)
}

// withoutSong closes the page of a song that is gone.
func (m Model) withoutSong() Model {
	if m.dance.song.Song() != nil {
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
	m.leave()
	m.leave = func() {}
	m.visit++
	if m.dance != nil {
		m.dance.transport.Hold()
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
	switch m.pane {
	case dancePane:
		return m.dance.view()
	case songPane:
		return m.dance.song.View(m.width, m.height, m.dance.now, m.dance.messageLine())
	case helpPane, findingsPane:
		return m.page.View(m.width, m.height, m.pageLines())
	case bookPane:
		return m.book.View(m.sound)
	case quizPane:
		return m.quiz.View(m.width, m.height)
	}
	return m.list.View(m.sound)
}
