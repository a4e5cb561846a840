package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"dance.example/slowquick/audio/recording"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/store"
)

// writeTo has f write to a target: to a plain file as a whole or not at all, to a pipe or a device
// directly. It asks before it overwrites a file, and refuses one that the command reads.
func (a *app) writeTo(t flags.Target, f func(io.Writer) error) error {
	if t.Path == "-" {
		return a.passOn(standardOutput, f)
	}
	if err := a.mayWrite(t.Path); err != nil {
		return err
	}
	if info, err := os.Stat(t.Path); err == nil && !isStream(info) && !a.isOutput(info) && !t.Force && !a.agrees(t.Path+" exists. Overwrite it?") {
		return outcome.Failed(fmt.Errorf("write %s: %w", t.Path, fs.ErrExist), "--force overwrites it")
	}
	return a.put(t.Path, f)
}

// standardOutput is the name of standard output in messages.
const standardOutput = "standard output"

// put has f write a file, and overwrites what is there.
func (a *app) put(path string, f func(io.Writer) error) error {
	info, err := os.Stat(path)
	switch {
	case err == nil && a.isOutput(info):
		return a.passOn(standardOutput, f)
	case err == nil && !info.Mode().IsRegular():
		return a.passOn(path, f)
	}
	return outcome.Failed(store.WriteWhole(path, a.whileRunning(f)), "nothing was written")
}

// passOn has f write to something that isn't a plain file. It waits for a reader until the command
// line is to end.
func (a *app) passOn(path string, f func(io.Writer) error) error {
	f = a.whileRunning(f)
	_, err := await(a.ctx, func() (none struct{}, err error) {
		if path == standardOutput {
			return none, f(a.out.raw)
		}
		file, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return none, err
		}
		return none, errors.Join(f(file), file.Close())
	})
	if err != nil {
		return outcome.Failed(fmt.Errorf("write %s: %w", path, err), "")
	}
	return nil
}

// isStream reports whether writing to a file destroys nothing: a pipe, a terminal and the like.
func isStream(info fs.FileInfo) bool {
	m := info.Mode()
	return m&(fs.ModeNamedPipe|fs.ModeSocket|fs.ModeCharDevice) != 0
}

// isOutput reports whether a file is standard output, as /dev/stdout is.
func (a *app) isOutput(info fs.FileInfo) bool {
	out, ok := a.out.raw.(*os.File)
	if !ok {
		return false
	}
	own, err := out.Stat()
	return err == nil && os.SameFile(own, info)
}

// mayWrite returns an error for what must not be overwritten: a folder, or a file that the command
// reads.
func (a *app) mayWrite(path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return nil // it doesn't exist yet
	}
	if info.IsDir() {
		return outcome.Failed(fmt.Errorf("write %s: it is a folder", path), "")
	}
	for _, in := range a.inputs {
		files := []string{in}
		entries, _ := os.ReadDir(in) // a file has none
		for _, e := range entries {
			if kind := filepath.Ext(e.Name()); kind == ".md" || recording.IsSound(recording.Kind(e.Name())) {
				files = append(files, filepath.Join(in, e.Name()))
			}
		}
		for _, file := range files {
			if read, err := os.Stat(file); err == nil && info.Mode().IsRegular() && os.SameFile(info, read) {
				return outcome.Failed(fmt.Errorf("write %s: this command is reading it", path), "write to another file")
			}
		}
	}
	return nil
}

// whileRunning makes f fail once the command line is to end, as by a signal.
func (a *app) whileRunning(f func(io.Writer) error) func(io.Writer) error {
	return func(w io.Writer) error { return f(interruptible{a.ctx, w}) }
}

// interruptible is a writer that fails once a context has ended.
type interruptible struct {
	ctx context.Context
	io.Writer
}

func (w interruptible) Write(p []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	return w.Writer.Write(p)
}
