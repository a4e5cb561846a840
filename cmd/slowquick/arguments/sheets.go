package arguments

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/console"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// Shelf returns the sheets that can be opened by name.
func (r *Reader) Shelf() sheets.Shelf { return sheets.Shelf{Library: r.Library, In: r.In} }

// Open reads the sheet that an argument names. It waits for a pipe until the command line is to end.
func (r *Reader) Open(arg string) (sheets.Document, error) {
	d, err := console.Await(r.Ctx, func() (sheets.Document, error) { return r.Shelf().Open(arg) })
	hint := ""
	if err != nil && isFolder(arg) {
		err = fmt.Errorf("%s is a folder", arg)
		hint = "name a sheet"
		if paths, _ := sheets.Routines(arg); len(paths) > 0 {
			hint = "name a sheet in it, such as " + paths[0]
		}
	} else if errors.Is(err, fs.ErrNotExist) {
		hint = "example sheets: " + strings.Join(r.Library.Sheets(), ", ")
		if near := r.Shelf().Like(arg); len(near) > 0 {
			hint = "perhaps " + strings.Join(near, ", ")
		}
	}
	return d, outcome.Failed(err, hint)
}

// OpenAll reads several sheets, and all sheets of folders. It skips those that can't be read, and returns the last
// error.
func (r *Reader) OpenAll(args []string) (docs []sheets.Document, err error) {
	fail := func(e error) {
		if err != nil && e != nil {
			fmt.Fprintf(r.Err, "slowquick: error: %s\n", harmless.Message(err))
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
			d, e := r.Open(name)
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

// ReadAny reads at most [sheets.Largest] bytes of a file that an argument names. It waits for a pipe
// until the command line is to end.
func (r *Reader) ReadAny(path string) ([]byte, error) {
	return console.Await(r.Ctx, func() ([]byte, error) { return store.ReadUpTo(path, sheets.Largest) })
}

// Score returns a sheet's score. If the sheet can't be danced, it prints the findings.
func (r *Reader) Score(d sheets.Document) (*routine.Score, error) {
	score, found := check.Sheet(d.Name, d.Text, r.Library)
	if routine.HasErrors(found) || len(score.Passages) == 0 {
		report.Findings(r.Page(r.Err), d, found)
		if len(routine.Objections(found)) == 0 {
			return nil, outcome.Failed(fmt.Errorf("%s: this sheet has nothing to dance", d.Name), "")
		}
		return nil, outcome.WithFindings()
	}
	return score, nil
}

// Danceable reads a sheet that can be danced.
func (r *Reader) Danceable(arg string) (sheets.Sheet, error) {
	d, err := r.Open(arg)
	if err != nil {
		return sheets.Sheet{}, err
	}
	score, err := r.Score(d)
	if err != nil {
		return sheets.Sheet{}, err
	}
	r.Reads(d.Path)
	return sheets.Sheet{Document: d, Timeline: player.NewTimeline(score)}, nil
}

// Danceables reads a sheet or all sheets of a folder.
func (r *Reader) Danceables(arg string) (list []sheets.Sheet, err error) {
	if !isFolder(arg) {
		s, err := r.Danceable(arg)
		return []sheets.Sheet{s}, err
	}
	paths, err := sheetsIn(arg)
	if err != nil {
		return nil, err
	}
	for _, path := range paths {
		s, err := r.Danceable(path)
		if err != nil {
			return nil, err
		}
		list = append(list, s)
	}
	return list, nil
}

// CompleteSheets completes files and example sheets.
func (r *Reader) CompleteSheets(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
	var names []string
	folder, begin := filepath.Split(prefix)
	files, _ := sheets.Files(cmp.Or(folder, ".")) // none in a folder that can't be read
	for _, file := range files {
		// A name that isn't printed as it is can't be completed.
		if strings.HasPrefix(file, begin) && harmless.Masked(file) == file {
			names = append(names, folder+file)
		}
	}
	for _, name := range r.Library.Sheets() {
		if strings.HasPrefix(name, prefix) {
			names = append(names, name)
		}
	}
	return names, cobra.ShellCompDirectiveDefault
}
