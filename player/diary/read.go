package diary

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"
	"time"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// Entry is a pass and the practice that it was part of.
type Entry struct {
	practice.Pass
	Practice int64 // numbers practices in the order in which they were kept
	Sheet    practice.Sheet
}

// reader knows the parts and sheets that entries refer to.
type reader struct {
	parts  map[int64][]practice.Danced
	sheets map[int64]practice.Sheet // by practice
}

// rows calls f for each row of a query.
func rows(tx *sql.Tx, query string, f func(*sql.Rows) error, args ...any) error {
	list, err := tx.Query(query, args...)
	if err != nil {
		return err
	}
	defer list.Close()
	for list.Next() {
		if err := f(list); err != nil {
			return err
		}
	}
	return list.Err()
}

func newReader(tx *sql.Tx) (r *reader, err error) {
	r = &reader{parts: map[int64][]practice.Danced{}, sheets: map[int64]practice.Sheet{}}
	err = rows(tx, `SELECT part, whole, dance, name, steps FROM part_figure JOIN figure ON figure.id = figure ORDER BY part, place`, func(row *sql.Rows) error {
		var part int64
		var d practice.Danced
		err := row.Scan(&part, &d.Whole, &d.Figure.Dance, &d.Figure.Name, &d.Figure.Steps)
		r.parts[part] = append(r.parts[part], d)
		return err
	})
	if err != nil {
		return nil, err
	}
	err = rows(tx, `SELECT practice.id, dance, title, steps FROM practice JOIN sheet ON sheet.id = sheet`, func(row *sql.Rows) error {
		var id int64
		var s practice.Sheet
		err := row.Scan(&id, &s.Dance, &s.Title, &s.Order)
		r.sheets[id] = s
		return err
	})
	return r, err
}

// Entries gives all that is kept of a dance, or everything if it is "", in the
// order of time. An error is the last that it gives. Between two entries d can't
// be used otherwise.
func (d *Diary) Entries(dance string) iter.Seq2[Entry, error] {
	return func(yield func(Entry, error) bool) {
		stopped := errors.New("stopped")
		err := d.read(func(tx *sql.Tx) error {
			r, err := newReader(tx)
			if err != nil {
				return err
			}
			marks, err := marksOf(tx)
			if err != nil {
				return err
			}
			return rows(tx, `SELECT id, practice, part, at, took, tempo, side, finished FROM pass ORDER BY at, id`, func(row *sql.Rows) error {
				var id, part, at, took int64
				var e Entry
				if err := row.Scan(&id, &e.Practice, &part, &at, &took, &e.Tempo, &e.Side, &e.Finished); err != nil {
					return err
				}
				e.Sheet = r.sheets[e.Practice]
				if dance != "" && e.Sheet.Dance != dance {
					return nil
				}
				e.At, e.Took = time.UnixMilli(at), time.Duration(took)*time.Millisecond
				e.Danced, e.Marks = r.parts[part], marks[id]
				if !yield(e, nil) {
					return stopped
				}
				return nil
			})
		})
		if err != nil && !errors.Is(err, stopped) {
			yield(Entry{}, fmt.Errorf("read the diary: %w", err))
		}
	}
}

// Passes gives the passes of a dance in the order of time, for a
// [practice.History].
func (d *Diary) Passes(dance string) ([]practice.Pass, error) {
	var list []practice.Pass
	for e, err := range d.Entries(dance) {
		if err != nil {
			return nil, err
		}
		list = append(list, e.Pass)
	}
	return list, nil
}

// read reads everything as it stands at one moment.
func (d *Diary) read(f func(*sql.Tx) error) error {
	var tx *sql.Tx
	err := d.patiently(func() (err error) {
		if tx, err = d.db.BeginTx(context.Background(), &sql.TxOptions{ReadOnly: true}); err != nil {
			return err
		}
		var n int // the moment is that of the first look
		if err = tx.QueryRow("SELECT count(*) FROM sqlite_schema").Scan(&n); err != nil {
			_ = tx.Rollback() // it changed nothing
		}
		return err
	})
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	return f(tx)
}

func marksOf(tx *sql.Tx) (map[int64][]practice.Mark, error) {
	marks := map[int64][]practice.Mark{}
	err := rows(tx, `SELECT pass, place, is_join, partner FROM mark ORDER BY pass, place, is_join, partner`, func(row *sql.Rows) error {
		var pass int64
		var m practice.Mark
		err := row.Scan(&pass, &m.Place, &m.Join, &m.Partner)
		marks[pass] = append(marks[pass], m)
		return err
	})
	return marks, err
}

// Session gives the session of a sheet that was left; nil if there is none, or
// if the sheet was edited since.
func (d *Diary) Session(s practice.Sheet) (plan []byte, err error) {
	err = d.db.QueryRow(`SELECT plan FROM session JOIN sheet ON sheet.id = sheet WHERE dance = ? AND session.steps = ? ORDER BY title = ? DESC LIMIT 1`,
		s.Dance, s.Order, s.Title).Scan(&plan)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read the session that was left: %w", err)
	}
	return plan, nil
}

// Kept is one practice.
type Kept struct {
	Sheet  practice.Sheet
	Began  time.Time
	Took   time.Duration // of dancing
	Passes int
}

