package library_test

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// page matches what names a page, book or standard: an address, a year, or that there is no date.
var page = regexp.MustCompile(`\w\.(com|net|org|info|nl|no|dance|uk|ua|za|hu|se)\b|\b(1[89]|20)\d\d\b|\bundated\b|Wikipedia`)

// The foundations of a chart, the best first.
var foundations = []string{"from a page, book or standard that is named", "common practice", "from memory"}

// foundation returns on what a figure's chart is founded, as an index of [foundations]. A chart from memory stays
// one if pages name the figure; what is only likened to another figure is common practice.
func foundation(source string) int {
	first, _, _ := strings.Cut(source, ";")
	switch {
	case strings.HasPrefix(source, "from memory"), strings.Contains(source, "charted from memory"):
		return 2
	case strings.HasPrefix(source, "common practice"), !page.MatchString(first):
		return 1
	}
	return 0
}

func TestFoundations(t *testing.T) {
	for source, want := range map[string]int{
		"Aida, dancecentral.info, undated; that the steps are small, so that the hands still reach": 0,
		"Vernon and Irene Castle, Modern Dancing, Harper 1914, p. 71":                               0,
		"common practice; 5c Circular Voltas, aidadance.org, undated":                               1,
		"the chart as in the foxtrot; three slows, from memory":                                     1,
		"common practice (printed lists name it); charted from memory":                              2,
		"a list, dart.if.ua, undated; charted from memory":                                          2,
		"from memory": 2,
	} {
		assert.Equal(t, want, foundation(source), source)
	}
}

// sourceSentence returns the README's sentence on where the charts come from, and logs the counts of each dance.
func sourceSentence(t *testing.T) string {
	lib := shipped()
	var sum [3]int
	for _, name := range lib.Dances() {
		c, ok := lib.Chapter(name)
		require.True(t, ok, name)
		var n [3]int
		for _, fig := range c.Figures {
			n[foundation(fig.Source)]++
			sum[foundation(fig.Source)]++
		}
		t.Logf("%-17s %3d named %3d common practice %3d from memory", name, n[0], n[1], n[2])
	}
	return fmt.Sprintf("Of the charts %d are %s, %d are %s and %d %s.", sum[0], foundations[0], sum[1], foundations[1], sum[2], foundations[2])
}

var sourcesSaid = regexp.MustCompile(`Of the charts \d+ are [^.]*\.`)

// TestTheReadmeSaysWhereChartsComeFrom prints how many charts name their source, by dance; the sentence is
// generated, not typed.
func TestTheReadmeSaysWhereChartsComeFrom(t *testing.T) {
	sentence := sourceSentence(t)
	t.Log(sentence)
	text, err := os.ReadFile(readme)
	require.NoError(t, err)
	said := sourcesSaid.Find(text)
	require.NotEmpty(t, said)
	if *update {
		require.NoError(t, os.WriteFile(readme, sourcesSaid.ReplaceAllLiteral(text, []byte(sentence)), 0o644))
		return
	}
	assert.Equal(t, sentence, string(said), "run the test with -update")
}
