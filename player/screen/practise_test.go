package screen_test

import (
	"context"
	"errors"
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
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/tapping"
	"dance.example/slowquick/player/summary"
	"dance.example/slowquick/player/timing"
	"dance.example/slowquick/routine"
)

// diary keeps run-throughs, and how far sessions are.
type diary struct {
	rehearsal.Diary
	left []practice.Session
}

func (d *diary) leave(_ *routine.Score, s practice.Session) { d.left = append(d.left, s) }

// practises runs a test with a show that keeps a diary.
func practises(t *testing.T, width, height int, o screen.Options, test func(*show, *diary)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		d := &diary{}
		o.Diary, o.Left = d, d.leave
		test(newShow(t, "boathouse", width, height, o), d)
	})
}

// TestPassesAreKept as they are danced, with what is marked in them.
func TestPassesAreKept(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys("down", "down", "r", " ") // the Oar turn, eight beats, over and over
		s.wait(4*beat + 3*beat)
		assert.Empty(t, d.Kept(), "it is danced still")
		s.keys("z")
		assert.Contains(t, s.text(), "Marked: Oar turn")
		s.wait(8*beat + 2*time.Second)
		assert.Equal(t, []string{"Oar turn: finished; leader at Oar turn; follower at Oar turn"}, d.Kept())
		assert.Equal(t, 240*routine.BeatPerMinute, d.Passes[0].Tempo)
		assert.InDelta(t, (8 * beat).Seconds(), d.Passes[0].Took.Seconds(), 0.1)
		s.keys("1") // in the next pass, or the one after
		s.keys("esc").heard()
		s.keys("q") // asks what went wrong
		require.Contains(t, s.text(), "What went wrong?")
		s.keys("enter")
		require.True(t, s.quit)
		require.Len(t, d.Kept(), 3)
		assert.Equal(t, "Oar turn: finished", d.Kept()[1])
		assert.Contains(t, d.Kept()[2], "Oar turn in part:; leader at Oar turn")
	})
}

// TestAPassIsKeptAtTheTempoOfItsSong, not at that of the sheet.
func TestAPassIsKeptAtTheTempoOfItsSong(t *testing.T) {
	practises(t, 80, 24, screen.Options{Songs: record(sure)}, func(s *show, d *diary) { // 200 beats a minute
		s.heard()
		s.keys("t", "90 %", "enter", "down", "down", "r", " ").heard()
		s.wait(12*time.Second + 2*time.Second)
		require.NotEmpty(t, d.Passes)
		assert.Equal(t, 180*routine.BeatPerMinute, d.Passes[0].Tempo)
	})
}

// TestARunThroughThatIsSlowedIsKeptSlow, whatever it began with.
func TestARunThroughThatIsSlowedIsKeptSlow(t *testing.T) {
	for name, tt := range map[string]struct {
		before, keys []string
		want         float64 // per cent
	}{
		"typed":       {nil, []string{"t", "50 %", "enter"}, 50},
		"bar by bar":  {nil, []string{"-", "-", "-"}, 95},
		"a rung down": {[]string{"t", "80 to 100 by 5", "enter"}, []string{"z"}, 75},
		"a rung up":   {[]string{"g"}, []string{"pgdown"}, 75},
	} {
		t.Run(name, func(t *testing.T) {
			practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
				for _, k := range append(tt.before, "down", "down", "r", " ") {
					s.keys(k).heard()
				}
				for s.now().State != player.Dancing {
					s.wait(beat / 4)
				}
				s.wait(2 * beat)
				s.keys(tt.keys...).heard()
				s.wait(20 * beat)
				require.NotEmpty(t, d.Kept())
				assert.Equal(t, routine.Tempo(240*1000*tt.want/100), d.Passes[0].Tempo)
			})
		})
	}
}

// TestAMarkMayComeLate, when the next pass has begun already or the couple stands.
func TestAMarkMayComeLate(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys("down", "down", "r", " ")
		s.wait(4*beat + 8*beat + beat/2)
		s.keys("2")
		s.wait(4 * time.Second)
		require.NotEmpty(t, d.Kept())
		assert.Equal(t, "Oar turn: finished; follower at Oar turn", d.Kept()[0])
	})
}

// TestAJoinIsMarkedWhereBothItsFiguresAreDanced.
func TestAJoinIsMarkedWhereBothItsFiguresAreDanced(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys("down", "down", "r", " ")
		s.wait(4*beat + 8*beat + 4*beat + beat/2) // its last step, before the last Lantern step
		s.keys("z")
		assert.Contains(t, s.text(), "\nMarked: Oar turn. ")
		s.wait(3 * beat)
		s.keys("z")
		assert.Contains(t, s.text(), "\nMarked: Oar turn. ")
	})
}

