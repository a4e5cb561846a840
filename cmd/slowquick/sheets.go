package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// document is a sheet's text and where it came from.
type document struct {
	name string // as findings name it
	path string // of the file; "" for standard input and example sheets
	text []byte
}

// standardInput is the name of what comes from there.
const standardInput = "standard input"

// largest bounds what is read of one sheet, a byte more than it may have: a larger or an
// endless file is a finding, and is not swallowed first.
const largest = routine.LargestSheet + 1

// open reads the sheet that an argument names: a file, which may be a pipe, "-" for
// standard input, or an example sheet.
func (a *app) open(arg string) (document, error) {
	if arg == "-" {
		text, err := await(a.ctx, func() ([]byte, error) { return io.ReadAll(io.LimitReader(a.in, largest)) })
		if err != nil {
			return document{}, failed(fmt.Errorf("read standard input: %w", err), "")
		}
		return document{name: standardInput, text: text}, nil
	}
	text, err := a.readAny(arg)
	if err == nil {
		d := document{name: arg, text: text}
		if store.Plain(arg) == nil {
			d.path = arg
		}
		return d, nil
	}
	if errors.Is(err, fs.ErrNotExist) && slices.Contains(a.library.Sheets(), strings.TrimSuffix(arg, ".md")) {
		text, err := a.library.Sheet(strings.TrimSuffix(arg, ".md"))
		if err != nil {
			return document{}, failed(err, "")
		}
		return document{name: arg, text: text}, nil
	}
	hint := ""
	if errors.Is(err, fs.ErrNotExist) {
		hint = "example sheets: " + strings.Join(a.library.Sheets(), ", ")
		if near := a.sheetsLike(arg); len(near) > 0 {
			hint = "perhaps " + strings.Join(near, ", ")
		}
	}
	return document{}, failed(fmt.Errorf("read sheet: %w", err), hint)
}

// sheetsLike are the example sheets, and the files of the folder that an argument names,
// whose names are like the argument's.
func (a *app) sheetsLike(arg string) []string {
	names, paths := slices.Clone(a.library.Sheets()), map[string]string{}
	files, _ := sheetFiles(filepath.Dir(arg)) // one that can't be read holds none
	for _, file := range files {
		name := strings.TrimSuffix(file, ".md")
		names, paths[name] = append(names, name), filepath.Join(filepath.Dir(arg), file)
	}
	near := routine.Nearest(strings.TrimSuffix(filepath.Base(arg), ".md"), names)
	for i, name := range near {
		near[i] = cmp.Or(paths[name], name)
	}
	return near
}

// readAny reads a file that was named, of at most largest bytes. It may be a pipe, which is
// waited for until the command line is to end.
func (a *app) readAny(path string) ([]byte, error) {
	return await(a.ctx, func() ([]byte, error) { return store.ReadUpTo(path, largest) })
}

// sheetFiles are the names of the plain files of a folder whose names end as a sheet's does, in
// their order.
func sheetFiles(folder string) (names []string, err error) {
	entries, err := os.ReadDir(folder)
	for _, e := range entries {
		if filepath.Ext(e.Name()) == ".md" && store.Plain(filepath.Join(folder, e.Name())) == nil {
			names = append(names, e.Name())
		}
	}
	return names, err
}

// openAll reads several sheets and goes on after one that can't be read.
func (a *app) openAll(args []string) (docs []document, err error) {
	for _, arg := range args {
		d, e := a.open(arg)
		if e != nil {
			if err != nil {
				fmt.Fprintf(a.err, "slowquick: error: %s\n", message(err))
			}
			err = e
			continue
		}
		docs = append(docs, d)
	}
	return docs, err
}

// score reads a sheet that can be danced. If it can't, its findings are printed.
func (a *app) score(d document) (*routine.Score, error) {
	score, found := check.Sheet(d.name, d.text, a.library)
	if routine.HasErrors(found) || len(score.Passages) == 0 {
		a.printFindings(a.err, d, found)
		if len(found) == 0 {
			return nil, failed(fmt.Errorf("%s: nothing is danced in this sheet", d.name), "")
		}
		return nil, withFindings()
	}
	return score, nil
}

// completeSheets completes files and example sheets.
func (a *app) completeSheets(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
	var names []string
	folder, begin := filepath.Split(prefix)
	files, _ := sheetFiles(cmp.Or(folder, ".")) // one that can't be read completes nothing
	for _, file := range files {
		// What is printed of other names is not what they are.
		if strings.HasPrefix(file, begin) && harmless(file) == file {
			names = append(names, folder+file)
		}
	}
	for _, name := range a.library.Sheets() {
		if strings.HasPrefix(name, prefix) {
			names = append(names, name)
		}
	}
	return names, cobra.ShellCompDirectiveDefault
}
