package main

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

// keptFile is the file of some values that are kept from one time to the next;
// "" where there is no place for settings.
func keptFile(name string) string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "slowquick", name+".json")
}

// readKept gives numbers by their names; none if none were kept.
func readKept(name string) (map[string]float64, error) { return readAll[float64](name) }

// readAll gives values by their names; none if none were kept.
func readAll[V any](name string) (map[string]V, error) {
	path := keptFile(name)
	if path == "" {
		return nil, nil
	}
	text, err := readFile(path)
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
		return nil, fmt.Errorf("read the %s of the last time: %w", name, err)
	}
	return kept, nil
}

// keep keeps values for the next time, beside others of that file. What can't be
// read there is written anew.
func keep[V any](name string, values map[string]V) error {
	return rewrite(name, func(all map[string]V) { maps.Copy(all, values) })
}

// rewrite changes the values of a file; there are none if it can't be read. Programs that
// do so at the same time take turns.
func rewrite[V any](name string, change func(all map[string]V)) error {
	path := keptFile(name)
	if path == "" {
		return fmt.Errorf("keep the %s: there is no folder for settings", name)
	}
	err := os.MkdirAll(filepath.Dir(path), 0o700)
	if err == nil {
		// Where files can't be locked, what is kept last counts.
		if unlock, err := lockedfile.MutexAt(filepath.Join(filepath.Dir(path), "lock")).Lock(); err == nil {
			defer unlock()
		}
		all, _ := readAll[V](name)
		if all == nil {
			all = map[string]V{}
		}
		change(all)
		err = writeOwn(path, func(w io.Writer) error {
			out := json.NewEncoder(w)
			out.SetIndent("", "  ")
			return out.Encode(all)
		})
	}
	if err != nil {
		return fmt.Errorf("keep the %s: %w", name, err)
	}
	return nil
}
