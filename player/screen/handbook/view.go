package handbook

import (
	"cmp"
	"fmt"
	"strings"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/screen/dots"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
)

// View draws the handbook; sound, which may be "", is what there is to say of the sound.
func (h *Browser) View(sound string) string {
	switch {
	case h.page() != nil:
		return h.pageView(h.page(), sound)
	case h.chapter != nil:
		return h.figuresView(sound)
	}
	return h.dancesView(sound)
}

// foot returns what there is to say, and the keys.
func (h *Browser) foot(sound string) []string {
	return []string{h.News.Line(h.width, h.theme, sound), term.HelpLine(h.width, h.ShownKeys())}
}

// danceColumns are where the metre, tempo and number of figures of a dance begin.
var danceColumns = [3]int{18, 24, 33}

func (h *Browser) dancesView(sound string) string {
	at := danceColumns
	if h.width >= fullWidth {
		at = [3]int{h.width * 3 / 8, h.width * 4 / 8, h.width * 6 / 8}
	}
	line := func(k term.Ink, name, metre, tempo, figures string) string {
		return term.NewRow(h.width).Put(k, term.Cut(harmless.Line(name), at[0]-1)).To(at[0]).Put(term.Plain, metre).To(at[1]).Put(term.Plain, tempo).To(at[2]).Put(term.Plain, figures).String()
	}
	head := []string{
		term.NewRow(h.width).Put(h.theme.Heading, "Handbook").Put(term.Plain, " · choose a dance").String(),
		term.InputLine(h.width, h.theme, h.dances.Filter),
		line(term.Plain, "", "metre", "bars/min", "figures"),
	}
	lines := listLines(&h.dances, nil, func(item int, k term.Ink, mark string) string {
		c := &h.chapters[item]
		return line(k, mark+c.Dance.Name, c.Dance.Metre.String(), usualText(c.Dance), fmt.Sprint(len(c.Figures)))
	}, h.theme)
	name := ""
	if i := h.dances.Item(); i >= 0 {
		name = h.chapters[i].Dance.Name
	}
	return h.listed(head, lines, append(h.bigCard(name), h.foot(sound)...), h.nothing(&h.dances, "no dance by that name"))
}

// usualText writes a dance's usual tempo in bars a minute.
func usualText(d *routine.Dance) string {
	if d.Usual == (routine.TempoRange{}) {
		return ""
	}
	return strings.TrimSuffix(d.RangeText(d.Usual), " bars/min")
}

// nothing says why a list is empty.
func (h *Browser) nothing(c *term.Chooser, unfound string) string {
	switch {
	case !h.read:
		return "reading …"
	case c.Empty():
		return "there is nothing here"
	}
	return unfound
}

// listed puts a list between its head and its foot; the list matters most.
func (h *Browser) listed(head []string, lines []listLine, foot []string, nothing string) string {
	rows := h.height - len(head) - len(foot)
	if rows < 1 {
		head, foot, rows = nil, nil, h.height
	}
	body := seenLines(lines, h.width, rows, h.theme)
	if len(lines) == 0 {
		body = []string{term.NewRow(h.width).Put(term.Plain, "  "+nothing).String()}
	}
	return term.Join(h.height, head, body, foot)
}

// The least windows in which the figure that is chosen is named in large
// letters below its list, and above its page; and how many lines those may take.
const (
	bigListHeight = 36
	bigPageHeight = 24
	leastBig      = 5
	mostBig       = 9
)

