//go:build unix

package main

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/writing"
)

// swaying is a sheet of one bar.
const swaying = "---\ndance: waltz\n---\n## Order\n\n1. Lantern sway\n\n## Lantern sway\n\n" +
	"| Count | Leader | Follower |\n|---|---|---|\n| 1 | LF forward | RF back |\n| 2-3 | RF close | LF close |\n"

// inSwaying goes to a folder that holds it as sway.md.
func inSwaying(t testing.TB) {
	t.Helper()
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("sway.md", []byte(swaying), 0o600))
}

// begins tells, of each kind, how a file begins by its ending.
var begins = map[string]map[string]string{
	"handout":   {".html": "<!doctype html>", ".htm": "<!doctype html>", ".md": "---\n", ".txt": "sway.md\n", ".pdf": "%PDF-1."},
	"cards":     {".html": "<!doctype html>", ".htm": "<!doctype html>", ".pdf": "%PDF-1."},
	"playalong": {".html": "<!doctype html>", ".htm": "<!doctype html>"},
	"track":     {".wav": "RIFF", ".flac": "fLaC", ".mp3": "ID3", ".opus": "pretended", ".m4a": "pretended"},
	"midi":      {".mid": "MThd", ".midi": "MThd"},
	"captions":  {".vtt": "WEBVTT", ".srt": "1\n00:00:00,000 --> "},
	"calendar":  {".ics": "BEGIN:VCALENDAR"},
	"table":     {".csv": "Figure,Step,", ".tsv": "Figure\tStep\t"},
	"timeline":  {".json": "{"},
	"plan":      {".svg": "<?xml ", ".pdf": "%PDF-1.", ".png": "\x89PNG"},
}

// usual is the ending of what each kind writes where none tells.
var usual = map[string]string{"handout": ".html", "cards": ".html", "playalong": ".html", "track": ".wav", "midi": ".mid", "captions": ".vtt", "calendar": ".ics", "table": ".csv", "timeline": ".json", "plan": ".svg"}

// TestACompressedTrackNeedsAProgram, and without one says what to install.
func TestACompressedTrackNeedsAProgram(t *testing.T) {
	install(t, "ffmpeg")
	inSwaying(t)
	out, _ := told(t, exitOK, "write", "wav", "sway.md", "-o", "sway.mp3")
	assert.Empty(t, out)
	text, err := os.ReadFile("sway.mp3")
	require.NoError(t, err)
	assert.Contains(t, string(text), "Lantern sway")
	assert.Contains(t, string(text), "pretended, of RIFF")
	told(t, exitOK, "write", "playalong", "sway.md", "-o", "sway.html", "--sound", "opus")
	text, err = os.ReadFile("sway.html")
	require.NoError(t, err)
	assert.Contains(t, string(text), "data:audio/ogg;base64,cHJldGVuZGVk")

	install(t)
	_, errOut := told(t, exitFailed, "write", "wav", "sway.md", "-o", "other.mp3")
	assert.Contains(t, errOut, "no program that writes MP3 was found: install ffmpeg or lame\nslowquick: hint: a .flac or .wav file needs no program")
	assert.NoFileExists(t, "other.mp3")
	_, errOut = told(t, exitFailed, "write", "playalong", "sway.md", "-o", "other.html", "--sound", "aac")
	assert.Contains(t, errOut, "no program that writes AAC was found: install ffmpeg\nslowquick: hint: --sound flac needs no program")
}

// TestLevelsAreHeard: with all at 0 a track is silent, with the clicks alone it isn't, and what can't be is
// refused.
func TestLevelsAreHeard(t *testing.T) {
	inSwaying(t)
	samples := func(levels string) []byte {
		out, _ := told(t, exitOK, "write", "wav", "sway.md", "-o", "-", "--rhythm", "--aloud", "--levels", levels)
		return []byte(out)[44:][:4*rate]
	}
	silent := make([]byte, 4*rate)
	assert.True(t, bytes.Equal(silent, samples("voice=0,clicks=0,rhythm=0,steps=0,song=0")))
	for _, name := range flags.Levelled {
		if name != "song" && name != "steps" && name != "rhythm" { // which the first second does not have
			others := strings.Replace("voice=0,clicks=0,rhythm=0,steps=0", name+"=0", name+"=60", 1)
			assert.False(t, bytes.Equal(silent, samples(others)), name)
		}
	}
	_, errOut := told(t, exitUsage, "write", "wav", "sway.md", "-o", "x.wav", "--levels", "drums=3")
	assert.Contains(t, errOut, `--levels: "drums" is not heard; use voice, clicks, rhythm, steps or song`)
	_, errOut = told(t, exitUsage, "write", "wav", "sway.md", "-o", "x.wav", "--levels", "clicks=101")
	assert.Contains(t, errOut, "--levels: clicks=101; use 0 to 100")
}

