package screen_test

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/caution"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/player/screen/terminal"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/testdata/thorough"
)

var errNotThere = errors.New("open gone.md: file does not exist")

// beat is how long a beat of the boathouse sheet lasts.
const beat = rehearsal.Beat

// size is a window.
type size struct{ width, height int }

func (s size) String() string { return fmt.Sprintf("%dx%d", s.width, s.height) }

// sizes are windows from the smallest that is of use to a wide screen.
var sizes = []size{{40, 15}, {80, 24}, {100, 30}, {160, 48}, {200, 60}}

// scene is something to look at.
type scene struct {
	name string
	open string
	play func(*show)
}

// mid is when a step is under way: the cha-cha's "and", three quarters of a beat before the next.
const mid = 4*beat + 2*beat + 3*beat/4

func TestViews(t *testing.T) {
	few := []size{{40, 15}, {80, 24}, {100, 30}}
	for _, scene := range []struct {
		scene
		sizes []size
	}{
		{scene{"holding", "boathouse", func(*show) {}}, few},
		{scene{"lead-in", "boathouse", func(s *show) { s.keys(" "); s.wait(2*beat + beat/2) }}, few},
		{scene{"dancing", "boathouse", func(s *show) { s.keys(" "); s.wait(mid) }}, sizes},
		{scene{"one partner in words", "boathouse", func(s *show) {
			s.keys("s", "s").set("o", "count", "right", "right").set("o", "lead-in", "left").keys(" ")
			s.wait(beat + beat/2)
		}}, few},
		{scene{"looping", "boathouse", func(s *show) { s.keys("down", "down", "r", "g", " "); s.wait(12 * beat) }}, few},
		{scene{"slow and quick", "lounge", func(s *show) { s.keys(" "); s.wait(4*beat*2 + beat*3) }}, few},
		{scene{"finished", "boathouse", func(s *show) { s.keys("down", "down", "down", " "); s.wait(20 * beat) }}, few},
		{scene{"list", "", func(s *show) { s.keys("down") }}, few},
		{scene{"findings", "broken", func(*show) {}}, few},
		{scene{"saved with errors", "boathouse", func(s *show) {
			s.keys(" ")
			s.wait(6 * beat)
			s.save(strings.Replace(rehearsal.Boathouse, "2. Oar turn", "2. Oar turning\n3. Lanten step", 1))
		}}, few},
		{scene{"help", "boathouse", func(s *show) { s.keys("?") }}, few},
		{scene{"plan", "boathouse", func(s *show) { s.keys("v", " "); s.wait(mid) }}, sizes},
		{scene{"plan in the lead-in", "boathouse", func(s *show) { s.keys("v", " "); s.wait(2*beat + beat/2) }}, few},
		{scene{"plan from behind the follower", "boathouse", func(s *show) { s.keys("V", "V", " "); s.wait(mid) }}, few},
		{scene{"plan from opposite", "boathouse", func(s *show) { s.keys("V", "V", "V", "down", "down", " "); s.wait(4*beat + 6*beat + beat/2) }}, few},
		{scene{"plan in the hall", "boathouse", func(s *show) { s.keys("V", "V", "V", "V", "s", " "); s.wait(mid) }}, few},
		{scene{"class", "boathouse", func(s *show) { s.keys("v", "v", " "); s.wait(mid) }}, sizes},
		{scene{"sound", "boathouse", func(s *show) { s.keys("m", "down") }}, few},
		{scene{"options", "boathouse", func(s *show) { s.keys("o") }}, few},
		{scene{"learn", "boathouse", func(s *show) { s.keys("u") }}, few},
		{scene{"typing a tempo", "boathouse", func(s *show) { s.keys("t", "5", "0") }}, few},
	} {
		for _, size := range scene.sizes {
			t.Run(fmt.Sprint(scene.name, " ", size), func(t *testing.T) {
				dances(t, scene.open, size.width, size.height, func(s *show) {
					scene.play(s)
					s.heard()
					rehearsal.Fits(t, s.styled(), size.width, size.height)
					golden.Equal(t, s.text()+"\n")
				})
			})
		}
	}
}

// TestStyledViews: the text has the terminal's own styles, and the signs and pictures as many colours
// as it has.
func TestStyledViews(t *testing.T) {
	for _, depth := range []struct {
		name string
		raster.Depth
	}{{"mono", raster.Mono}, {"16 colours", raster.Sixteen}, {"true colour", raster.True}} {
		for _, scene := range []scene{
			{name: "steps", play: func(s *show) { s.keys(" "); s.wait(mid) }},
			{name: "plan", play: func(s *show) { s.keys("v", " "); s.wait(mid) }},
		} {
			for _, size := range sizes {
				t.Run(fmt.Sprint(scene.name, " ", depth.name, " ", size), func(t *testing.T) {
					synctest.Test(t, func(t *testing.T) {
						s := newShow(t, "boathouse", size.width, size.height, screen.Options{Look: screen.Look{NoColor: depth.Depth == raster.Mono, Mode: raster.Mode{Depth: depth.Depth}}})
						scene.play(s)
						s.heard()
						golden.Equal(t, s.styled()+"\n") // with its escape sequences, which shoot draws
					})
				})
			}
		}
	}
}

