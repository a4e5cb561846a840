package handout

import (
	"fmt"
	"io"

	"dance.example/slowquick/player/pages"
)

// PDF writes a handout as pages to print. Several sheets make a class book, with contents.
func PDF(w io.Writer, name string, sheets ...Sheet) error {
	var list []*programme
	var o Options
	for _, s := range sheets {
		list = append(list, newProgramme(s.Line, s.Options))
		o = s.Options
	}
	if len(list) == 1 {
		name = list[0].Title
	}
	foot := name
	if len(list) == 1 {
		foot = list[0].foot()
	}
	look, zoom := look(o, foot), 1.0
	if o.Large {
		look.Size, zoom = 18*pages.Point, largeZooms[0]
	}
	p := paperPages{pages.New(name, "en", look), zoom}
	if len(list) == 1 {
		p.programme(list[0])
	} else {
		p.class(name, list)
	}
	if err := p.Write(w); err != nil {
		return fmt.Errorf("write handout: %w", err)
	}
	return nil
}

// class sets a class book: a cover with the contents, the sheets, and an index of the figures.
func (p paperPages) class(name string, list []*programme) {
	b := new(book)
	titles, places := make([]string, len(list)), make([]*pages.Place, len(list))
	for i, sheet := range list {
		b.add(sheet, func(int) string { return "" })
		titles[i] = sheet.Title + ", " + sheet.Dance
	}
	p.Rule()
	p.Space(6)
	p.Heading(1, name)
	p.Text(pages.Plain(b.Holds()))
	if whose := list[0].lesson(); whose != "" {
		p.Text(pages.Plain(whose))
	}
	p.Space(6)
	p.Heading(2, "Contents")
	places = append(places, nil)
	p.Contents(append(titles, "Index of figures"), places)
	for i, sheet := range list {
		p.FreshPage()
		places[i] = p.programme(sheet)
	}
	if p.Left() < p.Tall()/3 {
		p.FreshPage()
	}
	p.Space(2)
	places[len(list)] = p.Heading(1, "Index of figures")
	p.index(b.Index)
}

// index sets where figures are, in two columns if a page has room for them.
func (p paperPages) index(list []*shownFigure) {
	half := (len(list) + 1) / 2
	set := func(list []*shownFigure) func(*pages.Column) {
		return func(c *pages.Column) { shownOn(c, list) }
	}
	const between = 8 // millimetres
	if !p.Beside((p.Width-between)/2, between, set(list[:half]), set(list[half:])) {
		shownOn(&p.Column, list)
	}
}
