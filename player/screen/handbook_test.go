package screen_test

import (
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/routine"
)

// bookOfTests has the dances of the tests. All that is found of a figure is that
// it can be danced after itself, and, if the couple turns, after another.
type bookOfTests []screen.Chapter

func chapters() bookOfTests {
	chaCha, foxtrot := read(rehearsal.Boathouse).Timeline.Score, read(rehearsal.Lounge).Timeline.Score
	lantern, oar := chaCha.Figures[0], chaCha.Figures[1]
	lantern.Level, oar.Level = 1, 2
	lantern.Aliases = []string{"look at the lights"}
	oar.Source = "from memory"
	oar.Starts.Positions = 1<<routine.Closed | 1<<routine.OpenFacing
	oar.Starts.Free = [2]routine.Foot{routine.LF, routine.RF}
	return bookOfTests{{Dance: chaCha.Dance, Figures: chaCha.Figures}, {Dance: foxtrot.Dance, Figures: foxtrot.Figures}}
}

func (b bookOfTests) Chapters() []screen.Chapter { return b }

func (b bookOfTests) Beside(c *screen.Chapter, fig *routine.Figure) (before, after []screen.Neighbour) {
	after = []screen.Neighbour{{Figure: fig}}
	for _, other := range c.Figures {
		if other != fig {
			after = append(after, screen.Neighbour{Figure: other, Turn: -1})
		}
	}
	return nil, after
}

// Drill dances a figure twice; nothing leads back to Oar turn.
func (b bookOfTests) Drill(c *screen.Chapter, fig *routine.Figure) screen.Drill {
	score, _ := routine.InOrder(c.Dance, nil, routine.Whole(fig), routine.Whole(fig))
	score.Title = "drill: " + fig.Name
	return screen.Drill{Loaded: screen.Loaded{Name: score.Title, Timeline: player.NewTimeline(score)}, Returns: !strings.Contains(fig.Name, "Oar")}
}

// places are the ways to what the handbook shows, from the list.
var places = []struct {
	name string
	keys []string
}{
	{"dances", []string{"tab", "down"}},
	{"dances found", []string{"tab", "fox"}},
	{"nothing found", []string{"tab", "enter", "waltz"}},
	{"figures", []string{"tab", "enter", "down"}},
	{"figures of a level", []string{"tab", "enter", "level", " ", "2"}},
	{"steps", []string{"tab", "enter", "enter"}},
	{"floor", []string{"tab", "enter", "enter", "right"}},
	{"after", []string{"tab", "enter", "enter", "left", "left"}},
	{"before", []string{"tab", "enter", "enter", "left"}},
	{"neighbour", []string{"tab", "enter", "enter", "left", "left", "down", "enter"}},
	{"drill", []string{"tab", "enter", "enter", " "}},
	{"drill with a rest", []string{"tab", "enter", "down", "enter", "enter"}},
}

func TestHandbookViews(t *testing.T) {
	sizes := []struct {
		name          string
		width, height int
	}{{"80x24", 80, 24}, {"200x60", 200, 60}, {"40x12", 40, 12}}
	for _, place := range places {
		for _, size := range sizes {
			t.Run(place.name+" "+size.name, func(t *testing.T) {
				dances(t, "", size.width, size.height, func(s *show) {
					s.keys(place.keys...).heard()
					golden.Equal(t, s.text()+"\n")
				})
			})
		}
	}
}

// Every key that the help line of the handbook names does something that shows,
// wherever there is something to choose, or to read on.
func TestEveryKeyOfTheHandbookWorks(t *testing.T) {
	opposite := map[string]string{"up": "down", "down": "up", "ctrl+p": "ctrl+n", "ctrl+n": "ctrl+p"}
	somewhere := func(name string) bool {
		return slices.Contains([]string{"dances", "figures", "steps", "floor", "after", "neighbour"}, name)
	}
	for _, place := range places {
		if !somewhere(place.name) {
			continue
		}
		var keys []string
		dances(t, "", 80, 12, func(s *show) {
			s.keys(place.keys...)
			keys = screen.BookKeys(s.model)
		})
		require.NotEmpty(t, keys)
		for _, key := range keys {
			t.Run(place.name+" "+key, func(t *testing.T) {
				dances(t, "", 80, 12, func(s *show) {
					s.keys(place.keys...)
					if other := opposite[key]; other != "" {
						s.keys(other) // so that there is somewhere to go
					}
					before := s.text()
					s.keys(key).heard()
					assert.True(t, s.quit || s.text() != before, "%s", before)
				})
			})
		}
	}
}

