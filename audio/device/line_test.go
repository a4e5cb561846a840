package device

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gopxl/beep/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const testRate = 8000

// The tests below run in a bubble whose time passes only while all wait.

// pass lets time go by.
func pass(d time.Duration) {
	<-time.After(d)
	synctest.Wait()
}

// plain returns a loudspeaker like a sound server: 150 ms ahead, and able to rewind.
func plain() *loudspeaker {
	return &loudspeaker{rate: testRate, ahead: testRate * 150 / 1000, rewinds: true}
}

func opened(src beep.StreamSeeker, shops ...*shop) *Line {
	var ways []opener
	for _, s := range shops {
		ways = append(ways, s.opener())
	}
	return open(src, testRate, Options{}, ways)
}

// even returns the frame that is heard at t if time runs evenly from begun.
func even(begun, t time.Time) float64 { return t.Sub(begun).Seconds() * testRate }

// gapless checks that frames come one after the other, and returns them without the silence before.
func gapless(t *testing.T, played []moment) []moment {
	t.Helper()
	for len(played) > 0 && played[0].right == 0 {
		played = played[1:]
	}
	require.NotEmpty(t, played, "nothing is heard")
	for i := 1; i < len(played); i++ {
		if played[i].frame() != played[i-1].frame()+1 {
			require.Equal(t, played[i-1].frame()+1, played[i].frame(), "a frame is lost or doubled at %v", played[i].at)
		}
	}
	return played
}

// onTime checks that each frame is heard within some frames of where an even run from a first frame at
// begun puts it.
func onTime(t *testing.T, played []moment, begun time.Time, first, within float64) {
	t.Helper()
	for _, m := range played {
		want := first + even(begun, m.at)
		if math.Abs(float64(m.frame())-want) > within {
			require.InDelta(t, want, m.frame(), within, "at %v", m.at.Sub(begun))
		}
	}
}

func TestTimeRunsWithoutAnOutput(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := opened(&counter{})
		begun := time.Now()
		assert.Equal(t, Status{Output: "silent"}, l.Status())
		assert.Zero(t, l.Heard(begun))
		pass(3 * time.Second)
		assert.Equal(t, 24000.0, l.Heard(time.Now()))
		assert.Equal(t, 24080.0, l.Heard(time.Now().Add(10*time.Millisecond)))
		pass(100 * time.Microsecond)
		var at int64
		l.Change(func(frame int64) { at = frame })
		assert.Equal(t, int64(24001), at, "the first frame not yet heard")
		require.NoError(t, l.Close())
		pass(time.Second)
		assert.InDelta(t, 32000.8, l.Heard(time.Now()), 0.01, "also when closed")
	})
}

func TestSilentLooksForNoOutput(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := Open(&counter{}, testRate, Options{Silent: true})
		pass(time.Minute)
		assert.Equal(t, Status{Output: "silent"}, l.Status())
		assert.Equal(t, 60.0*testRate, l.Heard(time.Now()))
		require.NoError(t, l.Close())
	})
}

func TestSoundJoinsTheRunningTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := plain()
		shop := &shop{name: "server", delay: 333 * time.Millisecond, stock: []*loudspeaker{s}}
		l := opened(&counter{}, shop)
		begun := time.Now()
		pass(10 * time.Second)
		assert.Equal(t, Status{Output: "server", Sounding: true}, l.Status())
		select {
		case <-l.Changed():
		default:
			assert.Fail(t, "the change of status is not told")
		}
		played := gapless(t, s.heardSince(begun))
		assert.Less(t, played[0].at.Sub(begun), 500*time.Millisecond)
		onTime(t, played, begun, 0, 0.51)
		assert.InDelta(t, even(begun, time.Now()), l.Heard(time.Now()), 0.6)
		require.NoError(t, l.Close())
		assert.Equal(t, Status{Output: "silent"}, l.Status())
		assert.Equal(t, errClosed, s.err())
	})
}

