package draft

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"dance.example/slowquick/routine"
)

// Spelt returns what was typed for a line of the order, as in "natural turn × 2", with the name of the figure or part
// written as the library or the sheet writes it. What else was typed stays, and so does a name that isn't known.
func (d Draft) Spelt(typed string) string {
	order, err := routine.EditOrder(d.Sheet.Name, d.Order.Insert(d.Order.Len(), routine.Line{Name: typed}), d.shelf.Library)
	if err != nil || order.Len() != d.Order.Len()+1 {
		return typed
	}
	name := order.Line(order.Len() - 1).Name
	return strings.Replace(typed, name, d.spelling(name), 1)
}

// spelling returns a name as the library or the sheet writes it.
func (d Draft) spelling(name string) string {
	key := routine.Key(name)
	var names []string
	for _, fig := range d.Score.Figures {
		names = append(names, fig.Names()...)
	}
	for part := 1; part < d.Order.Parts(); part++ {
		called, _, _ := d.Order.PartSpan(part)
		names = append(names, called)
	}
	if fig, ok := d.shelf.Library.Figure(d.Score.Dance, name); ok {
		names = append(names, fig.Names()...)
	}
	for _, n := range names {
		if routine.Key(n) == key {
			first, size := utf8.DecodeRuneInString(n) // other names of a figure are written within a line
			return string(unicode.ToUpper(first)) + n[size:]
		}
	}
	return name
}
