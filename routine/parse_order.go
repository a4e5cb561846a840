package routine

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	gmtext "github.com/yuin/goldmark/text"
)

var (
	remarkPattern = regexp.MustCompile(`(?s)\s+(?:—|–|-|--)\s+`)
	timesPattern  = regexp.MustCompile(`(?:\s*,?\s*×|(?:^|[\s,])x)\s*(\d+)\s*$`) // an x that ends a word is a letter
	stepsPattern  = regexp.MustCompile(`(?i)\s*,?\s*\bsteps?\s+(\d+)(?:\s*(?:–|—|-|to)\s*(\d+))?\s*$`)
)

// order reads the numbered list below the heading "Order".
func (p *parser) order(sec *section) {
	p.sheet.orderAt = sec.at
	inList := false
	for _, b := range sec.blocks {
		if list, ok := b.(*ast.List); ok && list.IsOrdered() {
			inList = true
			for n := list.FirstChild(); n != nil; n = n.NextSibling() {
				p.orderItem(n)
			}
			continue
		}
		if inList = inList && SetsItem(p.src.text, b); inList && len(p.sheet.Items) > 0 {
			p.settingsIn(&p.sheet.Items[len(p.sheet.Items)-1], b)
		}
	}
	if len(p.sheet.Items) == 0 {
		p.add("order-empty", sec.at, "the order has no figures", "write a numbered list with one figure per line: \"1. Closed basic\"")
	}
}

// orderItem reads an item of the list and the settings below it.
func (p *parser) orderItem(n ast.Node) {
	at := p.itemText(n)
	if at == (extent{}) {
		p.add("order-empty", extent{n.Pos(), n.Pos()}, "this item of the order does not name a figure", "")
		return
	}
	name, settings := p.bullets(at)
	item := p.item(name)
	for _, s := range settings {
		p.setting(&item, s)
	}
	for child := n.FirstChild(); child != nil; child = child.NextSibling() {
		p.settingsIn(&item, child)
	}
	p.sheet.Items = append(p.sheet.Items, item)
}

// SetsItem reports whether a block of Markdown is a setting of the order's item before it: an indented
// list, or what Markdown takes for code. A list below "10." needs four spaces to belong to the item,
// and people write three.
func SetsItem(text []byte, n ast.Node) bool {
	var lines *gmtext.Segments
	switch n := n.(type) {
	case *ast.List:
		if first := n.FirstChild().FirstChild(); first != nil && !n.IsOrdered() {
			lines = first.Lines()
		}
	case *ast.CodeBlock:
		lines = n.Lines()
	}
	if lines == nil || lines.Len() == 0 {
		return false
	}
	start := bytes.LastIndexByte(text[:lines.At(0).Start], '\n') + 1
	return (text[start] == ' ' || text[start] == '\t') && bulletPattern.Match(text[start:])
}

// bulletPattern matches the start of a line with a bullet, up to its text.
var bulletPattern = regexp.MustCompile(`^[ \t]*[-*+][ \t]+`)

// bullets splits a text from the bullets below it, which may be indented too little, or too much, for
// Markdown to see a list.
func (p *parser) bullets(at extent) (head extent, bullets []extent) {
	head = at
	for from := at.from; from < at.to; {
		next := min(lineAt(p.src.text, from), at.to)
		line := p.trimmed(extent{from, next})
		mark := bulletPattern.FindIndex(p.src.text[from:next])
		switch {
		case from == at.from:
		case mark != nil:
			if len(bullets) == 0 {
				head = p.trimmed(extent{at.from, from})
			}
			bullets = append(bullets, extent{from + mark[1], line.to})
		case len(bullets) > 0:
			bullets[len(bullets)-1].to = line.to
		}
		from = next
	}
	return head, bullets
}

// settingsIn reads the bullets of a block below an item.
func (p *parser) settingsIn(item *Item, n ast.Node) {
	switch n := n.(type) {
	case *ast.List:
		for entry := n.FirstChild(); entry != nil; entry = entry.NextSibling() {
			first, more := p.bullets(p.itemText(entry))
			for _, s := range append([]extent{first}, more...) {
				p.setting(item, s)
			}
			for child := entry.FirstChild(); child != nil; child = child.NextSibling() {
				p.settingsIn(item, child)
			}
		}
	case *ast.CodeBlock:
		if at := p.lines(n); SetsItem(p.src.text, n) {
			at.from = bytes.LastIndexByte(p.src.text[:at.from], '\n') + 1
			_, more := p.bullets(extent{at.from - 1, at.to}) // from the end of the line before
			for _, s := range more {
				p.setting(item, s)
			}
		}
	}
}

// item reads "Spot turn, steps 1–5 × 2 — with a smile".
func (p *parser) item(at extent) Item {
	item := Item{At: p.src.span(at.from, at.to), Times: 1, text: at}
	rest := p.src.slice(at)
	if m := remarkPattern.FindStringIndex(rest); m != nil {
		item.Remark = headingText(rest[m[1]:])
		item.remark = extent{at.from + m[1], at.to}
		rest = rest[:m[0]]
	}
	number := func(rest string, from, to int) int {
		n, err := strconv.Atoi(rest[from:to])
		if err != nil || n > mostSteps {
			n = mostSteps + 1
		}
		return n
	}
	times, steps := 0, 0
	for again := true; again; {
		again = false
		rest = strings.TrimRight(rest, " \t\r\n,.")
		if m := timesPattern.FindStringSubmatchIndex(rest); m != nil {
			item.Times = number(rest, m[2], m[3])
			if item.Times < 1 || item.Times > mostTimes {
				p.add("repeat-range", extent{at.from + m[2], at.from + m[3]}, fmt.Sprintf("a figure can be danced 1 to %d times", mostTimes), "")
				item.Times = 1
			}
			rest, again = rest[:m[0]], true
			times++
		}
		if m := stepsPattern.FindStringSubmatchIndex(rest); m != nil {
			item.steps[0] = number(rest, m[2], m[3])
			item.steps[1] = item.steps[0]
			if m[4] >= 0 {
				item.steps[1] = number(rest, m[4], m[5])
			}
			rest, again = rest[:m[0]], true
			steps++
		}
	}
	if times > 1 || steps > 1 {
		p.add("said-twice", at, "the number of times, or the steps, is given twice", "keep one")
	}
	item.Name = headingText(rest)
	item.name = extent{at.from, at.from + len(rest)}
	if item.Name == "" {
		p.add("order-empty", at, "this item of the order does not name a figure", "")
	}
	return item
}

var settingNames = []string{"tempo", "ends", "count", "corner"}

// setting reads a nested bullet of an item.
func (p *parser) setting(item *Item, at extent) {
	if at == (extent{}) {
		return
	}
	fact, ok := p.splitFact(at)
	if !ok {
		p.add("unknown-setting", at, "this is not a setting", "write \"tempo: 24 bars/min\", \"ends: open facing\", \"count: words\" or \"corner: after\"")
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
			p.add("bad-value", fact.value, "only the hold or position can be set for an item", "feet and directions follow from the steps")
		}
		item.Ends = st.Positions
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
		p.add("unknown-setting", fact.key, quoted(fact.name)+" can't be set for an item", didYouMean(fact.name, settingNames))
		return
	}
	if slices.ContainsFunc(item.sets, func(f factText) bool { return f.name == fact.name }) {
		p.add("said-twice", fact.key, quoted(fact.name)+" is set twice for this item", "keep one")
	}
	item.sets = append(item.sets, fact)
}
