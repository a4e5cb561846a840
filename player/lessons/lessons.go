// Package lessons keeps what a class has had: which figures, and when. It keeps no names
// of people, and reads no sheets.
//
// A class is a text file that can be edited, with a line for each figure of a lesson:
//
//	2026-09-04 Rumba: Fan
//
// Empty lines, and lines that begin with #, are skipped. Begin with [Read].
package lessons

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
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/adrg/xdg"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// Had is one figure of one lesson.
type Had struct {
	On     time.Time // the day, in UTC
	Dance  string
	Figure string
}

// Known is a figure that a class has had, with all its lessons.
type Known struct {
	Dance  string
	Figure string
	Times  int
	First  time.Time // the first lesson with it
	Last   time.Time
	memory practice.Memory
}

// Due returns the day on which to revise it: when one in ten is likely to have forgotten it, by
// [practice.Memory]. Each lesson with it counts as a day on which it went well.
func (k Known) Due() practice.Day { return k.memory.Due() }

// largest is how many bytes of a class's file are read: about ten thousand lines.
const largest = 1 << 20

// Folder returns where classes are kept.
func Folder() string { return filepath.Join(xdg.DataHome, "slowquick", "classes") }

// Path returns the file of a class. Names that differ only in case, punctuation or blanks share one.
func Path(name string) (string, error) {
	var words []string
	for _, word := range strings.FieldsFunc(name, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsNumber(r) }) {
		words = append(words, strings.ToLower(word))
	}
	file := strings.Join(words, "-")
	if file == "" || len(file) > 100 {
		return "", fmt.Errorf("%q can't be the name of a class; use letters and digits", name)
	}
	return filepath.Join(Folder(), file+".txt"), nil
}

// Names returns the names of all classes, sorted.
func Names() (list []string, err error) {
	entries, err := os.ReadDir(Folder())
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), ".txt"); ok {
			list = append(list, name)
		}
	}
	return list, err
}

// Read returns what a class has had. If there is no such class, the error is [fs.ErrNotExist].
func Read(name string) ([]Had, error) {
	path, err := Path(name)
	if err != nil {
		return nil, err
	}
	text, err := store.ReadFile(path, largest+1)
	if err != nil {
		return nil, fmt.Errorf("read the class: %w", err)
	}
	return Parse(path, text)
}

// Parse reads the text of a class's file. The error names each line that can't be read, with its column.
func Parse(path string, text []byte) (list []Had, err error) {
	if len(text) > largest {
		return nil, fmt.Errorf("%s is larger than %d bytes", path, largest)
	}
	var wrong []error
	n := 0
	for line := range strings.Lines(strings.TrimPrefix(string(text), "\ufeff")) {
		n++
		line = strings.TrimRight(line, "\r\n\t ")
		if trimmed := strings.TrimSpace(line); trimmed == "" || trimmed[0] == '#' {
			continue
		}
		h, column, why := parseLine(line)
		if why != "" {
			wrong = append(wrong, fmt.Errorf("%s:%d:%d: %s", path, n, column, why))
			continue
		}
		list = append(list, h)
	}
	return list, errors.Join(wrong...)
}

// parseLine reads a line; why says what is wrong with it, at a column from 1.
func parseLine(line string) (h Had, column int, why string) {
	date, rest, _ := strings.Cut(strings.TrimLeft(line, " \t"), " ")
	column = 1 + utf8.RuneCountInString(line) - utf8.RuneCountInString(strings.TrimLeft(line, " \t"))
	on, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return h, column, fmt.Sprintf("%q is not a date; write it as 2026-09-04", date)
	}
	column += len(date) + 1 // a date is ASCII
	dance, figure, ok := strings.Cut(rest, ":")
	if !ok {
		return h, column, "no colon follows the dance; write 2026-09-04 Rumba: Fan"
	}
	if strings.TrimSpace(dance) == "" {
		return h, column, "no dance is named before the colon"
	}
	if strings.TrimSpace(figure) == "" {
		return h, column + utf8.RuneCountInString(dance) + 1, "no figure is named after the colon"
	}
	return Had{on, strings.TrimSpace(dance), strings.TrimSpace(figure)}, 0, ""
}

// Lesson returns the figures of a score as a lesson on a day, except those that list already has on
// that day.
func Lesson(list []Had, s *routine.Score, on time.Time) (lesson []Had) {
	for i := range s.Items {
		h := Had{time.Date(on.Year(), on.Month(), on.Day(), 0, 0, 0, 0, time.UTC), routine.Plain(s.Dance.Name), routine.Plain(s.Items[i].Figure.Name)}
		if !slices.ContainsFunc(list, h.is) && !slices.ContainsFunc(lesson, h.is) {
			lesson = append(lesson, h)
		}
	}
	return lesson
}

func (h Had) is(o Had) bool { return h.On.Equal(o.On) && h.same(o.Dance, o.Figure) }

func (h Had) same(dance, figure string) bool {
	return routine.Key(h.Dance) == routine.Key(dance) && routine.Key(h.Figure) == routine.Key(figure)
}

// Keep adds a lesson to a class, or begins the class with it. The file is written whole or not at all,
// and its earlier lines stay as they are.
func Keep(name string, lesson []Had) error {
	path, err := Path(name)
	if err != nil {
		return err
	}
	text, err := store.ReadFile(path, largest+1)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		text = []byte("# What this class has had: date, dance and figure.\n")
	case err != nil:
		return fmt.Errorf("read the class: %w", err)
	case len(text) > 0 && text[len(text)-1] != '\n':
		text = append(text, '\n')
	}
	for _, h := range lesson {
		text = fmt.Appendf(text, "%s %s: %s\n", h.On.Format(time.DateOnly), h.Dance, h.Figure)
	}
	if len(text) > largest {
		return fmt.Errorf("keep the class: %s would be larger than %d bytes", path, largest)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("keep the class: %w", err)
	}
	if err := store.WriteOwn(path, func(w io.Writer) error { _, err := w.Write(text); return err }); err != nil {
		return fmt.Errorf("keep the class: %w", err)
	}
	return nil
}

// Knows returns what a class knows after its lessons; what to revise soonest comes first.
func Knows(list []Had) (known []Known) {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b Had) int { return a.On.Compare(b.On) })
	for _, h := range list {
		i := slices.IndexFunc(known, func(k Known) bool { return h.same(k.Dance, k.Figure) })
		if i < 0 {
			i, known = len(known), append(known, Known{Dance: h.Dance, Figure: h.Figure, First: h.On})
		}
		k := &known[i]
		if k.Times > 0 && k.Last.Equal(h.On) {
			continue
		}
		k.Times, k.Last, k.memory = k.Times+1, h.On, k.memory.After(practice.DayOf(h.On), practice.Clean)
	}
	slices.SortStableFunc(known, func(a, b Known) int { return cmp.Compare(a.Due(), b.Due()) })
	return known
}

// Days returns the number of days on which a class had a lesson.
func Days(list []Had) int {
	days := map[time.Time]bool{}
	for _, h := range list {
		days[h.On] = true
	}
	return len(days)
}
