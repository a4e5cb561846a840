package library_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
)

func TestTheDances(t *testing.T) {
	lib := shipped()
	assert.Equal(t, []string{"argentine tango", "bachata", "bolero", "cha-cha", "foxtrot", "hustle", "jive", "mambo", "merengue", "paso doble",
		"quickstep", "rumba", "salsa", "samba", "single swing", "social foxtrot", "tango", "triple swing", "viennese waltz", "waltz", "west coast swing"}, lib.Dances())
	// The least number of figures: larger for the dances taught most.
	most := map[string]int{"cha-cha": 25, "rumba": 20, "waltz": 20, "foxtrot": 15, "quickstep": 15, "tango": 15, "viennese waltz": 15,
		"paso doble": 15, "jive": 15, "samba": 15}
	for _, name := range lib.Dances() {
		c, ok := lib.Chapter(name)
		require.True(t, ok, name)
		assert.GreaterOrEqual(t, len(c.Figures), max(most[name], 6), name)
	}
}

// TestNamesAreForgiving: case, accents, plurals and punctuation do not matter, and aliases
// work.
func TestNamesAreForgiving(t *testing.T) {
	lib := shipped()
	for _, name := range []string{"cha-cha", "Cha Cha", "CHA-CHA-CHA", "chachacha"} {
		d, ok := lib.Dance(name)
		require.True(t, ok, name)
		assert.Equal(t, "Cha-cha", d.Name)
	}
	waltz, ok := lib.Dance("Waltz")
	require.True(t, ok)
	for _, name := range []string{"Chassé from promenade", "chasses from Promenade", "CHASSE, from promenade!"} {
		fig, ok := lib.Figure(waltz, name)
		require.True(t, ok, name)
		assert.Equal(t, "Chassé from promenade", fig.Name)
	}
	fig, ok := lib.Figure(waltz, "right turn")
	require.True(t, ok, "an alias")
	assert.Equal(t, "Natural turn", fig.Name)
	_, ok = lib.Figure(waltz, "hockey stick")
	assert.False(t, ok, "a figure of another dance")
	_, ok = lib.Dance("polka")
	assert.False(t, ok)
}

// TestFourFiguresCanBeDanced: every dance has four different figures that can be danced one
// after another; the test finds them by trial.
func TestFourFiguresCanBeDanced(t *testing.T) {
	lib := shipped()
	for _, name := range lib.Dances() {
		c, ok := lib.Chapter(name)
		require.True(t, ok)
		order := chain(lib, c, nil)
		if assert.Len(t, order, 4, name) {
			t.Logf("%s: %s", name, strings.Join(order, ", "))
		}
	}
}

// chain extends a danceable order to four different figures.
func chain(lib *library.Library, c *library.Chapter, order []string) []string {
	if len(order) == 4 {
		return order
	}
next:
	for _, fig := range c.Figures {
		for _, have := range order {
			if have == fig.Name {
				continue next
			}
		}
		longer := append(order[:len(order):len(order)], fig.Name)
		sheet := "---\ndance: " + c.Dance.Name + "\n---\n## Order\n\n"
		for i, name := range longer {
			sheet += fmt.Sprintf("%d. %s\n", i+1, name)
		}
		if _, found := routine.Read("chain.md", []byte(sheet), lib); routine.HasErrors(found) {
			continue
		}
		if found := chain(lib, c, longer); found != nil {
			return found
		}
	}
	return nil
}

// TestABadChapterHidesNoOther: the other chapters in its folder are still found.
func TestABadChapterHidesNoOther(t *testing.T) {
	lib := library.New(fstest.MapFS{
		"river-step.md": {Data: []byte("---\ndance: River step\nmetre: 4/4\nusual: 30 bars/min\n---\n\n## Bank\n\n| Count | Leader | Follower |\n|---|---|---|\n| 1-4 | LF side | RF side |\n")},
		"broken.md":     {Data: []byte("\xff\xfe")},
	})
	d, ok := lib.Dance("river step")
	require.True(t, ok)
	assert.Equal(t, []string{"Bank"}, lib.Figures(d))
	c, ok := lib.Chapter("broken")
	require.True(t, ok)
	assert.NotEmpty(t, c.Findings)
}

