package draft

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/adrg/xdg"
	"github.com/google/uuid"

	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/store"
)

// Folder is where drafts are kept until they are saved.
func Folder() string { return filepath.Join(xdg.StateHome, "slowquick", "drafts") }

// Kept is a draft that was neither saved nor thrown away.
type Kept struct {
	Name  string    `json:"name"`            // of the sheet
	Path  string    `json:"path,omitempty"`  // of its file; "" if it was never saved
	Filed *string   `json:"filed,omitempty"` // what that file held; nil if there was none
	Text  string    `json:"text"`
	When  time.Time `json:"when"` // of the last change
	ID    string    `json:"-"`
}

// largestKept bounds what is read of a kept draft: its text and its file's, with JSON's escapes.
const largestKept = 4 * sheets.Largest

func newID() string { return uuid.NewString() }

func file(folder, id string) string { return filepath.Join(folder, id+".json") }

// Keep writes a copy of the draft into a folder, whole or not at all, or removes it if the draft is saved.
func (d Draft) Keep(folder string, now time.Time) error {
	if d.Saved() {
		return d.Forget(folder)
	}
	k := Kept{Name: d.Sheet.Name, Path: d.Sheet.Path, Text: string(d.Text()), When: now}
	if d.filed != nil {
		filed := string(d.filed)
		k.Filed = &filed
	}
	err := os.MkdirAll(folder, 0o700)
	if err == nil {
		err = store.WriteOwn(file(folder, d.id), func(w io.Writer) error { return json.NewEncoder(w).Encode(k) })
	}
	if err != nil {
		return fmt.Errorf("keep the draft: %w", err)
	}
	return nil
}

// Forget removes the copy that is kept of the draft.
func (d Draft) Forget(folder string) error {
	if err := os.Remove(file(folder, d.id)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("forget the draft: %w", err)
	}
	return nil
}

// AllKept returns the drafts kept in a folder, the latest last. What can't be read is left out.
func AllKept(folder string) (list []Kept) {
	names, err := filepath.Glob(filepath.Join(folder, "*.json"))
	if err != nil {
		return nil
	}
	for _, name := range names {
		var k Kept
		text, err := store.ReadFile(name, largestKept)
		if err == nil && json.Unmarshal(text, &k) == nil {
			k.ID = strings.TrimSuffix(filepath.Base(name), ".json")
			list = append(list, k)
		}
	}
	slices.SortFunc(list, func(a, b Kept) int { return a.When.Compare(b.When) })
	return list
}

// Resume returns the draft that was kept. Its first undo leads back to what its file held.
func Resume(shelf sheets.Shelf, k Kept) (Draft, error) {
	d := Draft{shelf: shelf, id: k.ID}
	if k.Filed != nil {
		d.filed = []byte(*k.Filed)
	}
	d, err := d.at(sheets.Document{Name: k.Name, Path: k.Path, Text: []byte(k.Text)})
	if err == nil && d.filed != nil {
		d.past = &step{text: d.filed}
	}
	return d, err
}

// ErrNewer says that another program has changed the file since it was read.
var ErrNewer = errors.New("another program has changed the file")

// Save writes the sheet to a file, whole or not at all. It refuses with [ErrNewer] to write over what the
// draft doesn't know, unless over is set.
func (d Draft) Save(path string, over bool) (Draft, error) {
	there, err := store.ReadFile(path, sheets.Largest)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return d, fmt.Errorf("save the sheet: %w", err)
	case over || bytes.Equal(there, d.Text()):
	case path != d.Sheet.Path || !bytes.Equal(there, d.filed):
		return d, fmt.Errorf("save %s: %w", path, ErrNewer)
	}
	if err := store.WriteWhole(path, func(w io.Writer) error { _, err := w.Write(d.Text()); return err }); err != nil {
		return d, err
	}
	d.Sheet.Name, d.Sheet.Path, d.filed = path, path, d.Text()
	return d, nil
}

// SavedAs returns the draft, which may have been changed since, with what saving it led to.
func (d Draft) SavedAs(saved Draft) Draft {
	d.Sheet.Name, d.Sheet.Path, d.filed = saved.Sheet.Name, saved.Sheet.Path, saved.filed
	return d
}
