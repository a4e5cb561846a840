package screen_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/player/screen/internal/screentest"
	"dance.example/slowquick/routine"
)

// bookOfTests has the dances of the tests.
type bookOfTests struct{ screentest.Book }

func chapters() bookOfTests { return bookOfTests{screentest.NewBook()} }

// Drill dances a figure twice; nothing leads back to Oar turn.
func (b bookOfTests) Drill(c *handbook.Chapter, fig *routine.Figure) screen.Drill {
	score, _ := routine.InOrder(c.Dance, nil, routine.Whole(fig), routine.Whole(fig))
	score.Title = "drill: " + fig.Name
	return screen.Drill{Sheet: dance.Sheet{Name: score.Title, Timeline: player.NewTimeline(score)}, Returns: !strings.Contains(fig.Name, "Oar")}
}

func TestDrillViews(t *testing.T) {
	for _, place := range []struct {
		name string
		keys []string
	}{
		{"drill", []string{"tab", "enter", "enter", " "}},
		{"drill with a rest", []string{"tab", "enter", "down", "enter", "enter"}},
	} {
		for _, size := range []struct {
			name          string
			width, height int
		}{{"80x24", 80, 24}, {"200x60", 200, 60}, {"40x12", 40, 12}} {
			t.Run(place.name+" "+size.name, func(t *testing.T) {
				dances(t, "", size.width, size.height, func(s *show) {
					s.keys(place.keys...).heard()
					golden.Equal(t, s.text()+"\n")
				})
			})
		}
	}
}

// TestTheWayThroughTheHandbook leads from the list through the handbook to a figure that is danced, and
// back the same way to the same places.
func TestTheWayThroughTheHandbook(t *testing.T) {
	dances(t, "", 80, 23, func(s *show) {
		views := []string{s.text()}
		press := func(want string, keys ...string) {
			t.Helper()
			s.keys(keys...).heard()
			require.Contains(t, s.text(), want)
			views = append(views, s.text())
		}
		press("choose a dance", "tab")
		press("Level 1", "enter")
		require.NotContains(t, s.text(), "River walk", "of another dance")
		s.keys("lan")
		require.NotContains(t, s.text(), "Oar turn")
		views[len(views)-1] = s.text()
		press("[steps]", "enter")
		require.Contains(t, s.text(), "look at the lights")
		s.keys("left", "left", "down")
		views[len(views)-1] = s.text()
		press("[steps]", "enter")
		require.Contains(t, s.text(), "Oar turn  ")
		s.keys("up", "esc")
		assert.Equal(t, views[3], s.text(), "the neighbour is still chosen")

		s.keys(" ").heard()
		require.Contains(t, s.text(), "drill: Lantern step · Cha-cha")
		require.Contains(t, s.text(), " LEAD-IN ")
		s.wait(5 * time.Second)
		require.Contains(t, s.text(), "loop: the drill, 1st time")
		require.False(t, s.now().Settings.Loop.Empty())
		require.Zero(t, s.now().Settings.Rest)
		s.wait(5 * time.Second)
		require.Equal(t, player.Dancing, s.now().State)
		require.Contains(t, s.text(), "loop: the drill, 2nd time")
		s.keys("?", "esc", "esc").heard().keys("esc")
		assert.Equal(t, views[3], s.text(), "back on the page, as it was")
		assert.Equal(t, player.Holding, s.now().State)

		s.keys("esc")
		assert.Equal(t, views[2], s.text(), "the figures, as they were narrowed down")
		s.keys("tab")
		assert.Equal(t, views[0], s.text(), "the sheets")
		s.keys("tab")
		assert.Equal(t, views[2], s.text(), "where it was left")
		s.keys("esc")
		assert.Contains(t, s.text(), "> Lantern step", "what was found is still chosen")
		assert.Contains(t, s.text(), "Oar turn")
		s.keys("esc")
		assert.Equal(t, views[1], s.text())
		s.keys("esc")
		assert.Equal(t, views[0], s.text())
		s.keys("enter", "esc").heard()
		assert.Equal(t, views[0], s.text(), "a sheet leads back to the sheets")
	})
}

func TestAFigureThatNothingLeadsBackToRestsBetweenPasses(t *testing.T) {
	dances(t, "", 80, 24, func(s *show) {
		s.keys("tab", "enter", "oar", "enter", " ").heard()
		assert.Contains(t, s.text(), "walk back during the rest")
		assert.Equal(t, 2, s.now().Settings.Rest)
	})
}

// TestTurningToSomethingElseCallsOff a drill that is being looked for: any key does, and so does a sheet
// chosen from the list.
func TestTurningToSomethingElseCallsOff(t *testing.T) {
	dances(t, "", 80, 20, func(s *show) {
		s.keys("tab", "enter", "enter")
		s.send(screentest.Key(" "))
		s.send(screentest.Key("esc"))
		s.settle()
		assert.Contains(t, s.text(), "Level 1")
		s.keys("tab")
		s.send(screentest.Key("enter"))
		s.send(screentest.Key("tab"))
		s.settle()
		assert.Contains(t, s.text(), "Level 1")
	})
}

// TestAHandbookThatTellsLittle: it may be empty, its figures may have no facts, and some can't be danced.
func TestAHandbookThatTellsLittle(t *testing.T) {
	dances(t, "", 80, 20, func(s *show) {
		m := screen.New(s.ctx, screen.Options{Shelf: s.shelf, Handbook: silentBook{}})
		s.model = m
		s.size(80, 20)
		s.keys("tab")
		assert.Contains(t, s.text(), "there is nothing here")
		s.keys("enter", "x", "esc", "esc")
		assert.Contains(t, s.text(), "choose a sheet")

		s.model = screen.New(s.ctx, screen.Options{Shelf: s.shelf, Handbook: silentBook{{Dance: chapters().Book[0].Dance, Figures: []*routine.Figure{{Name: "Nameless"}}}}})
		s.size(80, 20)
		s.keys("tab", "enter")
		assert.Contains(t, s.text(), "Level not said")
		s.keys("enter", " ")
		assert.Contains(t, s.text(), "it can't be danced by itself: it has no steps")
		for range 4 {
			s.keys("right", "down", "v", "enter")
		}
		s.keys("left", "left")
		assert.Contains(t, s.text(), "nothing in the handbook")

		s.model = screen.New(s.ctx, screen.Options{Shelf: s.shelf})
		s.size(80, 20)
		assert.NotContains(t, s.text(), "handbook")
		s.keys("tab")
		assert.Contains(t, s.text(), "choose a sheet")
	})
}

// silentBook can dance nothing and knows no neighbours.
type silentBook []handbook.Chapter

func (b silentBook) Chapters() []handbook.Chapter { return b }
func (b silentBook) Beside(*handbook.Chapter, *routine.Figure) (before, after []handbook.Neighbour) {
	return nil, nil
}

func (b silentBook) Drill(*handbook.Chapter, *routine.Figure) screen.Drill {
	return screen.Drill{Sheet: dance.Sheet{Findings: []routine.Finding{{Severity: routine.Error, Message: "it has no steps"}}}}
}
