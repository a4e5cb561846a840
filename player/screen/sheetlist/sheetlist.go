// Package sheetlist shows the sheets to choose from, narrowed down by typing.
//
// It opens no sheet: Press reports that one was chosen, and which. Begin with [Model],
// and [Source], which it lists.
package sheetlist

import (
	"cmp"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Source knows the sheets. It is called from a command, as it may have to read them.
type Source interface {
	// Entries lists the sheets in the order in which they are shown.
	Entries() ([]Entry, error)
}

// Entry is a sheet in the list.
type Entry struct {
	Title string
	Dance string
	Place string // the name of its file, or that it is an example
	ID    string // for whoever opens it
	Why   string // why to choose it; "" in a list of all sheets
	Draft bool   // a routine that is being made and isn't saved
}

// Name returns what an entry is called: its title, if it has one.
func (e Entry) Name() string { return cmp.Or(e.Title, e.Place, e.ID) }

// Model is the list. It is empty until the command of Init has read the source.
type Model struct {
	source  Source
	theme   term.Theme
	keys    keys
	chooser term.Chooser
	entries []Entry
	read    bool      // the entries are here
	reasons bool      // they say why to choose them
	News    term.News // until a key is pressed

	width, height int
}

type keys struct{ open, handbook, make, help, clear, quit key.Binding }

// New returns a list with a key for the handbook, or without.
func New(source Source, withHandbook bool, t term.Theme) *Model {
	m := &Model{source: source, theme: t, chooser: term.NewChooser("title, dance or file"), keys: keys{
		open: term.Bind("enter", "dance it", "enter"), handbook: term.Bind("tab", "handbook", "tab"), help: term.Bind("?", "help", "?"),
		make: term.Bind("n", "a new one", "n"), clear: term.Bind("esc", "clear, quit", "esc"), quit: term.Bind("ctrl+c", "quit", "ctrl+c"),
	}}
	m.keys.handbook.SetEnabled(withHandbook)
	m.keys.make.SetEnabled(false)
	return m
}

// MayMake gives the list its key for a new routine.
func (m *Model) MayMake(may bool) { m.keys.make.SetEnabled(may) }

// Chosen returns the entry that is chosen; ok is false if none is.
func (m *Model) Chosen() (e Entry, ok bool) {
	if i := m.chooser.Item(); i >= 0 {
		return m.entries[i], true
	}
	return Entry{}, false
}

// Msg brings what a list's command has read, for its Update.
type Msg struct {
	entries []Entry
	err     error
}

// Init returns the command that reads the source. It may be called again, to read it anew.
func (m *Model) Init() tea.Cmd {
	return func() tea.Msg {
		entries, err := m.source.Entries()
		return Msg{entries, err}
	}
}

// Update takes in what was read.
func (m *Model) Update(msg Msg) {
	m.entries, m.read = msg.entries, true
	if msg.err != nil {
		m.News.Warn(msg.err.Error())
	}
	m.reasons = false
	texts := make([]string, len(m.entries))
	for i, e := range m.entries {
		texts[i] = e.Title + e.Dance + e.Place
		m.reasons = m.reasons || e.Why != ""
	}
	m.chooser.Fill(texts)
}

// Resize lays the list out for a window.
func (m *Model) Resize(width, height int) { m.width, m.height = width, height }

// HelpKeys returns the list's keys, for a page of help.
func (m *Model) HelpKeys() []key.Binding {
	return []key.Binding{m.chooser.UpDown("choose"), m.keys.open, m.keys.make, m.keys.handbook, m.keys.clear, m.keys.quit}
}

// Turn is where a key leads from the list.
type Turn uint8

// Where a key can lead.
const (
	Stay Turn = iota
	Open
	Handbook
	Make // a new routine
	Help
	Quit
)

// numbered is how many entries with reasons are opened by their number.
const numbered = 9

// Press carries out a key, or types it. With [Open] it returns the entry to open.
func (m *Model) Press(msg tea.KeyMsg) (Turn, Entry) {
	m.News.Clear()
	switch {
	case key.Matches(msg, m.keys.quit):
		return Quit, Entry{}
	case key.Matches(msg, m.keys.handbook):
		return Handbook, Entry{}
	case key.Matches(msg, m.keys.make) && m.chooser.Filter.Value() == "": // else it is typed
		return Make, Entry{}
	case key.Matches(msg, m.keys.help):
		return Help, Entry{}
	case key.Matches(msg, m.keys.clear):
		if !m.chooser.Clear() {
			return Quit, Entry{}
		}
	case key.Matches(msg, m.keys.open):
		if i := m.chooser.Item(); i >= 0 {
			return Open, m.entries[i]
		}
	default:
		if i := int(msg.String()[0] - '1'); m.reasons && len(msg.String()) == 1 && 0 <= i && i < min(numbered, len(m.entries)) && m.chooser.Filter.Value() == "" {
			return Open, m.entries[i]
		}
		m.chooser.Press(msg)
	}
	return Stay, Entry{}
}

// View draws the list; sound says what is wrong with the sound, if anything is.
func (m *Model) View(sound string) string {
	c := &m.chooser
	title := " · choose a sheet"
	if m.reasons {
		title = " · what to practise, the most urgent first"
	}
	head := []string{
		term.NewRow(m.width).Put(m.theme.Heading, "Slowquick").Put(term.Plain, title).String(),
		term.InputLine(m.width, m.theme, c.Filter),
		"",
	}
	open := m.keys.open
	if m.reasons {
		open = term.Named(open, "1–9 enter", "practise it")
	}
	line := []key.Binding{c.UpDown("choose"), open, m.keys.make, m.keys.handbook, m.keys.help, m.keys.clear, m.keys.quit} // the most needed first
	foot := []string{m.News.Line(m.width, m.theme, sound), term.HelpLine(m.width, line)}
	rows := m.height - len(head) - len(foot)
	if rows < 1 { // the entries matter most
		head, foot, rows = head[:0], foot[:0], m.height
	}
	var body []string
	switch {
	case len(c.Shown) > 0:
		first := term.FirstSeen(len(c.Shown), c.Chosen, rows)
		for i := first; i < min(first+rows, len(c.Shown)); i++ {
			body = append(body, m.entryLine(c.Shown[i], i == c.Chosen))
		}
	case !m.read:
		body = append(body, term.NewRow(m.width).Put(term.Plain, "  reading …").String())
	case len(m.entries) > 0:
		body = append(body, term.NewRow(m.width).Put(term.Plain, "  no sheet matches").String())
	default:
		body = append(body, term.NewRow(m.width).Put(term.Plain, "  no sheets here").String())
	}
	return term.Join(m.height, head, body, foot)
}

func (m *Model) entryLine(item int, chosen bool) string {
	e := m.entries[item]
	k, mark := term.Plain, "  "
	if chosen {
		k, mark = m.theme.Present, "> "
	}
	if m.reasons {
		return m.reasonLine(item, k, mark)
	}
	r := term.NewRow(m.width).Put(k, mark+term.Cut(harmless.Line(e.Name()), max(m.width*5/8-3, 8)))
	if m.width >= 30 {
		r.To(m.width*5/8).Put(term.Plain, term.Cut(harmless.Line(e.Dance), m.width/6))
	}
	if m.width >= 60 {
		r.To(m.width*5/8+m.width/6+1).Put(m.theme.Faint, e.Place)
	}
	return r.String()
}

// reasonLine is an entry with its number and why to choose it.
func (m *Model) reasonLine(item int, k term.Ink, mark string) string {
	e, number := m.entries[item], "  "
	if item < numbered {
		number = string(rune('1'+item)) + " "
	}
	longest := 0
	for _, other := range m.entries {
		longest = max(longest, term.Width(harmless.Line(other.Name())))
	}
	why := min(len("> 1 ")+longest+2, m.width/2)
	return term.NewRow(m.width).Put(k, mark+number+term.Cut(harmless.Line(e.Name()), max(why-len("> 1 ")-1, 8))).To(why).Put(term.Plain, e.Why).String()
}
