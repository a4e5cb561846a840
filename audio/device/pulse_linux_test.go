package device

import (
	"context"
	"errors"
	"io"
	"net"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pretend listens where a sound server would, handles each connection with treat, and points the
// environment to itself.
func pretend(t *testing.T, treat func(net.Conn)) {
	t.Helper()
	// Not t.TempDir(), whose name grows with the test's: a socket's path must be shorter than 108
	// bytes.
	dir, err := os.MkdirTemp("", "sound")
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	path := filepath.Join(dir, "native")
	ln, err := net.Listen("unix", path)
	require.NoError(t, err)
	t.Cleanup(func() { ln.Close() })
	go func() {
		for {
			conn, err := ln.Accept()
			if err != nil {
				return
			}
			go treat(conn)
		}
	}()
	t.Setenv("PULSE_SERVER", "unix:"+path)
}

func TestServersThatAreNone(t *testing.T) {
	hold := func(c net.Conn) { io.Copy(io.Discard, c) }
	for _, c := range []struct {
		name  string
		treat func(net.Conn) // nil: nobody listens
		plain string
		waits bool // until patience is over
	}{
		{"no server", nil, "no sound server found", false},
		{"hangs up at once", func(c net.Conn) { c.Close() }, "the sound server does not answer", false},
		{"never answers", hold, "the sound server does not answer", true},
		{"speaks another language", func(c net.Conn) {
			io.WriteString(c, "HTTP/1.1 400 Bad Request\r\nConnection: close\r\n\r\n")
			c.Close()
		}, "the sound server does not answer", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.treat != nil {
				pretend(t, c.treat)
			} else {
				t.Setenv("PULSE_SERVER", filepath.Join(t.TempDir(), "native"))
			}
			out, err := openPulse(context.Background(), newFeed(&counter{}), 48000, Options{})
			assert.Equal(t, c.waits, errors.Is(err, context.DeadlineExceeded))
			assert.Nil(t, out)
			var f *failure
			require.ErrorAs(t, err, &f)
			assert.Equal(t, c.plain, f.plain)
			assert.Error(t, f.cause)
		})
	}
}

// TestLineOnAServerThatNeverAnswers keeps time, and isn't held up by the server.
func TestLineOnAServerThatNeverAnswers(t *testing.T) {
	never := []opener{{name: "PulseAudio", open: func(ctx context.Context, f *feed, rate int, o Options) (output, error) {
		near, far := net.Pipe()
		go io.Copy(io.Discard, far)
		p, err := startPulse(ctx, near, f, rate, o)
		if err != nil {
			near.Close()
			return nil, &failure{"the sound server does not answer", err}
		}
		return p, nil
	}}}
	synctest.Test(t, func(t *testing.T) {
		begun := time.Now()
		l := open(&counter{}, 48000, Options{}, never)
		<-time.After(patience / 2)
		var at int64
		l.Change(func(frame int64) { at = frame })
		now := time.Now()
		assert.InDelta(t, now.Sub(begun).Seconds()*48000, l.Heard(now), 1)
		assert.InDelta(t, l.Heard(now), float64(at), 1)
		require.NoError(t, l.Close())
		assert.Equal(t, patience/2, time.Since(begun), "it does not wait for an answer")

		l = open(&counter{}, 48000, Options{}, never)
		<-l.Changed()
		assert.Equal(t, Status{Output: "silent", Problem: "the sound server does not answer: sound is off, the screen keeps time"}, l.Status())
		require.NoError(t, l.Close())
	})
}

func TestWhereServersListen(t *testing.T) {
	t.Setenv("PULSE_SERVER", "{4fa2}unix:/a/native tcp:boathouse.example:4714 /b/native")
	assert.Equal(t, []string{"unix:/a/native", "tcp:boathouse.example:4714", "/b/native"}, pulseServers())

	t.Setenv("PULSE_SERVER", "{unfinished")
	assert.Equal(t, []string{""}, pulseServers())
	_, err := dialPulse(t.Context(), "")
	assert.EqualError(t, err, `sound server "": not an address`)

	t.Setenv("PULSE_SERVER", "")
	t.Setenv("PULSE_RUNTIME_PATH", "/p")
	t.Setenv("XDG_RUNTIME_DIR", "/x")
	assert.Equal(t, []string{"/p/native", "/x/pulse/native"}, pulseServers()[:2])
}

func TestDialling(t *testing.T) {
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer ln.Close()
	conn, err := dialPulse(t.Context(), "tcp:"+ln.Addr().String())
	require.NoError(t, err)
	assert.Equal(t, ln.Addr().String(), conn.RemoteAddr().String())
	conn.Close()
}

func TestCookie(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("HOME", dir)
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(dir, "config"))
	t.Setenv("PULSE_COOKIE", "")
	assert.Equal(t, make([]byte, 256), pulseCookie(), "nothing, for servers that do not ask")

	secret := func(b byte) []byte {
		s := make([]byte, 256)
		s[0] = b
		return s
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, ".pulse-cookie"), secret(1), 0o600))
	assert.Equal(t, secret(1), pulseCookie())
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "config", "pulse"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "config", "pulse", "cookie"), secret(2), 0o600))
	assert.Equal(t, secret(2), pulseCookie())
	require.NoError(t, os.WriteFile(filepath.Join(dir, "mine"), secret(3), 0o600))
	t.Setenv("PULSE_COOKIE", filepath.Join(dir, "mine"))
	assert.Equal(t, secret(3), pulseCookie())
	require.NoError(t, os.WriteFile(filepath.Join(dir, "mine"), []byte("cut off"), 0o600))
	assert.Equal(t, secret(2), pulseCookie(), "one of the wrong size is none")
}

// TestACookieIsAPlainFile: an endless file or a pipe is not read.
func TestACookieIsAPlainFile(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("HOME", dir)
	t.Setenv("XDG_CONFIG_HOME", dir)
	large, pipe := filepath.Join(dir, "large"), filepath.Join(dir, "pipe")
	require.NoError(t, os.WriteFile(large, nil, 0o600))
	require.NoError(t, os.Truncate(large, 1<<40)) // sparse
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	for _, cookie := range []string{"/dev/zero", large, pipe} {
		t.Setenv("PULSE_COOKIE", cookie)
		assert.Equal(t, make([]byte, 256), pulseCookie(), cookie)
	}
}

// TestStrictConnection: the protocol library handles only io.EOF, and ignores failed writes, so the
// connection must be strict for it.
func TestStrictConnection(t *testing.T) {
	near, far := net.Pipe()
	far.Close()
	_, err := newStrict(near).Write([]byte("x"))
	assert.Error(t, err)
	_, err = near.Write([]byte("x"))
	assert.ErrorIs(t, err, io.ErrClosedPipe, "closed by the failed write")

	near, _ = net.Pipe()
	require.NoError(t, near.SetReadDeadline(time.Now()))
	_, err = newStrict(near).Read(make([]byte, 1))
	assert.Equal(t, io.EOF, err)
	assert.False(t, errors.Is(err, os.ErrDeadlineExceeded))
}

// TestNoEmptyPacketIsSent: a server hangs up on an empty packet, and one would be due once hold has sent
// what the writer was about to send.
func TestNoEmptyPacketIsSent(t *testing.T) {
	p := &pulse{} // not connected: sending anything would panic
	assert.NoError(t, p.send(0))
	assert.NoError(t, p.send(-512))
}