func (s *show) save(text string) {
	s.shelf.saved <- read(text)
	s.settle()
}

// TestLabelIsDrawnAFrameBeforeTheCount: the label is drawn a frame of 1/120 s before its count is due, and
// is written when it is due.
func TestLabelIsDrawnAFrameBeforeTheCount(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys(" ")
		start := time.Now()
		mark := func() string { // the line of counts tells the event
			for line := range strings.Lines(s.text()) {
				if strings.Contains(line, "▲") {
					return line
				}
			}
			return ""
		}
		s.wait(3*beat + beat/2)
		var changes []time.Duration
		for seen := mark(); len(changes) < 4; {
			select {
			case msg := <-s.messages:
				s.send(msg)
				s.settle()
			case <-time.After(time.Second):
				require.Fail(t, "nothing changes")
			}
			if m := mark(); m != seen {
				seen = m
				changes = append(changes, time.Since(start))
			}
		}
		for i, want := range []time.Duration{4 * beat, 5 * beat, 6 * beat, 6*beat + beat/2} {
			assert.InDelta(t, (want - program.Lead).Seconds(), changes[i].Seconds(), 0.0021, "change %d", i)
		}
	})
}

func TestMovesWhileHolding(t *testing.T) {
	tests := []struct {
		name string
		keys []string
		want string
	}{
		{"stands at the start", nil, "1.2"},
		{"next step", []string{"right"}, "1.3"},
		{"over the half beat", []string{"right", "right", "right"}, "1.&"},
		{"and back", []string{"right", "right", "left"}, "1.3"},
		{"not before the start", []string{"left"}, "1.2"},
		{"next figure", []string{"down"}, "3.2"},
		{"next figure twice", []string{"down", "down"}, "5.2"},
		{"a held count is one step", []string{"down", "down", "right", "right"}, "6.1"},
		{"back over the held count", []string{"down", "down", "right", "right", "left"}, "5.3"},
		{"start of this figure", []string{"down", "right", "up"}, "3.2"},
		{"figure before", []string{"down", "up"}, "1.2"},
		{"home", []string{"down", "down", "home"}, "1.2"},
		{"last figure", []string{"down", "down", "down", "down"}, "7.2"},
		{"not beyond the end", []string{"down", "down", "down", "right", "right", "right", "right", "right", "right", "right", "right", "right", "right"}, "9.1"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dances(t, "boathouse", 80, 24, func(s *show) {
				for _, k := range tt.keys {
					s.keys(k).heard()
				}
				assert.Equal(t, tt.want, s.at())
				assert.Equal(t, player.Holding, s.now().State)
			})
		})
	}
}

