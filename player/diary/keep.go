package diary

import (
	"crypto/rand"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"

	"dance.example/slowquick/player/practice"
)

// Practice is one practice of a sheet, kept as it goes on. It is safe for use by several goroutines.
type Practice struct {
	diary *Diary
	sheet practice.Sheet
	began time.Time

	mu sync.Mutex
	id int64 // 0 until a run-through is kept
}

// Begin begins a practice. Nothing is written before its first run-through.
func (d *Diary) Begin(sheet practice.Sheet, began time.Time) *Practice {
	return &Practice{diary: d, sheet: sheet, began: began}
}

// Keep keeps a run-through. If it returns nil, the run-through is on disk; otherwise nothing of it is,
// and the error is a *NotKept.
func (p *Practice) Keep(pass practice.Kept) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	var id int64
	err := p.diary.change(func(tx *sql.Tx) (err error) {
		if id = p.id; id == 0 {
			if id, err = p.enter(tx); err != nil {
				return err
			}
		}
		part, err := partOf(tx, pass.Danced)
		if err != nil {
			return err
		}
		return addPass(tx, id, part, 0, &pass)
	})
	if err != nil {
		return &NotKept{p.diary.path, err}
	}
	p.id = id
	return nil
}

// Judge takes in that some partners said how all of a run-through went, which is known by when it ended.
// The error is a *NotKept.
func (p *Practice) Judge(ended time.Time, by [2]bool) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	err := p.diary.change(func(tx *sql.Tx) error {
		_, err := tx.Exec("UPDATE pass SET judged = judged | ? WHERE practice = ? AND at = ?", bits(by), p.id, ended.UnixMilli())
		return err
	})
	if err != nil {
		return &NotKept{p.diary.path, err}
	}
	return nil
}

// enter records that the practice began.
func (p *Practice) enter(tx *sql.Tx) (int64, error) {
	sheet, err := sheetOf(tx, p.sheet)
	if err != nil {
		return 0, err
	}
	return addPractice(tx, sheet, p.began.UnixMilli(), rand.Text())
}

// addPractice adds a practice in which nothing was danced yet.
func addPractice(tx *sql.Tx, sheet, began int64, uid string) (int64, error) {
	return added(tx.Exec("INSERT INTO practice (sheet, began, took, uid) VALUES (?, ?, 0, ?)", sheet, began, uid))
}

// addPass adds a run-through to a practice. Its number there is the next if it is 0.
func addPass(tx *sql.Tx, practiceID, part, number int64, p *practice.Kept) error {
	result, err := tx.Exec("UPDATE practice SET took = took + ? WHERE id = ?", p.Took.Milliseconds(), practiceID)
	if err != nil {
		return err
	}
	if n, err := result.RowsAffected(); err == nil && n == 0 {
		return ErrForgotten
	}
	id, err := added(tx.Exec(`INSERT INTO pass (practice, part, at, took, tempo, side, finished, judged, number)
		VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ifnull(nullif(?9, 0), 1 + ifnull((SELECT max(number) FROM pass WHERE practice = ?1), 0)))`,
		practiceID, part, p.At.UnixMilli(), p.Took.Milliseconds(), int64(p.Tempo), int64(p.Dancers), p.Finished, bits(p.Judged), number))
	if err != nil {
		return err
	}
	for taken, marks := range [][]practice.Mark{p.Marks, p.TakenBack} {
		for _, m := range marks {
			if _, err := tx.Exec("INSERT OR IGNORE INTO mark (pass, place, is_join, partner, taken_back) VALUES (?, ?, ?, ?, ?)",
				id, m.Place, m.Join, int64(m.Partner), taken); err != nil {
				return err
			}
		}
	}
	return nil
}

// bits returns which partners as a number: 1 for the leader, 2 for the follower, 3 for both.
func bits(partners [2]bool) (n int64) {
	for p, is := range partners {
		if is {
			n |= 1 << p
		}
	}
	return n
}

// partners returns what bits made a number of.
func partners(bits int64) [2]bool { return [2]bool{bits&1 != 0, bits&2 != 0} }

// ErrForgotten says that the practice was forgotten while it went on.
var ErrForgotten = errors.New("it has been told to forget this practice: begin another to keep what you dance")

// sheetOf finds a sheet by its title or, as it may have been renamed, by what it dances, and records
// its present form.
func sheetOf(tx *sql.Tx, s practice.Sheet) (id int64, err error) {
	switch id, err = findSheet(tx, s); {
	case err != nil:
		return 0, err
	case id == 0:
		return addSheet(tx, s)
	}
	return id, renameSheet(tx, id, s)
}

// findSheet returns 0 if there is none.
func findSheet(tx *sql.Tx, s practice.Sheet) (id int64, err error) {
	err = tx.QueryRow(`SELECT id FROM sheet WHERE dance = ?1 AND (title = ?2 OR steps = ?3) ORDER BY title = ?2 DESC, id DESC LIMIT 1`,
		s.Dance, s.Title, s.Order).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	return id, err
}

