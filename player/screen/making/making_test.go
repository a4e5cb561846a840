package making_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/screen/internal/screentest"
	"dance.example/slowquick/player/screen/making"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/routine"
	_ "dance.example/slowquick/testdata/thorough"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// desk is the screen with what its commands bring.
type desk struct {
	t     testing.TB
	model *making.Model
	kept  []string // the texts of the copies
	saved map[string]string
	own   string // what was copied into the handbook
	turn  making.Turn
	keys  int
	full  error // of the disk
}

// makes returns the screen for a draft.
func makes(t testing.TB, d draft.Draft, width, height int) *desk {
	k := &desk{t: t, saved: map[string]string{}}
	o := making.Options{Theme: term.NewTheme(false), Files: draft.Files{
		Keep: func(d draft.Draft) error { k.kept = append(k.kept, string(d.Text())); return k.full },
		Save: func(d draft.Draft, path string, _ bool) (draft.Draft, error) {
			if k.full != nil {
				return d, k.full
			}
			k.saved[path] = string(d.Text())
			return d, nil
		},
		FileFor: func(string) string { return "quay.md" },
		Own: func(_ string, sheet []byte, over bool) (string, error) {
			if !over {
				return "", errTaken
			}
			k.own = string(sheet)
			return "lantern-sway.md", nil
		},
	}}
	k.model = making.New(d, o)
	k.model.Resize(width, height)
	return k
}

// book is the library, which is read once.
var book = library.Open()

func danceNamed(t testing.TB, name string) *routine.Dance {
	d, ok := book.Dance(name)
	require.True(t, ok)
	return d
}

// fresh returns the screen for a new routine.
func fresh(t testing.TB, dance string, width, height int) *desk {
	made, err := draft.New(sheets.Shelf{Library: book}, danceNamed(t, dance), "Quay", routine.Room{})
	require.NoError(t, err)
	return makes(t, made, width, height)
}

// do carries out a command and what it leads to.
func (k *desk) do(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case tea.BatchMsg:
		for _, cmd := range msg {
			k.do(cmd)
		}
	case making.Msg:
		k.do(k.model.Update(msg))
	}
}

// press presses keys one after the other.
func (k *desk) press(names ...string) *desk {
	for _, name := range names {
		var cmd tea.Cmd
		k.turn, cmd = k.model.Press(screentest.Key(name))
		k.do(cmd)
		k.keys++
	}
	return k
}

// types types a text.
func (k *desk) types(text string) *desk {
	for _, r := range text {
		k.press(string(r))
	}
	return k
}

func (k *desk) text() string { d := k.model.Draft(); return string(d.Text()) }

func (k *desk) view() string { return ansi.Strip(k.model.View("")) }

// TestTheBoathouseRumbaIsMade from nothing in few key presses, and undone to the empty sheet and made
// again, with the same bytes.
func TestTheBoathouseRumbaIsMade(t *testing.T) {
	k := fresh(t, "rumba", 80, 24)
	empty := k.text()
	k.press("enter", "+").types("forw").press("enter").types("fan").press("enter").types("hock").press("enter")
	k.types("new").press("enter").types("spot").press("enter", "enter", "+", "+")
	made := k.text()
	assert.Equal(t, "---\ndance: rumba\n---\n\n# Quay\n\n## Order\n\n1. Closed basic × 2\n2. Forward half of the closed basic\n3. Fan\n4. Hockey stick\n"+
		"5. New York to the left side\n6. Spot turn to the left\n7. Closed basic × 3\n", made)
	assert.Contains(t, k.view(), "16 bars · 2 phrases")
	k.press(" ")
	assert.Equal(t, making.Dance, k.turn)
	assert.LessOrEqual(t, k.keys, 33, "the list and the dance take five more, and saving two")
	assert.Equal(t, made, k.kept[len(k.kept)-1])

	for k.text() != empty {
		k.press("ctrl+z")
		require.Less(t, k.keys, 100)
	}
	k.press("ctrl+z")
	assert.Equal(t, empty, k.text())
	for k.text() != made {
		k.press("ctrl+y")
		require.Less(t, k.keys, 100)
	}
	k.press("ctrl+s", "enter")
	assert.Equal(t, map[string]string{"quay.md": made}, k.saved)
}

