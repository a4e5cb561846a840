package main

import (
	"fmt"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"github.com/adrg/xdg"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/cmd/slowquick/settings"
	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/calling"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/lessons"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// TestHelpOnSheetsIsOnePage, which fits a window and a sheet of paper.
func TestHelpOnSheetsIsOnePage(t *testing.T) {
	page, _ := told(t, exitOK, "help", "sheet")
	assertNarrow(t, page)
	assert.LessOrEqual(t, strings.Count(page, "\n"), 60)
	help, _ := told(t, exitOK, "help")
	assert.Regexp(t, `sheet +How a sheet is written, on one page`, help)
	_, errs := told(t, exitUsage, "help", "shete")
	assert.Contains(t, errs, "hint: perhaps sheet\n")
}

// TestTheSheetOfTheHelpCanBeDanced: the example is clean and tidy, and what the page calls commands are some.
func TestTheSheetOfTheHelpCanBeDanced(t *testing.T) {
	page, _ := told(t, exitOK, "help", "sheet")
	_, example, found := strings.Cut(page, "\n    ---\n")
	require.True(t, found)
	example, _, found = strings.Cut(example, "\nTop ")
	require.True(t, found)
	sheet := []byte("---\n" + strings.ReplaceAll("\n"+example, "\n    ", "\n")[1:])
	lib := library.Open()
	score, findings := check.Sheet("sheet.md", sheet, lib)
	assert.Empty(t, findings)
	assert.Len(t, score.Passages, 4)
	tidy, findings := routine.Tidy("sheet.md", sheet, lib)
	assert.Empty(t, findings)
	assert.Equal(t, strings.TrimRight(string(sheet), "\n"), strings.TrimRight(string(tidy), "\n"))

	commands := regexp.MustCompile(`slowquick ([a-z]+)`).FindAllStringSubmatch(page, -1)
	require.Len(t, commands, 5)
	for _, c := range commands {
		told(t, exitOK, "help", c[1])
	}
	for _, cell := range []string{"side, 1/4 R", "side, facing wall", "side, HT", "side, check", "tap", "side, in promenade", "side, left to right", "cross behind", "small side", "replace", "close", "back"} {
		assert.Contains(t, page, strings.TrimPrefix(cell, "side, "))
		_, findings := check.Sheet("sheet.md", []byte(strings.Replace(string(sheet), "LF forward, check", "LF "+cell, 1)), lib)
		for _, f := range findings {
			assert.NotContains(t, []string{"unknown-word", "turn-unreadable", "place-twice", "place-missing"}, string(f.Code), cell)
		}
	}
}

// TestTheKeysOfTheHelp are all of the screen's.
func TestTheKeysOfTheHelp(t *testing.T) {
	page, _ := told(t, exitOK, "help", "keys")
	assertNarrow(t, page)
	groups := screen.Keys()
	require.Greater(t, len(groups), 8)
	for _, g := range groups {
		assert.Contains(t, page, g.Title+"\n")
		for _, k := range g.Keys {
			assert.Regexp(t, "(?m)^    "+regexp.QuoteMeta(k.Help().Key)+" +"+regexp.QuoteMeta(k.Help().Desc)+"$", page)
		}
	}
}

// TestTheFilesOfTheHelp are where the program keeps them.
func TestTheFilesOfTheHelp(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the page tells the folders on Linux")
	}
	t.Setenv("HOME", "/home")
	for _, variable := range []string{"XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME"} {
		t.Setenv(variable, "")
	}
	xdg.Reload()
	t.Cleanup(xdg.Reload)
	page, _ := told(t, exitOK, "help", "files")
	assertNarrow(t, page)
	for _, path := range []string{
		settings.File(), store.File("lateness"), store.File("choices"), diary.File(), draft.Folders()[0],
		settings.OwnFolder(), lessons.Folder(), calling.Folder(),
	} {
		folder, file := filepath.Split(path)
		in := "~" + strings.TrimSuffix(strings.TrimPrefix(folder, "/home"), "/")
		assert.Regexp(t, `(?s)\n    `+regexp.QuoteMeta(in)+` +(?:[a-z.]+: [^\n]*\n {20,})*`+regexp.QuoteMeta(file)+`: `, page)
	}
}

// TestTheSettingsOfTheHelp are all there are, with what each can be.
func TestTheSettingsOfTheHelp(t *testing.T) {
	page, _ := told(t, exitOK, "help", "settings")
	page, _, _ = strings.Cut(page, "\nFlags:")
	assertNarrow(t, page)
	for _, s := range settings.All() {
		assert.Regexp(t, "(?m)^    "+s.Name+" +"+regexp.QuoteMeta(s.Meaning)+":\n +"+regexp.QuoteMeta(s.Takes)+"$", page)
	}
}

// TestTempiOfTheHelp: what the page says can be written can be.
func TestTempiOfTheHelp(t *testing.T) {
	page, _ := told(t, exitOK, "help", "tempo")
	assertNarrow(t, page)
	score, _ := check.Sheet("boathouse.md", []byte(boathouse), library.Open())
	timeline := player.NewTimeline(score)
	for _, text := range []string{"28 bars/min", "112 beats/min", "70 %"} {
		assert.Contains(t, page, "\n    "+text+"  ")
		_, _, err := timeline.ParseTempo(text, timeline.OwnTempo())
		require.NoError(t, err)
	}
	assert.Contains(t, page, fmt.Sprintf("from %.0f to %.0f %% of the song's", player.SlowestMusic, player.FastestMusic))
}
