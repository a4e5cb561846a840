// Package folders writes all handouts of a class into a folder with an index page: a new folder appears
// whole, and one that exists is renewed without harm to what is in it. Begin with [Class].
package folders

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"

	"dance.example/slowquick/player/store"
)

// Folder is a folder of files with an index page that lists them.
type Folder struct {
	Index Index
	Files []File
}

// File is a file of a folder.
type File struct {
	Path  string // with slashes, from the folder
	Write func(io.Writer) error
}

// indexPage is the name of the index page.
const indexPage = "index.html"

// State says what became of a folder that could not be renewed.
type State int

// The states.
const (
	Unchanged  State = iota
	PartlyNew        // some files are new, the index isn't, and each file is whole
	OldRemains       // all files but the index are new, and some that are no longer made remain
)

// RenewError says why a folder could not be renewed, and what became of it.
type RenewError struct {
	Err   error
	State State
}

func (e *RenewError) Error() string { return e.Err.Error() }
func (e *RenewError) Unwrap() error { return e.Err }

// WriteNew writes a folder that doesn't exist yet: all of it or nothing.
func (f *Folder) WriteNew(ctx context.Context, folder string) error {
	made, discard, err := f.stage(ctx, filepath.Dir(filepath.Clean(folder)))
	defer discard()
	if err != nil {
		return err
	}
	return os.Rename(made, folder)
}

// Renew writes everything into a folder that exists, beside what is there, and then moves one
// file after the other to its place, the index last. Up to the first move, an end changes
// nothing; a program killed later leaves whole files, some of them new, and the old index. What
// only the old index lists is removed if it is still as it was made. The error is a
// [*RenewError].
func (f *Folder) Renew(ctx context.Context, folder string) error {
	for _, file := range f.Files {
		path := filepath.Join(folder, file.Path)
		if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
			return &RenewError{fmt.Errorf("write %s: it is not a regular file", path), Unchanged}
		}
	}
	failed := func(err error, state State) error {
		return &RenewError{fmt.Errorf("write %s: %w", folder, err), state}
	}
	old := listed(folder)
	made, discard, err := f.stage(ctx, folder)
	defer discard()
	if err != nil {
		return failed(err, Unchanged)
	}
	var placed []fs.FileInfo
	for _, file := range f.Files {
		info, err := place(filepath.Join(made, file.Path), filepath.Join(folder, file.Path))
		if err != nil {
			return failed(err, PartlyNew)
		}
		placed = append(placed, info)
	}
	if err := removeMade(folder, old, placed); err != nil {
		return failed(err, OldRemains)
	}
	if _, err := place(filepath.Join(made, indexPage), filepath.Join(folder, indexPage)); err != nil {
		return failed(err, PartlyNew)
	}
	return nil
}

// stage writes the files into a new folder within another, the index last. It returns the new
// folder, and a function that removes whatever is left of it.
func (f *Folder) stage(ctx context.Context, within string) (folder string, discard func(), err error) {
	folder = store.Temporary(within)
	if err := os.Mkdir(folder, 0o777); err != nil {
		return "", func() {}, err
	}
	discard = func() { _ = os.RemoveAll(folder) } // what can't be removed does no harm
	sums := map[string]string{}
	for _, file := range f.Files {
		if err = ctx.Err(); err == nil {
			sums[file.Path], err = newFile(filepath.Join(folder, file.Path), file.Write)
		}
		if err != nil {
			return folder, discard, fmt.Errorf("%s: %w", file.Path, err)
		}
	}
	f.Index.Sum(sums)
	if err = ctx.Err(); err == nil {
		_, err = newFile(filepath.Join(folder, indexPage), f.Index.HTML)
	}
	return folder, discard, err
}

// newFile writes a file, and returns the SHA-256 of its text.
func newFile(path string, write func(io.Writer) error) (sum string, err error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return "", err
	}
	f, err := os.Create(path)
	if err != nil {
		return "", err
	}
	hash := sha256.New()
	err = write(io.MultiWriter(f, hash))
	if err == nil {
		err = f.Sync()
	}
	return fmt.Sprintf("%x", hash.Sum(nil)), errors.Join(err, f.Close())
}

// place moves a new file to a path, following links. A file that was there passes on its mode.
func place(from, to string) (fs.FileInfo, error) {
	if target, err := filepath.EvalSymlinks(to); err == nil {
		to = target
	}
	if before, err := os.Stat(to); err == nil {
		if err := os.Chmod(from, before.Mode().Perm()); err != nil {
			return nil, err
		}
	}
	if err := os.MkdirAll(filepath.Dir(to), 0o777); err != nil {
		return nil, err
	}
	if err := os.Rename(from, to); err != nil {
		return nil, err
	}
	return os.Stat(to)
}

// mostIndex is how many bytes of an index page are read.
const mostIndex = 1 << 20

// listed returns the files that the index of a folder lists, or none if it isn't ours.
func listed(folder string) []IndexFile {
	f, err := os.Open(filepath.Join(folder, indexPage))
	if err != nil {
		return nil
	}
	defer f.Close()
	return ReadIndex(io.LimitReader(f, mostIndex))
}

// removeMade removes the files of an old index that are still as they were made and were not
// just placed, then the folders that this leaves empty. It touches nothing outside the folder,
// whatever the index lists.
func removeMade(folder string, old []IndexFile, placed []fs.FileInfo) error {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return err
	}
	defer root.Close()
	for _, f := range old {
		info, err := root.Stat(f.Path)
		if err != nil || !info.Mode().IsRegular() || slices.ContainsFunc(placed, func(p fs.FileInfo) bool { return os.SameFile(p, info) }) {
			continue
		}
		if sum, err := sumOf(root, f.Path); err != nil || sum != f.Sum {
			continue
		}
		if err := root.Remove(f.Path); err != nil {
			return err
		}
		if dir := path.Dir(f.Path); dir != "." {
			_ = root.Remove(dir) // fails unless it is empty
		}
	}
	return nil
}

// sumOf returns the SHA-256 of a file.
func sumOf(root *os.Root, name string) (string, error) {
	f, err := root.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	hash := sha256.New()
	_, err = io.Copy(hash, f)
	return fmt.Sprintf("%x", hash.Sum(nil)), err
}
