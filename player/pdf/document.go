package pdf

import (
	"fmt"
	"io"
	"strings"

	"dance.example/slowquick/routine/floor"
)

// Document is a PDF in the making.
type Document struct {
	Title    string
	Language string // as in "en"

	pages     []*Page
	root      Element
	bookmarks []*bookmark // of the first level
	fonts     fonts
}

// New returns a document without pages.
func New(title, language string) *Document {
	return &Document{Title: title, Language: language, root: Element{tag: "Document"}}
}

// Page adds a page of a size.
func (d *Document) Page(size floor.Point) *Page {
	p := &Page{Size: size, fonts: &d.fonts}
	d.pages = append(d.pages, p)
	return p
}

// Root is the element that holds all others.
func (d *Document) Root() *Element { return &d.root }

// bookmark is a line of the contents that a reader shows beside the pages.
type bookmark struct {
	words string
	page  *Page
	y     float64
	under []*bookmark
	own   int // its object
}

// Bookmark adds a place on a page to the contents that readers show: below the last one of the level
// above, 1 being the highest.
func (d *Document) Bookmark(level int, words string, page *Page, y float64) {
	list := &d.bookmarks
	for ; level > 1 && len(*list) > 0; level-- {
		list = &(*list)[len(*list)-1].under
	}
	*list = append(*list, &bookmark{words: words, page: page, y: y})
}

// Write writes the document, which must have a page.
func (d *Document) Write(w io.Writer) error {
	f := newFile()
	for _, p := range d.pages {
		p.own = f.reserve()
	}
	pages := f.reserve()
	resources := f.object("<</Font <<%s>>>>", d.fonts.write(f))
	var kids strings.Builder
	for i, p := range d.pages {
		content := f.stream("", p.content())
		f.put(p.own, "<</Type /Page /Parent %d 0 R /MediaBox [0 0 %s %s] /Resources %d 0 R /Contents %d 0 R /StructParents %d /Tabs /S>>",
			pages, number(p.Size.X*points), number(p.Size.Y*points), resources, content, i)
		fmt.Fprintf(&kids, "%d 0 R ", p.own)
	}
	f.put(pages, "<</Type /Pages /Count %d /Kids [%s]>>", len(d.pages), kids.String())
	structure := d.root.writeAll(f, d.pages)
	catalog := fmt.Sprintf("<</Type /Catalog /Pages %d 0 R /Lang %s /MarkInfo <</Marked true>> /StructTreeRoot %d 0 R /ViewerPreferences <</DisplayDocTitle true>>",
		pages, text(d.Language), structure)
	if len(d.bookmarks) > 0 {
		own := f.reserve()
		f.put(own, "<</Type /Outlines%s>>", writeBookmarks(f, d.bookmarks, own))
		catalog += fmt.Sprintf(" /Outlines %d 0 R", own)
	}
	root := f.object("%s>>", catalog)
	info := f.object("<</Title %s /Producer (Slowquick)>>", text(d.Title))
	return f.to(w, root, info)
}

// writeBookmarks writes bookmarks below a parent, and returns which are the first and last.
func writeBookmarks(f *file, list []*bookmark, parent int) string {
	if len(list) == 0 {
		return ""
	}
	for _, b := range list {
		b.own = f.reserve()
	}
	for i, b := range list {
		beside := ""
		if i > 0 {
			beside += fmt.Sprintf(" /Prev %d 0 R", list[i-1].own)
		}
		if i+1 < len(list) {
			beside += fmt.Sprintf(" /Next %d 0 R", list[i+1].own)
		}
		f.put(b.own, "<</Title %s /Parent %d 0 R /Dest [%d 0 R /XYZ null %s null]%s%s>>",
			text(b.words), parent, b.page.own, number((b.page.Size.Y-b.y)*points), beside, writeBookmarks(f, b.under, b.own))
	}
	return fmt.Sprintf(" /First %d 0 R /Last %d 0 R /Count %d", list[0].own, list[len(list)-1].own, len(list))
}
