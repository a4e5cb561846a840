package making_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/screen/making"
)

// begins begins a figure of one's own after a closed basic.
func begins(k *desk) *desk {
	return k.press("enter", "tab", "f").types("Lantern sway").press("enter")
}

// TestAFigureIsWritten of six counts, put into the order, danced and undone to the empty sheet and made again.
func TestAFigureIsWritten(t *testing.T) {
	k := fresh(t, "rumba", 80, 24)
	empty := k.text()
	begins(k)
	assert.Contains(t, k.view(), "the leader's LF is free")
	k.press("enter", "enter").types("side, 1/4 L").press("enter", "2", "enter", "1", "tab")
	made := k.text()
	assert.Contains(t, made, `
1. Closed basic
2. Lantern sway

## Lantern sway

- starts: closed or open facing, leader LF free, follower RF free

| Count | Leader                           | Follower                         |
|:-----:|----------------------------------|----------------------------------|
|   2   | LF forward                       | RF back                          |
|   3   | RF replace                       | LF replace                       |
|  4-1  | LF side, 1/4 L                   | RF side, 1/4 L                   |
`)
	assert.Equal(t, 6, strings.Count(made[strings.Index(made, ":-----:"):], "\n|"), made)
	assert.Equal(t, making.Dance, k.press(" ").turn, k.view())
	assert.Equal(t, made, k.kept[len(k.kept)-1])
	k.press("f", "enter")
	assert.Contains(t, k.view(), "Lantern sway · starts", "the marked line's own figure is offered")
	k.press("esc")
	for k.text() != empty {
		k.press("ctrl+z")
		require.Less(t, k.keys, 150)
	}
	for k.text() != made {
		k.press("ctrl+y")
		require.Less(t, k.keys, 200)
	}
	k.press("ctrl+s", "enter")
	assert.Equal(t, map[string]string{"quay.md": made}, k.saved)
}

// TestKeysOfAFigure change the marked cell, and nothing else.
func TestKeysOfAFigure(t *testing.T) {
	const first, second = "|   2   | LF forward                       | RF back                          |\n", "|   3   | RF replace                       | LF replace                       |\n"
	for name, tt := range map[string]struct {
		keys func(*desk)
		want string
	}{
		"follower":         {func(k *desk) { k.press("up", "right").types("side").press("enter") }, first + strings.Replace(second, "LF replace", "LF side   ", 1)},
		"follows":          {func(k *desk) { k.press("home", "up", "up").types("back").press("enter") }, strings.NewReplacer("RF back   ", "RF forward", "LF forward", "LF back   ").Replace(first) + second},
		"count":            {func(k *desk) { k.press("up", "left").types("3-4").press("enter") }, first + strings.Replace(second, "  3  ", " 3-4 ", 1)},
		"out":              {func(k *desk) { k.press("up", "backspace") }, first},
		"typed away":       {func(k *desk) { k.press("up").types("x").press("backspace").types("side").press("esc") }, first + second},
		"undo":             {func(k *desk) { k.press("enter", "ctrl+z") }, first + second},
		"not a step":       {func(k *desk) { k.types("moonwise").press("enter") }, first + second},
		"no such way":      {func(k *desk) { k.press("left", "7", "esc") }, first + second},
		"ends":             {func(k *desk) { k.press(">").types("open facing").press("enter") }, first + second},
		"a figure of less": {func(k *desk) { k.press("up", "up", "backspace", "backspace") }, ""},
	} {
		t.Run(name, func(t *testing.T) {
			k := begins(fresh(t, "rumba", 80, 24)).press("enter", "enter")
			tt.keys(k)
			_, rows, ok := strings.Cut(k.text(), "----------|\n")
			require.True(t, ok, k.text())
			assert.Equal(t, tt.want, rows)
			assert.Equal(t, name == "ends", strings.Contains(k.text(), "\n- ends: open facing\n"))
		})
	}
	k := begins(fresh(t, "rumba", 80, 24)).press("tab")
	assert.Contains(t, k.view(), "Write its first step first")
	k.press("esc")
	assert.NotContains(t, k.text(), "Lantern sway", "a figure without a step isn't kept")
}

// TestAFigureIsCopied into the handbook, over something else only when asked again.
func TestAFigureIsCopied(t *testing.T) {
	k := begins(fresh(t, "rumba", 80, 24)).press("ctrl+b")
	assert.Contains(t, k.view(), "has no steps yet")
	k.press("enter", "ctrl+b")
	assert.Contains(t, k.view(), "ctrl+b again writes over it")
	assert.Empty(t, k.own)
	k.press("ctrl+b")
	assert.Contains(t, k.view(), "Copied")
	assert.Contains(t, k.own, "---\ndance: rumba\n---\n\n## Lantern sway\n")
}

// figureViews are states of the figure that is written.
var figureViews = map[string]func(*desk){
	"figure begun":   func(k *desk) { begins(k) },
	"figure written": func(k *desk) { begins(k).press("enter", "enter", "enter", "enter", "right") },
	"figure wrong":   func(k *desk) { begins(k).press("enter", "enter").types("RF side").press("enter", "up", "up") },
}

func TestFigureViews(t *testing.T) {
	for name, keys := range figureViews {
		for _, size := range [][2]int{{40, 15}, {80, 24}, {160, 48}} {
			t.Run(fmt.Sprintf("%s %dx%d", name, size[0], size[1]), func(t *testing.T) {
				k := fresh(t, "rumba", size[0], size[1])
				keys(k)
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

// TestAnythingCanBeWritten in any order and any window, and undo leads back to the empty sheet.
func TestAnythingCanBeWritten(t *testing.T) {
	keys := []string{"enter", "enter", "1", "2", "3", "up", "down", "left", "right", "s", "-", "backspace", "<", "ctrl+z", "ctrl+y", "tab", "f", "esc", "ctrl+b", "home"}
	rapid.Check(t, func(r *rapid.T) {
		k := fresh(t, rapid.SampledFrom([]string{"waltz", "rumba", "hustle"}).Draw(r, "dance"), rapid.IntRange(1, 90).Draw(r, "width"), rapid.IntRange(1, 30).Draw(r, "height"))
		empty := k.text()
		begins(k)
		for _, key := range rapid.SliceOfN(rapid.SampledFrom(keys), 1, 15).Draw(r, "keys") {
			k.press(key)
			k.view()
		}
		k.press("esc") // what is typed
		for range 40 {
			k.press("ctrl+z")
		}
		require.Equal(r, empty, k.text())
	})
}

var errTaken = fmt.Errorf("copy it: %w", draft.ErrNewer)