// TestTheEndingSaysWhatIsWritten: each kind writes the formats that it knows, and refuses any other ending
// with a list of its own. Without an ending it writes what it would print.
func TestTheEndingSaysWhatIsWritten(t *testing.T) {
	install(t, "ffmpeg")
	inSwaying(t)
	endings := []string{".pdf", ".png", ".ogg", ".jpeg", ".docx", ".xml", ".sv", ".wave", ". Night"}
	for _, own := range begins {
		for ending := range own {
			endings = append(endings, ending)
		}
	}
	kinds := 0
	for _, cmd := range writing.Command(&arguments.Reader{}).Commands() {
		kind := cmd.Name()
		if kind == "all" {
			continue // a folder
		}
		kinds++
		require.Contains(t, begins, kind)
		write := func(code int, path string) (out, errOut string) {
			args := []string{"write", kind, "sway.md", "-o", path}
			if kind == "calendar" {
				args = append(args, "--from", "2026-11-27", "--until", "2026-12-18")
			}
			return told(t, code, args...)
		}
		for _, ending := range endings {
			path := "class" + ending
			if begin, ok := begins[kind][ending]; ok {
				for _, path := range []string{path, strings.ToUpper(path)} {
					write(exitOK, path)
					text, err := os.ReadFile(path)
					require.NoError(t, err)
					assert.True(t, strings.HasPrefix(string(text), begin), "%s, %s: %.20q", kind, path, text)
					require.NoError(t, os.Remove(path))
				}
				continue
			}
			_, errOut := write(exitUsage, path)
			assert.Contains(t, errOut, "can't write "+strings.ToLower(filepath.Ext(path))+"; end the file's name in ")
			assert.Contains(t, errOut, usual[kind])
			assert.NoFileExists(t, path)
		}
		for ending, begin := range begins[kind] {
			args := []string{"write", kind, "sway.md", "-o", "-", "--format", strings.ToUpper(ending[1:])}
			if len(begins[kind]) == 1 {
				continue // there is nothing to choose
			}
			printed, _ := told(t, exitOK, args...)
			assert.True(t, strings.HasPrefix(printed, begin), "%s, %s: %.20q", kind, ending, printed)
			_, errOut := told(t, exitUsage, "write", kind, "sway.md", "-o", "class.doc", "--format", ending[1:])
			assert.Contains(t, errOut, "can't write .doc", "the ending counts")
		}
		if kind == "handout" {
			_, errOut := told(t, exitUsage, "write", kind, "sway.md", "-o", "class.html", "--format", "pdf")
			assert.Contains(t, errOut, "--format is PDF, but the file's name ends in .html")
			_, errOut = told(t, exitUsage, "write", kind, "sway.md", "-o", "-", "--format", "doc")
			assert.Contains(t, errOut, "--format: can't write .doc; end the file's name in .html, .md, .txt or .pdf")
		}
		printed, _ := write(exitOK, "-")
		assert.True(t, strings.HasPrefix(printed, begins[kind][usual[kind]]), "%s: %.20q", kind, printed)
		write(exitOK, "class")
		text, err := os.ReadFile("class")
		require.NoError(t, err)
		assert.Equal(t, made.ReplaceAllString(printed, ""), made.ReplaceAllString(string(text), ""), kind)
		require.NoError(t, os.Remove("class"))

		_, errOut := write(exitUsage, "")
		assert.Contains(t, errOut, "name the file to write", kind)
	}
	assert.Len(t, begins, kinds)
	told(t, exitUsage, "compose", "--dance", "waltz", "-o", "evening.pdf")
	assert.NoFileExists(t, "evening.pdf")
	left, err := filepath.Glob("*")
	require.NoError(t, err)
	assert.Equal(t, []string{"sway.md"}, left)
}

