package library

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Own is a sheet of the dancer's own that adds to the library: figures for one
// of its dances, or, with a front matter that tells what the dance is, a chapter.
type Own struct {
	File     string
	Text     []byte
	Dance    *routine.Dance    // nil if it is not known
	Figures  []*routine.Figure // those without an error
	Findings []routine.Finding // what is wrong with the sheet, also on the floor
	Err      error             // why the sheet is not used: it can't be read, or is one too many

	defines bool
}

// mostOwn is how many files of a folder of own sheets are read.
const mostOwn = 500

// With gives the library to which the sheets in a folder, *.md, add figures and
// dances. A figure of the same name as one of the library's takes its place; a
// chapter of the same dance takes the place of the whole chapter. They are read
// when the library is first asked for something.
func (l *Library) With(folder fs.FS) *Library {
	return &Library{files: l.files, folder: folder, chapters: map[string]*Chapter{}}
}

// Own gives the sheets of the dancer's own, in the order of their file names.
func (l *Library) Own() []Own {
	l.readOwn.Do(func() {
		if l.folder == nil {
			return
		}
		shipped := New(l.files)
		files, _ := fs.Glob(l.folder, "*.md") // the pattern is well formed
		for i, file := range files {
			if i == mostOwn {
				l.own = append(l.own, Own{File: file, Err: fmt.Errorf("read %s: only the first %d sheets of a folder are read, of %d", file, mostOwn, len(files))})
				break
			}
			l.own = append(l.own, readOwn(l.folder, file, shipped).beside(l.own))
		}
	})
	return l.own
}

// beside is o without its dance if a sheet before it is that dance's chapter already: the
// two may tell S and Q otherwise, so that their figures don't mix.
func (o Own) beside(before []Own) Own {
	if !o.defines {
		return o
	}
	for i := range before {
		if b := &before[i]; b.defines && routine.Key(b.Dance.Name) == routine.Key(o.Dance.Name) {
			o.Err = fmt.Errorf("use %s: %s already is the chapter of %s", o.File, b.File, b.Dance.Name)
			o.Dance, o.Figures, o.defines = nil, nil, false
			break
		}
	}
	return o
}

func readOwn(folder fs.FS, file string, shipped *Library) Own {
	o := Own{File: file}
	info, err := fs.Stat(folder, file)
	if err == nil && !info.Mode().IsRegular() { // opening a pipe would wait for who writes into it
		err = errors.New("it is no plain file")
	}
	var f fs.File
	if err == nil {
		f, err = folder.Open(file)
	}
	if err == nil {
		defer f.Close()
		// A byte more than a sheet may have, so that a larger one is found to be so.
		o.Text, err = io.ReadAll(io.LimitReader(f, routine.LargestSheet+1))
	}
	if err != nil {
		o.Err = fmt.Errorf("read %s: %w", file, err)
		return o
	}
	score, found := floor.Read(file, o.Text, shipped)
	for _, f := range found {
		switch f.Code {
		case "order-missing", "unknown-figure": // it is no routine; or of figures that another sheet tells
		default:
			o.Findings = append(o.Findings, f)
		}
	}
	if !score.Known {
		return o
	}
	o.Dance, o.defines = score.Dance, score.Defines
	faulty := routine.Faulty(score.Figures, found)
	for _, fig := range score.Figures {
		if !faulty[fig] && len(fig.Rows) > 0 {
			fig.Source = cmp.Or(fig.Source, "your own sheet "+file)
			o.Figures = append(o.Figures, fig)
		}
	}
	return o
}

// merge lets the dancer's own figures take the places of the chapter's of the
// same name, or stand behind them. Instead is the file of the chapter that an
// own one hides, or "".
func (c *Chapter) merge(o *Own, instead string) {
	for _, fig := range o.Figures {
		at := slices.IndexFunc(c.Figures, func(old *routine.Figure) bool { return routine.Key(old.Name) == routine.Key(fig.Name) })
		if at < 0 {
			c.Figures = append(c.Figures, fig)
			c.Origins[fig] = Origin{File: o.File, Overrides: instead}
			continue
		}
		before := c.Origins[c.Figures[at]].File
		if before == "" {
			before = c.File
		}
		c.Figures[at] = fig
		c.Origins[fig] = Origin{File: o.File, Overrides: before}
	}
}

// Origin tells where a figure of the dancer's own comes from.
type Origin struct {
	File      string // the own sheet
	Overrides string // the file of the figure whose place it takes; "" for none
}
