package sheets

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
)

func putFile(t *testing.T, dir, name, text string) string {
	path := filepath.Join(dir, name)
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

// sheetOf is a sheet that dances a figure so many times; all of them are of one length.
func sheetOf(times string) string {
	return "---\ndance: cha-cha\n---\n\n## Order\n\n1. Closed basic × " + times + "\n"
}

// waysOfSaving put a text in the place of the sheet that is opened as "open.md" in a folder; "" is
// the text before.
var waysOfSaving = map[string]func(t *testing.T, dir, text string){
	"written in place": func(t *testing.T, dir, text string) { putFile(t, dir, "open.md", text) },
	"renamed over": func(t *testing.T, dir, text string) {
		require.NoError(t, os.Rename(putFile(t, dir, "open.md~", text), filepath.Join(dir, "open.md")))
	},
	"renamed away and written": func(t *testing.T, dir, text string) {
		if text != sheetOf("1") {
			require.NoError(t, os.Rename(filepath.Join(dir, "open.md"), filepath.Join(dir, "open.md.bak")))
		}
		putFile(t, dir, "open.md", text)
	},
	"removed and made anew": func(t *testing.T, dir, text string) {
		require.NoError(t, os.RemoveAll(filepath.Join(dir, "open.md")))
		putFile(t, dir, "open.md", text)
	},
	"folder made anew": func(t *testing.T, dir, text string) {
		require.NoError(t, os.RemoveAll(dir))
		putFile(t, dir, "open.md", text)
	},
	"other folder in its place": func(t *testing.T, dir, text string) {
		putFile(t, dir+".next", "open.md", text)
		require.NoError(t, os.RemoveAll(dir))
		require.NoError(t, os.Rename(dir+".next", dir))
	},
	"through a link": func(t *testing.T, dir, text string) {
		link(t, putFile(t, dir, "files/real.md", text), filepath.Join(dir, "open.md"))
	},
	"a link's target renamed over": func(t *testing.T, dir, text string) {
		real := filepath.Join(dir, "files/real.md")
		next := putFile(t, dir, "files/next.md", text)
		require.NoError(t, os.Rename(next, real))
		link(t, real, filepath.Join(dir, "open.md"))
	},
	"a link led elsewhere": func(t *testing.T, dir, text string) {
		next := putFile(t, dir, "files/"+text[len(text)-2:len(text)-1]+".md", text)
		link(t, next, filepath.Join(dir, "next"))
		require.NoError(t, os.Rename(filepath.Join(dir, "next"), filepath.Join(dir, "open.md")))
	},
	"a folder's link led elsewhere": func(t *testing.T, dir, text string) {
		next := putFile(t, dir, text[len(text)-2:len(text)-1]+"/real.md", text)
		link(t, filepath.Dir(next), filepath.Join(dir, "next"))
		require.NoError(t, os.Rename(filepath.Join(dir, "next"), filepath.Join(dir, "folder")))
		link(t, filepath.Join(dir, "folder/real.md"), filepath.Join(dir, "open.md"))
	},
	"within a moment": func(t *testing.T, dir, text string) { // in which it looks as before
		path := putFile(t, dir, "open.md", text)
		moment := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) // that in which a bubble begins
		require.NoError(t, os.Chtimes(path, moment, moment))
	},
}

// link makes a link, unless it is there.
func link(t *testing.T, to, at string) {
	if _, err := os.Lstat(at); err != nil {
		require.NoError(t, os.Symlink(to, at))
	}
}

// TestEveryWayOfSavingIsSeen, again and again.
func TestEveryWayOfSavingIsSeen(t *testing.T) {
	for name, save := range waysOfSaving {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "sheets")
			save(t, dir, sheetOf("1"))
			synctest.Test(t, func(t *testing.T) {
				saved := savesOf(t, filepath.Join(dir, "open.md"))
				for _, times := range []string{"2", "3", "4"} {
					save(t, dir, sheetOf(times))
					assert.Equal(t, times, danced(t, saved))
				}
			})
		})
	}
}

// savesOf opens a sheet, and gives what is told when it is saved.
func savesOf(t *testing.T, path string) <-chan Sheet {
	ctx, cancel := context.WithCancel(t.Context())
	s := Shelf{Library: library.Open()}
	d, err := s.Open(path)
	require.NoError(t, err)
	saved := Watch(ctx, d, func(f func()) { f() }, s.ReadSafely)
	t.Cleanup(func() {
		cancel()
		for range saved {
		}
	})
	return saved
}

// danced is how many times the sheet that was saved dances its figure.
func danced(t *testing.T, saved <-chan Sheet) string {
	select {
	case l := <-saved:
		require.NotNil(t, l.Timeline, "%v", l.Findings)
		return string(rune('0' + len(l.Timeline.Score.Passages)))
	case <-time.After(time.Minute): // of the bubble's time
		require.Fail(t, "it was not seen")
	}
	return ""
}

// TestWhatCanNotBeReadIsWaitedFor, and a file that hasn't changed isn't reported.
func TestWhatCanNotBeReadIsWaitedFor(t *testing.T) {
	dir := t.TempDir()
	path := putFile(t, dir, "open.md", sheetOf("1"))
	quiet := func(t *testing.T, saved <-chan Sheet) {
		select {
		case l := <-saved:
			require.Fail(t, "nothing was saved", "%v", l)
		case <-time.After(time.Minute):
		}
	}
	synctest.Test(t, func(t *testing.T) {
		saved := savesOf(t, path)
		quiet(t, saved)
		putFile(t, dir, "open.md", sheetOf("1"))
		quiet(t, saved)
		putFile(t, dir, "other.md", sheetOf("2"))
		quiet(t, saved)
		require.NoError(t, os.Remove(path))
		quiet(t, saved)
		require.NoError(t, os.Mkdir(path, 0o700))
		quiet(t, saved)
		require.NoError(t, os.Remove(path))
		putFile(t, dir, "open.md", sheetOf("3"))
		assert.Equal(t, "3", danced(t, saved))
		for i := range 5 { // as it is written piece by piece
			putFile(t, dir, "open.md", sheetOf("4")[:10*i])
			<-time.After(lookEvery * 3 / 4)
		}
		putFile(t, dir, "open.md", sheetOf("4"))
		assert.Equal(t, "4", danced(t, saved))
	})
}

// TestAPanicIsReported and does not end the program.
func TestAPanicIsReported(t *testing.T) {
	var s Shelf // without a library, in which any sheet looks for its dance
	d := Document{Name: "open.md", Path: "open.md", Text: []byte(sheetOf("1"))}
	require.Panics(t, func() { s.Read(d) })
	l := s.ReadSafely(d)
	require.Error(t, l.Err)
	assert.True(t, strings.HasPrefix(l.Err.Error(), "this program failed: "), l.Err)
	assert.Nil(t, l.Timeline)
}