// TestAWaltzGoesRoundACorner in few key presses, and fits the hall.
func TestAWaltzGoesRoundACorner(t *testing.T) {
	k := fresh(t, "waltz", 160, 48)
	k.types("nat").press("enter").types("clos").press("enter").types("rev").press("enter").press("tab", "c")
	assert.Contains(t, k.text(), "\n   - corner: after\n")
	k.press("tab", "down", "enter", " ")
	assert.Equal(t, making.Dance, k.turn, k.view())
	assert.LessOrEqual(t, k.keys, 33)
}

// views are states of the screen at three sizes.
var views = []struct {
	name, dance string
	keys        func(*desk)
}{
	{"beginning", "rumba", func(*desk) {}},
	{"figures", "waltz", func(k *desk) { k.types("nat").press("enter") }},
	{"not from here", "rumba", func(k *desk) { k.press("enter").types("fan") }},
	{"links", "rumba", func(k *desk) { k.press("enter").types("fan").press("enter") }},
	{"order", "rumba", func(k *desk) { k.press("enter", "+", "enter").types("spot").press("enter", "tab", "up", "x") }},
	{"suggestions", "waltz", func(k *desk) { k.press("enter", "tab", "g") }},
	{"remark", "waltz", func(k *desk) { k.press("enter", "tab", "r").types("look up") }},
	{"part", "rumba", func(k *desk) { k.press("enter", "+", "enter").types("side").press("enter", "tab", "a", "up") }},
	{"part again", "rumba", func(k *desk) {
		k.press("enter", "+", "enter").types("side").press("enter", "tab", "a", "up", "a", "enter", "tab").types("part")
	}},
	{"not saved", "waltz", func(k *desk) { k.press("enter", "esc") }},
}

func TestViews(t *testing.T) {
	for _, v := range views {
		for _, size := range [][2]int{{40, 15}, {80, 24}, {160, 48}} {
			t.Run(fmt.Sprintf("%s %dx%d", v.name, size[0], size[1]), func(t *testing.T) {
				k := fresh(t, v.dance, size[0], size[1])
				v.keys(k)
				lines := strings.Split(k.view(), "\n")
				assert.LessOrEqual(t, len(lines), size[1])
				for i, line := range lines {
					lines[i] = strings.TrimRight(line, " ")
					assert.LessOrEqual(t, ansi.StringWidth(line), size[0], "line %d", i)
				}
				golden.Equal(t, strings.Join(lines, "\n")+"\n")
			})
		}
	}
}

// TestEachKeyOfTheOrder changes the marked line, and nothing else.
func TestEachKeyOfTheOrder(t *testing.T) {
	const head = "---\ndance: waltz\n---\n\n# Quay\n\n## Order\n\n"
	for _, tt := range []struct {
		name string
		keys func(*desk)
		want string
	}{
		{"once more", func(k *desk) { k.press("+") }, "1. Box step\n2. Hesitation step × 2\n"},
		{"once less", func(k *desk) { k.press("+", "+", "-") }, "1. Box step\n2. Hesitation step × 2\n"},
		{"out", func(k *desk) { k.press("x") }, "1. Box step\n"},
		{"up", func(k *desk) { k.press("K") }, "1. Hesitation step\n2. Box step\n"},
		{"down", func(k *desk) { k.press("up", "J") }, "1. Hesitation step\n2. Box step\n"},
		{"part", func(k *desk) { k.press("p").types("steps 1-3").press("enter") }, "1. Box step\n2. Hesitation step, steps 1-3\n"},
		{"remark", func(k *desk) { k.press("r").types("look up").press("enter") }, "1. Box step\n2. Hesitation step — look up\n"},
		{"tempo", func(k *desk) { k.press("t").types("28 bars/min").press("enter") }, "1. Box step\n2. Hesitation step\n   - tempo: 28 bars/min\n"},
		{"ends", func(k *desk) { k.press("e").types("closed").press("enter") }, "1. Box step\n2. Hesitation step\n   - ends: closed\n"},
		{"corner", func(k *desk) { k.press("c") }, "1. Box step\n2. Hesitation step\n   - corner: after\n"},
		{"no corner", func(k *desk) { k.press("c", "c") }, "1. Box step\n2. Hesitation step\n"},
		{"esc while typing", func(k *desk) { k.press("r").types("look up").press("esc") }, "1. Box step\n2. Hesitation step\n"},
		{"an offer in its place", func(k *desk) { k.press("g", "end"); k.press("esc") }, "1. Box step\n2. Hesitation step\n"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			k := fresh(t, "waltz", 80, 24)
			k.press("enter").types("hes").press("enter", "tab")
			tt.keys(k)
			assert.Equal(t, head+tt.want, k.text())
		})
	}
}

