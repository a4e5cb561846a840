package making

import (
	"fmt"
	"strings"

	"dance.example/slowquick/player/draft"
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
	leastOrder   = 4 // above the keys for its marked line
	troubleRows  = 2
	roomy        = 45 // columns of an order that names phrases and bars
)

// View draws the screen; sound, which may be "", is what there is to say of the sound.
func (m *Model) View(sound string) string { return picture{m}.draw(sound) }

// picture draws a screen, which it only reads.
type picture struct{ *Model }

func (m picture) draw(sound string) string {
	head := m.head()
	foot := append(m.trouble(), m.news.Line(m.width, m.o.Theme, sound), term.HelpLine(m.width, m.ShownKeys()))
	rows := m.height - len(head) - len(foot)
	if rows < 1 {
		return term.Join(m.height, nil, m.orderLines(m.width, m.height), nil)
	}
	return term.Join(m.height, head, m.body(rows), foot)
}

// body draws the lists and the chosen figure: as much as there is room for.
func (m picture) body(rows int) []string {
	w := m.width
	switch {
	case m.writing != nil:
		return m.writing.lines(w, rows, &m.o.Theme)
	case w >= threeColumns:
		third := (w - 2*gap) / 3
		lists := columns(m.orderColumn(third, rows), m.listLines(third, rows), third)
		return columns(lists, m.pictures(w-2*(third+gap), rows), 2*third+gap)
	case w >= twoColumns:
		half, lists := (w-gap)/2, rows
		below := m.offers == nil && (m.focus == onOrder || m.figures.chosen() != nil)
		if below && rows-figureRows >= leastList {
			lists = rows - figureRows
		}
		if lists == rows {
			return columns(m.orderColumn(half, lists), m.listLines(w-half-gap, lists), half)
		}
		body := pad(columns(m.orderLines(half, lists), m.listLines(w-half-gap, lists), half), lists)
		if m.focus == onOrder {
			return append(body, m.marked(w, figureRows)...)
		}
		return append(body, m.figureLines(w, figureRows)...)
	case m.focus == onOrder && m.offers == nil:
		return m.orderColumn(w, rows)
	}
	return m.listLines(w, rows)
}

// orderColumn draws the order and, while the keys are for it, those for its marked line below it.
func (m picture) orderColumn(width, rows int) []string {
	below := fewRows
	if rows-markedRows >= 2*leastList {
		below = markedRows
	}
	if m.focus != onOrder || m.offers != nil || rows-below < leastOrder {
		return m.orderLines(width, rows)
	}
	return append(pad(m.orderLines(width, rows-below), rows-below), m.marked(width, below)...)
}

// marked draws the keys for the marked line.
func (m picture) marked(width, rows int) []string {
	return markedLines(&m.draft, &m.keyboard, &m.o.Theme, width, rows)
}

// pictures draws the chosen figure and, if the dance travels, the way through the hall below it.
func (m picture) pictures(width, rows int) []string {
	passage := 0
	if m.draft.Line >= 0 {
		passage = m.draft.Passage(m.draft.Line)
	}
	if !m.draft.Score.Dance.Travels || len(m.draft.Score.Passages) == 0 || passage < 0 {
		return m.figureLines(width, rows)
	}
	lines := pad(m.figureLines(width, rows/2), rows/2)
	lines = append(lines, m.title("The way so far", false, width))
	at := &m.draft.Score.Passages[passage]
	scene := plan.Scene{Path: m.way, Passage: passage, Danced: at.To - at.From, Shown: [2]bool{true, true}, View: plan.Above}
	return append(lines, m.dots(scene, width, rows-len(lines))...)
}

// dots draws a scene.
func (m picture) dots(s plan.Scene, width, rows int) (lines []string) {
	for _, cells := range plan.Dots(s, width, rows) {
		r := term.NewRow(width)
		dots.Write(r, cells, &m.o.Theme)
		lines = append(lines, r.String())
	}
	return lines
}

// gap is how many columns are left between two blocks.
const gap = 2

