package sheets

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

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// Document is the text of a sheet and where it came from.
type Document struct {
	Name string // as findings name it
	Path string // of the file; "" for standard input and example sheets
	Text []byte
}

// Base returns the name of a sheet without its folder and ending.
func (d Document) Base() string {
	if d.Path == "" && d.Name == StandardInput {
		return "sheet"
	}
	return strings.TrimSuffix(filepath.Base(d.Name), ".md")
}

// StandardInput is the name of the sheet that is read from there.
const StandardInput = "standard input"

// Largest is how much is read of a sheet: a byte more than it may have, so that a larger or
// endless one becomes a finding without being read to its end.
const Largest = routine.LargestSheet + 1

// Sheet is a document that was read.
type Sheet struct {
	Document
	Timeline *player.Timeline // nil if it can't be danced
	Findings []routine.Finding
	Err      error // why it could not be read at all; nil if it was
}

// Shelf opens files and the example sheets of a library.
type Shelf struct {
	Library *library.Library
	In      io.Reader // standard input, which can be read once
}

// Open reads the document of a name: a file, an example, or the title of a sheet in the current
// folder or of an example. It waits for pipes and standard input. A name that isn't known is an
// [fs.ErrNotExist]; see [Shelf.Like].
func (s Shelf) Open(name string) (Document, error) {
	if name == "-" {
		text, err := io.ReadAll(io.LimitReader(s.In, Largest))
		if err != nil {
			return Document{}, fmt.Errorf("read standard input: %w", err)
		}
		return Document{Name: StandardInput, Text: text}, nil
	}
	text, err := store.ReadUpTo(name, Largest)
	if err == nil {
		d := Document{Name: name, Text: text}
		if store.Plain(name) == nil {
			d.Path = name
		}
		return d, nil
	}
	if example := strings.TrimSuffix(name, ".md"); errors.Is(err, fs.ErrNotExist) && slices.Contains(s.Library.Sheets(), example) {
		text, err = s.Library.Sheet(example)
		return Document{Name: name, Text: text}, err
	}
	ids, _ := s.titled(name) // without the examples the file is still missing
	switch len(ids) {
	case 0:
		return Document{}, fmt.Errorf("read sheet: %w", err)
	case 1:
		return s.Open(ids[0])
	}
	return Document{}, fmt.Errorf("%d sheets have the title %q; name one by its file: %s", len(ids), name, strings.Join(ids, ", "))
}

// titled returns the sheets with a title, as Open takes them: those of the current folder or, if there
// are none, the examples.
func (s Shelf) titled(title string) (ids []string, err error) {
	key := routine.Key(title)
	if key == "" {
		return nil, nil
	}
	list, err := s.Entries(".")
	for _, e := range list {
		if e.Example() && len(ids) > 0 {
			break // an own copy of an example keeps its title
		}
		if routine.Key(e.Title) == key && e.ID != title {
			ids = append(ids, e.ID)
		}
	}
	return ids, err
}

// Names reports whether a word can only be meant as the name of a sheet: a path, a file's name that ends
// in .md, an example or a title.
func (s Shelf) Names(word string) bool {
	if word == "-" || filepath.Ext(word) == ".md" || filepath.Base(word) != word || slices.Contains(s.Library.Sheets(), word) {
		return true
	}
	ids, _ := s.titled(word)
	return len(ids) > 0
}

// Like returns the example sheets, and the files of the folder in which name lies, whose names or
// titles are almost like it.
func (s Shelf) Like(name string) []string {
	names, paths := slices.Clone(s.Library.Sheets()), map[string]string{}
	files, _ := Files(filepath.Dir(name)) // none in a folder that can't be read
	for _, file := range files {
		stem := strings.TrimSuffix(file, ".md")
		names, paths[stem] = append(names, stem), filepath.Join(filepath.Dir(name), file)
	}
	entries, _ := s.Entries(filepath.Dir(name)) // the rest is better than nothing
	for _, e := range entries {
		names, paths[e.Title] = append(names, e.Title), cmp.Or(paths[e.Title], e.ID)
	}
	var near []string
	for _, like := range routine.Nearest(strings.TrimSuffix(filepath.Base(name), ".md"), names) {
		if id := cmp.Or(paths[like], like); !slices.Contains(near, id) {
			near = append(near, id)
		}
	}
	return near
}

// Files returns the names of the regular files in a folder that end in .md, in order.
func Files(folder string) (names []string, err error) {
	entries, err := os.ReadDir(folder)
	for _, e := range entries {
		if filepath.Ext(e.Name()) == ".md" && store.Plain(filepath.Join(folder, e.Name())) == nil {
			names = append(names, e.Name())
		}
	}
	return names, err
}

// Routines returns the paths of the sheets in a folder, without its notes and chapters of figures. A file that
// can't be read is among them: opening it says why.
func Routines(folder string) (paths []string, err error) {
	files, err := Files(folder)
	if err != nil {
		return nil, fmt.Errorf("read sheets: %w", err)
	}
	for _, file := range files {
		path := filepath.Join(folder, file)
		text, err := store.ReadFile(path, Largest)
		if _, isSheet := routine.ReadHeading(file, text); isSheet || err != nil {
			paths = append(paths, path)
		}
	}
	return paths, nil
}

// example is the place of an example sheet.
const example = "example"

// Entry is a sheet in a list.
type Entry struct {
	Title string
	Dance string
	Place string // the name of its file, or that it is an example
	ID    string // what [Shelf.Open] takes
}

// Example reports whether the sheet is one of the library's.
func (e Entry) Example() bool { return e.Place == example }

// Entries lists the sheets of a folder, then the examples. A folder that can't be read has no
// sheets.
func (s Shelf) Entries(folder string) ([]Entry, error) {
	var list []Entry
	files, _ := Files(folder)
	for _, file := range files {
		path := filepath.Join(folder, file)
		text, err := store.ReadFile(path, Largest)
		if err != nil {
			continue // opening it by name says why
		}
		if h, ok := routine.ReadHeading(file, text); ok {
			list = append(list, Entry{Title: h.Title, Dance: h.Dance, Place: file, ID: path})
		}
	}
	for _, name := range s.Library.Sheets() {
		text, err := s.Library.Sheet(name)
		if err != nil {
			return list, err
		}
		if h, ok := routine.ReadHeading(name, text); ok {
			list = append(list, Entry{Title: h.Title, Dance: h.Dance, Place: example, ID: name})
		}
	}
	return list, nil
}

// Read reads a document and lays out what is danced.
func (s Shelf) Read(d Document) Sheet {
	score, found := check.Sheet(d.Name, d.Text, s.Library)
	sheet := Sheet{Document: d, Findings: found}
	if !routine.HasErrors(found) && len(score.Passages) > 0 {
		sheet.Timeline = player.NewTimeline(score)
	}
	return sheet
}

// ReadSafely is like Read, but turns a panic into the sheet's Err, so that whoever dances the
// sheet as it was before can go on.
func (s Shelf) ReadSafely(d Document) (sheet Sheet) {
	defer func() {
		if p := recover(); p != nil {
			sheet = Sheet{Document: d, Err: fmt.Errorf("this program failed: %v", p)}
		}
	}()
	return s.Read(d)
}