// Practices lists the practices that began at a time or later, in that order.
func (d *Diary) Practices(since time.Time) ([]Kept, error) {
	var list []Kept
	err := d.read(func(tx *sql.Tx) error {
		return rows(tx, `SELECT dance, title, steps, began, took, (SELECT count(*) FROM pass WHERE practice = practice.id)
			FROM practice JOIN sheet ON sheet.id = sheet WHERE began >= ? ORDER BY began, practice.id`, func(row *sql.Rows) error {
			var k Kept
			var began, took int64
			err := row.Scan(&k.Sheet.Dance, &k.Sheet.Title, &k.Sheet.Order, &began, &took, &k.Passes)
			k.Began, k.Took = time.UnixMilli(began), time.Duration(took)*time.Millisecond
			list = append(list, k)
			return err
		}, since.UnixMilli())
	})
	if err != nil {
		return nil, fmt.Errorf("read the diary: %w", err)
	}
	return list, nil
}

// Known is what is kept of a figure, in all sheets of its dance.
type Known struct {
	practice.Figure // by the name under which it was last danced
	Passes          int
	Marks           [2]int           // by the partners
	Best            [2]routine.Tempo // the fastest that was danced clean; 0 for none
	Last            time.Time
}

// Figures lists what is kept of each figure, the one that was danced last first.
// Charts of the same name, or the same steps, are one figure.
func (d *Diary) Figures() (list []Known, err error) {
	err = d.read(func(tx *sql.Tx) error {
		list, err = figures(tx)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("read the diary: %w", err)
	}
	return list, nil
}

func figures(tx *sql.Tx) ([]Known, error) {
	r, err := newReader(tx)
	if err != nil {
		return nil, err
	}
	known := gathering{}
	// All passes of a part and side that nobody marked are alike but for tempo and time.
	err = rows(tx, `SELECT part, side, count(*), max(at), max(tempo) FROM pass
		WHERE id NOT IN (SELECT pass FROM mark) GROUP BY part, side`, func(row *sql.Rows) error {
		var part, at int64
		var p practice.Pass
		var times int
		if err := row.Scan(&part, &p.Side, &times, &at, &p.Tempo); err != nil {
			return err
		}
		p.At, p.Danced = time.UnixMilli(at), r.parts[part]
		known.add(&p, times)
		return nil
	})
	if err != nil {
		return nil, err
	}
	marks, err := marksOf(tx)
	if err != nil {
		return nil, err
	}
	err = rows(tx, `SELECT id, part, side, at, tempo FROM pass WHERE id IN (SELECT pass FROM mark)`, func(row *sql.Rows) error {
		var id, part, at int64
		var p practice.Pass
		if err := row.Scan(&id, &part, &p.Side, &at, &p.Tempo); err != nil {
			return err
		}
		p.At, p.Danced, p.Marks = time.UnixMilli(at), r.parts[part], marks[id]
		known.add(&p, 1)
		return nil
	})
	return known.merged(), err
}

// gathering is what is known of figures by name and steps.
type gathering map[practice.Figure]*Known

// add adds a pass that was danced some times. A figure that comes twice in it is danced
// once, and marked if it was once.
func (g gathering) add(p *practice.Pass, times int) {
	marked := map[practice.Figure][2]bool{} // by whom
	for place, d := range p.Danced {
		if d.Whole {
			m := marked[d.Figure]
			for _, partner := range routine.Partners() {
				m[partner] = m[partner] || p.Marked(place, false, partner)
			}
			marked[d.Figure] = m
		}
	}
	for fig, by := range marked {
		k := g[fig]
		if k == nil {
			k = &Known{Figure: fig}
			g[fig] = k
		}
		k.Passes += times
		if p.At.After(k.Last) {
			k.Last = p.At
		}
		for _, partner := range routine.Partners() {
			switch {
			case by[partner]:
				k.Marks[partner] += times
			case p.Side.Dances(partner):
				k.Best[partner] = max(k.Best[partner], p.Tempo)
			}
		}
	}
}

// merged puts charts of the same name or the same steps together.
func (g gathering) merged() []Known {
	all := make([]Known, 0, len(g))
	for _, k := range g {
		all = append(all, *k)
	}
	slices.SortFunc(all, func(a, b Known) int {
		if c := b.Last.Compare(a.Last); c != 0 {
			return c
		}
		return compareFigures(a.Figure, b.Figure)
	})
	var list []Known
	seen := map[practice.Figure]int{} // by what they share
	for _, k := range all {
		byName := practice.Figure{Dance: k.Dance, Name: routine.Key(k.Name)}
		bySteps := practice.Figure{Dance: k.Dance, Steps: k.Steps}
		at, ok := seen[byName]
		if !ok {
			at, ok = seen[bySteps]
		}
		if !ok {
			at = len(list)
			list = append(list, k)
		} else {
			list[at].join(k)
		}
		seen[byName], seen[bySteps] = at, at
	}
	return list
}

// join adds what is known of an older form of the figure.
func (k *Known) join(old Known) {
	k.Passes += old.Passes
	for i := range k.Marks {
		k.Marks[i] += old.Marks[i]
		k.Best[i] = max(k.Best[i], old.Best[i])
	}
}

func compareFigures(a, b practice.Figure) int {
	return cmp.Or(strings.Compare(a.Dance, b.Dance), strings.Compare(a.Name, b.Name), strings.Compare(a.Steps, b.Steps))
}