func TestHeardFollowsTheLoudspeaker(t *testing.T) {
	for name, s := range map[string]*loudspeaker{
		"exact":  {},
		"fast":   {fast: 300e-6},
		"slow":   {fast: -300e-6},
		"coarse": {fast: 100e-6, noise: noise(20)}, // 2.5 ms either way
	} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s.rate, s.ahead, s.rewinds = testRate, 1200, true
				l := opened(&counter{}, &shop{stock: []*loudspeaker{s}})
				pass(time.Minute)
				for range 1000 {
					now := time.Now()
					said := l.Heard(now)
					pass(10 * time.Millisecond)
					is := s.heardSince(now)[0]
					require.InDelta(t, 0, said-float64(is.frame()), 15, "frames of 1/8 ms")
				}
				gapless(t, s.played)
				l.Close()
			})
		})
	}
}

func noise(most int64) func() int64 {
	random := rand.New(rand.NewPCG(3, 4))
	return func() int64 { return random.Int64N(2*most+1) - most }
}

func TestTimeRunsOnWhenTheOutputIsLost(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		first, second := plain(), plain()
		first.fast = 100e-6
		shop := &shop{name: "server", stock: []*loudspeaker{first}}
		l := opened(&counter{}, shop)
		pass(10 * time.Second)
		before := l.Heard(time.Now())
		lost := time.Now()
		first.end(&failure{plain: "the sound server went away"})
		synctest.Wait()
		assert.InDelta(t, before, l.Heard(time.Now()), 0.01, "no jump")
		assert.Equal(t, Status{Output: "silent", Problem: "no sound server found: sound is off, the screen keeps time"}, l.Status())

		pass(5500 * time.Millisecond)
		assert.InDelta(t, before+even(lost, time.Now()), l.Heard(time.Now()), 0.01)
		tries := shop.asked()[1:]
		require.Len(t, tries, 6, "at once, and then every second")
		for i, at := range tries {
			assert.Equal(t, time.Duration(i)*time.Second, at.Sub(lost))
		}

		shop.add(second)
		pass(4500 * time.Millisecond)
		assert.Equal(t, Status{Output: "server", Sounding: true}, l.Status())
		assert.InDelta(t, before+even(lost, time.Now()), l.Heard(time.Now()), 1)
		onTime(t, gapless(t, second.played), lost, before, 1)
		l.Close()
	})
}

func TestWhyTheSoundIsOff(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := plain()
		l := opened(&counter{}, &shop{stock: []*loudspeaker{nil, s}, delay: 10 * time.Millisecond})
		synctest.Wait()
		assert.Equal(t, Status{Output: "silent"}, l.Status(), "nothing is wrong yet")
		pass(20 * time.Millisecond)
		assert.Equal(t, Status{Output: "silent", Problem: "no sound server found: sound is off, the screen keeps time"}, l.Status())
		pass(1500 * time.Millisecond)
		assert.Equal(t, Status{Sounding: true}, l.Status())
		s.end(&failure{"the sound server went away", errors.New("EOF")})
		synctest.Wait()
		assert.Equal(t, Status{Output: "silent", Problem: "the sound server went away: sound is off, the screen keeps time"}, l.Status())
		l.Close()

		l = opened(&counter{}, &shop{stock: []*loudspeaker{{rate: testRate, ahead: 500, rewinds: true, hangs: patience}}})
		pass(patience + 100*time.Millisecond)
		assert.Equal(t, "the sound output failed: sound is off, the screen keeps time", l.Status().Problem)
		l.Close()
	})
}

func TestTempoDoesNotShiftWhenTheLoudspeakerStandsStill(t *testing.T) {
	for _, length := range []time.Duration{100 * time.Millisecond, 5 * time.Second} {
		for _, rewinds := range []bool{true, false} {
			synctest.Test(t, func(t *testing.T) {
				s := plain()
				s.rewinds = rewinds
				l := opened(&counter{}, &shop{name: "server", stock: []*loudspeaker{s}})
				begun := time.Now()
				pass(3 * time.Second)
				s.suspend(true)
				pass(length)
				still := l.Status()
				s.suspend(false)
				for range 100 {
					pass(10 * time.Millisecond)
					require.InDelta(t, even(begun, time.Now()), l.Heard(time.Now()), 1, "time runs evenly all along")
				}
				if length > asleep {
					assert.Equal(t, Status{Output: "server", Problem: "the sound output is asleep: sound is off, the screen keeps time"}, still)
				} else {
					assert.True(t, still.Sounding)
				}
				assert.Equal(t, Status{Output: "server", Sounding: true}, l.Status())
				pass(time.Second)
				back := gapless(t, s.heardSince(begun.Add(3*time.Second+length+500*time.Millisecond)))
				onTime(t, back, begun, 0, 1) // the beat is back where it belongs
				l.Close()
			})
		}
	}
}

