package main

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// TestHelpOnSheetsIsOnePage.
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
