package pane_test

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	tea "github.com/charmbracelet/bubbletea"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen/internal/screentest"
	"dance.example/slowquick/player/screen/pane"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

var theme = term.NewTheme(false)

func text(lines []string) string { return ansi.Strip(strings.Join(lines, "\n")) }

func TestMenu(t *testing.T) {
	level, done := 5, 0
	rows := func() []pane.Row {
		return []pane.Row{
			{Name: "counting aloud", Value: pane.Bar(level), Change: func(by int) tea.Cmd { level += by; return nil }},
			{Name: "questions", Do: func() tea.Cmd { done++; return nil }, Leaves: true},
		}
	}
	var m pane.Menu
	press := func(keys ...string) (closes bool) {
		for _, k := range keys {
			closes, _ = m.Press(screentest.Key(k), "m", rows())
		}
		return closes
	}
	press("right", "right", "left", " ")
	assert.Equal(t, 7, level, "space goes to the next value")
	assert.Equal(t, "\n▸ counting aloud  ███████··· 70 %\n  questions", text(m.View(60, 5, theme, rows())))

	press("down", "right")
	assert.Equal(t, 7, level, "the second row has no values")
	assert.Zero(t, done)
	assert.True(t, press("enter"), "this row leaves the menu")
	assert.Equal(t, 1, done)
	press("down")
	assert.Zero(t, m.Chosen, "the first comes after the last")

	for _, k := range []string{"m", "esc", "q"} {
		assert.True(t, press(k), k)
	}
	assert.Equal(t, "\n▸ counting aloud  ███████··· 70 %", text(m.View(60, 2, theme, rows())), "the chosen row is seen where there is room for one")
	assert.Empty(t, m.View(60, 0, theme, rows()))
}

func TestTicks(t *testing.T) {
	list := func() []pane.Tick {
		return []pane.Tick{{Name: "Lantern step"}, {Name: "Lantern step into Oar turn"}, {Name: "Oar turn"}}
	}
	tests := []struct {
		name  string
		shown routine.Dancers
		keys  []string
		want  [3][2]bool
		end   pane.Outcome
	}{
		{"all went well", routine.Both, []string{"enter"}, [3][2]bool{}, pane.Keep},
		{"by number, for both", routine.Both, []string{"2", "enter"}, [3][2]bool{1: {true, true}}, pane.Keep},
		{"by arrows, for the follower", routine.Both, []string{"right", "right", "down", "down", " ", "enter"}, [3][2]bool{2: {false, true}}, pane.Keep},
		{"for each in turn", routine.Both, []string{"right", "1", "right", "1", "enter"}, [3][2]bool{0: {true, true}}, pane.Keep},
		{"and taken back", routine.Both, []string{"1", "1", "3", "enter"}, [3][2]bool{2: {true, true}}, pane.Keep},
		{"by a remote", routine.LeaderAlone, []string{"pgdown", "b", "pgdown", ".", "f5"}, [3][2]bool{1: {true, false}, 2: {true, false}}, pane.Keep},
		{"up from the first is the last", routine.FollowerAlone, []string{"up", " ", "enter"}, [3][2]bool{2: {false, true}}, pane.Keep},
		{"not now", routine.Both, []string{"1", "esc"}, [3][2]bool{0: {true, true}}, pane.Dropped},
		{"no such number", routine.Both, []string{"9"}, [3][2]bool{}, pane.Open},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := pane.NewTicks("What went wrong?", list(), tt.shown)
			end := pane.Open
			for _, k := range tt.keys {
				require.Equal(t, pane.Open, end, "before %s", k)
				end = l.Press(screentest.Key(k))
			}
			assert.Equal(t, tt.end, end)
			assert.Equal(t, tt.want == [3][2]bool{}, l.Clean())
			for i, want := range tt.want {
				assert.Equal(t, want, l.List[i].Wrong, "row %d", i)
			}
		})
	}
}

func TestTicksAreSeen(t *testing.T) {
	list := []pane.Tick{{Name: "Lantern step"}, {Name: "Lantern step into Oar turn"}, {Name: "Oar turn"}}
	l := pane.NewTicks("What went wrong?", list, routine.LeaderAlone)
	l.Press(screentest.Key("3"))
	assert.Equal(t, "What went wrong?\nTick what went wrong, then press enter. Nothing went wrong? Just press enter.\n"+
		" 1 [ ] Lantern step\n 2 [ ] Lantern step into Oar turn\n 3 [x] Oar turn", text(l.View(80, 20, theme)))
	assert.Equal(t, " 3 [x] Oar turn", ansi.Strip(l.View(80, 3, theme)[2]), "the chosen row is seen where there is room for one")
}

