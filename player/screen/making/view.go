package making

import (
	"fmt"
	"strings"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/screen/dots"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// The least windows with two lists beside each other, and with the chosen figure beside them.
const (
	twoColumns   = 60
	threeColumns = 120
	figureRows   = 8 // below the lists, where it isn't beside them
	leastList    = 6
)

// View draws the screen; sound, which may be "", is what there is to say of the sound.
func (m *Model) View(sound string) string {
	head := m.head()
	foot := append(m.trouble(), m.news.Line(m.width, m.o.Theme, sound), term.HelpLine(m.width, m.ShownKeys()))
	rows := m.height - len(head) - len(foot)
	var body []string
	switch {
	case rows < 1:
		return term.Join(m.height, nil, m.orderLines(m.width, m.height), nil)
	case m.width >= threeColumns:
		third := m.width / 3
		lists := term.Beside(m.orderLines(third-2, rows), m.listLines(third-2, rows), third-2, 2*third-2)
		body = term.Beside(lists, m.figureLines(m.width-2*third, rows), m.width-2*third, m.width)
	case m.width >= twoColumns:
		lists := rows
		if rows-figureRows >= leastList {
			lists = rows - figureRows
		}
		right := m.width / 2
		body = term.Beside(m.orderLines(m.width-right-2, lists), m.listLines(right, lists), right, m.width)
		if lists < rows {
			body = append(pad(body, lists), m.figureLines(m.width, figureRows)...)
		}
	case m.focus == onOrder && m.offers == nil:
		body = m.orderLines(m.width, rows)
	default:
		body = m.listLines(m.width, rows)
	}
	return term.Join(m.height, head, body, foot)
}

// pad adds empty lines up to a number of lines.
func pad(lines []string, rows int) []string {
	for len(lines) < rows {
		lines = append(lines, "")
	}
	return lines[:rows]
}

// head names the routine, says how long it is, and shows what is typed.
func (m *Model) head() []string {
	d, t := &m.draft, &m.o.Theme
	state := ""
	if !d.Saved() {
		state = " · not saved"
	}
	first := term.NewRow(m.width).Put(t.Heading, harmless.Line(d.Title())).Put(term.Plain, " · "+d.Score.Dance.Name+state).Right(term.Plain, m.length())
	second := term.NewRow(m.width).String()
	switch {
	case m.asks != nil:
		second = term.InputLine(m.width, *t, m.asks.input)
	case m.leaving:
		second = term.NewRow(m.width).Put(t.Strong, "Not saved: s saves it, esc leaves it as a draft, x throws it away").String()
	case m.focus == onFigures && m.offers == nil:
		second = term.InputLine(m.width, *t, m.figures.Filter)
	}
	return []string{first.String(), second, ""}
}

// length says how long the routine is, in bars and phrases.
func (m *Model) length() string {
	s := m.draft.Score
	bar := s.Dance.Metre.Bar()
	if len(s.Passages) == 0 || bar == 0 {
		return "nothing yet"
	}
	beats := s.End - s.Start
	text := routine.Plural(int(beats/bar), "bar")
	if over := beats % bar; over != 0 {
		text += " and " + over.InBeats()
	}
	if n := s.Dance.PhraseBars; n > 0 {
		if phrase := routine.Beats(n) * bar; beats%phrase == 0 {
			text += " · " + routine.Plural(int(beats/phrase), "phrase")
		} else {
			text += fmt.Sprintf(" · %s to the phrase", routine.Plural(int((phrase-beats%phrase+bar-1)/bar), "bar"))
		}
	}
	return text
}

// trouble says in two lines what is wrong with the marked line, or else with the first that is wrong.
func (m *Model) trouble() []string {
	lines, elsewhere := m.draft.Findings()
	var found *routine.Finding
	where := ""
	first := func(list []routine.Finding, at string) {
		for i := range list {
			if found == nil && list[i].Severity != routine.Note {
				found, where = &list[i], at
			}
		}
	}
	if m.line >= 0 {
		first(lines[m.line], "")
	}
	for i := range lines {
		first(lines[i], fmt.Sprintf("line %d: ", i+1))
	}
	first(elsewhere, "")
	if found == nil {
		return nil
	}
	text := where + found.Message
	if found.Hint != "" {
		text += ". " + found.Hint
	}
	var out []string
	for _, line := range term.Wrap(text, m.width) {
		if len(out) == 2 {
			break
		}
		out = append(out, term.NewRow(m.width).Put(m.o.Theme.Alarm, line).String())
	}
	return out
}

// wrong reports whether there is something wrong among findings, other than notes.
func wrong(list []routine.Finding) bool {
	for _, f := range list {
		if f.Severity != routine.Note {
			return true
		}
	}
	return false
}

// orderLines draws the order in so many columns and lines.
func (m *Model) orderLines(width, rows int) []string {
	t := &m.o.Theme
	order, s := m.draft.Order, m.draft.Score
	found, _ := m.draft.Findings()
	lines := []string{m.title("The order", m.focus == onOrder && m.offers == nil, width)}
	if rows < 3 {
		lines = nil
	}
	rows -= len(lines)
	first := term.FirstSeen(order.Len()+1, m.line+1, rows)
	for i := first - 1; i < min(first-1+rows, order.Len()); i++ {
		k, mark := term.Plain, "  "
		if i == m.line {
			k, mark = t.Present, "> "
		}
		r := term.NewRow(width)
		if i < 0 {
			lines = append(lines, r.Put(k, mark+"the start").String())
			continue
		}
		at := m.place(s, i)
		if order.Setting(i, "corner") != "" {
			at = "corner · " + at
		}
		name := fmt.Sprintf("%s%d %s", mark, i+1, harmless.Line(order.Line(i).String()))
		if wrong(found[i]) {
			name = fmt.Sprintf("%s! %s", mark, strings.TrimPrefix(name, mark))
			if i != m.line {
				k = t.Alarm
			}
		}
		lines = append(lines, r.Put(k, term.Cut(name, width-term.Width(at)-1)).Right(term.Plain, at).String())
	}
	return lines
}

// title heads a list; the one that the keys are for stands out.
func (m *Model) title(text string, present bool, width int) string {
	k := m.o.Theme.Faint
	if present {
		k = m.o.Theme.Heading
	}
	return term.NewRow(width).Put(k, text).String()
}

// place says in which bar a line begins, and which phrase begins with it.
func (m *Model) place(s *routine.Score, line int) string {
	bar := s.Dance.Metre.Bar()
	for i := range s.Passages {
		p := &s.Passages[i]
		if bar == 0 || m.draft.Order.At(s.Items[p.Item].At.Start.Offset) != line {
			continue
		}
		n := int((p.Start - s.Start) / bar)
		if phrase := s.Dance.PhraseBars; phrase > 0 && n%phrase == 0 && (p.Start-s.Start)%bar == 0 {
			return fmt.Sprintf("phrase %d · bar %d", n/phrase+1, n+1)
		}
		return fmt.Sprintf("bar %d", n+1)
	}
	return ""
}

// listLines draws what can be put in.
func (m *Model) listLines(width, rows int) []string {
	if m.offers != nil {
		return m.offerLines(width, rows)
	}
	t := &m.o.Theme
	title := "How it begins"
	if m.line >= 0 {
		title = "What can follow " + harmless.Line(m.draft.Order.Line(m.line).Name)
	}
	lines := []string{m.title(title, m.focus == onFigures, width)}
	rows -= len(lines)
	switch {
	case m.next == nil:
		return append(lines, term.NewRow(width).Put(term.Plain, "  looking …").String())
	case len(m.figures.Shown) == 0:
		return append(lines, term.NewRow(width).Put(term.Plain, "  no figure by that name").String())
	}
	shown := m.figures.Shown
	if m.figures.Filter.Value() == "" {
		shown = shown[:m.can]
	}
	if len(shown) == 0 {
		return append(lines, term.NewRow(width).Put(term.Plain, "  nothing can: type a name to see why").String())
	}
	first := term.FirstSeen(len(shown), min(m.figures.Chosen, len(shown)-1), rows)
	for i := first; i < min(first+rows, len(shown)); i++ {
		n := &m.next[shown[i]]
		k, mark := term.Plain, "  "
		if i == m.figures.Chosen {
			k, mark = t.Present, "> "
		}
		at := lengthOf(n.Figure, m.draft.Score.Dance)
		switch {
		case n.Why != "":
			at = "not from here"
		case n.Apart != "":
			at = "parts the next · " + at
		}
		lines = append(lines, term.NewRow(width).Put(k, mark+term.Cut(harmless.Line(n.Figure.Name), width-term.Width(at)-3)).Right(t.Faint, at).String())
	}
	return lines
}

// lengthOf says how long a figure is.
func lengthOf(fig *routine.Figure, d *routine.Dance) string {
	length, bar := fig.Length(0, len(fig.Rows)), d.Metre.Bar()
	if bar > 0 && length%bar == 0 {
		return routine.Plural(int(length/bar), "bar")
	}
	return length.InBeats()
}

// offerLines draws what is offered.
func (m *Model) offerLines(width, rows int) []string {
	t := &m.o.Theme
	lines := []string{m.title(m.offers.title, true, width)}
	at := 0
	for i, o := range m.offers.list {
		k, mark := term.Plain, "  "
		if i == m.offers.chosen {
			k, mark, at = t.Present, "> ", len(lines)
		}
		names := make([]string, len(o.Lines))
		for j, l := range o.Lines {
			names[j] = l.String()
		}
		for j, line := range term.Wrap(strings.Join(names, ", then "), width-2) {
			if j > 0 {
				mark = "  "
			}
			lines = append(lines, term.NewRow(width).Put(k, mark+line).String())
		}
		for _, line := range term.Wrap(o.Why, width-4) {
			lines = append(lines, term.NewRow(width).Put(t.Faint, "    "+line).String())
		}
	}
	first := term.FirstSeen(len(lines), at, rows)
	return lines[first:min(first+rows, len(lines))]
}

// figureLines describes the chosen figure: its hold and alignment before and after, its chart and the
// floor after it.
func (m *Model) figureLines(width, rows int) []string {
	n := m.chosen()
	if n == nil || m.offers != nil {
		return nil
	}
	t, fig := &m.o.Theme, n.Figure
	var lines []string
	say := func(k term.Ink, name, text string) {
		for i, part := range term.Wrap(text, width-8) {
			r := term.NewRow(width)
			if i == 0 {
				r.Put(t.Strong, name)
			}
			lines = append(lines, r.To(8).Put(k, part).String())
		}
	}
	level := ""
	if fig.Level > 0 {
		level = fmt.Sprintf(", level %d", fig.Level)
	}
	lines = append(lines, term.NewRow(width).Put(t.Heading, harmless.Line(fig.Name)).Put(term.Plain, " · "+lengthOf(fig, m.draft.Score.Dance)+level).String())
	switch {
	case n.Why != "":
		say(t.Alarm, "not now", n.Why+"; enter shows what leads there")
	case n.Apart != "":
		say(t.Alarm, "then", n.Apart)
	}
	say(term.Plain, "starts", fig.Starts.String())
	say(term.Plain, "after", fig.Ends.String())
	if width >= twoColumns {
		half := width / 2
		return term.Beside(append(lines, m.chartLines(width-half-2, rows-len(lines))...), m.floorLines(half, rows), half, width)
	}
	lines = append(lines, m.chartLines(width, rows-len(lines))...)
	return append(lines, m.floorLines(width, rows-len(lines)-1)...)
}

// chartLines writes the chosen figure's steps, as many as there is room for.
func (m *Model) chartLines(width, rows int) (lines []string) {
	fig := m.chosen().Figure
	count := 2
	for i := range fig.Rows {
		count = max(count, term.Width(fig.Rows[i].Count.String())+1)
	}
	column := (width - count) / 2
	for i := range fig.Rows {
		if len(lines) == rows-1 && i < len(fig.Rows)-1 {
			return append(lines, term.NewRow(width).Put(term.Plain, fmt.Sprintf("… %d counts more", len(fig.Rows)-i)).String())
		}
		row := &fig.Rows[i]
		r := term.NewRow(width).Put(m.o.Theme.Strong, row.Count.String()).To(count)
		for p, step := range row.Steps {
			if row.Written[p] {
				r.Put(m.o.Theme.Partners[p], term.Cut(step.String(), column-1))
			}
			r.To(count + (p+1)*column)
		}
		lines = append(lines, r.String())
	}
	return lines
}

// floorLines draws where the couple is after the chosen figure.
func (m *Model) floorLines(width, rows int) (lines []string) {
	fig := m.chosen().Figure
	if m.path == nil || m.traced != fig || rows < 3 {
		return nil
	}
	for _, cells := range plan.Dots(plan.Scene{Path: m.path, Danced: len(fig.Rows), Shown: [2]bool{true, true}}, width, rows) {
		r := term.NewRow(width)
		dots.Write(r, cells, &m.o.Theme)
		lines = append(lines, r.String())
	}
	return lines
}
