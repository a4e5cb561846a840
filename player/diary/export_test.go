package diary

import (
	"database/sql"
	"fmt"

	"dance.example/slowquick/player/practice"
)

// Migrations are the steps of the schema.
var Migrations = migrations

// DB returns the database.
func (d *Diary) DB() *sql.DB { return d.db }

// BeginSheet begins a practice of a sheet.
func (w *Writer) BeginSheet(s practice.Sheet) practice.Keeper { return w.begin(s) }

// KeepAll keeps many run-throughs of a practice at once, which is faster, especially with the ids of
// parts from an earlier call.
func (p *Practice) KeepAll(passes []practice.Kept, parts map[string]int64) error {
	return p.diary.change(func(tx *sql.Tx) error {
		id, err := p.enter(tx)
		if err != nil {
			return err
		}
		for i := range passes {
			key := fmt.Sprint(passes[i].Danced)
			part, ok := parts[key]
			if !ok {
				if part, err = partOf(tx, passes[i].Danced); err != nil {
					return err
				}
				parts[key] = part
			}
			if err := addPass(tx, id, part, 0, &passes[i]); err != nil {
				return err
			}
		}
		return nil
	})
}

// Over is closed once a writer has written everything, or given up.
func (w *Writer) Over() <-chan struct{} { return w.over }
