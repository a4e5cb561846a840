package screen_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/screen"
)

// TestTheReadmeIsTrue: the README shows the screen as it is, and every key.
func TestTheReadmeIsTrue(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	picture, err := os.ReadFile("testdata/TestViews_dancing_80x24.golden")
	require.NoError(t, err)
	assert.Contains(t, string(text), strings.TrimRight(string(picture), "\n"), "copy the golden view into the README")
	assert.Contains(t, string(text), screen.KeyTable(), "copy the keys into the README:\n%s", screen.KeyTable())
}
