package screen

import (
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"dance.example/slowquick/routine"
)

// clean makes text of a sheet harmless: no escape sequence, no other control
// character and none that reorders the text around it (Unicode Standard Annex
// 9, explicit directional formatting) is left.
func clean(text string) string {
	if isPlain(text) {
		return text
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\r', r == '\t':
			return ' '
		case routine.UnsafeRune(r), r == utf8.RuneError:
			return -1
		}
		return r
	}, ansi.Strip(text))
}

// isPlain reports printable ASCII.
func isPlain(text string) bool {
	for i := range len(text) {
		if text[i] < 0x20 || text[i] > 0x7e {
			return false
		}
	}
	return true
}

// textWidth is how many columns clean text takes.
func textWidth(text string) int {
	if isPlain(text) {
		return len(text)
	}
	return ansi.StringWidth(text)
}

// cut shortens clean text to a width, with an ellipsis if there is more.
func cut(text string, width int) string {
	if textWidth(text) <= width {
		return text
	}
	return ansi.Truncate(text, max(width, 0), "…")
}

// wrap breaks text into clean lines of at most a width.
func wrap(text string, width int) []string {
	return strings.Split(ansi.Wrap(clean(text), max(width, 1), ""), "\n")
}

// ink is a way to write: the terminal's own attributes and colours, as the
// escape sequence that begins it.
type ink string

const noInk ink = ""

func inkOf(attrs ...ansi.Attr) ink { return ink(ansi.NewStyle(attrs...).String()) }

// row is one line of the screen while it is put together. All text reaches the
// screen through it: it is cleaned here, and nothing goes beyond the width.
type row struct {
	b     strings.Builder
	used  int
	width int
}

func newRow(width int) *row { return &row{width: width} }

// put writes text, cut at the end of the row.
func (r *row) put(k ink, text string) *row {
	text = cut(clean(text), r.width-r.used)
	if text == "" {
		return r
	}
	r.used += textWidth(text)
	if k == noInk {
		r.b.WriteString(text)
		return r
	}
	r.b.WriteString(string(k))
	r.b.WriteString(text)
	r.b.WriteString(ansi.ResetStyle)
	return r
}

// to leaves blanks up to a column, counted from 0.
func (r *row) to(column int) *row {
	if n := min(column, r.width) - r.used; n > 0 {
		r.b.WriteString(strings.Repeat(" ", n))
		r.used += n
	}
	return r
}

// right writes text that ends with the row, or close to what is there already.
func (r *row) right(k ink, text string) *row {
	text = clean(text)
	return r.to(max(r.width-textWidth(text), min(r.used+1, r.width))).put(k, text)
}

func (r *row) String() string { return r.b.String() }

// Theme is how the parts of the screen are written, with nothing but the
// terminal's own attributes and 16 colours. What a colour says is also said in
// words.
type Theme struct {
	strong   ink // what counts now
	heading  ink
	faint    ink // what comes later
	present  ink // the count that is danced now, in a line of counts
	alarm    ink
	partners [2]ink
}

// NewTheme gives the one theme there is, which suits dark and light terminals:
// of the 16 colours, red and magenta keep their contrast on both.
func NewTheme(color bool) Theme {
	t := Theme{
		strong:  inkOf(ansi.AttrBold),
		heading: inkOf(ansi.AttrBold),
		faint:   inkOf(ansi.AttrFaint),
		present: inkOf(ansi.AttrBold, ansi.AttrReverse),
		alarm:   inkOf(ansi.AttrBold),
	}
	t.partners = [2]ink{t.strong, t.strong}
	if color {
		t.alarm = inkOf(ansi.AttrBold, ansi.AttrRedForegroundColor)
		t.partners[1] = inkOf(ansi.AttrBold, ansi.AttrMagentaForegroundColor)
	}
	return t
}