func (h *Browser) figuresView(sound string) string {
	d := h.chapter.Dance
	facts := d.Metre.String()
	if usual := usualText(d); usual != "" {
		facts += " · " + usual + " bars/min"
	}
	facts += " · " + routine.Plural(len(h.chapter.Figures), "figure")
	head := []string{
		term.NewRow(h.width).Put(h.theme.Heading, d.Name).Put(term.Plain, " · "+facts).String(),
		term.InputLine(h.width, h.theme, h.figures.Filter),
	}
	starts, ends := h.width, h.width
	if h.width >= fullWidth {
		starts, ends = h.width*33/80, h.width*59/80
		head = append(head, term.NewRow(h.width).To(starts).Put(term.Plain, "starts").To(ends).Put(term.Plain, "ends").String())
	}
	group := func(item int) string {
		level := levelText(h.chapter.Figures[item])
		return strings.ToUpper(level[:1]) + level[1:]
	}
	lines := listLines(&h.figures, group, func(item int, k term.Ink, mark string) string {
		fig := h.chapter.Figures[item]
		return term.NewRow(h.width).Put(k, term.Cut(harmless.Line(mark+fig.Name), starts-1)).To(starts).Put(term.Plain, term.Cut(positionsText(fig.Starts), ends-starts-1)).
			To(ends).Put(term.Plain, positionsText(fig.Ends)).String()
	}, h.theme)
	return h.listed(head, lines, append(h.chosenFigure(), h.foot(sound)...), h.nothing(&h.figures, "no figure by that name"))
}

// positionsText says how partners stand to each other where a figure starts or ends.
func positionsText(s routine.Stance) string {
	if s.Positions == 0 && s.AsStarted {
		return "as started"
	}
	return s.Positions.String()
}

// stanceText says all that is known of how they stand.
func stanceText(s routine.Stance) string { return cmp.Or(s.String(), "not said") }

// chosenFigure describes the figure that is chosen, below its list.
func (h *Browser) chosenFigure() []string {
	i := h.figures.Item()
	if i < 0 {
		return append(h.bigCard(""), "", "")
	}
	fig := h.chapter.Figures[i]
	return append(h.bigCard(fig.Name),
		term.NewRow(h.width).Put(h.theme.Strong, "starts ").Put(term.Plain, stanceText(fig.Starts)).String(),
		term.NewRow(h.width).Put(h.theme.Strong, "ends   ").Put(term.Plain, stanceText(fig.Ends)).String())
}

// bigCard writes the name of what is chosen in large letters. It always takes the
// same number of lines: none in a low window.
func (h *Browser) bigCard(name string) []string {
	if h.height < bigListHeight {
		return nil
	}
	lines := bigName(name, h.width, mostBig, h.theme)
	return append(make([]string, mostBig-len(lines)), lines...)
}

// bigName writes a name in large letters of at most that many lines or, where
// there is no room for them, in small ones.
func bigName(name string, width, most int, t term.Theme) []string {
	name = harmless.Line(name)
	if letters := []rune(name); len(letters) > 0 && term.Drawable(name) {
		if size := term.LetteringFor([]string{name}, len(letters), width, most); size.Readable() {
			lines := size.Draw(name)
			for i, line := range lines {
				lines[i] = term.NewRow(width).Put(t.Strong, line).String()
			}
			return lines
		}
	}
	return []string{term.NewRow(width).Put(t.Heading, name).String()}
}

// pageWidths returns how many columns the steps get, and the floor beside them; 0
// if there is no room for it.
func (h *Browser) pageWidths() (steps, floor int) {
	if h.width < widePage {
		return h.width, 0
	}
	floor = max(h.width*2/5, 44)
	return h.width - floor - 2, floor
}

func (h *Browser) pageView(p *figurePage, sound string) string {
	head, foot := h.pageHead(p), h.foot(sound)
	rows := h.height - len(head) - len(foot)
	if rows < 1 {
		head, foot, rows = nil, nil, h.height
	}
	var body []string
	switch part := p.shownPart(h.width); {
	case part == stepsPart:
		body = h.stepsAndFloor(p, rows)
	case !p.read:
		body = []string{term.NewRow(h.width).Put(term.Plain, "  reading …").String()}
	case part == floorPart:
		for _, write := range h.floorLines(p, h.width, rows) {
			r := term.NewRow(h.width)
			write(r)
			body = append(body, r.String())
		}
	default:
		body = h.besideLines(p, rows)
	}
	return term.Join(h.height, head, body, foot)
}

