package settings

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/routine"
)

// Values are the settings as they are.
type Values struct {
	Document sheets.Document   // the file, to show where findings are
	Findings []routine.Finding // all that is wrong in the file
	Wrong    error             // in the environment
	set      map[string]Value
}

// Value is what a setting is.
type Value struct {
	Text string // "" if nobody set it
	From string // who did: a variable, or a line of the file
}

// Of returns a setting's value.
func (v *Values) Of(name string) Value { return v.set[name] }

// Is reports whether a setting was set to a value.
func (v *Values) Is(name, value string) bool { return v.set[name].Text == value }

// Read returns the settings. It never fails: an error is of a file that can't be read.
func Read() (*Values, error) {
	v := &Values{set: map[string]Value{}}
	text, err := text()
	if err != nil {
		err = fmt.Errorf("read the settings: %w", err)
	}
	v.Document = sheets.Document{Name: File(), Path: File(), Text: text}
	if _, none := os.Stat(File()); none != nil {
		v.Document.Path = ""
	}
	v.readFile()
	if paper, variable := paperOfLocale(); paper != "" && v.set["paper"] == (Value{}) {
		v.set["paper"] = Value{paper, variable}
	}
	v.readEnvironment()
	return v, err
}

// readEnvironment reads the variables.
func (v *Values) readEnvironment() {
	var known []string
	for _, s := range All() {
		known = append(known, s.Variable())
		text, given := os.LookupEnv(s.Variable())
		if !given || text == "" {
			continue
		}
		if s.Folder() && !strings.HasPrefix(text, "~") {
			text, _ = filepath.Abs(text) // fails where there is no folder, and then stays as it is
		}
		value, err := s.Read(text)
		if err != nil {
			v.Wrong = errors.Join(v.Wrong, fmt.Errorf("%s: %q can't be used; %w", s.Variable(), text, err))
			continue
		}
		v.set[s.Name] = Value{value, s.Variable()}
	}
	for _, entry := range os.Environ() {
		name, text, _ := strings.Cut(entry, "=")
		if text != "" && strings.HasPrefix(name, prefix) && !slices.Contains(known, name) {
			v.Wrong = errors.Join(v.Wrong, fmt.Errorf("%s: there is no such setting%s", name, perhaps(name, known)))
		}
	}
}

// perhaps suggests names.
func perhaps(name string, known []string) string {
	if near := routine.Nearest(name, known); len(near) > 0 {
		return "; perhaps " + strings.Join(near, ", ")
	}
	return ""
}

// readFile reads the file, a setting on each line.
func (v *Values) readFile() {
	first := map[string]routine.Span{}
	offset := 0
	for i, line := range strings.Split(string(v.Document.Text), "\n") {
		at := func(from, to int) routine.Span {
			pos := func(b int) routine.Pos {
				return routine.Pos{Offset: offset + b, Line: i + 1, Column: utf8.RuneCountInString(line[:b]) + 1}
			}
			return routine.Span{Start: pos(from), End: pos(to)}
		}
		v.readLine(line, at, first)
		offset += len(line) + 1
	}
}

// readLine reads one line. At returns the place of some of its bytes, and first has where each setting is.
func (v *Values) readLine(line string, at func(from, to int) routine.Span, first map[string]routine.Span) {
	find := func(span routine.Span, message, hint string, related ...routine.Related) {
		v.Findings = append(v.Findings, routine.Finding{Severity: routine.Error, Span: span, Message: message, Hint: hint, Related: related})
	}
	content := strings.TrimSpace(line)
	if content == "" || content[0] == '#' {
		return
	}
	from := strings.Index(line, content)
	name, value, ok := strings.Cut(content, ":")
	if !ok {
		find(at(from, from+len(content)), "this is no setting", "write a name, a colon and a value; # begins a remark")
		return
	}
	name = strings.TrimSpace(name)
	span := at(from, from+len(name))
	s, ok := Named(name)
	if !ok {
		hint := "slowquick settings lists all of them"
		if near := routine.Nearest(name, Names()); len(near) > 0 {
			hint = "perhaps " + strings.Join(near, ", ")
		}
		find(span, fmt.Sprintf("there is no setting %q", name), hint)
		return
	}
	earlier, again := first[s.Name]
	if again {
		find(span, s.Name+" is set twice", "", routine.Related{Span: earlier, Message: "first set here"})
	} else {
		first[s.Name] = span
	}
	text, err := s.Read(value)
	if err != nil {
		value = strings.TrimSpace(value)
		end := from + len(content)
		find(at(end-len(value), end), fmt.Sprintf("%s can't be %q", s.Name, value), err.Error())
	}
	if again || err != nil {
		return
	}
	v.set[s.Name] = Value{text, v.line(span.Start.Line)}
}

// Levels returns how loud each layer is, from 0 to 1. The steps of a partner who isn't shown are silent.
func (v *Values) Levels(shown [2]bool) audio.Levels {
	l := player.DefaultLevels([2]bool{true, true})
	for _, level := range levels {
		if value := v.set[level.name].Text; value != "" {
			l[level.layer] = ofPercent(value)
		}
	}
	for p, layer := range player.StepLayers {
		if !shown[p] {
			l[layer] = 0
		}
	}
	return l
}

// line says where a line of the file is.
func (v *Values) line(n int) string {
	if v.Document.Path == "" {
		return "kept earlier"
	}
	return fmt.Sprintf("%s, line %d", filepath.Base(v.Document.Path), n)
}