func TestKeys(t *testing.T) {
	percent := func(want float64) func(*testing.T, *show) {
		return func(t *testing.T, s *show) { assert.InDelta(t, want, s.now().Percent, 0.001) }
	}
	repeats := func(from, to string) func(*testing.T, *show) {
		return func(t *testing.T, s *show) {
			m := s.now()
			r := m.Settings.Loop
			require.False(t, r.Empty())
			name := func(b routine.Beats) string {
				e := &m.Timeline.Events[m.Timeline.At(b)]
				return string(rune('0'+e.Bar)) + "." + e.Labels.Count
			}
			assert.Equal(t, from, name(r.From))
			assert.Equal(t, to, name(r.To-1))
		}
	}
	sees := func(want string) func(*testing.T, *show) {
		return func(t *testing.T, s *show) { assert.Contains(t, s.text(), want) }
	}
	lacks := func(what string) func(*testing.T, *show) {
		return func(t *testing.T, s *show) { assert.NotContains(t, s.text(), what) }
	}
	level := func(layer audio.Layer, want float64) func(*testing.T, *show) {
		return func(t *testing.T, s *show) { assert.InDelta(t, want, s.engine.Levels()[layer], 1e-6) }
	}
	quits := func(t *testing.T, s *show) { assert.True(t, s.quit) }
	stays := func(t *testing.T, s *show) { assert.False(t, s.quit) }
	tests := []struct {
		name string
		keys []string
		want []func(*testing.T, *show)
	}{
		{"space starts", []string{" "}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.Equal(t, player.LeadIn, s.now().State) }, sees(" LEAD-IN ")}},
		{"space holds", []string{" ", " "}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.Equal(t, player.Holding, s.now().State) }, sees(" HOLDING ")}},
		{"faster", []string{"+"}, []func(*testing.T, *show){percent(61.0 / 60 * 100), sees("61 bars/min (102 %)")}},
		{"faster thrice, pressed fast", []string{"+++"}, []func(*testing.T, *show){percent(63.0 / 60 * 100)}},
		{"faster without shift", []string{"="}, []func(*testing.T, *show){percent(61.0 / 60 * 100)}},
		{"slower", []string{"-", "-"}, []func(*testing.T, *show){percent(58.0 / 60 * 100)}},
		{"the sheet's tempo", []string{"-", "-", "t", "enter"}, []func(*testing.T, *show){percent(100)}},
		{"a tempo in bars", []string{"t", "45 bars/min", "enter"}, []func(*testing.T, *show){percent(75), sees("45 bars/min (75 %)")}},
		{"a bare tempo in bars", []string{"t", "45", "enter"}, []func(*testing.T, *show){percent(75), sees("45 bars/min (75 %)")}},
		{"a tempo in beats", []string{"t", "120 beats", "enter"}, []func(*testing.T, *show){percent(50)}},
		{"a tempo in per cent", []string{"t", "80 %", "enter"}, []func(*testing.T, *show){percent(80)}},
		{"what a tempo will mean", []string{"t", "45"}, []func(*testing.T, *show){percent(100), sees("→ 45 bars/min, 180 beats/min, 75 % of the sheet's tempo")}},
		{"a tempo beyond all dancing", []string{"t", "500 %", "enter"}, []func(*testing.T, *show){percent(100), sees("can be danced from 10 to 200 %")}},
		{"a tempo that is none", []string{"t", "brisk", "enter", "backspace", "esc"}, []func(*testing.T, *show){percent(100), sees(" HOLDING ")}},
		{"keys are typed into the tempo", []string{"t", "q"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.False(t, s.quit) }, sees("tempo: q")}},
		{"a longer lead-in", []string{"o:lead-in:right"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.Equal(t, 2, s.now().Settings.LeadIn) }}},
		{"no lead-in", []string{"o:lead-in:left"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.Equal(t, 0, s.now().Settings.LeadIn) }}},
		{"the longest lead-in comes before none", []string{"o:lead-in:left:left"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.Equal(t, player.MostLeadIn, s.now().Settings.LeadIn) }}},
		{"the lead-in is told", []string{"o", "right"}, []func(*testing.T, *show){sees("▸ lead-in                            2 bars")}},
		{"loops a figure", []string{"down", "r"}, []func(*testing.T, *show){repeats("3.2", "5.1"), sees("loop: this figure, 1st time")}},
		{"loops the join to the next", []string{"down", "r", "r"}, []func(*testing.T, *show){repeats("4.2", "6.1"), sees("loop: the join to the next figure")}},
		{"loops nothing", []string{"down", "r", "r", "r"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.True(t, s.now().Settings.Loop.Empty()) }}},
		{"no join after the last", []string{"down", "down", "down", "r", "r"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.True(t, s.now().Settings.Loop.Empty()) }}},
		{"a loop's start", []string{"right", "["}, []func(*testing.T, *show){sees("Loop start: bar 1, count 3"), sees("loop from bar 1, count 3")}},
		{"a loop from here to there", []string{"right", "[", "down", "right", "]"}, []func(*testing.T, *show){repeats("1.3", "3.3"), sees("loop: bar 1, count 3 to bar 3")}},
		{"a loop backwards", []string{"down", "[", "home", "]"}, []func(*testing.T, *show){repeats("1.2", "3.2")}},
		{"a loop to here", []string{"down", "right", "right", "]"}, []func(*testing.T, *show){repeats("3.2", "3.4")}},
		{"that loop no more", []string{"[", "right", "]", "r"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.True(t, s.now().Settings.Loop.Empty()) }}},
		{"a ladder", []string{"g"}, []func(*testing.T, *show){percent(70), repeats("1.2", "9.1"), sees("rung 1 of 7 to 100 %"), sees("loop: the routine, 1st time")}},
		{"a rung up", []string{"g", " ", "pgdown"}, []func(*testing.T, *show){percent(75), sees("rung 2 of 7 to 100 %")}},
		{"a rung down", []string{"o:lead-in:left", "g", " ", "pgdown", "pgdown", "z"}, []func(*testing.T, *show){percent(75), sees("rung 2 of 7 to 100 %")}},
		{"the last rung", []string{"t", "60 to 75 by 10", "enter", " ", "pgdown", "pgdown", "pgdown"}, []func(*testing.T, *show){percent(75), sees("rung 3 of 3 to 75 %")}},
		{"below the first rung", []string{"g", "pgup", "pgup"}, []func(*testing.T, *show){percent(60), sees("2 below rung 1 of 7 to 100 %")}},
		{"and up again", []string{"g", "pgup", "pgup", "pgdown", "pgdown", "pgdown"}, []func(*testing.T, *show){percent(75), sees("rung 2 of 7 to 100 %")}},
		{"a figure on a rung", []string{"g", " ", "pgdown", " ", "down", "r"}, []func(*testing.T, *show){percent(75), repeats("3.2", "5.1"), sees("rung 2 of 7"), sees("loop: this figure")}},
		{"the whole again on a rung", []string{"g", " ", "pgdown", " ", "down", "r", "r", "r"}, []func(*testing.T, *show){percent(75), repeats("1.2", "9.1"), sees("rung 2 of 7")}},
		{"a part on a rung", []string{"g", " ", "pgdown", " ", "right", "[", "down", "right", "]"}, []func(*testing.T, *show){percent(75), repeats("1.3", "3.3"), sees("rung 2 of 7")}},
		{"a part no more, on a rung", []string{"g", " ", "pgdown", " ", "right", "[", "down", "]", "r"}, []func(*testing.T, *show){percent(75), repeats("1.2", "9.1"), sees("rung 2 of 7")}},
		{"a join on a rung", []string{"g", " ", "pgdown", " ", "down", "r", "r"}, []func(*testing.T, *show){percent(75), repeats("4.2", "6.1"), sees("rung 2 of 7")}},
		{"a ladder for a figure", []string{"down", "r", "g", " ", "pgdown", " ", "r", "r"}, []func(*testing.T, *show){percent(75), repeats("1.2", "9.1"), sees("rung 2 of 7")}},
		{"a class on a rung", []string{"g", "v", "v", " ", "pgdown", "pgdown", "pgup"}, []func(*testing.T, *show){percent(75), sees("rung 2 of 7")}},
		{"a mark while nothing is danced leaves the rung", []string{"g", "z"}, []func(*testing.T, *show){percent(70), sees("Nothing to mark yet")}},
		{"a mark without a ladder leaves the tempo", []string{"o:lead-in:left", " ", "z"}, []func(*testing.T, *show){percent(100)}},
		{"a ladder of one's own", []string{"t", "50 to 90 by 20, 2 passes", "enter"}, []func(*testing.T, *show){percent(50), sees("rung 1 of 3 to 90 %")}},
		{"a ladder that is none", []string{"t", "up to", "enter"}, []func(*testing.T, *show){percent(100), sees("is not a ladder")}},
		{"a rest between run-throughs", []string{"r", "o:rest:right:right"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.Equal(t, 2, s.now().Settings.Rest) }}},
		{"a ladder no more", []string{"g", "g"}, []func(*testing.T, *show){percent(70), func(t *testing.T, s *show) { assert.Zero(t, s.now().Settings.Ladder) }}},
		{"faster ends the ladder", []string{"g", "+"}, []func(*testing.T, *show){percent(43.0 / 60 * 100), func(t *testing.T, s *show) { assert.Zero(t, s.now().Settings.Ladder) }}},
		{"leader's part", []string{"s"}, []func(*testing.T, *show){sees("LF forward"), lacks("RF back")}},
		{"follower's part", []string{"s", "s"}, []func(*testing.T, *show){sees("RF back"), lacks("LF forward")}},
		{"both parts", []string{"s", "s", "s"}, []func(*testing.T, *show){sees("LF forward"), sees("RF back")}},
		{"slow and quick", []string{"o:count:right"}, []func(*testing.T, *show){sees("slow")}},
		{"words", []string{"o:count:left"}, []func(*testing.T, *show){sees("two"), sees("cha")}},
		{"in German", []string{"o:count:left", "o:language of counts:right"}, []func(*testing.T, *show){sees("zwei"), sees("cha"),
			func(t *testing.T, s *show) { assert.Equal(t, routine.German, s.now().Settings.Count.Language) }}},
		{"as written", []string{"o:count:right:right:right"}, []func(*testing.T, *show){sees("&")}},
		{"the voice counts as the screen does", []string{"o:count:left"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.Equal(t, routine.InWords, s.now().Settings.Count.Style) }}},
		{"clicks softer", []string{"m", "down", "left"}, []func(*testing.T, *show){sees("████······ 40 %"), level(player.ClickLayer, 0.4)}},
		{"clicks louder", []string{"m:clicks:right:right"}, []func(*testing.T, *show){level(player.ClickLayer, 0.7)}},
		{"no louder than that", []string{"m:clicks:right:right:right:right:right:right:right"}, []func(*testing.T, *show){level(player.ClickLayer, 1)}},
		{"clicks silent", []string{"m:clicks: "}, []func(*testing.T, *show){level(player.ClickLayer, 0)}},
		{"clicks as loud as before", []string{"m:clicks:left: : "}, []func(*testing.T, *show){level(player.ClickLayer, 0.4)}},
		{"steps of one partner louder", []string{"m:leader's steps:right"}, []func(*testing.T, *show){level(player.StepLayers[routine.Leader], 0.5), level(player.StepLayers[routine.Follower], 0.4)}},
		{"one partner's steps are no one else's", []string{"s", "m"}, []func(*testing.T, *show){sees("leader's steps"), lacks("follower's steps")}},
		{"counting aloud softer", []string{"m:counting aloud:left"}, []func(*testing.T, *show){level(player.VoiceLayer, 0.6)}},
		{"drums", []string{"m:drums:right:right:right:left"}, []func(*testing.T, *show){level(player.RhythmLayer, 0.2)}},
		{"no song to mix", []string{"m"}, []func(*testing.T, *show){lacks("the song")}},
		{"feet in their own ears", []string{"m:left foot: "}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.True(t, s.now().Settings.FeetApart) }}},
		{"names aloud", []string{"m:names: "}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.True(t, s.now().Settings.Call) }}},
		{"names no more", []string{"m:names: : "}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.False(t, s.now().Settings.Call) }}},
		{"the mixer closes with its key", []string{"m", "m"}, []func(*testing.T, *show){lacks("counting aloud"), sees("space start")}},
		{"the view", []string{"v"}, []func(*testing.T, *show){sees("Plan of the floor from behind the leader")}},
		{"the plan from elsewhere", []string{"v", "V"}, []func(*testing.T, *show){sees("Plan of the floor from behind the follower")}},
		{"the plan at once", []string{"V"}, []func(*testing.T, *show){sees("Plan of the floor from behind the leader")}},
		{"all views round", []string{"v", "v", "v"}, []func(*testing.T, *show){sees("LF forward")}},
		{"findings", []string{"o", "up", "enter"}, []func(*testing.T, *show){sees("No errors or warnings")}},
		{"back from the findings", []string{"o", "up", "enter", "esc"}, []func(*testing.T, *show){sees(" HOLDING ")}},
		{"help", []string{"?"}, []func(*testing.T, *show){sees("faster each run-through")}},
		{"back from help", []string{"?", "?"}, []func(*testing.T, *show){sees(" HOLDING ")}},
		{"back to the list", []string{"esc"}, []func(*testing.T, *show){sees("choose a sheet")}},
		{"q goes back from help", []string{"?", "q"}, []func(*testing.T, *show){stays, sees("HOLDING")}},
		{"q goes back from help", []string{"?", "q"}, []func(*testing.T, *show){stays, sees("HOLDING")}},
		{"interrupt", []string{"ctrl+c"}, []func(*testing.T, *show){quits}},
		{"interrupt while dancing", []string{" ", "ctrl+c"}, []func(*testing.T, *show){quits}},
		{"interrupt while typing", []string{"t", "ctrl+c"}, []func(*testing.T, *show){quits}},
		{"interrupt in a menu", []string{"u", "ctrl+c"}, []func(*testing.T, *show){quits}},
		{"what is pasted does nothing", []string{"[q]"}, []func(*testing.T, *show){sees(" HOLDING ")}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dances(t, "boathouse", 80, 24, func(s *show) {
				for _, k := range tt.keys {
					if parts := strings.Split(k, ":"); len(parts) > 1 { // what opens a pane, a row, and keys on it
						s.set(parts[0], parts[1], parts[2:]...).heard()
						continue
					}
					s.keys(k).heard()
				}
				for _, want := range tt.want {
					want(t, s)
				}
			})
		})
	}
}