func addSheet(tx *sql.Tx, s practice.Sheet) (int64, error) {
	return added(tx.Exec("INSERT INTO sheet (dance, title, steps) VALUES (?, ?, ?)", s.Dance, s.Title, s.Order))
}

func renameSheet(tx *sql.Tx, id int64, s practice.Sheet) error {
	_, err := tx.Exec("UPDATE sheet SET title = ?, steps = ? WHERE id = ?", s.Title, s.Order, id)
	return err
}

// partOf finds or adds the part that dances some figures.
func partOf(tx *sql.Tx, danced []practice.Danced) (id int64, err error) {
	var key strings.Builder
	figures := make([]int64, len(danced))
	for i, d := range danced {
		if figures[i], err = figureOf(tx, d.Figure); err != nil {
			return 0, err
		}
		fmt.Fprint(&key, figures[i])
		if !d.Whole {
			key.WriteString("-")
		}
		key.WriteString(" ")
	}
	err = tx.QueryRow("SELECT id FROM part WHERE key = ?", key.String()).Scan(&id)
	if !errors.Is(err, sql.ErrNoRows) {
		return id, err
	}
	if id, err = added(tx.Exec("INSERT INTO part (key) VALUES (?)", key.String())); err != nil {
		return 0, err
	}
	for place, d := range danced {
		if _, err := tx.Exec("INSERT INTO part_figure (part, place, figure, whole) VALUES (?, ?, ?, ?)", id, place, figures[place], d.Whole); err != nil {
			return 0, err
		}
	}
	return id, nil
}

// figureOf finds or adds a figure.
func figureOf(tx *sql.Tx, fig practice.Figure) (id int64, err error) {
	err = tx.QueryRow("SELECT id FROM figure WHERE dance = ? AND name = ? AND steps = ?", fig.Dance, fig.Name, fig.Steps).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		return added(tx.Exec("INSERT INTO figure (dance, name, steps) VALUES (?, ?, ?)", fig.Dance, fig.Name, fig.Steps))
	}
	return id, err
}

// added returns the id of a row that was added.
func added(result sql.Result, err error) (int64, error) {
	if err != nil {
		return 0, err
	}
	return result.LastInsertId()
}

// Leave keeps a session of a sheet, to be resumed; a nil plan deletes the one kept. The error is a
// *NotKept.
func (d *Diary) Leave(s practice.Sheet, plan []byte) error {
	err := d.change(func(tx *sql.Tx) error {
		sheet, err := sheetOf(tx, s)
		if err != nil {
			return err
		}
		if plan == nil {
			_, err = tx.Exec("DELETE FROM session WHERE sheet = ?", sheet)
			return err
		}
		_, err = tx.Exec("INSERT OR REPLACE INTO session (sheet, steps, plan) VALUES (?, ?, ?)", sheet, s.Order, string(plan))
		return err
	})
	if err != nil {
		return &NotKept{d.path, err}
	}
	return nil
}

// Forget deletes what is kept of the sheets with a title, or everything if title is "", and wipes it
// from the file. It returns the number of practices deleted, even with an error that says they can't be
// wiped yet because another program is reading.
func (d *Diary) Forget(title string) (practices int64, err error) {
	err = d.change(func(tx *sql.Tx) error {
		if _, err := tx.Exec("DELETE FROM session WHERE ?1 = '' OR sheet IN (SELECT id FROM sheet WHERE title = ?1)", title); err != nil {
			return err
		}
		if _, err := tx.Exec("DELETE FROM timing WHERE ?1 = '' OR sheet IN (SELECT id FROM sheet WHERE title = ?1)", title); err != nil {
			return err
		}
		result, err := tx.Exec("DELETE FROM practice WHERE ?1 = '' OR sheet IN (SELECT id FROM sheet WHERE title = ?1)", title)
		if err != nil {
			return err
		}
		practices, err = result.RowsAffected()
		if err != nil {
			return err
		}
		for _, rest := range []string{
			"DELETE FROM sheet WHERE id NOT IN (SELECT sheet FROM practice UNION SELECT sheet FROM session UNION SELECT sheet FROM timing)",
			"DELETE FROM part WHERE id NOT IN (SELECT part FROM pass)",
			"DELETE FROM figure WHERE id NOT IN (SELECT figure FROM part_figure)",
		} {
			if _, err := tx.Exec(rest); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return 0, fmt.Errorf("forget practices: %w", err)
	}
	if err := d.wipe(); err != nil {
		return practices, fmt.Errorf("wipe what was forgotten: %w", corrupt(err))
	}
	return practices, nil
}

// wipe removes what was deleted from the bytes of the file and of the log of changes.
func (d *Diary) wipe() error {
	if _, err := d.db.Exec("VACUUM"); err != nil {
		return err
	}
	var busy bool
	var pages, moved int
	if err := d.db.QueryRow("PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &pages, &moved); err != nil {
		return err
	}
	if busy { // SQLite does not treat it as an error
		return errRead
	}
	return nil
}

// errRead says that a reader still needs the log of changes. The last program that closes the diary
// deletes it.
var errRead = errors.New("another program is using the diary; close it, and the file is wiped")
