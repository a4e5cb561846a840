package screen_test

import (
	"errors"
	"strings"
	"testing"
	"testing/synctest"
	"time"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/caution"
	"dance.example/slowquick/routine"
)

var errNotThere = errors.New("open gone.md: file does not exist")

// beat is how long a beat of the boathouse sheet lasts.
const beat = rehearsal.Beat

func TestViews(t *testing.T) {
	sizes := []struct {
		name          string
		width, height int
	}{{"80x24", 80, 24}, {"120x40", 120, 40}, {"40x15", 40, 15}}
	scenes := []struct {
		name string
		open string
		play func(*show)
	}{
		{"holding", "boathouse", func(*show) {}},
		{"lead-in", "boathouse", func(s *show) { s.keys(" "); s.wait(2*beat + beat/2) }},
		{"dancing", "boathouse", func(s *show) { s.keys(" "); s.wait(4*beat + 2*beat + 3*beat/4) }},
		{"one side in words", "boathouse", func(s *show) { s.keys("s", "s", "c", "c", "l", "l", "l", "l", " "); s.wait(beat + beat/2) }},
		{"repeating", "boathouse", func(s *show) { s.keys("down", "down", "r", "g", " "); s.wait(12 * beat) }},
		{"slow and quick", "lounge", func(s *show) { s.keys(" "); s.wait(4*beat*2 + beat*3) }},
		{"finished", "boathouse", func(s *show) { s.keys("down", "down", "down", " "); s.wait(20 * beat) }},
		{"list", "", func(s *show) { s.keys("down") }},
		{"findings", "broken", func(*show) {}},
		{"saved with errors", "boathouse", func(s *show) {
			s.keys(" ")
			s.wait(6 * beat)
			s.save(strings.Replace(rehearsal.Boathouse, "2. Oar turn", "2. Oar turning\n3. Lanten step", 1))
		}},
		{"help", "boathouse", func(s *show) { s.keys("?") }},
		{"floor", "boathouse", func(s *show) { s.keys("p", " "); s.wait(4*beat + 2*beat + 3*beat/4) }},
		{"floor in the lead-in", "boathouse", func(s *show) { s.keys("p", " "); s.wait(2*beat + beat/2) }},
		{"floor from opposite", "boathouse", func(s *show) { s.keys("v", "v", "down", "down", " "); s.wait(4*beat + 6*beat + beat/2) }},
		{"floor from above, one side in words", "boathouse", func(s *show) { s.keys("p", "v", "v", "s", "c", "c") }},
	}
	for _, scene := range scenes {
		for _, size := range sizes {
			t.Run(scene.name+" "+size.name, func(t *testing.T) {
				dances(t, scene.open, size.width, size.height, func(s *show) {
					scene.play(s)
					s.heard()
					golden.Equal(t, s.text()+"\n")
				})
			})
		}
	}
}

// The styles are the terminal's own: bold, reverse, faint, and two of its 16 colours.
func TestStyledView(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys(" ")
		s.wait(6*beat + beat/4)
		golden.Equal(t, strings.ReplaceAll(s.styled(), "\x1b", "^")+"\n")
	})
}

func (s *show) save(text string) {
	s.shelf.saved <- read(text)
	s.settle()
}

