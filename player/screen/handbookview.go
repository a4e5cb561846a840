package screen

import (
	"fmt"
	"strings"

	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
)

// bookKeys are the keys of the handbook, besides those that choose.
type bookKeys struct{ open, dance, left, right, view, back, sheets, help, leave, quit key.Binding }

func newBookKeys() bookKeys {
	return bookKeys{
		open: bind("enter", "open", "enter"), dance: bind("space", "dance it", " "),
		left: bind("←", "the part before", "left"), right: bind("→", "the next part", "right"), view: bind("v", "view", "v"),
		back: bind("esc", "back", "esc"), sheets: bind("tab", "sheets", "tab"), help: bind("?", "help", "?"),
		leave: bind("q", "quit", "q"), quit: bind("ctrl+c", "quit", "ctrl+c"),
	}
}

// helpText is what the help page says of the keys.
func (k *bookKeys) helpText() []key.Binding {
	c := newChooser("").keys
	return []key.Binding{
		named(k.sheets, "tab", "the handbook; the sheets again"), both(c.up, c.down, "↑↓", "choose, or read on"),
		bind("a–z", "find by typing"), named(k.open, "enter", "open"),
		named(k.dance, "space", "dance the figure of the page"), both(k.left, k.right, "←→", "steps, floor, after, before"),
		named(k.view, "v", "view of the floor"), named(k.back, "esc", "a step back"),
	}
}

// line is the keys that matter where h is, the most needed first.
func (h *handbook) line() []key.Binding {
	k, c := &h.keys, &h.dances.keys
	upDown := func(what string) key.Binding { return both(c.up, c.down, "↑↓", what) }
	p := h.page()
	if p == nil {
		return []key.Binding{upDown("choose"), k.open, k.back, k.sheets, k.help, k.quit}
	}
	line := []key.Binding{k.dance, both(k.left, k.right, "←→", "part")}
	switch part := p.shownPart(h.width); {
	case p.neighbours() != nil:
		return append(line, upDown("choose"), k.open, k.back, k.help, k.leave)
	case part == stepsPart:
		line = append(line, upDown("read"))
	}
	if h.floorSeen(p) {
		line = append(line, k.view)
	}
	return append(line, k.back, k.sheets, k.help, k.leave)
}

// floorSeen reports whether a page shows the floor.
func (h *handbook) floorSeen(p *figurePage) bool {
	return p.part == floorPart || p.part == stepsPart && h.width >= widePage
}

// view draws the handbook; sound is what there is to say of it.
func (h *handbook) view(sound string) string {
	switch {
	case h.page() != nil:
		return h.pageView(h.page(), sound)
	case h.chapter != nil:
		return h.figuresView(sound)
	}
	return h.dancesView(sound)
}

// foot is what there is to say, and the keys.
func (h *handbook) foot(sound string) []string {
	return []string{newRow(h.width).put(h.theme.alarm, firstOf(h.message, sound)).String(), helpLine(h.width, h.line())}
}

// The columns of the dances: their metre, tempo, and number of figures.
var danceColumns = [3]int{18, 24, 33}

func (h *handbook) dancesView(sound string) string {
	at := danceColumns
	if h.width >= fullWidth {
		at = [3]int{h.width * 3 / 8, h.width * 4 / 8, h.width * 6 / 8}
	}
	line := func(k ink, name, metre, tempo, figures string) string {
		return newRow(h.width).put(k, cut(clean(name), at[0]-1)).to(at[0]).put(noInk, metre).to(at[1]).put(noInk, tempo).to(at[2]).put(noInk, figures).String()
	}
	head := []string{
		newRow(h.width).put(h.theme.heading, "Handbook").put(noInk, " · choose a dance").String(),
		inputLine(h.width, h.theme, h.dances.filter),
		line(noInk, "", "metre", "bars/min", "figures"),
	}
	lines := listLines(&h.dances, nil, func(item int, k ink, mark string) string {
		c := &h.chapters[item]
		return line(k, mark+c.Dance.Name, c.Dance.Metre.String(), usualText(c.Dance), fmt.Sprint(len(c.Figures)))
	}, h.theme)
	name := ""
	if i := h.dances.item(); i >= 0 {
		name = h.chapters[i].Dance.Name
	}
	return h.listed(head, lines, append(h.bigCard(name), h.foot(sound)...), h.nothing(&h.dances, "no dance is called so"))
}

// usualText is a dance's usual tempo, in bars a minute.
func usualText(d *routine.Dance) string {
	if d.Usual == (routine.TempoRange{}) {
		return ""
	}
	return strings.TrimSuffix(d.RangeText(d.Usual), " bars/min")
}