// columns returns two blocks of lines beside each other, the left one so wide.
func columns(left, right []string, wide int) []string {
	lines := make([]string, max(len(left), len(right)))
	copy(lines, left)
	for i, line := range right {
		lines[i] += strings.Repeat(" ", max(wide+gap-term.Width(lines[i]), 0)) + line
	}
	return lines
}

// pad adds empty lines up to a number of lines.
func pad(lines []string, rows int) []string {
	for len(lines) < rows {
		lines = append(lines, "")
	}
	return lines[:rows]
}

// head names the routine, says how long it is, and shows what is typed.
func (m picture) head() []string {
	d, t := &m.draft, &m.o.Theme
	state := ""
	if !d.Saved() {
		state = " · not saved"
	}
	first := term.NewRow(m.width).Put(t.Heading, harmless.Line(d.Title())).Put(term.Plain, " · "+d.Score.Dance.Name+state).Right(term.Plain, d.Length())
	second := term.NewRow(m.width).String()
	switch {
	case m.asks != nil:
		second = term.InputLine(m.width, *t, m.asks.input)
	case m.writing != nil:
		second = m.writing.heading(m.width, t)
	case m.first != nil:
		second = term.NewRow(m.width).Put(t.Strong, gathering(gathered(*m.first, m.draft.Line))).String()
	case m.leaving:
		second = term.NewRow(m.width).Put(t.Strong, "This isn't saved yet").String()
	case m.focus == onFigures && m.offers == nil:
		second = m.find()
	}
	return []string{first.String(), second, ""}
}

// find shows what is typed to find a figure and, until something is, the kind of figures that are listed.
func (m picture) find() string {
	t, kind := &m.o.Theme, "←→ "+m.figures.kinds()[m.figures.kind].name
	if m.figures.Filter.Value() != "" {
		return term.InputLine(m.width, *t, m.figures.Filter)
	}
	room := m.width - term.Width(kind) - gap
	return columns([]string{term.InputLine(room, *t, m.figures.Filter)}, []string{term.NewRow(m.width).Put(t.Faint, kind).String()}, room)[0]
}

// trouble says in two lines what is wrong with the marked line, or else with the first that is wrong.
func (m picture) trouble() []string {
	if m.writing != nil {
		return m.writing.trouble(m.width, &m.o.Theme)
	}
	if m.draft.Order.Len() == 0 {
		return nil
	}
	lines, elsewhere := m.draft.Objections()
	var found *routine.Finding
	where := ""
	first := func(list []routine.Finding, at string) {
		if found == nil && len(list) > 0 {
			found, where = &list[0], at
		}
	}
	if m.draft.Line >= 0 {
		first(lines[m.draft.Line], "")
	}
	for i := range lines {
		first(lines[i], fmt.Sprintf("line %d: ", i+1))
	}
	first(elsewhere, "")
	if found == nil {
		return nil
	}
	said := term.Wrap(where+found.Message, m.width)
	if found.Hint != "" {
		if with := term.Wrap(where+found.Message+". "+found.Hint, m.width); len(with) <= troubleRows {
			said = with
		}
	}
	if len(said) > troubleRows {
		said = append(said[:troubleRows-1], strings.Join(said[troubleRows-1:], " ")) // cut, and marked so
	}
	var out []string
	for _, line := range said {
		out = append(out, term.NewRow(m.width).Put(m.o.Theme.Alarm, line).String())
	}
	return out
}

