package screen_test

import (
	"image"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/routine"
)

// remote is a presentation remote: its four keys, of which the third gives another character with
// other remotes, and the fourth starts and ends a show by turns.
type remote struct {
	*show
	black string
	ends  bool
}

func (r *remote) next()     { r.keys("pgdown").heard() }
func (r *remote) previous() { r.keys("pgup").heard() }
func (r *remote) dark()     { r.keys(r.black).heard() }
func (r *remote) slides() {
	key := "f5"
	if r.ends {
		key = "esc"
	}
	r.ends = !r.ends
	r.keys(key).heard()
}

// TestARemoteLeadsAClass: a whole class is led with a remote's four keys and nothing else.
func TestARemoteLeadsAClass(t *testing.T) {
	for _, black := range []string{"b", "."} {
		for _, first := range []string{"f5", "esc"} {
			t.Run(black+" "+first, func(t *testing.T) {
				practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
					s.keys("v", "v").heard() // the class view
					r := &remote{s, black, first == "esc"}
					require.Equal(t, player.Holding, s.now().State)
					percent := func(want float64) {
						t.Helper()
						assert.InDelta(t, want, s.now().Percent, 0.01)
					}

					r.next() // starts
					require.Equal(t, player.LeadIn, s.now().State)
					percent(100)
					s.wait(8 * beat)
					require.Equal(t, player.Dancing, s.now().State)
					r.next() // good: faster
					percent(105)
					require.Equal(t, player.Dancing, s.now().State)
					s.wait(8 * beat)
					r.previous() // again, slower
					percent(100)
					require.Equal(t, player.LeadIn, s.now().State)
					r.previous()
					percent(95)
					s.wait(5 * beat)
					require.Equal(t, player.Dancing, s.now().State)
					assert.Equal(t, 1, s.now().Timeline.Events[s.now().Event].Bar, "from the start")
					r.dark()
					require.Equal(t, player.Holding, s.now().State)
					r.dark()
					require.Equal(t, player.LeadIn, s.now().State)
					for range 2 { // as a show is begun and ended
						r.slides()
						require.Equal(t, player.Holding, s.now().State)
						r.slides()
						require.Equal(t, player.LeadIn, s.now().State)
						s.wait(6 * beat)
						require.Equal(t, player.Dancing, s.now().State)
					}
					s.wait(60 * beat)
					require.Equal(t, player.Finished, s.now().State)
					r.slides() // once more from the start
					require.Equal(t, player.LeadIn, s.now().State)
					s.wait(60 * beat)
					r.next()
					require.Equal(t, player.LeadIn, s.now().State)

					assert.Contains(t, s.text(), "Lantern Night at the boathouse", "the dance was never left")
					assert.NotContains(t, s.text(), "choose a sheet")
					assert.False(t, s.quit)
					assert.Empty(t, d.Kept())
				})
			})
		}
	}
}

// TestARemoteNeverLeavesTheDance, whatever is pressed on it, and whatever is seen.
func TestARemoteNeverLeavesTheDance(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, _ *diary) {
		s.keys("v", "v")
		for _, key := range strings.Fields("pgdown esc esc f5 esc b . esc pgup f5 f5 pgup b esc esc esc pgdown pgdown .") {
			s.keys(key).heard()
			require.Contains(t, s.text(), "Lantern Night at the boathouse · Cha-cha", key)
			s.wait(3 * beat)
		}
		s.keys("v").heard() // the steps
		if s.now().State != player.Holding {
			s.keys("f5").heard()
		}
		s.keys("esc").heard()
		require.Contains(t, s.text(), "Press q to leave: esc may come from the remote")
		require.Contains(t, s.text(), " HOLDING ")
	})
}

// TestTheListIsFilledInWithARemote, which has one key each for up, down, tick and keep.
func TestTheListIsFilledInWithARemote(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys("pgdown")
		s.wait(40 * beat)
		require.Contains(t, s.text(), "What went wrong?")
		s.keys("pgdown", "pgdown", "b", "pgup", ".", "pgup", "b", "b", "f5").heard()
		assert.Equal(t, []string{"Lantern step, Lantern step, Oar turn, Lantern step: finished; leader at Lantern step; follower at Lantern step; leader into Lantern step; follower into Lantern step"}, d.Kept())
		assert.Contains(t, s.text(), "Kept: 2 things to practise. u drills the first")
		assert.Contains(t, s.text(), " FINISHED ")
	})
}

