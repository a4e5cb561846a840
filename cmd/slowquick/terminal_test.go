//go:build unix

package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/screen/term"
)

// session is the program on a pseudo-terminal that answers nothing.
type session struct {
	t      testing.TB
	cmd    *exec.Cmd
	file   *os.File
	drawn  chan string     // what is read, until the terminal ends
	unread string          // drawn, and not yet asked for
	all    strings.Builder // that was asked for, and what came before it
}

// onTerminal starts the program in a folder, without a sound server, for someone who
// has seen the cautions.
func onTerminal(t testing.TB, dir string, args ...string) *session {
	t.Helper()
	for _, config := range []string{"config", "Library/Application Support"} { // where Linux and macOS look
		require.NoError(t, keepIn(filepath.Join(dir, config), "choices", `{"cautions seen": 1}`))
	}
	return onNewTerminal(t, dir, args...)
}

// onNewTerminal starts the program with the settings that a folder holds.
func onNewTerminal(t testing.TB, dir string, args ...string) *session {
	t.Helper()
	cmd := inFolder(dir, args...)
	cmd.Env = append(cmd.Env, "PULSE_SERVER=unix:"+dir+"/none", "PATH=")
	file, err := pty.StartWithSize(cmd, smallest)
	require.NoError(t, err)
	return watched(t, cmd, file)
}

// watched reads what is drawn on a terminal by a program that has been started.
func watched(t testing.TB, cmd *exec.Cmd, file *os.File) *session {
	term := &session{t: t, cmd: cmd, file: file, drawn: make(chan string, 1<<16)}
	go func() {
		defer close(term.drawn)
		buf := make([]byte, 4096)
		for {
			n, err := file.Read(buf)
			if err != nil {
				return
			}
			term.drawn <- string(buf[:n])
		}
	}()
	t.Cleanup(func() {
		_ = cmd.Process.Kill() // it has mostly ended
		file.Close()
	})
	return term
}

// smallest is the window that all is meant to fit.
var smallest = &pty.Winsize{Rows: 24, Cols: 80}

// until reads on until text has come, after what it found before.
func (term *session) until(text string) {
	term.t.Helper()
	term.first(text)
}

// first waits for the first of some texts, and returns it.
func (term *session) first(texts ...string) string {
	term.t.Helper()
	late := time.After(2 * time.Minute) // far more than anything takes on a busy machine
	for {
		for _, text := range texts {
			if _, after, found := strings.Cut(term.unread, text); found {
				term.unread = after
				return text
			}
		}
		select {
		case drawn, ok := <-term.drawn:
			require.True(term.t, ok, "the program ended; waiting for %q in %q", texts, term.unread)
			term.unread += drawn
			term.all.WriteString(drawn)
		case <-late:
			require.FailNow(term.t, "nothing comes", "waiting for %q in %q", texts, term.unread)
		}
	}
}

// What a terminal sends for the arrow keys.
const (
	left = "\x1b[D"
	down = "\x1b[B"
)

// namesAloud is how the mixer says whether figures are named aloud, up to that.
const namesAloud = "names of figures aloud                              \x1b[1m"

// leave leaves a couple that dances, or has just finished, for good.
func (term *session) leave() {
	term.press("q")
	term.until("Leave Slowquick?")
	term.press("q")
	const list, before = "What went wrong?", "\x1b[?1049l" // the screen before
	if term.first(list, before) == list {                  // on a busy machine more than a bar was danced
		term.press("\r")
		term.until(before)
	}
}

func (term *session) press(keys string) {
	term.t.Helper()
	_, err := term.file.WriteString(keys)
	require.NoError(term.t, err)
}

// TestCheckAtATerminal says that nothing was found, or where to read more, and breaks no words.
func TestCheckAtATerminal(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "good.md"), []byte(boathouse), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "bad.md"), []byte(strings.Replace(boathouse, "32", "20", 1)), 0o600))
	term := onTerminal(t, dir, "check", "good.md", "bad.md")
	term.until("good.md: nothing found\r\n")
	term.until("hint: usual: 28")
	term.until("\r\n            ") // what is longer than the terminal is wide
	term.until("slowquick: hint: slowquick explain tempo-range tells you more")
	for line := range strings.Lines(term.all.String()) {
		if strings.HasPrefix(line, "  ") { // the others are for editors
			assert.LessOrEqual(t, len([]rune(strings.TrimRight(line, "\r\n"))), 80)
		}
	}
}

