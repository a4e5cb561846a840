package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/natefinch/atomic"
	"github.com/spf13/cobra"

	"dance.example/slowquick/routine"
)

func (a *app) tidy() *cobra.Command {
	show, only := false, false
	cmd := &cobra.Command{
		Use:   "tidy SHEET…",
		Short: "Write sheets in their one form",
		Long: `Tidy aligns the charts of sheets and writes counts, steps, positions and the
order in their full form. Prose and comments stay, and what is danced never
changes. Files are changed in place, whole or not at all; a sheet that can't be
read stays as it is. The names of changed files are printed.`,
		Example:           "  slowquick tidy lantern-night.md\n  slowquick tidy - < notes.md > lantern-night.md",
		Args:              sheetArgs(0),
		ValidArgsFunction: a.completeSheets,
		RunE: func(_ *cobra.Command, args []string) error {
			docs, err := a.openAll(args)
			untidy := false
			for _, d := range docs {
				text, found := routine.Tidy(d.name, d.text, a.library)
				if routine.HasErrors(found) {
					a.printFindings(a.err, d, found)
					fmt.Fprintf(a.err, "slowquick: hint: %s stays as it is until that is mended\n", harmless(d.name))
					untidy = true
					continue
				}
				same := bytes.Equal(text, d.text)
				switch {
				case only:
					if !same {
						fmt.Fprintln(a.out, harmless(d.name))
						untidy = true
					}
				case show || d.path == "":
					if _, err := a.out.Write(text); err != nil {
						return failed(fmt.Errorf("print: %w", err), "")
					}
				case !same:
					if err := writeWhole(d.path, func(w io.Writer) error { _, err := w.Write(text); return err }); err != nil {
						return failed(err, "the file is as it was")
					}
					fmt.Fprintln(a.out, harmless(d.name))
				}
			}
			switch {
			case err != nil:
				return err
			case untidy:
				return withFindings()
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&show, "print", false, "print the tidy sheets instead of changing files")
	cmd.Flags().BoolVar(&only, "list", false, "name the sheets that are not tidy and change nothing; exit code 1 if there are any")
	return cmd
}

// writeWhole writes a file through write, whole or not at all. A link is
// followed, so that the file it names is written.
func writeWhole(path string, write func(io.Writer) error) error {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target
	}
	_, before := os.Stat(path)
	r, w := io.Pipe()
	go func() { w.CloseWithError(write(w)) }()
	err := atomic.WriteFile(path, r)
	if err == nil && before != nil {
		err = shareAsUsual(path)
	}
	if err != nil {
		r.CloseWithError(err) // ends a writer that still writes
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}

// shareAsUsual lets those read a new file who may read any that is made beside
// it: it was made for its owner alone.
func shareAsUsual(path string) error {
	usual, err := os.OpenFile(path+".usual", os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if err != nil {
		return nil // it stays its owner's
	}
	defer os.Remove(usual.Name())
	defer usual.Close()
	info, err := usual.Stat()
	if err != nil {
		return err
	}
	return os.Chmod(path, info.Mode())
}
