package console

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"dance.example/slowquick/audio/recording"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/store"
)

// WriteTo has f write to a target: to a plain file as a whole or not at all, to a pipe or a device
// directly. Without force it asks before it overwrites a file. It refuses one that the command reads.
func (c *Console) WriteTo(path string, force bool, f func(io.Writer) error) error {
	if path == "-" {
		return c.passOn(standardOutput, f)
	}
	if err := c.MayWrite(path); err != nil {
		return err
	}
	if info, err := os.Stat(path); err == nil && !isStream(info) && !c.isOutput(info) && !force && !c.Agrees(path+" exists. Overwrite it?") {
		return outcome.Failed(fmt.Errorf("write %s: %w", path, fs.ErrExist), "--force overwrites it")
	}
	return c.put(path, f)
}

// WriteNew has f write to a target, which is not a plain file that is there already.
func (c *Console) WriteNew(path string, f func(io.Writer) error) error {
	if path == "-" {
		return c.passOn(standardOutput, f)
	}
	if info, err := os.Stat(path); err == nil && !isStream(info) {
		return outcome.Failed(fmt.Errorf("write %s: %w", path, fs.ErrExist), "name a new file")
	}
	return c.put(path, f)
}

// standardOutput is the name of standard output in messages.
const standardOutput = "standard output"

// put has f write a file, and overwrites what is there.
func (c *Console) put(path string, f func(io.Writer) error) error {
	info, err := os.Stat(path)
	switch {
	case err == nil && c.isOutput(info):
		return c.passOn(standardOutput, f)
	case err == nil && !info.Mode().IsRegular():
		return c.passOn(path, f)
	}
	return outcome.Failed(store.WriteWhole(path, c.WhileRunning(f)), "nothing was written")
}

// passOn has f write to something that isn't a plain file. It waits for a reader until the command
// line is to end.
func (c *Console) passOn(path string, f func(io.Writer) error) error {
	f = c.WhileRunning(f)
	_, err := Await(c.Ctx, func() (none struct{}, err error) {
		if path == standardOutput {
			return none, f(c.Out.Raw)
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
func (c *Console) isOutput(info fs.FileInfo) bool {
	out, ok := c.Out.Raw.(*os.File)
	if !ok {
		return false
	}
	own, err := out.Stat()
	return err == nil && os.SameFile(own, info)
}

// MayWrite returns an error for what must not be overwritten: a folder, or a file that the command
// reads.
func (c *Console) MayWrite(path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return nil // it doesn't exist yet
	}
	if info.IsDir() {
		return outcome.Failed(fmt.Errorf("write %s: it is a folder", path), "")
	}
	for _, in := range c.inputs {
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

// WhileRunning makes f fail once the command line is to end, as by a signal.
func (c *Console) WhileRunning(f func(io.Writer) error) func(io.Writer) error {
	return func(w io.Writer) error { return f(interruptible{c.Ctx, w}) }
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