// TestUndoLeadsBackToTheLine that was changed, and redo to the line that was marked then.
func TestUndoLeadsBackToTheLine(t *testing.T) {
	three := func(k *desk) { k.press("enter", "enter").types("hes").press("enter", "tab") } // lines 0 to 2
	for _, tt := range []struct {
		name         string
		keys, change []string
		before       int
		after        int
	}{
		{"the only line is taken out", []string{"x", "x"}, []string{"x"}, 0, -1},
		{"the first of two alike is taken out", []string{"home", "down"}, []string{"x"}, 0, 0},
		{"the last is taken out", nil, []string{"x"}, 2, 1},
		{"a line is put in", []string{"home", "down"}, []string{"enter", "enter", "tab"}, 0, 1},
		{"a line goes up", nil, []string{"K"}, 2, 1},
		{"a corner, and the mark goes elsewhere", nil, []string{"c", "up", "up"}, 2, 2},
	} {
		t.Run(tt.name, func(t *testing.T) {
			k := fresh(t, "waltz", 80, 24)
			three(k)
			k.press(tt.keys...).press(tt.change...).press("ctrl+z")
			assert.Equal(t, tt.before, k.model.Draft().Line, k.text())
			k.press("home", "ctrl+y")
			assert.Equal(t, tt.after, k.model.Draft().Line, k.text())
		})
	}
}

// TestLinksAreToTheLineBefore, if that is what is wrong with the marked line; where nothing is missing, or
// nothing comes after it, that is said.
func TestLinksAreToTheLineBefore(t *testing.T) {
	const text = "---\ndance: cha-cha\n---\n\n# Quay\n\n## Order\n\n1. Closed basic\n2. Spot turn to the left\n3. Spot turn to the right\n"
	d, err := draft.Open(sheets.Shelf{Library: book}, sheets.Document{Name: "quay.md", Text: []byte(text)})
	require.NoError(t, err)
	k := makes(t, d, 80, 24).press("up", "l")
	assert.Contains(t, k.view(), "What can go between Closed basic")
	k.press("enter")
	assert.Contains(t, k.text(), "1. Closed basic\n2. Forward half of the closed basic\n3. Spot turn to the left\n")
	assert.Contains(t, k.press("down", "l").view(), "nothing is missing: Spot turn to the right can follow Spot turn to the left")
	assert.Contains(t, k.press("end", "l").view(), "nothing comes after this line yet")
}

// opens returns the screen for a sheet.
func opens(t testing.TB, text string, width, height int) *desk {
	d, err := draft.Open(sheets.Shelf{Library: book}, sheets.Document{Name: "quay.md", Text: []byte(text)})
	require.NoError(t, err)
	return makes(t, d, width, height)
}

// TestPartsHaveHeadings, which a line can be moved past, and lines that name a part have a bar.
func TestPartsHaveHeadings(t *testing.T) {
	const head = "---\ndance: cha-cha\n---\n\n# Quay\n\n## Order\n\n"
	k := opens(t, head+"### Part A\n\n1. Closed basic\n2. Time step\n\n### Part B\n\n1. Closed basic\n\n### All of it\n\n1. Part A x 2\n2. Part B\n", 100, 30)
	var order []string
	for _, line := range strings.Split(k.view(), "\n")[3:13] {
		order = append(order, strings.Join(strings.Fields(ansi.Truncate(line, 50, "")), " "))
	}
	assert.Equal(t, []string{"The order", "the start", "Part A", "1 Closed basic phrase 1 · bar 1", "2 Time step bar 3", "Part B", "3 Closed basic phrase 2 · bar 9", "All of it", "4 Part A × 2 phrase 1 · bar 1", "> 5 Part B phrase 2 · bar 9"}, order)
	k.press("up", "up", "K")
	assert.Contains(t, k.text(), "2. Time step\n3. Closed basic\n\n### Part B\n\n### All of it\n")
	assert.Equal(t, 2, k.model.Draft().Line)
	k.press("ctrl+z", "up", "J")
	assert.Contains(t, k.text(), "1. Closed basic\n\n### Part B\n\n1. Time step\n2. Closed basic\n")
	assert.Equal(t, 1, k.model.Draft().Line)
}

