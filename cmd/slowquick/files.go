package main

import (
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"

	"github.com/natefinch/atomic"

	"dance.example/slowquick/audio/recording"
)

// writeWhole writes a file through write, whole or not at all. A link is followed, so that
// the file it names is written. A new file is shared as any that is made beside it, and one
// that is written over as it was.
func writeWhole(path string, write func(io.Writer) error) error {
	return replace(path, 0o666, false, write)
}

// writeOwn does the same for their owner alone.
func writeOwn(path string, write func(io.Writer) error) error {
	return replace(path, 0o600, true, write)
}

func replace(path string, mode fs.FileMode, always bool, write func(io.Writer) error) (err error) {
	path = followed(path)
	defer func() {
		if err != nil {
			err = fmt.Errorf("write %s: %w", path, err)
		}
	}()
	info, err := os.Stat(path)
	there := err == nil
	switch {
	case there && !info.Mode().IsRegular():
		return errors.New("it is no plain file")
	case there && !always:
		mode = info.Mode()
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	}
	f, err := os.OpenFile(temporaryIn(filepath.Dir(path)), os.O_CREATE|os.O_EXCL|os.O_WRONLY, mode.Perm())
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close() // a second time, perhaps; what went wrong is told
			os.Remove(f.Name())
		}
	}()
	if there { // else the file has what the folder gives to each
		if err := os.Chmod(f.Name(), mode); err != nil {
			return err
		}
	}
	if err := write(f); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return atomic.ReplaceFile(f.Name(), path)
}

// followed is the file that a path leads to by links, also if there is none there.
func followed(path string) string {
	for range 40 { // as Linux does; a path that goes round leads nowhere
		target, err := os.Readlink(path)
		if err != nil {
			break
		}
		if !filepath.IsAbs(target) {
			folder, err := filepath.EvalSymlinks(filepath.Dir(path))
			if err != nil {
				break
			}
			target = filepath.Join(folder, target)
		}
		path = target
	}
	return path
}

// temporaryPrefix begins the names of files and folders that this computer's programs write
// and then move into place; the number of the process and one by chance follow.
func temporaryPrefix() string {
	host, _ := os.Hostname() // "" where it has none
	sum := fnv.New32a()
	sum.Write([]byte(host)) // never fails
	return fmt.Sprintf(".slowquick-%08x-", sum.Sum32())
}

// temporaryIn is a name in a folder for what is not yet whole. What programs left there that
// were killed is removed.
func temporaryIn(folder string) string {
	prefix := temporaryPrefix()
	entries, _ := os.ReadDir(folder) // one that can't be read can't be written to
	for _, e := range entries {
		number, _, ok := strings.Cut(strings.TrimPrefix(e.Name(), prefix), "-")
		pid, err := strconv.Atoi(number)
		if ok && err == nil && strings.HasPrefix(e.Name(), prefix) && !runs(pid) {
			_ = os.RemoveAll(filepath.Join(folder, e.Name())) // or the next time
		}
	}
	return filepath.Join(folder, fmt.Sprintf("%s%d-%x", prefix, os.Getpid(), rand.Uint64()))
}

// runs reports whether there is a process of a number.
func runs(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	defer p.Release() // of no use any more
	return !errors.Is(p.Signal(syscall.Signal(0)), os.ErrProcessDone)
}

// writeTo writes to a target through f: a plain file whole or not at all, a pipe or a device
// as it comes. What is written over is asked about, and never what the command reads.
func (a *app) writeTo(t target, f func(io.Writer) error) error {
	if t.path == "-" {
		return a.passOn(standardOutput, f)
	}
	if err := a.mayWrite(t.path); err != nil {
		return err
	}
	if info, err := os.Stat(t.path); err == nil && !isStream(info) && !a.isOutput(info) && !t.force && !a.agrees(t.path+" exists. Write over it?") {
		return failed(fmt.Errorf("write %s: %w", t.path, fs.ErrExist), "--force writes over it")
	}
	return a.put(t.path, f)
}

// standardOutput is the name of what goes there.
const standardOutput = "standard output"

// put writes a file through f, over whatever is there.
func (a *app) put(path string, f func(io.Writer) error) error {
	info, err := os.Stat(path)
	switch {
	case err == nil && a.isOutput(info):
		return a.passOn(standardOutput, f)
	case err == nil && !info.Mode().IsRegular():
		return a.passOn(path, f)
	}
	if err := writeWhole(path, f); err != nil {
		return failed(err, "nothing was written")
	}
	return nil
}

// passOn writes to what is no plain file, and waits for who reads it until the command line
// is to end.
func (a *app) passOn(path string, f func(io.Writer) error) error {
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
		return failed(fmt.Errorf("write %s: %w", path, err), "")
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

// mayWrite says why a file may not be written over even if one wants that: it is a folder, or
// the command reads it.
func (a *app) mayWrite(path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return nil // it is made
	}
	if info.IsDir() {
		return failed(fmt.Errorf("write %s: it is a folder", path), "")
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
				return failed(fmt.Errorf("write %s: this command reads it", path), "name another file")
			}
		}
	}
	return nil
}
