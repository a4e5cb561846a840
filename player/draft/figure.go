package draft

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// Cell is a column of a figure's chart.
type Cell int

// The cells of a row.
const (
	CountCell Cell = iota
	LeaderCell
	FollowerCell
)

// Row is a row of a chart as it is written: its count, and the leader's and the follower's step.
type Row = [3]string

// Figure is a figure of a sheet's own that is being written, count by count. It isn't changed: its methods
// return texts for Change, after which [Draft.Figure] has the new one.
type Figure struct {
	Name string
	Rows []Row

	draft Draft
	text  *routine.FigureText
	found *routine.FigureText // in the text to which the findings refer
	fig   *routine.Figure
}

// Writing returns a figure of the sheet's own to be written on, and the draft with it: without steps if the sheet
// hasn't one by that name. The error says why it can't be.
func (d Draft) Writing(name string) (Draft, *Figure, error) {
	f, err := d.Figure(name)
	if !errors.Is(err, ErrNoFigure) {
		return d, f, err
	}
	text, err := d.BeginFigure(name)
	if err != nil {
		return d, nil, err
	}
	begun, err := d.Change(text, d.Line)
	if err != nil {
		return d, nil, err
	}
	f, err = begun.Figure(name)
	return begun, f, err
}

// BeginFigure returns the text with a figure that has no steps yet, for Change. It starts as most figures do
// that can follow the marked line.
func (d Draft) BeginFigure(name string) ([]byte, error) {
	name = strings.TrimSpace(routine.Plain(name))
	if name == "" {
		return nil, errors.New("a figure needs a name")
	}
	if d.own(name) != nil {
		return nil, fmt.Errorf("the sheet already has a figure %q", name)
	}
	text := routine.BeginFigure(d.Text(), name, d.start())
	begun, err := d.with(text)
	if err != nil || begun.own(name) == nil || !begun.names(name) {
		return nil, fmt.Errorf("a figure can't be called %q: in an order that would mean something else", name)
	}
	return text, nil
}

// names reports whether a line of the order that says a name alone is read as that name.
func (d Draft) names(name string) bool {
	n := d.Order.Len()
	with, err := d.with(d.Order.Insert(n, routine.Line{Name: name}))
	if err != nil || with.Order.Len() != n+1 {
		return false
	}
	line := with.Order.Line(n)
	return routine.Key(line.Name) == routine.Key(name) && line.Part == "" && line.Times <= 1 && with.own(name) != nil
}

// own returns a figure of the sheet's own; nil if it has none of that name.
func (d Draft) own(name string) *routine.Figure {
	i := slices.IndexFunc(d.Score.Figures, func(fig *routine.Figure) bool {
		return slices.ContainsFunc(fig.Names(), func(n string) bool { return routine.Key(n) == routine.Key(name) })
	})
	if i < 0 {
		return nil
	}
	return d.Score.Figures[i]
}

// start returns how most figures start that can follow the marked line, as a sheet writes it.
func (d Draft) start() string {
	var starts tally
	for _, n := range d.Next(d.Line) {
		if st := n.Figure.Starts; n.Why == "" && n.From == 0 && st.Positions != 0 {
			starts.add(routine.Stance{Positions: st.Positions, Free: st.Free}.String(), 1)
		}
	}
	return starts.first("")
}

// ErrNoFigure says that a sheet has no figure of its own by a name.
var ErrNoFigure = errors.New("the sheet has no figure of its own")

// Figure returns a figure of the sheet's own, to be changed. The error says why it can't be.
func (d Draft) Figure(name string) (*Figure, error) {
	fig := d.own(name)
	if fig == nil {
		return nil, fmt.Errorf("%w called %q", ErrNoFigure, routine.Plain(name))
	}
	text, err := routine.EditFigure(d.Sheet.Name, d.Text(), d.shelf.Library, fig.Name)
	if err != nil {
		return nil, err
	}
	f := &Figure{Name: fig.Name, draft: d, text: text, found: text, fig: fig}
	if in := d.Order.Text(); !bytes.Equal(in, d.Text()) { // where the order is a list
		if f.found, err = routine.EditFigure(d.Sheet.Name, in, d.shelf.Library, fig.Name); err != nil {
			return nil, err
		}
	}
	for i := range text.Len() {
		f.Rows = append(f.Rows, text.Row(i))
	}
	if len(fig.Rows) != len(f.Rows) {
		return nil, fmt.Errorf("%s can't be changed as it is written: its chart has to have a row for each count", fig.Name)
	}
	return f, nil
}

// Free returns the foot that each partner has free on a row; the row after the last isn't written yet. It is
// NoFoot where either may be free.
func (f *Figure) Free(row int) [2]routine.Foot { return f.fig.Free(row) }

// Starts and Ends return the holds in which the figure starts and ends, as the sheet says; "" if it doesn't.
func (f *Figure) Starts() string { return f.text.Fact("starts") }

// Ends is explained at Starts.
func (f *Figure) Ends() string { return f.text.Fact("ends") }