// The label is drawn ahead of the count, so that a frame of 1/120 s lies between:
// it is written when it is due.
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
			ahead := time.Second/120 + time.Millisecond
			assert.InDelta(t, (want - ahead).Seconds(), changes[i].Seconds(), 0.0021, "change %d", i)
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
		{"next bar", []string{"pgdown"}, "2.1"},
		{"next bar twice", []string{"pgdown", "pgdown"}, "3.1"},
		{"start of this bar", []string{"pgdown", "right", "pgup"}, "2.1"},
		{"bar before", []string{"pgdown", "pgdown", "pgup"}, "2.1"},
		{"first bar", []string{"pgdown", "pgup"}, "1.2"},
		{"home", []string{"down", "down", "home"}, "1.2"},
		{"last figure", []string{"down", "down", "down", "down"}, "7.2"},
		{"not beyond the end", []string{"down", "down", "down", "pgdown", "pgdown", "right", "right"}, "9.1"},
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
		{"full tempo", []string{"-", "-", "0"}, []func(*testing.T, *show){percent(100)}},
		{"a tempo in bars", []string{"t", "45 bars/min", "enter"}, []func(*testing.T, *show){percent(75), sees("45 bars/min (75 %)")}},
		{"a tempo in beats", []string{"t", "120 beats/min", "enter"}, []func(*testing.T, *show){percent(50)}},
		{"a tempo in per cent", []string{"t", "80 %", "enter"}, []func(*testing.T, *show){percent(80)}},
		{"a tempo beyond all dancing", []string{"t", "500 %", "enter"}, []func(*testing.T, *show){percent(100), sees("can be danced from 10 to 200 %")}},
		{"a tempo that is none", []string{"t", "brisk", "enter", "backspace", "esc"}, []func(*testing.T, *show){percent(100), sees(" HOLDING ")}},
		{"keys are typed into the tempo", []string{"t", "q"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.False(t, s.quit) }, sees("tempo: q")}},
		{"lead-in", []string{"l"}, []func(*testing.T, *show){sees("lead-in 2 bars")}},
		{"no lead-in", []string{"l", "l", "l", "l"}, []func(*testing.T, *show){sees("no lead-in")}},
		{"repeats a figure", []string{"down", "r"}, []func(*testing.T, *show){repeats("3.2", "5.1"), sees("pass 1 of the figure")}},
		{"repeats no more", []string{"r", "r"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.True(t, s.now().Settings.Loop.Empty()) }}},
		{"marks a start", []string{"right", "m"}, []func(*testing.T, *show){sees("a part begins at bar 1, count 3"), sees("part from bar 1, count 3")}},
		{"marks a stretch", []string{"right", "m", "down", "right", "m"}, []func(*testing.T, *show){repeats("1.3", "3.3"), sees("pass 1 of bar 1, count 3 to bar 3, count 3")}},
		{"marks backwards", []string{"down", "m", "home", "m"}, []func(*testing.T, *show){repeats("1.2", "3.2")}},
		{"clears the marks", []string{"m", "right", "m", "m"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.True(t, s.now().Settings.Loop.Empty()) }}},
		{"gradually", []string{"g"}, []func(*testing.T, *show){percent(70), repeats("1.2", "9.1"), sees("rung 1 of 7 to 100 %"), sees("of the routine")}},
		{"a rung up", []string{"g", "pgdown"}, []func(*testing.T, *show){percent(75), sees("rung 2 of 7 to 100 %")}},
		{"a rung down", []string{"g", "pgdown", "pgdown", "enter"}, []func(*testing.T, *show){percent(75), sees("rung 2 of 7 to 100 %")}},
		{"the last rung", []string{"G", "60 to 75 by 10", "enter", "pgdown", "pgdown", "pgdown"}, []func(*testing.T, *show){percent(75), sees("rung 3 of 3 to 75 %")}},
		{"below the first rung", []string{"g", "pgup", "enter"}, []func(*testing.T, *show){percent(60), sees("2 below rung 1 of 7 to 100 %")}},
		{"and up again", []string{"g", "pgup", "enter", "pgdown", "pgdown", "pgdown"}, []func(*testing.T, *show){percent(75), sees("rung 2 of 7 to 100 %")}},
		{"a figure on a rung", []string{"g", "pgdown", "down", "r"}, []func(*testing.T, *show){percent(75), repeats("3.2", "5.1"), sees("rung 2 of 7"), sees("pass 1 of the figure")}},
		{"the whole again on a rung", []string{"g", "pgdown", "down", "r", "r"}, []func(*testing.T, *show){percent(75), repeats("1.2", "9.1"), sees("rung 2 of 7")}},
		{"a part on a rung", []string{"g", "pgdown", "right", "m", "down", "right", "m"}, []func(*testing.T, *show){percent(75), repeats("1.3", "3.3"), sees("rung 2 of 7")}},
		{"a part no more, on a rung", []string{"g", "pgdown", "right", "m", "down", "m", "m"}, []func(*testing.T, *show){percent(75), repeats("1.2", "9.1"), sees("rung 2 of 7")}},
		{"a join on a rung", []string{"g", "pgdown", "down", "j"}, []func(*testing.T, *show){percent(75), repeats("4.2", "6.1"), sees("rung 2 of 7")}},
		{"a join no more, on a rung", []string{"g", "pgdown", "down", "j", "m"}, []func(*testing.T, *show){percent(75), repeats("1.2", "9.1"), sees("rung 2 of 7")}},
		{"a class on a rung", []string{"g", "C", "pgdown", "pgdown", "pgup"}, []func(*testing.T, *show){percent(75), sees("rung 2 of 7")}},
		{"a ladder for a figure", []string{"down", "r", "g", "pgdown", "r"}, []func(*testing.T, *show){percent(75), repeats("1.2", "9.1"), sees("rung 2 of 7")}},
		{"it went wrong without a ladder", []string{"enter"}, []func(*testing.T, *show){percent(100), sees("g begins a ladder")}},
		{"a ladder of one's own", []string{"G", "50 to 90 by 20, 2 passes", "enter"}, []func(*testing.T, *show){percent(50), sees("rung 1 of 3 to 90 %")}},
		{"a ladder that is none", []string{"G", "up", "enter"}, []func(*testing.T, *show){percent(100), sees("is not a ladder")}},
		{"a rest between passes", []string{"r", "R", "R"}, []func(*testing.T, *show){sees("rest 2 bars")}},
		{"the join with the next figure", []string{"down", "j"}, []func(*testing.T, *show){repeats("4.2", "6.1"), sees("pass 1 of bar 4, count 2 to bar 6, count 1")}},
		{"no join at the end", []string{"down", "down", "down", "j"}, []func(*testing.T, *show){sees("no figure follows this one")}},
		{"gradually no more", []string{"g", "g"}, []func(*testing.T, *show){percent(70), func(t *testing.T, s *show) { assert.Zero(t, s.now().Settings.Ladder) }}},
		{"faster ends the ladder", []string{"g", "+"}, []func(*testing.T, *show){percent(43.0 / 60 * 100), func(t *testing.T, s *show) { assert.Zero(t, s.now().Settings.Ladder) }}},
		{"leader's side", []string{"s"}, []func(*testing.T, *show){sees("leader only"), func(t *testing.T, s *show) { assert.NotContains(t, s.text(), "RF back") }}},
		{"follower's side", []string{"s", "s"}, []func(*testing.T, *show){sees("follower only"), func(t *testing.T, s *show) { assert.NotContains(t, s.text(), "LF forward") }}},
		{"both sides", []string{"s", "s", "s"}, []func(*testing.T, *show){sees("both · ")}},
		{"slow and quick", []string{"c"}, []func(*testing.T, *show){sees("slow/quick"), sees("slow")}},
		{"words", []string{"c", "c"}, []func(*testing.T, *show){sees("two"), sees("cha")}},
		{"as charted", []string{"c", "c", "c"}, []func(*testing.T, *show){sees("as charted")}},
		{"clicks softer", []string{"k"}, []func(*testing.T, *show){sees("clicks 40 ")}},
		{"clicks louder", []string{"K", "K"}, []func(*testing.T, *show){sees("clicks 70 ")}},
		{"no louder than that", []string{"K", "K", "K", "K", "K", "K"}, []func(*testing.T, *show){sees("clicks 100 ")}},
		{"steps softer", []string{"f"}, []func(*testing.T, *show){sees("steps 30 ")}},
		{"steps of one side louder", []string{"s", "F", "s", "s"}, []func(*testing.T, *show){sees("steps 50/40 ")}},
		{"counting aloud softer", []string{"a"}, []func(*testing.T, *show){sees("voice 60 ")}},
		{"counting aloud louder", []string{"A", "A"}, []func(*testing.T, *show){sees("voice 90 ")}},
		{"drums", []string{"D", "D", "D", "d"}, []func(*testing.T, *show){sees("rhythm 20 %")}},
		{"feet in their own ears", []string{"e"}, []func(*testing.T, *show){sees("feet apart"), func(t *testing.T, s *show) { assert.True(t, s.now().Settings.FeetApart) }}},
		{"names aloud", []string{"n"}, []func(*testing.T, *show){sees("names aloud"), func(t *testing.T, s *show) { assert.True(t, s.now().Settings.Call) }}},
		{"names no more", []string{"n", "n"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.NotContains(t, s.text(), "names aloud") }}},
		{"names of a silent voice", []string{"a", "a", "a", "a", "a", "a", "a", "n"}, []func(*testing.T, *show){sees("A makes both louder"), sees("names aloud")}},
		{"the voice counts as the screen does", []string{"c", "c"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.Equal(t, routine.InWords, s.now().Settings.Count) }}},
		{"findings", []string{"w"}, []func(*testing.T, *show){sees("Nothing was found")}},
		{"back from the findings", []string{"w", "esc"}, []func(*testing.T, *show){sees(" HOLDING ")}},
		{"help", []string{"?"}, []func(*testing.T, *show){sees("gradually faster each pass")}},
		{"back from help", []string{"?", "?"}, []func(*testing.T, *show){sees(" HOLDING ")}},
		{"back to the list", []string{"esc"}, []func(*testing.T, *show){sees("choose a sheet")}},
		{"quit", []string{"q"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.True(t, s.quit) }}},
		{"quit from help", []string{"?", "q"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.True(t, s.quit) }}},
		{"interrupt", []string{"ctrl+c"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.True(t, s.quit) }}},
		{"interrupt while typing", []string{"t", "ctrl+c"}, []func(*testing.T, *show){func(t *testing.T, s *show) { assert.True(t, s.quit) }}},
		{"what is pasted does nothing", []string{"[q]"}, []func(*testing.T, *show){sees(" HOLDING ")}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dances(t, "boathouse", 80, 24, func(s *show) {
				for _, k := range tt.keys {
					s.keys(k).heard()
				}
				for _, want := range tt.want {
					want(t, s)
				}
			})
		})
	}
}