// TestAMarkIsKept, however little was danced before and after it.
func TestAMarkIsKept(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys(" ")
		s.wait(4*beat + beat)
		s.keys(" ").heard()
		s.keys("left", " ")
		s.wait(4*beat + beat)
		s.keys("2")
		assert.Contains(t, s.text(), "Marked for the follower: Lantern step")
		s.keys("q", "q", "esc") // asks what went wrong; not now
		assert.True(t, s.quit)
		assert.Equal(t, []string{"Lantern step in part:; follower at Lantern step"}, d.Kept())
	})
}

// TestTheWholeIsKept, and where its figures meet is marked too.
func TestTheWholeIsKept(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys(" ")
		s.wait(4*beat + 8*beat + beat)
		s.keys("1")
		assert.Contains(t, s.text(), "Marked for the leader: Lantern step (and the join from Lantern step)")
		s.wait(40 * beat)
		assert.Contains(t, s.text(), "FINISHED")
		assert.Contains(t, s.text(), "What went wrong?")
		s.keys("enter")
		assert.Equal(t, []string{"Lantern step, Lantern step, Oar turn, Lantern step: finished; leader at Lantern step; leader into Lantern step"}, d.Kept())
	})
}

// TestWhatIsGoneToIsNotDanced: a key that goes elsewhere ends what was danced.
func TestWhatIsGoneToIsNotDanced(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys(" ")
		s.wait(4*beat + 9*beat)
		s.keys("down").heard()
		s.wait(10 * beat)
		s.keys("esc").heard()
		s.keys("esc", "enter")
		require.Contains(t, s.text(), "choose a sheet")
		require.Len(t, d.Kept(), 2)
		assert.Equal(t, "Lantern step, Lantern step in part:", d.Kept()[0])
		assert.True(t, strings.HasPrefix(d.Kept()[1], "Oar turn"), d.Kept()[1])
		assert.NotContains(t, d.Kept()[1], "finished")
	})
}

// TestAFullDiskLetsTheDanceGoOn and says that nothing is being kept, until it is again.
func TestAFullDiskLetsTheDanceGoOn(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		d.Full = "nothing is being kept: the disk is full"
		s.keys("down", "down", "r", " ")
		s.wait(4*beat + 8*beat + 3*time.Second)
		assert.Contains(t, s.text(), "nothing is being kept: the disk is full")
		assert.Equal(t, player.Dancing, s.now().State)
		d.Full = ""
		s.wait(16 * beat)
		assert.NotContains(t, s.text(), "nothing is being kept")
	})
}

// TestNothingHidesThatNothingIsKept: no message, no silence, no window that has room for a
// message, and no sheet that can't be danced any more.
func TestNothingHidesThatNothingIsKept(t *testing.T) {
	const full = "nothing is being kept: the disk is full"
	for name, tt := range map[string]struct {
		width, height int
		sound         string
		do            func(*show)
		want          []string
	}{
		"a small window":          {40, 15, "", func(*show) {}, []string{full}},
		"a smaller one":           {40, 6, "", func(*show) {}, []string{full}},
		"no sound":                {80, 24, "sound is off", func(*show) {}, []string{"nothing is being kept: the disk is full"}},
		"no sound, small":         {60, 15, "sound is off", func(*show) {}, []string{"nothing is being kept: the disk is full"}},
		"a message":               {80, 24, "", func(s *show) { s.keys("z") }, []string{"Marked: Oar turn. Backspace takes it back · nothing is being kept"}},
		"a plan of the floor":     {80, 24, "", func(s *show) { s.keys("v", "s") }, []string{full}},
		"a sheet that was broken": {80, 24, "", func(s *show) { s.save(broken); s.wait(11 * time.Second) }, []string{full, "still dancing the last good one"}},
	} {
		t.Run(name, func(t *testing.T) {
			practises(t, tt.width, tt.height, screen.Options{Sound: &fakeSound{status: tt.sound}}, func(s *show, d *diary) {
				d.Full = full
				s.keys("down", "down", "r", " ")
				s.wait(4*beat + 8*beat + 3*time.Second)
				tt.do(s)
				for _, want := range tt.want {
					assert.Contains(t, s.text(), want)
				}
			})
		})
	}
}

func TestNothingToMark(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys("z")
		assert.Contains(t, s.text(), "Nothing to mark yet")
		s.keys("backspace")
		assert.Contains(t, s.text(), "No mark to take back")
		s.choose("u", "drill")
		assert.Contains(t, s.text(), "Nothing to drill")
	})
}

// TestByHeart: each run-through without a mark hides more, a mark shows more again.
func TestByHeart(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys("down", "down", "r").set("u", "hide more", " ").keys(" ")
		s.wait(4*beat + 8*beat + 2500*time.Millisecond)
		assert.Contains(t, s.text(), "Only the first steps are shown")
		s.wait(8 * beat)
		assert.Contains(t, s.text(), "Your steps are hidden")
		s.keys("z")
		s.wait(8 * beat)
		assert.Contains(t, s.text(), "Only the first steps are shown")
	})
}

