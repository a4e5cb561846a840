package making

import (
	"cmp"
	"fmt"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen/term"

	"github.com/charmbracelet/bubbles/key"
)

// fact is something that a key sets, and what it is now.
type fact struct {
	key         key.Binding
	name, value string
}

// markedFacts returns what can be set of the marked line or, at the start, of the whole routine.
func markedFacts(d *draft.Draft, k *keyboard) (title string, facts []fact) {
	if d.Line < 0 {
		facts = []fact{{k.title, "title", d.Title()}, {k.line.tempo, "tempo", d.Holds("tempo")}, {k.leadIn, "lead-in", d.Holds("lead-in")}}
		if d.Score.Dance.Travels {
			facts = append(facts, fact{k.hall, "the hall", d.Holds("floor")})
		}
		return "The whole routine", facts
	}
	order := d.Order
	line := order.Line(d.Line)
	corner := "no"
	if order.Setting(d.Line, "corner") != "" {
		corner = "yes"
	}
	return fmt.Sprintf("Line %d: %s", d.Line+1, line.Name), []fact{
		{term.Pair(k.line.more, k.line.fewer, "+−", "times"), "times", fmt.Sprint(max(line.Times, 1))},
		{k.line.part, "steps", cmp.Or(line.Part, "all of it")},
		{k.line.tempo, "tempo", cmp.Or(order.Setting(d.Line, "tempo"), "the routine's")},
		{k.line.ends, "ends in", cmp.Or(order.Setting(d.Line, "ends"), "as usual")},
		{k.line.corner, "corner after it", corner},
		{k.line.remark, "remark", cmp.Or(line.Remark, "none")},
	}
}

// markedKeys returns the keys that move the marked line or what else there is to do with it.
func markedKeys(d *draft.Draft, k *keyboard) []key.Binding {
	if d.Line < 0 {
		return []key.Binding{k.suggest}
	}
	keys := []key.Binding{term.Pair(k.line.up, k.line.down, "K J", "move"), term.Named(k.line.remove, "x", "take out"), k.links, k.suggest, k.line.gather}
	if d.Order.Names(d.Line) > 0 || d.Order.In(d.Line) > 0 {
		keys = append(keys, k.line.apart)
	}
	return keys
}

// markedRows is how many lines the marked line's keys take with their values, and fewRows without.
const (
	markedRows = 9
	fewRows    = 3
)

// markedLines draws the keys for the marked line, with what they set where there is room for it.
func markedLines(d *draft.Draft, k *keyboard, t *term.Theme, width, rows int) (lines []string) {
	title, facts := markedFacts(d, k)
	keys := markedKeys(d, k)
	if rows < len(facts)+2 {
		set := make([]key.Binding, len(facts), len(facts)+len(keys))
		for i, f := range facts {
			set[i] = term.Named(f.key, f.key.Help().Key, f.name)
		}
		return helpLines(append(set, keys...), width, rows)
	}
	lines = append(lines, term.NewRow(width).Put(t.Heading, title).String())
	for _, f := range facts {
		lines = append(lines, term.NewRow(width).Put(t.Strong, f.key.Help().Key).To(3).Put(t.Faint, f.name).To(20).Put(term.Plain, f.value).String())
	}
	return append(lines, helpLines(keys, width, rows-len(lines))...)
}

// helpLines writes keys on so many lines, as many as fit.
func helpLines(keys []key.Binding, width, rows int) (lines []string) {
	for len(keys) > 0 && len(lines) < rows {
		n := 1
		for n < len(keys) && term.Width(term.HelpLine(wide, keys[:n+1])) <= width {
			n++
		}
		lines = append(lines, term.HelpLine(width, keys[:n]))
		keys = keys[n:]
	}
	return lines
}

// wide is a width that holds any line of keys.
const wide = 1000

// settings are what can be typed for the whole routine.
var settings = map[question]string{forWholeTempo: "tempo", forLeadIn: "lead-in", forHall: "floor"}

// gathered returns the lines of a part that is being made, from one up to, but not including, another: those between its
// first and the marked one.
func gathered(first, marked int) (from, to int) {
	from, to = first, max(marked, 0)
	return min(from, to), max(from, to) + 1
}

// gathering says which lines the part has that is being made.
func gathering(from, to int) string {
	if to == from+1 {
		return fmt.Sprintf("A part of the order: line %d", to)
	}
	return fmt.Sprintf("A part of the order: lines %d–%d", from+1, to)
}