func TestLoudspeakerThatMovesIsBroughtBackInLine(t *testing.T) {
	for _, skip := range []float64{-1600, 1600, -0.2 * apart * testRate} {
		synctest.Test(t, func(t *testing.T) {
			s := plain()
			l := opened(&counter{}, &shop{stock: []*loudspeaker{s}})
			begun := time.Now()
			pass(3 * time.Second)
			s.skip(skip)
			last := 0.0
			for range 200 {
				pass(10 * time.Millisecond)
				now := l.Heard(time.Now())
				require.Greater(t, now, last)
				require.InDelta(t, even(begun, time.Now()), now, 0.2*apart*testRate+1)
				last = now
			}
			at := time.Now()
			said := l.Heard(at)
			pass(time.Second)
			assert.InDelta(t, said, gapless(t, s.heardSince(at))[0].frame(), 2)
			l.Close()
		})
	}
}

func TestOneWrongPositionChangesNothing(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := plain()
		told := 0
		s.noise = func() int64 {
			if told++; told%200 == 100 {
				return 4000
			}
			return 0
		}
		l := opened(&counter{}, &shop{stock: []*loudspeaker{s}})
		begun := time.Now()
		for range 1000 {
			pass(10 * time.Millisecond)
			require.InDelta(t, even(begun, time.Now()), l.Heard(time.Now()), 1)
		}
		gapless(t, s.played)
		l.Close()
	})
}

// TestChange makes changes at odd times: each is heard soon, on the very frame it was given, and no frame
// is lost or doubled.
func TestChange(t *testing.T) {
	for _, c := range []struct {
		rewinds bool
		most    time.Duration
	}{{true, 20 * time.Millisecond}, {false, 170 * time.Millisecond}} {
		synctest.Test(t, func(t *testing.T) {
			s := plain()
			s.rewinds = c.rewinds
			src := &counter{}
			l := opened(src, &shop{stock: []*loudspeaker{s}})
			pass(time.Second)
			var marks []int64
			for i := range 50 {
				pass(time.Duration(1+i*i%70) * time.Millisecond)
				now := l.Heard(time.Now())
				l.Change(func(frame int64) {
					assert.Greater(t, float64(frame), now)
					assert.Less(t, float64(frame)-now, c.most.Seconds()*testRate)
					src.mark(frame)
					marks = append(marks, frame)
				})
			}
			pass(time.Second)
			for _, m := range gapless(t, s.played) {
				passed := 0
				for _, f := range marks {
					if f <= m.frame() {
						passed++
					}
				}
				if m.marks() != passed {
					require.Equal(t, passed, m.marks(), "frame %d", m.frame())
				}
			}
			l.Close()
		})
	}
}

// TestChangeWhileTheLoudspeakerStandsStill: by then the output's next frame lies in the past.
func TestChangeWhileTheLoudspeakerStandsStill(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := plain()
		src := &counter{}
		l := opened(src, &shop{stock: []*loudspeaker{s}})
		pass(time.Second)
		s.suspend(true)
		pass(5 * time.Second)
		l.Change(func(frame int64) {
			assert.InDelta(t, 6.0*testRate, float64(frame), 1)
			src.mark(frame)
		})
		s.suspend(false)
		pass(time.Second)
		at := time.Now()
		said := l.Heard(at)
		pass(time.Second)
		back := gapless(t, s.heardSince(at))[0]
		assert.InDelta(t, said, back.frame(), 1)
		assert.Equal(t, 1, back.marks())
		l.Close()
	})
}

