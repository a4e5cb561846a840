package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"time"

	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/store"
)

const (
	// lookEvery is how often the file of an open sheet is looked at. Asking the system to tell
	// of changes costs less, but it tells nothing of links, of a folder that was made anew and
	// of drives in a network.
	lookEvery = 200 * time.Millisecond
	// alike is how long after a file was saved it may be saved again and look as before: FAT
	// counts in two seconds.
	alike = 3 * time.Second
)

// watch sends a sheet each time its file is saved otherwise, until ctx ends, whatever becomes of
// the file meanwhile: what can't be read is waited for. The sheet that is given is what was read
// last.
func (s shelf) watch(ctx context.Context, sheet document) <-chan screen.Loaded {
	out := make(chan screen.Loaded)
	go s.guard(func() {
		defer close(out)
		tick := time.NewTicker(lookEvery)
		defer tick.Stop()
		last, unread := plainFile(sheet.path), true
		for {
			select {
			case <-ctx.Done():
				return
			case <-tick.C:
			}
			now := plainFile(sheet.path)
			if changed := !sameFile(last, now); changed || !unread || now == nil {
				last, unread = now, unread || changed
				continue // one that changes is left alone until it is saved
			}
			text, err := store.ReadFile(sheet.path, largest)
			if err != nil {
				continue
			}
			age := time.Since(now.ModTime())
			unread = age >= 0 && age < alike
			if bytes.Equal(text, sheet.text) {
				continue
			}
			sheet.text = text
			select {
			case out <- s.loadSafely(sheet):
			case <-ctx.Done():
				return
			}
		}
	})
	return out
}

// loadSafely reads a document. Should that panic, it is no sheet, and its error says so: the
// program that dances the one before goes on.
func (s shelf) loadSafely(d document) (l screen.Loaded) {
	defer func() {
		if p := recover(); p != nil {
			l = screen.Loaded{Name: d.name, ID: d.name, Path: d.path, Err: fmt.Errorf("a fault of this program: %v", p)}
		}
	}()
	return s.load(d)
}

// plainFile tells of a file; nil if there is none that can be read at once, as a pipe can't.
func plainFile(path string) os.FileInfo {
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() {
		return nil
	}
	return info
}

// sameFile reports whether a file looks as it did.
func sameFile(a, b os.FileInfo) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return os.SameFile(a, b) && a.ModTime().Equal(b.ModTime()) && a.Size() == b.Size()
}