// TestFiguresFitATerminal: columns without room are left out, and reasons are broken between words.
func TestFiguresFitATerminal(t *testing.T) {
	t.Parallel()
	for _, args := range [][]string{{"figures", "--dance", "cha-cha"}, {"figures", "--dance", "cha-cha", "--after", "fan", "--all"}} {
		term := onTerminal(t, t.TempDir(), args...)
		term.until("Underarm turn to the left")
		require.NoError(t, term.ends())
		for text := range term.drawn {
			term.all.WriteString(text)
		}
		for line := range strings.Lines(term.all.String()) {
			assert.LessOrEqual(t, len([]rune(strings.TrimRight(line, " \r\n"))), 80, line)
		}
	}
}

func TestFromTheListToTheDance(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	sheet := filepath.Join(dir, "boathouse.md")
	require.NoError(t, os.WriteFile(sheet, []byte(boathouse), 0o600))
	term := onTerminal(t, dir)
	term.until("choose a sheet")
	term.until("Boathouse evening")
	term.press("boat\r")
	term.until("HOLDING")
	term.until("sound is off") // and the screen goes on
	term.press(" ")
	term.until("LEAD-IN")
	term.until("DANCING")

	// Saved with a fault, the last good sheet goes on; saved again, it is danced.
	require.NoError(t, os.WriteFile(sheet, []byte(strings.Replace(boathouse, "basic", "basket", 1)), 0o600))
	term.until("unknown Cha-cha figure")
	require.NoError(t, os.WriteFile(sheet, []byte(strings.Replace(boathouse, "Boathouse evening", "Boathouse night", 1)), 0o600))
	term.until("Boathouse night")

	term.leave()
	require.NoError(t, term.ends())
}

// TestFromTheHandbookToTheDance finds a figure, drills it, and comes back to it.
func TestFromTheHandbookToTheDance(t *testing.T) {
	t.Parallel()
	term := onTerminal(t, t.TempDir())
	term.until("choose a sheet")
	term.press("\t")
	term.until("choose a dance")
	term.until("Cha-cha")
	term.press("cha\r")
	term.until("Level 1")
	term.press("new york left\r")
	term.until("[steps]")
	term.press(" ")
	term.until("drill: New York to the left side, then New York to the right side")
	term.until("LEAD-IN")
	term.until("bar 2 of 3") // of a bar one can say what went wrong
	term.press("\x1b")
	term.until("HOLDING")
	term.press("\x1b")
	term.until("What went wrong?")
	term.press("\r")
	term.until("[steps]")
	term.press("q")
	term.until("\x1b[?1049l") // the screen before
	require.NoError(t, term.ends())
}

// TestCautionsAtTheFirstStart stay until a key is pressed, and don't come back at the second start, unless
// that couldn't be kept.
func TestCautionsAtTheFirstStart(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	term := onNewTerminal(t, dir, "dance", "lantern-night-waltz", "--silent")
	term.until("Take care: dancing and loud sound can hurt.")
	term.until("Press any key")
	term.press("\x03") // ctrl+c: they were not read
	require.NoError(t, term.ends())

	term = onNewTerminal(t, dir)
	term.until("Take care: dancing and loud sound can hurt.")
	term.until("Press any key")
	term.press("x")
	term.until("What would you like to do?")
	term.press("1")
	term.until("Press space: the count begins")
	term.press("\x03")
	require.NoError(t, term.ends())

	term = onNewTerminal(t, dir, "dance", "lantern-night-waltz", "--silent")
	term.until("HOLDING")
	term.press("q")
	require.NoError(t, term.ends())
	assert.NotContains(t, term.all.String(), "Take care")

	dir = t.TempDir()
	for _, config := range []string{"config", "Library"} { // files where folders would be
		require.NoError(t, os.WriteFile(filepath.Join(dir, config), nil, 0o600))
	}
	for range 2 {
		term = onNewTerminal(t, dir, "dance", "lantern-night-waltz", "--silent")
		term.until("Take care: dancing and loud sound can hurt.")
		term.until("Press any key")
		term.press("x")
		term.until("HOLDING")
		term.press("q")
		term.until("\x1b[?1049l")
		term.until("warning: save the choices")
		require.NoError(t, term.ends())
	}
}

