package term

import (
	"strings"

	"dance.example/slowquick/player/harmless"
	"github.com/charmbracelet/x/ansi"
)

// Row is one line of a screen while it is put together. Put cleans all text,
// and writes nothing beyond the row's width.
type Row struct {
	b     strings.Builder
	used  int
	width int
}

// NewRow returns an empty row of width columns.
func NewRow(width int) *Row { return &Row{width: width} }

// Used returns how many columns have been written.
func (r *Row) Used() int { return r.used }

// Left returns how many columns are left.
func (r *Row) Left() int { return r.width - r.used }

// Put writes text in ink k, cut at the end of the row.
func (r *Row) Put(k Ink, text string) *Row {
	text = Cut(harmless.Line(text), r.Left())
	if text == "" {
		return r
	}
	r.used += Width(text)
	if k == Plain {
		r.b.WriteString(text)
		return r
	}
	r.b.WriteString(string(k))
	r.b.WriteString(text)
	r.b.WriteString(ansi.ResetStyle)
	return r
}

// To fills the row with blanks up to a column; columns count from 0.
func (r *Row) To(column int) *Row {
	if n := min(column, r.width) - r.used; n > 0 {
		r.b.WriteString(strings.Repeat(" ", n))
		r.used += n
	}
	return r
}

// Right writes text flush right or, where there is no room for that, a blank
// after what is there already.
func (r *Row) Right(k Ink, text string) *Row {
	text = harmless.Line(text)
	return r.To(max(r.width-Width(text), min(r.used+1, r.width))).Put(k, text)
}

// String returns the line, with the escape sequences of its inks.
func (r *Row) String() string { return r.b.String() }
