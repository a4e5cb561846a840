package encoder_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/handout/encoder"
)

// TestMain is also the programs that these tests install: they write their arguments, and how much they
// were given, or fail if the sound says so.
func TestMain(m *testing.M) {
	name := strings.TrimSuffix(filepath.Base(os.Args[0]), ".exe")
	if name != "ffmpeg" && name != "lame" && name != "opusenc" {
		os.Exit(m.Run())
	}
	sound, err := io.ReadAll(os.Stdin)
	if err != nil || string(sound) == "spoilt" {
		fmt.Fprintln(os.Stderr, "first line\nthe sound is spoilt")
		os.Exit(3)
	}
	var out strings.Builder
	fmt.Fprintln(&out, name, len(sound))
	for i, arg := range os.Args[1:] {
		if tags, err := os.ReadFile(arg); err == nil && i > 0 && os.Args[i] == "-i" {
			out.Write(tags)
		}
		fmt.Fprintln(&out, arg)
	}
	if os.WriteFile(os.Args[len(os.Args)-1], []byte(out.String()), 0o600) != nil {
		os.Exit(4)
	}
}

// install has only these programs be found.
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
	t.Setenv("TMPDIR", t.TempDir())
}

var tags = encoder.Tags{Title: `Lantern; Night = "x" # \ y`, Genre: "Cha-cha", Comment: "28 bars/min", Tempo: 112,
	Chapters: []encoder.Chapter{{0, "Lead-in"}, {2.143, "Closed basic"}}, End: 36}

func encode(t *testing.T, f encoder.Format, sound string) (string, error) {
	t.Helper()
	p, err := encoder.Find(f)
	require.NoError(t, err)
	var out bytes.Buffer
	err = p.Encode(t.Context(), &out, &tags, func(w io.Writer) error { _, err := io.WriteString(w, sound); return err })
	left, globErr := filepath.Glob(filepath.Join(os.TempDir(), "slowquick-*"))
	require.NoError(t, globErr)
	assert.Empty(t, left)
	return out.String(), err
}

// TestAProgramIsGivenSoundAndTags: each with the tags in its own way, and nothing in a text ends one.
func TestAProgramIsGivenSoundAndTags(t *testing.T) {
	install(t, "ffmpeg", "lame", "opusenc")
	for _, f := range []encoder.Format{encoder.MP3, encoder.Opus, encoder.AAC} {
		out, err := encode(t, f, "click")
		require.NoError(t, err)
		assert.Contains(t, out, "ffmpeg 5\n")
		assert.Contains(t, out, "\nTITLE="+`Lantern\; Night \= "x" \# \\ y`+"\nGENRE=Cha-cha\nCOMMENT=28 bars/min\n")
		assert.Regexp(t, `(?m)^(BPM|tmpo)=112$`, out)
		assert.Contains(t, out, "[CHAPTER]\nTIMEBASE=1/1000\nSTART=0\nEND=2143\ntitle=Lead-in\n[CHAPTER]\nTIMEBASE=1/1000\nSTART=2143\nEND=36000\ntitle=Closed basic\n")
		assert.Equal(t, f == encoder.MP3, strings.HasPrefix(out, "ID3\x04"))
	}
	install(t, "lame", "opusenc")
	out, err := encode(t, encoder.MP3, "click")
	require.NoError(t, err)
	assert.Contains(t, out, "lame 5\n")
	assert.Contains(t, out, "c1\x00\x00\x00\x08\x5f\x00\x00\x8c\xa0\xff\xff\xff\xff\xff\xff\xff\xffTIT2\x00\x00\x00\x0d\x00\x00\x03Closed basic")
	assert.Contains(t, out, "toc\x00\x03\x02c0\x00c1\x00")
	out, err = encode(t, encoder.Opus, "click")
	require.NoError(t, err)
	assert.Contains(t, out, "opusenc 5\n")
	assert.Contains(t, out, "--comment\nCHAPTER001=00:00:02.143\n--comment\nCHAPTER001NAME=Closed basic\n")
}

// TestAProgramThatFailsSaysWhy, and one that isn't there is named.
func TestAProgramThatFailsSaysWhy(t *testing.T) {
	install(t, "ffmpeg")
	_, err := encode(t, encoder.AAC, "spoilt")
	assert.EqualError(t, err, "ffmpeg: the sound is spoilt")
	p, err := encoder.Find(encoder.MP3)
	require.NoError(t, err)
	wrong := errors.New("no more sound")
	var out bytes.Buffer
	assert.ErrorIs(t, p.Encode(t.Context(), &out, &tags, func(io.Writer) error { return wrong }), wrong)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	assert.ErrorIs(t, p.Encode(ctx, &out, &tags, func(io.Writer) error { return nil }), context.Canceled)
	assert.Empty(t, out.Bytes())

	install(t)
	_, err = encoder.Find(encoder.MP3)
	assert.EqualError(t, err, "no program that writes MP3 was found: install ffmpeg or lame")
	_, err = encoder.Find(encoder.AAC)
	assert.EqualError(t, err, "no program that writes AAC was found: install ffmpeg")
}
