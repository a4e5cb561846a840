package routine

import (
	"bytes"
	"cmp"
	"maps"
	"slices"
	"sort"
	"strings"
)

// mender rewrites a sheet's form: what people write for a heading, a table or a list becomes what
// Markdown has for it. Each pass reads the text and collects edits; rewritten makes them.
//
// What it writes, it leaves alone: mending twice changes nothing.
type mender struct {
	src   *source
	edits []edit
	slips []slip
	noted bool // that lines are read as items
	plain bool // no letter only looks like a space

	// Of src; nil until they are asked for.
	all      []textLine
	sections []head
}

// slip is a form that was read as it was meant.
type slip struct {
	at   Span
	what string
}

// mended returns a mender that has mended all but the order, for which the dance's figures must be known.
func mended(src *source) *mender {
	m := &mender{src: src}
	m.top()
	m.pass((*mender).headings)
	m.pass((*mender).lined)
	m.pass((*mender).tables)
	m.pass((*mender).facts)
	return m
}

// top mends what the front matter needs.
func (m *mender) top() {
	m.pass((*mender).lineEnds)
	m.pass((*mender).spaces)
	m.pass((*mender).quoted)
	m.pass((*mender).boxes)
	m.pass((*mender).fences)
	m.pass((*mender).settings)
}

// pass collects edits and makes them.
func (m *mender) pass(collect func(*mender)) {
	collect(m)
	if len(m.edits) > 0 {
		m.src = m.src.rewritten(m.edits)
		m.edits, m.all, m.sections = nil, nil, nil
	}
}

func (m *mender) write(at extent, text string) { m.edits = append(m.edits, edit{at: at, text: text}) }

// slip notes what was read as meant.
func (m *mender) slip(at extent, what string) {
	m.slips = append(m.slips, slip{m.src.span(at.from, at.to), what})
}

// edit replaces a range of a text.
type edit struct {
	at    extent
	text  string
	moved []shift // where pieces of text come from, counted from its start, if not from that range as a whole
}

// shift says that the text from "to" on comes from "from" on in the text before; if still is set, all of it from
// that one place.
type shift struct {
	to, from int
	still    bool
}

// rewritten returns a source with edits made, which still tells places as they were written.
func (s *source) rewritten(edits []edit) *source {
	slices.SortStableFunc(edits, func(a, b edit) int { return cmp.Or(a.at.from-b.at.from, a.at.to-b.at.to) }) // what is put in before a text comes before what replaces it
	var out bytes.Buffer
	var shifts []shift
	at := 0
	for _, e := range edits {
		out.Write(s.text[at:e.at.from])
		shifts = append(shifts, shift{out.Len(), e.at.from, len(e.text) != e.at.to-e.at.from})
		for _, piece := range e.moved {
			piece.to += out.Len()
			shifts = append(shifts, piece)
		}
		out.WriteString(e.text)
		shifts = append(shifts, shift{out.Len(), e.at.to, false})
		at = e.at.to
	}
	out.Write(s.text[at:])
	next := *s
	next.text = out.Bytes()
	next.shifts = append(slices.Clone(s.shifts), shifts)
	return &next
}

// asWritten returns where in the sheet's file the text at an offset comes from.
func (s *source) asWritten(offset int) int {
	for _, shifts := range slices.Backward(s.shifts) {
		i := sort.Search(len(shifts), func(i int) bool { return shifts[i].to > offset }) - 1
		switch {
		case i < 0:
		case shifts[i].still:
			offset = shifts[i].from
		default:
			offset += shifts[i].from - shifts[i].to
		}
	}
	return offset
}

// lineEnds reads a text whose lines end in CR alone.
func (m *mender) lineEnds() {
	text := m.src.text
	if bytes.IndexByte(text, '\r') < 0 || bytes.IndexByte(text, '\n') >= 0 {
		return
	}
	for i, c := range text {
		if c == '\r' {
			m.write(extent{i, i + 1}, "\n")
		}
	}
	m.slip(extent{}, "the old line ends, CR alone, are read")
}

// quotedPattern matches the marks before a line of a mail that is quoted, once or more.
var quotedPattern = lazily(`^(?:>[ ]?)+`)

// quoted reads a sheet that is quoted in the answer to a mail: its lines, or only those with its dance and what follows.
func (m *mender) quoted() {
	if text := m.src.text; !bytes.HasPrefix(text, []byte(">")) && !bytes.Contains(text, []byte("\n>")) {
		return
	}
	lines := m.lines()
	first, all, dances := textLine{}, true, [2]bool{} // whether a dance is named in lines that aren't quoted, and in those that are
	for _, l := range lines {
		quote := quotedPattern.FindString(l.text)
		if l.blank() {
			continue
		}
		if quote == "" {
			all = false
		} else if first.text == "" {
			first = l
		}
		if s := settingPattern.FindStringSubmatch(l.text[len(quote):]); s != nil && SettingNamed(s[1]) == "dance" {
			dances[min(len(quote), 1)] = true
		}
	}
	if first.text == "" || !all && dances != [2]bool{false, true} {
		return
	}
	for _, l := range lines {
		if n := len(quotedPattern.FindString(l.text)); n > 0 {
			m.write(extent{l.at.from, l.at.from + n}, "")
		}
	}
	m.slip(first.at, "the sheet is read without the > before its lines")
}

