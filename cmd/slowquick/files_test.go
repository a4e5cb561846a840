//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestAPipeIsWrittenInto and not replaced, even with --force.
func TestAPipeIsWrittenInto(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	want, _ := told(t, exitOK, "write", "handout", "lantern-night-waltz", "-o", "-")
	require.NoError(t, syscall.Mkfifo("page.html", 0o600))
	require.NoError(t, os.Symlink("page.html", "link.html"))
	for _, args := range [][]string{
		{"handout", "lantern-night-waltz", "-o", "page.html"}, {"handout", "lantern-night-waltz", "-o", "page.html", "--force"},
		{"handout", "lantern-night-waltz", "-o", "link.html", "--force"},
	} {
		got := make(chan string, 1)
		go func() {
			text, _ := os.ReadFile("page.html")
			got <- string(text)
		}()
		told(t, exitOK, append([]string{"write"}, args...)...)
		assert.Equal(t, want, <-got, args)
		info, err := os.Stat("page.html")
		require.NoError(t, err)
		assert.Equal(t, os.ModeNamedPipe, info.Mode().Type(), args)
	}
}

// TestAPipeInAFolderStays: files are moved there whole, which can't be done into a pipe.
func TestAPipeInAFolderStays(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.Mkdir("class", 0o700))
	require.NoError(t, syscall.Mkfifo("class/handout.html", 0o600))
	_, said := told(t, exitFailed, "write", "all", "lantern-night-waltz", "-o", "class", "--force")
	assert.Contains(t, said, "handout.html: it is not a regular file")
	entries, err := os.ReadDir("class")
	require.NoError(t, err)
	require.Len(t, entries, 1)
	assert.Equal(t, os.ModeNamedPipe, entries[0].Type())
}

// TestStandardOutputByItsName works whether it is a pipe or a file.
func TestStandardOutputByItsName(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if _, err := os.Stat("/dev/stdout"); err != nil {
		t.Skip("there is no such name here")
	}
	args := []string{"write", "handout", "lantern-night-waltz", "-o"}
	want, err := inFolder(dir, append(args, "-")...).Output()
	require.NoError(t, err)
	got, err := inFolder(dir, append(args, "/dev/stdout")...).Output()
	require.NoError(t, err)
	assert.Equal(t, want, got)

	file, err := os.Create(filepath.Join(dir, "page.html"))
	require.NoError(t, err)
	defer file.Close()
	_, err = file.WriteString("<!-- before -->")
	require.NoError(t, err)
	cmd := inFolder(dir, append(args, "/dev/stdout")...)
	cmd.Stdout = file
	require.NoError(t, cmd.Run())
	text, err := os.ReadFile(file.Name())
	require.NoError(t, err)
	assert.Equal(t, "<!-- before -->"+string(want), string(text))
}

// TestCtrlCEndsAWriterThatNobodyReads even though the write itself would wait for ever.
func TestCtrlCEndsAWriterThatNobodyReads(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	require.NoError(t, syscall.Mkfifo(filepath.Join(dir, "track.wav"), 0o600))
	term := onTerminal(t, dir, "write", "wav", "lantern-night-waltz", "-o", "track.wav")
	reader, err := os.Open(filepath.Join(dir, "track.wav")) // when it is written
	require.NoError(t, err)
	defer reader.Close()
	term.press("\x03")
	term.until("slowquick: stopped")
	var exit *exec.ExitError
	require.ErrorAs(t, term.ends(), &exit)
	assert.Equal(t, exitFailed, exit.ExitCode())
}

// TestALinkIsFollowed to the file that it names, even if that doesn't exist yet.
func TestALinkIsFollowed(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.MkdirAll("kept/pages", 0o700))
	require.NoError(t, os.Symlink("kept/pages", "pages"))
	require.NoError(t, os.Symlink("../new.html", "kept/pages/link.html"))
	require.NoError(t, os.Symlink("pages/link.html", "link.html"))
	require.NoError(t, os.Symlink("round", "round"))
	for range 2 {
		told(t, exitOK, "write", "handout", "lantern-night-waltz", "-o", "link.html", "--force")
		info, err := os.Lstat("kept/new.html")
		require.NoError(t, err)
		assert.True(t, info.Mode().IsRegular())
		for _, link := range []string{"link.html", "kept/pages/link.html"} {
			info, err := os.Lstat(link)
			require.NoError(t, err)
			assert.Equal(t, os.ModeSymlink, info.Mode().Type())
		}
	}
	told(t, exitFailed, "write", "handout", "lantern-night-waltz", "-o", "round", "--force")
	_, err := os.Readlink("round")
	require.NoError(t, err)
}