// TestTappedMusic: taps in time with music set the tempo, and the first step, which is on 2, falls on
// the beat after the 1 on which space was pressed.
func TestTappedMusic(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		const tapped = 500 * time.Millisecond // 120 beats a minute, half the sheet's tempo
		before := s.device.Changes()
		s.keys("b")
		assert.Contains(t, s.text(), "Keep tapping with the music: 1 of 4")
		s.transport.Sync()
		assert.Greater(t, s.device.Changes(), before, "a device that rests goes on from the first tap")
		for range 4 {
			s.wait(tapped)
			s.keys("b")
		}
		assert.InDelta(t, 50, s.now().Percent, 0.1)
		assert.Contains(t, s.text(), "30 bars/min. Press space on a 1 to dance with the music")
		s.wait(tapped)
		one := time.Now()
		s.keys(" ")
		s.wait(tapped - 10*time.Millisecond)
		assert.Equal(t, player.LeadIn, s.now().State)
		s.wait(20 * time.Millisecond)
		assert.Equal(t, player.Dancing, s.now().State, "%s after the 1", time.Since(one))
		assert.InDelta(t, 50, s.now().Percent, 0.1)
	})
}

// TestTapsAreForgotten after a while: space then starts as usual, at the tempo that was tapped.
func TestTapsAreForgotten(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		for range 5 {
			s.keys("b")
			s.wait(500 * time.Millisecond)
		}
		s.wait(10 * time.Second)
		s.keys(" ")
		s.wait(4*500*time.Millisecond - 50*time.Millisecond)
		assert.Equal(t, player.LeadIn, s.now().State, "a bar is counted in")
		assert.InDelta(t, 50, s.now().Percent, 0.1)
	})
}

