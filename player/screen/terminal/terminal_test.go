package terminal_test

import (
	"image"
	"image/color"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/player/screen/terminal"
)

// answers are what terminals say; the last is the one after which nothing comes.
const (
	ground = "\x1b]11;rgb:1111/1313/1616\x1b\\"
	kitty  = "\x1b_Gi=31;OK\x1b\\"
	cell   = "\x1b[6;18;9t"
	vt340  = "\x1b[?63;1;2;4;6;9;15c"
)

// split feeds a filter with s in pieces, and returns what it lets through.
func split(f *terminal.Filter, s string, lengths func() int) string {
	var keys []byte
	for len(s) > 0 {
		n := min(max(lengths(), 1), len(s))
		keys = append(keys, f.Keys([]byte(s[:n]))...)
		s = s[n:]
	}
	return string(append(keys, f.Release()...))
}

// TestNoKeyIsLost: in whatever pieces keys and answers arrive, all keys and nothing but keys come through,
// and the answers are understood.
func TestNoKeyIsLost(t *testing.T) {
	typed := []string{"q", " ", "ä", "灯", "\x1b", "\x1b[A", "\x1b[1;5C", "\x1bOP", "\x1b[15~", "\x1bx", "\x1b[<0;3;4M", "\x1b[200~a\x1b]b\x1b[201~", "\x1b[I", "\t", "\r", "\x03", "\x1b[6~"}
	rapid.Check(t, func(t *rapid.T) {
		keys, all := "", ""
		for _, answer := range []string{kitty, ground, cell, vt340, ""} {
			for _, k := range rapid.SliceOfN(rapid.SampledFrom(typed), 0, 6).Draw(t, "keys") {
				keys, all = keys+k, all+k
			}
			all += answer
		}
		var f terminal.Filter
		require.Equal(t, keys, split(&f, all, func() int { return rapid.IntRange(1, 20).Draw(t, "length") }))
		got, done := f.Done()
		require.True(t, done)
		require.Equal(t, terminal.Answers{Kitty: true, Sixel: true, Cell: image.Pt(9, 18), Ground: color.RGBA{0x11, 0x13, 0x16, 255}}, got)
	})
}

// answered is what an answer looks like, and its end.
var (
	answered = regexp.MustCompile(`^(?:\x1b\[\?[0-9;]+c|\x1b\[6;[0-9;]+t|\x1b\]11;rgb[ -~]*(?:\a|\x1b\\)|\x1b_Gi=31[ -~]*(?:\a|\x1b\\))`)
	last     = regexp.MustCompile(`^\x1b\[\?[0-9;]+c`)
)

// FuzzFilter: of any bytes, in any pieces, everything but answers comes through.
func FuzzFilter(f *testing.F) {
	for _, seed := range []string{"q" + kitty + "\x1b[A" + ground + cell + vt340 + kitty, "\x1b]11;rgb:1/2\a\x1b", "\x1b[?c\x1b[?1", "\x1b\x1b[?6c", "\x1b_Gi=31;no\x1bx"} {
		f.Add(seed, uint8(1))
		f.Add(seed, uint8(7))
	}
	f.Fuzz(func(t *testing.T, s string, length uint8) {
		want := ""
		for rest := s; rest != ""; {
			m := answered.FindString(rest)
			if m == "" || len(m) > 128 {
				want, rest = want+rest[:1], rest[1:]
				continue
			}
			done := last.MatchString(rest)
			if rest = rest[len(m):]; done {
				want, rest = want+rest, ""
			}
		}
		var filter terminal.Filter
		require.Equal(t, want, split(&filter, s, func() int { return int(length) }))
	})
}