// TestLevelsAreKept: what was turned down is as soft the next time. A file that can't be read is reported,
// and keeps nobody from dancing.
func TestLevelsAreKept(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	term := onTerminal(t, dir, "dance", "lantern-night-waltz", "--silent")
	term.until("HOLDING")
	term.press("m")
	term.until("70 %") // counting aloud, and below it the clicks
	term.until("50 %")
	term.press(left + left + down + left)
	term.until("40 %")
	term.press("mq")
	require.NoError(t, term.ends())
	kept, err := filepath.Glob(filepath.Join(dir, "*", "slowquick", "settings.txt"))
	require.NoError(t, err)
	if len(kept) == 0 { // where the system has its settings elsewhere
		kept, err = filepath.Glob(filepath.Join(dir, "Library", "*", "slowquick", "settings.txt"))
		require.NoError(t, err)
	}
	require.Len(t, kept, 1)

	term = onTerminal(t, dir, "dance", "lantern-night-waltz", "--silent")
	term.until("HOLDING")
	term.press("m")
	term.until("50 %")
	term.until("40 %")
	term.press("mq")
	require.NoError(t, term.ends())

	require.NoError(t, os.Remove(kept[0]))
	require.NoError(t, os.Mkdir(kept[0], 0o700))
	term = onTerminal(t, dir, "dance", "lantern-night-waltz", "--silent")
	term.until("warning: read the settings")
	term.until("HOLDING")
	term.press("m")
	term.until("70 %")
	term.press("mq")
	require.NoError(t, term.ends())
}

// TestNamesAloudAreKept: the mixer has figures named, now and the next time; what keeps them from being
// heard is said in plain words.
func TestNamesAloudAreKept(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	term := onTerminal(t, dir, "dance", "lantern-night-waltz")
	term.until("HOLDING")
	term.press("m" + strings.Repeat(down, 5) + " ")
	term.until("names of figures aloud")
	term.until("No speech program found: install espeak-ng to hear the names")
	term.press("mq")
	require.NoError(t, term.ends())

	term = onTerminal(t, dir, "dance", "lantern-night-waltz", "--silent")
	term.until("HOLDING")
	term.press("m")
	term.until(namesAloud + "on")
	term.press(strings.Repeat(down, 5) + " mq")
	require.NoError(t, term.ends())

	term = onTerminal(t, dir, "dance", "lantern-night-waltz", "--silent")
	term.until("HOLDING")
	term.press("m")
	term.until(namesAloud + "off")
	term.press("mq")
	require.NoError(t, term.ends())
}

// TestASignalLeavesTheTerminalAsItWas ends the program from outside.
func TestASignalLeavesTheTerminalAsItWas(t *testing.T) {
	t.Parallel()
	for _, signal := range []os.Signal{syscall.SIGTERM, os.Interrupt} {
		term := onTerminal(t, t.TempDir(), "dance", "lantern-night-waltz", "--silent")
		term.until("HOLDING")
		require.NoError(t, term.cmd.Process.Signal(signal))
		term.until("\x1b[?1049l")
		assert.NoError(t, term.ends())
	}
}

// BenchmarkFirstScreen is the time from the start of the program to its first
// screen, on a terminal that answers no query.
func BenchmarkFirstScreen(b *testing.B) {
	dir := b.TempDir()
	for b.Loop() {
		term := onTerminal(b, dir)
		term.until("choose a sheet")
		_ = term.cmd.Process.Kill() // that it has ended is seen by Wait
		_ = term.ends()
	}
}

// BenchmarkSteadyDancing is the share of one core and the memory that ten
// seconds of dancing take, with a lead-in before them. It needs Linux's /proc.
func BenchmarkSteadyDancing(b *testing.B) {
	for b.Loop() {
		term := onTerminal(b, b.TempDir(), "dance", "lantern-night-cha-cha", "--repeat")
		term.until("HOLDING")
		term.press(" ")
		term.until("DANCING")
		began, before := time.Now(), cpuTicks(b, term.cmd.Process.Pid)
		for time.Since(began) < 10*time.Second {
			term.until("\x1b[") // whatever is drawn next
		}
		ticks := cpuTicks(b, term.cmd.Process.Pid) - before
		b.ReportMetric(float64(ticks)/time.Since(began).Seconds(), "%core") // 100 ticks a second
		b.ReportMetric(peakMB(b, term.cmd.Process.Pid), "MB")
		term.leave()
		require.NoError(b, term.ends())
	}
}

func cpuTicks(b *testing.B, pid int) (ticks int) {
	b.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	require.NoError(b, err)
	_, rest, _ := strings.Cut(string(text), ") ")
	fields := strings.Fields(rest)
	for _, f := range fields[11:13] { // utime and stime, proc(5)
		n, err := strconv.Atoi(f)
		require.NoError(b, err)
		ticks += n
	}
	return ticks
}

