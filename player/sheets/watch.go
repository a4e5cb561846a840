package sheets

import (
	"bytes"
	"context"
	"os"
	"time"

	"dance.example/slowquick/player/store"
)

const (
	// lookEvery is how often the file of an open sheet is looked at. Notifications from
	// the system cost less, but miss links, folders that are replaced and network drives.
	lookEvery = 200 * time.Millisecond
	// alike is how long after a file was saved it may be saved again and look as before: FAT
	// counts in two seconds.
	alike = 3 * time.Second
)

// Watch reads a document again whenever its file is saved with different text, and sends
// what read makes of it, until ctx ends; then it closes the channel. If the file is gone or can't
// be read, it waits for it. Guard runs Watch's goroutine.
func Watch[T any](ctx context.Context, d Document, guard func(func()), read func(Document) T) <-chan T {
	out := make(chan T)
	go guard(func() {
		defer close(out)
		tick := time.NewTicker(lookEvery)
		defer tick.Stop()
		last, unread := plainFile(d.Path), true
		for {
			select {
			case <-ctx.Done():
				return
			case <-tick.C:
			}
			now := plainFile(d.Path)
			if changed := !sameFile(last, now); changed || !unread || now == nil {
				last, unread = now, unread || changed
				continue // a file that is still changing is left alone
			}
			text, err := store.ReadFile(d.Path, Largest)
			if err != nil {
				continue
			}
			age := time.Since(now.ModTime())
			unread = age >= 0 && age < alike
			if bytes.Equal(text, d.Text) {
				continue
			}
			d.Text = text
			select {
			case out <- read(d):
			case <-ctx.Done():
				return
			}
		}
	})
	return out
}

// plainFile describes a file; it returns nil if there is no regular file at path.
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