// TestTheListIsFilledInByNumbers, and by arrows for one partner.
func TestTheListIsFilledInByNumbers(t *testing.T) {
	practises(t, 80, 30, screen.Options{}, func(s *show, d *diary) {
		s.keys(" ")
		s.wait(40 * beat)
		require.Contains(t, s.text(), " 5 leader [ ] follower [ ] Oar turn")
		s.keys("5", "right", "7", "right", "up", " ", "1", "1")
		assert.Contains(t, s.text(), " 5 leader [x] follower [x] Oar turn")
		assert.Contains(t, s.text(), " 6 leader [ ] follower [x] Oar turn into Lantern step")
		assert.Contains(t, s.text(), " 7 leader [x] follower [ ] Lantern step")
		assert.Contains(t, s.text(), " 1 leader [ ] follower [ ] Lantern step")
		s.keys("enter").heard()
		require.Len(t, d.Kept(), 1)
		for _, want := range []string{"; leader at Oar turn", "; follower at Oar turn", "; follower into Lantern step", "; leader at Lantern step"} {
			assert.Contains(t, d.Kept()[0], want)
		}
	})
}

// TestWhatIsSaidOfARunThrough: a dancer who watches says nothing; whoever answers the list judges for those
// it shows; and so does a remote's "good" during the dance.
func TestWhatIsSaidOfARunThrough(t *testing.T) {
	for name, c := range map[string]struct {
		before, during, after string
		want                  [2]bool
		marks                 int
	}{
		"watched, and left":   {after: "esc"},
		"the list, for both":  {after: "enter", want: [2]bool{true, true}},
		"for the follower":    {before: "s s", after: "enter", want: [2]bool{false, true}},
		"good by the remote":  {during: "pgdown", after: "esc", want: [2]bool{true, true}},
		"again by the remote": {during: "pgup", after: "q", marks: 4},
	} {
		practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
			s.keys(strings.Fields(c.before)...)
			s.keys(" ")
			s.wait(4*beat + 20*beat)
			s.keys(strings.Fields(c.during)...).heard()
			s.wait(40 * beat)
			s.keys(strings.Fields(c.after)...).heard()
			require.NotEmpty(t, d.Passes, name)
			assert.Equal(t, c.want, d.Passes[0].Judged, name)
			assert.Len(t, d.Passes[0].Marks, c.marks, name)
		})
	}
}

// TestNotNow keeps that it was danced and the marks made while dancing, but no ticks.
func TestNotNow(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys(" ")
		s.wait(4*beat + 20*beat)
		s.keys("1") // in the Oar turn
		s.wait(20 * beat)
		require.Contains(t, s.text(), "What went wrong?")
		s.keys("2", "3", "esc").heard()
		require.Len(t, d.Kept(), 1)
		assert.Zero(t, d.Passes[0].Judged, "nobody said how the rest went")
		assert.Contains(t, d.Kept()[0], "Lantern step, Lantern step, Oar turn, Lantern step: finished; leader at Oar turn")
		assert.NotContains(t, d.Kept()[0], "follower")
		assert.Contains(t, s.text(), " FINISHED ")
	})
}

// TestEscHoldsThenAsksThenLeaves, one after the other.
func TestEscHoldsThenAsksThenLeaves(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys(" ")
		s.wait(10 * beat)
		s.keys("esc").heard()
		assert.Contains(t, s.text(), " HOLDING ")
		assert.Equal(t, player.Holding, s.now().State)
		s.keys("esc").heard()
		assert.Contains(t, s.text(), "What went wrong?")
		assert.Empty(t, d.Kept())
		s.keys("enter").heard()
		assert.Contains(t, s.text(), "choose a sheet")
		assert.Len(t, d.Kept(), 1)
	})
}

// TestQAsksWhileItIsDanced, and any other key dances on.
func TestQAsksWhileItIsDanced(t *testing.T) {
	dances(t, "boathouse", 80, 24, func(s *show) {
		s.keys(" ")
		s.wait(6 * beat)
		s.keys("q").heard()
		require.False(t, s.quit)
		assert.Contains(t, s.text(), "Leave Slowquick? Press q again. Any other key dances on")
		assert.Equal(t, player.Dancing, s.now().State)
		s.keys("x", "q").heard()
		require.False(t, s.quit, "it asks anew")
		assert.Equal(t, player.Dancing, s.now().State)
		s.keys("q")
		assert.True(t, s.quit)
	})
}

