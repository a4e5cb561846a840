package draft

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// PartName returns a name for another part of the order, as in "Part B".
func (d Draft) PartName() string {
	for letter := 'A'; letter <= 'Z'; letter++ {
		if name := "Part " + string(letter); d.taken(name) == nil {
			return name
		}
	}
	return ""
}

// taken returns an error that says what a name is in use for.
func (d Draft) taken(name string) error {
	key := routine.Key(name)
	for part := range d.Order.Parts() {
		if called, _, _ := d.Order.PartSpan(part); routine.Key(called) == key {
			return fmt.Errorf("%s is another part", name)
		}
	}
	_, known := d.shelf.Library.Figure(d.Score.Dance, name)
	if known || slices.ContainsFunc(d.Score.Figures, func(fig *routine.Figure) bool { return routine.Key(fig.Name) == key }) {
		return fmt.Errorf("%s is a figure", name)
	}
	return nil
}

// Gather returns the text with a part made of some lines, from one up to, but not including, another, for Change. A line
// that names the part takes their place, so that the same is danced. The error says why that can't be.
func (d Draft) Gather(from, to int, name string) ([]byte, error) {
	name = routine.Plain(strings.Join(strings.Fields(name), " "))
	if routine.Key(name) == "" {
		return nil, errors.New("a part needs a name")
	}
	if err := d.taken(name); err != nil {
		return nil, err
	}
	if d.Order.In(from) != d.Order.In(to-1) {
		return nil, errors.New("a part is made of lines that stand together: these stand in two parts")
	}
	for before := d.Order.Parts(); before > d.Order.In(from); before-- {
		if text := d.Order.Gather(from, to, name, before); d.dancesAs(text) {
			return text, nil
		}
	}
	return nil, fmt.Errorf("with %s made of them, something else would be danced", name)
}

// Apart returns the text in which a part of the order is no longer one, for Change, and the line to mark: that part which
// the line names, where it names it, or else the one that the line stands in, everywhere. The same is danced. The error
// says why that can't be.
func (d Draft) Apart(line int) (text []byte, mark int, err error) {
	if part := d.Order.Names(line); part > 0 {
		text, err := d.unfold(part, []int{line})
		return text, line, err
	}
	part := d.Order.In(line)
	if part == 0 {
		return nil, 0, errors.New("this line names no part, nor does it stand in one")
	}
	var named []int
	for i := range d.Order.Len() {
		if d.Order.Names(i) == part {
			named = append(named, i)
		}
	}
	if len(named) > 0 {
		text, err := d.unfold(part, named)
		return text, named[0], err
	}
	if text := d.Order.Ungroup(part); d.dancesAs(text) {
		return text, line, nil
	}
	return nil, 0, d.cantTake(part)
}

func (d Draft) cantTake(part int) error {
	name, _, _ := d.Order.PartSpan(part)
	return fmt.Errorf("with %s taken apart, something else would be danced", name)
}

// unfold returns the text in which lines that name a part are replaced by what it has; the part goes with the last line
// that names it.
func (d Draft) unfold(part int, lines []int) ([]byte, error) {
	others := 0
	for i := range d.Order.Len() {
		if d.Order.Names(i) == part && !slices.Contains(lines, i) {
			others++
		}
	}
	for _, drop := range []bool{true, false} {
		if drop && (others > 0 || d.Order.Stands(part)) {
			continue
		}
		if text := d.unfolded(lines, drop); d.dancesAs(text) {
			return text, nil
		}
	}
	return nil, d.cantTake(part)
}

// unfolded returns the text that unfold tries; nil if it can't be.
func (d Draft) unfolded(lines []int, drop bool) []byte {
	order := d.Order
	for i, line := range slices.Backward(lines) {
		text := order.Apart(line, drop && i == 0)
		if text == nil || i == 0 {
			return text
		}
		var err error
		if order, err = routine.EditOrder(d.Sheet.Name, text, d.shelf.Library); err != nil {
			return nil
		}
	}
	return nil
}

// Without returns the text without a line, for Change. With the last line that names a part the part goes, which would
// otherwise be danced where it stands.
func (d Draft) Without(line int) []byte {
	text := d.Order.Remove(line)
	part := d.Order.Names(line)
	if part == 0 || d.Order.Stands(part) {
		return text
	}
	next, err := d.with(text)
	if err != nil || part >= next.Order.Parts() || !next.Order.Stands(part) {
		return text
	}
	if without := next.Order.RemovePart(part); without != nil {
		return without
	}
	return text
}