// Set returns the text with "starts" or "ends" set; "" takes it away.
func (f *Figure) Set(fact, value string) []byte { return f.text.Set(fact, value) }

// Read returns the steps as far as they can be read.
func (f *Figure) Read() *routine.Figure { return f.fig }

// Next returns the row that would most usually come next: the count and the leader's step are those with which
// most figures of the dance go on, and the follower's is its natural opposite.
func (f *Figure) Next() Row {
	n := len(f.Rows)
	row := Row{CountCell: f.nextCount()}
	row[LeaderCell] = f.ways(n, row[CountCell], routine.Leader).first("–")
	row[FollowerCell] = f.Opposite(n, row[LeaderCell])
	return row
}

// Opposite returns the follower's natural opposite of a leader's step on a row; "" if that can't be read.
func (f *Figure) Opposite(row int, leads string) string {
	s, found := routine.ParseStep(leads)
	if routine.HasErrors(found) {
		return ""
	}
	opposite := f.fig.Opposite(row, &s)
	return opposite.String()
}

// mostWays is how many ways are listed: as many as there are digits.
const mostWays = 9

// Ways lists what a partner most usually does on a row, the most usual first and at most nine; for a follower, her
// natural opposite comes before that.
func (f *Figure) Ways(row int, p routine.Partner) []string {
	now := f.at(row)
	ways := f.ways(row, now[CountCell], p).all()
	if natural := f.Opposite(row, now[LeaderCell]); p == routine.Follower && natural != "" {
		ways = slices.Insert(slices.DeleteFunc(ways, func(w string) bool { return w == natural }), 0, natural)
	}
	return ways[:min(len(ways), mostWays)]
}

// at returns a row; the one after the last is the one that would come next.
func (f *Figure) at(row int) Row {
	if row < len(f.Rows) {
		return f.Rows[row]
	}
	return f.Next()
}

// chapter returns the figures of the dance in the library, from easy to hard.
func (f *Figure) chapter() []*routine.Figure {
	if c, ok := f.draft.shelf.Library.Chapter(f.draft.Score.Dance.Name); ok {
		return c.Figures
	}
	return nil
}

// nextCount returns the count that most figures of the dance go on with after the last two, or the last one, or
// else begin with.
func (f *Figure) nextCount() string {
	n := len(f.fig.Rows)
	for context := min(n, 2); context > 0; context-- {
		var counts tally
		for _, fig := range f.chapter() {
			for i := context; i < len(fig.Rows); i++ {
				if sameCounts(fig.Rows[i-context:i], f.fig.Rows[n-context:]) {
					counts.add(fig.Rows[i].Count.String(), 1)
				}
			}
		}
		if next := counts.first(""); next != "" {
			return next
		}
	}
	var counts tally
	for _, fig := range f.chapter() {
		counts.add(fig.Rows[0].Count.String(), 1)
	}
	return counts.first("1")
}

func sameCounts(a, b []routine.Row) bool {
	return slices.EqualFunc(a, b, func(a, b routine.Row) bool { return a.Count == b.Count })
}

// ways tallies what a partner does on a count in the figures of the dance, with the foot that is free: above
// all what comes after the step before.
func (f *Figure) ways(row int, count string, p routine.Partner) *tally {
	ways, free := &tally{}, f.Free(row)[p]
	for _, fig := range f.chapter() {
		for i := range fig.Rows {
			s := fig.Rows[i].Steps[p]
			if !fig.Has[p] || s.Pivots() {
				continue
			}
			weight := 0
			if fig.Rows[i].Count.String() == count {
				weight = 1
			}
			if i > 0 && row > 0 && row <= len(f.fig.Rows) && fig.Rows[i-1].Steps[p].Where() == f.fig.Rows[row-1].Steps[p].Where() {
				weight *= 8
			}
			foot := cmp.Or(free, s.Foot)
			switch {
			case weight == 0:
			case s.Stands():
				ways.add("–", weight)
			default:
				plain := routine.Step{Foot: foot, Way: s.Way, Slightly: s.Slightly, Size: s.Size}
				if s.Weight == routine.None {
					plain.Actions, plain.Weight = s.Actions, s.Weight
				}
				ways.add(plain.String(), weight)
			}
		}
	}
	return ways
}

// Write returns the text with another text in a cell, for Change. A step that doesn't name its foot is done with
// the free one. The follower's steps that are the leader's natural opposite follow his; the row after the last is
// put in.
func (f *Figure) Write(row int, cell Cell, text string) ([]byte, error) {
	text = strings.TrimSpace(routine.Plain(text))
	now := f.at(row)
	switch {
	case cell == CountCell:
		if _, ok := routine.ParseCount(text); !ok {
			return nil, fmt.Errorf("%q is not a count: write the number of a beat, 4-1, &, a, e, S or Q", text)
		}
	default:
		text = f.withFoot(row, routine.Partner(cell-LeaderCell), text)
		if _, found := routine.ParseStep(text); routine.HasErrors(found) {
			return nil, said(routine.Objections(found)[0])
		}
	}
	now[cell] = text
	if cell == LeaderCell && row == len(f.Rows) {
		now[FollowerCell] = f.Opposite(row, text)
	}
	if row == len(f.Rows) {
		return f.text.Insert(row, now), nil
	}
	if cell != LeaderCell {
		return f.text.Write(row, now), nil
	}
	return f.text.Write(row, f.led(row, now)...), nil
}