// TestHeartViews: all ways of hiding.
func TestHeartViews(t *testing.T) {
	for n, hidden := range []string{"steps", "names", "all but the first", "all but the count"} {
		t.Run(hidden, func(t *testing.T) {
			practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
				s.set("u", "by heart", slices.Repeat([]string{"right"}, n+1)...).keys(" ")
				s.wait(mid)
				golden.Equal(t, s.text()+"\n")
			})
		})
	}
}

// TestEverythingIsShownAgain, whatever was hidden.
func TestEverythingIsShownAgain(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		shown := s.text()
		for n := 1; n <= 4; n++ {
			s.set("u", "by heart", slices.Repeat([]string{"right"}, n)...)
			assert.NotEqual(t, shown, s.text())
			s.set("u", "by heart", slices.Repeat([]string{"left"}, n)...)
			assert.Equal(t, shown, s.text())
		}
	})
}

// TestOnePartnersStepsAreHidden, in one line of the order.
func TestOnePartnersStepsAreHidden(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		require.NotContains(t, s.keys("u").text(), "hide where")
		s.keys("u").set("u", "by heart", "right").set("u", "hide whose steps", "right").set("u", "hide where", "left")
		assert.Contains(t, s.keys("u").text(), "the leader's")
		assert.Contains(t, s.text(), "only in figure 1, Lantern step")
		s.keys("u")
		assert.Contains(t, s.text(), "leader    …")
		assert.Contains(t, s.text(), "follower  RF back")
		for range 3 {
			s.keys("down").heard()
		}
		assert.Contains(t, s.text(), "figure 3 of 3")
		assert.Contains(t, s.text(), "leader    LF forward")
	})
}

// TestThePlanIsShownWhereOnlyNamesAreHidden, as it tells every step. In its place there are the steps,
// which hide themselves.
func TestThePlanIsShownWhereOnlyNamesAreHidden(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		steps := s.text()
		s.keys("v", "x")
		plan := s.text()
		require.NotEqual(t, steps, plan)
		s.set("u", "by heart", "right")
		hidden := s.text()
		s.keys("v", "v", "x")
		assert.Equal(t, s.text(), hidden, "the steps with what is hidden")
		s.keys("v", "x").set("u", "by heart", "right")
		assert.Equal(t, strings.ReplaceAll(plan, "Lantern step", "…"), s.text())
	})
}

// TestAPlanThatCantBeSeenSaysWhy when it is asked for.
func TestAPlanThatCantBeSeenSaysWhy(t *testing.T) {
	for name, tt := range map[string]struct {
		width, height int
		hidden        int
		want          string
	}{
		"steps are hidden":      {80, 24, 1, "The plan would show the steps that are hidden (u)"},
		"all but the first are": {80, 24, 3, "The plan would show the steps that are hidden (u)"},
		"a small window":        {30, 24, 0, "The window is too small"},
	} {
		t.Run(name, func(t *testing.T) {
			practises(t, tt.width, tt.height, screen.Options{}, func(s *show, d *diary) {
				s.set("u", "by heart", append(slices.Repeat([]string{"right"}, tt.hidden), "x")...)
				for _, k := range []string{"v", "V", "V"} {
					s.keys(k)
					assert.Contains(t, s.text(), tt.want, k)
					assert.NotContains(t, s.text(), "from behind")
				}
			})
		})
	}
}

// TestAClass is shown the count and the figures alone, and nothing of it is kept.
func TestAClass(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys("v", "v", " ")
		s.wait(mid)
		assert.True(t, s.now().Settings.Call)
		before := s.now().Tempo
		s.wait(60 * beat)
		assert.Equal(t, player.Finished, s.now().State)
		assert.NotContains(t, s.text(), "What went wrong?")
		s.keys("pgdown")
		s.wait(6 * beat)
		s.keys("pgdown").heard()
		assert.InDelta(t, float64(before)*1.05, float64(s.now().Tempo), 1)
		s.keys("esc", "v").heard()
		assert.False(t, s.now().Settings.Call)
		s.set("m", "names").heard()
		s.keys("v", "v").heard().keys("v").heard()
		assert.True(t, s.now().Settings.Call, "as before the class")
		s.set("m", "names").heard()
		s.keys("v", "v").heard()
		s.keys("q").heard()
		assert.False(t, s.now().Settings.Call, "nor for the next time")
		assert.Empty(t, d.Kept())
	})
}