// TestEveryKeyOfTheHelpWorks: each changes what is shown.
func TestEveryKeyOfTheHelpWorks(t *testing.T) {
	require.NotEmpty(t, screen.DanceKeys())
	for _, key := range screen.DanceKeys() {
		t.Run(key, func(t *testing.T) {
			dances(t, "boathouse", 80, 24, func(s *show) {
				// Away from the start and the tempo, so that there is somewhere to go.
				s.keys("down", "right", "right").heard().keys("-").heard()
				before, at := s.text(), s.at()
				s.keys(key).heard()
				after := s.text()
				if s.quit {
					return
				}
				assert.NotEqual(t, before+at, after+s.at())
			})
		})
	}
}

// TestNoKeyIsSecret: a letter, digit or mark that the help doesn't name does nothing, except that a key
// which used to do something may say where that is now. A remote's keys are in the help's text.
func TestNoKeyIsSecret(t *testing.T) {
	bound := map[string]bool{".": true}
	for _, key := range screen.DanceKeys() {
		bound[key] = true
	}
	moved := 0
	for r := '!'; r <= '~'; r++ {
		if bound[string(r)] {
			continue
		}
		dances(t, "boathouse", 80, 24, func(s *show) {
			s.keys("down", "right").heard()
			before, set, levels := strings.Split(s.text(), "\n"), s.now().Settings, s.engine.Levels()
			s.keys(string(r)).heard()
			after := strings.Split(s.text(), "\n")
			const message = 22 // the line that says something
			if after[message] != before[message] {
				assert.Regexp(t, `^[A-Z].*: .*(t|b|r|v|under [omu]|press r twice|then (space|enter)|70 to 100 by 5)$`, strings.TrimSpace(after[message]), "%c", r)
				moved++
			}
			before[message], after[message] = "", ""
			assert.Equal(t, before, after, "%c", r)
			assert.Equal(t, set, s.now().Settings, "%c", r)
			assert.Equal(t, levels, s.engine.Levels(), "%c", r)
			assert.False(t, s.quit)
		})
	}
	assert.Equal(t, 27, moved, "keys of an earlier release that say where to look")
}

