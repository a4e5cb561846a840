package pdf

import (
	"fmt"
	"strings"
	"unicode/utf16"

	"dance.example/slowquick/player/typeface"
)

// letters is the letters of a face that a document uses. Each has a code of its own, even one that the font
// lacks: it is shown as a box, and copied as what it is.
type letters struct {
	face  *typeface.Face
	code  map[rune]int // from 1
	inUse []rune       // by code, from 1
}

// fonts are the letters of each style; nil for one that is not used.
type fonts [typeface.Styles]*letters

func (f *fonts) of(s typeface.Style) *letters {
	if f[s] == nil {
		f[s] = &letters{face: typeface.Of(s), code: map[rune]int{}}
	}
	return f[s]
}

// mostCodes is how many letters a font can have.
const mostCodes = 1<<16 - 1

// codes returns the codes of text, each of four hexadecimal digits.
func (l *letters) codes(words string) string {
	var out strings.Builder
	for _, letter := range typeface.Letters(words) {
		if l.code[letter] == 0 && len(l.inUse) < mostCodes {
			l.inUse = append(l.inUse, letter)
			l.code[letter] = len(l.inUse)
		}
		fmt.Fprintf(&out, "%04X", l.code[letter])
	}
	return out.String()
}

// write writes the fonts that are used, and returns their names with their objects.
func (f *fonts) write(to *file) string {
	var names strings.Builder
	for _, l := range f {
		if l != nil {
			fmt.Fprintf(&names, "/%s %d 0 R ", l.face.Name, l.write(to))
		}
	}
	return names.String()
}

// How a font is described to readers that have to take another.
const (
	fixedPitch  = 1 << 0
	nonsymbolic = 1 << 5
	italic      = 1 << 6
	slant       = -11 // degrees, of an italic
	stem        = 90
)

// write writes a font with all its letters.
func (l *letters) write(f *file) int {
	face := l.face
	thousandths := func(ems float64) string { return number(float64(int(ems * 1000))) }
	flags, angle := nonsymbolic, 0
	switch face {
	case typeface.Of(typeface.Mono):
		flags |= fixedPitch
	case typeface.Of(typeface.Italic):
		flags, angle = flags|italic, slant
	}
	program := f.stream(fmt.Sprintf(" /Length1 %d", len(face.File)), face.File)
	descriptor := f.object("<</Type /FontDescriptor /FontName /%s /Flags %d /FontBBox [%s %s %s %s] /ItalicAngle %d /Ascent %s /Descent %s /CapHeight %s /StemV %d /FontFile2 %d 0 R>>",
		face.Name, flags, thousandths(face.Left), thousandths(face.Bottom), thousandths(face.Right), thousandths(face.Top),
		angle, thousandths(face.Ascent), thousandths(face.Descent), thousandths(face.Capital), stem, program)
	var widths strings.Builder
	shapes := []byte{0, 0} // of each code
	for _, letter := range l.inUse {
		fmt.Fprintf(&widths, "%s ", number(face.Advance(letter)*1000))
		glyph := face.Glyph(letter)
		shapes = append(shapes, byte(glyph>>8), byte(glyph))
	}
	descendant := f.object("<</Type /Font /Subtype /CIDFontType2 /BaseFont /%s /CIDSystemInfo <</Registry (Adobe) /Ordering (Identity) /Supplement 0>> /FontDescriptor %d 0 R /W [1 [%s]] /CIDToGIDMap %d 0 R>>",
		face.Name, descriptor, widths.String(), f.stream("", shapes))
	return f.object("<</Type /Font /Subtype /Type0 /BaseFont /%s /Encoding /Identity-H /DescendantFonts [%d 0 R] /ToUnicode %d 0 R>>",
		face.Name, descendant, f.stream("", l.toUnicode()))
}

// toUnicode returns which letter each code stands for, as readers need it to copy text.
func (l *letters) toUnicode() []byte {
	out := []byte(`/CIDInit /ProcSet findresource begin
12 dict begin
begincmap
/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def
/CMapName /Adobe-Identity-UCS def
/CMapType 2 def
1 begincodespacerange
<0000> <FFFF>
endcodespacerange
`)
	const most = 100 // in a section
	for from := 0; from < len(l.inUse); from += most {
		part := l.inUse[from:min(from+most, len(l.inUse))]
		out = fmt.Appendf(out, "%d beginbfchar\n", len(part))
		for i, letter := range part {
			out = fmt.Appendf(out, "<%04X> <", from+i+1)
			for _, unit := range utf16.Encode([]rune{letter}) {
				out = fmt.Appendf(out, "%04X", unit)
			}
			out = append(out, ">\n"...)
		}
		out = append(out, "endbfchar\n"...)
	}
	return append(out, "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"...)
}
