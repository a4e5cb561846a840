package speech_test

import (
	"bytes"
	"context"
	"io"
	"math"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/gopxl/beep/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/speech"
	"dance.example/slowquick/audio/voice"
)

const (
	rate     = 48000
	loudness = 0.09
)

// The tests' speech program is this binary under a program's name. It does what behaves says, records
// its input in heard, and calls the test at calls.
const (
	behaves = "SPEECH_TEST_BEHAVES"
	heard   = "SPEECH_TEST_HEARD"
	calls   = "SPEECH_TEST_CALLS"
)

func TestMain(m *testing.M) {
	if how, ok := os.LookupEnv(behaves); ok {
		os.Exit(pretend(how))
	}
	os.Exit(m.Run())
}

// pretend acts as a speech program, well-behaved or not.
func pretend(how string) int {
	text, _ := io.ReadAll(os.Stdin)
	log, err := os.OpenFile(os.Getenv(heard), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err == nil {
		_, err = log.WriteString(strings.Join(append([]string{filepath.Base(os.Args[0])}, os.Args[1:]...), "|") + "<" + string(text) + "\n")
	}
	if err != nil {
		return 9
	}
	var out io.Writer = os.Stdout
	for i, a := range os.Args {
		if a == "-w" {
			if out, err = os.Create(os.Args[i+1]); err != nil {
				return 9
			}
		}
	}
	switch how {
	case "speaks":
		_, err = out.Write(spoken(0.3))
	case "is silent":
		_, err = out.Write(spoken(0))
	case "prints garbage":
		_, err = io.WriteString(out, "\x1b]0;lantern\x07 RIFF of rubbish")
	case "crashes":
		return 3
	case "floods":
		for err == nil {
			_, err = out.Write(make([]byte, 1<<16))
		}
		return 1
	case "hangs":
		stay()
	case "hangs in another", "leaves another":
		other := exec.Command(os.Args[0])
		other.Env = append(os.Environ(), behaves+"=hangs")
		if err := other.Start(); err != nil {
			return 9
		}
		if how == "hangs in another" {
			_ = other.Wait() // it has ended
		}
		_, err = out.Write(spoken(0.3))
	case "fills the disk":
		_, _ = out.Write(make([]byte, 2<<20))
		stay()
	}
	if err != nil {
		return 9
	}
	return 0
}

// stay tells the test that the program runs, and never returns.
func stay() {
	if c, err := net.Dial("tcp", os.Getenv(calls)); err == nil {
		_, _ = c.Read(make([]byte, 1))
	}
}

// spoken returns half a second of a tone between silences, as it comes through a pipe: its header
// claims more than there is.
func spoken(level float64) []byte {
	var out bytes.Buffer
	n := 0
	tone := beep.StreamerFunc(func(samples [][2]float64) (int, bool) {
		for i := range samples {
			x := 0.0
			if n > 4410 && n < 4410+22050/2 {
				x = level * math.Sin(float64(n)/10)
			}
			samples[i] = [2]float64{x, x}
			n++
		}
		return len(samples), true
	})
	_ = audio.WriteWAV(&out, tone, 22050, 16, 22050)
	data := out.Bytes()
	copy(data[4:], "\x24\xf0\xff\x7f")
	copy(data[40:], "\x00\xf0\xff\x7f")
	return data
}

// install puts the tests' speech programs, and no others, on the PATH. It returns the file in which
// they record their input.
func install(t *testing.T, how string, names ...string) string {
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
	log := filepath.Join(t.TempDir(), "heard")
	t.Setenv("PATH", bin)
	t.Setenv(behaves, how)
	t.Setenv(heard, log)
	return log
}

// asked returns the lines that the programs recorded.
func asked(t *testing.T, log string) []string {
	t.Helper()
	text, err := os.ReadFile(log)
	if os.IsNotExist(err) {
		return nil
	}
	require.NoError(t, err)
	return strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
}

// TestANameIsSpokenOnce: the recording is trimmed, made as loud as the voice and kept. The next time, even
// with another speaker, it is read; a damaged recording is spoken anew.
func TestANameIsSpokenOnce(t *testing.T) {
	log := install(t, "speaks", "espeak-ng")
	folder := filepath.Join(t.TempDir(), "slowquick", "speech")
	first, err := speech.New(folder, rate, loudness).Say(context.Background(), "Lantern step")
	require.NoError(t, err)
	assert.InDelta(t, rate*54/100, len(first), 50, "half a second, and 20 ms before and after")
	assert.InDelta(t, loudness, math.Sqrt(voice.MeanSquare(first)), 1e-3)
	require.Equal(t, []string{"espeak-ng|-v|en-gb|-s|190|--stdin|--stdout<Lantern step"}, asked(t, log))

	again, err := speech.New(folder, rate, loudness).Say(context.Background(), "Lantern step")
	require.NoError(t, err)
	assert.Equal(t, first, again)
	assert.Len(t, asked(t, log), 1, "the program is not run again")
	files, err := filepath.Glob(filepath.Join(folder, "*"))
	require.NoError(t, err)
	require.Len(t, files, 1)
	assert.Regexp(t, `^espeak-ng-[0-9a-f]{32}\.wav$`, filepath.Base(files[0]))

	for _, damage := range []func() error{
		func() error { return os.Truncate(files[0], 100) },
		func() error { return os.Truncate(files[0], 8<<20) },
		func() error { return os.Remove(files[0]) },
		func() error {
			return errorsOf(os.Remove(files[0]), os.Mkdir(files[0], 0o700), os.Remove(files[0]), os.Symlink("nowhere", files[0]))
		},
	} {
		before := len(asked(t, log))
		require.NoError(t, damage())
		again, err = speech.New(folder, rate, loudness).Say(context.Background(), "Lantern step")
		require.NoError(t, err)
		assert.Equal(t, first, again)
		assert.Len(t, asked(t, log), before+1)
	}
}

func errorsOf(list ...error) error {
	for _, err := range list {
		if err != nil {
			return err
		}
	}
	return nil
}

// TestHostileNames are just text to the program, or are not spoken.
func TestHostileNames(t *testing.T) {
	log := install(t, "speaks", "espeak-ng")
	for _, name := range []struct{ name, said, problem string }{
		{"--help", "help", ""},
		{"$(touch x)", "touch x", ""},
		{"-w /etc/x", "w etc x", ""},
		{"`rm x`; <speak>&amp; [[h@l'oU]]", "rm x speak &amp h l'oU", ""},
		{"Lantern\x00step\x1b[2J\n--stdin", "Lantern step 2J stdin", ""},
		{"Déboulé’s  Cha-cha 4", "Déboulé’s Cha-cha 4", ""},
		{"\xff\xfeOar turn", "Oar turn", ""},
		{"💃🕺", "", "a name without letters can't be said"},
		{"-&-'", "", "a name without letters can't be said"},
		{"", "", "a name without letters can't be said"},
		{strings.Repeat("lantern", 1400), "", "a name of more than 80 letters can't be said"},
		{strings.Repeat("é", 81), "", "a name of more than 80 letters can't be said"},
	} {
		before := len(asked(t, log))
		sound, err := speech.New("", rate, loudness).Say(context.Background(), name.name)
		said := asked(t, log)[before:]
		if name.problem != "" {
			require.EqualError(t, err, name.problem)
			assert.Empty(t, said)
			continue
		}
		require.NoError(t, err, "%q", name.name)
		assert.NotEmpty(t, sound)
		assert.Equal(t, []string{"espeak-ng|-v|en-gb|-s|190|--stdin|--stdout<" + name.said}, said)
	}
	entries, err := os.ReadDir(".")
	require.NoError(t, err)
	for _, e := range entries {
		assert.NotEqual(t, "x", e.Name())
	}
}

// TestProgramsThatMisbehave are named in the error; nothing they print is kept or shown.
func TestProgramsThatMisbehave(t *testing.T) {
	for how, problem := range map[string]string{
		"crashes":        "espeak-ng: exit status 3",
		"prints garbage": "espeak-ng: not a complete WAV file",
		"is silent":      "espeak-ng: was silent",
		"floods":         "espeak-ng: wrote more than 1048576 bytes",
		"says nothing":   "espeak-ng: not a complete WAV file",
	} {
		t.Run(how, func(t *testing.T) {
			log := install(t, how, "espeak-ng")
			folder := t.TempDir()
			s := speech.New(folder, rate, loudness)
			for range 3 {
				sound, err := s.Say(context.Background(), "Oar turn")
				assert.EqualError(t, err, problem)
				assert.Nil(t, sound)
			}
			_, err := s.Say(context.Background(), "Oar turn")
			name, why, _ := strings.Cut(problem, ": ")
			require.EqualError(t, err, name+" failed 3 times in a row, and is no longer used: "+why)
			assert.Len(t, asked(t, log), 3)
			left, err := os.ReadDir(folder)
			require.NoError(t, err)
			assert.Empty(t, left)
		})
	}
}

// TestAFileThatGrows: a program that writes without end is stopped, and its file removed.
func TestAFileThatGrows(t *testing.T) {
	install(t, "fills the disk", "pico2wave")
	temporary := t.TempDir()
	t.Setenv("TMPDIR", temporary)
	listen(t)
	_, err := speech.New("", rate, loudness).Say(context.Background(), "Oar turn")
	assert.EqualError(t, err, "pico2wave: wrote more than 1048576 bytes")
	left, err := os.ReadDir(temporary)
	require.NoError(t, err)
	assert.Empty(t, left)
}

// listen waits for programs that stay.
func listen(t *testing.T) net.Listener {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	t.Cleanup(func() { l.Close() })
	t.Setenv(calls, l.Addr().String())
	return l
}

// TestAProgramThatHangs ends with its context, and the name is skipped.
func TestAProgramThatHangs(t *testing.T) {
	install(t, "hangs", "espeak-ng")
	l := listen(t)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	said := make(chan error, 1)
	go func() {
		_, err := speech.New("", rate, loudness).Say(ctx, "Oar turn")
		said <- err
	}()
	c, err := l.Accept()
	require.NoError(t, err, "it runs")
	defer c.Close()
	cancel()
	require.ErrorIs(t, <-said, context.Canceled)
	_, err = c.Read(make([]byte, 1))
	assert.ErrorIs(t, err, io.EOF, "it runs no more")
}

// TestNothingThatAProgramStartsIsLeft running, whether the program is ended or ends by itself.
func TestNothingThatAProgramStartsIsLeft(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("programs that a program has started can't be ended with it there")
	}
	for _, how := range []string{"hangs in another", "leaves another"} {
		t.Run(how, func(t *testing.T) {
			install(t, how, "espeak-ng")
			l := listen(t)
			ctx, cancel := context.WithCancel(context.Background())
			defer cancel()
			said := make(chan error, 1)
			go func() {
				_, err := speech.New("", rate, loudness).Say(ctx, "Oar turn")
				said <- err
			}()
			if how == "leaves another" {
				require.NoError(t, <-said)
				require.NoError(t, l.(*net.TCPListener).SetDeadline(time.Now().Add(time.Second)))
			}
			c, err := l.Accept()
			if how == "leaves another" && err != nil {
				return // it was ended before it called
			}
			require.NoError(t, err, "it runs")
			defer c.Close()
			cancel()
			require.NoError(t, c.SetReadDeadline(time.Now().Add(10*time.Second)))
			_, err = c.Read(make([]byte, 1))
			assert.ErrorIs(t, err, io.EOF, "it runs no more")
		})
	}
}

