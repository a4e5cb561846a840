// Package quiet keeps the terminal from being asked for its background colour,
// as one that does not answer would hold up the start for five seconds.
//
// The init function of bubbletea 1.3 asks, through lipgloss, unless the answer
// is set. This package sets it, and is initialised first: Go initialises the
// packages whose imports are ready in the order of their import paths (The Go
// Programming Language Specification, "Program initialization"; since Go 1.21).
// Both packages wait for lipgloss, and "dance.example/…" sorts before
// "github.com/charmbracelet/bubbletea". So it must import nothing but lipgloss,
// and whatever imports bubbletea must import it too. The answer itself does not
// matter: the screen has no colour that depends on the background.
package quiet

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
