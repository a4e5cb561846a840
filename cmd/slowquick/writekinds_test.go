//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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
	"handout":  {".html": "<!doctype html>", ".htm": "<!doctype html>", ".md": "---\n", ".txt": "sway.md\n"},
	"wav":      {".wav": "RIFF", ".flac": "fLaC"},
	"midi":     {".mid": "MThd", ".midi": "MThd"},
	"captions": {".vtt": "WEBVTT", ".srt": "1\n00:00:00,000 --> "},
	"calendar": {".ics": "BEGIN:VCALENDAR"},
	"timeline": {".json": "{"},
	"plan":     {".svg": "<?xml "},
}

// usual is the ending of what each kind writes where none tells.
var usual = map[string]string{"handout": ".html", "wav": ".wav", "midi": ".mid", "captions": ".vtt", "calendar": ".ics", "timeline": ".json", "plan": ".svg"}

// TestTheEndingSaysWhatIsWritten: each kind writes the formats that it knows, and refuses
// any other ending, telling its own; without an ending it writes what it prints.
func TestTheEndingSaysWhatIsWritten(t *testing.T) {
	inSwaying(t)
	endings := []string{".pdf", ".png", ".mp3", ".ogg", ".opus", ".jpeg", ".docx", ".xml", ".sv", ".wave", ". Night"}
	for _, own := range begins {
		for ending := range own {
			endings = append(endings, ending)
		}
	}
	kinds := 0
	for _, cmd := range (&app{}).write().Commands() {
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
			assert.Contains(t, errOut, path+": a file of this kind ends in ")
			assert.Contains(t, errOut, usual[kind])
			assert.NoFileExists(t, path)
		}
		printed, _ := write(exitOK, "-")
		assert.True(t, strings.HasPrefix(printed, begins[kind][usual[kind]]), "%s: %.20q", kind, printed)
		write(exitOK, "class")
		text, err := os.ReadFile("class")
		require.NoError(t, err)
		assert.Equal(t, made.ReplaceAllString(printed, ""), made.ReplaceAllString(string(text), ""), kind)
		require.NoError(t, os.Remove("class"))

		_, errOut := write(exitUsage, "")
		assert.Contains(t, errOut, "no file to write is named", kind)
	}
	assert.Len(t, begins, kinds)
	told(t, exitUsage, "compose", "--dance", "waltz", "-o", "evening.pdf")
	assert.NoFileExists(t, "evening.pdf")
	left, err := filepath.Glob("*")
	require.NoError(t, err)
	assert.Equal(t, []string{"sway.md"}, left)
}
