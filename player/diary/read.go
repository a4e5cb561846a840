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

// Entry is a run-through and the practice that it was part of.
type Entry struct {
	practice.Kept
	Practice int64 // numbers practices in the order in which they were kept
	Sheet    practice.Sheet
}

// reader knows the parts, sheets and marks that run-throughs refer to, and counts damaged rows.
type reader struct {
	parts   map[int64][]practice.Danced
	sheets  map[int64]practice.Sheet     // by practice
	marks   [2]map[int64][]practice.Mark // those that stand, and those taken back
	unclear map[int64]bool               // run-throughs with marks that can't be read
	damaged int                          // rows
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
	r = &reader{parts: map[int64][]practice.Danced{}, marks: [2]map[int64][]practice.Mark{{}, {}}, unclear: map[int64]bool{}}
	return r, cmp.Or(r.count(tx, "figure", "part_figure"), r.readSheets(tx), r.readParts(tx), r.readMarks(tx))
}

// count adds up the invalid rows of tables.
func (r *reader) count(tx *sql.Tx, tables ...string) error {
	for _, table := range tables {
		var n int
		if err := tx.QueryRow(fmt.Sprintf("SELECT count(*) FROM %s WHERE %s IS NOT TRUE", table, soundRows[table])).Scan(&n); err != nil {
			return err
		}
		r.damaged += n
	}
	return nil
}

// countPasses counts the invalid run-throughs, of which there are all but the valid ones. Checking
// every column once more would take a tenth of the time of reading them.
func (r *reader) countPasses(tx *sql.Tx, valid int) error {
	var all int
	err := tx.QueryRow("SELECT count(*) FROM pass NOT INDEXED").Scan(&all)
	r.damaged += all - valid
	return err
}

// readParts reads what parts dance. A part that lacks a figure is left out.
func (r *reader) readParts(tx *sql.Tx) error {
	lacking := map[int64]bool{}
	err := rows(tx, "SELECT part, place, whole, dance, name, figure.steps FROM part_figure LEFT JOIN "+only("figure")+
		" ON figure.id = figure ORDER BY part, place", func(row *sql.Rows) error {
		var part, place, whole any
		var dance, name, steps sql.NullString
		if err := row.Scan(&part, &place, &whole, &dance, &name, &steps); err != nil {
			return err
		}
		id, ok := part.(int64)
		w, isWhole := whole.(int64)
		if !ok || !isWhole || w < 0 || w > 1 || !dance.Valid || place != int64(len(r.parts[id])) {
			lacking[id] = true
			return nil
		}
		r.parts[id] = append(r.parts[id], practice.Danced{Figure: practice.Figure{Dance: dance.String, Name: name.String, Steps: steps.String}, Whole: w == 1})
		return nil
	})
	for part := range lacking {
		delete(r.parts, part)
	}
	return err
}

func (r *reader) readSheets(tx *sql.Tx) error {
	r.sheets = map[int64]practice.Sheet{}
	if err := r.count(tx, "sheet", "practice"); err != nil {
		return err
	}
	return rows(tx, "SELECT practice.id, dance, title, steps FROM "+only("practice")+" JOIN "+only("sheet")+" ON sheet.id = sheet", func(row *sql.Rows) error {
		var id int64
		var s practice.Sheet
		err := row.Scan(&id, &s.Dance, &s.Title, &s.Order)
		r.sheets[id] = s
		return err
	})
}

func (r *reader) readMarks(tx *sql.Tx) error {
	err := rows(tx, "SELECT pass FROM mark WHERE "+soundRows["mark"]+" IS NOT TRUE", func(row *sql.Rows) error {
		var pass any
		err := row.Scan(&pass)
		r.damaged++
		if id, ok := pass.(int64); ok {
			r.unclear[id] = true
		}
		return err
	})
	if err != nil {
		return err
	}
	return rows(tx, "SELECT pass, place, is_join, partner, taken_back FROM "+only("mark")+" ORDER BY pass, place, is_join, partner", func(row *sql.Rows) error {
		var pass, taken int64
		var m practice.Mark
		err := row.Scan(&pass, &m.Place, &m.Join, &m.Partner, &taken)
		r.marks[taken&1][pass] = append(r.marks[taken&1][pass], m)
		return err
	})
}

