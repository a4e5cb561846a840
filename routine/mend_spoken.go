package routine

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
)

// The words before an item that say only that it comes next, those that join figures in a sentence, and those that say in
// which bars or which part one is danced; the foreign ones from memory.
const (
	andWords  = "and|und|et|y|e"
	thenWords = "then|next|after that|afterwards|finally|lastly|dann|danach|anschließend|zuletzt|zum schluss|puis|ensuite|enfin|luego|después|poi|infine"
	joinWords = "(?:(?:" + andWords + `)\s+)?(?:` + thenWords + ")|" + andWords
	nextWords = "first|firstly|(?:(?:" + andWords + `)\s+)?(?:` + thenWords + `)|now|last|second|secondly|third|thirdly|\d{1,2}(?:st|nd|rd|th)|at the end|start with|begin with|` +
		"zuerst|zunächst|d'abord|primero|prima"
	articles = `(?-i:(?:the|a|an|der|die|das|den)\s+)?`

	foreignBars  = "takt|takte|mesure|mesures|compás|compases|battuta|battute"
	barWords     = "bar|bars|measure|measures|beats|phrase|" + foreignBars
	ordinals     = "first|second|third|erste|zweite|dritte|première|deuxième|primera|segunda|prima|seconda"
	endWords     = "ending|finale|final|fin|schluss|ende"
	partWords    = "half|part|page|side|wall|verse|chorus|hälfte|teil|moitié|partie|mitad|parte|metà"
	sectionWords = "part|section|phrase|side|half|verse|chorus|refrain|bridge|intro|outro|tag|coda|wall|teil|strophe|partie|couplet|parte|estrofa|estribillo|strofa|ritornello"
	partName     = `(?:\d{1,2}\.[ \t]*(?:hälfte|teil|strophe)|(?:\d{1,2}(?:st|nd|rd|th)|` + ordinals + `)[ \t]+(?:` + partWords + `)|(?:` + sectionWords + `)(?:[ \t]+\w{1,3})?|(?:long|short)[ \t]+side(?:[ \t]+\d{1,2})?|` + endWords + `)`
	againWords   = `repeat\w*|again|once more|da capo|wiederhol\w*|noch (?:ein)?mal|répét\w*|encore|repit\w*|repet\w*|otra vez|ripet\w*|ancora`
	goOnWords    = "finish|end|begin|start|add|continue|go on|close"
	numberWords  = "step|figure|move|item|no|nr|number|schritt|figur|nummer|pas|paso|passo|figura|numéro|número|numero"
)

var (
	nextPattern = lazily(`(?i)^(?:(?:` + nextWords + `)(?:[ \t]*[,:–—][ \t]*|[ \t]+-?[ \t]*)|(?:` + numberWords + `)\.?[ \t]*\d{1,3}[ \t]*(?:[:.)–—]|-[ \t])[ \t]*)` + articles)
	barsPattern = lazily(`(?i)^[*_]*((?:` + barWords + `)[ \t]*\d{1,3}(?:[ \t]*(?:[-–—+&]|to|bis)[ \t]*\d{1,3})?|` + partName + `)[*_]*[ \t]*(?:[:.)–—]|-[ \t])[*_]*[ \t]*`)
	// Where in the song a figure begins: "0:15".
	clockPattern = lazily(`^[ \t]*[(\[]?(\d{1,2}:[0-5]\d(?::[0-5]\d)?(?:[ \t]*[-–—][ \t]*\d{1,2}:[0-5]\d)?)[)\]]?(?:[ \t]*[-–—:.)][ \t]*|[ \t]+)`)
	// Numbers of bars alone: "1-2 Closed basic", and "3 Fan" beside it.
	numbersPattern = lazily(`^[ \t]*(?:[-*+•][ \t]+)?((\d{1,3})(?:[ \t]*(?:[-–—+&]|to|bis)[ \t]*(\d{1,3}))?)(?:[ \t]*[.:)][ \t]*|[ \t]+(?:[-–—][ \t]+)?)`)
	// What says in a sentence that something is danced: "Repeat from 1", "Finish with a Fan".
	againPattern = lazily(`(?i)^(?:` + againWords + `)(?:[^\pL]|$)`)
	goOnPattern  = lazily(`(?i)^(?:(?:` + andWords + `)[ \t]+)?(?:` + goOnWords + `)(?:[ \t]+(?:with|on|in))?[ \t]+` + articles)
	halfPattern  = lazily(`(?i)^[ \t]*[(#]?(` + partName + `)[^\pL\pN]*$`)
)

