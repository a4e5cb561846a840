package main

import (
	"bytes"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/gopxl/beep/v2"
	"github.com/gopxl/beep/v2/wav"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
)

// pretendToSpeak is the speech program of the tests: half a second of a tone, at once.
// It notes what it is asked to say, and fails if it is told to.
func pretendToSpeak() {
	text, err := io.ReadAll(os.Stdin)
	if err != nil || os.Getenv("SPEECH_FAILS") != "" {
		os.Exit(3)
	}
	if path := os.Getenv("SPEECH_HEARD"); path != "" {
		heard, err := os.OpenFile(path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
		if err == nil {
			_, err = heard.Write(append(text, '\n'))
		}
		if err != nil {
			os.Exit(4)
		}
	}
	n := 0
	tone := beep.StreamerFunc(func(samples [][2]float64) (int, bool) {
		for i := range samples {
			x := 0.3 * math.Cos(2*math.Pi*480*float64(n)/rate)
			samples[i] = [2]float64{x, x}
			n++
		}
		return len(samples), true
	})
	var out bytes.Buffer
	if err := audio.WriteWAV(&out, tone, rate, 16, spokenFrames); err != nil {
		os.Exit(5)
	}
	_, _ = os.Stdout.Write(out.Bytes())
}

// spokenFrames is how long the speech program of the tests speaks.
const spokenFrames = rate / 2

// speechProgram puts that program, and no other, on the PATH.
func speechProgram(t *testing.T) {
	t.Helper()
	install(t, "espeak-ng")
}

// install has only these of the tests' programs be found.
func install(t *testing.T, names ...string) {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	bin := t.TempDir()
	for _, name := range names {
		if runtime.GOOS == "windows" {
			name += ".exe"
		}
		require.NoError(t, os.Symlink(self, filepath.Join(bin, name)))
	}
	t.Setenv("PATH", bin)
	t.Setenv("XDG_CACHE_HOME", filepath.Join(bin, "cache"))
	t.Setenv("HOME", bin)
}

// twoFigures is a sheet of two figures of two bars and one, at 120 beats a minute.
const twoFigures = `---
dance: cha-cha
tempo: 30 bars/min
---

## Order

1. Lantern step × 2
2. Quay step

## Lantern step

| Count | Leader     | Follower   |
|:-----:|------------|------------|
|   2   | LF forward | RF back    |
|   3   | RF replace | LF replace |
|   4   | LF side    | RF side    |
|   &   | RF close   | LF close   |
|   1   | LF side    | RF side    |
|   2   | RF back    | LF forward |
|   3   | LF replace | RF replace |
|   4   | RF side    | LF side    |
|   &   | LF close   | RF close   |
|   1   | RF side    | LF side    |

## Quay step

| Count | Leader   | Follower |
|:-----:|----------|----------|
|   2   | LF side  | RF side  |
|   3   | RF close | LF close |
|  4-1  | LF tap   | RF tap   |
`

// track is the left channel of a click track that the program writes of that sheet.
func track(t *testing.T, flags ...string) []float64 {
	t.Helper()
	path := filepath.Join(t.TempDir(), "track.wav")
	var said bytes.Buffer
	require.Equal(t, exitOK, run(append([]string{"write", "track", "-", "-o", path, "--loudness", "0"}, flags...), bytes.NewReader([]byte(twoFigures)), io.Discard, &said), said.String())
	require.Empty(t, said.String())
	f, err := os.Open(path)
	require.NoError(t, err)
	s, format, err := wav.Decode(f)
	require.NoError(t, err)
	defer s.Close()
	require.EqualValues(t, rate, format.SampleRate)
	buf := make([][2]float64, s.Len())
	left := make([]float64, 0, s.Len())
	for len(left) < s.Len() {
		n, ok := s.Stream(buf)
		require.True(t, ok)
		for _, x := range buf[:n] {
			left = append(left, x[0])
		}
	}
	return left
}

// TestTheNamesAreInTheTrack, where they belong, and change nothing else. The first is said before the
// lead-in, which starts a beat later; the second over the last beats of the figure before, and ends before
// that figure's last word could begin.
func TestTheNamesAreInTheTrack(t *testing.T) {
	speechProgram(t)
	without, with := track(t), track(t, "--call")
	const beat, breath, faded = rate / 2, rate * 16 / 100, rate / 100 // in which levels come to where they are
	shift := spokenFrames + beat
	require.Len(t, with, len(without)+shift)
	quay := shift + (4+15)*beat - breath // 4 beats of lead-in, 16 of the lantern steps
	in := func(i int) bool { return i < spokenFrames || i >= quay-spokenFrames && i < quay }
	named, most := 0.0, 0.0
	for i, x := range with {
		if i >= shift {
			x -= without[i-shift]
		}
		if i >= shift && i < shift+faded {
			continue
		}
		if in(i) {
			named += x * x
		} else {
			most = max(most, math.Abs(x))
		}
	}
	assert.InDelta(t, 0.7*0.09, math.Sqrt(named/(2*spokenFrames)), 0.01, "as loud as the voice, at its level")
	assert.Less(t, most, 2.0/(1<<15), "but for rounding the same elsewhere")
}

// TestTheCountGivesWay to a name: nothing is counted while it is said, and everything is from the last beat
// on.
func TestTheCountGivesWay(t *testing.T) {
	speechProgram(t)
	counted, named, both := track(t, "--aloud"), track(t, "--call"), track(t, "--aloud", "--call")
	const beat, breath = rate / 2, rate * 16 / 100
	shift := spokenFrames + beat - breath // the name comes in place of the breath
	first := breath + 4*beat              // of the first step, when it is only counted
	require.Len(t, both, len(counted)+shift)
	require.Len(t, both, len(named))
	name := first + 15*beat - breath - spokenFrames
	differs := func(other []float64, later, from, to int) float64 {
		sum := 0.0
		for i := from; i < to; i++ {
			d := both[i+shift] - other[i+later]
			sum += d * d
		}
		return math.Sqrt(sum / float64(to-from))
	}
	const rounding = 2.0 / (1 << 15)
	assert.Less(t, differs(counted, 0, 0, name-beat), rounding)
	assert.Less(t, differs(named, shift, name, name+spokenFrames), rounding, "the name alone")
	assert.Greater(t, differs(counted, 0, name, name+spokenFrames), 0.05)
	assert.Less(t, differs(counted, 0, first+15*beat, len(counted)), rounding)
	assert.Greater(t, differs(named, shift, first+15*beat, first+16*beat), 0.01, "which is counted")
}
