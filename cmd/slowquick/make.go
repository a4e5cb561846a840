package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"time"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/making"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/routine"
)

// making returns what the screen needs to make routines.
func (a *app) making() *screen.Make {
	return &screen.Make{
		Options: making.Options{
			Keep:    func(d draft.Draft) error { return d.Keep(draft.Folder(), time.Now()) },
			Save:    draft.Draft.Save,
			FileFor: fileFor,
		},
		Dances: a.dances,
		New:    a.newDraft,
		Open:   a.openDraft,
		Sheet: func(d draft.Draft) dance.Sheet {
			made := shelf{app: a}.load(d.Sheet)
			made.Name = d.Title()
			return made
		},
		Forget: func(d draft.Draft) error { return d.Forget(draft.Folder()) },
	}
}

// dances lists the library's dances.
func (a *app) dances() (list []*routine.Dance) {
	for _, name := range a.library.Dances() {
		if d, ok := a.library.Dance(name); ok {
			list = append(list, d)
		}
	}
	return list
}

// newDraft returns a routine to be made.
func (a *app) newDraft(with making.Beginning) (draft.Draft, error) {
	if with.Like == "" {
		return draft.New(a.sheets(), with.Dance, "My "+strings.ToLower(with.Dance.Name), with.Floor)
	}
	like, err := a.open(with.Like)
	if err != nil {
		return draft.Draft{}, err
	}
	made, err := draft.Open(a.sheets(), like)
	if err != nil {
		return draft.Draft{}, err
	}
	return draft.Copy(a.sheets(), like, "Like "+made.Title())
}

// draftID is how the list calls a draft: by this, and what it is kept as.
const draftID = "draft:"

// openDraft opens a sheet, or a draft that is kept, to change its order.
func (a *app) openDraft(id string) (draft.Draft, error) {
	if kept, ok := strings.CutPrefix(id, draftID); ok {
		for _, k := range draft.AllKept(draft.Folder()) {
			if k.ID == kept {
				return draft.Resume(a.sheets(), k)
			}
		}
		return draft.Draft{}, errors.New("this draft is gone")
	}
	doc, err := a.open(id)
	if err != nil {
		return draft.Draft{}, err
	}
	return draft.Open(a.sheets(), doc)
}

// drafts lists what was made and not saved, the latest first.
func (a *app) drafts() (list []sheetlist.Entry) {
	for _, k := range draft.AllKept(draft.Folder()) {
		h, _ := routine.ReadHeading(k.Name, []byte(k.Text))
		e := sheetlist.Entry{Title: h.Title, Dance: h.Dance, Place: "not saved", ID: draftID + k.ID, Draft: true}
		list = append([]sheetlist.Entry{e}, list...)
	}
	return list
}

// fileFor returns a file of the current folder that doesn't exist, for a title.
func fileFor(title string) string {
	name := strings.Trim(strings.Map(func(r rune) rune {
		if r == ' ' || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, strings.ToLower(title)), "-.")
	if name == "" {
		name = "routine"
	}
	path := name + ".md"
	for n := 2; ; n++ {
		if _, err := os.Stat(path); err != nil {
			return path
		}
		path = filepath.Clean(name + "-" + string(rune('0'+n%10)) + ".md")
		if n == 9 {
			return path
		}
	}
}
