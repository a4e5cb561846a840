package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

func (a *app) sheets() sheets.Shelf { return sheets.Shelf{Library: a.library, In: a.in} }

// open reads the sheet that an argument names. It waits for a pipe until the command line is to end.
func (a *app) open(arg string) (sheets.Document, error) {
	d, err := await(a.ctx, func() (sheets.Document, error) { return a.sheets().Open(arg) })
	hint := ""
	if err != nil && isFolder(arg) {
		err = fmt.Errorf("%s is a folder", arg)
		hint = "name a sheet"
		if paths, _ := sheets.Routines(arg); len(paths) > 0 {
			hint = "name a sheet in it, such as " + paths[0]
		}
	} else if errors.Is(err, fs.ErrNotExist) {
		hint = "example sheets: " + strings.Join(a.library.Sheets(), ", ")
		if near := a.sheets().Like(arg); len(near) > 0 {
			hint = "perhaps " + strings.Join(near, ", ")
		}
	}
	return d, outcome.Failed(err, hint)
}

// openAll reads several sheets, and all sheets of folders. It skips those that can't be read, and returns the last
// error.
func (a *app) openAll(args []string) (docs []sheets.Document, err error) {
	fail := func(e error) {
		if err != nil && e != nil {
			fmt.Fprintf(a.err, "slowquick: error: %s\n", harmless.Message(err))
		}
		err = cmp.Or(e, err)
	}
	for _, arg := range args {
		names := []string{arg}
		if isFolder(arg) {
			var e error
			names, e = sheetsIn(arg)
			fail(e)
		}
		for _, name := range names {
			d, e := a.open(name)
			fail(e)
			if e == nil {
				docs = append(docs, d)
			}
		}
	}
	return docs, err
}

func isFolder(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}

// sheetsIn returns the paths of the sheets in a folder, which has at least one.
func sheetsIn(folder string) ([]string, error) {
	paths, err := sheets.Routines(folder)
	if err != nil {
		return nil, outcome.Failed(err, "")
	}
	if len(paths) == 0 {
		return nil, outcome.Failed(fmt.Errorf("%s has no sheet", folder), "a sheet is a file that ends in .md and names its dance at the top")
	}
	return paths, nil
}

// readAny reads at most [sheets.Largest] bytes of a file that an argument names. It waits for a pipe
// until the command line is to end.
func (a *app) readAny(path string) ([]byte, error) {
	return await(a.ctx, func() ([]byte, error) { return store.ReadUpTo(path, sheets.Largest) })
}

// score returns a sheet's score. If the sheet can't be danced, it prints the findings.
func (a *app) score(d sheets.Document) (*routine.Score, error) {
	score, found := check.Sheet(d.Name, d.Text, a.library)
	if routine.HasErrors(found) || len(score.Passages) == 0 {
		report.Findings(a.page(a.err), d, found)
		if len(routine.Objections(found)) == 0 {
			return nil, outcome.Failed(fmt.Errorf("%s: this sheet has nothing to dance", d.Name), "")
		}
		return nil, outcome.WithFindings()
	}
	return score, nil
}

// danceable reads a sheet that can be danced.
func (a *app) danceable(arg string) (sheets.Sheet, error) {
	d, err := a.open(arg)
	if err != nil {
		return sheets.Sheet{}, err
	}
	score, err := a.score(d)
	if err != nil {
		return sheets.Sheet{}, err
	}
	a.inputs = append(a.inputs, d.Path)
	return sheets.Sheet{Document: d, Timeline: player.NewTimeline(score)}, nil
}

// danceables reads a sheet or all sheets of a folder.
func (a *app) danceables(arg string) (list []sheets.Sheet, err error) {
	if !isFolder(arg) {
		s, err := a.danceable(arg)
		return []sheets.Sheet{s}, err
	}
	paths, err := sheetsIn(arg)
	if err != nil {
		return nil, err
	}
	for _, path := range paths {
		s, err := a.danceable(path)
		if err != nil {
			return nil, err
		}
		list = append(list, s)
	}
	return list, nil
}

// completeSheets completes files and example sheets.
func (a *app) completeSheets(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
	var names []string
	folder, begin := filepath.Split(prefix)
	files, _ := sheets.Files(cmp.Or(folder, ".")) // none in a folder that can't be read
	for _, file := range files {
		// A name that isn't printed as it is can't be completed.
		if strings.HasPrefix(file, begin) && harmless.Masked(file) == file {
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