// fill adds what was danced to a run-through, which stands for several like it; ok is false if that is
// invalid. If its marks can't be placed it is invalid too, as it would otherwise count as clean.
func (r *reader) fill(p *practice.Kept, id, part int64, times int) (ok bool) {
	p.Danced, p.Marks, p.TakenBack = r.parts[part], r.marks[0][id], r.marks[1][id]
	for _, marks := range [][]practice.Mark{p.Marks, p.TakenBack} {
		for _, m := range marks {
			r.unclear[id] = r.unclear[id] || m.Place >= len(p.Danced) || m.Join && m.Place == 0
		}
	}
	if len(p.Danced) == 0 || r.unclear[id] {
		r.damaged += times
		return false
	}
	return true
}

// found returns a *Damaged if anything that was read was damaged.
func (r *reader) found(path string) error {
	if r.damaged == 0 {
		return nil
	}
	return &Damaged{path, r.damaged}
}

// row is an entry and how its row is known.
type row struct {
	Entry
	id, part, number int64
}

// each calls f for all that is kept of a dance, or of all if dance is "", in order of time.
func (r *reader) each(tx *sql.Tx, dance string, f func(row) error) error {
	valid := 0
	err := rows(tx, "SELECT id, practice, part, at, took, tempo, side, finished, judged, number FROM "+only("pass")+" ORDER BY at, id", func(list *sql.Rows) error {
		var e row
		var at, took, judged int64
		if err := list.Scan(&e.id, &e.Practice, &e.part, &at, &took, &e.Tempo, &e.Dancers, &e.Finished, &judged, &e.number); err != nil {
			return err
		}
		valid++
		e.Judged, e.At, e.Took = partners(judged), time.UnixMilli(at), time.Duration(took)*time.Millisecond
		var ok bool
		if e.Sheet, ok = r.sheets[e.Practice]; !ok {
			r.damaged++
			return nil
		}
		if !r.fill(&e.Kept, e.id, e.part, 1) || dance != "" && e.Sheet.Dance != dance {
			return nil
		}
		return f(e)
	})
	return cmp.Or(err, r.countPasses(tx, valid))
}

// Entries yields all that is kept of a dance, or everything if dance is "", in order of time. An error
// comes last; if it is a *Damaged, all that can be read came before. Don't use d otherwise between two
// entries.
func (d *Diary) Entries(dance string) iter.Seq2[Entry, error] {
	return func(yield func(Entry, error) bool) {
		stopped := errors.New("stopped")
		err := d.read(func(tx *sql.Tx) error {
			r, err := newReader(tx)
			if err != nil {
				return err
			}
			err = r.each(tx, dance, func(e row) error {
				if !yield(e.Entry, nil) {
					return stopped
				}
				return nil
			})
			return cmp.Or(err, r.found(d.path))
		})
		if err != nil && !errors.Is(err, stopped) {
			yield(Entry{}, notRead(err))
		}
	}
}

// notRead wraps an error of reading.
func notRead(err error) error {
	if err == nil || errors.As(err, new(*Damaged)) { // a *Damaged says so itself
		return err
	}
	return fmt.Errorf("read the diary: %w", corrupt(err))
}

// Passes returns the run-throughs of a dance in order of time, for a [practice.History]. With an error
// it returns those that could be read.
func (d *Diary) Passes(dance string) ([]practice.Kept, error) {
	var list []practice.Kept
	for e, err := range d.Entries(dance) {
		if err != nil {
			return list, err
		}
		list = append(list, e.Kept)
	}
	return list, nil
}

