package making

import (
	"errors"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen/term"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// figureKeys are the keys while a figure is written; letters and, for a count, digits are typed.
type figureKeys struct {
	choose, accept, done, remove, starts, ends, handbook key.Binding
}

func newFigureKeys() figureKeys {
	return figureKeys{
		choose: term.Bind("1–9", "choose a way", "1", "2", "3", "4", "5", "6", "7", "8", "9"),
		accept: term.Bind("enter", "write it", "enter"), done: term.Bind("tab", "into the order", "tab"),
		remove: term.Bind("backspace", "take it out", "backspace", "delete"), handbook: term.Bind("ctrl+b", "own handbook", "ctrl+b"),
		starts: term.Bind("<", "how it starts", "<"), ends: term.Bind(">", "how it ends", ">"),
	}
}

// shownFigureKeys lists the keys that matter while a figure is written.
func shownFigureKeys(k *keyboard) []key.Binding {
	f := newFigureKeys()
	return []key.Binding{f.accept, f.choose, f.done, k.help, k.undo, term.Bind("←→↑↓", "another step"), f.remove, k.back, f.handbook, k.save}
}

// FigureHelpKeys lists the keys while a figure is written, as a page of help explains them.
func FigureHelpKeys() []key.Binding {
	f, k := newFigureKeys(), newKeyboard()
	return []key.Binding{
		term.Named(f.accept, "enter", "write what is shown, or what you typed"), term.Named(f.choose, "1–9", "choose one of the usual ways"),
		term.Bind("a–z", "type a step, as in “side, 1/4 R”"), term.Bind("←→↑↓", "another step, the count, the follower"),
		term.Named(f.remove, "backspace", "take the count out"), term.Named(f.starts, "<", "how the couple stands before it"), term.Named(f.ends, ">", "how the couple stands after it"),
		term.Named(f.done, "tab", "put the figure into the order"), term.Named(f.handbook, "ctrl+b", "copy it into your own handbook"), term.Named(k.back, "esc", "back to the order without it"),
	}
}

// ownFigure returns the name of the marked line's figure if it is the sheet's own, else "".
func ownFigure(d draft.Draft) string {
	if d.Line < 0 {
		return ""
	}
	name := d.Order.Line(d.Line).Name
	if _, err := d.Figure(name); err != nil {
		return ""
	}
	return name
}

// begins begins a figure of the sheet's own, or goes on with one.
func begins(m *Model, name string) tea.Cmd {
	d, f, err := m.draft.Writing(name)
	if err != nil {
		m.news.Warn(err.Error())
		return nil
	}
	m.writing = newWriting(f, d.Score.Dance)
	return m.becomes(d)
}

// rewrites takes in a text with the figure changed, with a cell marked.
func rewrites(m *Model, text []byte, row int, cell draft.Cell) tea.Cmd {
	return reloads(m, m.changes(text, m.draft.Line), row, cell)
}

// reloads shows the figure as the draft has it; it is left if the draft has it no longer.
func reloads(m *Model, cmd tea.Cmd, row int, cell draft.Cell) tea.Cmd {
	f, err := m.draft.Figure(m.writing.figure.Name)
	if err != nil {
		m.writing, m.focus = nil, onOrder
		return cmd
	}
	m.writing.load(f, m.draft.Score.Dance)
	m.writing.goes(row, cell)
	return cmd
}

// writes writes a cell, and goes on: from a new row's step to the next row.
func writes(m *Model, cell draft.Cell, says string) tea.Cmd {
	w := m.writing
	row := w.row
	text, err := w.figure.Write(row, cell, says)
	if err != nil {
		m.news.Warn(err.Error())
		return nil
	}
	if row == len(w.figure.Rows) && cell == draft.CountCell {
		return rewrites(m, text, row, draft.LeaderCell)
	}
	return rewrites(m, text, row+1, cell)
}

// accepts writes what is typed, or what is proposed for the next row.
func accepts(m *Model) tea.Cmd {
	w := m.writing
	switch {
	case w.typed() != "":
		return writes(m, w.cell, w.typed())
	case w.row == len(w.figure.Rows):
		return writes(m, draft.LeaderCell, w.next[draft.LeaderCell])
	}
	w.goes(w.row+1, w.cell)
	return nil
}

// finishes puts the figure into the order, unless it is there already, and leads back to the order.
func finishes(m *Model) tea.Cmd {
	f := m.writing.figure
	if len(f.Rows) == 0 {
		m.news.Say("write its first step first")
		return nil
	}
	m.writing, m.focus = nil, onOrder
	return m.changes(f.Done())
}

// leavesFigure leads back to the order. A figure without a step isn't kept.
func leavesFigure(m *Model) tea.Cmd {
	f := m.writing.figure
	m.writing, m.focus = nil, onOrder
	return m.changes(f.Left(), m.draft.Line)
}

// copies copies the figure into the dancer's own handbook.
func copies(m *Model) tea.Cmd {
	f, over := m.writing.figure, m.writing.over
	sheet, err := f.Sheet()
	if err != nil {
		m.news.Warn(err.Error())
		return nil
	}
	own := m.o.Own
	return func() tea.Msg {
		path, err := own(f.Name, sheet, over)
		return Msg{copied: true, path: path, err: err}
	}
}

// wasCopied says where the figure was copied to, or why it wasn't.
func wasCopied(m *Model, msg Msg) {
	switch {
	case errors.Is(msg.err, draft.ErrNewer):
		m.news.Warn("your handbook has another by that name: ctrl+b again writes over it")
	case msg.err != nil:
		m.news.Warn(msg.err.Error())
	default:
		m.news.Say("copied: your handbook has it from the next start on")
	}
	if m.writing != nil {
		m.writing.over = errors.Is(msg.err, draft.ErrNewer)
	}
}