// said returns a finding as an error.
func said(f routine.Finding) error {
	if f.Hint == "" {
		return errors.New(f.Message)
	}
	return fmt.Errorf("%s: %s", f.Message, f.Hint)
}

// withFoot returns a step's text with the foot that is free before it, if it names none.
func (f *Figure) withFoot(row int, p routine.Partner, text string) string {
	free := f.Free(row)[p]
	if natural, _ := routine.ParseStep(f.Opposite(row, f.at(row)[LeaderCell])); p == routine.Follower {
		free = cmp.Or(free, natural.Foot)
	}
	s, found := routine.ParseStep(text)
	if s.Foot != routine.NoFoot || free == routine.NoFoot || s.Stands() && !routine.HasErrors(found) {
		return text
	}
	if _, found := routine.ParseStep(free.String() + " " + text); routine.HasErrors(found) {
		return text
	}
	return free.String() + " " + text
}

// led returns a row and those after it as they are written when it says something else, with the follower's
// steps that follow.
func (f *Figure) led(row int, now Row) []Row {
	steps := make([]routine.Step, len(f.fig.Rows))
	for i := range steps {
		steps[i] = f.fig.Rows[i].Steps[routine.Leader]
	}
	steps[row], _ = routine.ParseStep(now[LeaderCell])
	led := f.fig.Led(steps)
	rows := slices.Clone(f.Rows[row:])
	rows[0] = now
	for i := range rows {
		was, is := f.fig.Rows[row+i].Steps[routine.Follower], led.Rows[row+i].Steps[routine.Follower]
		if was.String() != is.String() {
			rows[i][FollowerCell] = is.String()
		}
	}
	return rows
}

// Done returns the text with the figure in the order, and its line there, for Change: after the marked line, unless
// it is in the order already.
func (f *Figure) Done() (text []byte, line int) {
	d := f.draft
	for i := range d.Order.Len() {
		if routine.Key(d.Order.Line(i).Name) == routine.Key(f.Name) {
			return d.Text(), i
		}
	}
	return d.Order.Insert(d.Line+1, routine.Line{Name: f.Name}), d.Line + 1
}

// Left returns the text for Change when the figure is left without dancing it: without a step it goes.
func (f *Figure) Left() []byte {
	if len(f.Rows) == 0 {
		return f.Without()
	}
	return f.draft.Text()
}

// Remove returns the text without a row, and Without the text without the figure.
func (f *Figure) Remove(row int) []byte { return f.text.Remove(row) }

// Without is explained at Remove.
func (f *Figure) Without() []byte { return f.text.Without() }

// Objections returns what is wrong with each row, and with the rest of the figure.
func (f *Figure) Objections() (rows [][]routine.Finding, elsewhere []routine.Finding) {
	rows = make([][]routine.Finding, len(f.Rows))
	for _, found := range routine.Objections(f.draft.Found) {
		switch row, within := f.found.At(found.Span.Start.Offset); {
		case row >= 0:
			rows[row] = append(rows[row], found)
		case within && len(f.Rows) > 0:
			elsewhere = append(elsewhere, found)
		}
	}
	return rows, elsewhere
}

// Sheet returns a sheet that holds the figure alone, for the dancer's own handbook. The error says why it doesn't
// belong there yet.
func (f *Figure) Sheet() ([]byte, error) {
	if len(f.Rows) == 0 {
		return nil, fmt.Errorf("%s has no steps yet", f.Name)
	}
	rows, elsewhere := f.Objections()
	for _, found := range append(rows, elsewhere) {
		if routine.HasErrors(found) {
			return nil, fmt.Errorf("something is wrong with %s yet: %w", f.Name, said(found[0]))
		}
	}
	if f.draft.Score.Defines {
		return nil, fmt.Errorf("%s is a dance of this sheet's own", f.draft.Score.Dance.Name)
	}
	return fmt.Appendf(nil, "---\ndance: %s\n---\n\n%s\n", strings.ToLower(f.draft.Score.Dance.Name), strings.TrimSpace(string(f.text.Section()))), nil
}

// tally counts texts.
type tally struct {
	texts  []string
	counts map[string]int
}

func (t *tally) add(text string, n int) {
	if t.counts == nil {
		t.counts = map[string]int{}
	}
	if t.counts[text] == 0 {
		t.texts = append(t.texts, text)
	}
	t.counts[text] += n
}

// all returns the texts, the most frequent first.
func (t *tally) all() []string {
	slices.SortStableFunc(t.texts, func(a, b string) int { return cmp.Compare(t.counts[b], t.counts[a]) })
	return t.texts
}

// first returns the most frequent text, or another if there is none.
func (t *tally) first(otherwise string) string {
	if all := t.all(); len(all) > 0 {
		return all[0]
	}
	return otherwise
}
