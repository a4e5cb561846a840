package terminal

import (
	"bytes"
	"image"
	"image/color"
	"math"
	"strconv"
	"strings"
)

// Filter takes a terminal's answers out of what is typed. Once the last is in, everything
// passes.
type Filter struct {
	answers Answers
	done    bool
	held    []byte // may be the beginning of an answer
}

// longest is more than any answer has, in bytes.
const longest = 128

// Keys returns what of p, and of what was held back before, was typed.
func (f *Filter) Keys(p []byte) []byte {
	b := append(f.held, p...) // held is given up
	f.held = nil
	var keys []byte
	for len(b) > 0 && !f.done {
		i := bytes.IndexByte(b, '\x1b')
		if i < 0 {
			break
		}
		keys, b = append(keys, b[:i]...), b[i:]
		switch n, whole := f.answer(b); {
		case whole:
			b = b[n:]
		case n > 0:
			f.held = b
			return keys
		default:
			keys, b = append(keys, b[0]), b[1:]
		}
	}
	return append(keys, b...)
}

// Unsure reports whether what is held back may just as well be a key: Escape, or a letter
// with Alt.
func (f *Filter) Unsure() bool { return len(f.held) == 1 || len(f.held) == 2 }

// Release returns what is held back, as nothing more has come.
func (f *Filter) Release() []byte {
	keys := f.held
	f.held = nil
	return keys
}

// Done returns the answers once all are in.
func (f *Filter) Done() (Answers, bool) { return f.answers, f.done }

// answer reads the answer with which b begins: how long it is, and whether it is whole. It
// is 0 long if b is none, and can't become one.
func (f *Filter) answer(b []byte) (n int, whole bool) {
	for _, form := range []struct {
		begin string
		read  func(b []byte) (n int, whole bool)
	}{
		{"\x1b[?", f.attributes},
		{"\x1b[6;", f.cell},
		{"\x1b]11;rgb", f.ground},
		{"\x1b_Gi=31", f.kitty},
	} {
		if len(b) < len(form.begin) {
			if strings.HasPrefix(form.begin, string(b)) {
				return len(b), false
			}
			continue
		}
		if string(b[:len(form.begin)]) == form.begin {
			if n, whole = form.read(b[len(form.begin):min(len(b), longest)]); n < 0 || !whole && len(b) >= longest {
				return 0, false
			}
			return len(form.begin) + n, whole
		}
	}
	return 0, false
}

// numbers reads numbers and semicolons up to a final byte; n is below 0 if there is
// something else.
func numbers(b []byte, final byte) (values []int, n int, whole bool) {
	for i, c := range b {
		switch {
		case c == final && i > 0:
			for _, s := range strings.Split(string(b[:i]), ";") {
				v, _ := strconv.Atoi(s) // an empty one is 0
				values = append(values, v)
			}
			return values, i + 1, true
		case c != ';' && (c < '0' || c > '9'):
			return nil, -1, false
		}
	}
	return nil, len(b), false
}

// attributes reads what comes after CSI ?, the answer to DA1. 4 stands for sixels.
func (f *Filter) attributes(b []byte) (n int, whole bool) {
	values, n, whole := numbers(b, 'c')
	if whole {
		for _, v := range values[1:] {
			f.answers.Sixel = f.answers.Sixel || v == 4
		}
		f.done = true
	}
	return n, whole
}

// cell reads the height and the width of a cell.
func (f *Filter) cell(b []byte) (n int, whole bool) {
	values, n, whole := numbers(b, 't')
	const most = 1000 // pixels; more is no cell
	if whole && len(values) == 2 && min(values[0], values[1]) > 0 && max(values[0], values[1]) <= most {
		f.answers.Cell = image.Pt(values[1], values[0])
	}
	return n, whole
}

// text reads up to the end of a string, which is a bell or ESC \.
func text(b []byte) (s string, n int, whole bool) {
	for i, c := range b {
		switch {
		case c == '\a':
			return string(b[:i]), i + 1, true
		case c == '\x1b' && i+1 == len(b):
			return "", len(b), false
		case c == '\x1b' && b[i+1] == '\\':
			return string(b[:i]), i + 2, true
		case c < ' ' || c > '~':
			return "", -1, false
		}
	}
	return "", len(b), false
}

// ground reads the rest of a colour: ":1111/2222/3333", or "a:" and one number more.
func (f *Filter) ground(b []byte) (n int, whole bool) {
	s, n, whole := text(b)
	if !whole {
		return n, false
	}
	_, parts, _ := strings.Cut(s, ":")
	var rgb [3]uint8
	hex := strings.Split(parts, "/")
	if len(hex) < len(rgb) {
		return n, true
	}
	for i := range rgb {
		v, err := strconv.ParseUint(hex[i], 16, 16)
		if err != nil {
			return n, true
		}
		most := math.Pow(16, float64(len(hex[i]))) - 1
		rgb[i] = uint8(math.Round(255 * float64(v) / most))
	}
	f.answers.Ground = color.RGBA{rgb[0], rgb[1], rgb[2], 255}
	return n, true
}

// kitty reads the rest of its answer, which is ";OK" or why not.
func (f *Filter) kitty(b []byte) (n int, whole bool) {
	s, n, whole := text(b)
	if whole {
		f.answers.Kitty = strings.HasSuffix(s, ";OK")
	}
	return n, whole
}