// TestSwappingParts happens when the next run-through begins.
func TestSwappingParts(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.set("u", "swap parts")
		assert.Contains(t, s.text(), "Choose one partner first")
		s.keys("s", "down", "down", "r", " ")
		s.wait(4*beat + 2*beat)
		s.choose("u", "swap parts")
		assert.Contains(t, s.text(), "the follower's with the next run-through")
		s.keys("esc")
		assert.Contains(t, s.text(), "leader ")
		assert.NotContains(t, s.text(), "follower ")
		s.wait(8 * beat)
		assert.Contains(t, s.text(), "follower ")
		assert.NotContains(t, s.text(), "leader ")
		s.wait(8*beat + 2*time.Second)
		assert.Equal(t, []routine.Dancers{routine.LeaderAlone, routine.FollowerAlone}, []routine.Dancers{d.Passes[0].Dancers, d.Passes[1].Dancers})
		s.keys(" ").heard().set("u", "swap parts")
		assert.Contains(t, s.text(), "leader ", "at once while the couple stands")
	})
}

// plan is a session of a figure twice, a breather and the whole.
func plan(timeline *player.Timeline) practice.Session {
	return practice.Session{Exercises: []practice.Exercise{
		{Kind: practice.DueFigure, What: "Oar turn", Why: "it went wrong", From: 2, To: 3, Part: timeline.Passage(2), Passes: 2, Tempi: practice.Tempi{Start: 50, Gain: 25, Top: 75}},
		{Kind: practice.Breather, What: "a breather", Takes: 10 * time.Second},
		{Kind: practice.Whole, What: "the whole routine", From: 0, To: 4, Part: player.Interval{From: timeline.Start, To: timeline.End}, Passes: 1, Tempi: practice.Tempi{Start: 100, Top: 100}},
	}}
}

// TestASessionLeads through its stretches; space starts each.
func TestASessionLeads(t *testing.T) {
	practises(t, 80, 24, screen.Options{Session: plan}, func(s *show, d *diary) {
		assert.Contains(t, s.text(), "1 of 3: Oar turn, 1st of 2 · it went wrong · enter next")
		s.wait(time.Second)
		assert.Contains(t, s.text(), "(50 %)", "before any key is pressed")
		assert.Contains(t, s.text(), "loop: this figure")
		assert.Equal(t, 50.0, s.now().Percent)
		s.keys(" ")
		s.wait(2*4*beat + 2*8*beat + 2*time.Second)
		assert.Contains(t, s.text(), "1 of 3: Oar turn, 2nd of 2")
		assert.Equal(t, 75.0, s.now().Percent)
		s.wait(4*beat + 2*8*beat)
		assert.Contains(t, s.text(), "1 of 3: Oar turn: how did it go? Space: clean, z: wrong, PgUp: again")
		assert.Equal(t, player.Holding, s.now().State)
		s.keys(" ").heard()
		assert.Contains(t, s.text(), "2 of 3: a breather, ")
		assert.Equal(t, player.Holding, s.now().State)
		require.Len(t, d.left, 1)
		assert.Equal(t, 1, d.left[0].Done)
		s.wait(11 * time.Second)
		assert.Contains(t, s.text(), "3 of 3: the whole routine, 1st of 1")
		assert.Contains(t, s.text(), "loop: the routine", "as soon as the breather is over")
		assert.Equal(t, 100.0, s.now().Percent)
		s.keys(" ")
		s.wait(4*beat + 34*beat)
		assert.Contains(t, s.text(), "Session complete")
		require.Contains(t, s.text(), "What went wrong?")
		s.keys("enter")
		assert.Equal(t, []string{"Oar turn: finished", "Oar turn: finished", "Lantern step, Lantern step, Oar turn, Lantern step: finished"}, d.Kept())
		require.Len(t, d.left, 3)
		_, more := d.left[2].Next()
		assert.False(t, more)
	})
}

// TestASessionAsks how an exercise of two run-throughs went. What nobody says stays unjudged, as does the
// first when the second went wrong.
func TestASessionAsks(t *testing.T) {
	twice := func(timeline *player.Timeline) practice.Session {
		s := plan(timeline)
		s.Exercises[0].Tempi = practice.Tempi{Start: 100, Top: 100}
		return s
	}
	for _, answer := range []struct {
		keys                 []string
		first, judged, wrong bool
		again                bool
	}{
		{keys: []string{" "}, first: true, judged: true},
		{keys: []string{"pgdown"}, first: true, judged: true},
		{keys: []string{"z", " "}, judged: true, wrong: true},
		{keys: []string{"z", "backspace", " "}, first: true, judged: true},
		{keys: []string{"pgup"}, wrong: true, again: true},
		{keys: []string{"enter"}},
	} {
		practises(t, 80, 24, screen.Options{Session: twice}, func(s *show, d *diary) {
			s.keys(" ")
			s.wait(2*4*beat + 2*8*beat + 2*time.Second)
			require.Contains(t, s.text(), "how did it go?")
			require.Equal(t, player.Holding, s.now().State)
			s.wait(time.Minute)
			require.Contains(t, s.text(), "how did it go?", "there is time to think")
			s.keys(answer.keys...).heard()
			if answer.again {
				assert.Contains(t, s.text(), "1 of 3: Oar turn, 2nd of 2")
				s.wait(4*beat + 8*beat + 2*time.Second)
				require.Contains(t, s.text(), "how did it go?")
			} else {
				assert.Contains(t, s.text(), "2 of 3: a breather, ")
			}
			s.keys("enter", "q", "q")
			require.Greater(t, len(d.Passes), 1, answer.keys)
			assert.Equal(t, [2]bool{answer.first, answer.first}, d.Passes[0].Judged, answer.keys)
			kept := d.Passes[1]
			assert.Equal(t, [2]bool{answer.judged, answer.judged}, kept.Judged, answer.keys)
			assert.Equal(t, answer.wrong, kept.Marked(0, false, routine.Leader), answer.keys)
			assert.Equal(t, answer.judged && !answer.wrong, kept.Clean(routine.Follower), answer.keys)
		})
	}
}

