package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
	"unicode"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/making"
	"dance.example/slowquick/routine"
)

// dancedBefore returns what reports whether a figure is in the diary, which it reads when it is first
// asked about a dance.
func (a *app) dancedBefore() func(*routine.Dance, *routine.Figure) bool {
	read := map[string]map[string]bool{}
	return func(d *routine.Dance, fig *routine.Figure) bool {
		names, ok := read[d.Name]
		if !ok {
			names = map[string]bool{}
			keep := map[*routine.Figure]bool{}
			if c, has := a.Library.Chapter(d.Name); has && a.inDiary(c, keep) == nil {
				for f := range keep {
					names[f.Name] = true
				}
			}
			read[d.Name] = names
		}
		return names[fig.Name]
	}
}

// making returns what the screen needs to make routines.
func (a *app) making() *screen.Make {
	return &screen.Make{
		Options: making.Options{
			Files: a.drafts(),
			Known: a.dancedBefore(),
		},
		Dances: a.Library.AllDances,
		New:    a.newDraft,
		Open:   a.openDraft,
		Sheet: func(d draft.Draft) dance.Sheet {
			made := shelf{app: a}.load(d.Sheet)
			made.Name = d.Title()
			return made
		},
		Forget: func(d draft.Draft) error { return d.Forget(draft.Folders()) },
	}
}

// newDraft returns a routine to be made.
func (a *app) newDraft(with making.Beginning) (draft.Draft, error) {
	if with.Like == "" {
		return draft.New(a.Shelf(), with.Dance, "My "+strings.ToLower(with.Dance.Name), with.Floor)
	}
	like, err := a.Open(with.Like)
	if err != nil {
		return draft.Draft{}, err
	}
	made, err := draft.Open(a.Shelf(), like)
	if err != nil {
		return draft.Draft{}, err
	}
	return draft.Copy(a.Shelf(), like, "Like "+made.Title())
}

// openDraft opens a sheet, or a draft that is kept, to change its order.
func (a *app) openDraft(id string) (draft.Draft, error) {
	if kept, ok := strings.CutPrefix(id, draftID); ok {
		for _, k := range draft.AllKept(draft.Folders()) {
			if k.ID == kept {
				return draft.Resume(a.Shelf(), k)
			}
		}
		return draft.Draft{}, errors.New("this draft is gone")
	}
	doc, err := a.Open(id)
	if err != nil {
		return draft.Draft{}, err
	}
	return draft.Open(a.Shelf(), doc)
}

// drafts returns where drafts and their sheets go.
func (a *app) drafts() draft.Files {
	return draft.Files{
		Own: func(figure string, sheet []byte, over bool) (string, error) {
			path := filepath.Join(a.ownFolder, fileName(figure)+".md")
			return path, draft.WriteOwn(path, sheet, over)
		},
		Keep:    func(d draft.Draft) error { return d.Keep(draft.Folders(), time.Now()) },
		Save:    draft.Draft.Save,
		FileFor: fileFor,
	}
}

// fileFor returns a file of the current folder that doesn't exist, for a title.
func fileFor(title string) string {
	name := fileName(title)
	path := name + ".md"
	for n := 2; ; n++ {
		if _, err := os.Lstat(path); err != nil {
			return path
		}
		path = fmt.Sprintf("%s-%d.md", name, n)
	}
}

// fileName returns a title as files are named, without an ending.
func fileName(title string) string {
	name := strings.Trim(strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.IsControl(r) || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, strings.ToLower(title)), "-.")
	return cmp.Or(name, "routine")
}
