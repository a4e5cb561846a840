package routine

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
)

// orderPart is one section of the order: what stands right below "Order", or a part with a heading of its own.
type orderPart struct {
	name   string
	at     extent
	level  int    // of its heading
	lines  extent // those of its heading
	stands bool   // it is danced where it stands
	items  []Item
}

// has reports whether the sheet, or the book of a sheet that isn't a chapter, has a figure of that name.
func (p *parser) has(name string) bool {
	if p.sheet.Defines {
		return p.sheet.byKey[Key(name)] != nil
	}
	return p.sheet.figure(name) != nil
}

// order reads the numbered lists of the order and of its parts.
func (p *parser) order(sections []*section) {
	p.sheet.orderAt = sections[0].at
	p.sheet.orderPos = extent{sections[0].pos, lineStart(p.src.text, min(sections[len(sections)-1].until, len(p.src.text)))}
	lists, found := 0, len(p.list)
	parts := make([]orderPart, len(sections))
	names := map[string]bool{}
	for i, sec := range sections[1:] {
		parts[i+1].name = sec.name
		names[Key(sec.name)] = true
	}
	known := func(name string) bool { return names[Key(name)] || p.has(name) }
	for i, sec := range sections {
		parts[i].at, parts[i].level, parts[i].lines = sec.at, sec.level, p.headingLines(sec)
		for _, b := range sec.blocks {
			if list, ok := b.(*ast.List); ok && list.IsOrdered() {
				lists++
				parts[i].items = slices.Grow(parts[i].items, list.ChildCount())
				for n := list.FirstChild(); n != nil; n = n.NextSibling() {
					if item, ok := p.orderItem(n, known); ok {
						item.list, item.block, item.part, item.inPart = lists, p.blockOf(n), i, parts[i].name
						parts[i].items = append(parts[i].items, item)
					}
				}
				continue
			}
			p.besideOrder(b, known)
		}
		if i > 0 && len(parts[i].items) == 0 && p.has(sec.name) {
			p.add("order-not-read", sec.at, "this figure is not danced: it is a heading", "number each figure that is danced: \"1. Closed basic\"")
		}
		p.sheet.written = append(p.sheet.written, parts[i].items...)
	}
	if len(p.sheet.written) == 0 {
		p.orderEmpty(sections, found)
	}
	p.perform(parts)
}

// orderEmpty reports an order without items, in place of the findings from "found" on, which say of each of its lines that it
// is none.
func (p *parser) orderEmpty(sections []*section, found int) {
	const message, hint = "the order has no figures", "write a numbered list with one figure per line: \"1. Closed basic\""
	lines := p.list[found:]
	if slices.ContainsFunc(lines, func(f Finding) bool { return f.Severity == Error }) {
		return
	}
	p.list = p.list[:found]
	if len(lines) > 0 {
		p.list = append(p.list, NewFinding("order-empty", lines[0].Span, message+": this is not read as one", hint))
		return
	}
	var where []Related
	for _, sec := range sections {
		for _, b := range sec.blocks {
			if lines := p.linesIn(b); len(lines) > 0 && where == nil {
				where = []Related{{p.src.span(lines[0].from, lines[0].to), "this is not read as one"}}
			}
		}
	}
	p.add("order-empty", sections[0].at, message, hint, where...)
}

// headingLines returns the whole lines of a section's heading.
func (p *parser) headingLines(sec *section) extent {
	lines := extent{lineStart(p.src.text, sec.at.from), lineAt(p.src.text, sec.at.to)}
	if marks, _ := heading(p.src.slice(lines)); marks == "" && lines.to < len(p.src.text) {
		lines.to = lineAt(p.src.text, lines.to) // it is underlined
	}
	return lines
}

// besideOrder reports a block in the order that is not read, unless it is prose.
func (p *parser) besideOrder(b ast.Node, known func(string) bool) {
	const hint = "number each figure that is danced: \"1. Closed basic\""
	switch b := b.(type) {
	case *ast.List:
		for item := b.FirstChild(); item != nil; item = item.NextSibling() {
			if at := p.itemText(item); at != (extent{}) {
				p.add("order-not-read", at, "this is not danced: it has no number", hint)
			}
		}
	case *table:
		if p.isChart(&b.text) {
			p.add("chart-broken", p.extentOf(b), noName, nameHint)
			return
		}
		p.add("order-not-read", p.extentOf(b), "this table is not danced", hint)
	default:
		for _, at := range p.linesIn(b) {
			switch text := p.src.slice(at); {
			case saysDance(text, known):
				p.add("order-not-read", at, "this is not danced: it is no item of the list", hint)
			default:
				p.settingBeside(at)
			}
		}
	}
}

