package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"github.com/spf13/cobra"
)

// target is where a command writes, and the formats it can write.
type target struct {
	path    string
	force   bool
	formats []format // the first is for standard output and for names without an ending
}

// format is a file format.
type format struct {
	name    string
	endings []string // of file names; the first is the usual one
	binary  bool     // not for a terminal
}

func (t *target) flags(cmd *cobra.Command, formats ...format) {
	t.formats = formats
	var first, all []string
	for _, f := range formats {
		first = append(first, f.endings[0])
		for _, ending := range f.endings {
			all = append(all, strings.TrimPrefix(ending, "."))
		}
	}
	cmd.Use = strings.Replace(cmd.Use, "FILE", "FILE"+strings.Join(first, "|"), 1)
	cmd.Flags().StringVarP(&t.path, "output", "o", "", fmt.Sprintf("the `FILE` to write, %s; %s if it has no ending or is - for standard output", orList(first), formats[0].name))
	cmd.Flags().BoolVar(&t.force, "force", false, "overwrite an existing file")
	_ = cmd.MarkFlagFilename("output", all...) // fails only for a flag that does not exist
}

// orList lists words: "a", "a or b", "a, b or c".
func orList(words []string) string {
	if last := len(words) - 1; last > 0 {
		return strings.Join(words[:last], ", ") + " or " + words[last]
	}
	return strings.Join(words, "")
}

// format returns the format for the ending of the target's name.
func (a *app) format(t target) (format, error) {
	ending := strings.ToLower(filepath.Ext(t.path))
	switch usual := t.formats[0]; {
	case t.path == "":
		return format{}, outcome.New(exitUsage, errors.New("name the file to write: -o FILE"), "-o - writes to standard output, as "+usual.name)
	case t.path == "-" && usual.binary && isTerminal(a.out.raw):
		return format{}, outcome.New(exitUsage, fmt.Errorf("%s is not for a terminal", usual.name), "-o FILE"+usual.endings[0]+" writes a file")
	case t.path == "-", ending == "":
		return usual, nil
	}
	var known []string
	for _, f := range t.formats {
		if slices.Contains(f.endings, ending) {
			return f, nil
		}
		known = append(known, f.endings[0])
	}
	return format{}, outcome.Usage(fmt.Errorf("can't write %s; end the file's name in %s", filepath.Ext(t.path), orList(known)))
}
