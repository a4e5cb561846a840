package screen_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen"
)

const suggests = "danced: a pause does you good"

// TestAPauseIsSuggestedAtTheEndOfAPass while the dance goes on, and again after as much
// more, but not at once after a rest.
func TestAPauseIsSuggestedAtTheEndOfAPass(t *testing.T) {
	practises(t, 80, 24, screen.Options{PauseAfter: time.Minute}, func(s *show, d *diary) {
		s.keys("down", "down", "r", " ") // passes of two seconds
		s.wait(58 * time.Second)
		assert.NotContains(t, s.text(), suggests)
		s.wait(6 * time.Second)
		assert.Contains(t, s.text(), "1 minute "+suggests)
		golden.Equal(t, s.text()+"\n")
		assert.Equal(t, player.Dancing, s.now().State)
		s.wait(12 * time.Second)
		assert.NotContains(t, s.text(), suggests, "it goes by itself")
		s.wait(52 * time.Second)
		assert.Contains(t, s.text(), "2 minutes "+suggests)
		s.keys("+")
		assert.NotContains(t, s.text(), suggests, "a key takes it away")

		s.keys(" ").heard()
		require.Equal(t, player.Holding, s.now().State)
		s.wait(6 * time.Minute)
		assert.NotContains(t, s.text(), suggests, "what is stood does not count")
		s.keys(" ")
		s.wait(58 * time.Second)
		assert.NotContains(t, s.text(), suggests, "one has rested")
		s.wait(6 * time.Second)
		assert.Contains(t, s.text(), "1 minute "+suggests)
	})
}

// TestAPauseIsSuggestedToWhoStands: a run-through is never interrupted, however long it takes.
func TestAPauseIsSuggestedToWhoStands(t *testing.T) {
	practises(t, 40, 15, screen.Options{PauseAfter: time.Minute}, func(s *show, d *diary) {
		s.keys("t", "9", " ", "bars/min", "enter").heard() // a pass takes most of a minute
		s.keys(" ")
		s.wait(35 * time.Second)
		s.keys(" ") // and a short rest
		s.wait(2 * time.Minute)
		assert.NotContains(t, s.text(), suggests)
		s.keys("home", " ")
		s.wait(45 * time.Second)
		require.Equal(t, player.Dancing, s.now().State)
		assert.NotContains(t, s.text(), suggests)
		s.keys(" ").heard()
		assert.Contains(t, s.text(), "1 minute "+suggests)
		s.wait(2 * time.Minute)
		assert.Contains(t, s.text(), "1 minute "+suggests, "until one goes on")
		s.keys(" ")
		assert.NotContains(t, s.text(), suggests)
	})
}

// TestMinutesCountFromSheetToSheet, but the time between them doesn't.
func TestMinutesCountFromSheetToSheet(t *testing.T) {
	practises(t, 80, 24, screen.Options{PauseAfter: time.Minute}, func(s *show, d *diary) {
		dance := func(long time.Duration) {
			s.keys("down", "down", "r", " ")
			s.wait(4*beat + long)
		}
		dance(40 * time.Second)
		s.keys("esc").heard().keys("esc", "enter")
		s.wait(3 * time.Minute)
		s.keys("enter")
		dance(15 * time.Second)
		assert.NotContains(t, s.text(), suggests)
		s.wait(8 * time.Second)
		assert.Contains(t, s.text(), "1 minute "+suggests)
	})
}

// TestNoPauseIsSuggested to a dancer who doesn't want it.
func TestNoPauseIsSuggested(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys("down", "down", "r", " ")
		s.wait(time.Hour)
		s.keys(" ").heard()
		assert.Equal(t, player.Holding, s.now().State)
		assert.NotContains(t, s.text(), suggests)
	})
}

// TestAPauseBesideABreather: the session says its own as well.
func TestAPauseBesideABreather(t *testing.T) {
	short := func(timeline *player.Timeline) practice.Session {
		p := plan(timeline)
		p.Exercises[0].Passes, p.Exercises[0].Tempi = 4, practice.Tempi{Start: 10, Top: 10}
		return p
	}
	practises(t, 80, 24, screen.Options{PauseAfter: time.Minute, Session: short}, func(s *show, d *diary) {
		s.keys(" ")
		s.wait(4*30*time.Second + time.Second)
		assert.Contains(t, s.text(), "1 minute "+suggests+" · Space: clean, z: wrong, PgUp: again")
	})
}

// TestTheMinutesOfAPauseFitASmallWindow, as nothing else is said there.
func TestTheMinutesOfAPauseFitASmallWindow(t *testing.T) {
	practises(t, 40, 12, screen.Options{PauseAfter: 3 * time.Second}, func(s *show, d *diary) {
		s.keys(" ")
		s.wait(4*beat + 4*time.Second)
		s.keys(" ").heard()
		assert.True(t, strings.Contains(s.text(), suggests), s.text())
	})
}
