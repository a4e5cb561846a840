package practice_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
)

// longRoutine returns a routine of so many figures, all of them different.
func longRoutine(t testing.TB, figures int) *player.Timeline {
	t.Helper()
	head, chart, _ := strings.Cut(boathouse, "## Boathouse step")
	head, _, _ = strings.Cut(head, "1. Closed basic")
	var order, charts strings.Builder
	for i := range figures {
		fmt.Fprintf(&order, "%d. Lantern %d\n", i+1, i+1)
		fmt.Fprintf(&charts, "\n## Lantern %d%s", i+1, chart)
	}
	return read(t, head+order.String()+charts.String())
}

// TestSessionsFillTheirTime, or say why not: for routines that are new, half known, and fresh.
func TestSessionsFillTheirTime(t *testing.T) {
	for _, figures := range []int{8, 24, 64} {
		timeline := longRoutine(t, figures)
		once := (timeline.Seconds(timeline.End) - timeline.Seconds(timeline.Start)) / 0.7
		for _, past := range []struct {
			name string
			kept []practice.Kept
		}{
			{"new", nil},
			{"shaky", []practice.Kept{danced(timeline, evening(0), whole(timeline), 80, append(bothMark(2, true), bothMark(5, false)...)...)}},
			{"due", []practice.Kept{danced(timeline, evening(-60), whole(timeline), 80)}},
			{"fresh", []practice.Kept{danced(timeline, evening(0), whole(timeline), 100)}},
		} {
			history := practice.NewHistory(timeline.Score, past.kept, time.UTC)
			for _, minutes := range []float64{10, 20, 45, 60} {
				name := fmt.Sprintf("%d figures, %s, %g min", figures, past.name, minutes)
				s := practice.NewSession(timeline, history, practice.Wish{Now: evening(1), Minutes: minutes})
				took := s.Takes().Minutes()
				t.Logf("%s: %.1f min, %d exercises, %d left for tomorrow. %s", name, took, len(s.Exercises), len(s.Tomorrow), s.Why)
				if s.Why == "" {
					assert.GreaterOrEqual(t, took, 0.9*minutes, name)
					assert.LessOrEqual(t, took, 1.05*minutes, name)
				}
				if past.name == "new" && figures > 8 {
					assert.Empty(t, s.Why, name+": there is enough to learn")
				}
				if len(s.Tomorrow) > 0 {
					assert.InDelta(t, minutes, took, max(once/60, 0.1*minutes), name+": something was left out for lack of time")
				}
			}
		}
	}
}