func peakMB(b *testing.B, pid int) float64 {
	b.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	require.NoError(b, err)
	_, rest, _ := strings.Cut(string(text), "VmHWM:")
	kb, err := strconv.ParseFloat(strings.Fields(rest)[0], 64)
	require.NoError(b, err)
	return kb / 1024
}

// TestForgettingAsks at a terminal, and takes anything but yes as a no.
func TestForgettingAsks(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	keepAnEvening(t, filepath.Join(dir, "state"), time.Now())
	for answer, said := range map[string]string{"\r": "Nothing was deleted.", "no\r": "Nothing was deleted."} {
		term := onTerminal(t, dir, "diary", "forget")
		term.until("Delete 2 of 2 practices for good? [y/N] ")
		term.press(answer)
		term.until(said)
		require.NoError(t, term.ends())
	}
	term := onTerminal(t, dir, "diary", "forget", "--sheet", "Boathouse evening")
	term.until("Delete 1 of 2 practices, those of Boathouse evening, for good? [y/N] ")
	term.press("y\r")
	term.until("Deleted 1 practice.")
	require.NoError(t, term.ends())
}

// jetty is a sheet of two bars that is danced fast.
const jetty = `---
dance: cha-cha
title: Jetty
tempo: 40 bars/min
---

## Order

1. Closed basic
`

// TestADanceIsKept, with its marks, and comes back in the next plan, which the screen leads through, and
// which is left and resumed.
func TestADanceIsKept(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "jetty.md"), []byte(jetty), 0o600))
	term := onTerminal(t, dir, "dance", "jetty.md", "--silent", "--lead-in", "0", "--tempo", "200 %")
	term.until("HOLDING")
	term.press(" ")
	term.until("DANCING")
	term.press("1")
	term.until("Marked for the leader: Closed basic")
	term.until("What went wrong?")
	term.press("\r")
	term.until("Kept: ")
	term.press("q")
	term.until("\x1b[?1049l")
	require.NoError(t, term.ends())

	out, err := inFolder(dir, "diary", "--csv").Output()
	require.NoError(t, err)
	assert.Regexp(t, `(?m)^1,[^,]+,Cha-cha,Jetty,Closed basic,both,320,[0-9.]+,true,both,follower,Closed basic \(leader\)$`, string(out))

	term = onTerminal(t, dir, "practise", "jetty.md", "--silent", "--couple")
	term.until("1 of ")
	term.press("\r")
	term.until("2 of ")
	term.until("it went wrong, for the leader")
	term.press("q")
	term.until("\x1b[?1049l")
	require.NoError(t, term.ends())
	term = onTerminal(t, dir, "practise", "jetty.md", "--silent", "--partner", "follower") // another than was left
	term.until("1 of ")
	term.press("q")
	require.NoError(t, term.ends())
	term = onTerminal(t, dir, "practise", "jetty.md", "--silent")
	term.until("resumed, 2 of ")
	term.until("it went wrong, for the leader")
	term.press("q")
	require.NoError(t, term.ends())
	term = onTerminal(t, dir, "practise", "jetty.md", "--silent", "--new")
	term.until("1 of ")
	term.press("q")
	require.NoError(t, term.ends())
	term = onTerminal(t, dir, "practise", "jetty.md", "--list")
	term.until("the goal is 40 bars/min")
	require.NoError(t, term.ends())
}

// TestASessionFitsTheTerminal: the words are those that are printed elsewhere.
func TestASessionFitsTheTerminal(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	stateful := append(inFolder(dir).Env, "PATH=")
	for _, columns := range []uint16{40, 56, 80, 100, 160} {
		args := []string{"practise", "lantern-night-waltz", "--list", "--couple", "--by", "2999-12-31", "--new"}
		piped := inFolder(dir, args...)
		piped.Env = stateful
		want, err := piped.Output()
		require.NoError(t, err)
		cmd := inFolder(dir, args...)
		file, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: columns})
		require.NoError(t, err)
		got, _ := io.ReadAll(file) // ends with an error when the program does
		require.NoError(t, cmd.Wait())
		for line := range strings.Lines(string(got)) {
			assert.LessOrEqual(t, term.Width(strings.TrimRight(line, "\r\n")), int(columns), line)
		}
		if columns >= 80 {
			assert.ElementsMatch(t, strings.Fields(string(want)), strings.Fields(string(got)), columns)
		}
		assert.Contains(t, string(got), "whole", columns)
	}
}

