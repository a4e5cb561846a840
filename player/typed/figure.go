package typed

import (
	"errors"
	"strconv"
	"strings"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/routine"
)

// speaker answers.
type speaker interface {
	say(format string, args ...any)
	tell(found []routine.Finding)
}

// writing is a figure of the sheet's own that is being written.
type writing struct {
	speaker
	draft  *draft.Draft
	files  *draft.Files
	figure *draft.Figure
	asked  choice // for whom ways were listed last
	over   bool   // the handbook holds something else, which "handbook" writes over when it is said again
	left   bool   // it is done with
}

// choice is the ways that were listed for a partner on a row.
type choice struct {
	row  int
	cell draft.Cell
	ways []string
}

// write begins a figure, or goes on with one. It returns nil if it can't, and says why.
func write(s speaker, d *draft.Draft, files *draft.Files, name string) *writing {
	begun, f, err := d.Writing(name)
	if err != nil {
		s.say("That can't be done: %v.", err)
		return nil
	}
	*d = begun
	w := &writing{speaker: s, draft: d, files: files, figure: f}
	if len(f.Rows) > 0 {
		w.read("")
		return w
	}
	w.say("%s is begun. It starts in %s. \"help\" lists the commands, \"done\" puts it into the order.", f.Name, known(f.Starts()))
	w.next()
	return w
}

func known(hold string) string {
	if hold == "" {
		return "a hold that isn't said"
	}
	return hold
}

// figureCommand is what can be typed while a figure is written.
type figureCommand struct {
	name, args, what string
	do               func(w *writing, args string)
}

// figureCommands lists them, as "help" does.
func figureCommands() []figureCommand {
	return []figureCommand{
		{"step", "[STEP]", "writes the leader's step on the next count, as in \"step side\", \"step RF forward, 1/4 R\"; without one, the most usual", (*writing).step},
		{"ways", "[ROW] [follower]", "lists what is usual there", (*writing).ways},
		{"take", "NUMBER", "takes what was listed under that number", (*writing).take},
		{"count", "ROW COUNT", "writes another count there", func(w *writing, args string) { w.cell(draft.CountCell, args) }},
		{"leader", "ROW STEP", "writes another step of the leader's; the follower's follows as long as it is the natural opposite", func(w *writing, args string) { w.cell(draft.LeaderCell, args) }},
		{"follower", "ROW STEP", "writes another step of the follower's", func(w *writing, args string) { w.cell(draft.FollowerCell, args) }},
		{"remove", "ROW", "takes a count out", (*writing).remove},
		{"starts", "[HOLD]", "says how the couple stands when it starts, as in \"starts closed, leader LF free\"", func(w *writing, args string) { w.fact("starts", args) }},
		{"ends", "[HOLD]", "says how the couple stands when it ends", func(w *writing, args string) { w.fact("ends", args) }},
		{"read", "", "reads the figure, with what is wrong with it", (*writing).read},
		{"undo", "", "takes the last change back", func(w *writing, _ string) { w.goes(w.draft.Undo()) }},
		{"redo", "", "makes it again", func(w *writing, _ string) { w.goes(w.draft.Redo()) }},
		{"handbook", "", "copies it into your own handbook", (*writing).handbook},
		{"drop", "", "throws the figure away", (*writing).drop},
		{"done", "", "puts it into the order, after the line you were at", (*writing).done},
		{"leave", "", "goes back to the order without that", func(w *writing, _ string) { w.ends(w.figure.Left(), w.draft.Line) }},
	}
}

// carryOut carries out a command of the figure's, as it is in the sheet now; ok is false if it is none.
func (w *writing) carryOut(name, args string) (ok bool) {
	for _, c := range figureCommands() {
		if strings.EqualFold(c.name, name) {
			f, err := w.draft.Figure(w.figure.Name)
			if w.left = err != nil; w.left {
				w.say("%s can't be written on: %v.", w.figure.Name, err)
				return true
			}
			w.figure = f
			over := w.over
			c.do(w, args)
			w.over = w.over && !over
			return true
		}
	}
	return false
}

// help lists the commands.
func (w *writing) help() {
	for _, c := range figureCommands() {
		w.say("%s: %s.", strings.TrimSpace(c.name+" "+c.args), c.what)
	}
}

// changes takes in the text with the figure changed. It returns false, and says why, if that can't be.
func (w *writing) changes(text []byte, err error) bool {
	var d draft.Draft
	if err == nil {
		d, err = w.draft.Change(text, w.draft.Line)
	}
	var f *draft.Figure
	if err == nil {
		f, err = d.Figure(w.figure.Name)
	}
	if err != nil {
		w.say("That can't be done: %v.", err)
		return false
	}
	*w.draft, w.figure, w.asked = d, f, choice{}
	return true
}

// row reads a row.
func (w *writing) row(row int) {
	r := w.figure.Rows[row]
	w.say("%d: count %s, leader %s, follower %s.", row+1, r[draft.CountCell], r[draft.LeaderCell], r[draft.FollowerCell])
	rows, _ := w.figure.Objections()
	w.tell(rows[row])
}

// read reads the figure.
func (w *writing) read(string) {
	w.say("%s starts in %s.", w.figure.Name, known(w.figure.Starts()))
	for i := range w.figure.Rows {
		w.row(i)
	}
	_, elsewhere := w.figure.Objections()
	w.tell(elsewhere)
	w.next()
}

