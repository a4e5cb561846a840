package routine

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// head is a heading and what stands below it, up to the next.
type head struct {
	name  string
	level int // 0 above the first heading
	chart bool
	list  bool
	line  int // of the heading; -1 above the first
	until int // where the next one begins
}

// role is what a section is for.
type role uint8

const (
	proseRole  role = iota
	orderRole       // the order
	partRole        // a part of the order
	secondRole      // another order
	figureRole
	chartRole // the chart, or a partner's chart, of the figure above
)

// partPattern matches the name of a part that stands beside the order, not in it.
var partPattern = lazily(`(?i)^(?:` + partName + `|(?:` + sectionWords + `)[ \t]+\w{4,6})$`)

// goesOnPattern matches what follows the name of an order in "Order, part 2" or "Order (continued)".
var goesOnPattern = lazily(`(?i)^(.*?)[\s,:(–—-]+(?:(?:part|section|page|no\.?)\s+)?(?:\d{1,2}|[a-h]|[ivx]{1,4}|continued|cont\.?|second half|(?:first|second|third|last)\s+part)\)?$`)

// chartNames are headings of a chart below a figure's own heading, as keys.
var chartNames = map[string]bool{"step": true, "thestep": true, "chart": true, "thechart": true, "footwork": true, "table": true, "count": true}

// ownerOf returns the partner whose part a heading announces: "Leader", "Her part", "Follower's steps".
func ownerOf(heading string) (Partner, bool) {
	name := unnumbered(heading)
	if strings.Count(name, " ") > 2 {
		return 0, false // quickly, as most headings are of figures
	}
	words := strings.Fields(columnKey(name))
	if len(words) > 1 && words[0] == "the" {
		words = words[1:]
	}
	if len(words) == 0 || len(words) > 2 || len(words) == 2 && !chartNames[Key(words[1])] && words[1] != "part" {
		return 0, false
	}
	if c := lex().columns[words[0]]; c == leaderColumn || c == followerColumn {
		return Partner(c - leaderColumn), true
	}
	return 0, false
}

// rolesOf says what each section of a sheet is for. The first one stands above the first heading.
func rolesOf(heads []head) []role {
	out := make([]role, len(heads))
	order := orderAmong(heads)
	inOrder := false
	for i, h := range heads {
		switch {
		case i == 0:
		case i == order:
			out[i], inOrder = orderRole, true
		case h.chart && ownsChart(h.name) && parentOf(heads, out, i) > 0:
			out[i], out[parentOf(heads, out, i)] = chartRole, figureRole
		case h.chart:
			out[i] = figureRole
			inOrder = inOrder && h.level > heads[order].level
		case inOrder && h.level > heads[order].level:
			out[i] = partRole
		case order >= 0 && i > order && (partPattern.MatchString(h.name) || goesOn(h.name)):
			out[i] = partRole
		case order >= 0 && isOrderName(h.name) && (h.list || Key(unnumbered(h.name)) == "order"):
			out[i] = secondRole
		default:
			inOrder = false
		}
	}
	return out
}

// ownsChart reports whether a heading is that of a chart: "Steps", "The leader's part".
func ownsChart(heading string) bool {
	_, owned := ownerOf(heading)
	return owned || chartNames[Key(heading)]
}

func goesOn(heading string) bool {
	m := goesOnPattern.FindStringSubmatch(heading)
	return m != nil && isOrderName(m[1])
}

// orderAmong returns which section is the order, or -1: the one with that name or, if there is none, the first that has
// another name for it, and a list.
func orderAmong(heads []head) int {
	named := -1
	for i, h := range heads {
		switch {
		case i == 0 || h.chart && !h.list || !isOrderName(h.name):
		case Key(unnumbered(h.name)) == "order":
			return i
		case h.list && (named < 0 || !heads[named].list), named < 0 && h.level > 1:
			named = i
		}
	}
	return named
}

// parentOf returns the figure to which a chart below a heading of its own belongs, or 0.
func parentOf(heads []head, roles []role, i int) int {
	for j := i - 1; j > 0; j-- {
		switch {
		case heads[j].level < heads[i].level:
			_, owned := ownerOf(heads[i].name)
			if roles[j] == figureRole && (owned || !heads[j].chart) || roles[j] == proseRole && !isOrderName(heads[j].name) {
				return j
			}
			return 0
		case roles[j] != chartRole && roles[j] != proseRole:
			return 0
		}
	}
	return 0
}