// orderLines draws the order in so many columns and lines.
func (m picture) orderLines(width, rows int) []string {
	t := &m.o.Theme
	order := m.draft.Order
	found, _ := m.draft.Objections()
	lines := []string{m.title("The order", m.focus == onOrder && m.offers == nil, width)}
	if rows < 3 {
		lines = nil
	}
	rows -= len(lines)
	shown, marked := orderRows(order, m.draft.Line)
	first := term.FirstSeen(len(shown), marked, rows)
	for _, at := range shown[first:min(first+rows, len(shown))] {
		if at.heading != "" {
			lines = append(lines, term.NewRow(width).Put(t.Strong, at.heading).String())
			continue
		}
		i := at.line
		k, mark := term.Plain, "  "
		if i == m.draft.Line {
			k, mark = m.chosenInk(m.focus == onOrder && m.offers == nil), "> "
		} else if m.first != nil {
			if from, to := gathered(*m.first, m.draft.Line); from <= i && i < to {
				k, mark = t.Strong, "| "
			}
		}
		r := term.NewRow(width)
		if i < 0 {
			lines = append(lines, r.Put(k, mark+"the start").String())
			continue
		}
		at := m.place(i, width)
		if order.Setting(i, "corner") != "" {
			at = "corner · " + at
		}
		name := fmt.Sprintf("%s%d %s", mark, i+1, harmless.Line(order.Line(i).String()))
		if len(found[i]) > 0 {
			name = fmt.Sprintf("%s! %s", mark, strings.TrimPrefix(name, mark))
			if i != m.draft.Line {
				k = t.Alarm
			}
		}
		lines = append(lines, r.Put(k, term.Cut(name, width-term.Width(at)-1)).Right(term.Plain, at).String())
	}
	return lines
}

// orderRow is a row of the order on the screen: a line of it, or the heading of one of its parts.
type orderRow struct {
	line    int // -1 is the start
	heading string
}

// orderRows returns the rows of an order, and which of them is that of a line.
func orderRows(order *routine.OrderText, line int) (rows []orderRow, at int) {
	rows = []orderRow{{line: -1}}
	for i := range order.Len() {
		if name, first := order.Part(i); first && name != "" {
			rows = append(rows, orderRow{heading: name})
		}
		if i == line {
			at = len(rows)
		}
		rows = append(rows, orderRow{line: i})
	}
	return rows, at
}

// chosenInk returns the ink of what is chosen in a list; the one that the keys are for stands out.
func (m picture) chosenInk(present bool) term.Ink {
	if present {
		return m.o.Theme.Present
	}
	return m.o.Theme.Strong
}

// title heads a list; the one that the keys are for stands out.
func (m picture) title(text string, present bool, width int) string {
	k := m.o.Theme.Faint
	if present {
		k = m.o.Theme.Heading
	}
	return term.NewRow(width).Put(k, text).String()
}

// place says in which bar a line begins, and which phrase begins with it.
func (m picture) place(line, width int) string {
	bar, phrase := m.draft.Bar(line), m.draft.Score.Dance.PhraseBars
	switch {
	case bar == 0:
		return ""
	case phrase == 0 || (bar-1)%phrase != 0:
		return fmt.Sprintf("bar %d", bar)
	case width < roomy:
		return fmt.Sprintf("phrase %d", (bar-1)/phrase+1)
	}
	return fmt.Sprintf("phrase %d · bar %d", (bar-1)/phrase+1, bar)
}

// listLines draws what can be put in.
func (m picture) listLines(width, rows int) []string {
	if m.offers != nil {
		return m.offerLines(width, rows)
	}
	t := &m.o.Theme
	title := "How it begins"
	if m.draft.Line >= 0 {
		title = "What can follow " + harmless.Line(m.draft.Order.Line(m.draft.Line).Name)
	}
	if kind := m.figures.kinds()[m.figures.kind]; m.figures.kind > 0 {
		title += " · " + kind.name
	}
	lines := []string{m.title(title, m.focus == onFigures, width)}
	rows -= len(lines)
	shown := m.figures.seen()
	switch {
	case len(m.figures.Shown) == 0:
		return append(lines, term.NewRow(width).Put(term.Plain, "  no figure by that name").String())
	case len(shown) == 0:
		return append(lines, term.NewRow(width).Put(term.Plain, "  nothing can: type a name to see why").String())
	}
	first := term.FirstSeen(len(shown), m.figures.Chosen, rows)
	for i := first; i < min(first+rows, len(shown)); i++ {
		n := &m.figures.list[shown[i]]
		k, mark := term.Plain, "  "
		if i == m.figures.Chosen {
			k, mark = m.chosenInk(m.focus == onFigures), "> "
		}
		name := n.Line().String()
		if n.Named != "" {
			name = n.Named + " (" + name + ")"
		}
		at := m.note(n, width-term.Width(name)-4)
		lines = append(lines, term.NewRow(width).Put(k, mark+term.Cut(harmless.Line(name), width-term.Width(at)-4)).Right(t.Faint, at).String())
	}
	return lines
}

