// Package library holds dances, their figures and example sheets, and looks
// them up by any of their names.
//
// A dance is a chapter, <dance>.md: a sheet whose front matter tells what the
// dance is and whose sections are its figures. Chapters are read when they are
// first asked for.
package library

import (
	"cmp"
	"embed"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"dance.example/slowquick/routine"
)

//go:embed *.md sheets/*.md
var shipped embed.FS

// Library is a set of chapters and example sheets. It is safe for use by
// several goroutines.
type Library struct {
	files fs.FS

	mu       sync.Mutex
	chapters map[string]*Chapter // by file name
}

// Chapter is a dance and its figures, in the order in which they are taught.
type Chapter struct {
	File     string
	Dance    *routine.Dance
	Figures  []*routine.Figure
	Findings []routine.Finding

	byName map[string]*routine.Figure
}

// Open gives the library that the program ships.
func Open() *Library { return New(shipped) }

// New gives the library in files: chapters *.md at the top, example sheets in
// the folder sheets.
func New(files fs.FS) *Library {
	return &Library{files: files, chapters: map[string]*Chapter{}}
}

// danceOf is the name of the dance that a chapter's file is named for.
func danceOf(file string) string {
	name := strings.TrimSuffix(path.Base(file), ".md")
	if name == "cha-cha" {
		return name
	}
	return strings.ReplaceAll(name, "-", " ")
}

func (l *Library) chapterFiles() []string {
	files, _ := fs.Glob(l.files, "*.md") // the pattern is well formed
	return files
}

// Dances names every dance, in alphabetical order.
func (l *Library) Dances() []string {
	var names []string
	for _, file := range l.chapterFiles() {
		names = append(names, danceOf(file))
	}
	return names
}

// Chapter finds a dance by any of its names. A chapter that can't be read is not found.
func (l *Library) Chapter(dance string) (*Chapter, bool) {
	key := routine.Key(dance)
	files := l.chapterFiles()
	// The file's name mostly tells, so that only one chapter has to be read.
	slices.SortStableFunc(files, func(a, b string) int {
		return cmp.Compare(named(b, key), named(a, key))
	})
	for _, file := range files {
		c, err := l.read(file)
		if err != nil {
			continue
		}
		for _, name := range append([]string{c.Dance.Name, danceOf(file)}, c.Dance.Aliases...) {
			if routine.Key(name) == key {
				return c, true
			}
		}
	}
	return nil, false
}

func named(file, key string) int {
	if routine.Key(danceOf(file)) == key {
		return 1
	}
	return 0
}

func (l *Library) read(file string) (*Chapter, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if c, ok := l.chapters[file]; ok {
		return c, nil
	}
	text, err := fs.ReadFile(l.files, file)
	if err != nil {
		return nil, fmt.Errorf("read chapter: %w", err)
	}
	sheet, found := routine.ReadChapter(file, text)
	c := &Chapter{File: file, Dance: sheet.Dance, Figures: sheet.Figures, Findings: found, byName: map[string]*routine.Figure{}}
	for _, fig := range c.Figures {
		for _, name := range fig.Names() {
			if key := routine.Key(name); c.byName[key] == nil {
				c.byName[key] = fig
			}
		}
	}
	l.chapters[file] = c
	return c, nil
}

// Dance finds a dance by any of its names.
func (l *Library) Dance(name string) (*routine.Dance, bool) {
	c, ok := l.Chapter(name)
	if !ok {
		return nil, false
	}
	return c.Dance, true
}

// Figure finds a figure of a dance by any of its names.
func (l *Library) Figure(d *routine.Dance, name string) (*routine.Figure, bool) {
	c, ok := l.Chapter(d.Name)
	if !ok {
		return nil, false
	}
	fig, ok := c.byName[routine.Key(name)]
	return fig, ok
}

// Figures names the figures of a dance, in the order in which they are taught.
func (l *Library) Figures(d *routine.Dance) []string {
	c, ok := l.Chapter(d.Name)
	if !ok {
		return nil
	}
	var names []string
	for _, fig := range c.Figures {
		names = append(names, fig.Name)
	}
	return names
}

// Sheets names the example sheets.
func (l *Library) Sheets() []string {
	files, _ := fs.Glob(l.files, "sheets/*.md") // the pattern is well formed
	for i, file := range files {
		files[i] = strings.TrimSuffix(path.Base(file), ".md")
	}
	return files
}

// Sheet is the text of an example sheet, by the name that Sheets gives.
func (l *Library) Sheet(name string) ([]byte, error) {
	text, err := fs.ReadFile(l.files, path.Join("sheets", path.Base(name)+".md"))
	if err != nil {
		return nil, fmt.Errorf("read example sheet: %w", err)
	}
	return text, nil
}