// saysDance reports whether a line of the order that is no item says what is danced.
func saysDance(text string, known func(string) bool) bool {
	text = strings.Trim(htmlTag.ReplaceAllString(unmarked(text), ""), "> \t")
	text = text[len(cmp.Or(itemPattern.FindString(text), numbersPattern.FindString(text))):]
	if a, ok := leadOf(text); ok {
		text = text[a.to:]
	}
	text = strings.TrimLeft(text, "(")
	times := timesAfter.FindStringIndex(strings.TrimRight(text, ").! "))
	if againPattern.MatchString(text) || times != nil && times[0] == 0 {
		return true
	}
	text = text[len(goOnPattern.FindString(text)):]
	names := func(text string) bool {
		name := say(text, known).name
		return known(headingText(text[name.from:name.to]))
	}
	if _, after, found := strings.Cut(text, ":"); names(text) || found && names(after) {
		return true
	}
	return namesParts(text, known)
}

// settingBeside reports a line that sets what is read elsewhere: "Tempo: 28 bars/min".
func (p *parser) settingBeside(at extent) {
	s := settingPattern.FindStringSubmatch(p.src.slice(at))
	if s == nil || !strings.ContainsAny(s[2], "0123456789") {
		return
	}
	switch name := SettingNamed(s[1]); name {
	case "tempo", "lead-in", "floor", "metre", "phrases":
		p.add("unknown-setting", at, quoted(name)+" is not read here", "write a setting of the whole sheet at the top, and one of a figure below its line of the order: \"   - tempo: 24 bars/min\"")
	}
}

// namesParts reports whether a line names figures or parts, of which letters are enough: "A, then B twice".
func namesParts(line string, known func(string) bool) bool {
	isPart := func(text string) bool {
		name := say(text, known).name
		text = headingText(text[name.from:name.to])
		return text != "" && (known(text) || known("Part "+text))
	}
	words := strings.Fields(line)
	if len(words) > 1 && !slices.ContainsFunc(words, func(w string) bool { return !isPart(w) }) {
		return true
	}
	return slices.ContainsFunc(betweenFigures.compiled().Split(strings.ReplaceAll(line, "|", ","), -1), isPart)
}

// htmlTag matches a tag of HTML, as texts from a web page have them.
var htmlTag = lazily(`</?[A-Za-z][^<>]*>`)

// linesIn returns the lines of a block, and of the blocks in it.
func (p *parser) linesIn(n ast.Node) (lines []extent) {
	if n.Type() != ast.TypeBlock {
		return nil
	}
	if t, ok := n.(*table); ok {
		return slices.DeleteFunc(slices.Concat(t.text.cells...), func(at extent) bool { return at.from == at.to })
	}
	for i := range n.Lines().Len() {
		segment := n.Lines().At(i)
		if at := p.trimmed(extent{segment.Start, segment.Stop}); at.from < at.to {
			lines = append(lines, at)
		}
	}
	for child := n.FirstChild(); child != nil; child = child.NextSibling() {
		lines = append(lines, p.linesIn(child)...)
	}
	return lines
}

// blockOf returns the whole lines that a block and all in it take.
func (p *parser) blockOf(n ast.Node) extent {
	lines := p.linesIn(n)
	return extent{lineStart(p.src.text, lines[0].from), lineAt(p.src.text, lines[len(lines)-1].to)}
}

// lineStart returns where the line at an offset begins; len(text) stays.
func lineStart(text []byte, at int) int {
	if at == len(text) {
		return at
	}
	return bytes.LastIndexByte(text[:at], '\n') + 1
}

// orderItem reads an item of the list and the settings below it.
func (p *parser) orderItem(n ast.Node, known func(string) bool) (item Item, ok bool) {
	at := p.itemText(n)
	if at == (extent{}) {
		p.add("order-empty", extent{n.Pos(), n.Pos()}, "this item of the order does not name a figure", "")
		return item, false
	}
	rest := unstruck(p.src.slice(at), known)
	rest = extent{at.from + rest.from, at.from + rest.to}
	for _, out := range []extent{{at.from, rest.from}, {rest.to, at.to}} {
		if out = p.trimmed(out); out.from < out.to {
			p.add("struck-out", out, quoted(p.src.slice(out))+" is struck out, so it is not danced", "")
		}
	}
	if rest.from == rest.to {
		return item, false
	}
	item = p.item(rest, known)
	for child := n.FirstChild(); child != nil; child = child.NextSibling() {
		if list, ok := child.(*ast.List); ok {
			p.settingsIn(&item, list, known)
		} else if child != n.FirstChild() {
			p.besideOrder(child, known)
		}
	}
	return item, true
}

// struck matches what is struck out.
//
// Source: GitHub Flavored Markdown, 6.5 Strikethrough (extension).
const struck = `(?:~~[^~]+~~|~[^\s~](?:[^~]*[^\s~])?~)`

var (
	struckPattern = lazily(struck)
	struckBefore  = lazily(`^\s*` + struck + `\s*(?:[→>]\s*)?`)
	struckAfter   = lazily(`(?:\s+(?:—|–|-|--))?\s*` + struck + `\s*$`)
)

