package rehearsal

import (
	"regexp"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"
)

var sgrPattern = regexp.MustCompile("\x1b\\[([0-9;]*)m")

// Attributes lists the attributes that a view sets, each combination once, and
// requires that no other control character is in it.
func Attributes(t require.TestingT, view string) []string {
	var all []string
	for _, m := range sgrPattern.FindAllStringSubmatch(view, -1) {
		all = append(all, m[1])
	}
	slices.Sort(all)
	rest := sgrPattern.ReplaceAllString(view, "")
	require.NotRegexp(t, "[\x00-\x09\x0b-\x1f\x7f\u0080-\u009f\u202a-\u202e\u2066-\u2069]", rest)
	return slices.Compact(all)
}

// Fits requires that a view keeps to its window.
func Fits(t require.TestingT, view string, width, height int) {
	lines := strings.Split(view, "\n")
	require.LessOrEqual(t, len(lines), height)
	for _, l := range lines {
		require.LessOrEqual(t, ansi.StringWidth(l), width, "%q", l)
	}
}

// Hostile returns a routine with escape sequences, other control characters and
// text that runs backwards in everything that a sheet can name.
func Hostile() *routine.Score {
	score, _ := routine.Read("hostile.md", []byte(Boathouse), Book{})
	score.Title = "\x1b]0;owned\x07\x1b[2J\u202eLantern"
	score.Dance.Name = "Cha\u009b31m-cha"
	score.Items[0].Remark = "look\x1b]52;c;bGFudGVybg==\x07 up\u009b31m"
	for i := range score.Items {
		fig := score.Items[i].Figure
		fig.Name = "\x1b[31m" + fig.Name + "\u2066\x00"
		for r := range fig.Rows {
			fig.Rows[r].Steps[routine.Leader].Note = "sm\x1b[5mall\r\nlantern"
		}
	}
	return score
}
