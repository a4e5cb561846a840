package settings

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// Setting is one line of the table.
type Setting struct {
	Name    string
	Meaning string
	Usual   string // what holds if it isn't set, in words
	Takes   string // what it can be
	// Everywhere tells that it holds for all commands, and not only while you dance.
	Everywhere bool

	words []string                         // that it can be, if it is one of some
	read  func(text string) (string, bool) // a value in its usual form
}

// YesOrNo returns a value of settings that are yes or no.
func YesOrNo(is bool) string {
	if is {
		return yes
	}
	return no
}

// Variable returns the name of the environment variable that sets it.
func (s *Setting) Variable() string {
	return prefix + strings.ToUpper(strings.ReplaceAll(s.Name, "-", "_"))
}

// prefix begins the names of all variables.
const prefix = "SLOWQUICK_"

// Words returns what it can be, if it is one of some words.
func (s *Setting) Words() []string { return s.words }

// Folder reports whether it names a folder.
func (s *Setting) Folder() bool { return s.Takes == aFolder }

// The settings that more is made of than a flag.
const (
	Call       = "call"
	Library    = "library"
	PauseAfter = "pause-after"
	yes, no    = "yes", "no"
)

// Read returns a value in its usual form. The error says what to use.
func (s *Setting) Read(text string) (string, error) {
	if value, ok := s.read(strings.TrimSpace(text)); ok {
		return value, nil
	}
	return "", errors.New("use " + s.Takes)
}

// oneOf is a setting of one of some words, usually the first. An empty word can't be set.
func oneOf(name, meaning string, words []string) Setting {
	offered := slices.DeleteFunc(slices.Clone(words), func(word string) bool { return word == "" })
	return Setting{Name: name, Meaning: meaning, Usual: words[0], Takes: flags.OrList(offered), words: offered, read: func(text string) (string, bool) {
		i := slices.IndexFunc(offered, func(word string) bool { return routine.Key(word) == routine.Key(text) })
		if i < 0 {
			return "", false
		}
		return offered[i], true
	}}
}

// percent is a setting in per cent.
func percent(name, meaning, usual string, least, most float64) Setting {
	takes := fmt.Sprintf("%.0f to %.0f %%", least, most)
	return Setting{Name: name, Meaning: meaning, Usual: usual, Takes: takes, read: func(text string) (string, bool) {
		number, ok := between(without(text, "%"), least, most)
		return number + " %", ok
	}}
}

// bars is the setting of the lead-in.
func bars() Setting {
	takes := fmt.Sprintf("0 to %d bars", player.MostLeadIn)
	return Setting{Name: "lead-in", Meaning: "bars counted in before the dance", Usual: "the sheet's, or 1", Takes: takes, read: func(text string) (string, bool) {
		n, err := strconv.Atoi(without(text, "bars"))
		return strconv.Itoa(n), err == nil && n >= 0 && n <= player.MostLeadIn
	}}
}

// pause is the setting of when a pause is suggested.
func pause() Setting {
	takes := fmt.Sprintf("1 to %.0f minutes, or 0 for never", flags.LongestPause)
	usual := strconv.FormatFloat(flags.UsualPause, 'f', -1, 64)
	return Setting{Name: PauseAfter, Meaning: "minutes of dancing after which a pause is suggested", Usual: usual, Takes: takes, read: func(text string) (string, bool) {
		minutes, ok := between(without(text, "minutes"), 0, flags.LongestPause)
		return minutes, ok && (minutes == "0" || !strings.HasPrefix(minutes, "0."))
	}}
}

// without returns a text without the unit at its end.
func without(text, unit string) string { return strings.TrimSpace(strings.TrimSuffix(text, unit)) }

// between returns a decimal number in its usual form if it is in a range.
func between(text string, least, most float64) (string, bool) {
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || !(n >= least && n <= most) { // NaN isn't either
		return "", false
	}
	return strconv.FormatFloat(n, 'f', -1, 64), true
}

// aFolder is what a setting of a folder takes.
const aFolder = "a whole path, such as ~/dance"

// folder is a setting that names a folder.
func folder(name, meaning, usual string) Setting {
	return Setting{Name: name, Meaning: meaning, Usual: usual, Takes: aFolder, read: func(text string) (string, bool) {
		if rest, ok := strings.CutPrefix(text, "~"); ok && (rest == "" || os.IsPathSeparator(rest[0])) {
			home, err := os.UserHomeDir()
			return filepath.Join(home, rest), err == nil
		}
		return text, filepath.IsAbs(text)
	}}
}

// inPercent returns a level as it is set.
func inPercent(level float32) string { return fmt.Sprintf("%.0f %%", math.Round(100*float64(level))) }

// ofPercent returns what is set as a part of one.
func ofPercent(text string) float32 {
	n, err := strconv.ParseFloat(strings.TrimSuffix(text, " %"), 64)
	if err != nil {
		panic("a level that was read: " + err.Error()) // it was understood
	}
	return float32(n / 100)
}