// now reads a row after a change, and others that are wrong.
func (w *writing) now(row int) {
	rows, elsewhere := w.figure.Objections()
	for i := range rows {
		if i == row || len(rows[i]) > 0 {
			w.row(i)
		}
	}
	w.tell(elsewhere)
}

// next says which feet are free, and what usually comes next.
func (w *writing) next() {
	n := len(w.figure.Rows)
	r, free := w.figure.Next(), w.figure.Free(n)
	w.say("Next is count %s: leader, %s, usually %s; follower, %s, then %s.", r[draft.CountCell],
		freeFoot(free[routine.Leader]), r[draft.LeaderCell], freeFoot(free[routine.Follower]), r[draft.FollowerCell])
}

func freeFoot(f routine.Foot) string {
	if f == routine.NoFoot {
		return "either foot free"
	}
	return f.String() + " free"
}

func (w *writing) step(args string) {
	n := len(w.figure.Rows)
	if args == "" {
		args = w.figure.Next()[draft.LeaderCell]
	}
	if w.changes(w.figure.Write(n, draft.LeaderCell, args)) {
		w.now(n)
		w.next()
	}
}

// number reads a row's number, from 1, and what follows it; with next, the row to come has one too.
func (w *writing) number(args string, next bool) (row int, rest string, ok bool) {
	most := len(w.figure.Rows)
	if next {
		most++
	}
	word, rest, _ := strings.Cut(args, " ")
	n, err := strconv.Atoi(word)
	if err != nil || n < 1 || n > most {
		w.say("Which row? The figure has %s.", routine.Plural(len(w.figure.Rows), "row"))
		return 0, "", false
	}
	return n - 1, strings.TrimSpace(rest), true
}

func (w *writing) ways(args string) {
	row, rest := len(w.figure.Rows), args
	if args != "" && !strings.EqualFold(args, routine.Follower.String()) {
		var ok bool
		if row, rest, ok = w.number(args, true); !ok {
			return
		}
	}
	p := routine.Leader
	if strings.EqualFold(rest, routine.Follower.String()) {
		p = routine.Follower
	}
	ways := w.figure.Ways(row, p)
	w.asked = choice{row, draft.LeaderCell + draft.Cell(p), ways}
	w.say("%s, row %d, %s:", p, row+1, freeFoot(w.figure.Free(row)[p]))
	for i, way := range ways {
		w.say("%d: %s.", i+1, way)
	}
}

func (w *writing) take(args string) {
	n, err := strconv.Atoi(args)
	if err != nil || n < 1 || n > len(w.asked.ways) {
		w.say("Take which? \"ways\" lists some.")
		return
	}
	w.writes(w.asked.row, w.asked.cell, w.asked.ways[n-1])
}

// cell writes a cell of a row that is there.
func (w *writing) cell(cell draft.Cell, args string) {
	row, rest, ok := w.number(args, false)
	switch {
	case ok && rest == "":
		w.say("What is written there?")
	case ok:
		w.writes(row, cell, rest)
	}
}

func (w *writing) writes(row int, cell draft.Cell, text string) {
	if w.changes(w.figure.Write(row, cell, text)) {
		w.now(row)
		w.next()
	}
}

func (w *writing) remove(args string) {
	if row, _, ok := w.number(args, false); ok && w.changes(w.figure.Remove(row), nil) {
		w.read("")
	}
}

func (w *writing) fact(name, value string) {
	if w.changes(w.figure.Set(name, value), nil) {
		w.read("")
	}
}

// goes takes in what undo or redo leads to. The figure may be gone there.
func (w *writing) goes(d draft.Draft, ok bool) {
	if !ok {
		w.say("There is nothing further.")
		return
	}
	*w.draft, w.asked = d, choice{}
	f, err := d.Figure(w.figure.Name)
	if err != nil {
		w.left = true
		w.say("%s isn't begun.", w.figure.Name)
		return
	}
	w.figure = f
	w.read("")
}

func (w *writing) handbook(string) {
	sheet, err := w.figure.Sheet()
	if err != nil {
		w.say("That can't be done: %v.", err)
		return
	}
	path, err := w.files.Own(w.figure.Name, sheet, w.over)
	switch {
	case errors.Is(err, draft.ErrNewer):
		w.over = true
		w.say("%s holds something else. Say \"handbook\" again to write over it.", path)
	case err != nil:
		w.say("That can't be done: %v.", err)
	default:
		w.say("Copied to %s: your handbook has it from the next start on.", path)
	}
}

func (w *writing) drop(string) {
	if w.ends(w.figure.Without(), w.draft.Line) {
		w.say("%s is thrown away.", w.figure.Name)
	}
}

func (w *writing) done(string) {
	if len(w.figure.Rows) == 0 {
		w.say("%s has no steps yet.", w.figure.Name)
		return
	}
	if w.ends(w.figure.Done()) {
		w.say("%s is in the order.", w.figure.Name)
	}
}

// ends takes in the text with which the figure is done with. It returns false, and says why, if that can't be.
func (w *writing) ends(text []byte, line int) bool {
	d, err := w.draft.Change(text, line)
	if err != nil {
		w.say("That can't be done: %v.", err)
		return false
	}
	*w.draft, w.left = d, true
	return true
}
