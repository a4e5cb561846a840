package draft_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/routine"
	_ "dance.example/slowquick/testdata/thorough"
)

var evening = time.Date(2026, 11, 29, 20, 0, 0, 0, time.UTC)

// book is the library, which is read once.
var book = library.Open()

func shelf() sheets.Shelf { return sheets.Shelf{Library: book} }

func danceOf(t require.TestingT, name string) *routine.Dance {
	d, ok := book.Dance(name)
	require.True(t, ok)
	return d
}

// changed returns a draft with a line more at its end.
func changed(t require.TestingT, d draft.Draft, name string) draft.Draft {
	d, err := d.Change(d.Order.Insert(d.Order.Len(), routine.Line{Name: name}), d.Order.Len())
	require.NoError(t, err)
	return d
}

func TestARoutineIsMadeFromNothing(t *testing.T) {
	d, err := draft.New(shelf(), danceOf(t, "waltz"), "Lantern waltz", routine.Room{})
	require.NoError(t, err)
	assert.True(t, d.Saved())
	empty := d.Text()
	d = changed(t, changed(t, d, "Natural turn"), "Box step")
	assert.Equal(t, "---\ndance: waltz\n---\n\n# Lantern waltz\n\n## Order\n\n1. Natural turn\n2. Box step\n", string(d.Text()))
	assert.False(t, d.Saved())
	lines, elsewhere := d.Objections()
	require.Len(t, lines, 2)
	assert.Empty(t, lines[0])
	require.NotEmpty(t, lines[1], "the leader's foot")
	assert.Equal(t, routine.Code("join-foot"), lines[1][0].Code)
	assert.Empty(t, elsewhere)

	both := d.Text()
	for range 2 {
		before, ok := d.Undo()
		require.True(t, ok)
		d = before
	}
	assert.Equal(t, empty, d.Text())
	_, ok := d.Undo()
	assert.False(t, ok)
	for range 2 {
		after, ok := d.Redo()
		require.True(t, ok)
		d = after
	}
	assert.Equal(t, both, d.Text())
	_, ok = d.Redo()
	assert.False(t, ok)
}

// TestUndoLeadsBack over random changes to each text before, byte for byte, and redo forward again.
func TestUndoLeadsBack(t *testing.T) {
	s := shelf()
	rapid.Check(t, func(t *rapid.T) {
		d, err := draft.New(s, danceOf(t, "cha-cha"), "Quay", routine.Room{})
		require.NoError(t, err)
		texts := []string{string(d.Text())}
		for range rapid.IntRange(1, 8).Draw(t, "changes") {
			var next draft.Draft
			switch n := d.Order.Len(); {
			case n > 1 && rapid.Bool().Draw(t, "move"):
				to := rapid.IntRange(0, n-1).Draw(t, "to")
				next, err = d.Change(d.Order.Move(rapid.IntRange(0, n-1).Draw(t, "from"), to), to)
			case n > 0 && rapid.Bool().Draw(t, "remove"):
				line := rapid.IntRange(0, n-1).Draw(t, "line")
				next, err = d.Change(d.Order.Remove(line), line)
			default:
				next = changed(t, d, rapid.SampledFrom([]string{"Closed basic", "Fan", "New York"}).Draw(t, "figure"))
			}
			require.NoError(t, err)
			if d = next; string(d.Text()) != texts[len(texts)-1] {
				texts = append(texts, string(d.Text()))
			}
		}
		for i := len(texts) - 2; i >= 0; i-- {
			d, _ = d.Undo()
			require.Equal(t, texts[i], string(d.Text()))
		}
		for _, text := range texts[1:] {
			d, _ = d.Redo()
			require.Equal(t, text, string(d.Text()))
		}
	})
}

