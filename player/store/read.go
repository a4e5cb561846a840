package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
)

// ReadFile reads at most the given number of bytes of a plain file. It refuses pipes and
// devices, which may never end; see [ReadUpTo].
func ReadFile(path string, most int64) ([]byte, error) {
	if err := Plain(path); err != nil {
		return nil, err
	}
	return ReadUpTo(path, most)
}

// ReadUpTo reads at most the given number of bytes of any file. Of a pipe it waits for the
// writer.
func ReadUpTo(path string, most int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most))
}

// Plain returns an error unless path is a regular file, or a link to one.
func Plain(path string) error {
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		err = &fs.PathError{Op: "read", Path: path, Err: errors.New("it is not a regular file")}
	}
	return err
}
