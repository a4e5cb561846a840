package practice_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/player/practice"
)

// TestThePublishedExample schedules the worked example that the algorithm's
// implementations publish for its weights, without steps within a day: six times
// clean, twice forgotten, five times clean, each on the day on which it is due.
//
// Source: intervals, stability and difficulty stand in the tests of ts-fsrs (its
// long-term scheduler, to eight decimals) and of go-fsrs v3.3.1
// (TestLongTermScheduler, to four).
func TestThePublishedExample(t *testing.T) {
	c, f := practice.Clean, practice.Forgotten
	steps := []struct {
		grade                 practice.Grade
		interval              practice.Day
		stability, difficulty float64
	}{
		{c, 3, 3.173, 5.28243442}, {c, 11, 10.73892592, 5.27296793}, {c, 35, 34.57762416, 5.26354498},
		{c, 101, 100.74831139, 5.25416538}, {c, 269, 269.283835, 5.24482893}, {c, 669, 669.30934162, 5.23553542},
		{f, 12, 11.89873732, 6.76539959}, {f, 2, 2.23603312, 7.79401833}, {c, 5, 5.20013908, 7.77299855},
		{c, 12, 11.89928679, 7.75207546}, {c, 26, 26.49170577, 7.73124862}, {c, 55, 55.49486382, 7.71051758},
		{c, 112, 111.97264222, 7.68988191},
	}
	day, m := practice.DayOf(evening(0)), practice.Memory{}
	for i, want := range steps {
		m = m.After(day, want.grade)
		assert.Equal(t, want.interval, m.Due()-day, "interval %d", i)
		assert.InDelta(t, want.stability, m.Stability(), 1e-4, "stability %d", i)
		assert.InDelta(t, want.difficulty, m.Difficulty(), 1e-4, "difficulty %d", i)
		day = m.Due()
	}
}

// TestForgettingIsAsPublished compares what is still known with the published curve, R(t, S) = (1 +
// 19/81 · t/S)^-0.5. After S days, the stability, it is nine in ten.
//
// Source: free-spaced-repetition-scheduler, "The Algorithm".
func TestForgettingIsAsPublished(t *testing.T) {
	day := practice.DayOf(evening(0))
	m := practice.Memory{}.After(day, practice.Clean)
	for _, days := range []practice.Day{0, 1, 3, 10, 100} {
		want := math.Pow(1+19.0/81*float64(days)/m.Stability(), -0.5)
		assert.InDelta(t, want, m.Recall(day+days), 1e-9, "after %d days", days)
	}
	assert.InDelta(t, 0.9, math.Pow(1+19.0/81, -0.5), 1e-9)
}

func TestWhatWasNeverPractisedIsDue(t *testing.T) {
	m := practice.Memory{}
	assert.True(t, m.New())
	assert.Less(t, m.Due(), practice.DayOf(evening(0)))
	assert.Zero(t, m.Recall(practice.DayOf(evening(0))))
	assert.False(t, m.After(practice.DayOf(evening(0)), practice.Forgotten).New())
}

// TestADayIsTheCalendars: a late evening and an early morning are two days, in any time zone and when
// clocks go forward.
func TestADayIsTheCalendars(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		zone = time.FixedZone("CEST", 2*60*60)
	}
	late := time.Date(2026, 3, 28, 23, 50, 0, 0, zone)
	assert.Equal(t, practice.Day(1), practice.DayOf(late.Add(20*time.Minute))-practice.DayOf(late))
	assert.Equal(t, practice.Day(2), practice.DayOf(time.Date(2026, 3, 30, 0, 5, 0, 0, zone))-practice.DayOf(late))
	assert.Equal(t, practice.DayOf(late), practice.DayOf(late.Add(-20*time.Hour)))
}

// TestRecallOnADayBefore the last practice, as when the clock was set back, is as on that day.
func TestRecallOnADayBefore(t *testing.T) {
	const day = practice.Day(20_000)
	m := practice.Memory{}.After(day, practice.Clean)
	assert.Equal(t, 1.0, m.Recall(day))
	for _, earlier := range []practice.Day{1, 30, 20_000} {
		assert.Equal(t, 1.0, m.Recall(day-earlier), earlier)
	}
	assert.Less(t, m.Recall(day+1), 1.0)
}
