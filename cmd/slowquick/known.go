package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/library"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/lessons"
	"dance.example/slowquick/routine"
)

// ownDiary is what --known calls the dancer's own diary.
const ownDiary = "diary"

// known returns the figures of a chapter that are known: those that a class has had or, if no class has
// the name, those in the dancer's diary, or those that a file lists, a name a line.
func (a *app) known(c *library.Chapter, name string) ([]*routine.Figure, error) {
	classes, _ := lessons.Names() // none if they can't be read
	path, err := lessons.Path(name)
	isClass := err == nil && slices.ContainsFunc(classes, func(class string) bool {
		p, _ := lessons.Path(class)
		return p == path
	})
	keep := map[*routine.Figure]bool{}
	switch {
	case isClass:
		had, err := a.lessonsOf(name)
		if err != nil {
			return nil, err
		}
		for _, h := range had {
			a.keepNamed(c, h.Dance, h.Figure, keep)
		}
	case name == ownDiary:
		if err := a.inDiary(c, keep); err != nil {
			return nil, err
		}
	default:
		if err := a.listed(c, name, classes, keep); err != nil {
			return nil, err
		}
	}
	figs := slices.DeleteFunc(slices.Clone(c.Figures), func(f *routine.Figure) bool { return !keep[f] })
	if len(figs) == 0 {
		return nil, outcome.New(exitFindings, fmt.Errorf("--known: %s knows no figure of the library's %s", name, c.Dance.Name), "")
	}
	return figs, nil
}

// keepNamed marks the figure of a chapter with a name, if the dance named is the chapter's.
func (a *app) keepNamed(c *library.Chapter, dance, name string, keep map[*routine.Figure]bool) {
	of, ok := a.Library.Chapter(dance)
	if figs, has := c.Named(name); ok && has && of.Dance.Name == c.Dance.Name {
		keep[figs[0]] = true
	}
}

// inDiary marks the figures that the dancer has danced.
func (a *app) inDiary(c *library.Chapter, keep map[*routine.Figure]bool) error {
	d, err := diary.ReadOwn()
	if err != nil {
		return outcome.Failed(err, wayOut(err))
	}
	if d == nil { // nothing was danced yet
		return nil
	}
	defer d.Close()
	danced, err := d.Figures()
	if err != nil && !diary.IsDamaged(err) {
		return outcome.Failed(err, wayOut(err))
	}
	for _, k := range danced {
		a.keepNamed(c, k.Dance, k.Name, keep)
	}
	return nil
}

// listed marks the figures that a file lists.
func (a *app) listed(c *library.Chapter, path string, classes []string, keep map[*routine.Figure]bool) error {
	text, err := a.ReadAny(path)
	if err != nil {
		return outcome.Failed(fmt.Errorf("--known: no class is called %q, and as a file: %w", path, err), outcome.Perhaps(path, classes, "slowquick class lists the classes"))
	}
	var wrong []error
	n := 0
	for line := range strings.Lines(string(text)) {
		n++
		name := strings.TrimSpace(line)
		if name == "" || name[0] == '#' {
			continue
		}
		if figs, ok := c.Named(name); ok {
			keep[figs[0]] = true
			continue
		}
		var names []string
		for _, f := range c.Figures {
			names = append(names, f.Name)
		}
		why := fmt.Sprintf("%s:%d:1: no figure of %s is called %q", path, n, c.Dance.Name, name)
		if near := routine.Nearest(name, names); len(near) > 0 {
			why += "; perhaps " + strings.Join(near, ", ")
		}
		wrong = append(wrong, errors.New(why))
	}
	if len(wrong) > 0 {
		return outcome.New(exitFindings, errors.Join(wrong...), "")
	}
	return nil
}