// TestTheFlagsAreForTheSheetThatWasNamed, even if it can't be danced until it is mended, and another is
// looked at meanwhile.
func TestTheFlagsAreForTheSheetThatWasNamed(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	faulty := strings.Replace(jetty, "Closed basic", "Closed basik", 1)
	require.NotEqual(t, jetty, faulty)
	named := filepath.Join(dir, "quick.md")
	require.NoError(t, os.WriteFile(named, []byte(faulty), 0o600))
	flags := []string{"dance", "quick.md", "--silent", "--tempo", "50 %", "--lead-in", "3", "--rest", "2", "--count", "words", "--partner", "leader"}

	term := onTerminal(t, dir, append(flags, "--repeat")...)
	term.until("can't be danced yet")
	require.NoError(t, os.WriteFile(named, []byte(jetty), 0o600))
	term.until("20 bars/min (50 %)")
	term.until("loop: the routine, 1st time")
	term.press("o")
	term.until("3 bars")
	term.until("2 bars")
	term.until("in words")
	term.press("o")
	term.press("q")
	require.NoError(t, term.ends())

	require.NoError(t, os.WriteFile(named, []byte(faulty), 0o600))
	term = onTerminal(t, dir, append(flags, "--gradually", "60 to 90 by 10", "--figures", "2")...)
	term.until("can't be danced yet")
	term.press("\x1b")
	term.until("choose a sheet")
	term.press("lantern-night\r")
	term.until("HOLDING")
	term.press("o")
	term.until("1 bar")
	assert.NotContains(t, term.all.String(), "rung 1 of")
	term.press("o")
	term.press("q")
	require.NoError(t, term.ends())

	term = onTerminal(t, dir, append(flags, "--gradually", "60 to 90 by 10", "--figures", "2")...)
	term.until("can't be danced yet")
	require.NoError(t, os.WriteFile(named, []byte(jetty), 0o600)) // which has one figure
	term.until("24 bars/min (60 %)")
	term.until("rung 1 of 4 to 90 %")
	term.until(`--figures: "2" names no figures of the order, which has 1 to 1`)
	term.press("o")
	term.until("3 bars")
	term.until("2 bars")
	term.press("o")
	term.press("q")
	require.NoError(t, term.ends())

	require.NoError(t, os.WriteFile(named, []byte(faulty), 0o600))
	for flag, wrong := range map[string]string{"--lead-in": "9", "--rest": "-1", "--gradually": "up"} {
		term = onTerminal(t, dir, "dance", "quick.md", "--silent", flag, wrong)
		term.until("slowquick: error: " + flag)
		require.Error(t, term.ends())
	}
}

// TestWhereNothingCanBeKeptOneDances: the screen says so during the dance, and the command at the end.
func TestWhereNothingCanBeKeptOneDances(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "jetty.md"), []byte(jetty), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "state"), nil, 0o600)) // where the folder would be
	term := onTerminal(t, dir, "dance", "jetty.md", "--silent", "--lead-in", "0", "--tempo", "200 %", "--repeat")
	term.until("HOLDING")
	term.press(" ")
	term.until("nothing is being kept")
	term.until("DANCING")
	term.leave()
	term.until("slowquick: warning: nothing is being kept in the diary")
	require.NoError(t, term.ends())
}

// TestATempoOnTheScreenIsTheOneThatIsHeard, even though the song is read only once the screen is there.
func TestATempoOnTheScreenIsTheOneThatIsHeard(t *testing.T) {
	dir := danceHall(t)
	sheet := putFile(t, dir, "hall/evening.md", evening(4, "music: tune.wav\nmusic begins: bar 2"))
	for tempo, want := range map[string]string{"24 bars/min": "24 bars/min (86 %)", "12 bars/min": "12 bars/min is too slow: the song's 28"} {
		term := onTerminal(t, dir, "dance", "--silent", "--tempo", tempo, sheet)
		term.until(want)
		term.press("q")
		assert.NoError(t, term.ends())
	}
}

// TestTheScreenBeginsWithTheViewThatIsSet.
func TestTheScreenBeginsWithTheViewThatIsSet(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	require.NoError(t, inFolder(dir, "settings", "show", "plan").Run())
	term := onTerminal(t, dir, "dance", "lantern-night-waltz", "--silent")
	term.until("HOLDING")
	term.press("v") // from the plan
	term.until("nothing is kept")
	term.press("q")
	require.NoError(t, term.ends())
}