func TestChangesNeverGoBack(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := plain()
		s.rewinds = false
		l := opened(&counter{}, &shop{stock: []*loudspeaker{s}})
		pass(time.Second)
		var last int64
		change := func() {
			before := last
			l.Change(func(frame int64) { last = frame })
			require.GreaterOrEqual(t, last, before)
		}
		change() // 150 ms ahead
		s.end(errors.New("gone"))
		change() // in silence, a moment later
		ahead := float64(last) - l.Heard(time.Now())
		assert.Greater(t, ahead, 1000.0)
		pass(time.Second)
		change()
		assert.InDelta(t, l.Heard(time.Now()), float64(last), 1)
		l.Close()
	})
}

func TestChangeDoesNotWaitForAnOutputThatHangs(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := plain()
		l := opened(&counter{}, &shop{stock: []*loudspeaker{s}})
		pass(time.Second)
		s.hangs = patience
		done := make(chan int64)
		begun := time.Now()
		go l.Change(func(frame int64) { done <- frame })
		pass(100 * time.Millisecond)
		assert.InDelta(t, 1.1*testRate, l.Heard(time.Now()), 1, "others need not wait at all")
		frame := <-done
		assert.Equal(t, patience, time.Since(begun))
		assert.InDelta(t, l.Heard(time.Now()), float64(frame), 1)
		l.Close()
	})
}

func TestCloseNeedNotWaitForAnOutput(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := opened(&counter{}, &shop{delay: time.Hour})
		pass(time.Second)
		begun := time.Now()
		require.NoError(t, l.Close())
		require.NoError(t, l.Close())
		assert.Zero(t, time.Since(begun))
	})
}

// TestLostServerIsWaitedFor: a server that restarts must find the sound card free, which the next way to
// play would have taken.
func TestLostServerIsWaitedFor(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := plain()
		server := &shop{name: "server", stock: []*loudspeaker{s}}
		card := &shop{name: "card", stock: []*loudspeaker{plain()}, pause: 10 * time.Second}
		l := opened(&counter{}, server, card)
		pass(3 * time.Second)
		assert.Empty(t, card.asked())
		s.end(errors.New("gone"))
		pass(loyalty - 100*time.Millisecond)
		assert.Empty(t, card.asked())
		pass(time.Second)
		assert.Len(t, card.asked(), 1)
		assert.Equal(t, Status{Output: "card", Sounding: true}, l.Status())
		l.Close()
	})
}

func TestNextWayIsTriedAtOnceAndThenWithPauses(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		server := &shop{name: "server"}
		card := &shop{name: "card", pause: 10 * time.Second}
		l := opened(&counter{}, server, card)
		begun := time.Now()
		pass(25500 * time.Millisecond)
		assert.Len(t, server.asked(), 26)
		var times []time.Duration
		for _, at := range card.asked() {
			times = append(times, at.Sub(begun))
		}
		assert.Equal(t, []time.Duration{0, 10 * time.Second, 20 * time.Second}, times)
		l.Close()
	})
}

// TestSourceThatEndsIsFollowedBySilence, even a source that can't seek.
func TestSourceThatEndsIsFollowedBySilence(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := plain()
		l := opened(&short{counter{}, 2 * testRate}, &shop{stock: []*loudspeaker{s}})
		begun := time.Now()
		pass(4 * time.Second)
		sounds := s.heardSince(begun.Add(time.Second))
		assert.Equal(t, int64(testRate), sounds[0].frame())
		assert.Equal(t, heard{}, sounds[testRate+5].heard)
		assert.Equal(t, heard{}, s.heardSince(begun.Add(3 * time.Second))[0].heard)
		assert.InDelta(t, 4.0*testRate, l.Heard(time.Now()), 1)
		l.Close()
	})
}

// short is a counter with an end.
type short struct {
	counter
	frames int
}

func (s *short) Len() int { return s.frames }

func (s *short) Stream(samples [][2]float64) (int, bool) {
	n := min(len(samples), s.frames-s.pos)
	if n <= 0 {
		return 0, false
	}
	return s.counter.Stream(samples[:n])
}

func (s *short) Seek(p int) error {
	if p > s.frames {
		return errors.New("past the end")
	}
	return s.counter.Seek(p)
}