// TestChaptersAreReadOnce, whoever asks for them at the same time.
func TestChaptersAreReadOnce(t *testing.T) {
	lib := library.New(fstest.MapFS{
		"river-step.md": {Data: []byte("---\ndance: River step\n---\n")},
		"bank-step.md":  {Data: []byte("---\ndance: Bank step\n---\n")},
	})
	var all [4][]*library.Chapter
	var asking sync.WaitGroup
	for i := range all {
		asking.Go(func() { all[i] = lib.Chapters() })
	}
	asking.Wait()
	for _, same := range all {
		require.Len(t, same, 2)
		for i, name := range lib.Dances() {
			c, ok := lib.Chapter(name)
			require.True(t, ok)
			assert.Same(t, c, same[i])
		}
	}
}

// TestAPanicReachesWhoReads, so that it can put the terminal right.
func TestAPanicReachesWhoReads(t *testing.T) {
	lib := library.New(burning{fstest.MapFS{"river-step.md": {}}})
	assert.PanicsWithValue(t, "river-step.md", func() { lib.Chapters() })
}

// burning is a folder in which reading a file panics.
type burning struct{ fstest.MapFS }

func (b burning) ReadFile(name string) ([]byte, error) { panic(name) }

// BenchmarkOpenChapter reads the longest chapter, with nothing cached.
func BenchmarkOpenChapter(b *testing.B) {
	for b.Loop() {
		_, ok := library.Open().Chapter("cha-cha")
		require.True(b, ok)
	}
}

// BenchmarkEveryChapter reads the whole library, with nothing cached.
func BenchmarkEveryChapter(b *testing.B) {
	for b.Loop() {
		lib := library.Open()
		require.Len(b, lib.Chapters(), len(lib.Dances()))
	}
}

// BenchmarkWords lists the words for dances, with nothing cached.
func BenchmarkWords(b *testing.B) {
	for b.Loop() {
		_, ok := library.Open().Words("dances")
		require.True(b, ok)
	}
}

// TestEveryNameFindsItsOwn: within a dance no figure's name hides another's, and no dance's
// name hides another dance's.
func TestEveryNameFindsItsOwn(t *testing.T) {
	lib := shipped()
	for _, dance := range lib.Dances() {
		c, ok := lib.Chapter(dance)
		require.True(t, ok)
		for _, name := range append([]string{dance, c.Dance.Name}, c.Dance.Aliases...) {
			d, ok := lib.Dance(strings.ToUpper(name))
			require.True(t, ok, name)
			assert.Equal(t, c.Dance.Name, d.Name, name)
		}
		for _, fig := range c.Figures {
			for _, name := range fig.Names() {
				found, ok := lib.Figure(c.Dance, " "+strings.ToUpper(name)+"! ")
				require.True(t, ok, name)
				assert.Equal(t, fig.Name, found.Name, "%s: %s", dance, name)
			}
		}
		assert.Equal(t, len(c.Figures), len(lib.Figures(c.Dance)))
	}
}

// TestNearFiguresAreOffered: the finding for a misspelt figure offers the name meant.
func TestNearFiguresAreOffered(t *testing.T) {
	lib := shipped()
	for _, test := range [][3]string{
		{"cha-cha", "Hocky stick", "perhaps Hockey stick"},
		{"cha-cha", "Tmie step", "perhaps Time step"},
		{"rumba", "Curacacha to the left", "perhaps Cucaracha to the left, Cucaracha to the right"},
		{"waltz", "Wisk", "perhaps Whisk"},
		{"waltz", "chase from promenade", "perhaps Chassé from promenade, Weave from promenade"},
		{"tango", "rock trun", "perhaps Rock turn"},
		{"jive", "American spni", "perhaps American spin"},
	} {
		sheet := "---\ndance: " + test[0] + "\n---\n\n## Order\n\n1. " + test[1] + "\n"
		_, found := routine.Read("near.md", []byte(sheet), lib)
		require.Len(t, found, 1, test[1])
		assert.Equal(t, [2]string{"unknown-figure", test[2]}, [2]string{string(found[0].Code), found[0].Hint}, test[1])
		assert.Equal(t, routine.Pos{Offset: len(sheet) - len(test[1]) - 1, Line: 7, Column: 4}, found[0].Span.Start)
	}
}