// lists returns the lists below the headings of the order and of its parts, and which of heads those are.
func (m *mender) lists(known func(name string) bool) (all []listMender, at []int) {
	lines := m.body()
	heads := m.heads(lines)
	roles := rolesOf(heads)
	known = knownHere(heads, roles, known)
	for i, r := range roles {
		if r == orderRole || r == partRole {
			all = append(all, listMender{mender: m, lines: lines[heads[i].line+1 : heads[i].until], known: known})
			at = append(at, i)
		}
	}
	return all, at
}

// parts makes a heading of each line of the order that only names a part, "1. Hälfte".
func (m *mender) parts(known func(name string) bool) {
	lists, at := m.lists(known)
	for _, l := range lists {
		marks := strings.Repeat("#", min(m.sections[at[0]].level+1, 6)) + " "
		for i, t := range l.lines {
			if t.prose || !leads(t.text) {
				continue
			}
			h := halfPattern.FindStringSubmatchIndex(t.text)
			if h == nil || l.names(t.text) {
				continue
			}
			l.apart(l.lines, i)
			l.write(extent{t.at.from, t.at.from + h[2]}, marks)
			l.write(extent{t.at.from + h[3], t.at.to}, "")
			l.slip(t.at, quoted(strings.TrimSpace(t.text))+" is read as the heading of a part")
		}
	}
}

// spoken writes the order as a list where it is said in words or stands in a table.
func (m *mender) spoken(known func(name string) bool) {
	lists, at := m.lists(known)
	for i, l := range lists {
		listed := m.sections[at[i]].list
		if l.namedAgain(listed); l.numberedBars() {
			continue
		}
		l.spokenItems(listed)
		if !listed {
			l.table()
		}
	}
}

// namedAgain takes the name of the order from a line that has figures or, without a list, an item: "Order: Closed basic".
func (l *listMender) namedAgain(listed bool) {
	for i, t := range l.lines {
		a := announcedPattern.FindStringSubmatchIndex(t.text)
		if t.prose || len(t.text) > longestCell || strings.Contains(t.text, "|") || a == nil || Section(t.text[a[2]:a[3]]) != "order" {
			continue
		}
		if rest := t.text[a[4]:]; l.figures(rest[onlyLed(rest):]) || !listed && rest != "" && strings.Count(rest, " ") < longestNameInWords {
			l.apart(l.lines, i)
			l.write(extent{t.at.from, t.at.from + a[4] + onlyLed(rest)}, "1. ")
			l.noteItem(t)
			return
		}
	}
}

// longestNameInWords is how many words a figure's name has at most, so that a longer line is prose.
const longestNameInWords = 5

// numberedBars makes items of figures that stand behind the numbers of their bars. It returns false unless the bars of one
// are a range, each begins where the one before ends, and one of the figures is known.
func (l *listMender) numberedBars() bool {
	var found []lead
	ranges, next := false, 0
	for i, t := range l.lines {
		m := numbersPattern.FindStringSubmatchIndex(t.text)
		if t.prose || m == nil || len(t.text) > longestCell {
			continue
		}
		first, _ := strconv.Atoi(t.text[m[4]:m[5]]) // three digits at most
		last, bars := first, "bar "
		if m[6] >= 0 {
			last, _ = strconv.Atoi(t.text[m[6]:m[7]])
			bars, ranges = "bars ", true
		}
		if first > last || next > 0 && first != next {
			return false
		}
		found, next = append(found, lead{line: i, to: m[1], said: bars + t.text[m[2]:m[3]]}), last+1
	}
	if !ranges || !slices.ContainsFunc(found, func(a lead) bool { return l.figures(l.lines[a.line].text[a.to:]) }) {
		return false
	}
	l.leads(found)
	return true
}

