//go:build soundserver

// These tests need pulseaudio, parec, pactl, and aplay with its plugin for
// PulseAudio. They start a sound server of their own whose only output is a
// null sink, and record what is heard there.

package device

import (
	"flag"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/device/nullsink"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var captureTime = flag.Duration("capture", 120*time.Second, "how long to listen to the clicks")

const (
	rate     = 48000
	promptly = "1"   // ms
	lazily   = "500" // ms
)

// await waits for a status.
func await(t *testing.T, l *Line, what string, good func(Status) bool) Status {
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

func sounding(s Status) bool { return s.Sounding }
func mute(s Status) bool     { return !s.Sounding }
func lost(s Status) bool     { return s.Output == silent }

// clicks is a hit at regular intervals.
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

// TestClicksAreHeardOnTheirFrame listens to two clicks a second for two minutes: no interval is off by
// a single frame, and no sample of any click by a single bit.
func TestClicksAreHeardOnTheirFrame(t *testing.T) {
	s := nullsink.Start(t)
	e := audio.NewEngine(rate)
	const beat = rate / 2
	bell := audio.NewKit(rate).Bell
	e.Play(clicks{beat, bell})
	blocks := s.Record(lazily)
	l := Open(e, rate, Options{})
	defer l.Close()
	begun := time.Now()
	await(t, l, "sound", sounding)
	t.Logf("sounds %v after it was opened", time.Since(begun).Round(time.Millisecond))

	var (
		recorded  int
		last      = -1 // the frame of the last onset
		quiet     int  // frames since the last sound
		intervals []int
		wrong     int // samples
	)
	for recorded < int(captureTime.Seconds()*rate) {
		for _, f := range nullsink.Next(t, blocks).Frames {
			if f.Left != 0 && quiet > len(bell) {
				if last >= 0 {
					intervals = append(intervals, recorded-last)
				}
				last = recorded
			}
			if quiet++; f.Left != 0 {
				quiet = 0
			}
			var want float32
			if last >= 0 && recorded-last < len(bell) {
				want = bell[recorded-last]
			}
			if f != (nullsink.Frame{Left: want, Right: want}) {
				wrong++
			}
			recorded++
		}
	}
	t.Logf("%d intervals between clicks", len(intervals))
	require.Greater(t, len(intervals), int(captureTime.Seconds()*2)-4)
	assert.Equal(t, slices.Repeat([]int{beat}, len(intervals)), intervals)
	assert.Zero(t, wrong, "samples that differ")
}

// TestDevicesOfOtherKinds play the clicks as evenly: the server makes our frames theirs, which moves a click by less than
// one of the slower's, and the first by what its filter needs.
func TestDevicesOfOtherKinds(t *testing.T) {
	for name, kind := range map[string][]string{
		"192 kHz":            {"rate=192000", "format=float32le", "channels=2"},
		"mono":               {"rate=48000", "format=s16le", "channels=1"},
		"192 kHz, mono":      {"rate=192000", "format=s32le", "channels=1"},
		"8 kHz, 8 bit, mono": {"rate=8000", "format=u8", "channels=1"},
		"six loudspeakers":   {"rate=44100", "format=s24le", "channels=6"},
	} {
		t.Run(name, func(t *testing.T) {
			s := nullsink.Start(t)
			s.Pactl(append([]string{"load-module", "module-null-sink", "sink_name=odd", "norewinds=1"}, kind...)...)
			s.Pactl("set-default-sink", "odd")
			intervals := clicksOf(t, s, "odd", 9)
			for _, i := range intervals {
				assert.InDelta(t, rate/2, i, rate/8000.0+1, "%v", intervals)
			}
		})
	}
}

// TestPipeWire plays the clicks on their frames.
func TestPipeWire(t *testing.T) {
	s := nullsink.StartPipeWire(t)
	assert.Contains(t, s.Pactl("info"), "PipeWire")
	intervals := clicksOf(t, s, "out", 24)
	assert.Equal(t, slices.Repeat([]int{rate / 2}, len(intervals)), intervals)
}

// clicksOf plays two clicks a second and returns how many frames there are between those that a sink plays; the first may be
// cut off, and are left out.
func clicksOf(t *testing.T, s *nullsink.Server, sink string, n int) (intervals []int) {
	t.Helper()
	const beat = rate / 2
	e := audio.NewEngine(rate)
	e.Play(clicks{beat, audio.NewKit(rate).Bell})
	blocks := s.RecordOf(sink, lazily)
	l := Open(e, rate, Options{})
	defer l.Close()
	await(t, l, "sound", sounding)
	recorded, quiet, last, heard := 0, 0, 0, 0
	for len(intervals) < n-3 {
		require.Less(t, recorded, (20+n)*rate, "clicks are heard")
		for _, f := range nullsink.Next(t, blocks).Frames {
			loud := max(f.Left, f.Right, -f.Left, -f.Right) > 0.05
			if loud && quiet > beat/2 {
				if heard++; heard > 3 {
					intervals = append(intervals, recorded-last)
				}
				last = recorded
			}
			if quiet++; loud {
				quiet = 0
			}
			recorded++
		}
	}
	return intervals
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

// follow checks the frames of a counter as they are recorded: each is heard once and in its place. When
// the machine is busy some may be missing, but the others must not shift.
type follow struct {
	t       *testing.T
	frame   int64  // the last recorded, -1 before the first is heard
	last    int64  // the last heard
	missing int    // frames that were not heard
	marks   []mark // in the order heard
}

// mark is where a mark was first heard: on frame by, while the frame heard before, after, has none.
type mark struct{ after, by int64 }

func (f *follow) take(b nullsink.Block) {
	f.t.Helper()
	for _, frame := range b.Frames {
		h := heard{frame.Left, frame.Right}
		switch {
		case f.frame < 0 && h == (heard{}):
			continue
		case f.frame < 0:
			f.frame = h.frame()
		default:
			f.frame++
		}
		if h == (heard{}) {
			f.missing++
			continue
		}
		if h.frame() != f.frame {
			require.Equal(f.t, f.frame, h.frame(), "a frame is out of its place")
		}
		if h.marks() != len(f.marks) {
			require.Equal(f.t, len(f.marks)+1, h.marks())
			f.marks = append(f.marks, mark{f.last, f.frame})
		}
		f.last = f.frame
	}
}

// heardOn checks that the last mark heard lies on a frame.
func (f *follow) heardOn(frame int64) {
	f.t.Helper()
	m := f.marks[len(f.marks)-1]
	require.LessOrEqual(f.t, m.after, frame-1, "it is heard on its frame")
	require.GreaterOrEqual(f.t, m.by, frame, "it is heard on its frame")
}

func TestChangeIsHeardAtOnceAndLosesNothing(t *testing.T) {
	s := nullsink.Start(t)
	c := &counter{}
	blocks := s.Record(lazily)
	l := Open(c, rate, Options{})
	defer l.Close()
	await(t, l, "sound", sounding)
	f := &follow{t: t, frame: -1}
	for f.frame < 0 {
		f.take(nullsink.Next(t, blocks))
	}
	var delays []float64
	random := rand.New(rand.NewPCG(5, 6))
	for n := 1; n <= 60; n++ {
		// At any moment, not just when the recorder has got something.
		<-time.After(time.Duration(random.Int64N(int64(60 * time.Millisecond))))
		var from int64
		asked := time.Now()
		now := l.Heard(asked)
		l.Change(func(frame int64) {
			from = frame
			c.mark(frame)
		})
		took := time.Since(asked)
		delays = append(delays, (float64(from)-now)/rate*1000)
		assert.Less(t, took, 100*time.Millisecond)
		for len(f.marks) < n {
			f.take(nullsink.Next(t, blocks))
		}
		f.heardOn(from)
	}
	mean, sd := spread(delays)
	slices.Sort(delays)
	t.Logf("heard after %.1f ms, sd %.1f, at most %.1f; %d frames missing", mean, sd, delays[len(delays)-1], f.missing)
	assert.Less(t, delays[len(delays)*9/10], 60.0, "nine of ten changes are heard within 60 ms")
	assert.Less(t, delays[len(delays)-1], 100.0, "and all within 100")
	assert.Less(t, f.missing, rate/10, "frames missing")
}

// TestServerIsKilledAndComesBack checks that time runs on meanwhile, and that the sound rejoins the
// running time.
func TestServerIsKilledAndComesBack(t *testing.T) {
	s := nullsink.Start(t)
	c := &counter{}
	l := Open(c, rate, Options{})
	begun := time.Now()
	defer l.Close()
	await(t, l, "sound", sounding)

	steady := steadiness(t, l, begun)
	for range 3 {
		s.Kill()
		st := await(t, l, "silence", lost)
		assert.Contains(t, st.Problem, "the screen keeps time")
		called := false
		l.Change(func(frame int64) { called = true })
		assert.True(t, called, "changes go on in silence")
		s.Again()
		st = await(t, l, "sound again", sounding)
		assert.Equal(t, Status{Output: "PulseAudio", Device: Device{Name: "out"}, Sounding: true}, st)
		agree(t, s, l, 5)
	}
	assert.Less(t, steady(), 5.0, "ms that the heard frame strayed from even time")
}

// agree records for a second and checks that what is heard is what the line says, on average within
// some ms.
func agree(t *testing.T, s *nullsink.Server, l *Line, within float64) {
	t.Helper()
	blocks := s.Record(promptly)
	var off []float64
	f := &follow{t: t, frame: -1}
	for n := 0; n < rate; {
		b := nullsink.Next(t, blocks)
		f.take(b)
		if f.frame >= 0 {
			off = append(off, (l.Heard(b.At)-float64(f.frame))/rate*1000)
			n += len(b.Frames)
		}
	}
	mean, sd := spread(off)
	t.Logf("heard minus recorded: mean %+.2f ms, sd %.2f", mean, sd)
	assert.InDelta(t, 0, mean, within)
}

// steadiness watches the heard frame until the function it returns is called, which returns how far it
// strayed from an even run, in ms.
func steadiness(t *testing.T, l *Line, begun time.Time) func() float64 {
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
	s := nullsink.Start(t)
	l := Open(&counter{}, rate, Options{})
	begun := time.Now()
	defer l.Close()
	await(t, l, "sound", sounding)
	steady := steadiness(t, l, begun)
	for range 3 {
		s.Pactl("suspend-sink", "out", "1")
		st := await(t, l, "silence", mute)
		assert.Equal(t, Status{
			Output: "PulseAudio", Device: Device{Name: "out"}, Problem: "the sound output is asleep: sound is off, the screen keeps time",
		}, st)
		s.Pactl("suspend-sink", "out", "0")
		await(t, l, "sound again", sounding)
		agreeSoon(t, s, l)
	}
	assert.Less(t, steady(), 5.0)
}

// agreeSoon is agree for an output that was realigned: what was queued before may be heard first.
func agreeSoon(t *testing.T, s *nullsink.Server, l *Line) {
	t.Helper()
	blocks := s.Record(promptly)
	limit := time.Now().Add(time.Second)
	for inLine := 0; inLine < rate/4; {
		b := nullsink.Next(t, blocks)
		h := b.Frames[len(b.Frames)-1]
		off := (l.Heard(b.At) - float64(h.Right)*frameUnit) / rate * 1000
		if math.Abs(off) < 10 {
			inLine += len(b.Frames)
		} else {
			inLine = 0
		}
		require.True(t, time.Now().Before(limit), "still %.1f ms apart", off)
	}
}

func TestStreamMovesToAnotherSink(t *testing.T) {
	s := nullsink.Start(t)
	l := Open(&counter{}, rate, Options{})
	begun := time.Now()
	defer l.Close()
	await(t, l, "sound", sounding)
	steady := steadiness(t, l, begun)
	s.AddSink("other")
	input := s.Input()
	s.Pactl("move-sink-input", input, "other")
	blocks := s.Record(promptly) // the old sink: silent from now on
	silent := 0
	for silent < rate/4 {
		for _, f := range nullsink.Next(t, blocks).Frames {
			if silent++; f != (nullsink.Frame{}) {
				silent = 0
			}
		}
	}
	s.Pactl("move-sink-input", input, "out")
	agreeSoon(t, s, l)
	assert.True(t, l.Status().Sounding)
	assert.Less(t, steady(), 20.0)
}

// TestTheDeviceIsTheSinkThatPlays: the name follows when the default changes and when the stream is
// moved, even because its sink goes away.
func TestTheDeviceIsTheSinkThatPlays(t *testing.T) {
	s := nullsink.Start(t)
	late := map[string]time.Duration{"bluez_output.lounge.1": 180 * time.Millisecond}
	l := Open(&counter{}, rate, Options{Late: func(s Status) time.Duration { return late[s.Device.Name] }})
	begun := time.Now()
	defer l.Close()
	st := await(t, l, "sound", sounding)
	assert.Equal(t, Status{Output: "PulseAudio", Device: Device{Name: "out"}, Sounding: true}, st)
	on := func(name string) {
		t.Helper()
		asked := time.Now()
		await(t, l, name, func(s Status) bool { return s.Device == Device{Name: name} })
		t.Logf("%s is known %v after pactl has ended", name, time.Since(asked).Round(time.Millisecond))
		now := time.Now()
		assert.InDelta(t, late[name].Seconds(), now.Sub(begun).Seconds()-l.Heard(now)/rate, 0.02, "s late on %s", name)
	}
	lounge := s.AddSink("bluez_output.lounge.1")
	s.AddSink("terrace")
	s.Pactl("set-default-sink", "bluez_output.lounge.1")
	on("bluez_output.lounge.1")
	s.Pactl("move-sink-input", s.Input(), "terrace")
	on("terrace")
	s.Pactl("move-sink-input", s.Input(), "bluez_output.lounge.1")
	on("bluez_output.lounge.1")
	s.Pactl("set-default-sink", "out")
	s.Pactl("unload-module", lounge)
	on("out")
	agreeSoon(t, s, l)
}

// TestWhatPeopleCallADevice is looked up only on request.
func TestWhatPeopleCallADevice(t *testing.T) {
	s := nullsink.Start(t)
	s.AddSink("lounge", `sink_properties="device.description='Living-room speaker' device.api=bluez"`)
	s.AddSink("terrace", `sink_properties="device.description='Terrace`+"\x1b"+`[31m'"`)
	l := Open(&counter{}, rate, Options{Describe: true})
	defer l.Close()
	await(t, l, "sound", sounding)
	for _, d := range []Device{
		{"lounge", "Living-room speaker (Bluetooth)"},
		{"terrace", "Terrace\x1b[31m"}, // whoever shows it must escape it
	} {
		s.Pactl("move-sink-input", s.Input(), d.Name)
		await(t, l, d.Called, func(s Status) bool { return s.Device == d })
	}
	assert.True(t, l.Status().Sounding)
}

// TestServerHangs stops the server's process for a while.
func TestServerHangs(t *testing.T) {
	s := nullsink.Start(t)
	l := Open(&counter{}, rate, Options{})
	begun := time.Now()
	defer l.Close()
	await(t, l, "sound", sounding)
	steady := steadiness(t, l, begun)

	require.NoError(t, s.Signal(syscall.SIGSTOP))
	asked := time.Now()
	var at int64
	l.Change(func(frame int64) { at = frame })
	assert.Less(t, time.Since(asked), patience+50*time.Millisecond)
	assert.InDelta(t, l.Heard(time.Now()), float64(at), rate/100)
	st := await(t, l, "silence", lost)
	assert.Equal(t, Status{Output: "silent", Problem: "the sound server does not answer: sound is off, the screen keeps time"}, st)

	require.NoError(t, s.Signal(syscall.SIGCONT))
	await(t, l, "sound again", sounding)
	agree(t, s, l, 5)
	assert.Less(t, steady(), 5.0)
}

// TestServerHangsUnnoticed is the same, but nothing changes meanwhile that would notice.
func TestServerHangsUnnoticed(t *testing.T) {
	s := nullsink.Start(t)
	l := Open(&counter{}, rate, Options{})
	defer l.Close()
	await(t, l, "sound", sounding)
	require.NoError(t, s.Signal(syscall.SIGSTOP))
	await(t, l, "silence", lost)
	begun := time.Now()
	require.NoError(t, l.Close())
	assert.Less(t, time.Since(begun), patience)
}

// TestThroughAplay hides the server from the program, and gives it an ALSA whose default device is ours.
func TestThroughAplay(t *testing.T) {
	s := nullsink.Start(t)
	t.Setenv("PULSE_SERVER", filepath.Join(s.Dir, "none"))
	require.NoError(t, os.WriteFile(filepath.Join(s.Dir, ".asoundrc"),
		[]byte("pcm.!default { type pulse server \"unix:"+s.Socket()+"\" }\n"), 0o600))
	c := &counter{}
	l := Open(c, rate, Options{})
	begun := time.Now()
	defer l.Close()
	st := await(t, l, "sound", sounding)
	assert.Equal(t, Status{Output: "aplay", Device: Device{Name: "default"}, Sounding: true}, st)
	steady := steadiness(t, l, begun)
	agree(t, s, l, 15)

	blocks := s.Record(lazily)
	f := &follow{t: t, frame: -1}
	for n := 1; n <= 5; n++ {
		var from int64
		now := l.Heard(time.Now())
		l.Change(func(frame int64) {
			from = frame
			c.mark(frame)
		})
		assert.Less(t, (float64(from)-now)/rate*1000, 200.0)
		for len(f.marks) < n {
			f.take(nullsink.Next(t, blocks))
		}
		f.heardOn(from)
	}
	assert.Less(t, steady(), 30.0)
}

// TestTheServerIsLeftAloneWhileNothingSounds: the stream is corked. The next change is heard whole, on its
// frame, and as soon as any other.
func TestTheServerIsLeftAloneWhileNothingSounds(t *testing.T) {
	s := nullsink.Start(t)
	c := &counter{}
	var until atomic.Int64
	l := Open(c, rate, Options{Silence: func(from int64) bool { return from >= until.Load() }})
	defer l.Close()
	await(t, l, "sound", sounding)
	corked := func() bool { return strings.Contains(s.Pactl("list", "sink-inputs"), "Corked: yes") }
	blocks := s.Record(lazily)
	for n := 1; n <= 5; n++ {
		require.Eventually(t, corked, 10*time.Second, 50*time.Millisecond)
		still := l.Heard(time.Now())
		for quiet := 0; quiet < 2*rate; { // also passes over what was queued
			for _, f := range nullsink.Next(t, blocks).Frames {
				if quiet++; f != (nullsink.Frame{}) {
					quiet = 0
				}
			}
		}
		assert.Equal(t, still, l.Heard(time.Now()), "time stands still")
		f := &follow{t: t, frame: -1, marks: make([]mark, n-1)}
		asked := time.Now()
		var from int64
		l.Change(func(frame int64) {
			from = frame
			c.mark(frame)
			until.Store(frame + rate)
		})
		took := time.Since(asked)
		assert.Less(t, took, 100*time.Millisecond)
		for l.Heard(time.Now()) < float64(from) {
			<-time.After(time.Millisecond)
		}
		t.Logf("the change took %v, and was heard after %v", took.Round(time.Millisecond/10), time.Since(asked).Round(time.Millisecond))
		assert.Less(t, time.Since(asked), 150*time.Millisecond)
		for len(f.marks) < n {
			f.take(nullsink.Next(t, blocks))
		}
		assert.Equal(t, from, f.marks[n-1].by, "the first frame is heard")
		for f.frame < from+rate/2 {
			f.take(nullsink.Next(t, blocks))
		}
		agreeSoon(t, s, l)
	}
}

// TestAplayRests checks that aplay is sent nothing while nothing sounds, and that the next change is heard
// on its frame.
func TestAplayRests(t *testing.T) {
	s := nullsink.Start(t)
	t.Setenv("PULSE_SERVER", filepath.Join(s.Dir, "none"))
	require.NoError(t, os.WriteFile(filepath.Join(s.Dir, ".asoundrc"),
		[]byte("pcm.!default { type pulse server \"unix:"+s.Socket()+"\" }\n"), 0o600))
	c := &counter{}
	var until atomic.Int64
	l := Open(c, rate, Options{Silence: func(from int64) bool { return from >= until.Load() }})
	defer l.Close()
	await(t, l, "sound", sounding)
	for n := 1; n <= 3; n++ {
		require.Eventually(t, func() bool {
			still := l.Heard(time.Now())
			<-time.After(500 * time.Millisecond)
			return still == l.Heard(time.Now())
		}, 10*time.Second, 10*time.Millisecond)
		asked := time.Now()
		l.Change(func(frame int64) {
			c.mark(frame)
			until.Store(frame + 4*rate)
		})
		from := until.Load() - 4*rate
		for l.Heard(time.Now()) < float64(from) {
			<-time.After(time.Millisecond)
		}
		t.Logf("heard after %v", time.Since(asked).Round(time.Millisecond))
		assert.Less(t, time.Since(asked), 300*time.Millisecond)
		agreeSoon(t, s, l)
		assert.True(t, l.Status().Sounding)
	}
}
