//go:build soundserver

// These tests need pulseaudio, parec and pactl. They start a sound server of
// their own whose only output is a null sink, and record what is heard there.

package device

import (
	"bufio"
	"encoding/binary"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/device"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var captureTime = flag.Duration("capture", 120*time.Second, "how long to listen to the clicks")

const rate = 48000

// server is a private PulseAudio.
type server struct {
	t   *testing.T
	dir string
	cmd *exec.Cmd
}

// newServer starts a server and makes the environment point to it.
func newServer(t *testing.T) *server {
	t.Helper()
	// Not t.TempDir(): a socket's path must be shorter than 108 bytes.
	dir, err := os.MkdirTemp("", "sound")
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	s := &server{t: t, dir: dir}
	t.Setenv("HOME", dir)
	t.Setenv("XDG_RUNTIME_DIR", dir)
	t.Setenv("XDG_CONFIG_HOME", dir)
	t.Setenv("PULSE_RUNTIME_PATH", dir)
	t.Setenv("PULSE_SERVER", "unix:"+s.socket())
	s.start()
	t.Cleanup(s.kill)
	return s
}

func (s *server) socket() string { return filepath.Join(s.dir, "native") }

func (s *server) start() {
	s.t.Helper()
	s.cmd = exec.Command("pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1", "--use-pid-file=no",
		"--realtime=yes", "--high-priority=yes", "--log-target=stderr", "--log-level=info",
		"-L", "module-native-protocol-unix auth-anonymous=1 socket="+s.socket(),
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

func (s *server) kill() {
	s.cmd.Process.Kill()
	s.cmd.Wait()
	os.Remove(s.socket())
}

func (s *server) pactl(args ...string) {
	s.t.Helper()
	out, err := exec.Command("pactl", args...).CombinedOutput()
	require.NoError(s.t, err, "pactl %v: %s", args, out)
}

// heard is a frame that was recorded at the sink.
type heard struct{ left, right float32 }

// block is what the recorder gave at one time.
type block struct {
	at     time.Time
	frames []heard
}

// record listens to the sink until the test ends or the server does. It
// returns once the recorder is listening.
func (s *server) record() <-chan block {
	s.t.Helper()
	cmd := exec.Command("parec", "--raw", "--device=out.monitor", "--format=float32le", "--rate=48000", "--channels=2", "--latency-msec=5")
	out, err := cmd.StdoutPipe()
	require.NoError(s.t, err)
	require.NoError(s.t, cmd.Start())
	blocks := make(chan block, 1<<16)
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
			b := block{at: at}
			i := 0
			for ; i+8 <= n; i += 8 {
				b.frames = append(b.frames, heard{
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
	b := next(s.t, blocks)
	require.NotEmpty(s.t, b.frames)
	return blocks
}

// next waits for what a recorder gives.
func next(t *testing.T, blocks <-chan block) block {
	t.Helper()
	select {
	case b, ok := <-blocks:
		require.True(t, ok, "the recorder has ended")
		return b
	case <-time.After(10 * time.Second):
		require.Fail(t, "nothing is recorded")
		return block{}
	}
}

// await waits for a status.
func await(t *testing.T, l *device.Line, what string, good func(device.Status) bool) device.Status {
	t.Helper()
	limit := time.After(10 * time.Second)
	for {
		if s := l.Status(); good(s) {
			return s
		}
		select {
		case <-l.Changed():
		case <-limit:
			require.Fail(t, "waited for "+what, "have %+v", l.Status())
		}
	}
}

func sounding(s device.Status) bool { return s.Sounding }
func mute(s device.Status) bool     { return !s.Sounding }

// clicks is a hit every so many frames.
type clicks struct {
	every int64
	sound audio.Sound
}

func (c clicks) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	for f := (max(from, 0) + c.every - 1) / c.every * c.every; f < to; f += c.every {
		dst = append(dst, audio.Hit{Frame: f, Sound: c.sound, Gain: 1})
	}
	return dst
}

// TestClicksAreHeardOnTheirFrame listens to two clicks a second for two
// minutes: no interval is off by a single frame, and no sample of any click
// by a single bit.
func TestClicksAreHeardOnTheirFrame(t *testing.T) {
	s := newServer(t)
	e := audio.NewEngine(rate)
	const beat = rate / 2
	bell := audio.NewKit(rate).Bell
	e.Play(clicks{beat, bell})
	blocks := s.record()
	l := device.Open(e, rate, device.Options{})
	defer l.Close()

	var (
		at, last  int // frames recorded, and that of the last onset
		intervals []int
		leads     []float64 // ms from reading a click to believing it heard
		inside    = -1      // position in the click, or -1
		since     int       // frames of silence
	)
	for at < int(captureTime.Seconds()*rate) {
		b := next(t, blocks)
		for i, f := range b.frames {
			if inside < 0 && f.left != 0 && since > len(bell) {
				if last > 0 {
					intervals = append(intervals, at-last)
					before := time.Duration(len(b.frames)-i) * time.Second / rate
					now := l.Heard(b.at.Add(-before))
					leads = append(leads, (now-math.Round(now/beat)*beat)/rate*1000)
				}
				last, inside = at, 0
			}
			if inside >= 0 && inside < len(bell) {
				if bell[inside] != f.left || f.left != f.right {
					require.Equal(t, heard{bell[inside], bell[inside]}, f, "sample %d of the click at %d", inside, last)
				}
				if inside++; inside == len(bell) {
					inside = -1
				}
			}
			if since++; f.left != 0 {
				since = 0
			}
			at++
		}
	}
	require.Greater(t, len(intervals), int(captureTime.Seconds()*2)-3)
	for i, n := range intervals {
		assert.Equal(t, beat, n, "interval %d", i)
	}
	mean, sd := spread(leads)
	t.Logf("%d intervals; heard minus recorded: mean %+.2f ms, sd %.2f", len(intervals), mean, sd)
	// What is believed agrees with what is recorded, but for the recorder's
	// own fragments.
	assert.InDelta(t, 0, mean, 10)
	assert.Less(t, sd, 10.0)
}

func spread(x []float64) (mean, sd float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		sd += (v - mean) * (v - mean) / float64(len(x))
	}
	return mean, math.Sqrt(sd)
}

// follow checks the frames of a counter as they are recorded: once it is
// heard, every frame comes once.
type follow struct {
	t     *testing.T
	frame int64 // the last heard, -1 before the first
	marks int   // the last number of marks heard
	on    map[int]int64
}

func (f *follow) take(b block) {
	f.t.Helper()
	for _, h := range b.frames {
		if h.right == 0 && f.frame < 0 {
			continue
		}
		now := int64(math.Round(float64(h.right) * frameUnit))
		if f.frame >= 0 {
			require.Equal(f.t, f.frame+1, now, "a frame is lost or doubled")
		}
		f.frame = now
		if m := int(math.Round(float64(h.left) * markUnit)); m != f.marks {
			require.Equal(f.t, f.marks+1, m)
			f.marks = m
			f.on[m] = now
		}
	}
}

func TestChangeIsHeardAtOnceAndLosesNothing(t *testing.T) {
	s := newServer(t)
	c := &counter{}
	blocks := s.record()
	l := device.Open(c, rate, device.Options{})
	defer l.Close()
	await(t, l, "sound", sounding)
	f := &follow{t: t, frame: -1, on: map[int]int64{}}
	for f.frame < 0 {
		f.take(next(t, blocks))
	}
	var delays []float64
	for n := 1; n <= 100; n++ {
		var from int64
		asked := time.Now()
		now := l.Heard(asked)
		l.Change(func(frame int64) {
			from = frame
			c.mark(frame)
		})
		took := time.Since(asked)
		delay := (float64(from) - now) / rate * 1000
		delays = append(delays, delay)
		assert.Less(t, delay, 60.0, "ms until change %d is heard", n)
		assert.Less(t, took, 100*time.Millisecond)
		for until := f.frame + int64(2000+97*n%5000); f.marks < n || f.frame < until; {
			f.take(next(t, blocks))
		}
		require.Equal(t, from, f.on[n], "the change is heard on its frame")
	}
	mean, sd := spread(delays)
	t.Logf("heard after %.1f ms, sd %.1f", mean, sd)
}

// TestServerIsKilledAndComesBack checks that time runs on meanwhile, and that
// the sound takes up the running time again.
func TestServerIsKilledAndComesBack(t *testing.T) {
	s := newServer(t)
	c := &counter{}
	l := device.Open(c, rate, device.Options{})
	begun := time.Now()
	defer l.Close()
	await(t, l, "sound", sounding)

	steady := steadiness(t, l, begun)
	for range 3 {
		s.kill()
		st := await(t, l, "silence", mute)
		assert.Equal(t, "silent", st.Output)
		assert.Contains(t, st.Problem, "the screen keeps time")
		called := false
		l.Change(func(frame int64) { called = true })
		assert.True(t, called, "changes go on in silence")
		s.start()
		st = await(t, l, "sound again", sounding)
		assert.Equal(t, device.Status{Output: "PulseAudio", Sounding: true}, st)
		agree(t, s, l)
	}
	assert.Less(t, steady(), 5.0, "ms that the heard frame strayed from even time")
}

// agree records for a second and checks that what is heard is what the line
// says.
func agree(t *testing.T, s *server, l *device.Line) {
	t.Helper()
	blocks := s.record()
	var off []float64
	f := &follow{t: t, frame: -1, on: map[int]int64{}}
	for n := 0; n < rate; {
		b := next(t, blocks)
		f.take(b)
		if f.frame >= 0 {
			off = append(off, (l.Heard(b.at)-float64(f.frame))/rate*1000)
			n += len(b.frames)
		}
	}
	mean, sd := spread(off)
	t.Logf("heard minus recorded: mean %+.2f ms, sd %.2f", mean, sd)
	assert.InDelta(t, 0, mean, 10)
}

// steadiness watches the heard frame until the function it returns is called,
// which gives how far it strayed from an even run, in ms.
func steadiness(t *testing.T, l *device.Line, begun time.Time) func() float64 {
	stop, worst := make(chan struct{}), make(chan float64)
	go func() {
		tick := time.NewTicker(5 * time.Millisecond)
		defer tick.Stop()
		most, last := 0.0, 0.0
		for {
			select {
			case <-stop:
				worst <- most
				return
			case now := <-tick.C:
				h := l.Heard(now)
				assert.GreaterOrEqual(t, h, last, "time goes back")
				last = h
				most = max(most, math.Abs(h/rate-now.Sub(begun).Seconds())*1000)
			}
		}
	}()
	return func() float64 {
		close(stop)
		w := <-worst
		t.Logf("strayed by %.2f ms", w)
		return w
	}
}

func TestSuspendedSinkDoesNotStopTime(t *testing.T) {
	s := newServer(t)
	l := device.Open(&counter{}, rate, device.Options{})
	begun := time.Now()
	defer l.Close()
	await(t, l, "sound", sounding)
	steady := steadiness(t, l, begun)
	for range 3 {
		s.pactl("suspend-sink", "out", "1")
		st := await(t, l, "silence", mute)
		assert.Equal(t, device.Status{
			Output: "PulseAudio", Problem: "the sound output is asleep: sound is off, the screen keeps time",
		}, st)
		s.pactl("suspend-sink", "out", "0")
		await(t, l, "sound again", sounding)
		agreeSoon(t, s, l)
	}
	assert.Less(t, steady(), 5.0)
}

// agreeSoon is agree for an output that was brought back in line: what was
// queued before may be heard first.
func agreeSoon(t *testing.T, s *server, l *device.Line) {
	t.Helper()
	blocks := s.record()
	limit := time.Now().Add(time.Second)
	for inLine := 0; inLine < rate/4; {
		b := next(t, blocks)
		h := b.frames[len(b.frames)-1]
		off := (l.Heard(b.at) - float64(h.right)*frameUnit) / rate * 1000
		if math.Abs(off) < 15 {
			inLine += len(b.frames)
		} else {
			inLine = 0
		}
		require.True(t, time.Now().Before(limit), "still %.1f ms apart", off)
	}
}

func TestStreamMovesToAnotherSink(t *testing.T) {
	s := newServer(t)
	l := device.Open(&counter{}, rate, device.Options{})
	begun := time.Now()
	defer l.Close()
	await(t, l, "sound", sounding)
	steady := steadiness(t, l, begun)
	s.pactl("load-module", "module-null-sink", "sink_name=other", "rate=48000", "format=float32le", "channels=2", "norewinds=1")
	out, err := exec.Command("pactl", "list", "short", "sink-inputs").Output()
	require.NoError(t, err)
	input := strings.Fields(string(out))[0]
	s.pactl("move-sink-input", input, "other")
	blocks := s.record() // the old sink: silent from now on
	silent := 0
	for silent < rate/4 {
		for _, f := range next(t, blocks).frames {
			if silent++; f != (heard{}) {
				silent = 0
			}
		}
	}
	s.pactl("move-sink-input", input, "out")
	agreeSoon(t, s, l)
	assert.True(t, l.Status().Sounding)
	assert.Less(t, steady(), 20.0)
}