// From the list into the handbook, through it to a figure that is danced, and
// back the same way, to the same places.
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
		require.Contains(t, s.text(), "pass 1 of the drill")
		require.False(t, s.now().Settings.Loop.Empty())
		require.Zero(t, s.now().Settings.Rest)
		s.wait(5 * time.Second)
		require.Equal(t, player.Dancing, s.now().State)
		require.Contains(t, s.text(), "pass 2 of the drill")
		s.keys("?", "esc", "esc").heard()
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
		assert.Contains(t, s.text(), "walk back in the rest")
		assert.Equal(t, 2, s.now().Settings.Rest)
		assert.Contains(t, s.text(), "rest 2 bars")
	})
}

func TestWhatBeginsWithWhatWasTypedIsChosen(t *testing.T) {
	dances(t, "", 80, 24, func(s *show) {
		s.keys("tab", "enter", "n")
		assert.Contains(t, s.text(), "> Lantern step")
		s.keys("esc", "o")
		assert.Contains(t, s.text(), "  Lantern step", "which has an o in its other name")
		assert.Contains(t, s.text(), "> Oar turn")
	})
}

// A key that is pressed meanwhile calls a drill off; so does leaving the list a sheet.
func TestTurningToSomethingElseCallsOff(t *testing.T) {
	dances(t, "", 80, 20, func(s *show) {
		s.keys("tab", "enter", "enter")
		s.send(keyMsg(" "))
		s.send(keyMsg("esc"))
		s.settle()
		assert.Contains(t, s.text(), "Level 1")
		s.keys("tab")
		s.send(keyMsg("enter"))
		s.send(keyMsg("tab"))
		s.settle()
		assert.Contains(t, s.text(), "Level 1")
	})
}

// An empty handbook, figures that tell nothing of themselves, and some that can't
// be danced are no reason to stumble.
func TestAHandbookThatTellsLittle(t *testing.T) {
	dances(t, "", 80, 20, func(s *show) {
		m := screen.New(s.ctx, screen.Options{Shelf: s.shelf, Handbook: silentBook{}})
		s.model = m
		s.size(80, 20)
		s.keys("tab")
		assert.Contains(t, s.text(), "there is nothing here")
		s.keys("enter", "x", "esc", "esc")
		assert.Contains(t, s.text(), "choose a sheet")

		s.model = screen.New(s.ctx, screen.Options{Shelf: s.shelf, Handbook: silentBook{{Dance: chapters()[0].Dance, Figures: []*routine.Figure{{Name: "Nameless"}}}}})
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
type silentBook []screen.Chapter

func (b silentBook) Chapters() []screen.Chapter { return b }
func (b silentBook) Beside(*screen.Chapter, *routine.Figure) (before, after []screen.Neighbour) {
	return nil, nil
}

func (b silentBook) Drill(*screen.Chapter, *routine.Figure) screen.Drill {
	return screen.Drill{Loaded: screen.Loaded{Findings: []routine.Finding{{Severity: routine.Error, Message: "it has no steps"}}}}
}

// The handbook keeps to any window, and nothing that a figure is named, or says,
// reaches the terminal as a command.
func TestTheHandbookInAnyWindow(t *testing.T) {
	score := hostile().Timeline.Score
	d := *score.Dance
	d.Aliases = []string{"\x1b[2J"}
	for _, fig := range score.Figures {
		fig.Source, fig.Aliases, fig.Starts.Note = "\x1b]0;x\x07", []string{"\u202ename\n"}, "\x1b[31m"
	}
	for _, book := range []bookOfTests{chapters(), {{Dance: &d, Figures: score.Figures}}} {
		for _, place := range places {
			synctest.Test(t, func(t *testing.T) {
				s := newShow(t, "", 80, 24, screen.Options{Handbook: book})
				s.keys(place.keys...)
				for _, width := range []int{1, 2, 3, 5, 9, 17, 30, 40, 56, 79, 80, 99, 100, 131, 200} {
					for _, height := range []int{1, 2, 3, 4, 5, 6, 7, 9, 12, 16, 23, 24, 35, 36, 60} {
						s.size(width, height)
						fits(t, s.styled(), width, height)
						sgr(t, s.styled())
					}
				}
			})
		}
	}
}
