package settings

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"dance.example/slowquick/player/store"
)

// File returns the path of the file, or "" if the system has no folder for settings.
func File() string {
	if kept := store.File("settings"); kept != "" {
		return strings.TrimSuffix(kept, ".json") + ".txt"
	}
	return ""
}

// largest is the most bytes that a file can have.
const largest = 1 << 16

// text returns what is in the file. Before the first, it is what was kept elsewhere until then.
func text() ([]byte, error) {
	path := File()
	if path == "" {
		return nil, nil
	}
	text, err := store.ReadFile(path, largest+1)
	if errors.Is(err, fs.ErrNotExist) {
		return keptBefore()
	}
	if err == nil && len(text) > largest {
		err = fmt.Errorf("%s is larger than %d bytes", path, largest)
	}
	if err != nil {
		return nil, err
	}
	return text, nil
}

// keptBefore returns the settings that were kept in other files before there was this one.
func keptBefore() ([]byte, error) {
	kept, wrong := store.Read[float64]("levels")
	chosen, wrongToo := store.Read[float64]("choices")
	values := map[string]string{}
	for key, level := range kept {
		values[key+"-level"] = inPercent(float32(min(max(level, 0), 1)))
	}
	if aloud, ok := chosen["names aloud"]; ok && aloud != 0 {
		values[Call] = yes
	}
	if minutes, ok := chosen["pause after"]; ok {
		values[PauseAfter] = fmt.Sprint(minutes)
	}
	for name, value := range values {
		if s, ok := Named(name); ok {
			if _, err := s.Read(value); err != nil {
				delete(values, name)
			}
		}
	}
	return edited(nil, values), errors.Join(wrong, wrongToo)
}

// edited returns the text of a file with some settings changed: where each stood first, or at the end.
func edited(text []byte, values map[string]string) []byte {
	var lines []string
	done := map[string]bool{}
	for _, line := range strings.SplitAfter(string(text), "\n") {
		name, _, _ := strings.Cut(strings.TrimSpace(line), ":")
		s, known := Named(name)
		value, changes := values[s.Name]
		if !known || !changes || strings.HasPrefix(name, "#") {
			lines = append(lines, line)
			continue
		}
		if value != "" && !done[s.Name] {
			ending := line[len(strings.TrimRight(line, "\r\n")):]
			lines = append(lines, s.Name+": "+value+ending)
		}
		done[s.Name] = true
	}
	out := strings.Join(lines, "")
	for _, name := range Names() {
		if value := values[name]; value != "" && !done[name] {
			if out != "" && !strings.HasSuffix(out, "\n") {
				out += "\n"
			}
			out += name + ": " + value + "\n"
		}
	}
	return []byte(out)
}
