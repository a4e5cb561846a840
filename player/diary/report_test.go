package diary

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/player/progress"
)

func TestWeeksBeginOnMonday(t *testing.T) {
	for day := range 7 {
		at := time.Date(2026, 10, 26+day, 23, 59, 0, 0, time.UTC) // a week with the end of a month
		assert.Equal(t, time.Date(2026, 10, 26, 0, 0, 0, 0, time.UTC), progress.Mondays(1, at)[0], at)
	}
	monday := time.Date(2026, 10, 26, 0, 0, 0, 0, time.UTC)
	list := byWeeks([]Kept{{Began: monday, Took: 90 * time.Second, RunThroughs: 2}, {Began: monday.AddDate(0, 0, 7).Add(-1), Took: time.Minute, RunThroughs: 1},
		{Began: monday.AddDate(0, 0, 7), Took: time.Hour, RunThroughs: 9}}, progress.Mondays(3, monday.AddDate(0, 0, 14)))
	assert.Equal(t, []Week{{"2026-10-26", 2.5, 2, 3}, {"2026-11-02", 60, 1, 9}, {"2026-11-09", 0, 0, 0}}, list)
}
