// Package terminal finds out what a terminal can show, without keeping anybody waiting.
//
// [Guess] says at once what the environment promises. An [Input] asks the terminal, and
// takes the answers out from between the keys whenever they come; [Answers.Mode] joins both. A terminal that does not answer is shown what was guessed.
package terminal

import (
	"image"
	"image/color"
	"os"
	"strings"

	"github.com/muesli/termenv"

	"dance.example/slowquick/player/screen/raster"
)

// Answers is what a terminal said of itself. Once it has said it, nothing more comes.
type Answers struct {
	Kitty  bool        // it shows images by kitty's protocol
	Sixel  bool        // it shows sixels
	Cell   image.Point // the size of a cell in pixels; zero if not known
	Ground color.RGBA  // the background; without alpha it is not known
}

// Mode returns the best that a terminal shows of which guess was guessed. Without colours
// that is always blocks.
func (a Answers) Mode(guess raster.Mode) raster.Mode {
	m := guess
	m.Cell, m.Ground = a.Cell, a.Ground
	if m.Depth == raster.Mono {
		return m
	}
	switch {
	case a.Kitty:
		m.Raster = raster.Kitty
	case a.Sixel && a.Cell != image.Point{}:
		m.Raster = raster.Sixel
	}
	if m.Raster == raster.Kitty && m.Cell == (image.Point{}) {
		m.Cell = image.Pt(10, 20) // kitty fits an image into its cells
	}
	return m
}

// Guess returns what the environment promises: half blocks in so many colours. It heeds
// NO_COLOR, CLICOLOR_FORCE, COLORTERM and TERM, and COLORFGBG in which some terminals say their
// colours, as in "0;15": the number of the background, of 16, comes last (rxvt's manual, from memory).
func Guess(environ termenv.Environ) raster.Mode {
	o := termenv.NewOutput(nil, termenv.WithTTY(true), termenv.WithEnvironment(environ))
	colors := environ.Getenv("COLORFGBG")
	ground := colors[strings.LastIndexByte(colors, ';')+1:]
	m := raster.Mode{Light: ground == "7" || ground == "15"} // grey or white
	switch o.EnvColorProfile() {
	case termenv.TrueColor:
		m.Depth = raster.True
	case termenv.ANSI256:
		m.Depth = raster.Indexed
	case termenv.ANSI:
		m.Depth = raster.Sixteen
	}
	return m
}

// Environ is the environment of the program.
type Environ struct{}

// Environ returns all variables.
func (Environ) Environ() []string { return os.Environ() }

// Getenv returns a variable.
func (Environ) Getenv(name string) string { return os.Getenv(name) }

// Setting is how pictures are drawn by the dancer's choice.
type Setting uint8

// Settings are the words of the settings. The first leaves the choice to the terminal.
var Settings = []string{"auto", "blocks", "dots", "sixel", "kitty"}

// Choose returns m with the raster of a setting.
func Choose(m raster.Mode, s Setting) raster.Mode {
	if s == 0 || int(s) >= len(Settings) {
		return m
	}
	m.Raster = [...]raster.Raster{1: raster.Blocks, raster.Dots, raster.Sixel, raster.Kitty}[s]
	if m.Cell == (image.Point{}) {
		m.Cell = image.Pt(10, 20) // the VT340's, which those who don't say mostly take over
	}
	return m
}

// questions returns what asks the terminal, or "" where asking would be seen as text.
//
// The last question is answered by every terminal, so that those before it have then been
// answered or never will be. Source: xterm's control sequences, "CSI Ps c", "CSI Ps t" and
// "OSC Ps"; the kitty graphics protocol, "Querying support". That the others here print
// what they don't know is from memory.
func questions(environ termenv.Environ) string {
	const kitty, ground, cell, attributes = "\x1b_Gi=31,s=1,v=1,a=q,t=d,f=24;AAAA\x1b\\", "\x1b]11;?\x1b\\", "\x1b[16t", "\x1b[c"
	switch name := environ.Getenv("TERM"); {
	case name == "" || name == "dumb" || name == "linux":
		return ""
	case environ.Getenv("TERM_PROGRAM") == "Apple_Terminal", strings.HasPrefix(name, "screen") && environ.Getenv("TMUX") == "":
		return ground + attributes
	}
	return kitty + ground + cell + attributes
}