// nothing says why a list is empty.
func (h *handbook) nothing(c *chooser, unfound string) string {
	switch {
	case !h.read:
		return "reading …"
	case len(c.texts) == 0:
		return "there is nothing here"
	}
	return unfound
}

// bookLine is a line of a list: of an item, or, with item -1, the heading of
// the group that follows.
type bookLine struct {
	text   string
	item   int
	group  string // that it belongs to
	chosen bool
}

// listLines draws the items that are shown, with a heading before those of each
// group; group is nil if there are none.
func listLines(c *chooser, group func(item int) string, draw func(item int, k ink, mark string) string, t Theme) (lines []bookLine) {
	for i, item := range c.shown {
		l := bookLine{item: item, chosen: i == c.chosen}
		k, mark := noInk, "  "
		if l.chosen {
			k, mark = t.present, "> "
		}
		l.text = draw(item, k, mark)
		if group != nil {
			l.group = group(item)
			if len(lines) == 0 || lines[len(lines)-1].group != l.group {
				lines = append(lines, bookLine{item: -1, group: l.group})
			}
		}
		lines = append(lines, l)
	}
	return lines
}

// seenLines are the lines of a list that are seen in rows: around the one that is
// chosen, and never without the heading of the group that is seen first.
func (h *handbook) seenLines(lines []bookLine, rows int) []string {
	chosen := 0
	for i := range lines {
		if lines[i].chosen {
			chosen = i
		}
	}
	first := firstSeen(len(lines), chosen, rows)
	var texts []string
	for i := first; i < min(first+rows, len(lines)); i++ {
		l := &lines[i]
		if l.item < 0 || i == first && l.group != "" && !l.chosen {
			texts = append(texts, newRow(h.width).put(h.theme.heading, l.group).String())
			continue
		}
		texts = append(texts, l.text)
	}
	return texts
}

// listed puts a list between its head and its foot; the list matters most.
func (h *handbook) listed(head []string, lines []bookLine, foot []string, nothing string) string {
	rows := h.height - len(head) - len(foot)
	if rows < 1 {
		head, foot, rows = nil, nil, h.height
	}
	body := h.seenLines(lines, rows)
	if len(lines) == 0 {
		body = []string{newRow(h.width).put(noInk, "  "+nothing).String()}
	}
	return join(h.height, head, body, foot)
}

// The least windows in which the figure that is chosen is named in large
// letters below its list, and above its page; and how many lines those may take.
const (
	bigListHeight = 36
	bigPageHeight = 24
	leastBig      = 5
	mostBig       = 9
)

func (h *handbook) figuresView(sound string) string {
	d := h.chapter.Dance
	facts := d.Metre.String()
	if usual := usualText(d); usual != "" {
		facts += " · " + usual + " bars/min"
	}
	facts += " · " + routine.Plural(len(h.chapter.Figures), "figure")
	head := []string{
		newRow(h.width).put(h.theme.heading, d.Name).put(noInk, " · "+facts).String(),
		inputLine(h.width, h.theme, h.figures.filter),
	}
	starts, ends := h.width, h.width
	if h.width >= fullWidth {
		starts, ends = h.width*33/80, h.width*59/80
		head = append(head, newRow(h.width).to(starts).put(noInk, "starts").to(ends).put(noInk, "ends").String())
	}
	group := func(item int) string {
		level := levelText(h.chapter.Figures[item])
		return strings.ToUpper(level[:1]) + level[1:]
	}
	lines := listLines(&h.figures, group, func(item int, k ink, mark string) string {
		fig := h.chapter.Figures[item]
		return newRow(h.width).put(k, cut(clean(mark+fig.Name), starts-1)).to(starts).put(noInk, cut(positionsText(fig.Starts), ends-starts-1)).
			to(ends).put(noInk, positionsText(fig.Ends)).String()
	}, h.theme)
	return h.listed(head, lines, append(h.chosenFigure(), h.foot(sound)...), h.nothing(&h.figures, "no figure is called so"))
}

// positionsText is how partners stand to each other where a figure starts or ends.
func positionsText(s routine.Stance) string {
	if s.Positions == 0 && s.AsStarted {
		return "as started"
	}
	return s.Positions.String()
}

// stanceText is all that is known of it.
func stanceText(s routine.Stance) string { return firstOf(s.String(), "not said") }

