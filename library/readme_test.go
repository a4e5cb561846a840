package library_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the README's counts of figures and sources anew")

const readme = "../README.md"

// figureTable returns the README's table of figures by dance and teaching level.
func figureTable(t *testing.T) string {
	lib := shipped()
	text := "| dance | figures | level 1 | level 2 | level 3 |\n|---|---:|---:|---:|---:|\n"
	var sum [4]int
	row := func(name string, n [4]int) {
		text += fmt.Sprintf("| %s | %d | %d | %d | %d |\n", name, n[0], n[1], n[2], n[3])
	}
	for _, name := range lib.Dances() {
		c, ok := lib.Chapter(name)
		require.True(t, ok, name)
		var n [4]int // 0 counts all, the others their level
		for _, fig := range c.Figures {
			require.Positive(t, fig.Level, fig.Name)
			require.Less(t, fig.Level, len(n), fig.Name)
			n[0]++
			n[fig.Level]++
		}
		for i := range n {
			sum[i] += n[i]
		}
		row(c.Dance.Name, n)
	}
	row("all", sum)
	return text
}

// sourcesLine returns the README's line on where the figures come from, and how many there are of each
// TestTheReadmeCountsTheFigures: the table is generated, not typed.
func TestTheReadmeCountsTheFigures(t *testing.T) {
	table := figureTable(t)
	t.Log("\n" + table)
	text, err := os.ReadFile(readme)
	require.NoError(t, err)
	from := strings.Index(string(text), "| dance | figures |")
	require.NotEqual(t, -1, from)
	length := strings.Index(string(text[from:]), "\n\n") + 1
	require.Positive(t, length)
	if *update {
		require.NoError(t, os.WriteFile(readme, []byte(string(text[:from])+table+string(text[from+length:])), 0o644))
		return
	}
	assert.Equal(t, table, string(text[from:from+length]), "run the test with -update")
}