// knownHere returns known, for the names of the sheet's own figures and parts as well.
func knownHere(heads []head, roles []role, known func(string) bool) func(string) bool {
	here := map[string]bool{}
	for i, r := range roles {
		here[Key(heads[i].name)] = r == figureRole || r == partRole
	}
	return func(name string) bool { return here[Key(name)] || known(name) }
}

// announcedPattern matches a line such as "Order:", with or without figures on it.
var announcedPattern = lazily(`^[ \t]*[*_]*(?:[Tt]he[ \t]+)?([\pL]+)[ \t]*(?:[*_]*[:–—]|[ \t]-)[*_]*[ \t]*(.*)$`)

// announced writes a heading for an order that is only announced, "Order: Basic, Fan", if its figures are known.
func (m *mender) announced(known func(name string) bool) {
	lines := m.body()
	heads := m.heads(lines)
	roles := rolesOf(heads)
	if slices.Contains(roles, orderRole) {
		return
	}
	l := listMender{mender: m, known: knownHere(heads, roles, known)}
	for i, t := range lines {
		if t.prose || len(t.text) > longestCell || i > 0 && !lines[i-1].blank() && !isHeading(lines[i-1].text) {
			continue
		}
		if l.isTable(lines[i:]) {
			m.write(extent{t.at.from, t.at.from}, "## Order\n\n")
			m.slip(t.at, "the table is read as the order")
			return
		}
		if l.announcedAt(lines, i) {
			return
		}
	}
}

// announcedAt writes the order's heading for the line i, if that announces it.
func (l *listMender) announcedAt(lines []textLine, i int) bool {
	t := lines[i]
	a := announcedPattern.FindStringSubmatchIndex(t.text)
	if a == nil && isOrderName(headingText(t.text)) {
		a = []int{0, len(t.text), 0, len(t.text), len(t.text), len(t.text)}
	}
	if a == nil || !isOrderName(headingText(t.text[a[2]:a[3]])) {
		return false
	}
	rest, below := t.text[a[4]:a[5]], i+1
	for below < len(lines) && lines[below].blank() {
		below++
	}
	from, mark := t.at.from+a[4], ""
	if rest == "" && below < len(lines) && !lines[below].prose {
		rest, from = lines[below].text, lines[below].at.from
	} else if l.figures(rest) || l.figures(rest[onlyLed(rest):]) {
		from, mark = from+onlyLed(rest), "1. "
	}
	if !l.begins(strings.TrimSpace(rest)) {
		return false
	}
	l.apart(lines, i)
	l.write(extent{t.at.from, from}, "## Order\n\n"+mark)
	l.slip(t.at, quoted(strings.TrimSpace(t.text))+" is read as the order")
	return true
}

// isTable reports whether lines begin with a table with a column of figures, of which one is known.
func (l *listMender) isTable(lines []textLine) bool {
	form := piped
	if !strings.Contains(lines[0].text, "|") {
		form = orderForm(lines[0].text)
	}
	if form == noChart || chartHeading(lines[0].text) != noChart {
		return false
	}
	column := figureColumn(rowOf(lines[0].text, form))
	for _, t := range lines[1:] {
		if cells := rowOf(t.text, form); column < 0 || t.prose || len(cells) < 2 {
			return false
		} else if column < len(cells) && l.figures(strings.TrimSpace(cells[column])) {
			return true
		}
	}
	return false
}

// begins reports whether a line is the first of an order: a figure, with or without a lead, or the heading of a table.
func (l *listMender) begins(text string) bool {
	if leads(text) {
		a, _ := leadOf(text)
		text = text[a.to:]
	}
	return l.figures(text) || l.figures(text[len(numbersPattern.FindString(text)):]) || strings.Contains(text, "|") && figureColumn(pipedCells(text)) >= 0
}