// TestWhatASessionAsksIsNotCut beside news, in a window of any width.
func TestWhatASessionAsksIsNotCut(t *testing.T) {
	for _, width := range []int{60, 70, 80, 100} {
		practises(t, width, 24, screen.Options{Session: plan}, func(s *show, d *diary) {
			messages := func() string {
				lines := strings.Split(s.text(), "\n")
				return strings.TrimSpace(lines[len(lines)-2])
			}
			s.keys(" ")
			s.wait(2*4*beat + 3*beat)
			s.keys("z").heard()
			assert.Contains(t, messages(), "Marked: Oar turn")
			assert.Regexp(t, `takes it back$|next$|wrong$|of 2$`, messages(), "%d columns", width)
			s.wait(time.Minute)
			require.Contains(t, messages(), "PgUp")
			s.keys("z").heard()
			assert.Regexp(t, `^Marked: Oar turn. Space goes on($| · .*PgUp:? again$)`, messages(), "%d columns", width)
		})
	}
}

// TestASessionHidesTheSteps of a run-through by heart, and then shows them.
func TestASessionHidesTheSteps(t *testing.T) {
	byHeart := func(timeline *player.Timeline) practice.Session {
		s := plan(timeline)
		s.Exercises[0].ByHeart = 1
		return s
	}
	practises(t, 80, 24, screen.Options{Session: byHeart}, func(s *show, d *diary) {
		assert.Contains(t, s.text(), "1 of 3: Oar turn, 1st of 2, by heart")
		assert.NotContains(t, s.text(), "LF ")
		s.keys(" ")
		s.wait(2*4*beat + 2*8*beat + 2*time.Second)
		assert.Contains(t, s.text(), "1 of 3: Oar turn, 2nd of 2")
		assert.NotContains(t, s.text(), "by heart")
		assert.Contains(t, s.text(), "LF ")
	})
}

// TestASessionSurvivesASave: it goes on with the figure where it is in the sheet as it
// was saved, and counts its passes on.
func TestASessionSurvivesASave(t *testing.T) {
	practises(t, 80, 24, screen.Options{Session: plan}, func(s *show, d *diary) {
		s.keys(" ")
		s.wait(2*4*beat + 2*8*beat + 2*beat)
		require.Contains(t, s.text(), "1 of 3: Oar turn, 2nd of 2")
		s.save(strings.Replace(rehearsal.Boathouse, "2. Oar turn", "2. Lantern step\n3. Oar turn", 1))
		assert.Contains(t, s.text(), "Sheet reloaded")
		assert.NotEqual(t, player.Holding, s.now().State)
		s.wait(8 * beat)
		m := s.now()
		require.Len(t, m.Timeline.Score.Passages, 5)
		assert.Equal(t, m.Timeline.Passage(3), m.Settings.Loop)
		assert.Contains(t, s.text(), "Sheet reloaded")
		s.wait(9 * time.Second)
		s.keys(" ").heard()
		assert.Contains(t, s.text(), "2 of 3: a breather, ")
		require.NotEmpty(t, d.left)
		s.wait(11 * time.Second)
		assert.Contains(t, s.text(), "3 of 3: the whole routine, 1st of 1")
		assert.Equal(t, player.Interval{From: m.Timeline.Start, To: m.Timeline.End}, s.now().Settings.Loop)
	})
}

