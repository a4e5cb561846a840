package routine

import (
	"bytes"
	"errors"
	"slices"
	"strconv"
	"strings"
)

// OrderText is the order of a sheet as it stands in the sheet's text. Its methods return the text with
// the order changed; all that stands outside the order stays byte for byte.
//
// Lines count from 0. An OrderText is not changed: read the new text with [EditOrder] to go on.
type OrderText struct {
	text  []byte // whole
	head  []byte // up to the first line
	lines []orderLine
	eol   string // how a new line ends; others may end otherwise
	tail  []byte // where the first line would be, if there is none, and what follows
	parts []partText
	end   int // of text: where the last part ends
}

// Line is what a line of an order says: "Spot turn, steps 1–5 × 2 — with a smile".
type Line struct {
	Name   string
	Part   string // "steps 1–5", "first half"; "" if it is danced whole
	Times  int    // 1 to MostTimes; 0 is once
	Remark string
}

// String returns l as a sheet writes it.
func (l Line) String() string {
	text := l.Name
	if l.Part != "" {
		text += ", " + l.Part
	}
	if l.Times > 1 {
		text += " × " + strconv.Itoa(l.Times)
	}
	if l.Remark != "" {
		text += " — " + l.Remark
	}
	return text
}

// orderLine is one line of the list, with the settings below it.
type orderLine struct {
	mark orderMark
	text string // what follows the mark, to the end of the line's last setting, with its line end
	gap  []byte // up to the next line
	says Line
	sets map[string]extent // where the settings below it stand in text
	body int               // how much of text the line itself takes
	list int               // which of the order's lists it stands in
	part int               // and which of its parts
	in   string            // what that part is called; "" if it is none
	// names is the part that the line names; 0 for none.
	names int
}

// orderMark is what a list's line begins with: "  12. ".
type orderMark struct{ indent, number, after string }

func (m orderMark) String() string { return m.indent + m.number + m.after }

var orderMarkPattern = lazily(`^([ \t]*)(\d{1,9})([.)][ \t]+)`)

// errNoOrderText says that an order can't be changed where it stands.
var errNoOrderText = errors.New("the order can't be changed as it is written: write it as a numbered list, one figure on each line")

// EditOrder finds the order of a sheet in its text, so that it can be changed. An order in another form
// than a numbered list is written as one first. The error says why the order of such a sheet can't be
// changed.
func EditOrder(name string, text []byte, book Book) (*OrderText, error) {
	for range 2 { // what is mended is in form when it is read again
		s, f := parse(name, text, book)
		if i := slices.IndexFunc(f.list, func(f Finding) bool { return f.Code == "too-large" || f.Code == "not-utf8" }); i >= 0 {
			return nil, errors.New(f.list[i].Message)
		}
		if o, ok := s.orderText(text); ok {
			return o, nil
		}
		text = s.orderInForm(text)
	}
	return nil, errNoOrderText
}

// orderInForm returns a sheet's text with its order in Markdown's form.
func (s *Sheet) orderInForm(text []byte) []byte {
	from, to := s.asFiled(text, s.orderPos)
	form := unixLines(s.src.text[s.orderPos.from:s.orderPos.to])
	return slices.Concat(text[:from], bytes.ReplaceAll(form, []byte("\n"), []byte(lineEnding(text))), text[to:])
}

