package diary

import (
	"cmp"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"

	"dance.example/slowquick/player/practice"
)

// Merged is what a diary took over from another.
type Merged struct {
	RunThroughs int
	Practices   int // that were new
	TakenBack   int // marks
	Timings     int // times that steps were tapped
}

// Merge takes over what the diary in another file has and this one lacks, all of it or nothing. The other
// is only read. With a *Damaged it took over what can be read.
//
// A practice is known by its uid and a run-through in it by its number, so nothing is doubled, however
// often and in whatever order diaries are merged. A mark that was taken back in either is taken back.
func (d *Diary) Merge(path string) (m Merged, err error) {
	other, closes, err := snapshot(path)
	if err != nil {
		return m, fmt.Errorf("merge the diary %s: %w", path, err)
	}
	defer closes()
	all, damaged := other.everything(path)
	if damaged != nil && !IsDamaged(damaged) {
		return m, damaged
	}
	err = d.change(func(tx *sql.Tx) (err error) {
		m, err = all.mergeInto(tx)
		return err
	})
	if err != nil {
		return Merged{}, &NotKept{d.path, err}
	}
	return m, damaged
}

// snapshot opens a copy of the diary in a file, brought up to date. Closes closes and deletes it.
func snapshot(path string) (d *Diary, closes func(), err error) {
	if _, err := os.Stat(path); err != nil {
		return nil, nil, err
	}
	dir, err := os.MkdirTemp("", "slowquick-merge-")
	if err != nil {
		return nil, nil, err
	}
	closes = func() { os.RemoveAll(dir) } // the system clears what is left
	file := filepath.Join(dir, "diary.db")
	if err := copyTo(path, file); err != nil {
		closes()
		return nil, nil, corrupt(err)
	}
	if d, err = Open(file); err != nil {
		closes()
		if kept := (*NotKept)(nil); errors.As(err, &kept) {
			err = kept.Err
		}
		return nil, nil, err
	}
	return d, func() { d.Close(); os.RemoveAll(dir) }, nil
}

// copyTo copies the diary in a file, with what other programs have written into it so far. Where no file
// can be made beside it, no program can be writing.
func copyTo(path, file string) (err error) {
	for _, mode := range []url.Values{{"mode": {"ro"}}, {"mode": {"ro"}, "immutable": {"1"}}} {
		d := &Diary{db: connect(path, mode), path: path, wait: patience}
		var version int
		if version, err = d.version(); err == nil {
			if version == 0 {
				err = ErrCorrupt // an empty file, or of another program
			} else {
				err = d.patiently(func() error {
					_ = os.Remove(file) // of an earlier attempt
					_, err := d.db.Exec("VACUUM INTO ?", file)
					return err
				})
			}
		}
		d.db.Close()
		if err == nil || errors.Is(err, ErrCorrupt) {
			return err
		}
	}
	return err
}

// contents is all that a diary holds, but for its sessions, which are of one day.
type contents struct {
	practices []keptPractice // in order
	passes    []row          // in order of time
	timings   []Timed        // likewise
}

type keptPractice struct {
	id, began int64
	uid       string
	sheetID   int64
	sheet     practice.Sheet
}

// everything reads a diary; path is what its damage is reported of.
func (d *Diary) everything(path string) (c contents, err error) {
	err = d.read(func(tx *sql.Tx) error {
		r, err := newReader(tx)
		if err != nil {
			return err
		}
		err = rows(tx, "SELECT id, began, uid, sheet FROM "+only("practice")+" ORDER BY began, id", func(list *sql.Rows) error {
			var p keptPractice
			err := list.Scan(&p.id, &p.began, &p.uid, &p.sheetID)
			var ok bool
			if p.sheet, ok = r.sheets[p.id]; ok {
				c.practices = append(c.practices, p)
			}
			return err
		})
		if err != nil {
			return err
		}
		err = r.each(tx, "", func(e row) error {
			c.passes = append(c.passes, e)
			return nil
		})
		if err == nil {
			c.timings, err = r.timings(tx)
		}
		return cmp.Or(err, r.found(path))
	})
	return c, notRead(err)
}

// merger takes contents over into a diary.
type merger struct {
	tx        *sql.Tx
	m         Merged
	practices map[int64]int64    // ids there, by the ids in contents
	sheets    map[int64]int64    // likewise
	parts     map[int64]int64    // likewise
	known     map[[2]int64]int64 // run-throughs there, by practice and number
}