// heads returns the sections of a sheet whose charts are Markdown's tables.
func (m *mender) heads(lines []textLine) []head {
	if m.sections != nil {
		return m.sections
	}
	heads := []head{{line: -1}}
	for i, l := range lines {
		last := &heads[len(heads)-1]
		if !l.prose && !l.blank() {
			marks, name := heading(l.text)
			if marks == "" && i+1 < len(lines) && underlined(l.text, lines[i+1]) && (i == 0 || lines[i-1].blank()) {
				marks, name = "##", l.text
				if strings.Contains(lines[i+1].text, "=") {
					marks = "#"
				}
			}
			if marks != "" {
				last.until = i
				heads = append(heads, head{name: headingText(name), level: len(marks), line: i})
				continue
			}
			last.chart = last.chart || strings.Contains(l.text, "|") && chartHeading(l.text) == piped
			last.list = last.list || l.indent() < 4 && (itemPattern.MatchString(l.text) || numbersPattern.MatchString(l.text)) && !clockPattern.MatchString(l.text) && !spokenSetting.MatchString(l.text)
		}
	}
	heads[len(heads)-1].until = len(lines)
	m.sections = heads
	return heads
}

var underlinePattern = lazily(`^ {0,3}(?:=+|-+)[ \t]*$`)

// underlined reports whether a line is a heading because of the line below it.
func underlined(text string, below textLine) bool {
	return below.text != "" && (below.text[0] == '=' || below.text[0] == '-' || below.text[0] == ' ') && underlinePattern.MatchString(below.text) &&
		!itemPattern.MatchString(text) && !strings.Contains(text, "|")
}

// struckItem matches an item that is struck out with its mark: "~~2. Fan~~".
var struckItem = lazily(`^[ \t]*(~~?)[ \t]*(\d{1,9}[.)][ \t]+|[-*+•][ \t]+)\S.*~[ \t]*$`)

// struck takes the mark of an item out of what is struck out.
func (m *mender) struck() {
	if !bytes.ContainsRune(m.src.text, '~') {
		return
	}
	lines := m.body()
	heads := m.heads(lines)
	for i, r := range rolesOf(heads) {
		if r != orderRole && r != partRole {
			continue
		}
		for _, t := range lines[heads[i].line+1 : heads[i].until] {
			if at := struckItem.FindStringSubmatchIndex(t.text); at != nil && !t.prose {
				m.write(extent{t.at.from, t.at.from + at[5]}, t.text[at[4]:at[5]]+t.text[at[2]:at[3]])
				m.slip(t.at, quoted(strings.TrimSpace(t.text))+" is read as an item of the order that is struck out")
			}
		}
	}
}

// order writes the lists of the order, and what is set below their items, as Markdown has them.
func (m *mender) order(known func(name string) bool) {
	lists, _ := m.lists(known)
	for _, l := range lists {
		l.mend()
	}
}

// listMender mends the lists below one heading of the order.
type listMender struct {
	*mender
	lines []textLine
	known func(name string) bool
}

// noteItem notes the first line that is read as an item.
func (l *listMender) noteItem(t textLine) {
	if !l.noted {
		l.slip(t.at, quoted(strings.TrimSpace(t.text))+" is read as an item of the order, and so are lines like it")
	}
	l.noted = true
}

var (
	numberedPattern = lazily(`^( {0,3}\d{1,9}[.)])(?:[ \t]+|$)`)
	bulletPattern   = lazily(`^([ \t]*)([-*+•·‣])[ \t]+`)
	spokenSetting   = lazily(`(?i)^[ \t]*(?:[-*+•·‣–][ \t]+)?[*_]*(?:tempo|ends|count|corner)[*_]*[ \t]*:`)
)

// drawnLine matches a line that is drawn below an item. Right below its text Markdown reads it as more of that, as the
// line below a table's heading, or as one that makes a heading of the item.
var drawnLine = lazily(`^[ \t]*[-=_–—*.·]{2,}[ \t]*$`)

