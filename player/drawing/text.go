package drawing

import (
	"strings"
	"unicode"

	"github.com/mattn/go-runewidth"

	"dance.example/slowquick/routine/floor"
)

// letters are the sizes of text, in millimetres: 2.83 mm are 8 points.
const (
	small  = 2.9
	normal = 3.2
)

// lettering is a style of text, in millimetres.
type lettering struct {
	size   float64
	bold   bool
	anchor Anchor
	width  float64 // to which text is cut; 0 for a short text
}

var (
	nameLetters   = lettering{size: 4, bold: true}
	factLetters   = lettering{size: small}
	numberLetters = lettering{size: small, bold: true}
)

func (l lettering) within(width float64) lettering {
	l.width = width
	return l
}

// write writes text with its baseline at a place. Text that is cut is made to fit, whatever fonts the
// reader has.
func (s *sheet) write(at floor.Point, l lettering, words string) {
	t := Text{Words: words, At: at, Size: l.size, Bold: l.bold, Anchor: l.anchor}
	if short := cut(words, l.width/l.size); l.width > 0 && short != words {
		t.Words = short
		if width := textWidth(short) * l.size; width > 0.7*l.width {
			t.Length = width
		}
	}
	s.text(black, t)
}

// mostLetters is the length in letters to which any text is cut.
const mostLetters = 160

// cut shortens text to a width, in units of its size.
func cut(text string, width float64) string {
	left, fits := width-widthOf('…'), 0
	letters := []rune(text)
	for i, r := range letters {
		width -= widthOf(r)
		if width < 0 || i >= mostLetters {
			return strings.TrimRight(string(letters[:fits]), " ") + "…"
		}
		if left -= widthOf(r); left >= 0 {
			fits = i + 1
		}
	}
	return text
}

// widthOf returns about how wide a letter is in the usual sans-serif fonts, in
// units of its size: a little more than in most.
func widthOf(r rune) float64 {
	switch {
	case strings.ContainsRune("WMm@%—…", r):
		return 1
	case strings.ContainsRune("iljtfrI.,:;'|!()[]- ", r):
		return 0.36
	case unicode.IsUpper(r):
		return 0.76
	case runewidth.RuneWidth(r) == 1:
		return 0.58
	}
	return float64(runewidth.RuneWidth(r))
}

// textWidth returns about how wide text is, in units of its size.
func textWidth(text string) (width float64) {
	for _, r := range text {
		width += widthOf(r)
	}
	return width
}
