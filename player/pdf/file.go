package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"
)

// file is the objects of a file, which are numbered from 1.
type file struct {
	out    bytes.Buffer
	places []int // of each object, in bytes; 0 for one that is not written yet
}

func newFile() *file {
	f := new(file)
	f.out.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n") // bytes that say it is not text
	return f
}

// reserve returns the number of an object that is put later.
func (f *file) reserve() int {
	f.places = append(f.places, 0)
	return len(f.places)
}

// put writes a reserved object.
func (f *file) put(own int, format string, args ...any) {
	f.places[own-1] = f.out.Len()
	fmt.Fprintf(&f.out, "%d 0 obj\n", own)
	fmt.Fprintf(&f.out, format, args...)
	f.out.WriteString("\nendobj\n")
}

// object writes an object, and returns its number.
func (f *file) object(format string, args ...any) int {
	own := f.reserve()
	f.put(own, format, args...)
	return own
}

// stream writes data, compressed, with more entries of its dictionary.
func (f *file) stream(entries string, data []byte) int {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	_, _ = z.Write(data) // a buffer takes everything
	_ = z.Close()
	return f.object("<</Filter /FlateDecode /Length %d%s>>\nstream\n%s\nendstream", packed.Len(), entries, packed.Bytes())
}

// to writes the file with its table of objects.
func (f *file) to(w io.Writer, root, info int) error {
	table := f.out.Len()
	fmt.Fprintf(&f.out, "xref\n0 %d\n0000000000 65535 f \n", len(f.places)+1)
	for _, place := range f.places {
		fmt.Fprintf(&f.out, "%010d 00000 n \n", place)
	}
	fmt.Fprintf(&f.out, "trailer\n<</Size %d /Root %d 0 R /Info %d 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(f.places)+1, root, info, table)
	_, err := w.Write(f.out.Bytes())
	return err
}

// number writes a number with as many decimals as paper can show.
func number(f float64) string {
	return strconv.FormatFloat(math.Round(f*1000)/1000+0, 'f', -1, 64) // +0: no -0
}

// text writes a string in UTF-16, so that nothing in it can end it.
func text(words string) string {
	var out strings.Builder
	out.WriteString("<FEFF")
	for _, unit := range utf16.Encode([]rune(words)) {
		fmt.Fprintf(&out, "%04X", unit)
	}
	out.WriteByte('>')
	return out.String()
}
