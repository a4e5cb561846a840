package music_test

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/music"
)

// The F-measure of beats, as MIREX has used it since 2009 and mir_eval computes
// it: a beat is found if one is within 70 ms, each counts once, and the first
// five seconds are ignored.
const (
	near   = 0.07 // seconds
	unheld = 5.0  // seconds ignored at the start
)

// pairs returns the most pairs of times that are near each other, each time in
// at most one of them. Both slices are sorted.
func pairs(truth, found []float64) (matched [][2]int) {
	for i, j := 0, 0; i < len(truth) && j < len(found); {
		switch d := found[j] - truth[i]; {
		case d > near:
			i++
		case d < -near:
			j++
		default:
			matched = append(matched, [2]int{i, j})
			i, j = i+1, j+1
		}
	}
	return matched
}

// fMeasure returns the harmonic mean of the part of the true beats that are
// found and the part of the found beats that are true.
func fMeasure(truth, found []float64) float64 {
	truth, found = late(truth), late(found)
	if len(truth) == 0 || len(found) == 0 {
		return 0
	}
	return 2 * float64(len(pairs(truth, found))) / float64(len(truth)+len(found))
}

// late returns the times that are judged.
func late(times []float64) []float64 {
	for len(times) > 0 && times[0] < unheld {
		times = times[1:]
	}
	return times
}

// barRight reports whether most of the beats found have the right number in the bar.
func barRight(truth []float64, numbers []int, g music.Grid) bool {
	found, right := pairs(truth, g.Seconds()), 0
	for _, p := range found {
		if numbers[p[0]] == g.Beats[p[1]].Number {
			right++
		}
	}
	return right*2 > len(found)
}

// TestTheMeasure compares the measure with values worked out by hand.
func TestTheMeasure(t *testing.T) {
	truth := []float64{1, 6, 7, 8, 9}
	for _, c := range []struct {
		name  string
		found []float64
		want  float64
	}{
		{"all, and what is early does not count", []float64{6, 7, 8, 9}, 1},
		{"within 70 ms", []float64{5.931, 7.069, 8.071, 9}, 0.75},
		{"none", nil, 0},
		{"between", []float64{6.5, 7.5, 8.5}, 0},
		{"twice as many", []float64{6, 6.5, 7, 7.5, 8, 8.5, 9, 9.5}, 8. / 12},
		{"half as many", []float64{6, 8}, 4. / 6},
		{"one counts once", []float64{5.99, 6.01}, 2. / 6},
	} {
		assert.InDelta(t, c.want, fMeasure(truth, c.found), 1e-9, c.name)
	}
}

// TestThePublishedMeasure compares the measure with what is published for a
// song's annotated beats and the beats that a program found.
//
// Source: mir_eval (MIT licence), tests/data/beat, ref00.txt, est00.txt and
// output00.json, whose times are rounded here: to milliseconds, to hundredths
// of them where they are 70 ms apart.
func TestThePublishedMeasure(t *testing.T) {
	times := func(path string) (out []float64) {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		for _, w := range strings.Fields(string(text)) {
			s, err := strconv.ParseFloat(w, 64)
			require.NoError(t, err)
			out = append(out, s)
		}
		assert.IsIncreasing(t, out)
		return out
	}
	assert.InDelta(t, 0.6216216216216216, fMeasure(times("testdata/beats-ref.txt"), times("testdata/beats-est.txt")), 1e-12)
}