func TestFeedRendersAnyFrames(t *testing.T) {
	f := newFeed(&counter{})
	raw := make([]byte, 10*frameBytes)
	f.fill(raw, 100)
	assert.Equal(t, make([]byte, len(raw)), raw, "silence before it has joined")
	f.joined, f.base = true, 1000
	for _, at := range []int64{100, 110, 50, -990, -1001, math.MinInt64 / 2} {
		f.fill(raw, at)
		want := float32(max(0, 1000+at)) / frameUnit
		s := &loudspeaker{feed: f, queue: map[int64]heard{}, next: at}
		s.render()
		assert.Equal(t, want, s.queue[at].right)
	}
	assert.Zero(t, testing.AllocsPerRun(100, func() { f.fill(raw, 500) }))
}

// TestALateOutputIsHeardLater: its lateness is subtracted from what is heard, within bounds.
func TestALateOutputIsHeardLater(t *testing.T) {
	for late, want := range map[time.Duration]time.Duration{
		150 * time.Millisecond: 150 * time.Millisecond, -50 * time.Millisecond: -50 * time.Millisecond, time.Minute: time.Second, -time.Minute: -200 * time.Millisecond,
	} {
		l := open(&counter{}, 1000, Options{Late: func(s Status) time.Duration {
			assert.Equal(t, Status{Output: silent}, s)
			return late
		}}, nil)
		at := time.Now().Add(10 * time.Second)
		assert.InDelta(t, l.clock.at(at)-want.Seconds()*1000, l.Heard(at), 0.001, "%v late", late)
		l.Close()
	}
}

// TestTheLatenessFollowsTheDevice: within a frame of the screen after the sound has moved to another
// device, Heard uses that one's lateness.
func TestTheLatenessFollowsTheDevice(t *testing.T) {
	const aFrame = time.Second / 60
	synctest.Test(t, func(t *testing.T) {
		s := plain()
		s.device = Device{Name: "hall"}
		late := map[string]time.Duration{"lounge": 180 * time.Millisecond, "terrace": -20 * time.Millisecond}
		l := open(&counter{}, testRate, Options{Late: func(s Status) time.Duration {
			return late[s.Device.Name]
		}}, []opener{(&shop{name: "server", stock: []*loudspeaker{s}}).opener()})
		begun := time.Now()
		told := func() float64 { return even(begun, time.Now()) - l.Heard(time.Now()) }
		pass(3 * time.Second)
		assert.Equal(t, Status{Output: "server", Device: Device{Name: "hall"}, Sounding: true}, l.Status())
		assert.InDelta(t, 0, told(), 1)
		for _, name := range []string{"lounge", "terrace", "lounge", "hall"} {
			<-l.Changed()
			s.feed.plays(Device{Name: name})
			pass(aFrame)
			assert.Equal(t, Status{Output: "server", Device: Device{Name: name}, Sounding: true}, l.Status())
			assert.InDelta(t, late[name].Seconds()*testRate, told(), 1, "at once, not bit by bit: %s", name)
		}
		for range 100 { // and evenly from then on
			before := l.Heard(time.Now())
			pass(10 * time.Millisecond)
			require.InDelta(t, testRate/100, l.Heard(time.Now())-before, 1)
		}
		require.NoError(t, l.Close())
		assert.Equal(t, Status{Output: "silent"}, l.Status())
	})
}

// TestADeviceIsKnownFromTheFirst: the status never says that there is sound without saying on which device.
func TestADeviceIsKnownFromTheFirst(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := plain()
		s.device = Device{Name: "hall", Called: "Loudspeakers of the hall"}
		l := opened(&counter{}, &shop{name: "server", stock: []*loudspeaker{s}})
		<-l.Changed()
		assert.Equal(t, Status{Output: "server", Device: s.device, Sounding: true}, l.Status())
		s.suspend(true)
		pass(2 * asleep)
		assert.False(t, l.Status().Sounding)
		s.feed.plays(Device{Name: "lounge"})
		synctest.Wait()
		assert.Equal(t, "lounge", l.Status().Device.Name, "also while it sleeps")
		l.Close()
	})
}

