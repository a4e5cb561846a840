package library

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// Own is one of the dancer's own sheets. It adds figures to a dance of the library or, if
// its front matter describes a dance, is a chapter of its own.
type Own struct {
	File     string
	Text     []byte
	Dance    *routine.Dance    // nil if it is unknown
	Figures  []*routine.Figure // those without an error
	Findings []routine.Finding // what is wrong with the sheet, also on the floor
	Err      error             // why the sheet is not used; nil if it is

	defines bool // its front matter describes the dance
}

// beside returns o without its dance if an earlier own sheet already defines that dance:
// their S and Q may differ, so their figures must not mix.
func (o Own) beside(before []Own) Own {
	if !o.defines {
		return o
	}
	for i := range before {
		if b := &before[i]; b.defines && routine.Key(b.Dance.Name) == routine.Key(o.Dance.Name) {
			o.Err = fmt.Errorf("use %s: %s is already the chapter of %s", o.File, b.File, b.Dance.Name)
			o.Dance, o.Figures, o.defines = nil, nil, false
			break
		}
	}
	return o
}

// readOwn reads an own sheet, whose figures may be those of a book.
func readOwn(folder fs.FS, file string, book routine.Book) Own {
	o := Own{File: file}
	info, err := fs.Stat(folder, file)
	if err == nil && !info.Mode().IsRegular() { // opening a pipe would wait for who writes into it
		err = errors.New("it is not a regular file")
	}
	var f fs.File
	if err == nil {
		f, err = folder.Open(file)
	}
	if err == nil {
		defer f.Close()
		// One byte above the limit, so that check.Sheet reports a sheet that is too large.
		o.Text, err = io.ReadAll(io.LimitReader(f, routine.LargestSheet+1))
	}
	if err != nil {
		o.Err = fmt.Errorf("read %s: %w", file, err)
		return o
	}
	score, found := check.Sheet(file, o.Text, book)
	for _, f := range routine.Objections(found) {
		switch f.Code {
		case "order-missing", "unknown-figure": // it need not be a routine, and may use other sheets' figures
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

// Origin says where one of the dancer's own figures comes from.
type Origin struct {
	File      string `json:"file,omitempty"`      // the own sheet
	Overrides string `json:"overrides,omitempty"` // the file of the figure or chapter it replaces; "" for none
}