// TestHeldCostsNothing: while the couple stands and nothing is due, nothing wakes the program.
func TestHeldCostsNothing(t *testing.T) {
	for name, keys := range map[string][]string{
		"from the start": nil, "held": {" ", "+", " "}, "on the plan": {"v", " ", " "}, "in a class": {"v", "v", " ", " "}, "in the mixer": {"m", "down", "right"},
		"with the sheet's tempo typed": {"t"}, "finished": {"down", "down", "down", " "},
	} {
		t.Run(name, func(t *testing.T) {
			dances(t, "boathouse", 80, 24, func(s *show) {
				for _, k := range keys {
					s.keys(k).heard()
				}
				s.wait(30 * beat) // finishes
				s.wait(11 * time.Second)
				seen := s.text()
				require.NotEqual(t, player.Dancing, s.now().State)
				s.settle()
				waiting := s.waiting.Load()
				over := time.After(10 * time.Minute)
				select {
				case msg := <-s.messages:
					assert.Fail(t, "the screen wakes", "%#v", msg)
				case <-over:
				}
				assert.Equal(t, waiting, s.waiting.Load())
				assert.EqualValues(t, 1, waiting, "the one that waits for the sheet to be saved")
				assert.Equal(t, seen, s.text())
				s.keys(" ").heard() // and a key wakes it
				assert.NotEqual(t, seen, s.text())
			})
		})
	}
}

// TestASessionThatWaitsCostsNothing, but a breather is counted down.
func TestASessionThatWaitsCostsNothing(t *testing.T) {
	practises(t, 80, 24, screen.Options{Session: plan}, func(s *show, _ *diary) {
		s.wait(11 * time.Second)
		require.Contains(t, s.text(), "1 of 3: Oar turn")
		select {
		case msg := <-s.messages:
			assert.Fail(t, "the screen wakes", "%#v", msg)
		case <-time.After(time.Minute):
		}
		s.keys("enter").wait(5 * time.Second)
		assert.Contains(t, s.text(), "2 of 3: a breather, 5 s")
	})
}

// TestWhoStandsAfterAPauseWasSuggestedCostsNothing, though the suggestion stays.
func TestWhoStandsAfterAPauseWasSuggestedCostsNothing(t *testing.T) {
	practises(t, 80, 24, screen.Options{PauseAfter: 3 * time.Second}, func(s *show, _ *diary) {
		s.keys(" ")
		s.wait(4*beat + 4*time.Second)
		s.keys(" ").heard()
		s.wait(11 * time.Second)
		require.Contains(t, s.text(), suggests)
		select {
		case msg := <-s.messages:
			assert.Fail(t, "the screen wakes", "%#v", msg)
		case <-time.After(time.Minute):
		}
	})
}

// TestTheFirstStart offers ways on, each by its number or chosen.
func TestTheFirstStart(t *testing.T) {
	first := func(t *testing.T, keys ...string) (text string, quit bool) {
		synctest.Test(t, func(t *testing.T) {
			s := newShow(t, "", 80, 24, screen.Options{
				First: &sheetlist.Entry{Title: "Lantern Night at the boathouse", ID: "boathouse"},
				Make:  &screen.Make{Dances: func() []*routine.Dance { return []*routine.Dance{{Name: "Rumba"}} }},
			})
			require.Contains(t, s.text(), "What would you like to do?")
			for _, k := range keys {
				s.keys(k).heard()
			}
			text, quit = s.text(), s.quit
		})
		return text, quit
	}
	for _, tt := range []struct {
		keys []string
		want string
	}{
		{[]string{"enter"}, "1 of 9: Press space: the count begins, and you dance"},
		{[]string{" "}, "1 of 9: Press space"},
		{[]string{"1"}, "1 of 9: Press space"},
		{[]string{"2"}, "choose a dance"},
		{[]string{"down", "enter"}, "choose a dance"},
		{[]string{"3"}, "A new routine · choose a dance"},
		{[]string{"3", "esc"}, "choose a sheet"},
		{[]string{"up", "up", " "}, "A new routine · choose a dance"},
		{[]string{"4"}, "choose a sheet"},
		{[]string{"pgup", "enter"}, "choose a sheet"},
		{[]string{"5", "x"}, "What would you like to do?"},
	} {
		text, quit := first(t, tt.keys...)
		assert.Contains(t, text, tt.want, "%v", tt.keys)
		assert.False(t, quit)
	}
	_, left := first(t, "esc")
	assert.True(t, left)
}

// TestTheFirstKeysAreTaught: pressing the key that it names leads it on, from the first one.
func TestTheFirstKeysAreTaught(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := newShow(t, "", 80, 24, screen.Options{First: &sheetlist.Entry{ID: "boathouse"}})
		s.keys("enter").heard()
		assert.InDelta(t, 60, s.now().Percent, 0.01)
		assert.Contains(t, s.text(), "(60 %)")
		for _, step := range []struct{ key, says string }{
			{" ", "1 of 9: Press space"}, {"-", "2 of 9: Too fast?"}, {" ", "3 of 9: Press space again"}, {"right", "4 of 9: Press →"},
			{"down", "5 of 9: Press ↓"}, {"r", "6 of 9: Press r"}, {"s", "7 of 9: Press s"}, {"v", "8 of 9: Press v"}, {"?", "9 of 9: Press ?"},
		} {
			s.wait(11 * time.Second) // until nothing else is said
			assert.Contains(t, s.text(), step.says)
			s.keys("x").heard()
			assert.Contains(t, s.text(), step.says, "any other key leads nowhere")
			s.keys(step.key).heard()
		}
		s.keys("esc")
		assert.Contains(t, s.text(), "That is all you need. ? shows the rest")
	})
}