func (c *contents) mergeInto(tx *sql.Tx) (Merged, error) {
	to := merger{tx: tx, practices: map[int64]int64{}, sheets: map[int64]int64{}, parts: map[int64]int64{}, known: map[[2]int64]int64{}}
	err := rows(tx, "SELECT practice, number, id FROM pass WHERE typeof(practice) = 'integer' AND typeof(number) = 'integer'", func(list *sql.Rows) error {
		var practice, number, id int64
		err := list.Scan(&practice, &number, &id)
		to.known[[2]int64{practice, number}] = id
		return err
	})
	for i := 0; i < len(c.practices) && err == nil; i++ {
		err = to.find(&c.practices[i])
	}
	for i := 0; i < len(c.practices) && err == nil; i++ {
		err = to.practice(&c.practices[i])
	}
	for i := 0; i < len(c.passes) && err == nil; i++ {
		err = to.pass(&c.passes[i])
	}
	for i := 0; i < len(c.timings) && err == nil; i++ {
		err = to.timed(&c.timings[i])
	}
	return to.m, err
}

// find finds a practice, and with it what its sheet is there.
func (to *merger) find(p *keptPractice) error {
	var id, sheet int64
	err := to.tx.QueryRow("SELECT id, sheet FROM practice WHERE uid = ?", p.uid).Scan(&id, &sheet)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	to.practices[p.id], to.sheets[p.sheetID] = id, sheet
	return err
}

// practice takes a practice over that was not found.
func (to *merger) practice(p *keptPractice) (err error) {
	if to.practices[p.id] != 0 {
		return nil
	}
	if err := to.sheet(p); err != nil {
		return err
	}
	to.m.Practices++
	to.practices[p.id], err = addPractice(to.tx, to.sheets[p.sheetID], p.began, p.uid)
	return err
}

// sheet finds the sheet of a practice that is taken over, or takes it over. Its form is that of its
// latest practice.
func (to *merger) sheet(p *keptPractice) (err error) {
	id, known := to.sheets[p.sheetID]
	if !known {
		if id, err = findSheet(to.tx, p.sheet); err == nil && id == 0 {
			id, err = addSheet(to.tx, p.sheet)
		}
	}
	to.sheets[p.sheetID] = id
	if err != nil {
		return err
	}
	var latest int64
	if err := to.tx.QueryRow("SELECT ifnull(max(began), 0) FROM practice WHERE sheet = ?", id).Scan(&latest); err != nil || latest > p.began {
		return err
	}
	return renameSheet(to.tx, id, p.sheet)
}

// pass takes a run-through over, or what was taken back in it.
func (to *merger) pass(e *row) (err error) {
	practice := to.practices[e.Practice]
	if id, ok := to.known[[2]int64{practice, e.number}]; ok {
		return to.takeBack(id, e.TakenBack)
	}
	part, ok := to.parts[e.part]
	if !ok {
		if part, err = partOf(to.tx, e.Danced); err != nil {
			return err
		}
		to.parts[e.part] = part
	}
	to.m.RunThroughs++
	return addPass(to.tx, practice, part, e.number, &e.Kept)
}

// takeBack takes marks of a run-through back.
func (to *merger) takeBack(id int64, marks []practice.Mark) error {
	for _, k := range marks {
		result, err := to.tx.Exec("UPDATE mark SET taken_back = 1 WHERE pass = ? AND place = ? AND is_join = ? AND partner = ? AND taken_back = 0",
			id, k.Place, k.Join, int64(k.Partner))
		if err != nil {
			return err
		}
		n, err := result.RowsAffected()
		if err != nil {
			return err
		}
		to.m.TakenBack += int(n)
	}
	return nil
}

// timed takes over what was tapped elsewhere.
func (to *merger) timed(t *Timed) error {
	var known int
	if err := to.tx.QueryRow("SELECT count(*) FROM timing WHERE uid = ?", t.uid).Scan(&known); err != nil || known > 0 {
		return err
	}
	sheet, err := findSheet(to.tx, t.Sheet)
	if err == nil && sheet == 0 {
		sheet, err = addSheet(to.tx, t.Sheet)
	}
	if err != nil {
		return err
	}
	to.m.Timings++
	return addTimed(to.tx, sheet, t)
}
