package pdf

import (
	"fmt"
	"strings"
)

// Element is a part of the document as it is read: its tag is one of the standard ones, as P, H1, Table,
// TR, TD, L, LI or Figure.
type Element struct {
	tag        string
	attributes string
	alternate  string
	parts      []part
	own        int // its object
}

// part is an element, or what is marked on a page.
type part struct {
	element *Element
	page    *Page
	mark    int
}

// Add adds an element at the end.
func (e *Element) Add(tag string) *Element {
	child := &Element{tag: tag}
	e.parts = append(e.parts, part{element: child})
	return child
}

// Instead says in words what a picture shows.
func (e *Element) Instead(words string) *Element {
	e.alternate = words
	return e
}

// Heads says that a heading of a table is that of a Row or a Column.
func (e *Element) Heads(what string) *Element {
	e.attributes = " /A <</O /Table /Scope /" + what + ">>"
	return e
}

// Mark says that what is drawn from now on belongs to an element or, if that is nil, to none.
func (p *Page) Mark(e *Element) {
	p.end()
	p.open = true
	if e == nil {
		p.out.WriteString("/Artifact BMC\n")
		return
	}
	fmt.Fprintf(&p.out, "/%s <</MCID %d>> BDC\n", e.tag, p.marks)
	e.parts = append(e.parts, part{page: p, mark: p.marks})
	p.marks++
}

// writeAll writes the elements of a whole document, and returns the object of the structure.
func (e *Element) writeAll(f *file, pages []*Page) int {
	root := f.reserve()
	e.write(f, root)
	marked := map[*Page][]int{} // the objects of the elements, by their marks
	for _, p := range pages {
		marked[p] = make([]int, p.marks)
	}
	e.collect(marked)
	var parents strings.Builder
	for i, p := range pages {
		fmt.Fprintf(&parents, "%d [", i)
		for _, own := range marked[p] {
			fmt.Fprintf(&parents, "%d 0 R ", own)
		}
		parents.WriteString("] ")
	}
	tree := f.object("<</Nums [%s]>>", parents.String())
	f.put(root, "<</Type /StructTreeRoot /K [%d 0 R] /ParentTree %d 0 R /ParentTreeNextKey %d>>", e.own, tree, len(pages))
	return root
}

// collect adds the marks of an element and of all below it.
func (e *Element) collect(marked map[*Page][]int) {
	for _, p := range e.parts {
		if p.element != nil {
			p.element.collect(marked)
		} else {
			marked[p.page][p.mark] = e.own
		}
	}
}

func (e *Element) write(f *file, parent int) {
	e.own = f.reserve()
	var kids strings.Builder
	for _, p := range e.parts {
		if p.element != nil {
			p.element.write(f, e.own)
			fmt.Fprintf(&kids, "%d 0 R ", p.element.own)
		} else {
			fmt.Fprintf(&kids, "<</Type /MCR /Pg %d 0 R /MCID %d>> ", p.page.own, p.mark)
		}
	}
	more := e.attributes
	if e.alternate != "" {
		more += " /Alt " + text(e.alternate)
	}
	f.put(e.own, "<</Type /StructElem /S /%s /P %d 0 R /K [%s]%s>>", e.tag, parent, kids.String(), more)
}
