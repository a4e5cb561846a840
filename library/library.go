// Package library holds dances, their figures and example sheets, and finds dances
// and figures by any of their names.
//
// A dance is a chapter, <dance>.md: a sheet whose front matter describes the dance
// and whose sections are its figures. Chapters are read when they are first needed.
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

// Library is a set of chapters and example sheets. It is safe for concurrent use.
type Library struct {
	files  fs.FS
	folder fs.FS // the dancer's own sheets; nil for none

	readOwn sync.Once
	own     []Own

	listing   sync.Once
	fileByKey map[string]string // of chapters

	mu       sync.Mutex
	chapters map[string]func() *Chapter // by file; a dancer's own are under own/
	dances   map[string]*routine.Dance  // by file; of the library's own chapters
}

// Chapter is a dance and its figures, in the order in which they are taught.
type Chapter struct {
	File     string
	Dance    *routine.Dance
	Figures  []*routine.Figure
	Findings []routine.Finding
	Origins  map[*routine.Figure]Origin // of the dancer's own figures

	byName map[string]*routine.Figure
}

// Open returns the library that ships with the program.
func Open() *Library { return New(shipped) }

// New returns the library in files: chapters *.md at the top, example sheets in the folder
// sheets.
func New(files fs.FS) *Library {
	return &Library{files: files, chapters: map[string]func() *Chapter{}, dances: map[string]*routine.Dance{}}
}

// danceOf returns the name of the dance after which a chapter's file is named.
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

// Dances returns the names of all dances, in alphabetical order.
func (l *Library) Dances() []string {
	var names []string
	for _, file := range l.chapterFiles() {
		names = append(names, danceOf(file))
	}
	for _, o := range l.Own() {
		same := func(name string) bool { return routine.Key(name) == routine.Key(o.Dance.Name) }
		if o.defines && !slices.ContainsFunc(names, same) {
			names = append(names, o.Dance.Name)
		}
	}
	slices.SortFunc(names, func(a, b string) int { return cmp.Compare(routine.Key(a), routine.Key(b)) })
	return names
}

// AllDances returns all dances, in the order of Dances. It reads only the front matter of chapters, so
// that it is much faster than reading their figures.
func (l *Library) AllDances() (all []*routine.Dance) {
	for _, name := range l.Dances() {
		if d := l.danceNamed(name); d != nil {
			all = append(all, d)
		}
	}
	return all
}

// danceNamed returns the dance that has this name in Dances; nil if it can't be read. Of its chapter it reads
// only the front matter.
func (l *Library) danceNamed(name string) *routine.Dance {
	key := routine.Key(name)
	if o := l.defining(key); o != nil {
		return o.Dance
	}
	if file, ok := l.fileOf(key); ok {
		return l.danceIn(file)
	}
	return nil
}

// Chapter finds a dance's chapter by any of its names. One that can't be read is not found.
func (l *Library) Chapter(dance string) (*Chapter, bool) {
	key := routine.Key(dance)
	if o := l.defining(key); o != nil {
		return l.chapter("own/"+o.File, func() *Chapter { return &Chapter{File: o.File, Dance: o.Dance} }), true
	}
	// The file name usually suffices, so that only one chapter has to be read.
	if file, ok := l.fileOf(key); ok {
		if c := l.chapterIn(file); c != nil {
			return c, true
		}
	}
	for _, file := range l.chapterFiles() {
		if d := l.danceIn(file); d != nil && isNamed(d, key) {
			c := l.chapterIn(file)
			return c, c != nil
		}
	}
	return nil, false
}

// Chapters returns all chapters, in the order of Dances, but for those that can't be read. It reads them at the
// same time.
func (l *Library) Chapters() (all []*Chapter) {
	names := l.Dances()
	for _, name := range names {
		go func() {
			defer func() { _ = recover() }() // a panic comes again below, where the caller can handle it
			l.Chapter(name)
		}()
	}
	for _, name := range names {
		if c, ok := l.Chapter(name); ok {
			all = append(all, c)
		}
	}
	return all
}

// defining returns the own sheet that defines the dance one of whose names has a key; nil if none does.
func (l *Library) defining(key string) *Own {
	for i := range l.Own() {
		if o := &l.own[i]; o.defines && isNamed(o.Dance, key) {
			return o
		}
	}
	return nil
}

// danceIn returns the dance of the chapter in a file of the library; nil if it can't be read. The
// chapter's Dance is the same pointer.
func (l *Library) danceIn(file string) *routine.Dance {
	l.mu.Lock()
	defer l.mu.Unlock()
	d, ok := l.dances[file]
	if !ok {
		if text, err := fs.ReadFile(l.files, file); err == nil {
			d = routine.ReadDance(file, text)
		}
		l.dances[file] = d
	}
	return d
}

// chapterIn returns the chapter in a file of the library; nil if it can't be read.
func (l *Library) chapterIn(file string) *Chapter {
	return l.chapter(file, func() *Chapter { return l.read(file) })
}

// isNamed reports whether any of a dance's names has a key (see [routine.Key]).
func isNamed(d *routine.Dance, key string) bool {
	return slices.ContainsFunc(append([]string{d.Name}, d.Aliases...), func(name string) bool { return routine.Key(name) == key })
}