// TestAFigureThatGrowsIsRepeatedWhole by the session, from the next bar on.
func TestAFigureThatGrowsIsRepeatedWhole(t *testing.T) {
	practises(t, 80, 24, screen.Options{Session: plan}, func(s *show, d *diary) {
		s.keys(" ")
		s.wait(2*4*beat + 3*beat)
		grown := "|   1   | RF close               | LF close               |\n"
		more := "|   2   | LF in place            | RF in place            |\n|   3   | RF in place            | LF in place            |\n" +
			"|   4   | LF in place            | RF in place            |\n|   1   | RF in place            | LF in place            |\n"
		s.save(strings.Replace(rehearsal.Boathouse, grown, grown+more, 1))
		s.wait(4 * beat * 2)
		m := s.now()
		require.Equal(t, player.Dancing, m.State)
		assert.Equal(t, m.Timeline.Passage(2), m.Settings.Loop)
		assert.Equal(t, 12*routine.Beat, m.Settings.Loop.To-m.Settings.Loop.From)
	})
}

// TestASessionSaysWhatIsGone from the sheet, and goes on with the rest.
func TestASessionSaysWhatIsGone(t *testing.T) {
	practises(t, 80, 24, screen.Options{Session: plan}, func(s *show, d *diary) {
		s.keys(" ")
		s.wait(2*4*beat + 2*beat)
		s.save(strings.Replace(rehearsal.Boathouse, "2. Oar turn\n3. Lantern step", "2. Lantern step", 1))
		assert.Contains(t, s.text(), "No longer in the sheet, so left out of the session: Oar turn")
		s.heard()
		assert.Equal(t, player.Holding, s.now().State)
		s.wait(9500 * time.Millisecond)
		s.keys("enter").heard()
		assert.Contains(t, s.text(), "2 of 2: the whole routine, 1st of 1")
		m := s.now()
		assert.Len(t, m.Timeline.Score.Passages, 3)
		assert.Equal(t, player.Interval{From: m.Timeline.Start, To: m.Timeline.End}, m.Settings.Loop)
		require.Len(t, d.left, 2)
		assert.Len(t, d.left[0].Exercises, 2)
	})
}

// TestASessionEndsWithAPage, when the dancers have said how the last run-through went.
func TestASessionEndsWithAPage(t *testing.T) {
	var over []dance.Over
	o := screen.Options{
		Session: func(timeline *player.Timeline) practice.Session {
			s := plan(timeline)
			s.Made = time.Now()
			s.Exercises = s.Exercises[2:]
			return s
		},
		Sums: func(o dance.Over) []summary.Section {
			over = append(over, o)
			return []summary.Section{{Title: "Lantern Night today", Lines: []string{"1 of 1 exercise"}}, {Title: "Next", Lines: []string{"Mon 7 Sep: Oar turn"}}}
		},
	}
	practises(t, 80, 24, o, func(s *show, d *diary) {
		s.keys(" ")
		s.wait(4*beat + 34*beat + 2*time.Second)
		require.Contains(t, s.text(), "What went wrong?")
		assert.Empty(t, over, "the last run-through is not kept yet")
		s.keys("enter")
		assert.Contains(t, s.text(), "Lantern Night today\n  1 of 1 exercise\n\nNext\n  Mon 7 Sep: Oar turn\n")
		require.Len(t, over, 1)
		assert.Equal(t, 1, over[0].Session.Done)
		require.Len(t, d.Kept(), 1)
		s.keys("esc")
		assert.Contains(t, s.text(), "Lantern Night at the boathouse")
		assert.NotContains(t, s.text(), "What went wrong?")
	})
}

func TestASessionCanBeSkippedThrough(t *testing.T) {
	practises(t, 80, 24, screen.Options{Session: plan}, func(s *show, d *diary) {
		s.keys("enter")
		assert.Contains(t, s.text(), "2 of 3: a breather, 10 s · enter goes on")
		s.keys("enter").heard()
		assert.Contains(t, s.text(), "3 of 3: the whole routine")
		s.keys("enter").heard()
		assert.Contains(t, s.text(), "Session complete")
		assert.True(t, s.now().Settings.Loop.Empty())
	})
}

// TestDrillingWhatWasMarked leads from slow and alone to the whole, and then on.
func TestDrillingWhatWasMarked(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys("down", "down", "r", " ")
		s.wait(4*beat + 4*beat)
		s.keys("z").choose("u", "drill").heard()
		assert.Contains(t, s.text(), "1 of 4: ")
		assert.Equal(t, player.Holding, s.now().State)
		assert.Equal(t, 75.0, s.now().Percent)
		s.keys("enter", "enter", "enter").heard()
		assert.Contains(t, s.text(), "4 of 4: the whole routine, 1st of 1")
	})
}