// TestAPartIsMade of the lines that are chosen, is danced again, saved, and taken apart.
func TestAPartIsMade(t *testing.T) {
	k := fresh(t, "rumba", 80, 24)
	k.press("enter", "enter", "enter", "+", "tab")
	flat := k.text()
	k.press("a", "up", "x", "left", "a", "enter")
	made := k.text()
	const head, part = "---\ndance: rumba\n---\n\n# Quay\n\n## Order\n\n", "\n### Part A\n\n1. Closed basic\n2. Closed basic × 2\n"
	assert.Equal(t, head+"1. Closed basic\n2. Part A\n"+part, made)
	assert.Equal(t, 1, k.model.Draft().Line)
	k.press("home", "tab").types("part a").press("enter", "+")
	assert.Equal(t, head+"1. Part A × 2\n2. Closed basic\n3. Part A\n"+part, k.text())
	again := opens(t, k.text(), 80, 24)
	assert.Equal(t, k.model.Draft().Found, again.model.Draft().Found)
	assert.Empty(t, again.press("end", "A", "A").model.Draft().Found, "in both places")
	assert.NotContains(t, again.text(), "Part A")
	k.press("ctrl+z", "ctrl+z", "ctrl+z")
	assert.Equal(t, flat, k.text())
	k.press("ctrl+y")
	assert.Equal(t, made, k.text())
	assert.Equal(t, flat, k.press("tab", "A").text())
}

// TestAPartThatCanNotBe is refused, and esc leaves the choice of its lines.
func TestAPartThatCanNotBe(t *testing.T) {
	k := fresh(t, "rumba", 80, 24).press("enter", "tab", "home", "a")
	assert.Contains(t, k.view(), "Go to the first line of the part")
	assert.Contains(t, k.press("down", "A").view(), "this line names no part")
	k.press("a", "a")
	for range "Part A" {
		k.press("backspace")
	}
	flat := k.text()
	assert.Contains(t, k.types("Fan").press("enter").view(), "Fan is a figure")
	assert.Contains(t, k.view(), "A part of the order: line 1")
	assert.NotContains(t, k.press("esc").view(), "A part of the order")
	assert.Equal(t, flat, k.text())
}

// TestTheKeysOfTheMarkedLineAreShown while the order has the keys, with what they set if there is room.
func TestTheKeysOfTheMarkedLineAreShown(t *testing.T) {
	for _, size := range [][2]int{{40, 15}, {80, 24}, {100, 30}, {160, 48}} {
		k := opens(t, "---\ndance: waltz\ntempo: 27 bars/min\n---\n\n# Quay\n\n## Order\n\n1. Box step — low\n   - corner: after\n", size[0], size[1])
		line := k.view()
		start := k.press("home").view()
		for _, says := range []string{"steps", "tempo", "ends in", "corner after it", "remark", "K J move", "take out"} {
			assert.Contains(t, line, says, size)
		}
		for _, says := range []string{"title", "tempo", "lead-in", "the hall"} {
			assert.Contains(t, start, says, size)
		}
		if size[0] > 40 {
			assert.Regexp(t, `c +corner after it +yes`, line)
			assert.Regexp(t, `t +tempo +27 bars/min`, start)
			assert.Regexp(t, `i +lead-in +1 bar, as usual`, start)
			assert.Regexp(t, `h +the hall +not known`, start)
		}
	}
}

