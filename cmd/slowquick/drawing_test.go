//go:build unix

package main

import (
	"os"
	"testing"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestATerminalThatCanShowNoScreen gets lines instead, and is told why.
func TestATerminalThatCanShowNoScreen(t *testing.T) {
	dance := []string{"dance", "jetty.md", "--silent", "--tempo", "200 %"}
	for name, test := range map[string]struct {
		env, args  []string
		why, shown string
		ascii      bool
	}{
		"dumb":           {[]string{"TERM=dumb"}, dance, `the terminal is TERM="dumb"`, "Closed basic", false},
		"none":           {[]string{"TERM="}, dance, `the terminal is TERM=""`, "Closed basic", false},
		"C":              {[]string{"LC_ALL=C"}, dance, "the locale C has no UTF-8, as LANG=C.UTF-8 has", "Closed basic", true},
		"POSIX":          {[]string{"LC_ALL=", "LC_CTYPE=POSIX", "LANG=en_GB.UTF-8"}, dance, "the locale POSIX", "Closed basic", true},
		"Latin":          {[]string{"LC_ALL=", "LC_CTYPE=", "LANG=de_DE.ISO-8859-1@euro"}, dance, "the locale de_DE.ISO-8859-1@euro", "Closed basic", true},
		"list":           {[]string{"TERM=dumb"}, nil, `the terminal is TERM="dumb"`, "lantern-night-waltz\twaltz", false},
		"session":        {[]string{"LANG=C", "LC_ALL=", "LC_CTYPE="}, []string{"practise", "lantern-night-waltz"}, "the locale C", "Lantern Night waltz", true},
		"sync":           {[]string{"TERM=dumb"}, []string{"sync"}, `the terminal is TERM="dumb"`, "sync needs a terminal", false},
		"figure in C":    {[]string{"LC_ALL=C"}, []string{"figure", "--dance", "cha-cha", "closed basic"}, "", "after the last step", true},
		"screen, C.UTF8": {[]string{"LC_ALL=C.utf8"}, []string{"dance", "lantern-night-waltz", "--silent"}, "", "\x1b[?1049h", false},
		"screen, none":   {[]string{"LC_ALL=", "LC_CTYPE=", "LANG="}, []string{"dance", "lantern-night-waltz", "--silent"}, "", "\x1b[?1049h", false},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			require.NoError(t, keepIn(dir+"/config", "choices", `{"cautions seen": 1}`))
			require.NoError(t, os.WriteFile(dir+"/jetty.md", []byte(jetty), 0o600))
			cmd := inFolder(dir, test.args...)
			cmd.Env = append(append(cmd.Env, "PULSE_SERVER=unix:"+dir+"/none", "PATH="), test.env...)
			file, err := pty.StartWithSize(cmd, smallest)
			require.NoError(t, err)
			term := watched(t, cmd, file)
			if test.why != "" {
				term.until("slowquick: hint: printing lines instead of a screen: " + test.why)
			}
			term.until(test.shown)
			if test.why == "" && !test.ascii {
				return // a screen
			}
			_ = term.ends() // some are not understood
			for text := range term.drawn {
				term.all.WriteString(text)
			}
			assert.NotContains(t, term.all.String(), "\x1b")
			if test.ascii {
				assert.Regexp(t, `^[\r\n\t -~]*$`, term.all.String())
			}
		})
	}
}
