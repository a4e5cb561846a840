package main

import (
	"context"
	"os"
	"path/filepath"
	"time"

	"github.com/fsnotify/fsnotify"

	"dance.example/slowquick/library/amalgamation"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/routine"
)

// shelf offers the sheets of a folder and the example sheets to the screen.
type shelf struct {
	*app
	folder string
	given  *document // what was read before the screen opened; nil for nothing
}

// mostListed bounds how many files of a folder are looked into.
const mostListed = 500

// Entries lists the folder's sheets, then the examples.
func (s shelf) Entries() ([]screen.Entry, error) {
	var list []screen.Entry
	files, _ := filepath.Glob(filepath.Join(s.folder, "*.md")) // a folder that is no pattern has no sheets
	for _, path := range files[:min(len(files), mostListed)] {
		text, err := readFile(path)
		if err != nil {
			continue // it says so when it is opened by name
		}
		if h, ok := routine.ReadHeading(filepath.Base(path), text); ok {
			list = append(list, screen.Entry{Title: h.Title, Dance: h.Dance, Place: filepath.Base(path), ID: path})
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
	if d.path == "" {
		return s.load(d), nil, nil
	}
	return s.load(d), s.watch(ctx, d.path), nil
}

// load reads a document for the screen.
func (s shelf) load(d document) screen.Loaded {
	score, found := amalgamation.Read(d.name, d.text, s.library)
	l := screen.Loaded{Name: filepath.Base(d.name), ID: d.name, Path: d.path, Findings: found}
	if !routine.HasErrors(found) && len(score.Passages) > 0 {
		l.Timeline = player.NewTimeline(score)
	}
	return l
}

// settle is how long a file must be left alone before it is read: editors save
// in several steps.
const settle = 50 * time.Millisecond

// watch sends a sheet each time its file is saved, until ctx ends. The folder is
// watched, as editors put a new file in the old one's place. Where the system
// can't watch, the channel is nil and the sheet stays as it was read.
func (s shelf) watch(ctx context.Context, path string) <-chan screen.Loaded {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return nil
	}
	if err := w.Add(filepath.Dir(path)); err != nil {
		w.Close()
		return nil
	}
	out := make(chan screen.Loaded)
	go func() {
		defer close(out)
		defer w.Close()
		timer := time.NewTimer(time.Hour)
		timer.Stop()
		for {
			select {
			case <-ctx.Done():
				return
			case ev, ok := <-w.Events:
				if !ok {
					return
				}
				if filepath.Base(ev.Name) == filepath.Base(path) && !ev.Has(fsnotify.Chmod) {
					timer.Reset(settle)
				}
			case <-w.Errors: // events were lost: read it, to be sure
				timer.Reset(settle)
			case <-timer.C:
				text, err := readFile(path)
				if err != nil {
					continue // between two steps of saving, or gone: the last good one goes on
				}
				select {
				case out <- s.load(document{name: path, path: path, text: text}):
				case <-ctx.Done():
					return
				}
			}
		}
	}()
	return out
}

// currentFolder is the folder whose sheets are listed; "" if there is none.
func currentFolder() string {
	dir, err := os.Getwd()
	if err != nil {
		return ""
	}
	return dir
}