// TestEvenings: who watches has nothing clean, who judges has, who slows down has the slow tempo, and the
// marks of both partners are there the next day.
func TestEvenings(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		score := s.now().Timeline.Score
		dances := func(keys ...string) *practice.History {
			s.keys("home", " ")
			s.wait(4*beat + 20*beat)
			s.keys(keys...)
			s.wait(60 * beat)
			require.Contains(t, s.text(), "What went wrong?")
			s.keys("enter").heard()
			s.wait(24 * time.Hour)
			return practice.NewHistory(score, d.Passes, time.UTC)
		}
		s.keys(" ")
		s.wait(40 * beat)
		s.keys("esc").heard()
		require.Len(t, d.Passes, 1)
		h := practice.NewHistory(score, d.Passes, time.UTC)
		for _, q := range routine.Partners() {
			assert.Zero(t, h.Whole(q), "watched")
		}
		h = dances("t", "50 %", "enter")
		for _, q := range routine.Partners() {
			assert.Equal(t, score.Tempo.Scaled(50), h.Whole(q), "slowed on the way")
		}
		h = dances("1", "2", "t", "100 %", "enter")
		marks := map[routine.Partner]int{}
		for _, m := range h.Marks() {
			marks[m.Partner]++
			assert.Equal(t, score.Tempo.Scaled(50), m.Tempo)
		}
		assert.Equal(t, map[routine.Partner]int{routine.Leader: 2, routine.Follower: 2}, marks, "of the figure and its join")
		var again []string
		for _, e := range practice.NewSession(s.now().Timeline, h, practice.Wish{Now: time.Now(), Minutes: 20, Couple: true}).Exercises {
			if e.Why == "it went wrong, for both" && e.Kind != practice.Mixed {
				again = append(again, e.What)
			}
		}
		assert.ElementsMatch(t, []string{"Lantern step", "Lantern step into Lantern step"}, again, "the next day's session begins with them")
		h = dances()
		for _, q := range routine.Partners() {
			assert.Equal(t, score.Tempo, h.Whole(q), "judged")
		}
		assert.Empty(t, h.Marks())
	})
}

// TestMarksOfTheDiary are listed for this routine, each partner's, and are drilled in any order or taken back.
func TestMarksOfTheDiary(t *testing.T) {
	past := func(s *routine.Score) *practice.History {
		before := func(days int, percent float64, marks ...practice.Mark) practice.Kept {
			p := practice.Kept{At: time.Now().AddDate(0, 0, -days), Tempo: s.Tempo.Scaled(percent), Finished: true, Judged: [2]bool{true, true}, Marks: marks}
			for i := range s.Passages {
				p.Danced = append(p.Danced, practice.Danced{Figure: practice.FigureOf(s.Dance, s.Passages[i].Figure), Whole: true})
			}
			return p
		}
		return practice.NewHistory(s, []practice.Kept{
			before(2, 90, practice.Mark{Place: 2, Join: true, Partner: routine.Follower}),
			before(1, 80.123, practice.Mark{Place: 2, Partner: routine.Leader}, practice.Mark{Place: 2, Join: true, Partner: routine.Follower}),
		}, time.UTC)
	}
	practises(t, 80, 24, screen.Options{Learn: screen.Learn{Past: past}}, func(s *show, d *diary) {
		yesterday := time.Now().AddDate(0, 0, -1).Format("2 Jan")
		s.choose("u", "what is marked").heard()
		assert.Contains(t, s.text(), "▸ Lantern step into Oar turn  follower, 54 bars/min, "+yesterday+", 2 times")
		assert.Contains(t, s.text(), "  Oar turn                    leader, 48.1 bars/min, "+yesterday)
		assert.Contains(t, s.text(), "Backspace take it back")
		s.keys("down", "enter").heard()
		assert.Contains(t, s.text(), "1 of 4: ")
		assert.InDelta(t, 60, s.now().Percent, 0.1, "slower than it was marked")

		s.choose("u", "what is marked").keys("up", "backspace").heard()
		require.Len(t, d.Taken, 1)
		assert.Equal(t, routine.Follower, d.Taken[0].Partner)
		assert.True(t, d.Taken[0].Join())
		assert.NotContains(t, s.text(), "54 bars/min")
		s.keys("backspace").heard()
		assert.Contains(t, s.text(), "nothing: all that went wrong was danced clean since")
		s.keys("backspace", "enter").heard()
		assert.Len(t, d.Taken, 2)
	})
	practises(t, 80, 24, screen.Options{}, func(s *show, _ *diary) {
		s.choose("u", "what is marked").heard()
		assert.Contains(t, s.text(), "nothing: all that went wrong was danced clean since")
	})
}

// TestQuestions are answered by a key and counted.
func TestQuestions(t *testing.T) {
	practises(t, 80, 24, screen.Options{}, func(s *show, d *diary) {
		s.keys(" ").heard()
		s.choose("u", "questions").heard()
		assert.Equal(t, player.Holding, s.now().State)
		assert.Contains(t, s.text(), "Do you know it?")
		assert.NotContains(t, s.text(), "✓")
		for range 5 {
			s.keys("1")
			assert.Contains(t, s.text(), "✓")
			assert.Regexp(t, `[0-5] of [1-5] right`, s.text())
			before := s.text()
			s.keys("2")
			assert.Equal(t, before, s.text(), "one answer counts")
			s.keys(" ")
			assert.NotContains(t, s.text(), "✓")
		}
		s.keys("esc")
		assert.Contains(t, s.text(), "HOLDING")
		s.choose("u", "questions").keys("q")
		assert.True(t, s.quit)
	})
}

