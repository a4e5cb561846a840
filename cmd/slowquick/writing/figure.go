package writing

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/pages"
	"dance.example/slowquick/player/picture"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Figure writes a figure as a picture.
type Figure struct {
	to      flags.Target
	dancers routine.Dancers
	pixels  flags.Pixels
}

// Flags adds the flags that ask for one.
func (p *Figure) Flags(cmd *cobra.Command) {
	p.to.Flags(cmd, flags.Text("SVG", ".svg"), flags.Binary("PDF", ".pdf"), flags.Pixelled("PNG", ".png"), flags.Pixelled("GIF", ".gif"))
	flags.Partner(cmd, &p.dancers)
	p.pixels.Flag(cmd)
}

// Asked reports whether one is asked for.
func (p *Figure) Asked() bool { return p.to.Path != "" }

// Write writes the only one of some figures of one name.
func (p *Figure) Write(r *arguments.Reader, paths []*floor.Path) error {
	format, err := p.to.Format(r.AtTerminal())
	if err != nil {
		return err
	}
	if err := p.pixels.Check(format); err != nil {
		return err
	}
	path := paths[0]
	name := path.Score.Passages[0].Name()
	if len(paths) > 1 {
		var dances []string
		for _, other := range paths {
			dances = append(dances, other.Score.Dance.Name)
		}
		return outcome.New(outcome.UsageCode, fmt.Errorf("%s is a figure of several dances", name), "--dance says which: "+flags.OrList(dances))
	}
	shown := p.dancers.Each()
	o := drawing.Options{Shown: shown, Up: plan.Behind.Up(path, 0, shown), Widths: []float64{pictureWidth}, Height: drawing.PageHeight}
	return r.WriteTo(p.to.Path, p.to.Force, func(w io.Writer) error {
		if format.Name == "GIF" {
			return moving(w, path, o, p.pixels.Width)
		}
		d := drawing.Stack(drawing.New(path).Figure(0, o))
		switch format.Name {
		case "PDF":
			return pages.Cut(w, name, &d, drawing.PageHeight)
		case "PNG":
			return picture.PNG(w, &d, p.pixels.Width)
		}
		_, err := w.Write(d.Document())
		return err
	})
}

// pictureWidth is how wide a figure is drawn at most, in millimetres.
const pictureWidth = 178

// moving writes a figure as it is danced at its tempo, with a beat before and after it.
func moving(w io.Writer, path *floor.Path, o drawing.Options, width int) error {
	const hundredths = 5 // between two frames: readers show faster ones slowly
	m := drawing.NewMoving(path, o)
	if m == nil {
		return fmt.Errorf("nobody moves in it")
	}
	from, to := m.Ends()
	length := 60 / path.Score.Tempo.Float() // seconds a beat
	begin := from.Float() - 1
	frames := int((to.Float() + 1 - begin) * length * 100 / hundredths)
	return picture.GIF(w, frames, func(i int) drawing.Drawing { return m.At(begin+float64(i)*hundredths/100/length, length) }, hundredths, width)
}
