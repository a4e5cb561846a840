package main

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

	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/store"
)

// indexPage is the file that lists the others of a folder.
const indexPage = "index.html"

// write writes the bundle into a folder: a new one as a whole or not at all, and one that
// exists as [bundle.renew] says.
func (b *bundle) write(ctx context.Context, to target) error {
	if to.path == "" || to.path == "-" {
		return usage(errors.New("no folder to write is named: -o FOLDER"))
	}
	entries, err := os.ReadDir(to.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := b.newFolder(ctx, to.path); err != nil {
			return failed(fmt.Errorf("write %s: %w", to.path, err), "nothing was written")
		}
		return nil
	case err != nil:
		return failed(fmt.Errorf("write %s: %w", to.path, err), "")
	case len(entries) > 0 && !to.force && !b.agrees(to.path+" exists. Write over its files?"):
		return failed(fmt.Errorf("write %s: %w", to.path, fs.ErrExist), "--force writes over its files")
	}
	return b.renew(ctx, to.path)
}

// newFolder writes a folder beside its place and then moves it there.
func (b *bundle) newFolder(ctx context.Context, folder string) error {
	made, discard, err := b.stage(ctx, filepath.Dir(filepath.Clean(folder)))
	defer discard()
	if err != nil {
		return err
	}
	return os.Rename(made, folder)
}

// renew writes all within a folder and then moves one file after the other to its place,
// the index last. So a run that ends before that changes nothing; one that is killed
// meanwhile leaves whole files, of which some are new, and the old index. What only the
// old index lists is removed if it is still as it was made.
func (b *bundle) renew(ctx context.Context, folder string) error {
	for _, f := range b.files {
		path := filepath.Join(folder, f.path)
		if err := b.mayWrite(path); err != nil {
			return err
		}
		if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
			return failed(fmt.Errorf("write %s: it is not a regular file", path), "the folder is as it was")
		}
	}
	old := listed(folder)
	made, discard, err := b.stage(ctx, folder)
	defer discard()
	if err != nil {
		return failed(fmt.Errorf("write %s: %w", folder, err), "the folder is as it was")
	}
	var placed []fs.FileInfo
	move := func(name string) error {
		info, err := place(filepath.Join(made, name), filepath.Join(folder, name))
		placed = append(placed, info)
		if err != nil {
			return failed(fmt.Errorf("write %s: %w", folder, err), "some of its files are new; the same command, once it can, writes them all")
		}
		return nil
	}
	for _, f := range b.files {
		if err := move(f.path); err != nil {
			return err
		}
	}
	if err := removeMade(folder, old, placed); err != nil {
		return failed(fmt.Errorf("write %s: %w", folder, err), "")
	}
	return move(indexPage)
}

// stage writes the files into a new folder within another, the index last. It gives the
// new folder, and what removes all that is left of it.
func (b *bundle) stage(ctx context.Context, within string) (folder string, discard func(), err error) {
	folder = store.Temporary(within)
	if err := os.Mkdir(folder, 0o777); err != nil {
		return "", func() {}, err
	}
	discard = func() { _ = os.RemoveAll(folder) } // what can't be removed does no harm
	sums := map[string]string{}
	for _, f := range b.files {
		if sums[f.path], err = newFile(ctx, filepath.Join(folder, f.path), f.write); err != nil {
			return folder, discard, fmt.Errorf("%s: %w", f.path, err)
		}
	}
	b.index.Sum(sums)
	_, err = newFile(ctx, filepath.Join(folder, indexPage), b.index.HTML)
	return folder, discard, err
}

// newFile writes a file, and gives the SHA-256 of what is in it.
func newFile(ctx context.Context, path string, write func(io.Writer) error) (sum string, err error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return "", err
	}
	f, err := os.Create(path)
	if err != nil {
		return "", err
	}
	hash := sha256.New()
	err = until(ctx, write)(io.MultiWriter(f, hash))
	if err == nil {
		err = f.Sync()
	}
	return fmt.Sprintf("%x", hash.Sum(nil)), errors.Join(err, f.Close())
}

// place moves a new file to where one may be, whose rights it takes on. A link is followed.
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

// listed are the files that the index of a folder lists; none if there is no index of ours.
func listed(folder string) []handout.IndexFile {
	f, err := os.Open(filepath.Join(folder, indexPage))
	if err != nil {
		return nil
	}
	defer f.Close()
	return handout.ReadIndex(io.LimitReader(f, sheets.Largest))
}

// removeMade removes the files of an old index that are still as they were made, and not
// among those that were just placed; then the folders that this leaves empty. Nothing
// outside of the folder is touched, whatever the index lists.
func removeMade(folder string, old []handout.IndexFile, placed []fs.FileInfo) error {
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
			_ = root.Remove(dir) // which fails as long as it holds something
		}
	}
	return nil
}

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