// TestALadderClimbsOn with another loop, and after holding, run-through by run-through: no rung is skipped,
// and it doesn't start over.
func TestALadderClimbsOn(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys("down", "down", "r").heard()
		s.keys("t", "50 to 100 by 25", "enter", " ")
		s.wait(2*4*beat + 2*8*beat + beat) // counted in, and once through the Oar turn at half the tempo
		assert.Contains(t, s.text(), "rung 2 of 3 to 100 %")
		s.keys(" ").heard().keys(" ").heard()
		assert.Contains(t, s.text(), "rung 2 of 3 to 100 %")
		s.keys("up", "r").heard() // the Lantern step
		assert.Contains(t, s.text(), "rung 2 of 3 to 100 %")
		s.wait(2 * (4*beat + 8*beat) * 4 / 3)
		assert.Contains(t, s.text(), "rung 3 of 3 to 100 %")
		assert.Equal(t, 100.0, s.now().Percent)
	})
}

func TestMovesDuringTheLeadIn(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys(" ")
		s.wait(beat)
		s.keys("down").heard()
		assert.Contains(t, s.text(), " LEAD-IN ")
		s.wait(4*beat + beat/4)
		assert.Equal(t, player.Dancing, s.now().State)
		assert.Equal(t, "3.2", s.at())
	})
}

func TestListIsNarrowedByTyping(t *testing.T) {
	dances(t, "", 80, 24, func(s *show) {
		s.keys("last", " ", "fox")
		assert.Contains(t, s.text(), "> Last lantern")
		assert.NotContains(t, s.text(), "boathouse")
		s.keys("x")
		assert.Contains(t, s.text(), "no sheet matches")
		s.keys("esc")
		assert.Contains(t, s.text(), "boathouse")
		assert.False(t, s.quit)
		s.keys("esc")
		assert.True(t, s.quit)
	})
}

func TestListOpens(t *testing.T) {
	dances(t, "", 80, 24, func(s *show) {
		s.keys("down", "enter")
		assert.Contains(t, s.text(), "Last lantern · Foxtrot")
		s.keys(" ").heard().keys("esc").heard().keys("esc").heard()
		assert.Contains(t, s.text(), "choose a sheet")
		assert.Equal(t, player.Holding, s.now().State, "nobody sees it: it is held")
		s.keys("up", "enter")
		assert.Contains(t, s.text(), "Lantern Night at the boathouse · Cha-cha")
	})
}

func TestListSaysWhatCantBeOpened(t *testing.T) {
	dances(t, "", 80, 24, func(s *show) {
		s.keys("down", "down", "down", "enter")
		assert.Contains(t, s.text(), errNotThere.Error())
		s.keys("up", "enter")
		assert.Contains(t, s.text(), "The sheet can't be danced yet.")
		assert.Contains(t, s.text(), `"Oar turning"`)
		s.keys("esc")
		assert.Contains(t, s.text(), "choose a sheet")
	})
}

func TestSheetIsDancedAsSoonAsItCanBe(t *testing.T) {
	dances(t, "broken", 80, 24, func(s *show) {
		assert.Contains(t, s.text(), "The sheet can't be danced yet.")
		s.save(rehearsal.Boathouse)
		assert.Contains(t, s.text(), " HOLDING ")
		assert.Contains(t, s.text(), "Sheet reloaded")
	})
}