// figureColumn returns which column of a table is headed Figure, or -1.
func figureColumn(headings []string) int {
	return slices.IndexFunc(headings, func(h string) bool { return figureHeadings[Key(unmarked(h))] })
}

// barred puts bars between the cells of an order that is a table pasted from a spreadsheet.
func (m *mender) barred() {
	lines := m.body()
	heads := m.heads(lines)
	for i, r := range rolesOf(heads) {
		if r != orderRole && r != partRole {
			continue
		}
		form := noChart
		for _, t := range lines[heads[i].line+1 : heads[i].until] {
			if t.prose || strings.Contains(t.text, "|") || len(t.text) > longestCell {
				form = noChart
				continue
			}
			if form == noChart {
				form = orderForm(t.text)
			}
			if form == noChart {
				continue
			}
			if cells := cellsOf(t.text, form); len(cells) > 1 {
				at := t.at.from
				for k, cell := range cells {
					m.write(extent{at, t.at.from + cell.from}, [2]string{"| ", " | "}[min(k, 1)])
					at = t.at.from + cell.to
				}
				m.write(extent{at, t.at.to}, " |")
			}
		}
	}
}

// orderForm returns what stands between the cells of a table whose heading a line is, if one is headed Figure.
func orderForm(line string) chartForm {
	for _, form := range []chartForm{tabbed, semicolons, commas} {
		if !strings.Contains(line, separators[form]) {
			continue
		}
		if texts := rowOf(line, form); len(texts) > 1 && len(texts[0]) < longestName && figureColumn(texts) >= 0 {
			return form
		}
	}
	return noChart
}

// lead is what stands before the figure of an item, "Then", "Bars 1–2:".
type lead struct {
	line     int
	from, to int    // in the line
	marked   bool   // the line has the mark of a list
	said     string // to be kept
}

// spokenItems takes leads out of the way, if a figure that is known comes after one of them; listed says that there is a
// list among the lines.
func (l *listMender) spokenItems(listed bool) {
	var found []lead
	sure := false
	for i, t := range l.lines {
		if t.prose || !leads(t.text) || len(t.text) > longestCell || strings.Contains(t.text, "|") || halfPattern.MatchString(t.text) {
			continue
		}
		a, ok := leadOf(t.text)
		if !ok || listed && !a.marked || l.names(t.text[a.from:]) {
			continue
		}
		a.line = i
		rest := t.text[a.to:]
		sure = sure || l.figures(rest)
		found = append(found, a)
	}
	if sure {
		l.leads(found)
	}
}

// leads makes items of lines with leads.
func (l *listMender) leads(found []lead) {
	for number, a := range found {
		t, mark := l.lines[a.line], ""
		if !a.marked {
			mark = fmt.Sprintf("%d. ", number+1)
		}
		if number == 0 {
			l.apart(l.lines, a.line)
		}
		l.write(extent{t.at.from + a.from, t.at.from + a.to}, mark)
		if end := max(a.to, len(strings.TrimRight(t.text, " \t"))); a.said != "" {
			l.write(extent{t.at.from + end, t.at.to}, " — "+saidOf(a.said))
		}
		l.noteItem(t)
	}
}

// apart puts a blank line between a line, if there is one, and a paragraph right above it.
func (m *mender) apart(lines []textLine, line int) {
	if line > 0 && line < len(lines) && !lines[line].blank() && !lines[line-1].blank() {
		from := lines[line].at.from
		m.write(extent{from, from}, "\n")
	}
}

// leadOf returns the lead of a line, which may come after the mark of a list.
func leadOf(text string) (a lead, ok bool) {
	a.from = len(text) - len(strings.TrimLeft(text, " \t"))
	at := placeOf(text[a.from:])
	if mark := itemPattern.FindStringIndex(text); at == nil && mark != nil {
		a.from, a.marked = mark[1], true
		at = placeOf(text[a.from:])
	}
	if at != nil {
		a.said = text[a.from+at[2] : a.from+at[3]]
	} else if at = nextPattern.FindStringIndex(text[a.from:]); at == nil {
		return a, false
	}
	a.to = a.from + at[1]
	a.to += len(numberBefore.FindString(text[a.to:]))
	a.to += len(beforeName.FindString(text[a.to:]))
	return a, true
}

