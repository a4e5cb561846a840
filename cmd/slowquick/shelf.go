package main

import (
	"context"
	"os"
	"path/filepath"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/routine"
)

// shelf makes the sheets of the current folder and the examples a [screen.Shelf].
type shelf struct {
	*app
	given *sheets.Document // a sheet read before the screen opened, or nil
}

// Entries lists the folder's sheets, then the examples.
func (s shelf) Entries() (list []sheetlist.Entry, err error) {
	list = keptDrafts()
	folder, _ := os.Getwd() // a deleted one has no sheets
	entries, err := s.Shelf().Entries(folder)
	for _, e := range entries {
		list = append(list, sheetlist.Entry{Title: e.Title, Dance: e.Dance, Place: e.Place, ID: e.ID})
	}
	return list, err
}

// Open reads a sheet, and again whenever its file is saved.
func (s shelf) Open(ctx context.Context, e sheetlist.Entry) (dance.Sheet, <-chan dance.Sheet, error) {
	var d sheets.Document
	if s.given != nil && s.given.Name == e.ID {
		d = *s.given // standard input can be read only once
	} else if doc, err := s.Reader.Open(e.ID); err != nil {
		return dance.Sheet{}, nil, err
	} else {
		d = doc
	}
	l := s.load(d)
	if d.Path == "" || l.Err != nil {
		return l, nil, l.Err
	}
	return l, sheets.Watch(ctx, d, s.Guard, s.load), nil
}

func (s shelf) load(d sheets.Document) dance.Sheet {
	read := s.Shelf().ReadSafely(d)
	return dance.Sheet{
		Name: filepath.Base(d.Name), ID: d.Name, Path: d.Path,
		Timeline: read.Timeline, Findings: read.Findings, Err: read.Err,
	}
}

// draftID is how the list calls a draft: by this, and what it is kept as.
const draftID = "draft:"

// keptDrafts lists what was made and not saved, the latest first.
func keptDrafts() (list []sheetlist.Entry) {
	for _, k := range draft.AllKept(draft.Folders()) {
		h, _ := routine.ReadHeading(k.Name, []byte(k.Text))
		e := sheetlist.Entry{Title: h.Title, Dance: h.Dance, Place: "not saved", ID: draftID + k.ID, Draft: true}
		list = append([]sheetlist.Entry{e}, list...)
	}
	return list
}