// TestWhatIsReadIsNotWrittenOver, not even on request.
func TestWhatIsReadIsNotWrittenOver(t *testing.T) {
	dir := danceHall(t)
	t.Chdir(filepath.Join(dir, "hall"))
	require.NoError(t, os.WriteFile("evening.md", []byte(evening(4, "music: tune.wav\nmusic begins: bar 2")), 0o600))
	require.NoError(t, os.Link("evening.md", "same.md"))
	require.NoError(t, os.Symlink("evening.md", "link.md"))
	require.NoError(t, os.Mkdir("own", 0o700))
	require.NoError(t, os.WriteFile("own/walk.md", []byte("---\ndance: cha-cha\n---\n"), 0o600))
	require.NoError(t, os.MkdirAll("class", 0o700))
	require.NoError(t, os.WriteFile("class/handout.md", []byte(jetty), 0o600))
	require.NoError(t, os.WriteFile("beats.txt", []byte("0.5 1\n1.0 2\n"), 0o600))
	read := func() (text string) {
		for _, name := range []string{"evening.md", "tune.wav", "own/walk.md", "class/handout.md", "beats.txt"} {
			part, err := os.ReadFile(name)
			require.NoError(t, err)
			text += string(part)
		}
		return text
	}
	before := read()
	for _, args := range [][]string{
		{"write", "handout", "evening.md", "-o", "evening.md", "--force"}, {"write", "handout", "evening.md", "-o", "same.md", "--force"},
		{"write", "handout", "evening.md", "-o", "link.md", "--force"}, {"write", "wav", "evening.md", "-o", "tune.wav", "--force"},
		{"write", "handout", "evening.md", "--library", "own", "-o", "own/walk.md", "--force"},
		{"compose", "--dance", "waltz", "--library", "own", "-o", "own/walk.md", "--force"},
		{"write", "all", "class/handout.md", "-o", "class", "--force"},
		{"listen", "tune.wav", "--write-beats", "tune.wav", "--force"}, {"listen", "tune.wav", "--write-beats", "beats.txt", "--beats", "beats.txt", "--force"},
	} {
		_, errOut := told(t, exitFailed, args...)
		assert.Contains(t, errOut, ": this command is reading it", args)
		assert.Equal(t, before, read(), args)
	}
}

// TestBeatsAreWrittenAsAnythingElse: over a file only on request, and to standard output.
func TestBeatsAreWrittenAsAnythingElse(t *testing.T) {
	dir := danceHall(t)
	t.Chdir(filepath.Join(dir, "hall"))
	require.NoError(t, os.WriteFile("mine.txt", []byte("mine"), 0o600))
	_, errOut := told(t, exitFailed, "listen", "tune.wav", "--write-beats", "mine.txt")
	assert.Contains(t, errOut, "write mine.txt: file already exists")
	text, err := os.ReadFile("mine.txt")
	require.NoError(t, err)
	assert.Equal(t, "mine", string(text))
	told(t, exitOK, "listen", "tune.wav", "--write-beats", "mine.txt", "--force")
	text, err = os.ReadFile("mine.txt")
	require.NoError(t, err)
	out, _ := told(t, exitOK, "listen", "tune.wav", "--write-beats", "-")
	assert.Equal(t, string(text), out)
	_, err = os.Lstat("-")
	assert.ErrorIs(t, err, os.ErrNotExist)
}

// TestAFolderIsNotWrittenOver by a command that writes one file.
func TestAFolderIsNotWrittenOver(t *testing.T) {
	dir := t.TempDir()
	_, errOut := told(t, exitFailed, "write", "handout", "lantern-night-waltz", "-o", dir, "--force")
	assert.Contains(t, errOut, "it is a folder")
}
