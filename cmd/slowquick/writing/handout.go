package writing

import (
	"cmp"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/folders"
)

func (d desk) writeHandout() *cobra.Command {
	var to flags.Target
	var how flags.Handed
	large, title := false, ""
	cmd := &cobra.Command{
		Use:   "handout SHEET|FOLDER -o FILE",
		Short: "Write a routine with charts and plans, to read or print",
		Long: `Handout writes a page for browsers (.html), pages to print (.pdf), a sheet that includes
its figures (.md), or plain text (.txt). From a folder of sheets it makes a class book: a cover with the
contents, the routines with each figure once, and an index of the figures.`,
		Example:           "  slowquick write handout lantern-night.md -o lantern-night.html --partner follower\n  slowquick write handout sheets -o book.pdf --paper letter --title 'Lantern Night'",
		Args:              arguments.Sheets(1),
		ValidArgsFunction: d.CompleteSheets,
		RunE: func(_ *cobra.Command, args []string) error {
			format, err := to.Format(d.AtTerminal())
			if err != nil {
				return err
			}
			list, err := d.Danceables(args[0])
			if err != nil {
				return err
			}
			sheets := make([]handout.Sheet, len(list))
			for i, c := range list {
				o, err := how.Options(c.Timeline)
				if err != nil {
					return err
				}
				o.Large = large
				sheets[i] = handout.Sheet{Text: c.Text, Line: c.Timeline, Options: o}
			}
			f, err := handoutWriter(format, to.Path, cmp.Or(title, folders.BookTitle(args[0])), sheets)
			if err != nil {
				return err
			}
			return d.WriteTo(to.Path, to.Force, f)
		},
	}
	to.Flags(cmd, flags.Text("HTML", ".html", ".htm"), flags.Text("Markdown", ".md"), flags.Text("plain text", ".txt"), flags.Binary("PDF", ".pdf"))
	how.Flags(cmd)
	how.PaperFlag(cmd)
	cmd.Flags().StringVar(&title, "title", "", "the `TITLE` of a class book; if not given, the folder's name")
	cmd.Flags().BoolVar(&large, "large", false, "use large print (.html, .pdf)")
	return cmd
}

// handoutWriter returns a function that writes sheets in a format. Name is that of the file.
func handoutWriter(f flags.Format, name, title string, sheets []handout.Sheet) (func(io.Writer) error, error) {
	switch f.Name {
	case "plain text":
		return func(w io.Writer) error { return handout.Text(w, sheets...) }, nil
	case "Markdown":
		if len(sheets) > 1 {
			return nil, outcome.Usage(fmt.Errorf("%s: a sheet holds one routine; write the class book as .html, .pdf or .txt", name))
		}
		return func(w io.Writer) error { return handout.Markdown(w, sheets[0]) }, nil
	case "PDF":
		return func(w io.Writer) error { return handout.PDF(w, title, sheets...) }, nil
	}
	return func(w io.Writer) error { return handout.HTML(w, title, sheets...) }, nil
}