// TestTappedMusic: taps in time with music set the tempo, and the first step,
// which is on 2, falls on the beat after the 1 that is tapped last.
func TestTappedMusic(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		const tapped = 500 * time.Millisecond // 120 beats a minute, half the sheet's tempo
		s.keys("b")
		assert.Contains(t, s.text(), "tap on with the music: 1 of 4")
		for range 4 {
			s.wait(tapped)
			s.keys("b")
		}
		assert.InDelta(t, 50, s.now().Percent, 0.1)
		assert.Contains(t, s.text(), "tapped 30 bars/min: it suits Cha-cha")
		s.wait(tapped)
		one := time.Now()
		s.keys("B")
		s.wait(tapped - 10*time.Millisecond)
		assert.Equal(t, player.LeadIn, s.now().State)
		s.wait(20 * time.Millisecond)
		assert.Equal(t, player.Dancing, s.now().State, "%s after the 1", time.Since(one))
		assert.InDelta(t, 50, s.now().Percent, 0.1)
	})
}

func TestTheOneAloneIsNoBeat(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys("B")
		assert.Contains(t, s.text(), "tap the beat with b first")
		assert.Equal(t, player.Holding, s.now().State)
	})
}

// TestEveryKeyOfTheHelpWorks: each that the help page or a help line names does something
// that shows.
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

