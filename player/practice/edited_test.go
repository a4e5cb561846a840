package practice_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
)

// evenings returns a session with everything in the boathouse sheet, one exercise done.
func evenings(timeline *player.Timeline) practice.Session {
	steady := practice.Tempi{Start: 80, Top: 80}
	return practice.Session{Done: 1, Exercises: []practice.Exercise{
		{Kind: practice.WarmUp, What: "Closed basic to Boathouse step", From: 0, To: 2, Part: player.Interval{From: timeline.Start, To: timeline.Passage(1).To}, Passes: 1, Tempi: steady},
		{Kind: practice.ShakyJoin, What: "Boathouse step into Closed basic", Why: "it went wrong", From: 1, To: 3, Part: timeline.Join(1), Passes: 4, Tempi: steady, Takes: time.Minute},
		{Kind: practice.Breather, What: "a breather", Takes: 30 * time.Second},
		{Kind: practice.DueFigure, What: "Closed basic", From: 2, To: 3, Part: timeline.Passage(2), Passes: 3, Tempi: steady},
		{Kind: practice.DueFigure, What: "Boathouse step", From: 1, To: 2, Part: timeline.Passage(1), Passes: 3, Tempi: steady},
		{Kind: practice.Whole, What: "the whole routine", From: 0, To: 4, Part: player.Interval{From: timeline.Start, To: timeline.End}, Passes: 1, Tempi: steady},
	}}
}

func TestASessionOfASheetThatWasEdited(t *testing.T) {
	const order = "1. Closed basic\n2. Boathouse step\n3. Closed basic\n4. Time step\n"
	timeline := read(t, boathouse)
	for name, c := range map[string]struct {
		order string
		name  string   // the Boathouse step's present name
		at    [][2]int // the passages of what is still to be danced
		lost  []string
	}{
		"nothing":               {order, "Boathouse step", [][2]int{{1, 3}, {0, 0}, {2, 3}, {1, 2}, {0, 4}}, nil},
		"one more before":       {"1. Time step\n2. Closed basic\n3. Boathouse step\n4. Closed basic\n5. Time step\n", "Boathouse step", [][2]int{{2, 4}, {0, 0}, {3, 4}, {2, 3}, {0, 5}}, nil},
		"one in between":        {"1. Closed basic\n2. Boathouse step\n3. Time step\n4. Closed basic\n", "Boathouse step", [][2]int{{0, 0}, {3, 4}, {1, 2}, {0, 4}}, []string{"Boathouse step into Closed basic"}},
		"one less":              {"1. Boathouse step\n2. Closed basic\n", "Boathouse step", [][2]int{{0, 2}, {0, 0}, {1, 2}, {0, 1}, {0, 2}}, nil},
		"a figure less":         {"1. Closed basic\n2. Time step\n", "Boathouse step", [][2]int{{0, 0}, {0, 1}, {0, 2}}, []string{"Boathouse step into Closed basic", "Boathouse step"}},
		"a figure of that name": {strings.ReplaceAll(order, "Boathouse", "Lantern"), "Lantern step", [][2]int{{1, 3}, {0, 0}, {2, 3}, {1, 2}, {0, 4}}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			edited := read(t, strings.ReplaceAll(strings.Replace(boathouse, order, c.order, 1), "## Boathouse step", "## "+c.name))
			before := evenings(timeline)
			now, lost := before.On(timeline, edited)
			assert.Equal(t, c.lost, lost)
			assert.Equal(t, evenings(timeline), before, "a value")
			assert.Equal(t, 1, now.Done)
			assert.Equal(t, before.Exercises[0], now.Exercises[0], "what is done")
			var at [][2]int
			for _, s := range now.Exercises[1:] {
				if s.Kind == practice.Breather {
					assert.Equal(t, before.Exercises[2], s)
					at = append(at, [2]int{})
					continue
				}
				at = append(at, [2]int{s.From, s.To})
				want := player.Interval{From: edited.Passage(s.From).From, To: edited.Passage(s.To - 1).To}
				if s.Kind == practice.ShakyJoin {
					want = edited.Join(s.From)
					assert.Equal(t, "it went wrong", s.Why)
					assert.Equal(t, c.name+" into Closed basic", s.What)
				}
				assert.Equal(t, want, s.Part, s.What)
				assert.Equal(t, practice.Tempi{Start: 80, Top: 80}, s.Tempi)
				assert.Positive(t, s.Takes)
			}
			assert.Equal(t, c.at, at)
			next, ok := now.Next()
			require.True(t, ok)
			assert.Equal(t, now.Exercises[1], next)
		})
	}
}
