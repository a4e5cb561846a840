package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"

	"github.com/rogpeppe/go-internal/lockedfile"
)

// largest is the most bytes that are read of a file of settings.
const largest = 1 << 20

// File returns the path of the settings called name, or "" if the system has no folder for
// settings.
func File(name string) string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "slowquick", name+".json")
}

// Read returns the settings called name, by their keys. It returns nil if none were kept.
func Read[V any](name string) (map[string]V, error) {
	path := File(name)
	if path == "" {
		return nil, nil
	}
	text, err := ReadFile(path, largest)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	kept := map[string]V{}
	if err == nil {
		if err = json.Unmarshal(text, &kept); err != nil {
			err = fmt.Errorf("%s: %w", path, err)
		}
	}
	if err != nil {
		return nil, fmt.Errorf("read the saved %s: %w", name, err)
	}
	return kept, nil
}

// Keep adds values to the settings called name, replacing those of the same keys. A file
// that can't be read is replaced.
func Keep[V any](name string, values map[string]V) error {
	return Rewrite(name, func(all map[string]V) { maps.Copy(all, values) })
}

// Rewrite lets change edit the settings called name and writes them back. If the file can't
// be read, change starts from an empty map. Programs that do this at the same time take turns.
func Rewrite[V any](name string, change func(all map[string]V)) error {
	path := File(name)
	if path == "" {
		return fmt.Errorf("save the %s: this system has no folder for settings", name)
	}
	err := InTurn(func() error {
		all, _ := Read[V](name)
		if all == nil {
			all = map[string]V{}
		}
		change(all)
		return WriteOwn(path, func(w io.Writer) error {
			out := json.NewEncoder(w)
			out.SetIndent("", "  ")
			return out.Encode(all)
		})
	})
	if err != nil {
		return fmt.Errorf("save the %s: %w", name, err)
	}
	return nil
}

// InTurn runs change, which reads a file of settings and writes it anew, while no other program does. It makes
// the folder of settings.
func InTurn(change func() error) error {
	folder := filepath.Dir(File("lock"))
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	// Without locks on this file system, the last to write wins.
	if unlock, err := lockedfile.MutexAt(filepath.Join(folder, "lock")).Lock(); err == nil {
		defer unlock()
	}
	return change()
}
