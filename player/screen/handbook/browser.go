package handbook

import (
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// Browser shows a [Book]: the dances, the figures of a dance and pages of
// figures, each opened from the one before.
type Browser struct {
	source   Book
	keys     browserKeys
	read     bool // the chapters are here
	chapters []Chapter
	dances   term.Chooser
	chapter  *Chapter // whose figures are seen; nil for the dances
	figures  term.Chooser
	pages    []*figurePage // the last is seen; empty for the list of figures
	News     term.News     // until a key is pressed

	theme         term.Theme
	width, height int
}

// Figure returns the figure whose page is seen, and its chapter; nil for a list.
func (h *Browser) Figure() (*Chapter, *routine.Figure) {
	if p := h.page(); p != nil {
		return p.chapter, p.figure
	}
	return nil, nil
}

// page returns the page that is seen; nil for a list.
func (h *Browser) page() *figurePage {
	if len(h.pages) == 0 {
		return nil
	}
	return h.pages[len(h.pages)-1]
}

// Resize lays everything out for a window.
func (h *Browser) Resize(width, height int) { h.width, h.height = width, height }