// TestALadderClimbsOn with another loop, and after holding: pass by pass, and no rung is
// lost or danced again from the first.
func TestALadderClimbsOn(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys("down", "down", "r").heard()
		s.keys("G", "50 to 100 by 25", "enter", " ")
		s.wait(2*4*beat + 2*8*beat + beat) // counted in, and once through the Oar turn at half the tempo
		assert.Contains(t, s.text(), "rung 2 of 3 to 100 %")
		s.keys(" ").heard().keys(" ").heard()
		assert.Contains(t, s.text(), "rung 2 of 3 to 100 %")
		s.keys("up", "r").heard().keys("r").heard() // the whole, then the Lantern step
		assert.Contains(t, s.text(), "rung 2 of 3 to 100 %")
		s.wait(2 * (4*beat + 8*beat) * 4 / 3)
		assert.Contains(t, s.text(), "rung 3 of 3 to 100 %")
		assert.Equal(t, 100.0, s.now().Percent)
	})
}

// TestNoKeyIsSecret: each letter that does something stands in the help.
func TestNoKeyIsSecret(t *testing.T) {
	tables := screen.KeyTables()
	for _, key := range screen.DanceKeys() {
		if r := []rune(key); len(r) == 1 && unicode.IsLetter(r[0]) {
			assert.Contains(t, tables[0], "| `"+key+"` |")
		}
	}
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
		assert.Contains(t, s.text(), "no sheet has this")
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
		s.keys(" ").heard().keys("esc").heard()
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
		assert.Contains(t, s.text(), "the sheet was read again")
	})
}

