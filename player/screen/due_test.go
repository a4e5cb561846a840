package screen_test

import (
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen"
)

// TestWhatIsDueIsChosen by its number, and each sheet that is chosen has a session.
func TestWhatIsDueIsChosen(t *testing.T) {
	planned := 0
	plan := func(l *player.Timeline) practice.Session {
		planned++
		return practice.NewSession(l, practice.NewHistory(l.Score, nil, time.UTC), practice.Wish{Now: time.Now(), Minutes: 10})
	}
	synctest.Test(t, func(t *testing.T) {
		s := newShow(t, "", 80, 24, screen.Options{Session: plan})
		s.shelf.entries = s.shelf.entries[:2]
		s.shelf.entries[0].Why, s.shelf.entries[1].Why = "3 figures due, 5 days overdue", "not danced yet"
		s.do(s.model.Init())
		s.settle()
		require.Contains(t, s.text(), "what to practise")
		assert.Contains(t, s.text(), "> 1 Lantern Night at the boathouse  3 figures due, 5 days overdue")
		assert.Contains(t, s.text(), "  2 Last lantern                    not danced yet")
		s.keys("2")
		assert.Contains(t, s.text(), "Last lantern · Foxtrot")
		assert.Equal(t, 1, planned)
		s.keys("esc")
		require.Contains(t, s.text(), "what to practise")
		s.keys("l", "a", "s", "t", "3")
		assert.Contains(t, s.text(), "find: last3", "what is typed into the line is no number")
		s.keys("esc", "enter")
		assert.Equal(t, 2, planned)
	})
}