// mend mends the items, then what is set below them.
func (l *listMender) mend() {
	width, number, numbered := 0, 0, false
	for _, t := range l.lines {
		numbered = numbered || !t.prose && numberedPattern.MatchString(t.text)
	}
	form := l.form(numbered)
	inList, above := false, textLine{} // the line above, and whether it is in the list
	for i, t := range l.lines {
		before := above
		above = t
		if t.prose || t.blank() {
			continue
		}
		if inList && !before.blank() && drawnLine.MatchString(t.text) {
			l.apart(l.lines, i)
			l.apart(l.lines, i+1)
			inList, above = false, textLine{}
			continue
		}
		mark := itemPattern.FindStringSubmatchIndex(t.text)
		inList = inList && (!before.blank() || t.indent() > 0 || mark != nil)
		if !inList && !before.blank() && !before.prose && l.interrupts(t.text, number+1) {
			l.write(extent{t.at.from, t.at.from}, "\n") // a list can't interrupt a paragraph
		} else if inList && mark == nil && !before.blank() && !spokenSetting.MatchString(t.text) && l.goesOn(before.text, t.text) {
			number++
			l.write(extent{t.at.from, t.at.from + t.indent()}, fmt.Sprintf("%d. ", number))
			l.noteItem(t)
			continue
		}
		switch {
		case width > 0 && spokenSetting.MatchString(t.text) && (t.indent() > 0 || !before.blank()), width > 0 && t.indent() > 0 && bulletPattern.MatchString(t.text):
			l.setting(t, width)
		case numberedPattern.MatchString(t.text):
			m := numberedPattern.FindStringSubmatch(t.text)
			if width = len(m[1]) + 1; len(m[0]) < len(t.text) && m[0] != m[1]+" " {
				l.write(extent{t.at.from + len(m[1]), t.at.from + len(m[0])}, " ")
			}
			number, _ = strconv.Atoi(strings.Trim(m[1], " .)")) // at most nine digits
			inList = true
			l.separate(t, number, len(m[0]))
		default:
			from := form(t, mark, number)
			if from < 0 {
				continue
			}
			if !inList && !before.blank() && !before.prose {
				l.write(extent{t.at.from, t.at.from}, "\n")
			}
			number++
			text := fmt.Sprintf("%d. ", number)
			l.write(extent{t.at.from, t.at.from + from}, text)
			l.noteItem(t)
			width, inList = len(text), true
			l.separate(t, number, from)
		}
	}
}

// interrupts reports whether a line right below a paragraph is the next item.
func (l *listMender) interrupts(line string, number int) bool {
	m := numberedPattern.FindStringSubmatch(line)
	return m != nil && strings.Trim(m[1], " .)") == strconv.Itoa(number) && l.names(line[len(m[0]):])
}

// goesOn reports whether a line without a mark, right below an item, is an item of its own, not more of that one.
func (l *listMender) goesOn(item, line string) bool {
	line = strings.TrimSpace(line)
	if m := itemPattern.FindString(item); topNames[Key(line)] || l.names(line) {
		return l.names(item[len(m):]) && !l.known(headingText(item[len(m):]+" "+line))
	}
	return false
}

// itemForm returns where the text of an item begins, or -1 if a line is none: its mark is a match of itemPattern, or nil,
// and number the number of the item before it.
type itemForm func(t textLine, mark []int, number int) int

// form returns the form of the items.
func (l *listMender) form(numbered bool) itemForm {
	all := l.numberedThroughout()
	loose := func(t textLine, mark []int, number int) int {
		if mark != nil && mark[2] >= 0 && t.indent() < 4 && (t.text[mark[2]:mark[3]] == strconv.Itoa(number+1) || strings.ContainsAny(t.text[mark[3]:mark[1]], ".)")) && (all || l.beginsItem(t.text, mark)) {
			return mark[1]
		}
		return -1
	}
	if numbered || l.first(loose) >= 0 {
		return loose
	}
	base := -1
	bullet := func(t textLine, mark []int, number int) int {
		if mark != nil && mark[4] >= 0 && t.indent() < 4 && (base < 0 || t.indent() <= base) {
			return mark[1]
		}
		if base >= 0 { // a number amid bullets
			return loose(t, mark, number)
		}
		return -1
	}
	if at := l.first(bullet); at >= 0 {
		base = l.lines[at].indent()
		return bullet
	}
	plain := l.plain()
	return func(t textLine, mark []int, _ int) int {
		if plain && (mark == nil || mark[2] >= 0) && !isAside(t.text) {
			return len(t.text) - len(strings.TrimLeftFunc(t.text, looksBlank))
		}
		return -1
	}
}

