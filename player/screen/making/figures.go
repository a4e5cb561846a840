package making

import (
	"fmt"
	"slices"
	"strings"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"

	tea "github.com/charmbracelet/bubbletea"
)

// figures is the list of what can be put in.
type figures struct {
	term.Chooser
	list []draft.Next // what the items are
	can  int          // how many of them can be danced, the first
	all  []draft.Next // of the dance, whatever is shown
	kind int          // of figures that are listed, an index of kinds

	known  func(*routine.Dance, *routine.Figure) bool
	dance  *routine.Dance
	traced *routine.Figure
	path   *floor.Path // of traced by itself
}

func newFigures(known func(*routine.Dance, *routine.Figure) bool) figures {
	return figures{Chooser: term.NewChooser("a figure"), known: known}
}

// kind is some of the figures, as a dancer would choose among them.
type kind struct {
	name string
	has  func(*draft.Next) bool
}

// kinds returns the kinds of figures that there are among all.
func (f *figures) kinds() []kind {
	list := []kind{{"all figures", func(*draft.Next) bool { return true }}}
	for level := 1; level < 3; level++ {
		name := "level 1"
		if level > 1 {
			name = fmt.Sprintf("up to level %d", level)
		}
		list = append(list, kind{name, func(n *draft.Next) bool { return n.Part != "" || 0 < n.Figure.Level && n.Figure.Level <= level }})
	}
	if f.known != nil {
		list = append(list, kind{"danced before", func(n *draft.Next) bool { return n.Part != "" || f.known(f.dance, n.Figure) }})
	}
	families := f.families()
	if len(families) < 2 {
		return list
	}
	var names []string
	for _, family := range families {
		names = append(names, family.String())
		list = append(list, kind{family.String(), func(n *draft.Next) bool { return n.Family == routine.AnyFamily || n.Family == family }})
	}
	list[0].name = "all: " + strings.Join(names, ", ")
	return list
}

// families returns the families of dancing that there are among all figures.
func (f *figures) families() (list []routine.Family) {
	for _, family := range []routine.Family{routine.International, routine.American, routine.Vintage, routine.OnOne, routine.OnTwo} {
		if slices.ContainsFunc(f.all, func(n draft.Next) bool { return n.Family == family }) {
			list = append(list, family)
		}
	}
	return list
}

// fill lists other figures.
func (f *figures) fill(all []draft.Next) {
	f.all = all
	kinds := f.kinds()
	f.kind = min(f.kind, len(kinds)-1)
	has := kinds[f.kind].has
	f.list, f.can = nil, 0
	var texts []string
	for _, n := range all {
		if !has(&n) {
			continue
		}
		f.list = append(f.list, n)
		texts = append(texts, strings.Join(n.Names(), "\n"))
		if n.Why == "" {
			f.can = len(f.list)
		}
	}
	f.Fill(texts)
	f.Chosen = 0
	f.trace()
}

// other lists the next kind of figures, or the one before.
func (f *figures) other(by int) {
	n := len(f.kinds())
	f.kind = (f.kind + by + n) % n
	f.fill(f.all)
}

// seen returns the items to show: what can't be danced is found by typing.
func (f *figures) seen() []int {
	if f.Filter.Value() == "" {
		return f.Shown[:f.can]
	}
	return f.Shown
}

// press carries out a key that chooses, or that is typed. Of what is typed, a name that begins so is chosen
// before one that only has it, and a figure that can be danced before one that can't.
func (f *figures) press(msg tea.KeyMsg) {
	if !f.Move(msg) {
		f.Press(msg)
		f.Chosen = 0
		typed := routine.Key(f.Filter.Value())
		begun := func(item int) bool { return strings.HasPrefix(routine.Key(f.list[item].Name()), typed) }
		if i := slices.IndexFunc(f.Shown, begun); i >= 0 {
			f.Chosen = i
		}
	}
	f.Chosen = max(min(f.Chosen, len(f.seen())-1), 0)
	f.trace()
}

// chosen returns the figure that is chosen; nil if none is.
func (f *figures) chosen() *draft.Next {
	if seen := f.seen(); f.Chosen < len(seen) {
		return &f.list[seen[f.Chosen]]
	}
	return nil
}

// trace finds where the chosen figure leads on the floor.
func (f *figures) trace() {
	n := f.chosen()
	switch {
	case n == nil, n.Part == "" && n.Figure == f.traced:
		return
	case n.Part != "":
		f.traced, f.path = nil, nil
		return
	}
	f.traced, f.path = n.Figure, floor.Trace(n.Figure.Alone(f.dance, f.dance.Stride, n.Figure.Starts.Positions))
}