// fileOf returns the chapter file named after the dance whose name has a key.
func (l *Library) fileOf(key string) (file string, ok bool) {
	l.listing.Do(func() {
		l.fileByKey = map[string]string{}
		for _, file := range l.chapterFiles() {
			l.fileByKey[routine.Key(danceOf(file))] = file
		}
	})
	file, ok = l.fileByKey[key]
	return file, ok
}

// chapter returns the chapter kept under place, with the figures that own sheets add. The
// first time, it calls read; it returns nil if that does.
func (l *Library) chapter(place string, read func() *Chapter) *Chapter {
	l.mu.Lock()
	kept, ok := l.chapters[place]
	if !ok {
		kept = sync.OnceValue(func() *Chapter {
			c := read()
			if c != nil {
				l.complete(c)
			}
			return c
		})
		l.chapters[place] = kept
	}
	l.mu.Unlock()
	return kept() // other chapters may be read meanwhile
}

// complete adds to a chapter the figures of own sheets, and the names of all its figures.
func (l *Library) complete(c *Chapter) {
	c.Origins, c.byName = map[*routine.Figure]Origin{}, map[string]*routine.Figure{}
	own := l.Own()
	for i := range own {
		if o := &own[i]; o.Dance == c.Dance {
			hidden, _ := l.fileOf(routine.Key(c.Dance.Name))
			c.merge(o, hidden)
		} else if o.Dance != nil && !o.defines && routine.Key(o.Dance.Name) == routine.Key(c.Dance.Name) {
			c.merge(o, "")
		}
	}
	c.index()
}

// index fills byName. Names take precedence over aliases, and within each, the dancer's own
// figures over the library's.
func (c *Chapter) index() {
	var own, theirs []*routine.Figure
	for _, fig := range c.Figures {
		if _, ok := c.Origins[fig]; ok {
			own = append(own, fig)
		} else {
			theirs = append(theirs, fig)
		}
	}
	figs := append(own, theirs...)
	add := func(name string, fig *routine.Figure) {
		if key := routine.Key(name); c.byName[key] == nil {
			c.byName[key] = fig
		}
	}
	for _, fig := range figs {
		add(fig.Name, fig)
	}
	for _, fig := range figs {
		for _, alias := range fig.Aliases {
			add(alias, fig)
		}
	}
	for _, fig := range figs {
		for _, part := range fig.Parts {
			if part.Name != "" {
				add(part.Name, fig)
			}
		}
	}
}

// read reads the chapter in a file of the library; nil if it can't be read.
func (l *Library) read(file string) *Chapter {
	text, err := fs.ReadFile(l.files, file)
	if err != nil {
		return nil
	}
	sheet, found := routine.ReadChapter(file, text)
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.dances[file] == nil {
		l.dances[file] = sheet.Dance
	}
	return &Chapter{File: file, Dance: l.dances[file], Figures: sheet.Figures, Findings: found}
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

// Named finds figures by any of their names; ok is false unless the chapter has them all.
func (c *Chapter) Named(names ...string) (figs []*routine.Figure, ok bool) {
	for _, name := range names {
		if fig, ok := c.byName[routine.Key(name)]; ok {
			figs = append(figs, fig)
		}
	}
	return figs, len(figs) == len(names)
}

// Figures returns the names of a dance's figures, in the order in which they are taught.
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

// Sheets returns the names of the example sheets.
func (l *Library) Sheets() []string {
	files, _ := fs.Glob(l.files, "sheets/*.md") // the pattern is well formed
	for i, file := range files {
		files[i] = strings.TrimSuffix(path.Base(file), ".md")
	}
	return files
}

// Sheet returns the text of an example sheet, by its name in Sheets.
func (l *Library) Sheet(name string) ([]byte, error) {
	text, err := fs.ReadFile(l.files, path.Join("sheets", path.Base(name)+".md"))
	if err != nil {
		return nil, fmt.Errorf("read example sheet: %w", err)
	}
	return text, nil
}

// With returns the library together with the sheets *.md in a folder. A figure replaces
// the library's figure of the same name, and a chapter the library's whole chapter of that
// dance. The folder is read on the first use of the library.
func (l *Library) With(folder fs.FS) *Library {
	with := New(l.files)
	with.folder = folder
	return with
}

// Own returns the dancer's own sheets, in the order of their file names.
func (l *Library) Own() []Own {
	l.readOwn.Do(func() {
		if l.folder == nil {
			return
		}
		shipped := New(l.files)
		files, _ := fs.Glob(l.folder, "*.md") // the pattern is well formed
		for i, file := range files {
			if i == mostOwn {
				l.own = append(l.own, Own{File: file, Err: fmt.Errorf("read %s: the folder has %d sheets, and only the first %d are read", file, len(files), mostOwn)})
				break
			}
			l.own = append(l.own, readOwn(l.folder, file, shipped).beside(l.own))
		}
	})
	return l.own
}

// mostOwn is the largest number of own sheets that are read.
const mostOwn = 500

// merge adds own figures to the chapter. They replace figures of the same name; the others
// go to the end. Instead is the file of the chapter that c itself replaces, or "".
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
