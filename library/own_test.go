package library_test

import (
	"fmt"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
)

// ownFigures has a fan with other counts than the library's, a new figure, and one that
// can't be danced.
const ownFigures = `---
dance: rumba
---

# From the boathouse

## Fan

- starts: closed, leader LF free, follower RF free
- ends: closed

| Count | Leader     | Follower   |
|:-----:|------------|------------|
| 2     | LF forward | RF back    |
| 3     | RF replace | LF replace |
| 4-1   | LF close   | RF close   |

## Lantern sway

- also called: jetty sway, hockey stick

| Count | Leader     | Follower   |
|:-----:|------------|------------|
| 2     | LF side    | RF side    |
| 3     | RF replace | LF replace |
| 4-1   | LF close   | RF close   |

## Two left feet

| Count | Leader   | Follower |
|:-----:|----------|----------|
| 2     | LF side  | RF side  |
| 3     | LF side  | LF close |
| 4-1   | LF close | RF side  |
`

const ownDance = `---
dance: Lantern walk
also called: [jetty walk]
metre: 4/4
usual: 25–30 bars/min
usual source: invented
---

# Lantern walk

## Walk

| Count | Leader     | Follower |
|:-----:|------------|----------|
| 1-2   | LF forward | RF back  |
| 3-4   | RF forward | LF back  |
`