func TestWhatIsNotSavedIsKept(t *testing.T) {
	folder := []string{filepath.Join(t.TempDir(), "drafts [2026]")} // brackets match nothing here
	path := filepath.Join(t.TempDir(), "quay.md")
	const filed = "---\ndance: waltz\n---\n\n## Order\n\n1. Box step\n"
	require.NoError(t, os.WriteFile(path, []byte(filed), 0o600))
	d, err := draft.Open(shelf(), sheets.Document{Name: path, Path: path, Text: []byte(filed)})
	require.NoError(t, err)
	require.NoError(t, d.Keep(folder, evening))
	assert.Empty(t, draft.AllKept(folder), "nothing was changed")

	d = changed(t, d, "Box step")
	require.NoError(t, d.Keep(folder, evening))
	kept := draft.AllKept(folder)
	require.Len(t, kept, 1)
	assert.Equal(t, evening, kept[0].When)
	again, err := draft.Resume(shelf(), kept[0])
	require.NoError(t, err)
	assert.Equal(t, d.Text(), again.Text())
	assert.False(t, again.Saved())
	before, ok := again.Undo()
	require.True(t, ok)
	assert.Equal(t, filed, string(before.Text()))
	assert.True(t, before.Saved())

	again, err = again.Save(path, false)
	require.NoError(t, err)
	assert.True(t, again.Saved())
	require.NoError(t, again.Keep(folder, evening))
	assert.Empty(t, draft.AllKept(folder))
}

// TestAResumedDraftIsUndoneAndRedone as if the program had never stopped, with the same lines marked.
func TestAResumedDraftIsUndoneAndRedone(t *testing.T) {
	for _, path := range []string{"", "quay.md"} {
		d, err := draft.Open(shelf(), sheets.Document{Name: "quay.md", Path: path, Text: []byte("---\ndance: waltz\n---\n\n## Order\n\n1. Box step — é\n")})
		require.NoError(t, err)
		type state struct {
			text string
			line int
		}
		states := []state{{string(d.Text()), d.Line}}
		for _, line := range []routine.Line{{Name: "Box step", Remark: "è"}, {Name: "Hesitation step"}, {Name: "Box step", Remark: "ë"}, {Name: "Box step", Times: 2}} {
			d, err = d.Change(d.Order.Insert(0, line), 0)
			require.NoError(t, err)
			states = append(states, state{string(d.Text()), d.Line})
		}
		d, _ = d.Undo()
		d, _ = d.Undo()
		folder := []string{t.TempDir()}
		d = d.Marked(1)
		require.NoError(t, d.Keep(folder, evening))
		again, err := draft.Resume(shelf(), draft.AllKept(folder)[0])
		require.NoError(t, err)
		assert.Equal(t, d.Text(), again.Text())
		assert.Equal(t, 1, again.Line)
		for _, want := range states[3:] {
			var ok bool
			again, ok = again.Redo()
			require.True(t, ok)
			assert.Equal(t, want, state{string(again.Text()), again.Line})
		}
		_, ok := again.Redo()
		assert.False(t, ok)
		for range states[1:] {
			again, ok = again.Undo()
			require.True(t, ok)
		}
		assert.Equal(t, states[0].text, string(again.Text()))
		assert.Equal(t, path != "", again.Saved())
		_, ok = again.Undo()
		assert.False(t, ok)
	}
}

// TestWhatDoesNotFitIsNotUndone: changes that are spoilt are forgotten, and the file's text stays the last.
func TestWhatDoesNotFitIsNotUndone(t *testing.T) {
	const filed = "---\ndance: waltz\n---\n\n## Order\n\n1. Box step\n"
	for _, spoilt := range []string{`{"from": -1}`, `{"from": 9223372036854775807, "rest": 9223372036854775807}`, `{"rest": -5}`, `{"from": 3, "rest": 2000}`} {
		folder := t.TempDir()
		kept := fmt.Sprintf(`{"name": "quay.md", "path": "quay.md", "filed": %q, "text": %q, "line": 99, "past": [%s], "future": [%s]}`, filed, filed+"2. Box step\n", spoilt, spoilt)
		require.NoError(t, os.WriteFile(filepath.Join(folder, "1.json"), []byte(kept), 0o600))
		all := draft.AllKept([]string{folder})
		require.Len(t, all, 1, spoilt)
		d, err := draft.Resume(shelf(), all[0])
		require.NoError(t, err)
		assert.Equal(t, 1, d.Line)
		_, ok := d.Redo()
		assert.False(t, ok)
		d, ok = d.Undo()
		assert.True(t, ok)
		assert.Equal(t, filed, string(d.Text()))
	}
}

