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
)

// keptFile is the file of some numbers that are kept from one time to the next;
// "" where there is no place for settings.
func keptFile(name string) string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "slowquick", name+".json")
}

// readKept gives numbers by their names; none if none were kept.
func readKept(name string) (map[string]float64, error) {
	path := keptFile(name)
	if path == "" {
		return nil, nil
	}
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	kept := map[string]float64{}
	if err == nil {
		err = json.Unmarshal(text, &kept)
	}
	if err != nil {
		return nil, fmt.Errorf("read the %s of the last time: %w", name, err)
	}
	return kept, nil
}

// keep keeps numbers for the next time, beside others of that file. What can't be
// read there is written anew.
func keep(name string, numbers map[string]float64) error {
	path := keptFile(name)
	if path == "" {
		return fmt.Errorf("keep the %s: there is no folder for settings", name)
	}
	all := map[string]float64{}
	kept, _ := readKept(name)
	maps.Copy(all, kept)
	maps.Copy(all, numbers)
	err := os.MkdirAll(filepath.Dir(path), 0o700)
	if err == nil {
		err = writeWhole(path, func(w io.Writer) error {
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
