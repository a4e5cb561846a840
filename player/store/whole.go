package store

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
)

// WriteWhole writes a file through write: all of it, or the file stays as it was. If path is
// a link, the file it leads to is written. A file that exists keeps its mode; a new one gets
// the usual mode of its folder.
func WriteWhole(path string, write func(io.Writer) error) error {
	return replace(path, 0o666, false, write)
}

// WriteOwn is like [WriteWhole], but only the owner can read the file afterwards.
func WriteOwn(path string, write func(io.Writer) error) error {
	return replace(path, 0o600, true, write)
}

// replace writes a temporary file and moves it over path. The file has the given mode if it
// is new, or always.
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
		return errors.New("it is not a regular file")
	case there && !always:
		mode = info.Mode()
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	}
	f, err := os.OpenFile(Temporary(filepath.Dir(path)), os.O_CREATE|os.O_EXCL|os.O_WRONLY, mode.Perm())
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close() // perhaps again; the first error is the one that matters
			os.Remove(f.Name())
		}
	}()
	if there { // a new file keeps what the umask left of its mode
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

// followed returns the path that path leads to through links, even if no file is there yet.
func followed(path string) string {
	for range 40 { // the limit on Linux; a circle of links leads nowhere
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

// Temporary returns a new path in folder for a file or folder that will be moved into place
// once it is whole. It also removes what killed programs left there, except those of other
// computers that share the folder.
func Temporary(folder string) string {
	prefix := temporaryPrefix()
	entries, _ := os.ReadDir(folder) // a folder that can't be read fails when it is written to
	for _, e := range entries {
		number, _, ok := strings.Cut(strings.TrimPrefix(e.Name(), prefix), "-")
		pid, err := strconv.Atoi(number)
		if ok && err == nil && strings.HasPrefix(e.Name(), prefix) && !runs(pid) {
			_ = os.RemoveAll(filepath.Join(folder, e.Name())) // or next time
		}
	}
	return filepath.Join(folder, fmt.Sprintf("%s%d-%x", prefix, os.Getpid(), rand.Uint64()))
}

// temporaryPrefix begins the names of temporary files of this computer. A process id and a
// random number follow.
func temporaryPrefix() string {
	host, _ := os.Hostname() // "" where it has none
	sum := fnv.New32a()
	sum.Write([]byte(host)) // never fails
	return fmt.Sprintf(".slowquick-%08x-", sum.Sum32())
}

// runs reports whether the process pid exists.
func runs(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	defer p.Release() // the result doesn't matter any more
	return !errors.Is(p.Signal(syscall.Signal(0)), os.ErrProcessDone)
}
