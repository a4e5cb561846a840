package main

import (
	"context"
	"os"
	"path/filepath"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// shelf offers the sheets of a folder and the example sheets to the screen.
type shelf struct {
	*app
	folder string
	given  *document // what was read before the screen opened; nil for nothing
}

// Entries lists the folder's sheets, then the examples.
func (s shelf) Entries() ([]screen.Entry, error) {
	var list []screen.Entry
	files, _ := sheetFiles(s.folder) // one that can't be read has no sheets
	for _, file := range files {
		path := filepath.Join(s.folder, file)
		text, err := store.ReadFile(path, largest)
		if err != nil {
			continue // it says so when it is opened by name
		}
		if h, ok := routine.ReadHeading(file, text); ok {
			list = append(list, screen.Entry{Title: h.Title, Dance: h.Dance, Place: file, ID: path})
		}
	}
	for _, name := range s.library.Sheets() {
		text, err := s.library.Sheet(name)
		if err != nil {
			return list, err
		}
		if h, ok := routine.ReadHeading(name, text); ok {
			list = append(list, screen.Entry{Title: h.Title, Dance: h.Dance, Place: "example", ID: name})
		}
	}
	return list, nil
}

// Open reads a sheet, and again whenever its file is saved.
func (s shelf) Open(ctx context.Context, e screen.Entry) (screen.Loaded, <-chan screen.Loaded, error) {
	var d document
	if s.given != nil && s.given.name == e.ID {
		d = *s.given // standard input can be read only once
	} else if doc, err := s.open(e.ID); err != nil {
		return screen.Loaded{}, nil, err
	} else {
		d = doc
	}
	l := s.loadSafely(d)
	if d.path == "" || l.Err != nil {
		return l, nil, l.Err
	}
	return l, s.watch(ctx, d), nil
}

// load reads a document for the screen.
func (s shelf) load(d document) screen.Loaded {
	score, found := check.Sheet(d.name, d.text, s.library)
	l := screen.Loaded{Name: filepath.Base(d.name), ID: d.name, Path: d.path, Findings: found}
	if !routine.HasErrors(found) && len(score.Passages) > 0 {
		l.Timeline = player.NewTimeline(score)
	}
	return l
}

// currentFolder is the folder whose sheets are listed; "" if there is none.
func currentFolder() string {
	dir, err := os.Getwd()
	if err != nil {
		return ""
	}
	return dir
}
