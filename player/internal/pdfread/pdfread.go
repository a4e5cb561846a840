// Package pdfread reads a PDF as a screen reader does: what each page says, and what the structure says of it.
// It follows the file's own table and references, and shares nothing with the package that writes. Only tests
// import it.
package pdfread

import (
	"bytes"
	"compress/zlib"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf16"

	"github.com/stretchr/testify/require"
)

// Document is what is read.
type Document struct {
	Title, Language string
	Pages           []Page
	Parts           []Part     // of the structure, in the order in which they are read
	Bookmarks       []Bookmark // likewise
}

// Page is a page. Its size is in points.
type Page struct {
	Width, Height float64
	Lines         []string // all that is shown
	Foot          []string // of these, what belongs to no part
	FootSize      float64  // of the letters of the last of these, in millimetres
}

// Part is an element of the structure.
type Part struct {
	Depth int // the document's own is 0
	Tag   string
	Words string // of its own lines, a space after each
	Alt   string
	Pages []int // on which it is
}

// Bookmark is a line of the contents.
type Bookmark struct {
	Depth int
	Words string
	Page  int
}

type reader struct {
	t      require.TestingT
	text   []byte
	places []int
	pages  map[int]int // by object, from 1
	marked map[[2]int][]string
}

// Read reads a document, and fails the test if anything in it is not as it should be.
func Read(t require.TestingT, text []byte) Document {
	r := &reader{t: t, text: text, pages: map[int]int{}, marked: map[[2]int][]string{}}
	require.True(t, bytes.HasPrefix(text, []byte("%PDF-1.7\n")))
	end := regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n$`).FindSubmatch(text)
	require.NotNil(t, end, "no end")
	table, trailer, ok := strings.Cut(string(text[r.number(string(end[1])):]), "trailer\n")
	require.True(t, ok)
	lines := strings.Split(table, "\n")
	require.Equal(t, "xref", lines[0])
	for _, line := range lines[2 : len(lines)-1] {
		require.Len(t, line, 19, "20 bytes with the line's end")
		r.places = append(r.places, r.number(line[:10]))
	}
	require.Equal(t, "0 "+strconv.Itoa(len(r.places)), lines[1])
	for i := range r.places[1:] {
		require.True(t, bytes.HasPrefix(text[r.places[i+1]:], []byte(strconv.Itoa(i+1)+" 0 obj\n")), "object %d", i+1)
	}
	catalog := r.dict(r.ref(trailer, "Root"))
	doc := Document{Title: unicode(t, r.entry(r.dict(r.ref(trailer, "Info")), "Title")), Language: unicode(t, r.entry(catalog, "Lang"))}
	kids := r.refs(r.entry(r.dict(r.ref(catalog, "Pages")), "Kids"))
	for i, own := range kids {
		r.pages[own] = i + 1
		doc.Pages = append(doc.Pages, r.page(own, i+1))
	}
	root := r.ref(catalog, "StructTreeRoot")
	r.parts(&doc, r.refs(r.entry(r.dict(root), "K"))[0], 0)
	r.parents(root, kids)
	if strings.Contains(catalog, "/Outlines") {
		r.bookmarks(&doc, r.ref(catalog, "Outlines"), 0)
	}
	return doc
}

func (r *reader) number(text string) int {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	require.NoError(r.t, err)
	return n
}

// object returns an object as text.
func (r *reader) object(own int) []byte {
	rest := r.text[r.places[own]:]
	return rest[bytes.IndexByte(rest, '\n')+1 : bytes.Index(rest, []byte("\nendobj\n"))]
}

// dict returns what is written of an object before its stream.
func (r *reader) dict(own int) string {
	head, _, _ := bytes.Cut(r.object(own), []byte("\nstream\n"))
	return string(head)
}

// entry returns what stands after a name: a string, a list, or what ends with the next name.
func (r *reader) entry(dict, name string) string {
	m := regexp.MustCompile(`/` + name + ` ?(<[0-9A-F]*>|<<.*?>>|\[[^\]]*\]|[^/>]*)`).FindStringSubmatch(dict)
	require.NotNil(r.t, m, "no %s in %.200s", name, dict)
	return m[1]
}

func (r *reader) refs(text string) (list []int) {
	for _, m := range regexp.MustCompile(`(\d+) 0 R`).FindAllStringSubmatch(text, -1) {
		list = append(list, r.number(m[1]))
	}
	return list
}

func (r *reader) ref(dict, name string) int {
	list := r.refs(r.entry(dict, name))
	require.Len(r.t, list, 1, name)
	return list[0]
}

func (r *reader) stream(own int) string {
	object := r.object(own)
	_, data, ok := bytes.Cut(object, []byte("\nstream\n"))
	require.True(r.t, ok)
	data = bytes.TrimSuffix(data, []byte("\nendstream"))
	require.Len(r.t, data, r.number(r.entry(r.dict(own), "Length")))
	z, err := zlib.NewReader(bytes.NewReader(data))
	require.NoError(r.t, err)
	text, err := io.ReadAll(z)
	require.NoError(r.t, err)
	return string(text)
}

var (
	operation = regexp.MustCompile(`/Artifact BMC|/(\w+) <</MCID (\d+)>> BDC|EMC|/([\w-]+) ([\d.]+) Tf|<([0-9A-F]*)> Tj`)
	character = regexp.MustCompile(`<([0-9A-F]{4})> <([0-9A-F]+)>`)
)

// page reads what a page shows: every line of it within a mark, and marks in order.
func (r *reader) page(own, number int) (p Page) {
	dict := r.dict(own)
	for i, f := range []*float64{2: &p.Width, 3: &p.Height} {
		if f != nil {
			size, err := strconv.ParseFloat(strings.Fields(strings.Trim(r.entry(dict, "MediaBox"), "[]"))[i], 64)
			require.NoError(r.t, err)
			*f = size
		}
	}
	require.Equal(r.t, number-1, r.number(r.entry(dict, "StructParents")))
	fonts := map[string]map[string]string{}
	for _, m := range regexp.MustCompile(`/([\w-]+) (\d+) 0 R`).FindAllStringSubmatch(r.dict(r.ref(dict, "Resources")), -1) {
		letters := map[string]string{}
		for _, c := range character.FindAllStringSubmatch(r.stream(r.ref(r.dict(r.number(m[2])), "ToUnicode")), -1) {
			letters[c[1]] = unicode(r.t, "<FEFF"+c[2]+">")
		}
		fonts[m[1]] = letters
	}
	var letters map[string]string
	mark, open, marks, size := -1, false, 0, 0.0
	for _, op := range operation.FindAllStringSubmatch(r.stream(r.ref(dict, "Contents")), -1) {
		switch {
		case op[0] == "EMC":
			require.True(r.t, open)
			open = false
		case op[2] != "" || strings.HasPrefix(op[0], "/Artifact"):
			require.False(r.t, open, "a mark within another")
			open, mark = true, -1
			if op[2] != "" {
				mark = r.number(op[2])
				require.Equal(r.t, marks, mark)
				marks++
			}
		case op[3] != "":
			letters = fonts[op[3]]
			require.NotNil(r.t, letters, op[3])
			var err error
			size, err = strconv.ParseFloat(op[4], 64)
			require.NoError(r.t, err)
		default:
			require.True(r.t, open, "text that belongs to nothing")
			line := ""
			for codes := op[5]; codes != ""; codes = codes[4:] {
				require.Contains(r.t, letters, codes[:4])
				line += letters[codes[:4]]
			}
			p.Lines = append(p.Lines, line)
			if mark < 0 {
				p.Foot, p.FootSize = append(p.Foot, line), size
			} else {
				r.marked[[2]int{number, mark}] = append(r.marked[[2]int{number, mark}], line)
			}
		}
	}
	require.False(r.t, open)
	return p
}

var kid = regexp.MustCompile(`<</Type /MCR /Pg (\d+) 0 R /MCID (\d+)>>|(\d+) 0 R`)

// parts reads an element, and those below it.
func (r *reader) parts(doc *Document, own, depth int) {
	dict := r.dict(own)
	tag := regexp.MustCompile(`/S /(\w+)`).FindStringSubmatch(dict)
	require.NotNil(r.t, tag, dict)
	p := Part{Depth: depth, Tag: tag[1]}
	if strings.Contains(dict, "/Alt ") {
		p.Alt = unicode(r.t, r.entry(dict, "Alt"))
	}
	index := len(doc.Parts)
	doc.Parts = append(doc.Parts, p)
	for _, m := range kid.FindAllStringSubmatch(r.entry(dict, "K"), -1) {
		if m[3] != "" {
			below := r.number(m[3])
			require.Equal(r.t, own, r.number(regexp.MustCompile(`/P (\d+) 0 R`).FindStringSubmatch(r.dict(below))[1]), "its parent")
			r.parts(doc, below, depth+1)
			continue
		}
		page := r.pages[r.number(m[1])]
		require.NotZero(r.t, page)
		for _, line := range r.marked[[2]int{page, r.number(m[2])}] {
			doc.Parts[index].Words += line + " "
		}
		doc.Parts[index].Pages = append(doc.Parts[index].Pages, page)
	}
}

// parents checks that the way from marks up to elements is the way down.
func (r *reader) parents(root int, pages []int) {
	tree := r.dict(r.ref(r.dict(root), "ParentTree"))
	lists := regexp.MustCompile(`(\d+) \[([^\]]*)\]`).FindAllStringSubmatch(strings.SplitN(tree, "[", 2)[1], -1)
	require.Len(r.t, lists, len(pages))
	for i, m := range lists {
		require.Equal(r.t, i, r.number(m[1]))
		for mark, own := range r.refs(m[2]) {
			require.Contains(r.t, r.entry(r.dict(own), "K"), "<</Type /MCR /Pg "+strconv.Itoa(pages[i])+" 0 R /MCID "+strconv.Itoa(mark)+">>")
		}
	}
}

func (r *reader) bookmarks(doc *Document, parent, depth int) {
	dict := r.dict(parent)
	if !strings.Contains(dict, "/First") {
		return
	}
	for own := r.ref(dict, "First"); ; {
		b := r.dict(own)
		require.Equal(r.t, parent, r.ref(b, "Parent"))
		page := r.pages[r.refs(r.entry(b, "Dest"))[0]]
		require.NotZero(r.t, page)
		doc.Bookmarks = append(doc.Bookmarks, Bookmark{depth, unicode(r.t, r.entry(b, "Title")), page})
		r.bookmarks(doc, own, depth+1)
		if !strings.Contains(b, "/Next") {
			require.Equal(r.t, own, r.ref(dict, "Last"))
			return
		}
		own = r.ref(b, "Next")
	}
}

// unicode reads a string in UTF-16.
func unicode(t require.TestingT, text string) string {
	require.True(t, strings.HasPrefix(text, "<FEFF"), text)
	var units []uint16
	for digits := strings.Trim(text, "<>")[4:]; digits != ""; digits = digits[4:] {
		unit, err := strconv.ParseUint(digits[:4], 16, 16)
		require.NoError(t, err)
		units = append(units, uint16(unit))
	}
	return string(utf16.Decode(units))
}