// drawn writes the lines that are drawn around a table in letters of the keyboard.
var drawn = strings.NewReplacer("│", "|", "┃", "|", "║", "|", "─", "-", "━", "-", "═", "=", "├", "+", "┤", "+", "┼", "+", "┬", "+", "┴", "+",
	"┌", "+", "┐", "+", "└", "+", "┘", "+", "╔", "+", "╗", "+", "╚", "+", "╝", "+", "╠", "+", "╣", "+", "╬", "+", "╦", "+", "╩", "+")

// boxes reads tables with drawn lines.
func (m *mender) boxes() {
	if !bytes.ContainsAny(m.src.text, "│┃║") {
		return
	}
	for _, l := range m.lines() {
		if text := drawn.Replace(l.text); text != l.text && !l.prose && (strings.Contains(text, "|") || ruled(text)) {
			for i, r := range l.text {
				if plain := drawn.Replace(string(r)); plain != string(r) {
					m.write(extent{l.at.from + i, l.at.from + i + len(string(r))}, plain)
				}
			}
		}
	}
}

// oddSpaces are the letters that look like a space, or like nothing.
var oddSpaces = map[rune]string{'\u00a0': " ", '\u2002': " ", '\u2003': " ", '\u2007': " ", '\u2009': " ", '\u202f': " ", '\u3000': " ",
	'\u200b': "", '\u2060': "", '\ufeff': "", '\u00ad': ""}

// looksBlank reports whether a letter looks like a space, or like nothing.
func looksBlank(r rune) bool {
	_, odd := oddSpaces[r]
	return odd || r == ' ' || r == '\t'
}

// formPattern matches the lines in which a space is a matter of form.
var formPattern = lazily(`^\s*(?:#|[-*+•][ \t]*\pL[\pL\pM ]*:|\d{1,9}[.)])|\||\t`)

// spaces makes spaces of what only looks like one, and drops what can't be seen, wherever it would be in the way. In
// prose it is left.
func (m *mender) spaces() {
	text := m.src.text
	odd := func(r rune) bool { return bytes.ContainsRune(text, r) }
	if m.plain = m.plain || !slices.ContainsFunc(slices.Collect(maps.Keys(oddSpaces)), odd); m.plain {
		return
	}
	front, _ := frontEnd(text)
	order, inItem := 0, false // the level of the order's heading, 0 outside
	for _, l := range m.lines() {
		plain := l.text
		for odd, meant := range oddSpaces {
			plain = strings.ReplaceAll(plain, string(odd), meant)
		}
		if marks, name := heading(plain); marks != "" {
			if isOrderName(name) {
				order = len(marks)
			} else if len(marks) <= order {
				order = 0
			}
		}
		inItem = order > 0 && strings.TrimSpace(plain) != "" && (inItem || itemPattern.MatchString(plain))
		if plain == l.text || strings.TrimSpace(plain) != "" && l.at.from >= front.to && !formPattern.MatchString(plain) && !inItem {
			continue
		}
		for i, r := range l.text {
			if meant, odd := oddSpaces[r]; odd && (r != '\ufeff' || l.at.from+i > 0) {
				m.write(extent{l.at.from + i, l.at.from + i + len(string(r))}, meant)
			}
		}
	}
}

// textLine is a line without its end.
type textLine struct {
	at    extent
	text  string
	prose bool // in a block of code or a comment
}

func (l textLine) blank() bool { return strings.TrimSpace(l.text) == "" }

func (l textLine) indent() int { return len(l.text) - len(strings.TrimLeft(l.text, " \t")) }

// heading returns the marks and the name of a heading: "##", "Order". It returns "" if a line is none.
func heading(line string) (marks, name string) {
	line = strings.TrimRight(line, " \t")
	text := strings.TrimLeft(line, " ")
	rest := strings.TrimLeft(text, "#")
	level := len(text) - len(rest)
	if level == 0 || level > 6 || len(line)-len(text) > 3 || rest == "" || rest[0] != ' ' && rest[0] != '\t' {
		return "", ""
	}
	name = strings.TrimLeft(rest, " \t")
	if open := strings.TrimRight(name, "#"); open == "" || strings.HasSuffix(open, " ") {
		name = strings.TrimRight(open, " ") // marks may close it
	}
	return text[:level], name
}

var (
	codePattern = lazily("^[ \t>]*(```+|~~~+)")
)

// lines returns the lines of the text.
func (m *mender) lines() []textLine {
	if m.all != nil {
		return m.all
	}
	code, comment := "", false
	whole := string(m.src.text)
	m.all = make([]textLine, 0, 1+strings.Count(whole, "\n"))
	for from := 0; from < len(whole); {
		next := lineAt(m.src.text, from)
		text := strings.TrimRight(whole[from:next], "\r\n")
		l := textLine{at: extent{from, from + len(text)}, text: text, prose: code != "" || comment}
		var fence []string
		if strings.Contains(text, "```") || strings.Contains(text, "~~~") {
			fence = codePattern.FindStringSubmatch(text)
		}
		switch {
		case comment:
			comment = !strings.Contains(text, "-->")
		case code != "":
			if fence != nil && strings.HasPrefix(fence[1], code) {
				code = ""
			}
		case fence != nil:
			code, l.prose = fence[1], true
		case strings.Contains(text, "<!--"):
			_, rest, _ := strings.Cut(text, "<!--")
			l.prose = true
			comment = !strings.Contains(rest, "-->")
		}
		m.all = append(m.all, l)
		from = next
	}
	return m.all
}

// body returns the lines below the front matter.
func (m *mender) body() []textLine {
	_, from := frontEnd(m.src.text)
	lines := m.lines()
	return lines[sort.Search(len(lines), func(i int) bool { return lines[i].at.from >= from }):]
}
