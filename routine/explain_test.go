package routine_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// chaBook knows two dances and two figures, for sheets that define their own.
type chaBook struct{ routine.EmptyBook }

func (chaBook) Dances() []string { return []string{"cha-cha", "waltz"} }

func (chaBook) Dance(name string) (*routine.Dance, bool) {
	beat := routine.Beat
	switch routine.Key(name) {
	case "chacha":
		return &routine.Dance{Name: "cha-cha", Metre: routine.Metre{Beats: 4, Unit: 4}, Begins: 2, Slow: beat, Quick: beat / 2, And: beat / 2, A: beat / 4,
			PhraseBars: 8, Stride: routine.Stride{Forward: 40, Side: 35, Short: 25}, Usual: routine.TempoRange{Min: 28 * 4000, Max: 32 * 4000}}, true
	case "waltz":
		return &routine.Dance{Name: "waltz", Metre: routine.Metre{Beats: 3, Unit: 4}, Begins: 1, Slow: 2 * beat, Quick: beat, And: beat / 2, A: beat / 4,
			PhraseBars: 8, Stride: routine.Stride{Forward: 40, Side: 35, Short: 25}, Usual: routine.TempoRange{Min: 28 * 3000, Max: 30 * 3000}}, true
	}
	return nil, false
}

// Figures lists the one of cha-cha.
func (chaBook) Figures(d *routine.Dance) []string {
	if d.Name == "cha-cha" {
		return []string{"Closed basic"}
	}
	return nil
}

// Figure knows two figures, for the examples that need them.
func (chaBook) Figure(d *routine.Dance, name string) (*routine.Figure, bool) {
	switch routine.Key(name) {
	case routine.Key("Box step"):
		return shipped().Figure(d, name)
	case routine.Key("Closed basic"):
	default:
		return nil, false
	}
	e, _ := routine.Explain("step-differs")
	chapter, _ := routine.ReadChapter("cha-cha.md", []byte(strings.Replace(e.Good, "dance: cha-cha", "dance: cha-cha\nmetre: 4/4\nbegins on: 2", 1)))
	return chapter.Figures[0], true
}

func codes(fs []routine.Finding) (cs []routine.Code) {
	for _, f := range fs {
		cs = append(cs, f.Code)
	}
	return cs
}

// exampleSong returns what is found of the song in examples of codes that begin with "song-".
func exampleSong(m routine.Music) routine.SongFound {
	if m.File != "lantern.ogg" {
		return routine.SongFound{Trouble: "there is no such file"}
	}
	return routine.SongFound{Bars: 3}
}

// checkExample returns every finding of a code's example, which may be about the floor or the sheet's
// song.
func checkExample(code routine.Code, sheet string) []routine.Finding {
	score, found := check.Sheet("sheet.md", []byte(sheet), chaBook{})
	if strings.HasPrefix(string(code), "song-") {
		found = append(found, score.AgainstSong(exampleSong(score.Music))...)
	}
	if code != "start-supposed" { // most examples leave it open how they start
		found = slices.DeleteFunc(found, func(f routine.Finding) bool { return f.Code == "start-supposed" })
	}
	return found
}

func TestEveryCodeIsExplained(t *testing.T) {
	require.NotEmpty(t, routine.Codes())
	for _, code := range routine.Codes() {
		t.Run(string(code), func(t *testing.T) {
			e, ok := routine.Explain(code)
			require.True(t, ok)
			assert.NotEmpty(t, e.Why)
			assert.NotZero(t, e.Severity)
			bad := checkExample(code, e.Bad)
			assert.Equal(t, []routine.Code{code}, codes(bad), "%v\n%s", bad, e.Bad)
			good := checkExample(code, e.Good)
			assert.Empty(t, good, "%s", e.Good)
		})
	}
}
