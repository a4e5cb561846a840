package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine/floor"
)

// manySteps returns a path of some 10,000 steps: a box, over and over, in a hall.
func manySteps(t require.TestingT) *floor.Path {
	path := trace(t, "---\ndance: waltz\nfaces: LOD\nfloor: 8 x 6 m\n---\n\n## Order\n\n"+strings.Repeat("1. Box step × 98\n", 17))
	require.Len(t, path.Score.Passages, 17*98)
	return path
}

// BenchmarkDots draws the next step.
func BenchmarkDots(b *testing.B) {
	path := manySteps(b)
	for _, size := range [][2]int{{80, 24}, {200, 60}} {
		for view := range plan.View(plan.Views) {
			b.Run(fmt.Sprintf("%dx%d/%s", size[0], size[1], view.Of(both)), func(b *testing.B) {
				var d plan.Drawing
				s := plan.Scene{Path: path, Shown: [2]bool{true, true}, View: view}
				d.Dots(s, size[0], size[1])
				b.ReportAllocs()
				for i := 0; b.Loop(); i++ {
					s.Passage, s.Danced = i/6%len(path.Score.Passages), i%6
					d.Dots(s, size[0], size[1])
				}
			})
		}
	}
}

// BenchmarkFirstLook draws a path for the first time.
func BenchmarkFirstLook(b *testing.B) {
	path := manySteps(b)
	for view := range plan.View(plan.Views) {
		b.Run(view.Of(both), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				plan.Dots(plan.Scene{Path: path, Shown: [2]bool{true, true}, View: view}, 80, 24)
			}
		})
	}
}

// BenchmarkLongFigure draws the end of one figure of some 5,000 steps, with its
// whole trail.
func BenchmarkLongFigure(b *testing.B) {
	rows := make([]string, 0, 5000)
	for i := range cap(rows) {
		way := []string{"LF forward | RF back", "RF back | LF forward"}[i%2]
		rows = append(rows, fmt.Sprintf("%d | %s", i%3+1, way))
	}
	path := trace(b, invented(waltz, "closed", rows...))
	s := plan.Scene{Path: path, Danced: len(rows), Shown: both}
	var d plan.Drawing
	b.ReportAllocs()
	for b.Loop() {
		d.Dots(s, 200, 60)
	}
}