// chosenFigure tells of the figure that is chosen, below its list.
func (h *handbook) chosenFigure() []string {
	i := h.figures.item()
	if i < 0 {
		return append(h.bigCard(""), "", "")
	}
	fig := h.chapter.Figures[i]
	return append(h.bigCard(fig.Name),
		newRow(h.width).put(h.theme.strong, "starts ").put(noInk, stanceText(fig.Starts)).String(),
		newRow(h.width).put(h.theme.strong, "ends   ").put(noInk, stanceText(fig.Ends)).String())
}

// bigCard is what is chosen in large letters, on always as many lines: none in a
// low window.
func (h *handbook) bigCard(name string) []string {
	if h.height < bigListHeight {
		return nil
	}
	lines := h.bigName(name, mostBig)
	return append(make([]string, mostBig-len(lines)), lines...)
}

// bigName is a name in letters of at most some lines, or, where there is no room
// for them, in small ones.
func (h *handbook) bigName(name string, most int) []string {
	name = clean(name)
	if letters := []rune(name); len(letters) > 0 && drawable(name) {
		if size := letteringFor([]string{name}, len(letters), h.width, most); size.readable() {
			lines := size.draw(name)
			for i, line := range lines {
				lines[i] = newRow(h.width).put(h.theme.strong, line).String()
			}
			return lines
		}
	}
	return []string{newRow(h.width).put(h.theme.heading, name).String()}
}

// widePage is the least width in which the floor is drawn beside the steps.
const widePage = 100

// pageWidths is how many columns the steps get, and the floor beside them: 0 if
// there is no room for it.
func (h *handbook) pageWidths() (steps, floor int) {
	if h.width < widePage {
		return h.width, 0
	}
	floor = max(h.width*2/5, 44)
	return h.width - floor - 2, floor
}

func (h *handbook) pageView(p *figurePage, sound string) string {
	head, foot := h.pageHead(p), h.foot(sound)
	rows := h.height - len(head) - len(foot)
	if rows < 1 {
		head, foot, rows = nil, nil, h.height
	}
	var body []string
	switch part := p.shownPart(h.width); {
	case part == stepsPart:
		body = h.stepsAndFloor(p, rows)
	case !p.told:
		body = []string{newRow(h.width).put(noInk, "  reading …").String()}
	case part == floorPart:
		for _, write := range h.floorLines(p, h.width, rows) {
			r := newRow(h.width)
			write(r)
			body = append(body, r.String())
		}
	default:
		body = h.besideLines(p, rows)
	}
	return join(h.height, head, body, foot)
}

// pageHead names the figure, and the parts of its page.
func (h *handbook) pageHead(p *figurePage) []string {
	name, facts := p.figure.Name, p.chapter.Dance.Name+" · "+levelText(p.figure)
	if h.height >= bigPageHeight {
		if lines := h.bigName(name, max(leastBig, min(h.height/5, mostBig))); len(lines) > 1 {
			return append(lines, h.partsLine(p).right(noInk, facts).String())
		}
	}
	return []string{newRow(h.width).put(h.theme.heading, name).right(noInk, facts).String(), h.partsLine(p).String()}
}

// partsLine names the parts of a page, the one that is seen in brackets.
func (h *handbook) partsLine(p *figurePage) *row {
	r := newRow(h.width)
	for part := range parts {
		if part == floorPart && h.width >= widePage {
			continue
		}
		text := [...]string{"steps", "floor", "after", "before"}[part]
		if p.told && part >= afterPart {
			text += fmt.Sprintf(" (%d)", len(p.beside[beforePart-part].list))
		}
		if part == p.shownPart(h.width) {
			r.put(h.theme.present, "["+text+"]")
		} else {
			r.put(noInk, " "+text+" ")
		}
	}
	return r
}

// stepsAndFloor is the steps, and the floor where there is room beside them.
func (h *handbook) stepsAndFloor(p *figurePage, rows int) []string {
	steps := h.stepLines(p)
	top := max(0, min(p.top, len(steps)-rows))
	steps = steps[top:min(top+rows, len(steps))]
	left, right := h.pageWidths()
	if right == 0 || !p.told {
		return drawn(h.width, steps)
	}
	floor := h.floorLines(p, right, rows)
	lines := make([]string, max(len(steps), len(floor)))
	for i := range lines {
		r := newRow(h.width)
		if i < len(steps) {
			steps[i](r)
		}
		r.to(left + 2)
		if i < len(floor) {
			floor[i](r)
		}
		lines[i] = r.String()
	}
	return lines
}

// writing writes a part of a line.
type writing func(*row)

func drawn(width int, writings []writing) []string {
	lines := make([]string, len(writings))
	for i, write := range writings {
		r := newRow(width)
		write(r)
		lines[i] = r.String()
	}
	return lines
}