// TestAnImpatientSpeaker names the program that did not end, and uses the next.
func TestAnImpatientSpeaker(t *testing.T) {
	install(t, "hangs", "espeak-ng")
	l := listen(t)
	impatient, give := context.WithCancelCause(context.Background())
	defer give(nil)
	said := make(chan error, 1)
	go func() {
		s := speech.New("", rate, loudness)
		speech.Patience(s, impatient)
		_, err := s.Say(context.Background(), "Oar turn")
		said <- err
	}()
	c, err := l.Accept()
	require.NoError(t, err)
	defer c.Close()
	give(context.DeadlineExceeded)
	assert.EqualError(t, <-said, "espeak-ng: context deadline exceeded")
}

// TestTheNextProgramSpeaks if the first one fails, and the failure is reported.
func TestTheNextProgramSpeaks(t *testing.T) {
	log := install(t, "speaks", "espeak", "pico2wave")
	s := speech.New("", rate, loudness)
	sound, err := s.Say(context.Background(), "Oar turn")
	require.NoError(t, err)
	assert.NotEmpty(t, sound)
	require.Len(t, asked(t, log), 1)
	assert.Contains(t, asked(t, log)[0], "espeak|")

	path, err := os.Readlink(filepath.Join(os.Getenv("PATH"), "espeak"))
	require.NoError(t, err)
	require.NotEmpty(t, path)
	require.NoError(t, os.Remove(filepath.Join(os.Getenv("PATH"), "espeak")))
	sound, err = s.Say(context.Background(), "-Oar turn")
	assert.ErrorContains(t, err, "espeak: ")
	assert.NotEmpty(t, sound)
	assert.Regexp(t, `^pico2wave\|-l\|en-GB\|-w\|.*spoken\.wav\|--\|Oar turn<$`, asked(t, log)[1])
}

// TestNoProgram is reported in plain words.
func TestNoProgram(t *testing.T) {
	install(t, "speaks")
	_, err := speech.New("", rate, loudness).Say(context.Background(), "Oar turn")
	assert.ErrorIs(t, err, speech.ErrNone)
	assert.EqualError(t, err, "no speech program found: install espeak-ng to hear the names")
}

// TestWhatCanNotBeKept is still heard.
func TestWhatCanNotBeKept(t *testing.T) {
	install(t, "speaks", "espeak-ng")
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	sound, err := speech.New(filepath.Join(file, "speech"), rate, loudness).Say(context.Background(), "Oar turn")
	assert.ErrorContains(t, err, "espeak-ng: keep what was spoken: ")
	assert.NotEmpty(t, sound)
}