// pageHead names the figure, and the parts of its page.
func (h *Browser) pageHead(p *figurePage) []string {
	name, facts := p.figure.Name, p.chapter.Dance.Name+" · "+levelText(p.figure)
	if h.height >= bigPageHeight {
		if lines := bigName(name, h.width, max(leastBig, min(h.height/5, mostBig)), h.theme); len(lines) > 1 {
			return append(lines, h.partsLine(p).Right(term.Plain, facts).String())
		}
	}
	return []string{term.NewRow(h.width).Put(h.theme.Heading, name).Right(term.Plain, facts).String(), h.partsLine(p).String()}
}

// partsLine names the parts of a page, with the one that is seen in brackets.
func (h *Browser) partsLine(p *figurePage) *term.Row {
	r := term.NewRow(h.width)
	for part := range parts {
		if part == floorPart && h.width >= widePage {
			continue
		}
		text := [...]string{"steps", "floor", "after", "before"}[part]
		if p.read && part >= afterPart {
			text += fmt.Sprintf(" (%d)", len(p.beside[beforePart-part].list))
		}
		if part == p.shownPart(h.width) {
			r.Put(h.theme.Present, "["+text+"]")
		} else {
			r.Put(term.Plain, " "+text+" ")
		}
	}
	return r
}

// stepsAndFloor draws the steps and, where there is room beside them, the floor.
func (h *Browser) stepsAndFloor(p *figurePage, rows int) []string {
	steps := h.stepLines(p)
	top := max(0, min(p.top, len(steps)-rows))
	steps = steps[top:min(top+rows, len(steps))]
	left, right := h.pageWidths()
	if right == 0 || !p.read {
		return drawn(h.width, steps)
	}
	floor := h.floorLines(p, right, rows)
	lines := make([]string, max(len(steps), len(floor)))
	for i := range lines {
		r := term.NewRow(h.width)
		if i < len(steps) {
			steps[i](r)
		}
		r.To(left + 2)
		if i < len(floor) {
			floor[i](r)
		}
		lines[i] = r.String()
	}
	return lines
}

// writing writes a part of a line.
type writing func(*term.Row)

func drawn(width int, writings []writing) []string {
	lines := make([]string, len(writings))
	for i, write := range writings {
		r := term.NewRow(width)
		write(r)
		lines[i] = r.String()
	}
	return lines
}

// stepLines writes how a figure starts, its chart, how it ends and what else is
// known of it.
func (h *Browser) stepLines(p *figurePage) []writing {
	width, _ := h.pageWidths()
	fig, t := p.figure, &h.theme
	var lines []writing
	say := func(name, text string) {
		const indent = 8
		for i, part := range term.Wrap(text, width-indent) {
			lines = append(lines, func(r *term.Row) {
				if i == 0 {
					r.Put(t.Strong, name)
				}
				r.To(indent).Put(term.Plain, part)
			})
		}
	}
	blank := func() { lines = append(lines, func(*term.Row) {}) }
	say("starts", stanceText(fig.Starts))
	blank()
	lines = append(lines, chartLines(fig, width, h.theme)...)
	blank()
	say("ends", stanceText(fig.Ends))
	if p.read {
		say("floor", p.path.Summary())
	}
	if others := fig.Others(); others != "" {
		say("or", others)
	}
	if len(fig.Aliases) > 0 {
		say("also", strings.Join(fig.Aliases, ", "))
	}
	if fig.Source != "" {
		say("source", fig.Source)
	}
	return lines
}