// TestAFigureIsWrittenAsAPicture, if only one dance has it, and never over a file.
func TestAFigureIsWrittenAsAPicture(t *testing.T) {
	t.Chdir(t.TempDir())
	for name, begin := range map[string]string{"whisk.svg": "<svg viewBox", "whisk.pdf": "%PDF-1.", "whisk.png": "\x89PNG", "whisk.gif": "GIF89a"} {
		args := []string{"figure", "whisk", "--dance", "waltz", "-o", name}
		if strings.HasSuffix(name, "png") || strings.HasSuffix(name, "gif") {
			args = append(args, "--width", "120")
		}
		told(t, exitOK, args...)
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.True(t, strings.HasPrefix(string(text), begin), "%s: %.20q", name, text)
		told(t, exitFailed, args...)
	}
	_, errOut := told(t, exitUsage, "figure", "natural turn", "-o", "turn.png")
	assert.Contains(t, errOut, "Natural turn is a figure of several dances\nslowquick: hint: --dance says which: ")
	_, errOut = told(t, exitUsage, "figure", "natural turn", "--dance", "waltz", "-o", "turn.svg", "--width", "300")
	assert.Contains(t, errOut, "--width is not for SVG")
	assert.NoFileExists(t, "turn.png")
}

// TestWhatIsWrittenTogetherBeginsTogether: with the same flags, the first click of the track is on the
// first click of the MIDI file and the first count of captions and timeline, whether each is written alone
// or all into a folder.
func TestWhatIsWrittenTogetherBeginsTogether(t *testing.T) {
	speechProgram(t)
	inSwaying(t)
	first := func(name string) float64 {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		return firstBeat(t, text)
	}
	for _, flags := range [][]string{nil, {"--aloud"}, {"--call"}, {"--aloud", "--call", "--tempo", "60 %"}, {"--aloud", "--lead-in", "0"},
		{"--aloud", "--times", "2", "--rest", "1", "--gradually", "70 to 80 % by 10"}} {
		for kind, name := range map[string]string{"wav": "class.wav", "midi": "class.mid", "captions": "class.vtt", "timeline": "class.json"} {
			told(t, exitOK, append([]string{"write", kind, "sway.md", "-o", name, "--force"}, flags...)...)
		}
		begins := first("class.json")
		assert.Equal(t, flags != nil, begins > 0, "%v begins with what is spoken", flags)
		assert.InDelta(t, begins, first("class.mid"), 1e-3, flags)
		assert.InDelta(t, begins, first("class.vtt"), 1e-3, flags)
		assert.True(t, clicksAt(t, "class.wav", begins), "%v: the track clicks at %v s", flags, begins)
		assert.False(t, clicksAt(t, "class.wav", begins+0.004), "and not later")
	}

	told(t, exitOK, "write", "all", "sway.md", "-o", "class")
	begins := first("class/timeline.json")
	assert.Equal(t, 0.16, begins)
	for _, name := range []string{"track.mid", "counts.vtt", "steps.vtt", "figures.vtt", "counts.srt"} {
		assert.InDelta(t, begins, first("class/"+name), 1e-3, name)
	}
	assert.True(t, clicksAt(t, "class/track.wav", begins))
	index, err := os.ReadFile("class/index.html")
	require.NoError(t, err)
	assert.Contains(t, string(index), "begin together: the first count is 0.16 s after the start")
}

// firstBeat is when a timeline, captions or a MIDI file count first, in seconds.
func firstBeat(t testing.TB, text []byte) float64 {
	t.Helper()
	if text[0] == '{' {
		var doc struct{ LeadIn, Passes []struct{ Seconds float64 } }
		require.NoError(t, json.Unmarshal(text, &doc))
		return append(doc.LeadIn, doc.Passes...)[0].Seconds
	}
	if m := regexp.MustCompile(`00:00:(\d\d)[.,](\d\d\d) --> `).FindSubmatch(text); m != nil {
		seconds, err := strconv.ParseFloat(string(m[1])+"."+string(m[2]), 64)
		require.NoError(t, err)
		return seconds
	}
	// What the first beat of a MIDI file lasts, if it is put off: a metre of one note, and its tempo.
	require.True(t, bytes.HasPrefix(text, []byte("MThd")))
	if !bytes.Contains(text, []byte("\xff\x58\x04\x01")) {
		return 0
	}
	tempo := bytes.Index(text, []byte("\xff\x51\x03"))
	require.Positive(t, tempo)
	return float64(uint32(text[tempo+3])<<16|uint32(text[tempo+4])<<8|uint32(text[tempo+5])) / 1e6
}

// clicksAt tells whether a track is loud within a millisecond of a second, and not just
// before: voices are softer there.
func clicksAt(t testing.TB, name string, seconds float64) bool {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	loudest := func(from, to float64) (peak int) {
		for i := max(0, int(from*rate)); i < int(to*rate); i++ {
			peak = max(peak, int(int16(binary.LittleEndian.Uint16(text[44+4*i:]))))
		}
		return peak
	}
	return loudest(seconds, seconds+0.003) > 4000 && loudest(seconds, seconds+0.003) > 2*loudest(seconds-0.002, seconds)
}
