package routine

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
)

// partText is a part of the order as it stands in the sheet's text; the first is what stands right below the order's
// heading.
type partText struct {
	name    string
	level   int    // of its heading
	heading extent // its whole lines; empty if they are not in Markdown's form
	stands  bool   // it is danced where it stands
}

// partTexts finds the parts of an order in the sheet's text.
func (s *Sheet) partTexts(text []byte) (parts []partText) {
	for _, part := range s.parts {
		p := partText{name: part.name, level: part.level, stands: part.stands}
		if from, to := s.asFiled(text, part.lines); from < to && bytes.Equal(unixLines(text[from:to]), unixLines(s.src.text[part.lines.from:part.lines.to])) {
			p.heading = extent{from, to}
		}
		parts = append(parts, p)
	}
	return parts
}

// Names returns the part of the order that a line names, as a number for Span; 0 for none.
func (o *OrderText) Names(line int) (part int) { return o.lines[line].names }

// In returns the part in which a line stands; 0 is above all parts.
func (o *OrderText) In(line int) (part int) { return o.lines[line].part }

// Parts returns how many parts the order has, with what stands above them.
func (o *OrderText) Parts() int { return len(o.parts) }

// PartSpan returns the lines of a part, from one up to, but not including, another, and what it is called.
func (o *OrderText) PartSpan(part int) (name string, from, to int) {
	for i := range o.lines {
		if o.lines[i].part == part {
			if to == 0 {
				from = i
			}
			to = i + 1
		}
	}
	return o.parts[part].name, from, to
}

// Stands reports whether a part is danced where it stands, so that a line above it that names it would take it away
// from there.
func (o *OrderText) Stands(part int) bool { return o.parts[part].stands }

// Gather makes a part of some lines, from one up to, but not including, another, and puts a line that names it in their
// place. The part goes before another part, or as Parts behind the last. It returns nil if the lines stand in different
// parts, or the place can't be found.
func (o *OrderText) Gather(from, to int, name string, before int) []byte {
	at := o.end
	if before < len(o.parts) {
		if at = o.parts[before].heading.from; o.parts[before].heading == (extent{}) {
			return nil
		}
	}
	if o.lines[from].part != o.lines[to-1].part {
		return nil
	}
	next := o.spliced(extent{at, at}, o.section(from, to, name, at))
	if next == nil {
		return nil
	}
	lines := slices.Clone(next.lines)
	var kept []byte
	for _, l := range lines[from : to-1] {
		kept = append(kept, unblank(l.gap)...)
	}
	lines[from].text = name + o.eol
	lines[from].gap = slices.Concat(kept, lines[to-1].gap)
	return next.with(slices.Delete(lines, from+1, to))
}

// section returns a part with a heading, made of some lines, to be put in somewhere.
func (o *OrderText) section(from, to int, name string, at int) []byte {
	var out bytes.Buffer
	above := bytes.TrimSuffix(o.text[:at], []byte(o.eol))
	if len(above) == at || !bytes.HasSuffix(above, []byte{o.last()}) { // no blank line is above it
		out.WriteString(o.eol)
	}
	level := min(o.parts[0].level+1, 6)
	if len(o.parts) > 1 {
		level = o.parts[1].level
	}
	out.WriteString(strings.Repeat("#", level) + " " + name + o.eol + o.eol)
	for i, l := range o.lines[from:to] {
		mark := orderMark{number: l.mark.number, after: l.mark.after}
		if o.counted()[l.list] > 0 {
			mark.number = strconv.Itoa(i + 1)
		}
		out.WriteString(mark.String() + indented(o.ended(l.text), len(mark.String())-len(l.mark.String())))
	}
	if at < len(o.text) {
		out.WriteString(o.eol)
	}
	return out.Bytes()
}

// Apart puts the lines of the part that a line names in the line's place, as many times as it says; if drop is set, the
// part itself goes. It returns nil if that can't be done.
func (o *OrderText) Apart(at int, drop bool) []byte {
	part := o.lines[at].names
	_, from, to := o.PartSpan(part)
	if part == 0 || from == to || from <= at && at < to {
		return nil
	}
	next, put := o, o.unfolded(at, from, to)
	put[len(put)-1].gap = o.lines[at].gap
	if drop {
		if next = o.withoutHeading(part); next == nil {
			return nil
		}
		put[len(put)-1].gap = next.lines[at].gap
	}
	lines := slices.Replace(slices.Clone(next.lines), at, at+1, put...)
	if !drop {
		return next.with(lines)
	}
	if at < from {
		from, to = from+len(put)-1, to+len(put)-1
	}
	return next.withoutLines(lines, from, to)
}