func own(files map[string]string) *library.Library {
	folder := fstest.MapFS{}
	for name, text := range files {
		folder[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return library.Open().With(folder)
}

func TestOwnFiguresAddAndOverride(t *testing.T) {
	lib := own(map[string]string{"boathouse.md": ownFigures})
	c, ok := lib.Chapter("rumba")
	require.True(t, ok)
	shipped, _ := library.Open().Chapter("rumba")
	assert.Len(t, c.Figures, len(shipped.Figures)+1)

	fan, ok := lib.Figure(c.Dance, "fan")
	require.True(t, ok)
	assert.Len(t, fan.Rows, 3)
	assert.Equal(t, library.Origin{File: "boathouse.md", Overrides: "rumba.md"}, c.Origins[fan])

	sway, ok := lib.Figure(c.Dance, "jetty sway")
	require.True(t, ok)
	assert.Equal(t, "your own sheet boathouse.md", sway.Source)
	assert.Equal(t, library.Origin{File: "boathouse.md"}, c.Origins[sway])

	stick, ok := lib.Figure(c.Dance, "hockey stick")
	require.True(t, ok)
	assert.Equal(t, "Hockey stick", stick.Name, "a name takes precedence over an alias")

	_, ok = lib.Figure(c.Dance, "two left feet")
	assert.False(t, ok, "a figure that can't be danced is left out")

	require.Len(t, lib.Own(), 1)
	require.NotEmpty(t, lib.Own()[0].Findings)
	for _, f := range lib.Own()[0].Findings {
		assert.Equal(t, routine.Code("foot-not-free"), f.Code)
		assert.Equal(t, 33, f.Span.Start.Line)
	}
	_, found := routine.Read("night.md", []byte("---\ndance: rumba\n---\n\n## Order\n\n1. Fan\n2. Cucaracha to the right\n3. Lantern sway\n4. Cucaracha to the right\n"), lib)
	assert.False(t, routine.HasErrors(found), "%v", found)
}

// TestAFileOfOneOwnFigure needs no order, and a figure that can't be danced is no fault of the one before
// it.
func TestAFileOfOneOwnFigure(t *testing.T) {
	head, rest, _ := strings.Cut(ownFigures, "## Lantern sway")
	sway, _, _ := strings.Cut(rest, "## Two left feet")
	front, _, _ := strings.Cut(head, "## Fan")
	one := front + "## Lantern sway" + sway
	for name, text := range map[string]string{
		"alone":                         one,
		"without a line end":            strings.TrimSpace(one),
		"before prose":                  one + "\n## For the teacher\n\nThe lanterns are lit at eight.\n",
		"before an order with an error": one + "\n## Order\n\n1. Lantern sway × 2\n2. Lantern sway × 0\n",
		"before a second of its name":   one + "\n## Lantern sway" + sway,
	} {
		t.Run(name, func(t *testing.T) {
			lib := own(map[string]string{"harbour.md": text})
			d, ok := lib.Dance("rumba")
			require.True(t, ok)
			fig, ok := lib.Figure(d, "lantern sway")
			require.True(t, ok, "%v", lib.Own()[0].Findings)
			assert.Len(t, fig.Rows, 3)
		})
	}
}

func TestOwnDances(t *testing.T) {
	lib := own(map[string]string{"lantern-walk.md": ownDance})
	assert.Contains(t, lib.Dances(), "Lantern walk")
	d, ok := lib.Dance("jetty walk")
	require.True(t, ok)
	assert.Equal(t, []string{"Walk"}, lib.Figures(d))
	assert.Len(t, lib.Dances(), len(library.Open().Dances())+1)
}

// TestAnOwnChapterHidesTheLibrarys: its S and Q may differ, so the figures of the two must
// not mix.
func TestAnOwnChapterHidesTheLibrarys(t *testing.T) {
	lib := own(map[string]string{"mine.md": "---\ndance: Tango\nmetre: 2/4\nusual: 30 bars/min\nusual source: invented\n---\n\n## Walk\n\n| Count | Leader | Follower |\n|---|---|---|\n| 1-2 | LF forward | RF back |\n"})
	c, ok := lib.Chapter("tango")
	require.True(t, ok)
	require.Len(t, c.Figures, 1)
	assert.Equal(t, library.Origin{File: "mine.md", Overrides: "tango.md"}, c.Origins[c.Figures[0]])
	assert.Equal(t, library.Open().Dances(), lib.Dances())
}

// TestASecondOwnChapterOfADanceIsTold: it is reported and not used, as its S and Q may differ.
func TestASecondOwnChapterOfADanceIsTold(t *testing.T) {
	lib := own(map[string]string{"a.md": ownDance, "b.md": strings.Replace(ownDance, "dance: ", "dance: The ", 1), "c.md": ownDance})
	list := lib.Own()
	require.Len(t, list, 3)
	assert.NoError(t, list[0].Err)
	assert.NoError(t, list[1].Err, "another dance")
	assert.EqualError(t, list[2].Err, "use c.md: a.md is already the chapter of Lantern walk")
	d, ok := lib.Dance("lantern walk")
	require.True(t, ok)
	assert.Same(t, list[0].Dance, d)
}

// TestABadOwnSheetIsAFinding: the rest of the library can still be used.
func TestABadOwnSheetIsAFinding(t *testing.T) {
	lib := own(map[string]string{
		"a.md": "\xff\xfe\x00", "b.md": "", "c.md": "---\ndance: polka of the river\n---\n\n## Order\n\n1. X\n",
		"d.md": "---\n: [\n", "e.md": ownFigures,
	})
	assert.Equal(t, library.Open().Dances(), lib.Dances())
	require.Len(t, lib.Own(), 5)
	for _, o := range lib.Own()[:4] {
		assert.NotEmpty(t, o.Findings, o.File)
		assert.Nil(t, o.Dance, o.File)
	}
	c, ok := lib.Chapter("rumba")
	require.True(t, ok)
	_, ok = lib.Figure(c.Dance, "lantern sway")
	assert.True(t, ok)
}

// unreadable is a folder with a file that can't be opened.
type unreadable struct{}

func (unreadable) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
}

func (unreadable) Glob(string) ([]string, error) { return []string{"locked.md"}, nil }

func TestAnOwnSheetThatCantBeReadIsTold(t *testing.T) {
	lib := library.Open().With(unreadable{})
	require.Len(t, lib.Own(), 1)
	require.ErrorIs(t, lib.Own()[0].Err, fs.ErrPermission)
	assert.Equal(t, library.Open().Dances(), lib.Dances())
}

// TestAnOwnSheetThatIsTooLargeIsTold: it is reported, not cut short.
func TestAnOwnSheetThatIsTooLargeIsTold(t *testing.T) {
	prose := strings.Repeat("The lanterns are lit.\n", routine.LargestSheet/20)
	lib := own(map[string]string{"boathouse.md": ownFigures + prose})
	require.Len(t, lib.Own(), 1)
	require.Len(t, lib.Own()[0].Findings, 1)
	assert.Equal(t, routine.Code("too-large"), lib.Own()[0].Findings[0].Code)
	assert.Empty(t, lib.Own()[0].Figures)
}

func TestMoreOwnSheetsThanAreReadAreTold(t *testing.T) {
	files := map[string]string{}
	for i := range 502 {
		files[fmt.Sprintf("%03d.md", i)] = "---\ndance: rumba\n---\n"
	}
	list := own(files).Own()
	require.Equal(t, 501, len(list))
	for _, o := range list[:500] {
		require.NoError(t, o.Err)
	}
	assert.EqualError(t, list[500].Err, "read 500.md: the folder has 502 sheets, and only the first 500 are read")
}

func TestNoFolderIsNoOwnSheets(t *testing.T) {
	lib := library.Open().With(fstest.MapFS{})
	assert.Empty(t, lib.Own())
	c, ok := lib.Chapter("waltz")
	require.True(t, ok)
	assert.Empty(t, c.Origins)
}