// stepLines are how a figure starts, its chart, how it ends, and what else is
// known of it.
func (h *handbook) stepLines(p *figurePage) []writing {
	width, _ := h.pageWidths()
	fig, t := p.figure, &h.theme
	var lines []writing
	say := func(name, text string) {
		const indent = 8
		for i, part := range wrap(text, width-indent) {
			lines = append(lines, func(r *row) {
				if i == 0 {
					r.put(t.strong, name)
				}
				r.to(indent).put(noInk, part)
			})
		}
	}
	blank := func() { lines = append(lines, func(*row) {}) }
	say("starts", stanceText(fig.Starts))
	blank()
	lines = append(lines, h.chartLines(fig, width)...)
	blank()
	say("ends", stanceText(fig.Ends))
	if p.told {
		say("floor", p.path.Summary())
	}
	if len(fig.Aliases) > 0 {
		say("also", strings.Join(fig.Aliases, ", "))
	}
	if fig.Source != "" {
		say("source", fig.Source)
	}
	return lines
}

// chartLines are a figure's chart: the count, and both partners' steps beside
// each other.
func (h *handbook) chartLines(fig *routine.Figure, width int) []writing {
	count := 6
	for i := range fig.Rows {
		count = max(count, textWidth(fig.Rows[i].Count.String())+2)
	}
	column := max((width-count)/2, 1)
	at := [2]int{count, count + column}
	lines := []writing{func(r *row) {
		r.put(noInk, "count")
		for _, p := range routine.Partners() {
			r.to(at[p]).put(h.theme.partners[p], cut(p.String(), column-2))
		}
	}}
	for i := range fig.Rows {
		step := &fig.Rows[i]
		var cells [2][]string
		for _, p := range routine.Partners() {
			if step.Written[p] {
				cells[p] = wrap(stepText(&step.Steps[p]), column-2)
			}
		}
		for k := range max(len(cells[0]), len(cells[1]), 1) {
			lines = append(lines, func(r *row) {
				if k == 0 {
					r.put(h.theme.strong, step.Count.String())
				}
				for _, p := range routine.Partners() {
					if k < len(cells[p]) {
						r.to(at[p]).put(noInk, cells[p][k])
					}
				}
			})
		}
	}
	return lines
}

// floorLines are where the couple is after the last step, in so many columns
// and lines, and where it came from.
func (h *handbook) floorLines(p *figurePage, width, rows int) []writing {
	s := plan.Scene{Path: p.path, Danced: len(p.figure.Rows), Shown: [2]bool{true, true}, View: p.view}
	lines := []writing{func(r *row) { r.put(h.theme.heading, p.view.Of(s.Shown)).put(noInk, " (v), after the last step") }}
	inks := planInks(&h.theme)
	room := rows - 1
	if rows > floorLines {
		room--
	}
	for _, cells := range plan.Dots(s, width, room) {
		lines = append(lines, func(r *row) { writeCells(r, cells, inks[:]) })
	}
	if room < rows-1 {
		lines = append(lines, func(r *row) { r.put(noInk, plan.Legend) })
	}
	return lines
}

func turnText(t routine.Turn) string { return "turn " + t.String() }

// besideLines are the figures that can be danced before or after.
func (h *handbook) besideLines(p *figurePage, rows int) []string {
	near, words := p.neighbours(), "after it"
	if p.part == beforePart {
		words = "before it"
	}
	group := func(item int) string {
		if near.list[item].Turn != 0 {
			return "If the couple turns between the two"
		}
		return "Can be danced " + words
	}
	stance, turn := h.width, h.width-textWidth(turnText(-1))
	if h.width >= fullWidth {
		stance, turn = h.width*36/80+textWidth(turnText(-1))+2, h.width*36/80
	}
	lines := listLines(&near.chooser, group, func(item int, k ink, mark string) string {
		b := &near.list[item]
		r := newRow(h.width).put(k, cut(clean(mark+b.Figure.Name), turn-1)).to(turn)
		if b.Turn != 0 {
			r.put(noInk, turnText(b.Turn))
		} else if h.width >= fullWidth {
			r.put(noInk, levelText(b.Figure))
		}
		if p.part == beforePart {
			return r.to(stance).put(noInk, "starts "+positionsText(b.Figure.Starts)).String()
		}
		return r.to(stance).put(noInk, "ends "+positionsText(b.Figure.Ends)).String()
	}, h.theme)
	if len(lines) == 0 {
		return []string{newRow(h.width).put(noInk, "  nothing in the handbook can be danced "+words).String()}
	}
	return h.seenLines(lines, rows)
}
