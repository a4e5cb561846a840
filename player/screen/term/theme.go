package term

import "github.com/charmbracelet/x/ansi"

// Ink is how text is written: the escape sequence that sets the terminal's
// attributes and colours.
type Ink string

// Plain is the terminal's own way to write.
const Plain Ink = ""

func inkOf(attrs ...ansi.Attr) Ink { return Ink(ansi.NewStyle(attrs...).String()) }

// Theme holds the inks of a screen. It uses only the terminal's own attributes
// and 16 colours, and whatever a colour says is also said in words.
type Theme struct {
	Strong   Ink // what counts now
	Heading  Ink
	Faint    Ink // what comes later
	Present  Ink // what is chosen, or danced now, among others like it
	Alarm    Ink
	Partners [2]Ink
}

// NewTheme returns the only theme there is. It suits dark and light terminals:
// of the 16 colours, red and magenta keep their contrast on both.
func NewTheme(color bool) Theme {
	t := Theme{
		Strong:  inkOf(ansi.AttrBold),
		Heading: inkOf(ansi.AttrBold),
		Faint:   inkOf(ansi.AttrFaint),
		Present: inkOf(ansi.AttrBold, ansi.AttrReverse),
		Alarm:   inkOf(ansi.AttrBold),
	}
	t.Partners = [2]Ink{t.Strong, t.Strong}
	if color {
		t.Alarm = inkOf(ansi.AttrBold, ansi.AttrRedForegroundColor)
		t.Partners[1] = inkOf(ansi.AttrBold, ansi.AttrMagentaForegroundColor)
	}
	return t
}
