package routine

import (
	"cmp"
	"slices"
	"strings"
)

// isOrderName reports whether a heading stands above the list of figures.
func isOrderName(heading string) bool {
	name := unnumbered(heading)
	return Section(name) == "order" || strings.Contains(name, " ") && Section(name[:len(name)-len(ofFigures.FindString(name))]) == "order"
}

// ofFigures matches what may follow the name of the order: "Order of figures".
var ofFigures = lazily(`(?i)\s+(?:of(?:\s+the)?|der|des|de(?:\s+(?:las?|los))?|delle)\s+(?:figures?|figuren|figuras?|moves|dance|steps|schritte|pasos|passi)$`)

// numberPattern matches the number before a heading's name.
var numberPattern = lazily(`^\d{1,3}(?:[.)]+[ \t]*|[ \t]*[-–—:][ \t]+)`)

// unnumbered returns a heading's name without the number before it.
func unnumbered(name string) string { return name[len(numberPattern.FindString(name)):] }

var (
	tightPattern = lazily(`^ {0,3}(#{1,6})([^#\s].*)$`)
	boldPattern  = lazily(`^[ \t]{0,3}(?:\*\*([^*|]+?)(?::?\*\*|\*\*:?)|__([^_|]+?)(?::?__|__:?))[ \t]*$`)
	namePattern  = lazily(`^ {0,3}(\pL[\pL\pM ]*?)[ \t]*:?[ \t]*$`)
)

// longestName bounds a line that may be the name of the order, in bytes.
const longestName = 40

// bold returns the text of a line that stands in bold, or "".
func bold(line string) string {
	if text := strings.TrimLeft(line, " \t"); !strings.HasPrefix(text, "**") && !strings.HasPrefix(text, "__") {
		return ""
	}
	b := boldPattern.FindStringSubmatch(line)
	if b == nil {
		return ""
	}
	return b[1] + b[2]
}

// headingMender writes headings that lack their space, stand in bold or have a number.
type headingMender struct {
	*mender
	lines []textLine
	above []head // the headings
	order int    // the level of the order's heading, or 0
	named bool   // the order has no item yet
}

func (m *mender) headings() {
	h := headingMender{mender: m, lines: m.body()}
	for i, l := range h.lines {
		if l.prose || l.blank() {
			continue
		}
		marks, name := heading(l.text)
		h.follow(l.text, len(marks), name)
		above := i == 0 || h.lines[i-1].blank() || isHeading(h.lines[i-1].text)
		switch tight := strings.TrimLeft(l.text, " \t")[0] == '#' && tightPattern.MatchString(l.text); {
		case tight:
			h.tight(i)
		case marks != "":
			m.unnumber(l, strings.LastIndex(l.text, name), h.lines[i+1:])
		case above && bold(l.text) != "":
			h.bold(i, strings.TrimSpace(bold(l.text)))
		case above && len(l.text) <= longestName:
			h.bare(i)
		}
	}
}

// follow keeps what stands above; level is 0 if the line is no heading.
func (h *headingMender) follow(line string, level int, name string) {
	if level > 0 && isOrderName(name) {
		h.order, h.named = level, true
	} else if h.named && (level > 0 && level <= h.order || itemPattern.MatchString(line)) {
		h.named = false
	}
	if level > 0 {
		h.above = append(h.above, head{name: name, level: level})
	}
}

// level returns the level of the heading above that names no partner, or 0.
func (h *headingMender) level() int {
	for _, above := range slices.Backward(h.above) {
		if !isPartner(above.name) {
			return above.level
		}
	}
	return 0
}

// tight writes the space behind the marks of a heading.
func (h *headingMender) tight(i int) {
	l := h.lines[i]
	at := tightPattern.FindStringSubmatchIndex(l.text)
	level, name := at[3]-at[2], l.text[at[4]:]
	if level > 1 && !strings.HasPrefix(name, "!") || isOrderName(name) || chartBelow(h.lines[i+1:], true) {
		h.above = append(h.above, head{name: name, level: level})
		h.write(extent{l.at.from + at[3], l.at.from + at[3]}, " ")
		h.slip(l.at, quoted(l.text)+" is read as a heading")
		h.unnumber(l, at[4], h.lines[i+1:])
	}
}

