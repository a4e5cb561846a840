package main

import (
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
)

// TestTheReadmesSheetCanBeDanced reads the sheet that the README shows.
func TestTheReadmesSheetCanBeDanced(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	sheet := regexp.MustCompile("(?s)```markdown\n(.*?)```").FindSubmatch(text)
	require.NotNil(t, sheet)
	score, found := check.Sheet("README.md", sheet[1], library.Open())
	assert.Empty(t, found)
	assert.Len(t, score.Passages, 4)
}