// TestAnswers: what terminals say, and what they are then sent.
func TestAnswers(t *testing.T) {
	guess := raster.Mode{Depth: raster.True}
	for _, test := range []struct {
		name, said string
		want       raster.Mode
	}{
		{"kitty", kitty + ground + "\x1b[6;20;10t\x1b[?62;c", raster.Mode{Raster: raster.Kitty, Depth: raster.True, Cell: image.Pt(10, 20), Ground: color.RGBA{0x11, 0x13, 0x16, 255}}},
		{"kitty without its cells", kitty + "\x1b[?62;c", raster.Mode{Raster: raster.Kitty, Depth: raster.True, Cell: image.Pt(10, 20)}},
		{"not kitty", "\x1b_Gi=31;ENOTSUPPORTED:no images\x1b\\\x1b[?62;c", guess},
		{"sixels", cell + vt340, raster.Mode{Raster: raster.Sixel, Depth: raster.True, Cell: image.Pt(9, 18)}},
		{"sixels without the size of a cell", vt340, guess},
		{"a size that is none", "\x1b[6;0;99999999999999999999t" + vt340, guess},
		{"tmux", "\x1b[?1;2c", guess},
		{"class 4 is no sixels", cell + "\x1b[?4;1c", raster.Mode{Depth: raster.True, Cell: image.Pt(9, 18)}},
		{"a ground in two digits, with a bell", "\x1b]11;rgb:ff/fd/80\a\x1b[?6c", raster.Mode{Depth: raster.True, Ground: color.RGBA{0xff, 0xfd, 0x80, 255}}},
		{"a ground with alpha", "\x1b]11;rgba:ffff/0000/8080/7fff\a\x1b[?6c", raster.Mode{Depth: raster.True, Ground: color.RGBA{0xff, 0, 0x80, 255}}},
		{"a ground that is none", "\x1b]11;rgb:x/y\a\x1b[?6c", guess},
	} {
		var f terminal.Filter
		assert.Empty(t, f.Keys([]byte(test.said)), test.name)
		a, done := f.Done()
		assert.True(t, done, test.name)
		assert.Equal(t, test.want, a.Mode(guess), test.name)
	}
	mono := terminal.Answers{Kitty: true, Cell: image.Pt(9, 18), Ground: color.RGBA{1, 2, 3, 255}}.Mode(raster.Mode{})
	assert.Equal(t, raster.Blocks, mono.Raster, "no colours, no images")
}

type environ map[string]string

func (e environ) Environ() (all []string) {
	for k, v := range e {
		all = append(all, k+"="+v)
	}
	return all
}
func (e environ) Getenv(name string) string { return e[name] }

// TestGuess heeds what https://no-color.org and termenv say of the environment.
func TestGuess(t *testing.T) {
	for _, test := range []struct {
		env  environ
		want raster.Depth
	}{
		{environ{"TERM": "xterm-256color"}, raster.Indexed},
		{environ{"TERM": "xterm-256color", "COLORTERM": "truecolor"}, raster.True},
		{environ{"TERM": "xterm-256color", "COLORTERM": "truecolor", "NO_COLOR": "1"}, raster.Mono},
		{environ{"TERM": "xterm"}, raster.Sixteen},
		{environ{"TERM": "linux"}, raster.Sixteen},
		{environ{"TERM": "dumb"}, raster.Mono},
	} {
		assert.Equal(t, raster.Mode{Depth: test.want}, terminal.Guess(test.env), "%v", test.env)
	}
}

// TestALightGroundIsGuessed: it is painted only if the terminal doesn't say what it has.
func TestALightGroundIsGuessed(t *testing.T) {
	for colors, light := range map[string]bool{"0;15": true, "0;default;15": true, "0;7": true, "15;0": false, "7;default": false, "15": true, "": false, "0;115": false, "15;": false} {
		guess := terminal.Guess(environ{"TERM": "xterm-256color", "COLORFGBG": colors})
		assert.Equal(t, light, guess.Light, "%q", colors)
		assert.Equal(t, light, terminal.Answers{}.Mode(guess).Light, "%q", colors)
		dark := color.RGBA{0x11, 0x13, 0x16, 255}
		assert.Equal(t, dark, terminal.Answers{Ground: dark}.Mode(guess).Ground, "%q", colors)
	}
}

func TestChoose(t *testing.T) {
	m := raster.Mode{Raster: raster.Kitty, Depth: raster.True, Cell: image.Pt(9, 18)}
	want := []raster.Mode{m, m, m, m, m}
	for i, r := range []raster.Raster{raster.Kitty, raster.Blocks, raster.Dots, raster.Sixel, raster.Kitty} {
		want[i].Raster = r
	}
	for i, word := range terminal.Settings {
		assert.Equal(t, want[i], terminal.Choose(m, terminal.Setting(i)), word)
	}
	assert.Equal(t, raster.Mode{Raster: raster.Sixel, Cell: image.Pt(10, 20)}, terminal.Choose(raster.Mode{}, 3), "a cell must have a size")
	assert.Equal(t, m, terminal.Choose(m, 9))
}
