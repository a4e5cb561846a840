package diary

import (
	"cmp"
	"crypto/rand"
	"database/sql"
	"math"
	"time"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/timing"
	"dance.example/slowquick/routine"
)

// Timed is how well the steps of a sheet were tapped once. Lengths are early if negative.
type Timed struct {
	At     time.Time
	Sheet  practice.Sheet
	Tempo  routine.Tempo
	Whole  time.Duration
	Unsure time.Duration // by how much Whole and all counts may be wrong
	Drift  *float64      // in silence, as a part of the tempo; nil if it isn't known
	Counts []TimedCount

	id  int64
	uid string
}

// TimedCount is how one count was tapped.
type TimedCount struct {
	Name           string
	Median, Spread time.Duration
	Taps           int
}

// NewTimed returns what is kept of a result.
func NewTimed(sheet practice.Sheet, at time.Time, tempo routine.Tempo, r timing.Result) Timed {
	t := Timed{At: at, Sheet: sheet, Tempo: tempo, Whole: seconds(r.Whole.Value), Unsure: seconds(r.Unsure.All())}
	if r.Drift.Known {
		t.Drift = &r.Drift.Value
	}
	for _, c := range r.Counts {
		if len(c.Offsets) > 0 {
			t.Counts = append(t.Counts, TimedCount{c.Name, seconds(c.Value), seconds(c.Spread), len(c.Offsets)})
		}
	}
	return t
}

func seconds(s float64) time.Duration {
	return time.Duration(math.Round(s*1e6)) * time.Microsecond
}

// KeepTimed keeps how well steps were tapped. The error is a *NotKept.
func (d *Diary) KeepTimed(t Timed) error {
	t.uid = rand.Text()
	err := d.change(func(tx *sql.Tx) error {
		sheet, err := sheetOf(tx, t.Sheet)
		if err != nil {
			return err
		}
		return addTimed(tx, sheet, &t)
	})
	if err != nil {
		return &NotKept{d.path, err}
	}
	return nil
}

func addTimed(tx *sql.Tx, sheet int64, t *Timed) error {
	var drift any
	if t.Drift != nil {
		drift = int64(math.Round(*t.Drift * 1e6))
	}
	id, err := added(tx.Exec("INSERT INTO timing (uid, sheet, at, tempo, whole, unsure, drift) VALUES (?, ?, ?, ?, ?, ?, ?)",
		t.uid, sheet, t.At.UnixMilli(), int64(t.Tempo), t.Whole.Microseconds(), t.Unsure.Microseconds(), drift))
	if err != nil {
		return err
	}
	for place, c := range t.Counts {
		if _, err := tx.Exec("INSERT INTO timing_count (timing, place, name, median, spread, taps) VALUES (?, ?, ?, ?, ?, ?)",
			id, place, c.Name, c.Median.Microseconds(), c.Spread.Microseconds(), c.Taps); err != nil {
			return err
		}
	}
	return nil
}

// Timings returns how well steps were tapped, oldest first. With a *Damaged it returns what can be read.
// A nil diary is empty.
func (d *Diary) Timings() (list []Timed, err error) {
	if d == nil {
		return nil, nil
	}
	err = d.read(func(tx *sql.Tx) error {
		var r reader
		if list, err = r.timings(tx); err != nil {
			return err
		}
		return r.found(d.path)
	})
	return list, notRead(err)
}

func (r *reader) timings(tx *sql.Tx) (list []Timed, err error) {
	if err := r.count(tx, "timing", "timing_count"); err != nil {
		return nil, err
	}
	at := map[int64]int{} // indexes of list
	err = rows(tx, "SELECT timing.id, uid, at, tempo, whole, unsure, drift, dance, title, steps FROM "+only("timing")+
		" JOIN "+only("sheet")+" ON sheet.id = sheet ORDER BY at, timing.id", func(row *sql.Rows) error {
		var t Timed
		var ms, whole, unsure int64
		var drift sql.NullInt64
		err := row.Scan(&t.id, &t.uid, &ms, &t.Tempo, &whole, &unsure, &drift, &t.Sheet.Dance, &t.Sheet.Title, &t.Sheet.Order)
		t.At, t.Whole, t.Unsure = time.UnixMilli(ms), micro(whole), micro(unsure)
		if drift.Valid {
			part := float64(drift.Int64) / 1e6
			t.Drift = &part
		}
		at[t.id] = len(list)
		list = append(list, t)
		return err
	})
	counts := rows(tx, "SELECT timing, name, median, spread, taps FROM "+only("timing_count")+" ORDER BY timing, place", func(row *sql.Rows) error {
		var of, middle, spread int64
		var c TimedCount
		err := row.Scan(&of, &c.Name, &middle, &spread, &c.Taps)
		c.Median, c.Spread = micro(middle), micro(spread)
		if i, ok := at[of]; ok {
			list[i].Counts = append(list[i].Counts, c)
		}
		return err
	})
	return list, cmp.Or(err, counts)
}

func micro(us int64) time.Duration { return time.Duration(us) * time.Microsecond }