// TestADraftIsKeptElsewhere if the first folder can't be written to, but in none that belongs to somebody else,
// whose drafts aren't resumed either.
func TestADraftIsKeptElsewhere(t *testing.T) {
	file, theirs, own := filepath.Join(t.TempDir(), "file"), t.TempDir(), filepath.Join(t.TempDir(), "drafts")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	d, err := draft.New(shelf(), danceOf(t, "waltz"), "Lantern waltz", routine.Room{})
	require.NoError(t, err)
	d = changed(t, d, "Box step")
	notHere := filepath.Join(file, "drafts")
	require.ErrorContains(t, d.Keep([]string{notHere}, evening), "keep the draft")
	require.NoError(t, d.Keep([]string{notHere, own}, evening))
	assert.Len(t, draft.AllKept([]string{notHere, own}), 1)

	require.NoError(t, d.Keep([]string{theirs}, evening))
	if err := os.Chown(theirs, 12345, -1); err != nil {
		t.Skip("only the administrator can give a folder to somebody else")
	}
	link := filepath.Join(t.TempDir(), "link")
	require.NoError(t, os.Symlink(theirs, link))
	for _, folder := range []string{theirs, link} {
		assert.Empty(t, draft.AllKept([]string{folder}))
		assert.ErrorContains(t, d.Keep([]string{folder}, evening), "belongs to somebody else")
	}
}

// TestAResumedDraftStaysKept though its sheet was never saved and nothing more was changed.
func TestAResumedDraftStaysKept(t *testing.T) {
	folder := []string{t.TempDir()}
	d, err := draft.New(shelf(), danceOf(t, "waltz"), "Lantern waltz", routine.Room{})
	require.NoError(t, err)
	d = changed(t, d, "Box step")
	require.NoError(t, d.Keep(folder, evening))
	again, err := draft.Resume(shelf(), draft.AllKept(folder)[0])
	require.NoError(t, err)
	assert.False(t, again.Saved())
	require.NoError(t, again.Keep(folder, evening))
	require.Len(t, draft.AllKept(folder), 1)
}

// TestNothingIsWrittenOver that the draft doesn't know: neither a newer text nor another file.
func TestNothingIsWrittenOver(t *testing.T) {
	path, other := filepath.Join(t.TempDir(), "quay.md"), filepath.Join(t.TempDir(), "other.md")
	const filed, newer = "---\ndance: waltz\n---\n\n## Order\n\n1. Box step\n", "---\ndance: waltz\n---\n\n## Order\n\n1. Whisk\n"
	require.NoError(t, os.WriteFile(path, []byte(newer), 0o600))
	require.NoError(t, os.WriteFile(other, []byte(filed), 0o600))
	d, err := draft.Open(shelf(), sheets.Document{Name: path, Path: path, Text: []byte(filed)})
	require.NoError(t, err)
	d = changed(t, d, "Box step")
	for _, at := range []string{path, other} {
		was, err := os.ReadFile(at)
		require.NoError(t, err)
		_, err = d.Save(at, false)
		assert.ErrorIs(t, err, draft.ErrNewer)
		is, err := os.ReadFile(at)
		require.NoError(t, err)
		assert.Equal(t, was, is)
	}
	_, err = d.Save(path, true)
	require.NoError(t, err)
	is, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, d.Text(), is)
}
