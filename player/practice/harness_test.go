package practice_test

import (
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// shipped returns the library that ships with the program, opened once.
var shipped = sync.OnceValue(library.Open)

// evening returns when the Lantern Night class begins; day counts from its first.
func evening(day int) time.Time { return time.Date(2026, 9, 4+day, 19, 30, 0, 0, time.UTC) }

// sheet reads one of the example sheets.
func sheet(t testing.TB, name string) *player.Timeline {
	t.Helper()
	lib := shipped()
	text, err := lib.Sheet(name)
	require.NoError(t, err)
	return read(t, string(text))
}

// read reads a sheet, which must be danceable.
func read(t testing.TB, text string) *player.Timeline {
	t.Helper()
	score, found := routine.Read("lantern.md", []byte(text), shipped())
	require.False(t, routine.HasErrors(found), "%v", found)
	require.NotEmpty(t, score.Passages)
	return player.NewTimeline(score)
}

// danced returns a run-through of a part of a timeline, which both partners judged.
func danced(timeline *player.Timeline, at time.Time, part player.Interval, percent float64, marks ...practice.Mark) practice.Kept {
	_, figs := practice.Part(timeline, part)
	return practice.Kept{
		At: at, Took: time.Minute, Tempo: timeline.Score.Tempo.Scaled(percent),
		Finished: true, Danced: figs, Judged: [2]bool{true, true}, Marks: marks,
	}
}

func whole(timeline *player.Timeline) player.Interval {
	return player.Interval{From: timeline.Start, To: timeline.End}
}

func bothMark(place int, join bool) []practice.Mark {
	return []practice.Mark{{Place: place, Join: join, Partner: routine.Leader}, {Place: place, Join: join, Partner: routine.Follower}}
}

const boathouse = `---
dance: cha-cha
title: Boathouse evening
tempo: 30 bars/min
---

## Order

1. Closed basic
2. Boathouse step
3. Closed basic
4. Time step

## Boathouse step

- starts: open facing, leader LF free, follower RF free
- ends: open facing
- source: made up for this class

| Count | Leader                                    | Follower                                  |
|:-----:|-------------------------------------------|-------------------------------------------|
|   2   | LF forward, check                         | RF back                                   |
|   3   | RF replace                                | LF replace                                |
|   4   | LF side                                   | RF side                                   |
|   &   | RF close                                  | LF close                                  |
|   1   | LF forward, 1/4 L, in right side position | RF forward, 1/4 R, in right side position |
|   2   | RF forward, check                         | LF forward, check                         |
|   3   | LF replace                                | RF replace                                |
|   4   | RF side, 1/4 R                            | LF side, 1/4 L                            |
|   &   | LF close                                  | RF close                                  |
|   1   | RF side                                   | LF side                                   |
`