// unstruck returns what is left of an item without what is struck out at its start and its end; it is empty if only a
// remark is left.
func unstruck(text string, known func(string) bool) extent {
	at := extent{0, len(text)}
	if !strings.Contains(text, "~") {
		return at
	}
	at = extent{len(text) - len(strings.TrimLeft(text, " \t,;:")), len(strings.TrimRight(text, afterName))}
	if at.from >= at.to {
		return extent{len(text), len(text)}
	}
	for m := struckAfter.FindStringIndex(text[:at.to]); m != nil; m = struckAfter.FindStringIndex(text[:at.to]) {
		at.to = m[0]
	}
	at.to = max(at.from, at.to)
	for m := struckBefore.FindStringIndex(text[at.from:at.to]); m != nil; m = struckBefore.FindStringIndex(text[at.from:at.to]) {
		at.from += m[1]
	}
	rest := strings.TrimLeft(text[at.from:at.to], " \t,;:")
	if name := say(rest, known).name; at.from > 0 && (name.from == name.to || strings.IndexAny(rest, "([-–—") == 0) {
		return extent{len(text), len(text)}
	}
	return at
}

// settingsIn reads the bullets of a list below an item.
func (p *parser) settingsIn(item *Item, list *ast.List, known func(string) bool) {
	for entry := list.FirstChild(); entry != nil; entry = entry.NextSibling() {
		at := p.itemText(entry)
		if name := say(p.src.slice(at), known).name; known(headingText(p.src.slice(extent{at.from + name.from, at.from + name.to}))) {
			p.add("order-not-read", at, "this is not danced: it stands below another figure", "write it as an item of its own, with its number at the left")
		} else {
			p.setting(item, at)
		}
		for child := entry.FirstChild(); child != nil; child = child.NextSibling() {
			if list, ok := child.(*ast.List); ok {
				p.settingsIn(item, list, known)
			}
		}
	}
}

// item reads "Spot turn, steps 1–5 × 2 — with a smile".
func (p *parser) item(at extent, known func(string) bool) Item {
	text := p.src.slice(at)
	said := say(text, known)
	within := func(part extent) extent { return extent{at.from + part.from, at.from + part.to} }
	item := Item{At: p.src.span(at.from, at.to), Times: said.times, text: at, steps: said.steps, share: said.share, shareAt: within(said.shareAt), name: within(said.name)}
	item.Name = headingText(text[said.name.from:said.name.to])
	var remarks []string
	for _, r := range said.remarks {
		item.remarks = append(item.remarks, within(r))
		remarks = append(remarks, headingText(text[r.from:r.to]))
	}
	item.Remark = strings.Join(remarks, ", ")
	if item.Times < 1 || item.Times > MostTimes {
		p.add("repeat-range", within(said.timesAt), fmt.Sprintf("a figure can be danced 1 to %d times", MostTimes), "")
		item.Times = 1
	}
	if said.twice {
		p.add("said-twice", at, "the number of times, or the steps, is given twice", "keep one")
	}
	if item.Name == "" {
		p.add("order-empty", at, "this item of the order does not name a figure", "")
	}
	return item
}

const remarkHint = "a remark stands behind the figure: \"1. Fan — softly\""

var settingNames = []string{"tempo", "ends", "count", "corner"}

// setting reads a nested bullet of an item.
func (p *parser) setting(item *Item, at extent) {
	if at == (extent{}) {
		return
	}
	fact, ok := p.splitFact(at)
	if !ok {
		p.add("unknown-setting", at, "this is not a setting", "write \"tempo: 24 bars/min\", \"ends: open facing\", \"count: words\" or \"corner: after\"; "+remarkHint)
		return
	}
	value := p.src.slice(fact.value)
	switch fact.name {
	case "tempo":
		var err error
		if item.Tempo, item.TempoTo, err = ParseTempo(value, p.sheet.Dance.Metre); err != nil {
			p.add("tempo-unreadable", fact.value, err.Error(), "write 24 bars/min, 96 beats/min, or 24 to 28 bars/min")
			item.Tempo, item.TempoTo = 0, 0
		}
	case "ends":
		st := p.stance(fact.value)
		if st.AsStarted || st.Free != [2]Foot{} || st.Facing != [2]Alignment{} {
			p.add("bad-value", fact.value, "only the hold, the hands or the position can be set for an item", "feet and directions follow from the steps")
		}
		item.Ends, item.Hands = st.Positions, st.Hands
		item.ends = fact.value
	case "count":
		if item.Style, ok = ParseCountStyle(value); !ok {
			p.add("bad-value", fact.value, quoted(value)+" is not a way to count", styleHint)
		}
	case "corner":
		if item.Corner = Key(value) == "after"; !item.Corner {
			p.add("bad-value", fact.value, quoted(value)+" does not say when the corner is taken", "write \"after\": the figures that follow are danced along the new line of dance")
		}
	default:
		p.add("unknown-setting", fact.key, quoted(fact.name)+" can't be set for an item", didYouMean(fact.name, settingNames)+"; "+remarkHint)
		return
	}
	if slices.ContainsFunc(item.sets, func(f factText) bool { return f.name == fact.name }) {
		p.add("said-twice", fact.key, quoted(fact.name)+" is set twice for this item", "keep one")
	}
	item.sets = append(item.sets, fact)
}