func TestSavedSheetIsDancedFromTheNextBar(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys(" ")
		s.wait(4*beat + beat/2)
		s.save(strings.Replace(rehearsal.Boathouse, "LF replace    |", "LF in place   |", 1))
		assert.Contains(t, s.text(), "the sheet was read again")
		s.wait(beat)
		assert.Contains(t, s.text(), "LF replace", "the bar is danced as it was")
		assert.Equal(t, "1.3", s.at())
		s.keys("up") // forgets the message, starts over
		s.wait(beat)
		s.wait(beat / 4)
		assert.NotContains(t, s.text(), "the sheet was read again")
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
		assert.Contains(t, s.text(), "the saved sheet can't be danced; the one before goes on")
		assert.Contains(t, s.text(), `"Oar turning"`)
		assert.Equal(t, player.Dancing, s.now().State)
		s.wait(17 * beat)
		assert.Contains(t, s.text(), "Oar turn  figure 2 of 3")
		s.save(rehearsal.Boathouse)
		assert.Contains(t, s.text(), "the sheet was read again")
		assert.NotContains(t, s.text(), "can't be danced")
		s.wait(11 * time.Second)
		assert.NotContains(t, s.text(), "the sheet was read again", "it has been read by now")
	})
}

// TestWhatCanNotBeReadWhenItIsSaved is told, and the sheet before goes on.
func TestWhatCanNotBeReadWhenItIsSaved(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		timeline := s.now().Timeline
		s.shelf.saved <- screen.Loaded{Err: errors.New("a fault")}
		s.heard()
		assert.Contains(t, s.text(), "the saved sheet can't be read: a fault")
		assert.Same(t, timeline, s.now().Timeline)
		s.shelf.saved <- read(rehearsal.Lounge)
		s.heard()
		assert.NotSame(t, timeline, s.now().Timeline, "and what is saved next is danced")
	})
}

func TestHeldCountKeepsTheStep(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys("l", "l", "l", "l", "down", "down", " ")
		s.wait(2*beat + beat/2)
		assert.Equal(t, -1, s.now().Timeline.Events[s.now().Event].Row)
		assert.Equal(t, "5.4", s.at())
		assert.Contains(t, s.text(), "leader    RF replace")
		assert.Contains(t, s.text(), "next 1  LF close")
		s.wait(2 * beat)
		assert.Contains(t, s.text(), "leader    stands still")
	})
}

// Words in a script that the large letters do not have are counted in numbers there.
func TestWordsThatCantBeDrawnLarge(t *testing.T) {
	score, _ := routine.Read("sheet.md", []byte(rehearsal.Boathouse), rehearsal.Book{})
	score.Dance.Sayings[0].Words = []string{"ча", "ча", "ча"}
	dances(t, "", 80, 24, func(s *show) {
		s.shelf.sheets["boathouse"] = screen.Loaded{Timeline: player.NewTimeline(score)}
		s.keys("enter", "c", "c", "right", "right", "right").heard()
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

// TestNotesAreToldOnce: they go by themselves, or with the next key.
func TestNotesAreToldOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		notes := make(chan string, 2)
		s := newShow(t, "boathouse", 80, 24, screen.Options{Notes: notes})
		notes <- "no lantern was found\x1b[2J"
		s.settle()
		assert.Contains(t, s.text(), "no lantern was found")
		s.keys("s").heard()
		assert.NotContains(t, s.text(), "no lantern was found")
		notes <- "no oar was found"
		s.settle()
		assert.Contains(t, s.text(), "no oar was found")
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
			s := newShow(t, "boathouse", 80, 24, screen.Options{NoColor: noColor})
			colours := rehearsal.Attributes(t, s.styled())
			assert.Contains(t, colours, "1", "bold is no colour")
			assert.Contains(t, colours, "1;7")
			assert.Equal(t, !noColor, contains(colours, func(p string) bool { return strings.Contains(p, "3") }), "%v", colours)
		})
	}
}

// TestNewsIsNotAlarming unless something went wrong.
func TestNewsIsNotAlarming(t *testing.T) {
	red := func(s *show) bool {
		return contains(rehearsal.Attributes(t, s.styled()), func(p string) bool { return strings.Contains(p, "31") })
	}
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys("H").heard()
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
