package summary_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/summary"
	"dance.example/slowquick/routine"
)

func TestWhatASessionCameTo(t *testing.T) {
	rumba, ok := library.Open().Chapter("rumba")
	require.True(t, ok)
	d := rumba.Dance
	tempo := func(bars routine.Tempo) routine.Tempo {
		return bars * routine.Tempo(d.Metre.Beats) * routine.BeatPerMinute
	}
	figure := func(name string) practice.Piece {
		return practice.Piece{Figure: practice.Figure{Dance: d.Name, Name: name}}
	}
	join := practice.Piece{Figure: figure("Fan").Figure, Then: figure("Alemana").Figure}
	today := practice.DayOf(time.Date(2026, 9, 4, 21, 0, 0, 0, time.UTC))
	s := practice.Summary{
		Title: "Boathouse rumba", Planned: 6, Exercises: 5, RunThroughs: 9, Dancing: 11*time.Minute + 40*time.Second,
		Danced: []practice.Piece{figure("Fan"), join, figure("Alemana"), figure("Spot turn")},
		Better: []practice.Better{
			{Piece: figure("Fan"), Partner: routine.Leader, Now: tempo(24)}, {Piece: figure("Fan"), Partner: routine.Follower, Now: tempo(24)},
			{Piece: join, Partner: routine.Leader, Now: tempo(24)}, {Piece: join, Partner: routine.Follower, Was: tempo(24), Now: tempo(24), Mended: true},
			{Piece: figure("Alemana"), Partner: routine.Leader, Now: tempo(24)}, {Piece: figure("Alemana"), Partner: routine.Follower, Now: tempo(24)},
			{Piece: figure("Spot turn"), Partner: routine.Follower, Was: tempo(20), Now: tempo(25)},
		},
		Next: []practice.Next{
			{Piece: figure("Fan"), Partner: routine.Leader, Day: today + 1}, {Piece: join, Partner: routine.Leader, Day: today + 1, New: true},
			{Piece: figure("Fan"), Partner: routine.Follower, Day: today + 3}, {Piece: figure("Spot turn"), Partner: routine.Leader, Day: today + 3},
		},
	}
	assert.Equal(t, []summary.Section{
		{"Boathouse rumba today", []string{"5 of 6 exercises, 9 run-throughs, 12 minutes of dancing"}},
		{"Danced", []string{"Fan, Alemana, Spot turn"}},
		{"Better", []string{
			"Fan, Alemana: clean for the first time, at 24 bars/min",
			"Fan into Alemana: no longer goes wrong, for the follower",
			"Spot turn: clean at 25 bars/min, before at 20 bars/min, for the follower",
		}},
		{"Next", []string{"Tomorrow, Sat 5 Sep: Fan", "Mon 7 Sep: Spot turn"}},
	}, summary.Of(s, d, today))

	s.Better, s.Next = nil, nil
	list := summary.Of(s, d, today)
	require.Len(t, list, 3)
	assert.Equal(t, "Nothing was cleaner or faster than before, as far as you said", list[2].Lines[0])
	assert.Empty(t, summary.Of(practice.Summary{Title: "Boathouse rumba", Planned: 6}, d, today), "nothing was danced")
}
