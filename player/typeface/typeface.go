// Package typeface has the letters of what is printed: how wide they are, their outlines, and the font files
// for formats that take them along.
//
// They are the Go fonts (Bigelow & Holmes, 2016), which anybody may hand on (BSD licence). They have the
// letters of Latin, Greek and Cyrillic, fractions, arrows and signs as ♀ and ×, but those of no other
// script: a letter that is missing is an empty box, as is usual.
package typeface

import (
	"fmt"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"
)

// Style is one of the faces.
type Style uint8

// The styles; Styles is how many there are.
const (
	Regular Style = iota
	Bold
	Italic
	Mono
	Styles
)

// Face is the letters of a style. Lengths are in units of the letters' size. It is safe for concurrent use.
type Face struct {
	Name string // as PostScript has it
	File []byte // the font, as TrueType; not to be changed

	Ascent, Descent, Capital float64 // above the baseline; Descent is negative
	Left, Bottom, Right, Top float64 // the box that holds any letter, from its place on the baseline

	font   *sfnt.Font
	widths [usual]float64 // of the first letters of Unicode
}

// usual is how many letters of Unicode have their widths at hand: Latin.
const usual = 0x180

var faces = [Styles]func() *Face{
	Regular: face("GoRegular", goregular.TTF),
	Bold:    face("Go-Bold", gobold.TTF),
	Italic:  face("Go-Italic", goitalic.TTF),
	Mono:    face("GoMono", gomono.TTF),
}

// Of returns the face of a style.
func Of(s Style) *Face { return faces[s]() }

// em is the size at which fonts are measured: their own units.
const em = 2048

func face(name string, file []byte) func() *Face {
	return sync.OnceValue(func() *Face {
		f := &Face{Name: name, File: file}
		var err error
		if f.font, err = sfnt.Parse(file); err != nil {
			panic(fmt.Sprintf("typeface: %s: %v", name, err)) // it is part of the program
		}
		m, err := f.font.Metrics(nil, fixed.I(em), font.HintingNone)
		if err != nil {
			panic(fmt.Sprintf("typeface: measure %s: %v", name, err))
		}
		box, err := f.font.Bounds(nil, fixed.I(em), font.HintingNone)
		if err != nil {
			panic(fmt.Sprintf("typeface: measure %s: %v", name, err))
		}
		f.Ascent, f.Descent, f.Capital = ems(m.Ascent), -ems(m.Descent), ems(m.CapHeight)
		for letter := range f.widths {
			f.widths[letter] = f.measured(rune(letter))
		}
		f.Left, f.Bottom, f.Right, f.Top = ems(box.Min.X), -ems(box.Max.Y), ems(box.Max.X), -ems(box.Min.Y)
		return f
	})
}

// Unit is what outlines are measured in.
const Unit = 1.0 / 64 / em

func ems(f fixed.Int26_6) float64 { return float64(f) * Unit }

var alike = strings.NewReplacer("\u2011", "-", "\u00a0", " ")

// Letters returns text as its letters are set: accents on the letters that bear them, and what differs only
// in where a line may end as what it looks like.
func Letters(text string) []rune { return []rune(alike.Replace(norm.NFC.String(text))) }

// Glyph returns the number of a letter's shape in the font; 0 is the box for what is missing.
func (f *Face) Glyph(letter rune) sfnt.GlyphIndex {
	glyph, err := f.font.GlyphIndex(nil, letter)
	if err != nil {
		return 0
	}
	return glyph
}

// Advance returns how wide a letter is.
func (f *Face) Advance(letter rune) float64 {
	if letter >= 0 && letter < usual {
		return f.widths[letter]
	}
	return f.measured(letter)
}

func (f *Face) measured(letter rune) float64 {
	advance, err := f.font.GlyphAdvance(nil, f.Glyph(letter), fixed.I(em), font.HintingNone)
	if err != nil {
		return 0
	}
	return ems(advance)
}

// Width returns how wide text is.
func (f *Face) Width(text string) (width float64) {
	for _, letter := range Letters(text) {
		width += f.Advance(letter)
	}
	return width
}

// Outline returns the edge of a letter's shape, Y down from the baseline, in [Unit]s.
func (f *Face) Outline(letter rune) sfnt.Segments {
	var own sfnt.Buffer
	segments, err := f.font.LoadGlyph(&own, f.Glyph(letter), fixed.I(em), nil)
	if err != nil {
		return nil
	}
	return segments
}

// Lacks returns the letters of a text that the fonts don't have, each once.
func Lacks(text string) string {
	var missing strings.Builder
	for _, letter := range Letters(text) {
		if Of(Regular).Glyph(letter) == 0 && letter >= ' ' && !strings.ContainsRune(missing.String(), letter) {
			missing.WriteRune(letter)
		}
	}
	return missing.String()
}