// plain reports whether all lines are items without marks: most of several, or all, name figures that are known, and the
// others are no longer than a name.
func (l *listMender) plain() bool {
	known, all := 0, 0
	for _, t := range l.lines {
		text := strings.TrimSpace(t.text)
		if text == "" || spokenSetting.MatchString(t.text) || isAside(text) {
			continue
		}
		mark := itemPattern.FindStringSubmatchIndex(t.text)
		switch all++; {
		case t.prose || mark != nil && mark[2] < 0 || strings.Contains(text, "|"):
			return false
		case l.figures(text):
			known++
		case strings.Count(text, " ") >= longestNameInWords:
			return false
		}
	}
	return known == all || known > 1 && 2*known > all
}

// isAside reports whether a line stands in brackets.
func isAside(line string) bool {
	line = strings.TrimSpace(line)
	return strings.HasPrefix(line, "(") && closing(line) == len(line)-1
}

// numberedThroughout reports whether all lines, of which there are several, begin with their numbers, which have the same
// mark behind them: no sentences do.
func (l *listMender) numberedThroughout() bool {
	number, behind := 0, ""
	for _, t := range l.lines {
		if t.blank() || spokenSetting.MatchString(t.text) {
			continue
		}
		mark := itemPattern.FindStringSubmatchIndex(t.text)
		if number++; t.prose || mark == nil || mark[2] < 0 || t.text[mark[2]:mark[3]] != strconv.Itoa(number) {
			return false
		}
		if after := strings.TrimSpace(t.text[mark[3]:mark[1]]); number > 1 && after != behind {
			return false
		} else {
			behind = after
		}
	}
	return number > 1
}

// beginsItem reports whether what follows a loose number is an item, not the rest of a sentence: "1 beat later",
// "2.5 turns".
func (l *listMender) beginsItem(text string, mark []int) bool {
	rest := text[mark[1]:]
	if rest == "" || rest[0] >= '0' && rest[0] <= '9' {
		return false
	}
	if strings.TrimSpace(text[mark[3]:mark[1]]) != "" {
		return true
	}
	return l.names(rest)
}

// names reports whether a text is an item with a figure that is known.
func (l *listMender) names(text string) bool {
	at := say(text, l.known).name
	return l.known(headingText(text[at.from:at.to]))
}

// figures reports whether a text names a figure that is known, or several.
func (l *listMender) figures(text string) bool { return l.names(text) || len(l.several(text)) > 0 }

// betweenFigures matches what people put between figures on one line.
var betweenFigures = lazily(`(?i)\s*[,;]\s*(?:(?:` + joinWords + `)\s+` + articles + `)?|\s*(?:→|⇒|➔|->|=>|>|\+)\s*|\s+(?:-|–|—|--|/|&|` + joinWords + `)\s+` + articles)

// mayBeSeveral reports whether there may be more than one figure on a line, quickly.
func mayBeSeveral(text string) bool {
	if strings.ContainsAny(text, ",;>+/&→⇒➔–—") || strings.Contains(text, " -") || strings.Contains(text, "->") {
		return true
	}
	for word := range strings.FieldsSeq(text) {
		if joins()[word] {
			return true
		}
	}
	return false
}

// joins returns the words that may stand between figures.
var joins = sync.OnceValue(func() map[string]bool { return keysOf(leadWord.FindAllString(joinWords, -1)) })

func keysOf(words []string) map[string]bool {
	all := map[string]bool{}
	for _, w := range words {
		all[w] = true
	}
	return all
}

