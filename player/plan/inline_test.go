package plan_test

import (
	"encoding/xml"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// TestAFigureStandsInAPage checks that drawings are well formed and show only
// the partners who are shown.
func TestAFigureStandsInAPage(t *testing.T) {
	score, found := routine.Read("jetty.md", []byte(jetty), shipped)
	require.False(t, routine.HasErrors(found), "%v", found)
	path := floor.Trace(score)
	for passage := range score.Passages {
		for _, shown := range [][2]bool{{true, true}, {true, false}, {false, true}} {
			out := string(plan.Paper{Shown: shown}.Figure(path, passage, 90))
			d := xml.NewDecoder(strings.NewReader("<p>" + out + "</p>"))
			for {
				if _, err := d.Token(); err == io.EOF {
					break
				} else {
					require.NoError(t, err)
				}
			}
			sizes := regexp.MustCompile(`<svg viewBox="0 0 ([\d.]+) ([\d.]+)" width="([\d.]+)mm" height="([\d.]+)mm"`).FindAllStringSubmatch(out, -1)
			require.GreaterOrEqual(t, len(sizes), 2, "a stage, and the scale")
			for _, size := range sizes {
				assert.Equal(t, size[1:3], size[3:5])
			}
			for q, name := range []string{"leader", "follower"} {
				assert.Equal(t, shown[q], regexp.MustCompile(`class="stage"[^>]*>`+name).MatchString(out), "%s in passage %d", name, passage)
			}
			assert.NotContains(t, out, "http")
			assert.NotContains(t, out, "<style")
		}
	}
}

// TestStyleTouchesNothingElse checks that each rule begins with the selector.
func TestStyleTouchesNothingElse(t *testing.T) {
	rules := strings.Split(strings.TrimSpace(plan.Style(".floor")), "\n")
	require.Greater(t, len(rules), 20)
	for _, rule := range rules {
		names, looks, ok := strings.Cut(rule, "{")
		require.True(t, ok, rule)
		assert.True(t, strings.HasSuffix(looks, "}"), rule)
		for name := range strings.SplitSeq(names, ",") {
			assert.True(t, strings.HasPrefix(name, ".floor "), rule)
		}
	}
}
