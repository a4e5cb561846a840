package draft

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/adrg/xdg"

	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/store"
)

// Files is where drafts and the sheets made of them go.
type Files struct {
	// Keep keeps a copy of what isn't saved yet.
	Keep func(Draft) error
	// Save saves the sheet to a file; over writes over what another program has written there.
	Save func(d Draft, path string, over bool) (Draft, error)
	// FileFor returns the file that a new sheet is saved to if no other is named.
	FileFor func(title string) string
	// Own copies a figure's sheet into the dancer's own handbook, and returns its file; over writes over what is
	// there under that name.
	Own func(figure string, sheet []byte, over bool) (path string, err error)
}

// Folders is where drafts are kept until they are saved: in the first that can be written to.
func Folders() []string {
	return []string{
		filepath.Join(xdg.StateHome, "slowquick", "drafts"),
		filepath.Join(os.TempDir(), fmt.Sprintf("slowquick-drafts-%d", os.Getuid())),
	}
}

// Kept is a draft that was neither saved nor thrown away.
type Kept struct {
	Name  string    `json:"name"`            // of the sheet
	Path  string    `json:"path,omitempty"`  // of its file; "" if it was never saved
	Filed *string   `json:"filed,omitempty"` // what that file held; nil if there was none
	Text  string    `json:"text"`
	When  time.Time `json:"when"`           // of the last change
	Line  *int      `json:"line,omitempty"` // that was marked; nil for the last
	ID    string    `json:"-"`

	Past   []keptStep `json:"past,omitempty"`
	Future []keptStep `json:"future,omitempty"`
}

// largestKept bounds what is read of a kept draft: its text and its file's, with JSON's escapes, and its
// changes.
const largestKept = 4*sheets.Largest + 4*mostChanged

func file(folder, id string) string { return filepath.Join(folder, id+".json") }

// Keep writes a copy of the draft into the first folder that can be written to, whole or not at all. It
// removes the copy if the draft is saved.
func (d Draft) Keep(folders []string, now time.Time) error {
	if d.Saved() {
		return d.Forget(folders)
	}
	k := Kept{Name: d.Sheet.Name, Path: d.Sheet.Path, Text: string(d.Text()), When: now, Line: &d.Line, Past: keptSteps(d.Text(), d.past), Future: keptSteps(d.Text(), d.future)}
	if d.filed != nil {
		filed := string(d.filed)
		k.Filed = &filed
	}
	var failed error
	for _, folder := range folders {
		err := os.MkdirAll(folder, 0o700)
		if err == nil {
			err = checkOwner(folder)
		}
		if err == nil {
			err = store.WriteOwn(file(folder, d.id), func(w io.Writer) error { return json.NewEncoder(w).Encode(k) })
		}
		if err == nil {
			return nil
		}
		failed = cmp.Or(failed, err)
	}
	return fmt.Errorf("keep the draft: %w", failed)
}

// checkOwner returns an error if a folder, or the link to it, belongs to somebody else: anybody can make one in
// the folder for temporary files, and so read what is kept there, or have something else resumed.
func checkOwner(folder string) error {
	for _, stat := range []func(string) (fs.FileInfo, error){os.Lstat, os.Stat} {
		info, err := stat(folder)
		if err != nil {
			return err
		}
		if !ours(info) {
			return fmt.Errorf("%s belongs to somebody else", folder)
		}
	}
	return nil
}

// Forget removes the copies that are kept of the draft.
func (d Draft) Forget(folders []string) error {
	for _, folder := range folders {
		if err := os.Remove(file(folder, d.id)); err != nil && !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, syscall.ENOTDIR) {
			return fmt.Errorf("forget the draft: %w", err)
		}
	}
	return nil
}

// AllKept returns the drafts kept in folders, the latest last, and each once. What can't be read is left
// out.
func AllKept(folders []string) (list []Kept) {
	for _, folder := range folders {
		if checkOwner(folder) != nil {
			continue
		}
		entries, _ := os.ReadDir(folder) // whatever can be read
		for _, e := range entries {
			id, ok := strings.CutSuffix(e.Name(), ".json")
			if !ok {
				continue
			}
			text, err := store.ReadFile(file(folder, id), largestKept)
			if k := (Kept{ID: id}); err == nil && json.Unmarshal(text, &k) == nil {
				list = append(list, k)
			}
		}
	}
	slices.SortFunc(list, func(a, b Kept) int { return cmp.Or(cmp.Compare(a.ID, b.ID), b.When.Compare(a.When)) })
	list = slices.CompactFunc(list, func(a, b Kept) bool { return a.ID == b.ID })
	slices.SortStableFunc(list, func(a, b Kept) int { return a.When.Compare(b.When) })
	return list
}

// Resume returns the draft that was kept, with what could be undone and done again. Its last undo leads back
// to what its file held.
func Resume(shelf sheets.Shelf, k Kept) (Draft, error) {
	var filed []byte
	if k.Filed != nil {
		filed = []byte(*k.Filed)
	}
	d, err := opened(shelf, k.ID, filed, sheets.Document{Name: k.Name, Path: k.Path, Text: []byte(k.Text)})
	if err != nil {
		return d, err
	}
	if k.Line != nil {
		d = d.Marked(*k.Line)
	}
	d.past, d.future = steps(d.Text(), k.Past, filed, d.Line), steps(d.Text(), k.Future, nil, d.Line)
	return d, nil
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
