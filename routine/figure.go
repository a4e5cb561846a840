package routine

import (
	"cmp"
	"fmt"
	"slices"
)

// Figure is a named piece of dancing: each partner's steps against a count.
type Figure struct {
	Name    string
	Aliases []string
	Level   int // teaching level, from 1; 0 if not said
	Source  string
	Starts  Stance
	Ends    Stance
	Rows    []Row
	Has     [2]bool // whose steps are written
	Use

	// Floating figures, counted in S and Q or by their own numbers, begin wherever the figure before
	// stopped. The rows of all other figures are placed from a beat that is the first of a bar.
	Floating bool
	End      Beats // where the last row ends
	At       Span  // the heading

	unplaced   bool   // its counts can't be read, so its length is unknown
	doubtful   bool   // something is wrong with its counts, so its place in the bar can't be judged
	miswritten bool   // whole rows or columns of its chart are wrong
	whole      effect // the effect of all its rows; set when the figure is checked
	text       figureText
	ways       *ways     // nil if it is danced in one way
	way        *otherWay // nil if it is as charted
}

// Row is one count of a figure and what each partner does on it.
type Row struct {
	Count Count
	At    Beats
	Steps [2]Step
	// Written says whose steps are written in this row. A partner whose steps are in a separate table
	// may have none here, and goes on with the step before.
	Written [2]bool
}

// Stance is how a couple stands where a figure starts or ends, as far as the sheet says.
type Stance struct {
	Positions PositionSet // 0 if not said
	AsStarted bool        // ends in the position it started in
	Hands     HandsSet    // 0 if not said
	Free      [2]Foot     // NoFoot if not said
	Facing    [2]Alignment
	// Or are the turns of the whole couple from Facing to the other alignments on which it may stand.
	Or       []Turn
	Note     string
	At       Span
	Supposed bool // not said, but taken from the library's figure of that name
}

// Said reports whether anything is known of the stance.
func (s Stance) Said() bool { return s.At != Span{} }

// mostLevels is the highest teaching level that a sheet may name.
const mostLevels = 15

// Rank orders figures from easy to hard. Figures without a level come after all others.
func (f *Figure) Rank() int { return cmp.Or(f.Level, mostLevels+1) }

// Length returns how long the rows from "from" up to, but not including, "to" last.
func (f *Figure) Length(from, to int) Beats { return f.ends(to) - f.Rows[from].At }

// ends returns where the rows before row "to" end.
func (f *Figure) ends(to int) Beats {
	if to < len(f.Rows) {
		return f.Rows[to].At
	}
	return f.End
}

// Part returns the figure's name, with the steps if the rows from "from" up to, but not including, "to"
// are not all of it: "Spot turn", "Spot turn, steps 1–5".
func (f *Figure) Part(from, to int) string {
	if from == 0 && to == len(f.Rows) {
		return f.Name
	}
	for _, piece := range f.Parts {
		if piece.From == from && piece.To == to && piece.Name != "" {
			return piece.Name
		}
	}
	return f.Name + ", " + Steps(from, to)
}

// Named returns the rows that a name means: all of the figure or, by its own name or as "Spot turn, steps
// 1–3", a part that is used by itself. If it is another's name, ok is false.
func (f *Figure) Named(name string) (from, to int, ok bool) {
	key := Key(name)
	if slices.ContainsFunc(f.Names(), func(own string) bool { return Key(own) == key }) {
		return 0, len(f.Rows), true
	}
	for _, piece := range f.Parts {
		if key == Key(piece.Name) || key == Key(f.Name+", "+Steps(piece.From, piece.To)) {
			return piece.From, piece.To, true
		}
	}
	return 0, 0, false
}

// pieceNamed returns the part that has a name; ok is false if none has, or if it is the figure's own.
func (f *Figure) pieceNamed(name string) (piece Piece, ok bool) {
	key := Key(name)
	if slices.ContainsFunc(f.Names(), func(own string) bool { return Key(own) == key }) {
		return Piece{}, false
	}
	i := slices.IndexFunc(f.Parts, func(p Piece) bool { return p.Name != "" && Key(p.Name) == key })
	if i < 0 {
		return Piece{}, false
	}
	return f.Parts[i], true
}

// Name returns the figure's name, with the steps if not all of it is danced.
func (p *Passage) Name() string { return p.Figure.Part(p.From, p.To) }

// Steps names rows as dancers count steps, from 1: "step 3", "steps 1–5".
func Steps(from, to int) string {
	if to == from+1 {
		return fmt.Sprintf("step %d", to)
	}
	return fmt.Sprintf("steps %d–%d", from+1, to)
}

// Names returns the figure's name, followed by its other names.
func (f *Figure) Names() []string { return append([]string{f.Name}, f.Aliases...) }

// figureText holds where the parts of a figure stand in its sheet.
type figureText struct {
	at     extent // the heading
	tables []tableText
	facts  []factText
	until  int // where the next section begins, or math.MaxInt

	counted []counted // for each table
}

// counted is what is wrong with the counts of a table; at returns where a row's count stands.
type counted struct {
	troubles []countTrouble
	at       func(row int) extent
}

// tableText holds where the cells of a table stand.
type tableText struct {
	whole   extent
	aligns  []string // "left", "center", "right", "none"
	columns []column
	whose   []Partner  // whose steps a column of technique describes
	cells   [][]extent // the first row is the heading
	short   []bool     // whether a row has fewer cells than the heading
	spread  []bool     // whether a row is one count of several that stand in one row
	rows    []Row      // as read
}

// factText is a fact that tidy writes in its long form.
type factText struct {
	key   extent
	value extent
	name  string
}

// column is the kind of a chart's column.
type column uint8

const (
	otherColumn column = iota
	countColumn
	leaderColumn
	followerColumn
	// A technique chart has more columns, which are folded into the steps.
	alignmentColumn
	turnColumn
	riseColumn
	footworkColumn
	cbmColumn
	swayColumn
	positionColumn
)

// columnWords are the headings of the kinds of columns.
var columnWords = [...]string{"Step", "Count", "Leader", "Follower", "Alignment", "Turn", "Rise", "Footwork", "CBM", "Sway", "Position"}
