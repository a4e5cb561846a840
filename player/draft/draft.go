// Package draft makes a routine: it holds a sheet while its order is changed line by line, with undo and
// redo, and keeps what is not saved yet where a crash can't reach it.
//
// It knows nothing of screens or keys, and leaves to library/check what can be danced.
//
// Begin with New or Open; Change takes what routine.OrderText returns.
package draft

import (
	"bytes"
	"cmp"
	"fmt"
	"strings"

	"github.com/google/uuid"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/routine"
)

// Draft is a sheet that is being changed. It is a value: each change returns another, and none alters what
// an earlier one holds.
type Draft struct {
	Sheet sheets.Document    // as it is now; its Path is "" until it was saved
	Order *routine.OrderText // the order, to be changed
	Line  int                // the line of the order that is marked; -1 before the first
	Score *routine.Score     // as far as it can be danced
	Found []routine.Finding  // what is wrong with it

	shelf        sheets.Shelf
	id           string // of the copy that is kept
	filed        []byte // what the sheet's file held when it was last read or written; nil without a file
	past, future *step
	danced       []dancedLine // for each line of the order
}

// step is a text before or after the present one, and those beyond it.
type step struct {
	text          []byte
	before, after int // the lines marked before and after the change between it and the next text
	next          *step
}

// New returns the draft of a sheet for a dance that has no figures yet. The floor may be zero.
func New(shelf sheets.Shelf, d *routine.Dance, title string, on routine.Room) (Draft, error) {
	floor := ""
	if on != (routine.Room{}) {
		floor = "floor: " + on.String() + "\n"
	}
	text := fmt.Sprintf("---\ndance: %s\n%s---\n\n# %s\n", strings.ToLower(d.Name), floor, routine.Plain(title))
	return opened(shelf, uuid.NewString(), nil, sheets.Document{Name: title, Text: []byte(text)})
}

// Copy returns the draft of a new sheet that begins as a copy of another.
func Copy(shelf sheets.Shelf, doc sheets.Document, title string) (Draft, error) {
	return opened(shelf, uuid.NewString(), nil, sheets.Document{Name: title, Text: routine.Titled(doc.Text, title)})
}

// Open returns the draft of a sheet that exists. The error says why its order can't be changed.
func Open(shelf sheets.Shelf, doc sheets.Document) (Draft, error) {
	var filed []byte
	if doc.Path != "" {
		filed = doc.Text
	}
	return opened(shelf, uuid.NewString(), filed, doc)
}

// opened returns the draft of a sheet, with its last line marked.
func opened(shelf sheets.Shelf, id string, filed []byte, doc sheets.Document) (Draft, error) {
	d, err := Draft{shelf: shelf, id: id, filed: filed}.at(doc)
	if err != nil {
		return d, err
	}
	return d.Marked(d.Order.Len() - 1), nil
}

// at returns d with another text.
func (d Draft) at(doc sheets.Document) (Draft, error) {
	order, err := routine.EditOrder(doc.Name, doc.Text, d.shelf.Library)
	if err != nil {
		return d, err
	}
	d.Order, d.Sheet = order, doc
	d.Score, d.Found = check.Sheet(doc.Name, order.Text(), d.shelf.Library)
	d.danced = dancedLines(order, d.Score)
	return d, nil
}

// with returns d with another text of the same sheet.
func (d Draft) with(text []byte) (Draft, error) {
	doc := d.Sheet
	doc.Text = text
	return d.at(doc)
}

// Change returns the draft with another text, as a method of Order returned it, and with a line marked. What
// was undone before is forgotten. A text whose order can't be read is an error, and changes nothing.
func (d Draft) Change(text []byte, line int) (Draft, error) {
	if bytes.Equal(text, d.Text()) {
		return d.Marked(line), nil
	}
	next, err := d.with(text)
	if err != nil {
		return d, err
	}
	next = next.Marked(line)
	next.past, next.future = &step{d.Text(), d.Line, next.Line, d.past}, nil
	return next, nil
}

// Marked returns the draft with another line marked, or the one nearest to it that there is.
func (d Draft) Marked(line int) Draft {
	d.Line = min(max(line, -1), d.Order.Len()-1)
	return d
}

// Text returns the sheet's text as it is now.
func (d Draft) Text() []byte { return d.Sheet.Text }

// Title returns what the routine is called.
func (d Draft) Title() string { return d.Score.Title }

// Titled returns the text with another title, for Change.
func (d Draft) Titled(title string) []byte { return routine.Titled(d.Text(), title) }

// Setting returns a setting at the top of the sheet as it is written, as in "28 bars/min"; "" if it isn't set.
func (d Draft) Setting(name string) string { return routine.TopSetting(d.Text(), name) }

