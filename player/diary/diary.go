// Package diary keeps every practice on this machine, and reports on them.
//
// A diary is an SQLite database in one file. A run-through that [Practice.Keep] acknowledges is on
// disk: it survives the end of the program by any signal, and a loss of power as far as the disk keeps
// its promises. Any number of programs may write and read at once.
package diary

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// Diary is an open diary. It is safe for use by several goroutines.
type Diary struct {
	db   *sql.DB
	path string
	wait time.Duration // how long to wait for another program that is writing
}

// NotKept says that nothing is being kept, and why. Dancing goes on without a diary.
type NotKept struct {
	Path string
	Err  error
}

func (e *NotKept) Error() string {
	return fmt.Sprintf("nothing is being kept in the diary %s: %v", e.Path, e.Err)
}

func (e *NotKept) Unwrap() error { return e.Err }

// ErrNewer says that a later version of the program has changed the diary.
var ErrNewer = errors.New("it was written by a later version of Slowquick")

// ErrBusy says that another program was still writing when the wait was over.
var ErrBusy = errors.New("another program is using it")

// Damaged says that a diary holds invalid rows, which are left out of what is read.
type Damaged struct {
	Path string
	Rows int // how many are left out
}

func (e *Damaged) Error() string {
	if e.Rows == 1 {
		return fmt.Sprintf("the diary %s is damaged: 1 row can't be read and is left out", e.Path)
	}
	return fmt.Sprintf("the diary %s is damaged: %d rows can't be read and are left out", e.Path, e.Rows)
}

// ErrCorrupt says that a file is not, or no longer, a diary: nothing can be read or kept.
var ErrCorrupt = errors.New("it is damaged or is not a diary")

// corrupt wraps an error in ErrCorrupt if SQLite says that the file is corrupt.
func corrupt(err error) error {
	var e *sqlite.Error
	if errors.As(err, &e) && (e.Code()&0xff == sqlite3.SQLITE_CORRUPT || e.Code()&0xff == sqlite3.SQLITE_NOTADB) {
		return fmt.Errorf("%w (%w)", ErrCorrupt, err)
	}
	return err
}

// patience is how long a program waits for another that is writing. It waits in turns of waitingTurn,
// as SQLite waits longer and longer between two looks, so that a program that writes all the time would
// never let another in.
const patience, waitingTurn = 10 * time.Second, 100 * time.Millisecond

// Open opens the diary in a file. If there is none, it makes it and its folder, accessible only to
// their owner. The error is a *NotKept.
func Open(path string) (*Diary, error) { return OpenWithin(path, patience) }

// OpenWithin is [Open] for callers that can try again. Opening the diary, and anything done with it,
// waits only this long for another program that is writing, then returns ErrBusy.
func OpenWithin(path string, wait time.Duration) (*Diary, error) {
	err := os.MkdirAll(filepath.Dir(path), 0o700)
	if err == nil {
		err = reserve(path)
	}
	if err != nil {
		return nil, &NotKept{path, err}
	}
	d := &Diary{db: connect(path, url.Values{
		"_txlock": {"immediate"},
		// NORMAL would survive kill -9, but not a loss of power. A run-through is kept about once a
		// minute, so nobody notices the wait for the disk. The log of changes stays short, for disks
		// that are nearly full.
		"_pragma": {"busy_timeout(" + fmt.Sprint(waitingTurn.Milliseconds()) + ")", "journal_mode(WAL)", "synchronous(FULL)",
			"wal_autocheckpoint(100)", "foreign_keys(ON)", "secure_delete(ON)"},
	}), path: path, wait: wait}
	if err := d.settle(); err != nil {
		d.db.Close() // its error would say nothing new
		return nil, &NotKept{path, err}
	}
	return d, nil
}

// Read opens a diary for reading, even where nothing can be written. The error is fs.ErrNotExist if
// there is none.
func Read(path string) (*Diary, error) {
	if _, err := os.Stat(path); err != nil {
		return nil, fmt.Errorf("read the diary: %w", err)
	}
	d, err := Open(path)
	if err == nil || errors.Is(err, ErrNewer) {
		return d, err
	}
	// Where no file can be made beside it, SQLite can't tell other programs that somebody is reading;
	// but no program can be writing there.
	for _, mode := range []string{"mode=ro", "mode=ro&immutable=1"} {
		values, _ := url.ParseQuery(mode) // always well formed
		d := &Diary{db: connect(path, values), path: path, wait: patience}
		version, e := d.version()
		if e == nil && version == len(migrations) {
			return d, nil
		}
		d.db.Close()
		err = cmp.Or(e, err)
	}
	if kept := (*NotKept)(nil); errors.As(err, &kept) {
		err = kept.Err
	}
	return nil, fmt.Errorf("read the diary %s: %w", path, corrupt(err))
}

// reserve makes a file that only its owner can read, unless it exists.
func reserve(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	return f.Close()
}

// connect describes connections to a file; the first is made when it is used.
func connect(path string, with url.Values) *sql.DB {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	path = filepath.ToSlash(path)
	if path[0] != '/' { // a Windows drive
		path = "/" + path
	}
	name := url.URL{Scheme: "file", Path: path, RawQuery: with.Encode()}
	db, err := sql.Open("sqlite", name.String())
	if err != nil {
		panic(err) // the driver is registered, and the name is well formed
	}
	db.SetMaxOpenConns(1) // one connection is enough for a program, and it never waits for another
	return db
}

// Close closes d.
func (d *Diary) Close() error { return d.db.Close() }

// settle brings the file to the schema that this program writes.
func (d *Diary) settle() error { return d.patiently(d.migrate) }

// patiently calls try until no other program is in its way, or the wait is over.
func (d *Diary) patiently(try func() error) error {
	for deadline := time.Now().Add(d.wait); ; {
		err := try()
		if !busy(err) {
			return corrupt(err)
		}
		if time.Now().After(deadline) {
			return ErrBusy
		}
		time.Sleep(time.Millisecond) // SQLite does not always wait by itself
	}
}

func busy(err error) bool {
	var e *sqlite.Error
	return errors.As(err, &e) && e.Code()&0xff == sqlite3.SQLITE_BUSY
}

func (d *Diary) version() (v int, err error) {
	err = d.db.QueryRow("PRAGMA user_version").Scan(&v)
	return v, err
}

// migrate makes the missing migrations, all or none.
func (d *Diary) migrate() error {
	version, err := d.version()
	if err != nil || version == len(migrations) {
		return err
	}
	return d.tryChange(func(tx *sql.Tx) error {
		if err := tx.QueryRow("PRAGMA user_version").Scan(&version); err != nil { // another program may have been faster
			return err
		}
		switch {
		case version > len(migrations):
			return ErrNewer
		case version < 0:
			return fmt.Errorf("%w (its version is %d)", ErrCorrupt, version)
		}
		for _, step := range migrations[version:] {
			if _, err := tx.Exec(step); err != nil {
				return fmt.Errorf("bring it up to date: %w", err)
			}
		}
		_, err := tx.Exec(fmt.Sprintf("PRAGMA user_version = %d", len(migrations)))
		return err
	})
}

// change makes a change completely or not at all. It may call f several times.
func (d *Diary) change(f func(*sql.Tx) error) error {
	return d.patiently(func() error { return d.tryChange(f) })
}

func (d *Diary) tryChange(f func(*sql.Tx) error) error {
	tx, err := d.db.BeginTx(context.Background(), nil)
	if err != nil {
		return err
	}
	if err := f(tx); err != nil {
		_ = tx.Rollback() // an uncommitted change is undone in any case
		return err
	}
	return tx.Commit()
}
