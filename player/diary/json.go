package diary

import (
	"cmp"
	_ "embed"
	"time"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// Schema is the JSON Schema (draft 2020-12) of an [Export].
//
//go:embed diary.schema.json
var Schema []byte

// Export is all that a diary holds, for other programs; diary.schema.json describes its parts.
type Export struct {
	Report
	Marks       []Mark       `json:"marks"`
	RunThroughs []RunThrough `json:"runThroughs"`
	Timings     []Timing     `json:"timings"`
}

// Mark is an open mark, or a mark of a run-through.
type Mark struct {
	Dance   string        `json:"dance,omitempty"`
	Figure  string        `json:"figure"`
	Into    string        `json:"into,omitempty"` // of a join
	Partner string        `json:"partner"`
	Tempo   routine.Tempo `json:"beatsPerMinute,omitempty"`
	Last    string        `json:"lastMarked,omitempty"`
	Times   int           `json:"times,omitempty"`
}

// RunThrough is an [Entry] for other programs.
type RunThrough struct {
	Practice  int64         `json:"practice"`
	Ended     string        `json:"ended"`
	Dance     string        `json:"dance"`
	Sheet     string        `json:"sheet"`
	Danced    []DancedPart  `json:"danced"`
	Partners  []string      `json:"partners"`
	Tempo     routine.Tempo `json:"beatsPerMinute"`
	Seconds   float64       `json:"seconds"`
	Finished  bool          `json:"finished"`
	Judged    []string      `json:"judged"`
	Clean     []string      `json:"clean"`
	Marks     []Mark        `json:"marks"`
	TakenBack []Mark        `json:"takenBack"`
}

// Timing is a [Timed] for other programs. Milliseconds are negative if they are early.
type Timing struct {
	At     string        `json:"at"`
	Dance  string        `json:"dance"`
	Sheet  string        `json:"sheet"`
	Tempo  routine.Tempo `json:"beatsPerMinute"`
	Whole  float64       `json:"ms"`
	Unsure float64       `json:"unsureMs"`
	Drift  *float64      `json:"drift"`
	Counts []TimingCount `json:"counts"`
}

// TimingCount is a [TimedCount] for other programs.
type TimingCount struct {
	Name   string  `json:"count"`
	Median float64 `json:"ms"`
	Spread float64 `json:"spreadMs"`
	Taps   int     `json:"taps"`
}

// DancedPart is a figure of a run-through.
type DancedPart struct {
	Figure string `json:"figure"`
	Whole  bool   `json:"whole"`
}

// Export returns all that d holds, with the report on the last weeks. A nil diary is empty. With a *Damaged
// it returns what can be read.
func (d *Diary) Export(weeks int, now time.Time) (x Export, err error) {
	x = Export{Marks: []Mark{}, RunThroughs: []RunThrough{}, Timings: []Timing{}}
	if x.Report, err = d.Report(weeks, now); d == nil || err != nil && !IsDamaged(err) {
		return x, err
	}
	var passes []practice.Kept
	for e, damaged := range d.Entries("") {
		if damaged != nil {
			err = cmp.Or(damaged, err)
			break
		}
		passes = append(passes, e.Kept)
		x.RunThroughs = append(x.RunThroughs, exported(&e))
	}
	marks := practice.Everything(passes, now.Location()).Marks()
	for i := range marks {
		m := &marks[i]
		x.Marks = append(x.Marks, Mark{m.Figure.Dance, m.Figure.Name, m.Then.Name, m.Partner.String(), m.Tempo, m.At.Format(time.RFC3339), m.Times})
	}
	timings, damaged := d.Timings()
	for i := range timings {
		x.Timings = append(x.Timings, timings[i].exported())
	}
	return x, cmp.Or(err, damaged)
}

func (t *Timed) exported() Timing {
	x := Timing{t.At.Format(time.RFC3339), t.Sheet.Dance, t.Sheet.Title, t.Tempo, milliseconds(t.Whole), milliseconds(t.Unsure), t.Drift, []TimingCount{}}
	for _, c := range t.Counts {
		x.Counts = append(x.Counts, TimingCount{c.Name, milliseconds(c.Median), milliseconds(c.Spread), c.Taps})
	}
	return x
}

func milliseconds(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

func exported(e *Entry) RunThrough {
	r := RunThrough{
		Practice: e.Practice, Ended: e.At.Format(time.RFC3339), Dance: e.Sheet.Dance, Sheet: e.Sheet.Title, Danced: []DancedPart{},
		Tempo: e.Tempo, Seconds: float64(e.Took.Milliseconds()) / 1000, Finished: e.Finished,
		Partners: named(e.Dancers.Include), Judged: named(func(p routine.Partner) bool { return e.Judged[p] }), Clean: named(e.Clean),
		Marks: e.named(e.Marks), TakenBack: e.named(e.TakenBack),
	}
	for _, d := range e.Danced {
		r.Danced = append(r.Danced, DancedPart{d.Figure.Name, d.Whole})
	}
	return r
}

// named returns the names of some partners.
func named(is func(routine.Partner) bool) []string {
	names := []string{}
	for _, p := range routine.Partners() {
		if is(p) {
			names = append(names, p.String())
		}
	}
	return names
}

// named returns marks of a run-through by the names of its figures.
func (e *Entry) named(marks []practice.Mark) []Mark {
	list := []Mark{}
	for _, m := range marks {
		name := Mark{Figure: e.Danced[m.Place].Figure.Name, Partner: m.Partner.String()}
		if m.Join {
			name.Figure, name.Into = e.Danced[m.Place-1].Figure.Name, name.Figure
		}
		list = append(list, name)
	}
	return list
}
