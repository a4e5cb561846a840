package routine

import (
	"fmt"
	"slices"
)

// mostItems bounds the items that come from parts of the order, with all repeats written out.
const mostItems = 10_000

// topNames are the ways to say that all is danced again, as keys.
var topNames = map[string]bool{"fromthetop": true, "repeatfromthetop": true, "againfromthetop": true, "fromthestart": true, "repeatfromthestart": true,
	"fromthebeginning": true, "repeatfromthebeginning": true, "dacapo": true, "repeatall": true}

// performer puts the items of an order's parts in the order in which they are danced.
type performer struct {
	*parser
	parts  []orderPart
	items  []Item // so far
	most   int    // items
	calls  int    // of item
	full   bool   // there are more
	within []int  // the parts that are being danced
}

// perform sets the sheet's items: each part is danced where it stands, unless an item above it names it, or a list of
// all parts does.
func (p *parser) perform(parts []orderPart) {
	d := performer{parser: p, parts: parts, items: make([]Item, 0, len(p.sheet.written)), most: len(p.sheet.written) + mostItems}
	plan := d.plan()
	for i := range parts {
		switch {
		case plan > 0 && i > 0 && i != plan:
			if len(parts[i].items) > 0 {
				p.add("order-parts", parts[i].at, quoted(parts[i].name)+" is danced where the order names it, not here", "")
			}
		case !d.namedBefore(i):
			parts[i].stands = true
			d.dance(i)
		}
	}
	p.sheet.Items, p.sheet.parts = d.items, parts
	for i := range p.sheet.written {
		item := &p.sheet.written[i]
		item.names = max(0, d.partOf(item))
	}
}

// partOf returns the part that an item names, or -1. A figure of that name comes first.
func (d *performer) partOf(item *Item) int {
	key := Key(item.Name)
	if key == "" || d.sheet.byKey[key] != nil {
		return -1
	}
	return slices.IndexFunc(d.parts, func(part orderPart) bool { return part.name != "" && Key(part.name) == key })
}

// namedBefore reports whether a part before i has an item with i's name.
func (d *performer) namedBefore(i int) bool {
	for j := range i {
		for k := range d.parts[j].items {
			if d.partOf(&d.parts[j].items[k]) == i {
				return true
			}
		}
	}
	return false
}

// plan returns the last part if its items name all the parts before it, so that it is the order of the parts; 0 if there
// is none.
func (d *performer) plan() int {
	last := len(d.parts) - 1
	if last < 1 || len(d.parts[0].items) > 0 || len(d.parts[last].items) == 0 {
		return 0
	}
	named := map[int]bool{}
	for i := range d.parts[last].items {
		item := &d.parts[last].items[i]
		part := d.partOf(item)
		if part == last || part < 0 && !topNames[Key(item.Name)] {
			return 0
		}
		if part >= 0 {
			named[part] = true
		}
	}
	for i, part := range d.parts[1:last] {
		if len(part.items) > 0 && !named[i+1] {
			return 0
		}
	}
	if len(named) < 2 && !isOrderName(d.parts[last].name) {
		return 0
	}
	return last
}

// dance adds the items of a part.
func (d *performer) dance(part int) {
	d.within = append(d.within, part)
	for _, item := range d.parts[part].items {
		d.item(item)
	}
	d.within = d.within[:len(d.within)-1]
}

// append adds an item that is danced because another names it or what it stands in. The first that is too many is
// reported.
func (d *performer) append(item, because Item) {
	switch {
	case len(d.items) < d.most:
		if item.Opens == nil { // it is danced for the first time
			at := []Span{item.At}
			item.Opens, item.Closes = at, at
		}
		d.items = append(d.items, item)
	default:
		d.tooMany(because)
	}
}

func (d *performer) tooMany(because Item) {
	if !d.full {
		d.full = true
		d.add("too-large", because.text, fmt.Sprintf("the order has more than %d items, with all its repeats", mostItems), "")
	}
}

// item adds an item or, if it names a part or all that was danced before, the items of that.
func (d *performer) item(item Item) {
	if d.calls++; d.calls > 2*d.most { // parts without figures
		d.tooMany(item)
		return
	}
	from, part := len(d.items), d.partOf(&item)
	again := part < 0 && topNames[Key(item.Name)] && d.sheet.figure(item.Name) == nil
	switch {
	case part < 0 && !again && Key(item.Name) == "repeat" && item.steps[0] > 0 && d.sheet.figure(item.Name) == nil:
		d.repeat(item)
		return
	case part < 0 && !again:
		d.append(item, item)
		return
	case item.partial():
		d.add("steps-range", item.name, "only a figure has steps, not a part of the order", "")
		return
	case slices.Contains(d.within, part):
		d.add("order-loop", item.name, quoted(item.Name)+" would be danced within itself", "name another part, or write its figures")
		return
	case again && from == 0:
		d.add("order-loop", item.name, "nothing is danced before this", "")
		return
	}
	before := slices.Clone(d.items)
	for range item.Times {
		if d.full {
			return
		}
		if part >= 0 {
			d.dance(part)
			continue
		}
		for _, i := range before {
			d.append(i, item)
		}
	}
	d.pass(item, from)
}

// repeat adds the items of this part again whose numbers an item gives: "repeat 1 to 4".
func (d *performer) repeat(item Item) {
	items := d.parts[d.within[len(d.within)-1]].items
	above := slices.IndexFunc(items, func(i Item) bool { return i.text == item.text })
	if item.steps[0] > item.steps[1] || item.steps[1] > above {
		d.add("order-loop", item.text, fmt.Sprintf("only what stands above this can be danced again, the items 1–%d", above), "")
		return
	}
	from := len(d.items)
	for range item.Times {
		for _, again := range items[item.steps[0]-1 : item.steps[1]] {
			d.item(again)
		}
	}
	d.pass(item, from)
}

// pass passes what is set for an item that names a part on to the items from "from" on, which it opens and closes.
func (d *performer) pass(item Item, from int) {
	danced := d.items[from:]
	if len(danced) == 0 {
		return
	}
	for i := range danced {
		if item.Tempo != 0 && danced[i].Tempo == 0 {
			danced[i].Tempo, danced[i].TempoTo = item.Tempo, item.TempoTo
		}
		if danced[i].Style == StyleUnset {
			danced[i].Style = item.Style
		}
	}
	if first := &danced[0]; first.Remark == "" {
		first.Remark = item.Remark
	}
	last := &danced[len(danced)-1]
	danced[0].Opens = append(slices.Clip(danced[0].Opens), item.At)
	last.Closes = append(slices.Clip(last.Closes), item.At)
	if item.Ends != 0 || item.Hands != 0 {
		last.Ends, last.Hands, last.ends = item.Ends, item.Hands, item.ends
	}
	last.Corner = last.Corner || item.Corner
}