func TestNamesOfDevicesAreBounded(t *testing.T) {
	f := newFeed(&counter{})
	assert.Equal(t, Device{}, *f.device.Load())
	f.plays(Device{Name: strings.Repeat("x", 255) + "ü", Called: "Hall\xff"})
	assert.Equal(t, Device{Name: strings.Repeat("x", 255), Called: "Hall"}, *f.device.Load())
	f.plays(Device{}) // as often as it likes, though nobody looks
}

// resting returns a line whose source is silent from frames below until on, on a loudspeaker.
func resting(s *loudspeaker, until *atomic.Int64) (*Line, *counter) {
	src := &counter{}
	o := Options{Silence: func(from int64) bool { return from >= until.Load() }}
	return open(src, testRate, o, []opener{(&shop{name: "server", stock: []*loudspeaker{s}}).opener()}), src
}

// TestALineRestsWhileNothingSounds: the loudspeaker and the clock stand still until the next change. That
// is heard on its frame, as soon as any other, and no frame is lost or doubled.
func TestALineRestsWhileNothingSounds(t *testing.T) {
	for _, c := range []struct {
		rewinds bool
		most    time.Duration
	}{{true, 20 * time.Millisecond}, {false, 170 * time.Millisecond}} {
		synctest.Test(t, func(t *testing.T) {
			s := plain()
			s.rewinds = c.rewinds
			var until atomic.Int64
			until.Store(3 * testRate)
			l, src := resting(s, &until)
			pass(2900 * time.Millisecond)
			assert.Zero(t, s.rested(), "it sounds")
			var marks []int64
			for n := 1; n <= 3; n++ {
				pass(5 * time.Second)
				assert.Equal(t, n, s.rested())
				still := l.Heard(time.Now())
				pass(10 * time.Minute)
				assert.Equal(t, still, l.Heard(time.Now()), "time stands still")
				assert.Equal(t, Status{Output: "server", Sounding: true}, l.Status(), "nothing is wrong")
				asked := time.Now()
				l.Change(func(frame int64) {
					src.mark(frame)
					marks = append(marks, frame)
					until.Store(frame + testRate)
				})
				pass(time.Second)
				begun := s.heardSince(asked)
				assert.Less(t, begun[0].at.Sub(asked), time.Millisecond, "it plays on at once")
				for _, m := range begun {
					if m.frame() == marks[n-1] {
						assert.Less(t, m.at.Sub(asked), c.most)
						assert.Equal(t, n, m.marks())
					}
				}
				at := time.Now()
				said := l.Heard(at)
				pass(10 * time.Millisecond)
				assert.InDelta(t, said, s.heardSince(at)[0].frame(), 2)
			}
			gapless(t, s.played)
			l.Close()
		})
	}
}

// TestALineDoesNotRestSoonAfterAChange, as another may follow.
func TestALineDoesNotRestSoonAfterAChange(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := plain()
		l, _ := resting(s, new(atomic.Int64))
		for range 10 {
			pass(1500 * time.Millisecond)
			assert.Zero(t, s.rested())
			l.Change(func(int64) {})
		}
		pass(2500 * time.Millisecond)
		assert.Equal(t, 1, s.rested())
		l.Close()
	})
}

// TestTimeGoesOnIfTheLoudspeakerDoesNot: the device is lost while the line rests, or doesn't wake up.
func TestTimeGoesOnIfTheLoudspeakerDoesNot(t *testing.T) {
	for name, fail := range map[string]func(*loudspeaker, *Line){
		"lost":          func(s *loudspeaker, _ *Line) { s.end(&failure{plain: "the sound server went away"}) },
		"does not wake": func(s *loudspeaker, l *Line) { s.dead = true; l.Change(func(int64) {}) },
	} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := plain()
				l, _ := resting(s, new(atomic.Int64))
				pass(10 * time.Second)
				still := l.Heard(time.Now())
				require.Less(t, still, 3.0*testRate, "it rests")
				fail(s, l)
				pass(waking + time.Millisecond)
				went := l.Heard(time.Now())
				assert.NotEmpty(t, l.Status().Problem)
				pass(time.Second)
				assert.InDelta(t, went+testRate, l.Heard(time.Now()), 1)
				assert.Less(t, went, still+1.1*testRate, "it does not catch up with the rest")
				l.Close()
			})
		})
	}
}