// Holds returns what holds for the whole routine, as in "28 bars/min, as usual": of its tempo, lead-in or floor.
func (d Draft) Holds(name string) string {
	s, usual := d.Score, "not known"
	switch name {
	case "tempo":
		usual = s.Dance.TempoText(s.Tempo) + ", as usual"
	case "lead-in":
		usual = routine.Plural(s.LeadIn(), "bar") + ", as usual"
	}
	return cmp.Or(d.Setting(name), usual)
}

// Set returns the text with the tempo, the lead-in or the floor of the whole routine, for Change; the unit may be
// missing. No value takes it away; the error says why one can't be.
func (d Draft) Set(name, value string) ([]byte, error) {
	value, err := d.valueOf(name, value)
	if err != nil {
		return nil, err
	}
	return routine.WithSetting(d.Text(), name, value), nil
}

// valueOf returns how a setting of the whole routine is written.
func (d Draft) valueOf(name, text string) (string, error) {
	known := name == "tempo" || name == "lead-in" || name == "floor"
	switch {
	case !known:
		return "", fmt.Errorf("%q is not set for the whole routine; tempo, lead-in and floor are", name)
	case text == "":
		return "", nil
	}
	switch name {
	case "floor":
		room, err := routine.ParseRoom(text)
		if err != nil {
			return "", fmt.Errorf("%q %w; write it as 12 x 8 m", text, err)
		}
		return room.String(), nil
	case "lead-in":
		bars, err := routine.ParseLeadIn(text, d.Score.Dance.Metre)
		if err != nil {
			return "", fmt.Errorf("%q %w; write it in bars, as in 2 bars, or none", text, err)
		}
		if bars == 0 {
			return "none", nil
		}
		return routine.Plural(bars, "bar"), nil
	}
	first, last, err := routine.ParseTempo(text, d.Score.Dance.Metre)
	if err != nil {
		text += " bars/min" // only the unit may be missing
		if _, _, unit := routine.ParseTempo(text, d.Score.Dance.Metre); unit != nil {
			return "", err
		}
		return text, nil
	}
	if first != last {
		return "", fmt.Errorf("%q is no single tempo: one that changes is set for a line", text)
	}
	return text, nil
}

// Undo returns the draft before its last change, with the line marked that was marked then; ok is false if
// there was none.
func (d Draft) Undo() (before Draft, ok bool) {
	last := d.past
	if last == nil {
		return d, false
	}
	before, err := d.with(last.text)
	before.past, before.future = last.next, &step{d.Text(), last.before, last.after, d.future}
	return before.Marked(last.before), err == nil
}

// Redo returns the draft after the change that was undone last, with the line marked that was marked then;
// ok is false if there was none.
func (d Draft) Redo() (after Draft, ok bool) {
	undone := d.future
	if undone == nil {
		return d, false
	}
	after, err := d.with(undone.text)
	after.past, after.future = &step{d.Text(), undone.before, undone.after, d.past}, undone.next
	return after.Marked(undone.after), err == nil
}

// Saved reports whether the sheet's file holds the present text, or nothing was made yet.
func (d Draft) Saved() bool {
	if d.filed == nil {
		return d.past == nil && d.Order.Len() == 0 // a draft that is resumed has no past
	}
	return bytes.Equal(d.filed, d.Text())
}

// Objections returns what is wrong with each line of the order, and what is wrong elsewhere in the sheet.
func (d Draft) Objections() (lines [][]routine.Finding, elsewhere []routine.Finding) {
	lines = make([][]routine.Finding, d.Order.Len())
	for _, f := range routine.Objections(d.Found) {
		if i := d.Order.At(f.Span.Start.Offset); i >= 0 {
			lines[i] = append(lines[i], f)
		} else {
			elsewhere = append(elsewhere, f)
		}
	}
	return lines, elsewhere
}

// Length says how long the routine is, in bars and phrases.
func (d Draft) Length() string {
	s := d.Score
	bar := s.Dance.Metre.Bar()
	if len(s.Passages) == 0 || bar == 0 {
		return "nothing yet"
	}
	beats := s.End - s.Start
	text := routine.Plural(int(beats/bar), "bar")
	if over := beats % bar; over != 0 {
		text += " and " + over.InBeats()
	}
	phrase := routine.Beats(s.Dance.PhraseBars) * bar
	switch {
	case phrase == 0:
		return text
	case beats%phrase == 0:
		return text + " · " + routine.Plural(int(beats/phrase), "phrase")
	}
	return text + fmt.Sprintf(" · %s to the phrase", routine.Plural(int((phrase-beats%phrase+bar-1)/bar), "bar"))
}
