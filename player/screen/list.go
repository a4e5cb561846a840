package screen

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// list is the shelf, narrowed down by typing.
type list struct {
	chooser
	keys    listKeys
	all     []Entry
	read    bool // the shelf has been
	message string
}

func newList(withHandbook bool) list {
	return list{keys: newListKeys(withHandbook), chooser: newChooser("title, dance or file")}
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
	l.chooser.fill(texts)
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
		if !l.clear() {
			return Entry{}, listQuit
		}
	case key.Matches(msg, l.keys.open):
		if i := l.item(); i >= 0 {
			return l.all[i], listOpen
		}
	default:
		l.chooser.press(msg)
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
	return []key.Binding{both(l.chooser.keys.up, l.chooser.keys.down, "↑↓", "choose"), l.keys.open, l.keys.handbook, l.keys.help, l.keys.clear, l.keys.quit}
}

func (m Model) listView() string {
	l := &m.list
	head := []string{
		newRow(m.width).put(m.theme.heading, "Slowquick").put(noInk, " · choose a sheet").String(),
		inputLine(m.width, m.theme, l.filter),
		"",
	}
	foot := []string{newRow(m.width).put(m.theme.alarm, firstOf(l.message, m.sound)).String(), helpLine(m.width, l.line())}
	rows := m.height - len(head) - len(foot)
	if rows < 1 { // the entries matter most
		head, foot, rows = head[:0], foot[:0], m.height
	}
	var body []string
	switch {
	case len(l.shown) > 0:
		first := firstSeen(len(l.shown), l.chosen, rows)
		for i := first; i < min(first+rows, len(l.shown)); i++ {
			body = append(body, m.entryLine(l.all[l.shown[i]], i == l.chosen))
		}
	case !l.read:
		body = append(body, newRow(m.width).put(noInk, "  reading …").String())
	case len(l.all) > 0:
		body = append(body, newRow(m.width).put(noInk, "  no sheet has this in its title, dance or file").String())
	default:
		body = append(body, newRow(m.width).put(noInk, "  there is no sheet here").String())
	}
	return join(m.height, head, body, foot)
}

func (m Model) entryLine(e Entry, chosen bool) string {
	k, mark := noInk, "  "
	if chosen {
		k, mark = m.theme.present, "> "
	}
	r := newRow(m.width).put(k, mark+cut(clean(e.title()), max(m.width*5/8-3, 8)))
	if m.width >= 30 {
		r.to(m.width*5/8).put(noInk, cut(clean(e.Dance), m.width/6))
	}
	if m.width >= 60 {
		r.to(m.width*5/8+m.width/6+1).put(m.theme.faint, e.Place)
	}
	return r.String()
}

// inputLine shows a line that is typed, with a cursor that does not blink.
func inputLine(width int, t Theme, i textinput.Model) string {
	r := newRow(width).put(t.strong, i.Prompt)
	text := []rune(i.Value())
	if len(text) == 0 {
		return r.put(t.present, " ").put(t.faint, i.Placeholder).String()
	}
	at := min(i.Position(), len(text))
	// The end that is typed at is what has to be seen.
	from := 0
	for from < at && textWidth(clean(string(text[from:at]))) > width-r.used-1 {
		from++
	}
	r.put(noInk, string(text[from:at]))
	if at == len(text) {
		return r.put(t.present, " ").String()
	}
	return r.put(t.present, string(text[at:at+1])).put(noInk, string(text[at+1:])).String()
}

// helpLine writes keys on one line.
func helpLine(width int, keys []key.Binding) string {
	if width < 2 {
		return ""
	}
	return cut(newHelp(width).ShortHelpView(keys), width)
}

// join puts lines above each other, foot at the bottom of height lines.
func join(height int, head, body, foot []string) string {
	lines := append(append(make([]string, 0, height), head...), body...)
	lines = lines[:min(len(lines), max(0, height-len(foot)))]
	for len(lines)+len(foot) < height {
		lines = append(lines, "")
	}
	lines = append(lines, foot...)
	return strings.Join(lines[:min(len(lines), height)], "\n")
}

func firstOf(texts ...string) string {
	for _, t := range texts {
		if t != "" {
			return t
		}
	}
	return ""
}