// chartLines writes a figure's chart: the count, and both partners' steps side by
// side.
func chartLines(fig *routine.Figure, width int, t term.Theme) []writing {
	count := 6
	for i := range fig.Rows {
		count = max(count, term.Width(fig.Rows[i].Count.String())+2)
	}
	column := max((width-count)/2, 1)
	at := [2]int{count, count + column}
	lines := []writing{func(r *term.Row) {
		r.Put(term.Plain, "count")
		for _, p := range routine.Partners() {
			r.To(at[p]).Put(t.Partners[p], term.Cut(p.String(), column-2))
		}
	}}
	for i := range fig.Rows {
		step := &fig.Rows[i]
		var cells [2][]string
		for _, p := range routine.Partners() {
			if step.Written[p] {
				cells[p] = term.Wrap(step.Steps[p].Words(), column-2)
			}
		}
		for k := range max(len(cells[0]), len(cells[1]), 1) {
			lines = append(lines, func(r *term.Row) {
				if k == 0 {
					r.Put(t.Strong, step.Count.String())
				}
				for _, p := range routine.Partners() {
					if k < len(cells[p]) {
						r.To(at[p]).Put(term.Plain, cells[p][k])
					}
				}
			})
		}
	}
	return lines
}

// floorLines draws where the couple is after the last step, and where it came
// from, in width columns and rows lines.
func (h *Browser) floorLines(p *figurePage, width, rows int) []writing {
	t := &h.theme
	s := plan.Scene{Path: p.path, Danced: len(p.figure.Rows), Shown: [2]bool{true, true}, View: p.view}
	lines := []writing{func(r *term.Row) {
		r.Put(h.theme.Heading, p.view.Of(s.Shown)).Put(term.Plain, " (v), after the last step")
	}}
	room := rows - 1
	if rows > legendLess {
		room--
	}
	for _, cells := range plan.Dots(s, width, room) {
		lines = append(lines, func(r *term.Row) { dots.Write(r, cells, t) })
	}
	if room < rows-1 {
		lines = append(lines, func(r *term.Row) { r.Put(term.Plain, plan.Legend) })
	}
	return lines
}

func turnText(t routine.Turn) string { return "turn " + t.String() }

// besideLines lists the figures that can be danced before or after p's.
func (h *Browser) besideLines(p *figurePage, rows int) []string {
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
	stance, turn := h.width, h.width-term.Width(turnText(-1))
	if h.width >= fullWidth {
		stance, turn = h.width*36/80+term.Width(turnText(-1))+2, h.width*36/80
	}
	lines := listLines(&near.Chooser, group, func(item int, k term.Ink, mark string) string {
		b := &near.list[item]
		r := term.NewRow(h.width).Put(k, term.Cut(harmless.Line(mark+b.Name), turn-1)).To(turn)
		if b.Turn != 0 {
			r.Put(term.Plain, turnText(b.Turn))
		} else if h.width >= fullWidth {
			r.Put(term.Plain, levelText(b.Figure))
		}
		if p.part == beforePart {
			return r.To(stance).Put(term.Plain, way("starts "+positionsText(b.Figure.Starts), b)).String()
		}
		return r.To(stance).Put(term.Plain, way("ends "+positionsText(b.Figure.Ends), b)).String()
	}, h.theme)
	if len(lines) == 0 {
		return []string{term.NewRow(h.width).Put(term.Plain, "  nothing in the handbook can be danced "+words).String()}
	}
	return seenLines(lines, h.width, rows, h.theme)
}

// way adds to a stance how a neighbour is danced, if not as charted.
func way(stance string, b *Neighbour) string {
	if b.Way == "" {
		return stance
	}
	return harmless.Line(stance + "; " + b.Way)
}

// ShownKeys lists the keys that matter where h is, those needed most first.
func (h *Browser) ShownKeys() []key.Binding {
	k, upDown := &h.keys, h.dances.UpDown
	p := h.page()
	if p == nil {
		return []key.Binding{upDown("choose"), k.open, k.back, k.sheets, k.help, k.quit}
	}
	line := []key.Binding{k.dance, term.Pair(k.left, k.right, "←→", "part")}
	switch part := p.shownPart(h.width); {
	case p.neighbours() != nil:
		return append(line, upDown("choose"), k.open, k.back, k.help, k.leave)
	case part == stepsPart:
		line = append(line, upDown("read"))
	}
	if p.floorSeen(h.width) {
		line = append(line, k.view)
	}
	return append(line, k.back, k.sheets, k.help, k.leave)
}