// TestWhatIsTypedSaysWhatItIs: its prompt and example aren't cut, however narrow the window is, and help is named
// while nothing is typed.
func TestWhatIsTypedSaysWhatItIs(t *testing.T) {
	k := fresh(t, "waltz", 40, 15)
	assert.Contains(t, k.view(), "? help")
	k.press("enter", "tab")
	assert.Contains(t, k.view(), "? help")
	for _, keys := range [][]string{{"end", "p"}, {"end", "r"}, {"end", "t"}, {"end", "e"}, {"home", "t"}, {"home", "i"}, {"home", "h"}} {
		typed := strings.Split(k.press(keys...).view(), "\n")[1]
		assert.Regexp(t, `^[A-Z].*: +\S`, typed, keys)
		assert.NotContains(t, typed, "…", keys)
		k.press("esc")
	}
}

// TestFamiliesAreToldApart where a dance has two, and the keys that narrow the list to one are shown.
func TestFamiliesAreToldApart(t *testing.T) {
	for _, size := range [][2]int{{40, 15}, {80, 24}, {160, 48}} {
		k := fresh(t, "salsa", size[0], size[1])
		assert.Contains(t, k.view(), "←→ all: on 1, on 2")
		assert.Regexp(t, `on 2 · \d bar`, k.view())
		for k.press("right"); !strings.Contains(k.view(), "←→ on 1"); k.press("right") {
			require.Less(t, k.keys, 10)
		}
		assert.NotContains(t, k.view(), "on 2")
		k.press("enter")
		assert.Contains(t, k.text(), "\n1. ")
		assert.Empty(t, k.model.Draft().Found)
	}
}

// TestWhatIsWrongIsSaidInWholeSentences, or marked where it is cut, and names in the list come before lengths.
func TestWhatIsWrongIsSaidInWholeSentences(t *testing.T) {
	const text = "---\ndance: cha-cha\n---\n\n# Quay\n\n## Order\n\n1. Closed basic\n2. Spot turn to the left\n3. Spot turn to the right\n"
	k := opens(t, text, 80, 24).press("home")
	assert.Regexp(t, `(?m)^free, but Spot turn to the left starts with the RF and the LF$`, strings.ReplaceAll(k.view(), " \n", "\n"))
	k = fresh(t, "cha-cha", 80, 24).press("enter", "enter", "tab", "up")
	assert.Contains(t, k.press("tab").types("forw").view(), "Forward half of the …  parts the next")
	assert.Regexp(t, `(?m)^line 2: after.*\n.*…$`, opens(t, text, 40, 15).press("home").view())
}

// TestTheWholeRoutine has its title, tempo, lead-in and hall set at the start, and takes no value that can't be read.
func TestTheWholeRoutine(t *testing.T) {
	const text, tail = "---\ndance: waltz\ntempo: 27 bars/min # the band's\n---\n\n# Quay\n", "\n## Order\n\n1. Box step\n"
	change := func(name, old, typed string) string {
		k := opens(t, text+tail, 80, 24).press("home", name)
		for range len(old) {
			k.press("backspace")
		}
		k.types(typed).press("enter")
		if k.text() != text+tail {
			assert.Equal(t, text+tail, k.press("ctrl+z").text())
			k.press("ctrl+y")
			return k.text()
		}
		return k.view()
	}
	assert.Contains(t, change("t", "27 bars/min", "29"), "tempo: 29 bars/min # the band's\n")
	assert.Contains(t, change("t", "27 bars/min", "90 beats/min"), "tempo: 90 beats/min # the band's\n")
	assert.NotContains(t, change("t", "27 bars/min", ""), "tempo:")
	assert.Contains(t, change("t", "27 bars/min", "quick: x"), "is not a tempo")
	assert.Contains(t, change("t", "27 bars/min", "27 to 29 bars/min"), "is no single tempo")
	assert.Contains(t, change("h", "", "12 x 8 m"), "dance: waltz\nfloor: 12 x 8 m\n")
	assert.Contains(t, change("h", "", "twelve"), "is not the size of a floor")
	assert.Contains(t, change("i", "", "2"), "dance: waltz\nlead-in: 2 bars\n")
	assert.Contains(t, change("i", "", "6 counts"), "lead-in: 2 bars\n")
	assert.Contains(t, change("i", "", "0"), "lead-in: none\n")
	assert.Contains(t, change("i", "", "9"), `"9" is more than 4 bars`)
	assert.Contains(t, change("n", "Quay", "River"), "# River\n")
}

