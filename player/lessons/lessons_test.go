package lessons_test

import (
	"io/fs"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/adrg/xdg"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/lessons"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

func day(d int) time.Time { return time.Date(2026, 9, d, 0, 0, 0, 0, time.UTC) }

// dataIn keeps this test's classes in a folder.
func dataIn(t *testing.T, dir string) {
	t.Setenv("XDG_DATA_HOME", dir)
	xdg.Reload()
	t.Cleanup(xdg.Reload)
}

func score(t *testing.T, name string) *routine.Score {
	text, err := library.Open().Sheet(name)
	require.NoError(t, err)
	s, found := routine.Read(name, text, library.Open())
	require.False(t, routine.HasErrors(found))
	return s
}

// TestALessonIsKept as lines that can be edited; what somebody edited stays.
func TestALessonIsKept(t *testing.T) {
	dataIn(t, t.TempDir())
	_, err := lessons.Read("Lantern Night")
	require.ErrorIs(t, err, fs.ErrNotExist)
	rumba := score(t, "lantern-night-rumba")
	first := lessons.Lesson(nil, rumba, time.Date(2026, 9, 4, 23, 30, 0, 0, time.FixedZone("", -7*60*60)))
	require.NoError(t, lessons.Keep("Lantern Night", first))
	had, err := lessons.Read("lantern night!")
	require.NoError(t, err)
	assert.Equal(t, first, had)
	assert.Contains(t, had, lessons.Had{On: day(4), Dance: "Rumba", Figure: "Fan"})
	assert.Empty(t, lessons.Lesson(had, rumba, day(4)), "the same lesson is had once")

	path, err := lessons.Path("LANTERN-NIGHT")
	require.NoError(t, err)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	edited := strings.ReplaceAll(string(text), "\n", "\r\n") + "\n# no lesson on the 11th\n2026-09-12  waltz :  Whisk "
	require.NoError(t, os.WriteFile(path, []byte(edited), 0o600))
	require.NoError(t, lessons.Keep("Lantern Night", []lessons.Had{{On: day(18), Dance: "Rumba", Figure: "Fan"}}))
	text, err = os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, edited+"\n2026-09-18 Rumba: Fan\n", string(text))
	had, err = lessons.Read("Lantern Night")
	require.NoError(t, err)
	assert.Equal(t, append(first, lessons.Had{On: day(12), Dance: "waltz", Figure: "Whisk"}, lessons.Had{On: day(18), Dance: "Rumba", Figure: "Fan"}), had)
	assert.Equal(t, 3, lessons.Days(had))
	names, err := lessons.Names()
	require.NoError(t, err)
	assert.Equal(t, []string{"lantern-night"}, names)
}

// TestLinesThatCanNotBeRead are all reported, with their columns.
func TestLinesThatCanNotBeRead(t *testing.T) {
	_, err := lessons.Parse("class.txt", []byte("\ufeff2026-09-04 Rumba: Fan\n\n  4.9.2026 Rumba: Fan\n2026-09-31 Rumba: Fan\n2026-09-04 Rumba Fan\n2026-09-04 : Fan\n2026-09-04 Tängo:\n"))
	require.Error(t, err)
	assert.Equal(t, `class.txt:3:3: "4.9.2026" is not a date; write it as 2026-09-04
class.txt:4:1: "2026-09-31" is not a date; write it as 2026-09-04
class.txt:5:12: no colon follows the dance; write 2026-09-04 Rumba: Fan
class.txt:6:12: no dance is named before the colon
class.txt:7:18: no figure is named after the colon`, err.Error())
	for _, name := range []string{"", "…", "../..", strings.Repeat("a", 200)} {
		path, err := lessons.Path(name)
		assert.Error(t, err, "%q would be %s", name, path)
	}
}

// TestWhatAClassKnows: the more often a figure was taught, the later it is to be revised.
func TestWhatAClassKnows(t *testing.T) {
	had := []lessons.Had{
		{On: day(11), Dance: "Rumba", Figure: "Fan"}, {On: day(4), Dance: "Rumba", Figure: "Fan"}, {On: day(4), Dance: "rumba", Figure: "fan"},
		{On: day(11), Dance: "Rumba", Figure: "Alemana"}, {On: day(4), Dance: "Cha-cha", Figure: "Fan"},
	}
	known := lessons.Knows(had)
	require.Len(t, known, 3)
	var names []string
	for _, k := range known {
		names = append(names, k.Dance+" "+k.Figure)
	}
	assert.Equal(t, []string{"Cha-cha Fan", "Rumba Alemana", "Rumba Fan"}, names, "the soonest to revise first")
	fan := known[2]
	assert.Equal(t, []any{2, day(4), day(11)}, []any{fan.Times, fan.First, fan.Last})
	once := practice.Memory{}.After(practice.DayOf(day(4)), practice.Clean)
	assert.Equal(t, once.Due(), known[0].Due())
	assert.Equal(t, once.After(practice.DayOf(day(11)), practice.Clean).Due(), fan.Due())
}