// unixLines returns a text with the line ends "\n".
func unixLines(text []byte) []byte {
	return bytes.ReplaceAll(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")), []byte("\r"), []byte("\n"))
}

// asFiled returns where whole lines stand in the sheet's file.
func (s *Sheet) asFiled(text []byte, lines extent) (from, to int) {
	from, to = s.src.asWritten(lines.from), s.src.asWritten(lines.to)
	if lines.to == len(s.src.text) {
		to = len(text)
	}
	return from, to
}

// lineEnding returns how the lines of a text end: as the first one does, or "\n".
func lineEnding(text []byte) string {
	i := bytes.IndexByte(text, lineEnd(text))
	switch {
	case i < 0:
		return "\n"
	case i > 0 && text[i] == '\n' && text[i-1] == '\r':
		return "\r\n"
	}
	return string(text[i])
}

// orderText cuts a text into the lines of its order. It returns false unless each item is a numbered line
// of its own.
func (s *Sheet) orderText(text []byte) (*OrderText, bool) {
	o := &OrderText{text: text, eol: lineEnding(text)}
	if len(s.written) == 0 {
		at := s.orderPlace(text)
		o.head, o.tail = text[:at], text[at:]
		return o, true
	}
	at, read := s.src.asWritten(s.orderPos.from), s.orderPos.from
	for i := range s.written {
		item := &s.written[i]
		from, to := s.asFiled(text, item.block)
		if from < at || to < from || from > 0 && text[from-1] != lineEnd(text) {
			return nil, false
		}
		if !bytes.Equal(unixLines(text[at:from]), unixLines(s.src.text[read:item.block.from])) {
			return nil, false // there is a heading that only looks like one
		}
		mark := orderMarkPattern.FindStringSubmatch(string(text[from:to]))
		if mark == nil {
			return nil, false
		}
		if i == 0 {
			o.head = text[:from]
		} else {
			o.lines[i-1].gap = text[at:from]
		}
		from += len(mark[0])
		line := orderLine{
			mark: orderMark{mark[1], mark[2], mark[3]}, text: string(text[from:to]), list: item.list, part: item.part, in: item.inPart, names: item.names,
			says: s.lineOf(item),
			body: s.src.asWritten(item.text.to) - from, sets: map[string]extent{},
		}
		if line.body < 0 || line.body > len(line.text) {
			return nil, false
		}
		for _, fact := range item.sets {
			set := extent{s.src.asWritten(fact.key.from), s.src.asWritten(fact.value.to)}
			if set.to < set.from || string(text[set.from:set.to]) != s.src.slice(extent{fact.key.from, fact.value.to}) {
				return nil, false
			}
			line.sets[fact.name] = extent{set.from - from, set.to - from}
		}
		o.lines = append(o.lines, line)
		at, read = to, item.block.to
	}
	o.tail = text[at:]
	o.parts, o.end = s.partTexts(text), len(text)
	if _, end := s.asFiled(text, s.orderPos); end >= at {
		o.end = end
	}
	return o, true
}

// lineOf returns what an item of the order says.
func (s *Sheet) lineOf(item *Item) Line {
	l := Line{Name: item.Name, Times: item.Times, Remark: item.Remark}
	switch {
	case item.steps[0] > 0:
		l.Part = Steps(item.steps[0]-1, item.steps[1])
	case item.share.unit != wholeFigure:
		l.Part = strings.Join(strings.Fields(s.src.slice(item.shareAt)), " ")
	}
	return l
}

// orderPlace returns where in a text without an item of an order the first one belongs.
func (s *Sheet) orderPlace(text []byte) int {
	if s.orderPos != (extent{}) {
		at := s.src.asWritten(s.orderPos.from)
		return at + lineLength(text[at:])
	}
	for _, fig := range s.Figures {
		at := fig.At.Start.Offset
		return bytes.LastIndexByte(text[:at], lineEnd(text)) + 1
	}
	return len(text)
}

// lineLength returns the length of a text's first line with its end.
func lineLength(text []byte) int {
	if i := bytes.IndexByte(text, lineEnd(text)); i >= 0 {
		return i + 1
	}
	return len(text)
}

// Len returns how many lines the order has.
func (o *OrderText) Len() int { return len(o.lines) }

// Line returns what a line says.
func (o *OrderText) Line(i int) Line { return o.lines[i].says }

// Part returns what the part of the order is called in which a line stands, "" if it stands above all parts, and whether
// it is the first line there.
func (o *OrderText) Part(line int) (name string, first bool) {
	return o.lines[line].in, line == 0 || o.lines[line-1].part != o.lines[line].part
}

// Text returns the whole text: the sheet's, with its order written as a list if it wasn't one. It is not to be
// changed.
func (o *OrderText) Text() []byte { return o.text }

// At returns the line that stands at an offset of Text; -1 if there is none.
func (o *OrderText) At(offset int) int {
	from := len(o.head)
	for i, line := range o.lines {
		to := from + len(line.mark.String()) + len(line.text)
		if from <= offset && offset < to {
			return i
		}
		from = to + len(line.gap)
	}
	return -1
}

// Setting returns the value of a setting below a line, or "".
func (o *OrderText) Setting(line int, setting string) string {
	return o.lines[line].setting(setting)
}

// Insert adds a line, so that it is line at; at is from 0 up to and with Len.
func (o *OrderText) Insert(at int, l Line) []byte {
	if len(o.lines) == 0 {
		return o.begun(l)
	}
	lines := slices.Clone(o.lines)
	near := &lines[max(at-1, 0)]
	line := orderLine{mark: near.mark, text: l.String() + o.eol, list: near.list}
	if at > 0 {
		blank := near.gap
		if at > 1 && (len(bytes.TrimSpace(blank)) > 0 || at == len(lines)) && lines[at-2].list == near.list {
			blank = lines[at-2].gap
		}
		if len(bytes.TrimSpace(blank)) > 0 || at == 1 && at == len(lines) {
			blank = nil
		}
		line.gap, near.gap = near.gap, blank
	} else if len(lines) > 1 && len(bytes.TrimSpace(near.gap)) == 0 {
		line.gap = near.gap
	}
	return o.with(slices.Insert(lines, at, line))
}

// begun returns the text with an order of one line.
func (o *OrderText) begun(l Line) []byte {
	var out bytes.Buffer
	out.Write(o.head)
	space := func() {
		if n := out.Len(); n > 0 && out.Bytes()[n-1] != o.last() {
			out.WriteString(o.eol)
		}
		above := bytes.TrimSuffix(out.Bytes(), []byte{o.last()})
		if above = above[bytes.LastIndexByte(above, o.last())+1:]; len(bytes.TrimSpace(above)) > 0 {
			out.WriteString(o.eol)
		}
	}
	space()
	if _, name := heading(lastLine(o.head)); !isOrderName(name) {
		out.WriteString("## Order" + o.eol)
		space()
	}
	out.WriteString("1. " + l.String() + o.eol)
	if below := o.tail[:lineLength(o.tail)]; len(bytes.TrimSpace(below)) > 0 {
		space()
	}
	out.Write(o.tail)
	return out.Bytes()
}

// lastLine returns the last line of a text that isn't blank.
func lastLine(text []byte) string {
	text = bytes.TrimSpace(text)
	return string(text[bytes.LastIndexByte(text, lineEnd(text))+1:])
}

// Remove takes a line out, with its settings.
func (o *OrderText) Remove(at int) []byte {
	lines := slices.Clone(o.lines)
	if at > 0 {
		before, gap := &lines[at-1], lines[at].gap
		if at == len(lines)-1 && len(bytes.TrimSpace(before.gap)) == 0 {
			before.gap = nil
		} else if len(bytes.TrimSpace(gap)) == 0 {
			gap = nil
		}
		before.gap = slices.Concat(before.gap, gap)
		return o.with(slices.Delete(lines, at, at+1))
	}
	next := *o
	if gap := lines[at].gap; len(bytes.TrimSpace(gap)) > 0 {
		next.head = slices.Concat(o.head, gap)
	}
	return next.with(lines[1:])
}

// Move takes a line with its settings to another place, so that it is line to.
func (o *OrderText) Move(from, to int) []byte {
	lines := slices.Clone(o.lines)
	moved := lines[from]
	lines = slices.Insert(slices.Delete(lines, from, from+1), to, moved)
	for i := range lines { // numbers and gaps stay where they are
		lines[i].mark, lines[i].gap, lines[i].list = o.lines[i].mark, o.lines[i].gap, o.lines[i].list
		lines[i].text = indented(lines[i].text, len(lines[i].mark.String())-len(o.lines[origin(i, from, to)].mark.String()))
	}
	return o.with(lines)
}

// Over takes a line over the heading below it, or above it, into the next part of the order. It returns nil if there
// is no heading.
func (o *OrderText) Over(at int, up bool) []byte {
	beside, above := at+1, at
	if up {
		beside, above = at-1, at-1
	}
	if beside < 0 || beside == len(o.lines) || o.lines[beside].part == o.lines[at].part {
		return nil
	}
	next, lines := *o, slices.Clone(o.lines)
	line, headings := &lines[at], lines[above].gap
	with := func(gap []byte) []byte { // what isn't blank stays
		if len(bytes.TrimSpace(gap)) == 0 {
			return nil
		}
		return gap
	}
	switch {
	case up:
		lines[beside].gap, line.gap = nil, slices.Concat(headings, bytes.TrimPrefix(with(line.gap), []byte(o.eol)))
	case at == 0:
		next.head, line.gap = slices.Concat(o.head, headings), nil
	default:
		lines[at-1].gap, line.gap = slices.Concat(with(lines[at-1].gap), headings), nil
	}
	line.text = indented(line.text, len(lines[beside].mark.String())-len(line.mark.String()))
	line.mark, line.list = lines[beside].mark, lines[beside].list
	return next.with(lines)
}

// origin returns where line i was before a line was moved.
func origin(i, from, to int) int {
	switch {
	case i == to:
		return from
	case from <= i && i < to:
		return i + 1
	case to < i && i <= from:
		return i - 1
	}
	return i
}

// Write replaces what a line says; its settings stay.
func (o *OrderText) Write(at int, l Line) []byte {
	lines := slices.Clone(o.lines)
	lines[at].text = l.String() + lines[at].text[lines[at].body:]
	return o.with(lines)
}

// Set sets something below a line, as in "tempo", "24 bars/min"; "" as the value takes it away.
func (o *OrderText) Set(at int, setting, value string) []byte {
	lines := slices.Clone(o.lines)
	lines[at].text = o.set(&lines[at], setting, value)
	return o.with(lines)
}

// set returns a line's text with something set below it.
func (o *OrderText) set(line *orderLine, setting, value string) string {
	set, ok := line.sets[setting]
	switch {
	case value == "" && !ok:
		return line.text
	case value == "":
		from := strings.LastIndexByte(line.text[:set.from], o.last()) + 1
		to := len(line.text)
		if i := strings.IndexByte(line.text[set.to:], o.last()); i >= 0 {
			to = set.to + i + 1
		}
		return line.text[:from] + line.text[to:]
	case ok:
		return line.text[:set.from] + setting + ": " + value + line.text[set.to:]
	}
	return o.ended(line.text) + strings.Repeat(" ", len(line.mark.String())) + "- " + setting + ": " + value + o.eol
}

var (
	titleHeading = lazily(`(?m)^(#[ \t]+)[^\r\n]*`)
)

// Titled returns a sheet's text with another title: where its settings name one, or else in its first
// heading.
func Titled(text []byte, title string) []byte {
	title = Plain(strings.TrimSpace(title))
	_, end := frontEnd(text)
	if _, _, ok := topSetting(text, "title"); ok {
		return WithSetting(text, "title", strconv.Quote(title))
	}
	if m := titleHeading.FindSubmatchIndex(text[end:]); m != nil {
		return slices.Concat(text[:end+m[3]], []byte(title), text[end+m[1]:])
	}
	eol := lineEnding(text)
	return slices.Concat(text[:end], []byte(eol+eol+"# "+title), text[end:])
}

var (
	topRemark = lazily(`[ \t]+#.*$`) // behind the value of a setting
	topBullet = lazily(`^[-*+•][ \t]+`)
)

// mostTop is how many lines are looked at for settings that are not between lines of "---".
const mostTop = 30

// topSetting returns where a setting at the top of a text has its value, and where its line begins and ends.
func topSetting(text []byte, key string) (value, line extent, ok bool) {
	front, _ := frontEnd(text)
	end := lineEnd(text)
	for n, at := 0, front.from; at < len(text) && (at < front.to || front.to == 0 && n < mostTop); n++ {
		next := len(text)
		if i := bytes.IndexByte(text[at:], end); i >= 0 {
			next = at + i + 1
		}
		said := strings.TrimRight(string(text[at:next]), " \t\r\n")
		if m := settingPattern.FindStringSubmatchIndex(said); m != nil && SettingNamed(said[m[2]:m[3]]) == key {
			written := said[m[4]:m[5]]
			if written[0] != '"' && written[0] != '\'' || strings.LastIndexByte(written, written[0]) == 0 {
				written = topRemark.ReplaceAllString(written, "")
			} else if i := strings.LastIndexByte(written, written[0]); topRemark.MatchString(written[i:]) {
				written = written[:i+1]
			}
			return extent{at + m[4], at + m[4] + len(written)}, extent{at, next}, true
		}
		if _, name := heading(said); isOrderName(name) {
			break
		}
		at = next
	}
	return extent{}, extent{}, false
}

// TopSetting returns the value of a setting at the top of a sheet's text as it is written there, or "".
func TopSetting(text []byte, key string) string {
	at, _, _ := topSetting(text, key)
	return string(text[at.from:at.to])
}

// WithSetting returns a sheet's text with a setting at its top, as in "tempo", "28 bars/min"; "" as the value takes it
// away. The value is written as it is. It returns the text as it is if it doesn't name its dance.
func WithSetting(text []byte, key, value string) []byte {
	at, line, ok := topSetting(text, key)
	switch {
	case ok && value == "":
		return slices.Concat(text[:line.from], text[line.to:])
	case ok:
		return slices.Concat(text[:at.from], []byte(value), text[at.to:])
	case value == "":
		return text
	}
	at, line, ok = topSetting(text, "dance")
	if !ok {
		return text
	}
	bullet := topBullet.FindString(string(text[line.from:line.to]))
	return slices.Concat(text[:line.to], []byte(bullet+key+": "+value+lineEnding(text)), text[line.to:])
}

// with returns the whole text with other lines, whose numbers go on from each other as they did.
func (o *OrderText) with(lines []orderLine) []byte {
	var out bytes.Buffer
	out.Write(o.head)
	counted := o.counted()
	for i, line := range lines {
		if mark := line.mark; counted[line.list] > 0 {
			line.mark.number = strconv.Itoa(counted[line.list])
			counted[line.list]++
			line.text = indented(line.text, len(line.mark.number)-len(mark.number))
		}
		if last := i == len(lines)-1 && len(line.gap) == 0 && len(o.tail) == 0; !last {
			line.text = o.ended(line.text)
		}
		out.WriteString(line.mark.String() + line.text)
		out.Write(line.gap)
	}
	out.Write(o.tail)
	return out.Bytes()
}

// last returns what every line of the text ends in, whatever comes before it.
func (o *OrderText) last() byte { return o.eol[len(o.eol)-1] }

// ended returns a line's text with a line end, if it has none.
func (o *OrderText) ended(text string) string {
	if text != "" && text[len(text)-1] == o.last() {
		return text
	}
	return text + o.eol
}

// counted returns the first number of each list whose lines are numbered one after the other.
func (o *OrderText) counted() map[int]int {
	first, next := map[int]int{}, map[int]int{}
	for _, line := range o.lines {
		n, err := strconv.Atoi(line.mark.number)
		switch want, seen := next[line.list]; {
		case err != nil, line.mark.number != strconv.Itoa(n), seen && n != want:
			first[line.list] = -1
		case !seen:
			first[line.list] = n
		}
		next[line.list] = n + 1
	}
	for list, n := range first {
		if n == 0 {
			first[list] = -1
		}
	}
	return first
}

// indented moves the settings below a line by a number of spaces.
func indented(text string, by int) string {
	lines := strings.SplitAfter(text, "\n")
	for i, line := range lines {
		switch rest := strings.TrimLeft(line, " "); {
		case i == 0 || rest == line:
		case by > 0:
			lines[i] = strings.Repeat(" ", by) + line
		default:
			lines[i] = line[min(-by, len(line)-len(rest)-1):]
		}
	}
	return strings.Join(lines, "")
}
