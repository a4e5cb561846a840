package flags

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"github.com/spf13/cobra"
)

// Target is where a command writes, and the formats it can write.
type Target struct {
	Path    string
	Force   bool
	Formats []Format // the first is for standard output and for names without an ending
	format  string   // its ending, without the dot, if another one is
}

// Format is a file format.
type Format struct {
	Name    string
	Endings []string // of file names; the first is the usual one
	Binary  bool     // not for a terminal
	Pixels  bool     // it is a picture of them
}

// Flags adds the flags of a target.
func (t *Target) Flags(cmd *cobra.Command, formats ...Format) {
	t.Formats = formats
	var first, all []string
	for _, f := range formats {
		first = append(first, f.Endings[0])
		for _, ending := range f.Endings {
			all = append(all, strings.TrimPrefix(ending, "."))
		}
	}
	cmd.Use = strings.Replace(cmd.Use, "FILE", "FILE"+strings.Join(first, "|"), 1)
	cmd.Flags().StringVarP(&t.Path, "output", "o", "", fmt.Sprintf("the `FILE` to write, %s; %s if it has no ending or is - for standard output", OrList(first), formats[0].Name))
	if len(all) > 1 {
		cmd.Flags().StringVar(&t.format, "format", "", "the `FORMAT` for standard output or a name without an ending: "+OrList(all))
		_ = cmd.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(all, cobra.ShellCompDirectiveNoFileComp)) // likewise
	}
	cmd.Flags().BoolVar(&t.Force, "force", false, "overwrite an existing file")
	_ = cmd.MarkFlagFilename("output", all...) // fails only for a flag that does not exist
}

// Text returns a format that a terminal can show.
func Text(name string, endings ...string) Format { return Format{Name: name, Endings: endings} }

// Binary returns a format that is not for a terminal.
func Binary(name string, endings ...string) Format {
	return Format{Name: name, Endings: endings, Binary: true}
}

// Pixelled returns a format of pictures.
func Pixelled(name string, endings ...string) Format {
	return Format{Name: name, Endings: endings, Binary: true, Pixels: true}
}

// Format returns the format for the ending of the target's name.
func (t Target) Format(toTerminal bool) (Format, error) {
	ending := strings.ToLower(filepath.Ext(t.Path))
	usual := t.Formats[0]
	if t.format != "" {
		var err error
		if usual, err = t.of("." + strings.ToLower(strings.TrimPrefix(t.format, "."))); err != nil {
			return Format{}, outcome.Usage(fmt.Errorf("--format: %w", err))
		}
	}
	switch {
	case t.Path == "":
		return Format{}, outcome.New(outcome.UsageCode, errors.New("name the file to write: -o FILE"), "-o - writes to standard output, as "+usual.Name)
	case t.Path == "-" && usual.Binary && toTerminal:
		return Format{}, outcome.New(outcome.UsageCode, fmt.Errorf("%s is not for a terminal", usual.Name), "-o FILE"+usual.Endings[0]+" writes a file")
	case t.Path == "-", ending == "":
		return usual, nil
	}
	f, err := t.of(ending)
	if err != nil {
		return Format{}, outcome.Usage(err)
	}
	if t.format != "" && f.Name != usual.Name {
		return Format{}, outcome.Usage(fmt.Errorf("--format is %s, but the file's name ends in %s", usual.Name, ending))
	}
	return f, nil
}

// of returns the format of an ending.
func (t Target) of(ending string) (Format, error) {
	var known []string
	for _, f := range t.Formats {
		if slices.Contains(f.Endings, ending) {
			return f, nil
		}
		known = append(known, f.Endings[0])
	}
	return Format{}, fmt.Errorf("can't write %s; end the file's name in %s", ending, OrList(known))
}