// TestQuestionsComeFromThePast: of what was marked most, once that has been read.
func TestQuestionsComeFromThePast(t *testing.T) {
	var read []*routine.Score
	past := func(s *routine.Score) *practice.History {
		read = append(read, s)
		p := practice.Kept{At: time.Now(), Tempo: s.Tempo, Finished: true}
		for i := range s.Passages {
			p.Danced = append(p.Danced, practice.Danced{Figure: practice.FigureOf(s.Dance, s.Passages[i].Figure), Whole: true})
		}
		for _, q := range routine.Partners() {
			p.Marks = append(p.Marks, practice.Mark{Place: 2, Partner: q})
		}
		return practice.NewHistory(s, []practice.Kept{p, p, p}, time.UTC)
	}
	practises(t, 80, 24, screen.Options{Learn: screen.Learn{Past: past}}, func(s *show, d *diary) {
		s.choose("u", "questions")
		require.Len(t, read, 1)
		assert.Same(t, s.now().Timeline.Score, read[0])
		turns := 0
		for fresh := 0; fresh < 200; s.keys("1", " ") {
			require.Contains(t, s.text(), "Do you know it")
			if strings.Contains(s.text(), "Do you know it now?") {
				continue // it was answered wrong
			}
			fresh++
			if strings.Contains(s.text(), "figure 2, Oar turn") {
				turns++
			}
		}
		assert.Greater(t, turns, 60, "a fourth of the passages, and most of the questions about steps")
	})
}

// noSound is a sound for tapping that is never heard.
type noSound struct {
	started int
	danced  []*player.Timeline // what was to be tapped, each time it was asked for
}

func (*noSound) Heard(time.Time) float64 { return 0 }
func (n *noSound) Perform(start func(int64, player.Sounds) *timing.Plan) {
	n.started++
	start(0, player.Sounds{})
}
func (*noSound) Unsure() float64 { return 0 }
func (*noSound) Rest()           {}
func (*noSound) Listen(context.Context) (tapping.Ear, error) {
	return nil, errors.New("no microphone found")
}

// tapsOn has what is danced tapped on a sound.
func tapsOn(sound *noSound) func(func() player.Moment) tapping.Options {
	return func(now func() player.Moment) tapping.Options {
		return tapping.Options{Sound: sound, Rate: rehearsal.Rate, Danced: func() (*player.Timeline, player.Settings) {
			m := now()
			sound.danced = append(sound.danced, m.Timeline)
			return m.Timeline, m.Settings
		}}
	}
}

// TestTappingIsReachedFromTheDance: from the menu, with the dance held, and back.
func TestTappingIsReachedFromTheDance(t *testing.T) {
	sound := &noSound{}
	o := screen.Options{Learn: screen.Learn{Tapping: tapsOn(sound)}}
	practises(t, 80, 24, o, func(s *show, d *diary) {
		s.keys(" ").wait(6 * beat)
		s.choose("u", "tap the steps").heard()
		assert.Contains(t, s.text(), "Tap the space bar on each step, for 16 bars.")
		assert.Equal(t, player.Holding, s.now().State)
		s.keys("q")
		assert.NotContains(t, s.text(), "Tap the space bar on each step")
		assert.Contains(t, s.text(), "Lantern Night at the boathouse")
		assert.Zero(t, sound.started)
		s.keys(" ").wait(5 * beat)
		assert.Equal(t, player.Dancing, s.now().State, "it dances on")
	})
}

// TestASheetIsSavedWhileItsStepsAreTapped: the next try is of the sheet as it was saved.
func TestASheetIsSavedWhileItsStepsAreTapped(t *testing.T) {
	sound := &noSound{}
	o := screen.Options{Learn: screen.Learn{Tapping: tapsOn(sound)}}
	practises(t, 80, 24, o, func(s *show, d *diary) {
		s.choose("u", "tap the steps").heard()
		s.keys("enter")
		require.Equal(t, 1, sound.started)
		before := sound.danced[len(sound.danced)-1]
		faster, _ := rehearsal.Read(strings.Replace(rehearsal.Boathouse, "60 bars/min", "50 bars/min", 1))
		s.shelf.saved <- dance.Sheet{Name: "lantern-night.md", Timeline: faster}
		s.heard()
		assert.Contains(t, s.text(), "Get ready", "it is still tapped")
		s.keys("esc").choose("u", "tap the steps").heard()
		after := sound.danced[len(sound.danced)-1]
		assert.NotSame(t, before, after)
		assert.Same(t, faster, after)
	})
}