// several returns the figures that stand on one line; none unless there are at least two, and most are known.
func (l *listMender) several(text string) (items []extent) {
	if len(text) > longestCell || !mayBeSeveral(text) {
		return nil
	}
	known, from := 0, 0
	begin := func(at int) int { return at + len(numberBefore.FindString(text[at:])) }
	ends := append(betweenFigures.FindAllStringIndex(text, -1), []int{len(text), len(text)})
	out := struckPattern.FindAllStringIndex(text, -1)
	for i, end := range ends {
		last := len(items) - 1
		if strings.Count(text[from:end[0]], "(") > strings.Count(text[from:end[0]], ")") || slices.ContainsFunc(out, func(m []int) bool { return m[0] < end[0] && end[0] < m[1] }) {
			continue // within brackets, or struck out
		}
		switch piece := text[from:end[0]]; {
		case strings.TrimSpace(piece) == "":
		case last >= 0 && l.known(headingText(text[items[last].from:end[0]])): // a name with "and" in it
			items[last].to = end[0]
		case l.names(piece):
			known++
			items = append(items, extent{begin(from), end[0]})
		case last >= 0 && l.names(text[items[last].from:end[0]]): // its steps, or a remark
			items[last].to = end[0]
		default:
			items = append(items, extent{from, end[0]})
		}
		from = ends[i][1]
	}
	arrows := known > 0 && strings.ContainsAny(text, "→⇒➔")
	if known < len(items) && !arrows && (known < 2 || 2*known <= len(items) || l.names(text)) || len(items) < 2 {
		return nil
	}
	return items
}

// groupPattern matches figures in brackets, and how many times they are danced.
var groupPattern = lazily(`^(?:(\d)\s*[x×*]\s*)?[(\[]([^()\[\]]*)[)\]](?:\s*[x×*]\s*(\d)|\s*(\d)\s*(?:[x×*]|times)|\s*(twice)|\s*)[.;]?$`)

// group writes the figures of an item in brackets as often as they are danced. It returns false if it is no such item.
func (l *listMender) group(t textLine, number, from int) bool {
	text := strings.TrimRight(t.text[from:], " \t")
	m := groupPattern.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	var lines []string
	for _, item := range l.several(m[2]) {
		lines = append(lines, m[2][item.from:item.to])
	}
	times, _ := strconv.Atoi(m[1] + m[3] + m[4]) // a digit at most in each
	if m[5] != "" {
		times = 2
	}
	if len(lines) == 0 || times > 9 {
		return false
	}
	all := slices.Repeat(lines, max(times, 1))
	l.write(extent{t.at.from + from, t.at.from + from + len(text)}, strings.Join(all, fmt.Sprintf("\n%d. ", number)))
	l.slip(t.at, fmt.Sprintf("%s is read as %d figures", quoted(text), len(all)))
	return true
}

// separate gives each figure of an item, whose text begins at from, a line of its own.
func (l *listMender) separate(t textLine, number, from int) {
	if l.group(t, number, from) {
		return
	}
	items := l.several(t.text[from:])
	if items == nil {
		return
	}
	for i, item := range items[1:] {
		l.write(extent{t.at.from + from + items[i].to, t.at.from + from + item.from}, fmt.Sprintf("\n%d. ", number))
	}
	l.slip(t.at, fmt.Sprintf("%s is read as %d figures", quoted(strings.TrimSpace(t.text[from:])), len(items)))
}

// first returns the index of the first line of a form, or -1.
func (l *listMender) first(form itemForm) int {
	for i, t := range l.lines {
		if t.prose || t.blank() || spokenSetting.MatchString(t.text) {
			continue
		}
		if mark := itemPattern.FindStringSubmatchIndex(t.text); mark != nil && form(t, mark, 0) >= 0 {
			return i
		}
	}
	return -1
}

// setting indents a line below an item as far as the item's text, and gives it a bullet.
func (l *listMender) setting(t textLine, width int) {
	mark, text := "-", t.text[t.indent():]
	from := t.at.from + t.indent()
	if b := bulletPattern.FindStringSubmatchIndex(t.text); b != nil {
		if mark = t.text[b[4]:b[5]]; !strings.Contains("-*+", mark) {
			mark = "-"
		}
		from = t.at.from + b[1]
		text = t.text[b[1]:]
	}
	if text == "" {
		return
	}
	indent := t.text[:t.indent()]
	if !strings.Contains(indent, "\t") && len(indent) >= width && len(indent) < width+2 && from == t.at.from+len(indent)+2 && strings.HasPrefix(t.text[len(indent):], mark) {
		return
	}
	l.write(extent{t.at.from, from}, strings.Repeat(" ", width)+mark+" ")
}
