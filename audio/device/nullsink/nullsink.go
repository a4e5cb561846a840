//go:build soundserver

// Package nullsink starts a private sound server for tests, whose outputs are
// null sinks, and records what is heard there. It needs pulseaudio, pactl and
// parec.
package nullsink

import (
	"bufio"
	"encoding/binary"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Server is a private PulseAudio, whose default sink is "out", at 48000 frames a
// second.
type Server struct {
	Dir string // has its socket
	t   testing.TB
	cmd *exec.Cmd
}

// Start starts a server, which ends with the test, and makes the environment
// point to it.
func Start(t testing.TB) *Server {
	t.Helper()
	s := newServer(t)
	s.Again()
	t.Cleanup(s.Kill)
	return s
}

// StartPipeWire is like [Start], with PipeWire in PulseAudio's place. The test is skipped where that isn't installed.
func StartPipeWire(t testing.TB) *Server {
	t.Helper()
	programs := []string{"dbus-daemon", "pipewire", "wireplumber", "pipewire-pulse"}
	for _, program := range programs {
		if _, err := exec.LookPath(program); err != nil {
			t.Skipf("PipeWire is not installed: %v", err)
		}
	}
	s := newServer(t)
	bus := "unix:path=" + filepath.Join(s.Dir, "bus")
	t.Setenv("DBUS_SESSION_BUS_ADDRESS", bus)
	for _, program := range programs {
		cmd := exec.Command(program)
		if program == "dbus-daemon" {
			cmd.Args = append(cmd.Args, "--session", "--nofork", "--address="+bus)
		}
		require.NoError(t, cmd.Start())
		t.Cleanup(func() {
			_ = cmd.Process.Kill() // it may have ended
			_ = cmd.Wait()
		})
		// The next ends if it doesn't find it.
		if socket := map[string]string{"dbus-daemon": "bus", "pipewire": "pipewire-0"}[program]; socket != "" {
			s.eventually(func() bool { _, err := os.Stat(filepath.Join(s.Dir, socket)); return err == nil })
		}
	}
	s.eventually(func() bool { return s.Client("pactl", "info").Run() == nil })
	s.AddSink("out")
	s.eventually(func() bool { return s.Client("pactl", "set-default-sink", "out").Run() == nil })
	return s
}

// eventually waits until the server is ready.
func (s *Server) eventually(ready func() bool) {
	s.t.Helper()
	require.Eventually(s.t, ready, 20*time.Second, 100*time.Millisecond, "the sound server does not get ready")
}

// newServer makes a server that is not started yet.
func newServer(t testing.TB) *Server {
	t.Helper()
	// Not t.TempDir(): a socket's path must be shorter than 108 bytes.
	dir, err := os.MkdirTemp("", "sound")
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	s := &Server{Dir: dir, t: t}
	t.Setenv("HOME", dir)
	t.Setenv("XDG_RUNTIME_DIR", dir)
	t.Setenv("XDG_CONFIG_HOME", dir)
	t.Setenv("PULSE_RUNTIME_PATH", dir)
	t.Setenv("PULSE_SERVER", "unix:"+s.Socket())
	return s
}

// Socket returns where clients find the server.
func (s *Server) Socket() string { return filepath.Join(s.Dir, "native") }

// Again starts a server that was killed.
func (s *Server) Again() {
	s.t.Helper()
	s.cmd = exec.Command("pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1", "--use-pid-file=no",
		"--realtime=yes", "--high-priority=yes", "--log-target=stderr", "--log-level=info",
		"-L", "module-native-protocol-unix auth-anonymous=1 socket="+s.Socket(),
		// Without norewinds an idle null sink has rendered up to 2 s of
		// silence ahead, and a new stream starts that much later.
		"-L", "module-null-sink sink_name=out rate=48000 format=float32le channels=2 norewinds=1")
	log, err := s.cmd.StderrPipe()
	require.NoError(s.t, err)
	require.NoError(s.t, s.cmd.Start())
	ready := make(chan bool, 1)
	go func() {
		lines := bufio.NewScanner(log)
		for lines.Scan() {
			if strings.Contains(lines.Text(), "Daemon startup complete") {
				ready <- true
			}
		}
		close(ready)
	}()
	select {
	case ok := <-ready:
		require.True(s.t, ok, "the sound server did not start")
	case <-time.After(20 * time.Second):
		require.Fail(s.t, "the sound server does not get ready")
	}
}

// Kill ends the server at once.
func (s *Server) Kill() {
	s.cmd.Process.Kill()
	s.cmd.Wait()
	os.Remove(s.Socket())
}

// Signal sends a signal to the server's process.
func (s *Server) Signal(signal os.Signal) error { return s.cmd.Process.Signal(signal) }

// Pactl has the server do something and returns what pactl prints.
func (s *Server) Pactl(args ...string) string {
	s.t.Helper()
	out, err := s.Client("pactl", args...).Output()
	require.NoError(s.t, err, "pactl %v", args)
	return strings.TrimSpace(string(out))
}

// AddSink adds a null sink and returns the number of its module.
func (s *Server) AddSink(name string, properties ...string) (module string) {
	s.t.Helper()
	args := []string{"load-module", "module-null-sink", "sink_name=" + name, "rate=48000", "format=float32le", "channels=2", "norewinds=1"}
	return s.Pactl(append(args, properties...)...)
}

// Input returns the number of the stream that plays.
func (s *Server) Input() string {
	s.t.Helper()
	number, _, found := strings.Cut(s.Pactl("list", "short", "sink-inputs"), "\t")
	require.True(s.t, found, "no stream plays")
	return number
}

// Client returns a command that finds the server, wherever the environment points.
func (s *Server) Client(name string, args ...string) *exec.Cmd {
	cmd := exec.Command(name, args...)
	cmd.Env = append(os.Environ(), "PULSE_SERVER=unix:"+s.Socket())
	return cmd
}

// Frame is a sample for each of the two loudspeakers.
type Frame struct{ Left, Right float32 }

// Block is what the recorder returned at one time.
type Block struct {
	At     time.Time
	Frames []Frame
}

// Record listens to the sink "out"; see RecordOf.
func (s *Server) Record(latency string) <-chan Block {
	s.t.Helper()
	return s.RecordOf("out", latency)
}

// RecordOf listens to a sink until the test ends or the server does. It
// returns once the recorder is listening.
//
// Blocks come as often as latency says, in ms. A short one gives the time at
// which a frame was heard, but also makes the sink as prompt as that; a long
// one leaves it as it is.
func (s *Server) RecordOf(sink, latency string) <-chan Block {
	s.t.Helper()
	cmd := s.Client("parec", "--raw", "--device="+sink+".monitor", "--format=float32le", "--rate=48000", "--channels=2", "--latency-msec="+latency)
	out, err := cmd.StdoutPipe()
	require.NoError(s.t, err)
	require.NoError(s.t, cmd.Start())
	blocks := make(chan Block, 1<<16)
	go func() {
		defer close(blocks)
		raw := make([]byte, 1<<16)
		held := 0
		for {
			n, err := out.Read(raw[held:])
			at := time.Now()
			if err != nil {
				return
			}
			n += held
			b := Block{At: at}
			i := 0
			for ; i+8 <= n; i += 8 {
				b.Frames = append(b.Frames, Frame{
					math.Float32frombits(binary.LittleEndian.Uint32(raw[i:])),
					math.Float32frombits(binary.LittleEndian.Uint32(raw[i+4:])),
				})
			}
			held = copy(raw, raw[i:n])
			blocks <- b
		}
	}()
	s.t.Cleanup(func() {
		cmd.Process.Kill()
		io.Copy(io.Discard, out)
		cmd.Wait()
	})
	b := Next(s.t, blocks)
	require.NotEmpty(s.t, b.Frames)
	return blocks
}

// Next waits for the next block of a recording.
func Next(t testing.TB, blocks <-chan Block) Block {
	t.Helper()
	select {
	case b, ok := <-blocks:
		require.True(t, ok, "the recorder has ended")
		return b
	case <-time.After(10 * time.Second):
		require.Fail(t, "nothing is recorded")
		return Block{}
	}
}