// RemovePart takes a part out, with its lines; what else stands there stays. It returns nil if that can't be done.
func (o *OrderText) RemovePart(part int) []byte {
	_, from, to := o.PartSpan(part)
	next := o.withoutHeading(part)
	if from == to || next == nil {
		return nil
	}
	return next.withoutLines(slices.Clone(next.lines), from, to)
}

// Ungroup takes the heading of a part away that is danced where it stands, so that its lines go on from those above. It
// returns nil if that can't be done.
func (o *OrderText) Ungroup(part int) []byte {
	_, from, to := o.PartSpan(part)
	next := o.withoutHeading(part)
	if part == 0 || next == nil {
		return nil
	}
	lines := slices.Clone(next.lines)
	if from > 0 && from < to {
		above := lines[from-1]
		if len(bytes.TrimSpace(above.gap)) == 0 {
			lines[from-1].gap = nil
		}
		for i, list := from, lines[from].list; i < to && lines[i].list == list; i++ {
			lines[i].text = indented(lines[i].text, len(above.mark.String())-len(lines[i].mark.String()))
			lines[i].mark, lines[i].list = above.mark, above.list
		}
	}
	return next.with(lines)
}

// unfolded returns the lines of a part as they are written in place of a line that names it: as many times as it says,
// and with what it sets.
func (o *OrderText) unfolded(at, from, to int) (put []orderLine) {
	names := &o.lines[at]
	times := max(names.says.Times, 1)
	for time := range times {
		for i := from; i < to; i++ {
			l := o.lines[i]
			first, last := time == 0 && i == from, time == times-1 && i == to-1
			for _, setting := range []string{"tempo", "count", "ends", "corner"} {
				value := names.setting(setting)
				_, own := l.sets[setting]
				if forLast := setting == "ends" || setting == "corner"; value != "" && (last && forLast || !own && !forLast) {
					l.text = o.set(&l, setting, value)
				}
			}
			if first && l.says.Remark == "" && names.says.Remark != "" {
				l.text = l.text[:l.body] + " — " + names.says.Remark + l.text[l.body:]
			}
			l.text = indented(o.ended(l.text), len(names.mark.String())-len(l.mark.String()))
			l.mark, l.list, l.gap = names.mark, names.list, nil
			put = append(put, l)
		}
	}
	return put
}

// withoutHeading returns o without the heading of a part, and the blank lines below it; nil if it can't be taken out.
func (o *OrderText) withoutHeading(part int) *OrderText {
	at := o.parts[part].heading
	if at == (extent{}) {
		return nil
	}
	for at.to < len(o.text) {
		line := lineLength(o.text[at.to:])
		if len(bytes.TrimSpace(o.text[at.to:at.to+line])) > 0 {
			break
		}
		at.to += line
	}
	return o.spliced(at, nil)
}

// withoutLines returns the text with some lines taken out of others; what stands between them and isn't blank stays.
func (o *OrderText) withoutLines(lines []orderLine, from, to int) []byte {
	next := *o
	above := &next.head
	if from > 0 {
		above = &lines[from-1].gap
		*above = unblank(*above)
	}
	var kept []byte
	for i := from; i < to; i++ {
		kept = append(kept, unblank(lines[i].gap)...)
	}
	if last := lines[to-1].gap; len(kept) == 0 && from > 0 && to < len(lines) {
		kept = last
	}
	*above = slices.Concat(*above, kept)
	return next.with(slices.Delete(lines, from, to))
}

// spliced returns o with a stretch of its text replaced that lies between lines; nil if it doesn't.
func (o *OrderText) spliced(at extent, text []byte) *OrderText {
	next := *o
	next.lines = slices.Clone(o.lines)
	begins, done := 0, false
	within := func(gap []byte) []byte {
		from, to := at.from-begins, at.to-begins
		begins += len(gap)
		if done || from < 0 || to > len(gap) {
			return gap
		}
		done = true
		return slices.Concat(gap[:from], text, gap[to:])
	}
	next.head = within(o.head)
	for i := range next.lines {
		l := &next.lines[i]
		begins += len(l.mark.String()) + len(l.text)
		l.gap = within(l.gap)
	}
	next.tail = within(o.tail)
	if !done {
		return nil
	}
	return &next
}

// unblank returns what stands between two lines, nil if it is only blank.
func unblank(gap []byte) []byte {
	if len(bytes.TrimSpace(gap)) == 0 {
		return nil
	}
	return gap
}

// setting returns the value of a setting below a line, or "".
func (l *orderLine) setting(name string) string {
	set, ok := l.sets[name]
	if !ok {
		return ""
	}
	_, value, _ := strings.Cut(l.text[set.from:set.to], ":")
	return strings.TrimSpace(value)
}