// TestNotesAreNoWarnings: they are worth knowing, but not counted.
func TestNotesAreNoWarnings(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.save(strings.Replace(rehearsal.Boathouse, "---\n", "---\nauthor: the Lantern Night class\n", 1))
		assert.NotContains(t, s.text(), "about the sheet")
		s.choose("o", "warnings")
		assert.Contains(t, s.text(), "No errors or warnings")
		assert.Regexp(t, `Worth knowing:\s+line 2: "author" is no setting`, s.text())
	})
}

func TestSavedSheetIsDancedFromTheNextBar(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys(" ")
		s.wait(4*beat + beat/2)
		s.save(strings.Replace(rehearsal.Boathouse, "LF replace    |", "LF in place   |", 1))
		assert.Contains(t, s.text(), "Sheet reloaded")
		s.wait(beat)
		assert.Contains(t, s.text(), "LF replace", "the bar is danced as it was")
		assert.Equal(t, "1.3", s.at())
		s.keys("up") // forgets the message, starts over
		s.wait(beat)
		s.wait(beat / 4)
		assert.NotContains(t, s.text(), "Sheet reloaded")
		s.wait(4 * beat)
		s.keys("home")
		s.wait(beat + beat/4)
		assert.Contains(t, s.text(), "LF in place")
	})
}

func TestSavedWithErrorsTheLastGoodOneGoesOn(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys(" ")
		s.wait(5 * beat)
		s.save(strings.Replace(rehearsal.Boathouse, "2. Oar turn", "2. Oar turning", 1))
		assert.Contains(t, s.text(), "The saved sheet has errors; still dancing the last good one")
		assert.Contains(t, s.text(), `"Oar turning"`)
		assert.Equal(t, player.Dancing, s.now().State)
		s.wait(17 * beat)
		assert.Regexp(t, "^(.*\n)?Oar turn ", s.text())
		s.save(rehearsal.Boathouse)
		assert.Contains(t, s.text(), "Sheet reloaded")
		assert.NotContains(t, s.text(), "can't be danced")
		s.wait(11 * time.Second)
		assert.NotContains(t, s.text(), "Sheet reloaded", "it has been read by now")
	})
}

// TestWhatCanNotBeReadWhenItIsSaved is reported, and the sheet as it was goes on.
func TestWhatCanNotBeReadWhenItIsSaved(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		timeline := s.now().Timeline
		s.shelf.saved <- dance.Sheet{Err: errors.New("a fault")}
		s.heard()
		assert.Contains(t, s.text(), "The saved sheet can't be read: a fault")
		assert.Same(t, timeline, s.now().Timeline)
		s.shelf.saved <- read(rehearsal.Lounge)
		s.heard()
		assert.NotSame(t, timeline, s.now().Timeline, "and what is saved next is danced")
	})
}

func TestHeldCountKeepsTheStep(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.set("o", "lead-in", "left").keys("down", "down", " ")
		s.wait(2*beat + beat/2)
		assert.Equal(t, -1, s.now().Timeline.Events[s.now().Event].Row)
		assert.Equal(t, "5.4", s.at())
		assert.Contains(t, s.text(), "leader    RF replace")
		assert.Contains(t, s.text(), "next 1: LF close")
		s.wait(2 * beat)
		assert.Contains(t, s.text(), "leader    stands still")
	})
}

// TestWordsThatCantBeDrawnLarge: words in a script without large letters are counted in numbers there.
func TestWordsThatCantBeDrawnLarge(t *testing.T) {
	score, _ := routine.Read("sheet.md", []byte(rehearsal.Boathouse), rehearsal.Book{})
	score.Dance.Sayings[0].Words = []string{"ча", "ча", "ча"}
	dances(t, "", 80, 24, func(s *show) {
		s.shelf.sheets["boathouse"] = dance.Sheet{Timeline: player.NewTimeline(score)}
		s.keys("enter").set("o", "count", "left").keys("right", "right", "right").heard()
		assert.Equal(t, "1.&", s.at())
		lines := strings.Split(s.text(), "\n")
		assert.Contains(t, s.text(), "three  ча     ча    |ча")
		for _, l := range lines[5:8] {
			assert.NotEmpty(t, strings.TrimSpace(string([]rune(l)[:30])), "the large & is drawn: %q", l)
		}
	})
}

func TestSoundStatusIsShown(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		sound := &fakeSound{status: "sound is off", changed: make(chan struct{}, 1)}
		s := newShow(t, "boathouse", 80, 24, screen.Options{Sound: sound})
		assert.Contains(t, s.text(), "sound is off")
		sound.status = ""
		sound.changed <- struct{}{}
		s.settle()
		assert.NotContains(t, s.text(), "sound is off")
	})
}

// TestNotesAreToldOnce: they disappear by themselves, or with the next key.
func TestNotesAreToldOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		notes := make(chan string, 2)
		s := newShow(t, "boathouse", 80, 24, screen.Options{Notes: notes})
		notes <- "no lantern was found\x1b[2J"
		s.settle()
		assert.Contains(t, s.text(), "No lantern was found")
		s.keys("s").heard()
		assert.NotContains(t, s.text(), "no lantern was found")
		notes <- "no oar was found"
		s.settle()
		assert.Contains(t, s.text(), "No oar was found")
		close(notes)
		s.wait(11 * time.Second)
		assert.NotContains(t, s.text(), "no oar was found")
	})
}

