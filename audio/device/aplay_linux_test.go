package device

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// actAs is the variable that makes this test binary act as the player, under whose name it is linked
// into the PATH.
const actAs = "SLOWQUICK_TEST_PLAYER"

func TestMain(m *testing.M) {
	if filepath.Base(os.Args[0]) == "aplay" {
		os.Exit(act(os.Getenv(actAs)))
	}
	os.Exit(m.Run())
}

// act plays the player's part.
func act(part string) int {
	switch part {
	case "has no device":
		fmt.Fprintln(os.Stderr, "aplay: main:830: audio open error: No such file or directory")
		fmt.Fprintln(os.Stderr, "and more")
		return 1
	case "takes all":
		n, _ := io.Copy(io.Discard, os.Stdin)
		fmt.Fprintln(os.Stderr, n)
		return 0
	case "dies":
		io.CopyN(io.Discard, os.Stdin, 100*1024)
		return 3
	}
	return 2
}

// player puts an aplay that plays a part into the PATH.
func player(t *testing.T, part string) {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, os.Symlink(self, filepath.Join(dir, "aplay")))
	t.Setenv("PATH", dir)
	t.Setenv(actAs, part)
}

func TestPlayerThatCannotPlay(t *testing.T) {
	player(t, "has no device")
	out, err := openAplay(context.Background(), newFeed(&counter{}), 48000, Options{})
	assert.Nil(t, out)
	assert.EqualError(t, err, "aplay does not start: aplay stopped: exit status 1: aplay: main:830: audio open error: No such file or directory")
}

func TestNoPlayer(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	out, err := openAplay(context.Background(), newFeed(&counter{}), 48000, Options{})
	assert.Nil(t, out)
	assert.EqualError(t, err, `aplay does not start: exec: "aplay": executable file not found in $PATH`)
}

func TestPlayerThatDies(t *testing.T) {
	player(t, "dies")
	out, err := openAplay(context.Background(), newFeed(&counter{}), 48000, Options{})
	require.NoError(t, err)
	soon(t, out.done(), "its end")
	assert.ErrorContains(t, out.err(), "aplay stopped")
	assert.Equal(t, out.err(), out.hold(func(int64) { assert.Fail(t, "held after its end") }))
	out.close()
}

// TestPlayerThatTakesAll: a device that plays nothing accepts everything, but is sent no more than time
// allows, and a fixed lead.
func TestPlayerThatTakesAll(t *testing.T) {
	player(t, "takes all")
	f := newFeed(&counter{})
	begun := time.Now()
	out, err := openAplay(context.Background(), f, 48000, Options{})
	require.NoError(t, err)
	for range 30 {
		s := soon(t, f.sightings, "where the player is")
		most := time.Since(begun) + aplayAhead + 20*time.Millisecond
		assert.Less(t, s.frame, most.Seconds()*48000)
	}
	held := false
	require.NoError(t, out.hold(func(frame int64) {
		held = true
		assert.Positive(t, frame)
	}))
	assert.True(t, held)
	out.close()
	out.close()
	assert.Equal(t, errClosed, out.err())
}

func TestOnlyTheHeadIsKept(t *testing.T) {
	var h head
	for range 300 {
		n, err := h.Write([]byte("0123456789"))
		require.NoError(t, err)
		require.Equal(t, 10, n)
	}
	assert.Len(t, h, 1024)
}
