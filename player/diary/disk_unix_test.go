//go:build linux || darwin

package diary_test

import (
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/diary"
)

func init() { roles["fill"] = fill }

// largest is the largest file, in bytes, that the system lets a program write in the role "fill".
const largest = 1 << 20

// fill keeps run-throughs until no file can grow any more, and some more after that. It prints how many
// were acknowledged, and how many refused.
func fill(path string) int {
	signal.Ignore(syscall.SIGXFSZ)
	limit := syscall.Rlimit{Cur: largest, Max: largest}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return keepUntilFull(path)
}

func keepUntilFull(path string) int {
	d, err := diary.Open(path)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	p := d.Begin(lantern, evening(0))
	kept, refused := 0, 0
	for n := 1; refused < 20 && n < 1_000_000; n++ {
		var notKept *diary.NotKept
		news := pass(evening(0), 112, fmt.Sprint("Step ", n), fmt.Sprint("Turn ", n), strings.Repeat("x", 200)+fmt.Sprint(n))
		switch err := p.Keep(news); {
		case err == nil:
			kept++
		case errors.As(err, &notKept):
			refused++
		default:
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
	}
	fmt.Println(kept, refused)
	return 0
}

// checkFilled compares what a program that filled a disk printed with what is kept.
func checkFilled(t *testing.T, said []byte, d *diary.Diary) {
	t.Helper()
	words := strings.Fields(string(said))
	require.Len(t, words, 2)
	kept, err := strconv.Atoi(words[0])
	require.NoError(t, err)
	assert.Greater(t, kept, 100)
	assert.Equal(t, "20", words[1], "refused")
	assert.Len(t, entries(t, d, ""), kept)
	var sound string
	require.NoError(t, d.DB().QueryRow("PRAGMA integrity_check").Scan(&sound))
	assert.Equal(t, "ok", sound)
}

// TestAFullDisk: what is acknowledged is kept, the rest is refused with an error, and keeping goes on
// when there is room again.
func TestAFullDisk(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "diary.db")
	said, err := play("fill", path).Output()
	require.NoError(t, err)
	d := open(t, path)
	checkFilled(t, said, d)
	keep(t, d.Begin(jetty, evening(1)), pass(evening(1), 87, "Box step"))
}

// TestAFolderThatCantBeWritten: nothing is kept, and what was kept can be read.
func TestAFolderThatCantBeWritten(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("root may write anywhere")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "diary.db")
	d, err := diary.Open(path)
	require.NoError(t, err)
	keep(t, d.Begin(lantern, evening(0)), pass(evening(0), 112, "Basic"))
	require.NoError(t, d.Close())
	require.NoError(t, os.Chmod(path, 0o400))
	require.NoError(t, os.Chmod(dir, 0o500))
	t.Cleanup(func() { assert.NoError(t, os.Chmod(dir, 0o700)) })
	checkReadOnly(t, path)
}

func checkReadOnly(t *testing.T, path string) {
	t.Helper()
	_, err := diary.Open(path)
	var notKept *diary.NotKept
	require.ErrorAs(t, err, &notKept)
	d, err := diary.Read(path)
	require.NoError(t, err)
	defer d.Close()
	assert.Len(t, entries(t, d, ""), 1)
	require.ErrorAs(t, d.Begin(lantern, evening(1)).Keep(pass(evening(1), 112, "Basic")), &notKept)
	assert.Len(t, entries(t, d, ""), 1)
}