// onlyLed returns the length of a lead that need not be kept: "first the".
func onlyLed(text string) int {
	if a, ok := leadOf(text); ok && a.said == "" && !a.marked {
		return a.to
	}
	return 0
}

// placeOf matches where a figure is danced at the start of a text: in which bars, in which part, or when in the song.
func placeOf(text string) []int {
	if at := barsPattern.FindStringSubmatchIndex(text); at != nil {
		return at
	}
	return clockPattern.FindStringSubmatchIndex(text)
}

// saidOf returns in which bars or part a figure is danced as a remark that is not read as a part of the figure.
func saidOf(text string) string {
	if text[0] >= '0' && text[0] <= '9' && strings.Contains(text, ":") {
		return "danced at " + text
	}
	first, rest, _ := strings.Cut(text, " ")
	if first = strings.ToLower(first); slices.Contains(strings.Split(foreignBars, "|"), first) {
		first = "bars"
	}
	return strings.TrimSpace("danced in " + first + " " + rest)
}

// leads reports whether a line may begin with a lead or name a part, quickly.
func leads(text string) bool {
	first := strings.TrimLeft(text, " \t-*_+•·‣→➤–—0123456789.)([")
	if end := strings.IndexFunc(first, func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' }); end >= 0 {
		first = first[:end]
	}
	return leadWords()[strings.ToLower(first)]
}

// leadWords returns the first words of all that may stand before a figure.
var leadWords = sync.OnceValue(func() map[string]bool {
	words := keysOf(leadWord.FindAllString(nextWords+"|"+barWords+"|"+partName+"|"+numberWords, -1))
	words[""] = true // a time of the song has no word
	return words
})

// leadWord matches a word in a pattern.
var leadWord = lazily(`[\pL']+`)

// table writes a table with a column of figures as a list; what its other columns say goes with the figures.
func (l *listMender) table() {
	top, column := -1, -1
	var headings []string
	number := 0
	for i, t := range l.lines {
		switch {
		case t.prose || !strings.Contains(t.text, "|"):
			if top >= 0 {
				return
			}
		case top < 0:
			headings = pipedCells(t.text)
			if column = figureColumn(headings); column < 0 {
				return
			}
			top = i
			l.leaveOut(i)
			l.slip(t.at, "the table is read as a list of figures")
		case ruled(t.text):
			l.leaveOut(i)
		default:
			number++
			l.tableRow(t, headings, column, number)
		}
	}
}

// leaveOut deletes a line.
func (l *listMender) leaveOut(line int) {
	to := l.lines[line].at.to
	if line+1 < len(l.lines) {
		to = l.lines[line+1].at.from
	}
	l.write(extent{l.lines[line].at.from, to}, "")
}

// tableRow writes a row of a table as an item.
func (l *listMender) tableRow(t textLine, headings []string, column, number int) {
	cells := pipedCells(t.text)
	if column >= len(cells) || strings.TrimSpace(cells[column]) == "" {
		return
	}
	from := startOfCell(t.text, cells, column)
	to := from + len(strings.TrimRight(cells[column], " \t"))
	from += len(cells[column]) - len(strings.TrimLeft(cells[column], " \t"))
	times, said := "", []string{}
	for i, c := range cells {
		if c = strings.TrimSpace(c); i == column || c == "" || strings.Trim(c, "-–—") == "" {
			continue
		}
		if i >= len(headings) {
			said = append(said, c)
			continue
		}
		heading := strings.TrimSpace(unmarked(headings[i]))
		n, err := strconv.Atoi(strings.Trim(c, "x×* "))
		switch key := Key(heading); {
		case (timesHeadings[key] || heading == "×") && err == nil:
			if n != 1 {
				times = fmt.Sprintf(" × %d", n)
			}
		case err == nil && n == number || numberHeadings[key]:
		case remarkHeadings[key]:
			said = append(said, c)
		case barHeadings[key]:
			said = append(said, saidOf(heading+" "+c))
		default:
			said = append(said, strings.ToLower(heading)+" "+c)
		}
	}
	if len(said) > 0 {
		times += " — " + strings.Join(said, ", ")
	}
	l.write(extent{t.at.from, t.at.from + from}, fmt.Sprintf("%d. ", number))
	l.write(extent{t.at.from + to, t.at.to}, times)
}

