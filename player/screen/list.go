package screen

import (
	"cmp"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// list is the shelf, narrowed down by typing.
type list struct {
	term.Chooser
	keys    listKeys
	all     []Entry
	read    bool // the shelf has been
	message string
}

func newList(withHandbook bool) list {
	return list{keys: newListKeys(withHandbook), Chooser: term.NewChooser("title, dance or file")}
}

// fill takes in what is on the shelf.
func (l *list) fill(msg entriesMsg) {
	l.all, l.read = msg.entries, true
	if msg.err != nil {
		l.message = msg.err.Error()
	}
	texts := make([]string, len(l.all))
	for i, e := range l.all {
		texts[i] = e.Title + e.Dance + e.Place
	}
	l.Chooser.Fill(texts)
}

type listTurn uint8

const (
	listStay listTurn = iota
	listOpen
	listHandbook
	listHelp
	listQuit
)

// press carries a key out; what is no key of the list is typed.
func (l *list) press(msg tea.KeyMsg) (Entry, listTurn) {
	l.message = ""
	switch {
	case key.Matches(msg, l.keys.quit):
		return Entry{}, listQuit
	case key.Matches(msg, l.keys.handbook):
		return Entry{}, listHandbook
	case key.Matches(msg, l.keys.help):
		return Entry{}, listHelp
	case key.Matches(msg, l.keys.clear):
		if !l.Clear() {
			return Entry{}, listQuit
		}
	case key.Matches(msg, l.keys.open):
		if i := l.Item(); i >= 0 {
			return l.all[i], listOpen
		}
	default:
		l.Chooser.Press(msg)
	}
	return Entry{}, listStay
}

// title is what an entry is called.
func (e Entry) title() string {
	switch {
	case e.Title != "":
		return e.Title
	case e.Place != "":
		return e.Place
	}
	return e.ID
}

// line is the keys of the list, the most needed first.
func (l *list) line() []key.Binding {
	return []key.Binding{l.UpDown("choose"), l.keys.open, l.keys.handbook, l.keys.help, l.keys.clear, l.keys.quit}
}

func (m Model) listView() string {
	l := &m.list
	head := []string{
		term.NewRow(m.width).Put(m.theme.Heading, "Slowquick").Put(term.Plain, " · choose a sheet").String(),
		term.InputLine(m.width, m.theme, l.Filter),
		"",
	}
	foot := []string{term.NewRow(m.width).Put(m.theme.Alarm, cmp.Or(l.message, m.sound)).String(), term.HelpLine(m.width, l.line())}
	rows := m.height - len(head) - len(foot)
	if rows < 1 { // the entries matter most
		head, foot, rows = head[:0], foot[:0], m.height
	}
	var body []string
	switch {
	case len(l.Shown) > 0:
		first := term.FirstSeen(len(l.Shown), l.Chosen, rows)
		for i := first; i < min(first+rows, len(l.Shown)); i++ {
			body = append(body, m.entryLine(l.all[l.Shown[i]], i == l.Chosen))
		}
	case !l.read:
		body = append(body, term.NewRow(m.width).Put(term.Plain, "  reading …").String())
	case len(l.all) > 0:
		body = append(body, term.NewRow(m.width).Put(term.Plain, "  no sheet has this in its title, dance or file").String())
	default:
		body = append(body, term.NewRow(m.width).Put(term.Plain, "  there is no sheet here").String())
	}
	return term.Join(m.height, head, body, foot)
}

func (m Model) entryLine(e Entry, chosen bool) string {
	k, mark := term.Plain, "  "
	if chosen {
		k, mark = m.theme.Present, "> "
	}
	r := term.NewRow(m.width).Put(k, mark+term.Cut(harmless.Line(e.title()), max(m.width*5/8-3, 8)))
	if m.width >= 30 {
		r.To(m.width*5/8).Put(term.Plain, term.Cut(harmless.Line(e.Dance), m.width/6))
	}
	if m.width >= 60 {
		r.To(m.width*5/8+m.width/6+1).Put(m.theme.Faint, e.Place)
	}
	return r.String()
}