// note says what matters of a figure in the list: as much as fits into so many columns, or the least.
func (m picture) note(n *draft.Next, room int) string {
	long := " · " + draft.InBars(n.Length(), m.draft.Score.Dance)
	said := ""
	switch {
	case n.Why != "":
		return "not from here"
	case n.Apart != "":
		said = "parts the next"
	case n.Mixes != "":
		said = "mixes · " + n.Family.String()
	case n.Family != m.draft.Score.Dance.Family && n.Family != routine.AnyFamily:
		if said = n.Family.String() + long; term.Width(said) <= room {
			return said
		}
		fallthrough
	default:
		return strings.TrimPrefix(long, " · ")
	}
	if term.Width(said+long) <= room {
		said += long
	}
	return said
}

// offerLines draws what is offered.
func (m picture) offerLines(width, rows int) []string {
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
func (m picture) figureLines(width, rows int) []string {
	n := m.figures.chosen()
	if n == nil || m.offers != nil {
		return nil
	}
	t, fig := &m.o.Theme, n.Figure
	whole, beside := width, width >= twoColumns
	if beside {
		width = (width - gap) / 2
	}
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
	if fig.Level > 0 && n.Part == "" {
		level = fmt.Sprintf(", level %d", fig.Level)
	}
	lines = append(lines, term.NewRow(width).Put(t.Heading, harmless.Line(n.Name())).Put(term.Plain, " · "+draft.InBars(n.Length(), m.draft.Score.Dance)+level).String())
	switch {
	case n.Why != "":
		say(t.Alarm, "not now", n.Why+"; enter shows what leads there")
	case n.Apart != "":
		say(t.Alarm, "then", n.Apart)
	case n.Mixes != "":
		say(t.Alarm, "mixes", n.Mixes)
	}
	if n.Part != "" {
		return append(lines, m.partLines(n.Part, whole, rows-len(lines))...)
	}
	say(term.Plain, "starts", fig.Starts.String())
	say(term.Plain, "after", fig.Ends.String())
	if beside {
		return columns(append(lines, m.chartLines(n, width, rows-len(lines))...), m.floorLines(whole-width-gap, rows), width)
	}
	lines = append(lines, m.chartLines(n, width, (rows-len(lines))/2)...)
	return append(lines, m.floorLines(width, rows-len(lines))...)
}

// partLines writes the lines of a part of the order, as many as there is room for.
func (m picture) partLines(name string, width, rows int) (lines []string) {
	order := m.draft.Order
	for i := range order.Len() {
		if in, _ := order.Part(i); in == name && len(lines) < rows {
			lines = append(lines, term.NewRow(width).Put(term.Plain, "  "+harmless.Line(order.Line(i).String())).String())
		}
	}
	return lines
}

// chartLines writes the chosen figure's steps, as many as there is room for.
func (m picture) chartLines(n *draft.Next, width, rows int) (lines []string) {
	chart := n.Figure.Rows[n.From:n.To]
	count := 2
	for i := range chart {
		count = max(count, term.Width(chart[i].Count.String())+1)
	}
	column := (width - count) / 2
	for i := range chart {
		if len(lines) == rows-1 && i < len(chart)-1 {
			return append(lines, term.NewRow(width).Put(term.Plain, fmt.Sprintf("… and %d more", len(chart)-i)).String())
		}
		row := &chart[i]
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
func (m picture) floorLines(width, rows int) []string {
	n := m.figures.chosen()
	if m.figures.path == nil || rows < 3 {
		return nil
	}
	return m.dots(plan.Scene{Path: m.figures.path, Danced: n.To, Shown: [2]bool{true, true}}, width, rows)
}