// The headings of an order's columns, as keys.
var (
	figureHeadings = keys("figure", "figures", "figur", "figuren", "figura", "figuras", "name", "move", "moves", "pattern")
	barHeadings    = keys(strings.Split(barWords, "|")...)
	timesHeadings  = keys("times", "repeat", "repeats", "repetitions", "how often", "mal", "x", "fois", "veces", "volte")
	numberHeadings = keys("no", "nr", "number", "#")
	remarkHeadings = keys("remark", "remarks", "note", "notes", "comment", "comments", "bemerkung", "bemerkungen", "remarque", "nota")
)

func keys(words ...string) map[string]bool {
	all := map[string]bool{}
	for _, w := range words {
		all[Key(w)] = true
	}
	return all
}

// turned writes a chart whose counts stand side by side, with a row for each partner, as one with a row for each count.
// It returns the index of the first line after it, or i if the line i is no heading of such a chart.
func (m *mender) turned(lines []textLine, i int) int {
	line := strings.TrimSpace(lines[i].text)
	first, _, found := strings.Cut(strings.TrimPrefix(line, "|"), "|")
	first = strings.TrimSpace(first)
	if c, ok := columnOf(first); !found || first != "" && (first[0] <= '9' || !ok || c > countColumn) {
		return i
	}
	counts := pipedCells(lines[i].text)[1:]
	if len(counts) < 2 || slices.ContainsFunc(counts, func(c string) bool { return !areCounts(c) }) {
		return i
	}
	var partners []column
	var steps []int // the lines of their steps
	end := i + 1
	for ; end < len(lines) && strings.Contains(lines[end].text, "|") && !lines[end].prose; end++ {
		if ruled(lines[end].text) {
			continue
		}
		cells := pipedCells(lines[end].text)
		c, _ := columnOf(cells[0])
		if c != leaderColumn && c != followerColumn || slices.Contains(partners, c) || len(cells) > len(counts)+1 {
			return i
		}
		partners, steps = append(partners, c), append(steps, end)
	}
	if len(partners) == 0 {
		return i
	}
	out := mover{edit{at: extent{lines[i].at.from, lines[end-1].at.to}}}
	if i > 0 && !lines[i-1].blank() {
		out.text += "\n"
	}
	out.text += "| Count |"
	for _, line := range steps {
		out.cell(lines[line], 0)
	}
	out.text += "\n|---|" + strings.Repeat("---|", len(steps))
	for k := range counts {
		out.text += "\n|"
		out.cell(lines[i], k+1)
		for _, line := range steps {
			out.cell(lines[line], k+1)
		}
	}
	m.edits = append(m.edits, out.edit)
	m.slip(lines[i].at, "the chart is read with a row for each partner")
	return end
}

// mover is an edit that puts cells of a table elsewhere.
type mover struct{ edit }

// cell adds a cell of a row, if it has that many, and the bar after it.
func (m *mover) cell(row textLine, column int) {
	if cells := pipedCells(row.text); column < len(cells) {
		from := row.at.from + startOfCell(row.text, cells, column)
		m.moved = append(m.moved, shift{to: len(m.text), from: from})
		m.text += cells[column]
		m.moved = append(m.moved, shift{to: len(m.text), from: from + len(cells[column]), still: true})
	}
	m.text += "|"
}

// startOfCell returns where one of the cells of a line begins.
func startOfCell(line string, cells []string, column int) int {
	from := strings.Index(line, strings.Join(cells, "|"))
	for _, c := range cells[:column] {
		from += len(c) + 1
	}
	return from
}