func TestMeaning(t *testing.T) {
	timeline, _ := rehearsal.Read(rehearsal.Boathouse) // 60 bars/min, 4/4
	require.NotNil(t, timeline)
	m := player.Moment{Timeline: timeline, Beat: timeline.Start, Settings: player.DefaultSettings(), Percent: 100, Tempo: timeline.OwnTempo()}
	tests := []struct{ text, means string }{
		{"", "the sheet's own tempo, 60 bars/min, 240 beats/min, 100 % of the sheet's tempo"},
		{"30", "30 bars/min, 120 beats/min, 50 % of the sheet's tempo"},
		{"75", "75 bars/min, 300 beats/min, 125 % of the sheet's tempo"},
		{"20", "12 bars/min, 48 beats/min, 20 % of the sheet's tempo"},
		{"120", "30 bars/min, 120 beats/min, 50 % of the sheet's tempo"},
		{"90 %", "54 bars/min, 216 beats/min, 90 % of the sheet's tempo"},
		{"180 beats", "45 bars/min, 180 beats/min, 75 % of the sheet's tempo"},
		{"70 to 100 by 5", "from 70 % to 100 %, 5 % faster after each run-through"},
		{"70 to 100 % by 10, 2 passes", "from 70 % to 100 %, 10 % faster after every 2 run-throughs"},
	}
	for _, tt := range tests {
		change, means, err := pane.Meaning(tt.text, m)
		require.NoError(t, err, tt.text)
		assert.Equal(t, tt.means, means, tt.text)
		set := change(m)
		if set.Ladder == (player.Ladder{}) {
			at := player.NewCourse(rehearsal.Rate, player.Sounds{}, timeline, set).At(0)
			assert.Contains(t, means, term.Decimal(timeline.Score.Dance.BarsPerMinute(at.Tempo))+" bars/min", "what is danced is what was said: %s", tt.text)
		}
	}
	for _, wrong := range []string{"x", "5 %", "900", "70 to", "28 bars to 30 bars"} {
		_, _, err := pane.Meaning(wrong, m)
		assert.Error(t, err, wrong)
	}
}

func TestTempoIsTyped(t *testing.T) {
	timeline, _ := rehearsal.Read(rehearsal.Boathouse)
	m := player.Moment{Timeline: timeline, Beat: timeline.Start, Settings: player.DefaultSettings(), Percent: 100, Tempo: timeline.OwnTempo()}
	p := pane.NewTempo()
	for _, k := range []string{"9", "0", "0"} {
		_, closes := p.Press(screentest.Key(k), m)
		require.False(t, closes)
	}
	change, closes := p.Press(screentest.Key("enter"), m)
	require.Nil(t, change)
	require.False(t, closes, "900 can't be danced")
	assert.Contains(t, text(p.View(100, theme, m)), "900 beats/min is outside")
	p.Press(screentest.Key("backspace"), m)
	assert.Contains(t, text(p.View(80, theme, m)), "→ 54 bars/min, 216 beats/min, 90 %")
	change, closes = p.Press(screentest.Key("enter"), m)
	require.True(t, closes)
	assert.InDelta(t, 90, change(m).Percent, 1e-9)
}

func TestFirstKeys(t *testing.T) {
	var l pane.FirstKeys
	keys := []string{" ", "-", " ", "right", "down", "r", "s", "v", "?"}
	distinct := map[string]bool{}
	for i, k := range keys {
		distinct[k] = true
		assert.Contains(t, l.Text(), "of 9: ", "step %d", i)
		assert.False(t, l.Press("x"), "another key teaches nothing")
		assert.True(t, l.Press(k), "step %d: %s", i, k)
	}
	assert.Len(t, distinct, 8)
	assert.True(t, l.Over())
	assert.Empty(t, l.Text())
	assert.False(t, l.Press(" "))
}

// TestHowItIsSetIsSeen, however long a row's name and however narrow the window.
func TestHowItIsSetIsSeen(t *testing.T) {
	rows := []pane.Row{{Name: "clicks", Value: pane.Bar(4)}, {Name: "left foot in the left ear, right foot in the right", Value: "off"}, {Name: "what needs no value, however long its name may be"}}
	for _, width := range []int{30, 40, 80} {
		lines := (&pane.Menu{Title: "Sound"}).View(width, 9, theme, rows)
		assert.Contains(t, ansi.Strip(lines[1]), "clicks ")
		assert.Contains(t, ansi.Strip(lines[1]), "████······ 40 %")
		assert.Contains(t, ansi.Strip(lines[2]), " off")
		assert.Contains(t, ansi.Strip(lines[2]), "left foot")
		for _, l := range lines {
			assert.LessOrEqual(t, ansi.StringWidth(l), width)
		}
	}
}