// TestALineIsDancedAsOftenAsASheetAllows, and no more often.
func TestALineIsDancedAsOftenAsASheetAllows(t *testing.T) {
	text := fmt.Sprintf("---\ndance: waltz\n---\n\n# Quay\n\n## Order\n\n1. Box step × %d\n", routine.MostTimes-1)
	d, err := draft.Open(sheets.Shelf{Library: book}, sheets.Document{Name: "quay.md", Text: []byte(text)})
	require.NoError(t, err)
	k := makes(t, d, 80, 24).press("+", "+")
	assert.Contains(t, k.text(), fmt.Sprintf("× %d\n", routine.MostTimes))
	assert.Empty(t, k.model.Draft().Found)
}

// TestLeaving asks what to do with what isn't saved, and any other key goes on.
func TestLeaving(t *testing.T) {
	made := func() *desk { return fresh(t, "waltz", 80, 24).press("enter", "esc") }
	assert.Equal(t, making.Stay, made().turn)
	assert.Equal(t, making.Leave, made().press("esc").turn)
	assert.Equal(t, making.Discard, made().press("x").turn)
	assert.Equal(t, making.Quit, made().press("ctrl+c").turn)
	k := made().press("right")
	assert.Equal(t, making.Stay, k.turn)
	assert.Equal(t, making.Leave, fresh(t, "waltz", 80, 24).press("esc").turn, "nothing was made")
}

// TestWhatCannotBeKeptIsSaid, and that it then is only in memory.
func TestWhatCannotBeKeptIsSaid(t *testing.T) {
	k := fresh(t, "waltz", 80, 24)
	k.full = errors.New("keep the draft: no space left on device")
	k.press("enter")
	assert.Contains(t, k.view(), "no space left on device")
	assert.True(t, k.model.Unkept())
	k.press("ctrl+s", "enter")
	assert.Contains(t, k.view(), "not saved, and only in memory: ")
	assert.Contains(t, k.view(), "no space left on device")
	k.press("esc", "esc")
	assert.Equal(t, making.Stay, k.turn, "it would be lost")
	assert.Contains(t, k.view(), "it can't be kept as a draft")
	assert.Equal(t, making.Discard, k.press("x").turn)
	k.full = nil
	k.press("+")
	assert.False(t, k.model.Unkept())
}

// TestAnythingCanBePressed in any order: what is shown as danceable has no error in it, and undo leads back
// to the empty sheet.
func TestAnythingCanBePressed(t *testing.T) {
	keys := []string{"enter", "enter", "enter", "down", "up", "tab", "+", "-", "x", "K", "J", "c", "g", "l", "esc", "right", "f", "w", "ctrl+z", "ctrl+y", " ", "backspace"}
	rapid.Check(t, func(r *rapid.T) {
		k := fresh(t, rapid.SampledFrom([]string{"waltz", "rumba", "tango"}).Draw(r, "dance"), 80, 24)
		empty := k.text()
		for _, key := range rapid.SliceOfN(rapid.SampledFrom(keys), 1, 15).Draw(r, "keys") {
			k.press(key)
			require.LessOrEqual(r, strings.Count(k.view(), "\n"), 23)
			if k.turn == making.Dance {
				d := k.model.Draft()
				_, found := check.Sheet("quay.md", d.Text(), book)
				require.False(r, routine.HasErrors(found), k.text())
			}
		}
		k.press("esc") // what is typed
		for range 20 {
			k.press("ctrl+z")
		}
		require.Equal(r, empty, k.text())
	})
}

// BenchmarkKey measures keys at 64 figures, each with the picture that follows it.
func BenchmarkKey(b *testing.B) {
	k := fresh(b, "waltz", 160, 48)
	for range 64 {
		k.press("enter")
	}
	k.press("tab")
	for _, key := range []string{"up", "+", "c", "g"} {
		b.Run(key, func(b *testing.B) {
			for b.Loop() {
				k.press(key)
				k.view()
				if key == "g" {
					k.press("esc")
				}
			}
		})
	}
}
