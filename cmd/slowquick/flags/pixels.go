package flags

import (
	"fmt"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"github.com/spf13/cobra"
)

// Pixels is how large a picture of pixels is.
type Pixels struct{ Width int }

// mostWide is the most that a picture is wide, in pixels.
const mostWide = 20000

// Flag adds the flag.
func (p *Pixels) Flag(cmd *cobra.Command) {
	cmd.Flags().IntVar(&p.Width, "width", 0, "how many `PIXELS` wide a PNG is; if not given, 300 to the inch of its paper")
}

// Check reports a width that a format can't have.
func (p *Pixels) Check(f Format) error {
	switch {
	case p.Width < 0 || p.Width > mostWide:
		return outcome.Usage(fmt.Errorf("--width: %d; use 1 to %d", p.Width, mostWide))
	case p.Width > 0 && !f.Pixels:
		return outcome.Usage(fmt.Errorf("--width is not for %s, which has no pixels", f.Name))
	}
	return nil
}