// bold writes a heading that stands in bold.
func (h *headingMender) bold(i int, name string) {
	if !isOrderName(name) && !chartBelow(h.lines[i+1:], false) {
		return
	}
	level := 2
	if above := h.level(); above > 0 && isPartner(name) {
		level = above + 1
	}
	h.above = append(h.above, head{name: name, level: level})
	h.write(h.lines[i].at, strings.Repeat("#", level)+" "+unnumbered(name))
	h.slip(h.lines[i].at, quoted(strings.TrimSpace(h.lines[i].text))+" is read as a heading")
}

// bare writes a heading that has no mark at all.
func (h *headingMender) bare(i int) {
	l := h.lines[i]
	n := namePattern.FindStringSubmatch(l.text)
	if n == nil {
		return
	}
	if isOrderName(n[1]) && !h.named && itemBelow(h.lines[i+1:]) || !strings.HasSuffix(l.text, ":") && chartBelow(h.lines[i+1:], false) && ordered(h.lines, n[1]) {
		h.above = append(h.above, head{name: n[1], level: 2})
		h.apart(h.lines, i)
		h.write(l.at, "## "+strings.TrimSpace(n[1]))
		h.slip(l.at, quoted(strings.TrimSpace(l.text))+" is read as a heading")
	}
}

func isHeading(line string) bool {
	marks, _ := heading(line)
	return marks != ""
}

// ordered reports whether a line names a figure, as another does: in the order.
func ordered(lines []textLine, name string) bool {
	key, said := Key(name), 0
	for _, l := range lines {
		if l.prose || l.blank() || len(l.text) > longestHeading {
			continue
		}
		text := l.text[len(cmp.Or(itemPattern.FindString(l.text), numbersPattern.FindString(l.text))):]
		if a, ok := leadOf(l.text); ok {
			text = l.text[a.to:]
		}
		at := say(text, func(name string) bool { return Key(name) == key }).name
		if Key(text[at.from:at.to]) == key {
			said++
		}
	}
	return said > 1
}

// unnumber takes the number from the heading of an order or of a figure, whose text begins at from.
func (m *mender) unnumber(l textLine, from int, below []textLine) {
	name := strings.TrimRight(l.text[from:], " \t#")
	number := numberPattern.FindString(name)
	if number == "" || len(number) == len(name) || !isOrderName(name) && !chartBelow(below, true) {
		return
	}
	m.write(extent{l.at.from + from, l.at.from + from + len(number)}, "")
	m.slip(l.at, "the number of the heading "+quoted(unnumbered(name))+" is left out")
}

// chartBelow reports whether a chart follows before the next heading; past says whether prose may stand between.
func chartBelow(lines []textLine, past bool) bool {
	for i, l := range lines {
		switch {
		case l.blank():
		case l.prose:
			if !past {
				return false
			}
		case chartHeading(l.text) != noChart, strings.IndexByte("|-0123456789", l.text[0]) < 0 && linedFrom(lines, i) > 0:
			return true
		case l.text[0] == '#' && isChartName(l.text):
		case strings.HasPrefix(l.text, "#") && (isHeading(l.text) || tightPattern.MatchString(l.text)), bold(l.text) != "":
			return false
		case past, looseFactPattern.MatchString(l.text):
		default:
			return false
		}
	}
	return false
}

// looseFactPattern matches a line that may be a fact, with or without its bullet.
var looseFactPattern = lazily(`^[ \t]*(?:[-*+•][ \t]|[*_]*\pL[\pL\pM ]{0,30}[*_]*:)`)

// itemBelow reports whether the next line that is not blank is an item of a list.
func itemBelow(lines []textLine) bool {
	for _, l := range lines {
		if !l.blank() {
			return !l.prose && itemPattern.MatchString(l.text) && !spokenSetting.MatchString(l.text)
		}
	}
	return false
}

// itemPattern matches a line as people begin an item of a list, up to its text.
var itemPattern = lazily(`^[ \t]*(?:[(#]?(\d{1,9})(?:[.):/]+[ \t]*|[ \t]*[-–—][ \t]+|[ \t]+)|((?:[-*+•·‣→➤–—]|[A-Za-z][.)]|[ivx]{1,4}[.)]|[①-⑳])[ \t]|[０-９]{1,3}[．.）)、：]|\d{1,2}\x{fe0f}?\x{20e3})[ \t]*(?:\[[ xX]\][ \t]+)?)`)