// TestADanceThatWasLeftTeachesNoMore: the lesson belongs to the first sheet.
func TestADanceThatWasLeftTeachesNoMore(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := newShow(t, "", 80, 24, screen.Options{First: &sheetlist.Entry{ID: "boathouse"}})
		s.keys("enter").heard().keys("esc").heard()
		require.Contains(t, s.text(), "choose a sheet")
		s.keys("enter").heard()
		assert.NotContains(t, s.text(), "of 9:")
		assert.Equal(t, 100.0, s.now().Percent)
	})
}

// TestAMarkGoesARungDown, unless it says whose it is.
func TestAMarkGoesARungDown(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys("t", "80 to 100 by 10", "enter").heard().keys(" ")
		s.wait(2 * 4 * beat)
		s.keys("1").heard()
		assert.InDelta(t, 80, s.now().Percent, 0.01, "whose mark it is says nothing of the couple")
		s.keys("z").heard()
		assert.InDelta(t, 70, s.now().Percent, 0.01)
		assert.Contains(t, s.text(), "1 below rung 1 of 3 to 100 %")
		s.keys("backspace").heard()
		assert.Contains(t, s.text(), "No longer marked: ")
		s.keys("pgdown").heard()
		assert.InDelta(t, 80, s.now().Percent, 0.01)
	})
}

// TestMarksAreTakenBack one after the other, until they are kept.
func TestMarksAreTakenBack(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys("down", "down", "r", " ")
		s.wait(4*beat + 3*beat)
		s.keys("1", "2", "backspace")
		assert.Contains(t, s.text(), "No longer marked: Oar turn")
		s.wait(8*beat + 3*time.Second)
		assert.Equal(t, "Oar turn: finished; leader at Oar turn", d.Kept()[0])
		s.keys("backspace")
		assert.Contains(t, s.text(), "No mark to take back", "it is kept")
	})
}

// TestAPaneHasHelpOfItsOwn: its own keys, and none of the dance's.
func TestAPaneHasHelpOfItsOwn(t *testing.T) {
	for key, title := range map[string]string{"m": "Sound", "u": "Learn", "o": "Options"} {
		dances(t, "boathouse", 80, 24, func(s *show) {
			s.keys(key, "?")
			lines := strings.Split(s.text(), "\n")
			assert.Equal(t, title, lines[0])
			assert.Contains(t, s.text(), "back to the dance")
			assert.NotContains(t, s.text(), "next figure")
			s.keys("esc")
			assert.Contains(t, s.text(), title, "the pane is still open")
		})
	}
}

// TestAClassEndsWithItsView, whichever key leads away from it: what is danced is kept again, and figures are named
// aloud only if they were before.
func TestAClassEndsWithItsView(t *testing.T) {
	for _, key := range []string{"v", "V"} {
		practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
			s.keys("v", "v").heard()
			require.True(t, s.now().Settings.Call)
			s.keys(key).heard()
			assert.False(t, s.now().Settings.Call, key)
			s.keys(" ")
			s.wait(4*beat + 9*beat)
			s.keys("esc").heard()
			s.keys("esc", "enter")
			assert.Len(t, d.Kept(), 1, key)
		})
	}
}

// TestPicturesGoWithTheirView: a terminal that keeps pictures apart from the text is told to remove them.
func TestPicturesGoWithTheirView(t *testing.T) {
	const gone = "\x1b_Ga=d,"
	look := screen.Look{Mode: raster.Mode{Raster: raster.Kitty, Depth: raster.True, Cell: image.Pt(8, 16)}}
	synctest.Test(t, func(t *testing.T) {
		s := newShow(t, "boathouse", 80, 24, screen.Options{Look: look})
		s.keys("v").heard()
		require.Contains(t, s.styled(), "\x1b_Ga=T,", "the plan is a picture")
		for _, keys := range [][]string{{"?"}, {"esc", "v"}, {"v"}, {"v", "o", "down", "down", "down", "down", "right"}} {
			s.keys(keys...).heard()
			assert.Contains(t, s.styled(), gone, "%v", keys)
			assert.NotContains(t, s.styled(), "\x1b_Ga=T,", "%v", keys)
		}
	})
}

// TestHelpSaysWhatTheCountMeans where it is a letter.
func TestHelpSaysWhatTheCountMeans(t *testing.T) {
	dances(t, "lounge", 80, 24, func(s *show) {
		s.keys("?")
		assert.Contains(t, s.text(), "slow: it lasts 2 beats")
	})
}