// dancesAs reports whether the same is danced by another text of the sheet as by the present one.
func (d Draft) dancesAs(text []byte) bool {
	if text == nil {
		return false
	}
	score, _ := check.Sheet(d.Sheet.Name, text, d.shelf.Library)
	type danced struct {
		name, remark   string
		from, to       int
		times          int
		tempo, tempoTo routine.Tempo
		ends           routine.PositionSet
		hands          routine.HandsSet
		style          routine.CountStyle
		corner         bool
	}
	of := func(i routine.Item) danced {
		return danced{routine.Key(i.Name), i.Remark, i.From, i.To, i.Times, i.Tempo, i.TempoTo, i.Ends, i.Hands, i.Style, i.Corner}
	}
	return slices.EqualFunc(d.Score.Items, score.Items, func(a, b routine.Item) bool { return of(a) == of(b) })
}

// partsAfter judges the parts of the order as what is danced after a line.
func (d Draft) partsAfter(line int) (list []Next) {
	if d.Order.Len() == 0 {
		return nil
	}
	in := d.Order.In(max(line, 0))
	for part := 1; part < d.Order.Parts(); part++ {
		if d.within(in, part) || d.Order.Stands(part) && in < part { // it would be danced in itself, or no longer where it stands
			continue
		}
		if n, ok := d.partAfter(line, part); ok {
			list = append(list, n)
		}
	}
	return list
}

// within reports whether a part of the order is another, or is danced in it.
func (d Draft) within(part, other int) bool {
	reached := []int{other}
	for i := 0; i < len(reached); i++ {
		_, from, to := d.Order.PartSpan(reached[i])
		for line := from; line < to; line++ {
			if named := d.Order.Names(line); named > 0 && !slices.Contains(reached, named) {
				reached = append(reached, named)
			}
		}
	}
	return slices.Contains(reached, part)
}

// partAfter judges a part of the order as what is danced after a line; ok is false if nothing is danced by it.
func (d Draft) partAfter(line, part int) (n Next, ok bool) {
	name, from, to := d.Order.PartSpan(part)
	if from == to || len(d.danced[from].begins) == 0 || len(d.danced[to-1].ends) == 0 {
		return n, false
	}
	first, last := d.first(d.danced[from].begins[0]), d.last(d.danced[to-1].ends[0])
	if first < 0 || last < first {
		return n, false
	}
	s := d.Score
	p := &s.Passages[first]
	n = Next{Figure: s.Items[p.Item].Figure, From: p.From, To: p.To, Part: name, length: s.Passages[last].End - p.Start}
	danced := s.Passages[first : last+1]
	if !slices.ContainsFunc(danced, d.changes) {
		for _, at := range d.placesAfter(line) {
			why, apart := d.sequence(&at, danced)
			n.Why, n.Apart = cmp.Or(n.Why, why), cmp.Or(n.Apart, apart)
		}
		if n.Why != "" {
			n.Apart = ""
		}
		return n, true
	}
	after, err := d.with(d.Order.Insert(line+1, n.Line()))
	if err != nil {
		return n, false
	}
	wrong := after.wrongBeside(d)
	begins := after.danced[line+1].begins
	switch {
	case wrong == "":
	case len(begins) > 0 && after.parted(begins[0]):
		n.Why = wrong
	default:
		n.Apart = wrong
	}
	return n, true
}

// changes reports whether a passage's line sets more than its steps lead to.
func (d Draft) changes(p routine.Passage) bool {
	item := &d.Score.Items[p.Item]
	return item.Ends != 0 || item.Hands != 0 || item.Corner
}

// sequence returns what keeps passages from being danced at a place, and what parts them from what comes after it.
func (d Draft) sequence(at *place, danced []routine.Passage) (why, apart string) {
	ends := at.from
	for i := range danced {
		if ends, why = d.then(ends, &danced[i]); len(ends) == 0 {
			return why, ""
		}
	}
	for _, end := range ends {
		next := d.apart(end, at.next)
		if next == "" {
			return "", ""
		}
		apart = cmp.Or(apart, next)
	}
	return "", apart
}

// wrongBeside returns the first thing that is wrong with d, or wrong more often, than with another draft; "" if nothing
// is.
func (d Draft) wrongBeside(other Draft) string {
	type wrong struct {
		code    routine.Code
		message string
	}
	was := map[wrong]int{}
	for _, f := range other.Found {
		was[wrong{f.Code, f.Message}]++
	}
	join := ""
	for _, f := range d.Found {
		if f.Severity == routine.Note {
			continue
		}
		kind := wrong{f.Code, f.Message}
		if was[kind]--; was[kind] < 0 {
			return f.Message
		}
		if isJoin(f) {
			join = cmp.Or(join, f.Message)
		}
	}
	if d.partings() > other.partings() { // it is said once for a line that is danced twice
		return join
	}
	return ""
}

// partings returns how many passages can't be danced after the one before.
func (d Draft) partings() (n int) {
	for i := range d.Score.Passages {
		if i > 0 && !d.Score.Passages[i].Joined {
			n++
		}
	}
	return n
}