type fakeSound struct {
	status  string
	changed chan struct{}
}

func (s *fakeSound) Status() string           { return s.status }
func (s *fakeSound) Changed() <-chan struct{} { return s.changed }

func TestNoColor(t *testing.T) {
	for _, noColor := range []bool{false, true} {
		synctest.Test(t, func(t *testing.T) {
			s := newShow(t, "boathouse", 80, 24, screen.Options{Look: screen.Look{NoColor: noColor}})
			colours := rehearsal.Attributes(t, s.styled())
			assert.Contains(t, colours, "1", "bold is no colour")
			assert.Contains(t, colours, "1;7")
			assert.Equal(t, !noColor, contains(colours, func(p string) bool { return strings.Contains(p, "3") }), "%v", colours)
		})
	}
}

// TestNoColorWhateverTheTerminalCan: signs and pictures have no colour either, before and after the
// terminal has said what it can show.
func TestNoColorWhateverTheTerminalCan(t *testing.T) {
	for _, keys := range [][]string{nil, {"v"}, {"v", "v"}} {
		synctest.Test(t, func(t *testing.T) {
			s := newShow(t, "boathouse", 80, 24, screen.Options{Look: screen.Look{NoColor: true, Mode: raster.Mode{Depth: raster.True}}})
			s.keys(keys...)
			for range 2 {
				for _, set := range rehearsal.Attributes(t, s.styled()) {
					assert.NotRegexp(t, `(^|;)[34][0-9](;|$)|(^|;)(9|10)[0-7](;|$)`, set)
				}
				s.send(terminal.Answers{Sixel: true, Cell: image.Pt(8, 16)})
			}
		})
	}
}

// TestTheLastStepInATinyWindow: nothing follows it.
func TestTheLastStepInATinyWindow(t *testing.T) {
	for _, size := range []size{{13, 1}, {13, 3}, {20, 6}, {30, 9}} {
		dances(t, "boathouse", size.width, size.height, func(s *show) {
			s.keys("down", "down", "down").keys("right", "right", "right", "right", "right", "right", "right", "right", "right", "right").heard()
			rehearsal.Fits(t, s.styled(), size.width, size.height)
			require.Equal(t, "9.1", s.at())
		})
	}
}

// TestAResizeStorm: the window changes to any size while the couple dances, in each view.
func TestAResizeStorm(t *testing.T) {
	sizes := 100
	if thorough.Asked() {
		sizes = 300
	}
	for _, keys := range [][]string{nil, {"v"}, {"v", "v"}, {"V", "V", "V", "V"}, {"m"}, {"t"}} {
		dances(t, "boathouse", 80, 24, func(s *show) {
			s.keys(" ").keys(keys...)
			for i := range sizes {
				width, height := 1+i*37%173, 1+i*23%61
				s.size(width, height)
				rehearsal.Fits(t, s.styled(), width, height)
				rehearsal.Attributes(t, s.styled())
				if i%10 == 0 {
					s.wait(beat / 3)
				}
			}
			s.size(80, 24)
			s.wait(time.Second)
			assert.Contains(t, s.text(), " DANCING ")
			assert.Equal(t, player.Dancing, s.now().State)
		})
	}
}

// TestNamesAreReadOnAnyGround: a colour for dark grounds isn't used on one that isn't known to be dark.
func TestNamesAreReadOnAnyGround(t *testing.T) {
	for _, depth := range []raster.Depth{raster.Sixteen, raster.Indexed, raster.True} {
		for ground, coloured := range map[color.RGBA]bool{{}: false, {A: 255}: true, {R: 255, G: 255, B: 255, A: 255}: true} {
			synctest.Test(t, func(t *testing.T) {
				s := newShow(t, "boathouse", 80, 24, screen.Options{Look: screen.Look{Mode: raster.Mode{Depth: depth, Ground: ground}}})
				assert.Equal(t, !coloured, strings.Contains(s.styled(), "\x1b[1mleader"), "%v on %v", depth, ground)
			})
		}
	}
}

// TestNewsIsNotAlarming unless something went wrong.
func TestNewsIsNotAlarming(t *testing.T) {
	red := func(s *show) bool {
		return contains(rehearsal.Attributes(t, s.styled()), func(p string) bool { return strings.Contains(p, "31") })
	}
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys("v").heard()
		assert.False(t, red(s), "%s", s.text())
		s.keys("t", "fast", "enter")
		assert.True(t, red(s), "%s", s.text())
	})
}

// TestHelpHasTheCautions at its end.
func TestHelpHasTheCautions(t *testing.T) {
	dances(t, "boathouse", 120, 200, func(s *show) {
		s.keys("?")
		assert.Contains(t, strings.Join(strings.Fields(s.text()), " "), strings.Join(strings.Fields(caution.Text), " "))
	})
}