// read calls f with a view of the diary as it is at one moment.
func (d *Diary) read(f func(*sql.Tx) error) error {
	var tx *sql.Tx
	err := d.patiently(func() (err error) {
		if tx, err = d.db.BeginTx(context.Background(), &sql.TxOptions{ReadOnly: true}); err != nil {
			return err
		}
		var n int // the first look sets the moment
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

// Session returns the session of a sheet that was left, or nil if there is none or the sheet has been
// edited since.
func (d *Diary) Session(s practice.Sheet) (plan []byte, err error) {
	err = d.db.QueryRow(`SELECT plan FROM session JOIN sheet ON sheet.id = sheet WHERE dance = ? AND session.steps = ? ORDER BY title = ? DESC LIMIT 1`,
		s.Dance, s.Order, s.Title).Scan(&plan)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read the session that was left: %w", corrupt(err))
	}
	return plan, nil
}

// Kept is one practice.
type Kept struct {
	Sheet       practice.Sheet
	Began       time.Time
	Took        time.Duration // time spent dancing
	RunThroughs int
}

// Practices returns the practices that began at or after a time, in order. With a *Damaged it returns
// those that can be read.
func (d *Diary) Practices(since time.Time) ([]Kept, error) {
	var list []Kept
	err := d.read(func(tx *sql.Tx) error {
		var r reader
		if err := r.readSheets(tx); err != nil {
			return err
		}
		err := rows(tx, "SELECT id, began, took, (SELECT count(*) FROM pass WHERE practice = practice.id) FROM "+only("practice")+
			" WHERE began >= ? ORDER BY began, id", func(row *sql.Rows) error {
			var k Kept
			var id, began, took int64
			if err := row.Scan(&id, &began, &took, &k.RunThroughs); err != nil {
				return err
			}
			var ok bool
			if k.Sheet, ok = r.sheets[id]; !ok {
				r.damaged++
				return nil
			}
			k.Began, k.Took = time.UnixMilli(began), time.Duration(took)*time.Millisecond
			list = append(list, k)
			return nil
		}, since.UnixMilli())
		return cmp.Or(err, r.found(d.path))
	})
	return list, notRead(err)
}

// Known is what is kept of a figure, in all sheets of its dance.
type Known struct {
	practice.Figure // with the name under which it was last danced
	RunThroughs     int
	Judged          [2]int           // by partner: how often one of them said how it went,
	Clean           [2]int           // that it went well,
	Marks           [2]int           // and that it went wrong
	Best            [2]routine.Tempo // the fastest that was judged clean; 0 for none
	Last            time.Time
}

// Figures returns what is kept of each figure, the one danced last first. Charts of the same name, or
// with the same steps, are one figure. With a *Damaged it returns what can be read.
func (d *Diary) Figures() (list []Known, err error) {
	err = d.read(func(tx *sql.Tx) error {
		r, err := newReader(tx)
		if err != nil {
			return err
		}
		if list, err = r.figures(tx); err != nil {
			return err
		}
		return r.found(d.path)
	})
	return list, notRead(err)
}

func (r *reader) figures(tx *sql.Tx) ([]Known, error) {
	known, valid := gathering{}, 0
	// Unmarked run-throughs of one part by the same dancers, judged alike, differ only in tempo and time.
	err := rows(tx, "SELECT min(id), part, side, judged, count(*), max(at), max(tempo) FROM "+only("pass")+
		" GROUP BY CASE WHEN id IN (SELECT pass FROM mark) THEN id END, part, side, judged", func(row *sql.Rows) error {
		var id, part, at, judged int64
		var p practice.Kept
		var times int
		if err := row.Scan(&id, &part, &p.Dancers, &judged, &times, &at, &p.Tempo); err != nil {
			return err
		}
		valid += times
		p.Judged, p.At = partners(judged), time.UnixMilli(at)
		if r.fill(&p, id, part, times) {
			known.add(&p, times)
		}
		return nil
	})
	return known.merged(), cmp.Or(err, r.countPasses(tx, valid))
}

// gathering is what is known of figures, by name and steps.
type gathering map[practice.Figure]*Known

// add adds a run-through that was danced several times. A figure that occurs twice in it counts once,
// as it went the worse time.
func (g gathering) add(p *practice.Kept, times int) {
	went := map[practice.Figure][2]practice.Verdict{} // by partner
	for place, d := range p.Danced {
		if d.Whole {
			w := went[d.Figure]
			for _, partner := range routine.Partners() {
				w[partner] = max(w[partner], p.Verdict(place, false, partner))
			}
			went[d.Figure] = w
		}
	}
	for fig, by := range went {
		k := g[fig]
		if k == nil {
			k = &Known{Figure: fig}
			g[fig] = k
		}
		k.RunThroughs += times
		if p.At.After(k.Last) {
			k.Last = p.At
		}
		for _, partner := range routine.Partners() {
			k.judge(partner, by[partner], p.Tempo, times)
		}
	}
}

// judge adds how it went for a partner, several times.
func (k *Known) judge(partner routine.Partner, v practice.Verdict, tempo routine.Tempo, times int) {
	switch v {
	case practice.Unjudged:
		return
	case practice.WentWrong:
		k.Marks[partner] += times
	case practice.WentWell:
		k.Clean[partner] += times
		k.Best[partner] = max(k.Best[partner], tempo)
	}
	k.Judged[partner] += times
}

// merged joins charts of the same name or with the same steps.
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
	seen := map[practice.Figure]int{} // keyed by what they share
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
	k.RunThroughs += old.RunThroughs
	for i := range k.Marks {
		k.Judged[i] += old.Judged[i]
		k.Clean[i] += old.Clean[i]
		k.Marks[i] += old.Marks[i]
		k.Best[i] = max(k.Best[i], old.Best[i])
	}
}

func compareFigures(a, b practice.Figure) int {
	return cmp.Or(strings.Compare(a.Dance, b.Dance), strings.Compare(a.Name, b.Name), strings.Compare(a.Steps, b.Steps))
}
