package diary

import (
	"database/sql"
	"fmt"
	"time"

	"dance.example/slowquick/player/practice"
)

// Marks returns what went wrong in any sheet and has not been danced clean since, newest first. With a
// *Damaged it returns what can be read. A nil diary is empty.
func (d *Diary) Marks() ([]practice.OpenMark, error) {
	if d == nil {
		return nil, nil
	}
	passes, err := d.Passes("")
	if err != nil && !IsDamaged(err) {
		return nil, err
	}
	return practice.Everything(passes, time.Local).Marks(), err
}

// TakeBack takes an open mark back: all the marks for which it stands, in whatever run-throughs. It
// returns how many these were; 0 if it is no longer open.
func (d *Diary) TakeBack(m practice.OpenMark) (marks int, err error) {
	err = d.change(func(tx *sql.Tx) error {
		marks = 0
		r, err := newReader(tx)
		if err != nil {
			return err
		}
		var list []row
		var passes []practice.Kept
		if err := r.each(tx, m.Figure.Dance, func(e row) error {
			list, passes = append(list, e), append(passes, e.Kept)
			return nil
		}); err != nil {
			return err
		}
		known := practice.Everything(passes, time.Local)
		for i := range list {
			for _, k := range known.Behind(m, &passes[i]) {
				if _, err := tx.Exec("UPDATE mark SET taken_back = 1 WHERE pass = ? AND place = ? AND is_join = ? AND partner = ?",
					list[i].id, k.Place, k.Join, int64(k.Partner)); err != nil {
					return err
				}
				marks++
			}
		}
		return nil
	})
	if err != nil {
		return 0, fmt.Errorf("take the mark back in the diary %s: %w", d.path, corrupt(err))
	}
	return marks, nil
}
