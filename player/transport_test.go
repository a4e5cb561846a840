package player_test

import (
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// standingLine is a line on which one frame is heard until the test calls hear.
type standingLine struct {
	mu    sync.Mutex
	frame int64
}

func (l *standingLine) hear(frame int64) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.frame = frame
}

func (l *standingLine) Heard(time.Time) float64 {
	l.mu.Lock()
	defer l.mu.Unlock()
	return float64(l.frame)
}

func (l *standingLine) Change(f func(frame int64)) { f(int64(l.Heard(time.Time{}))) }

// moving returns a transport of the lantern sheet, with its line and its engine.
func moving(t *testing.T, set player.Settings) (*player.Transport, *standingLine, *audio.Engine) {
	t.Helper()
	line, engine := new(standingLine), audio.NewEngine(rate)
	course := player.NewCourse(rate, sounds, player.NewTimeline(score(t, lanternSheet(""))), set)
	tr := player.NewTransport(line, engine, course, nil)
	t.Cleanup(tr.Close)
	return tr, line, engine
}

// now returns where the couple is once all changes are carried out.
func now(tr *player.Transport) player.Moment {
	tr.Sync()
	return tr.Now(time.Time{})
}

// TestATransportMovesAlong: each change acts from the frame being heard. The sheet has 120
// beats a minute and begins on 2.
func TestATransportMovesAlong(t *testing.T) {
	const beat = rate / 2
	tr, line, _ := moving(t, player.DefaultSettings())
	assert.Equal(t, player.Holding, now(tr).State)
	_, ok := tr.Next(time.Time{})
	assert.False(t, ok, "nothing moves by itself")

	line.hear(1000)
	tr.Toggle()
	assert.Equal(t, player.LeadIn, now(tr).State)
	wait, ok := tr.Next(time.Time{})
	assert.True(t, ok)
	assert.InDelta(t, 0.5, wait.Seconds(), 1e-3)
	tr.Start()
	tr.Sync()
	line.hear(1000 + 4*beat)
	m := now(tr)
	assert.Equal(t, player.Dancing, m.State, "a couple that is counted in is not counted in anew")
	assert.Equal(t, routine.Beat, m.Beat)

	tr.Go(false, func(m player.Moment) routine.Beats { return m.Beat + 1000*routine.Beat })
	m = now(tr)
	assert.Equal(t, player.Dancing, m.State)
	assert.Equal(t, len(m.Timeline.Events)-1, m.Event, "no farther than the last step")
	tr.Go(false, func(m player.Moment) routine.Beats { return -5 * routine.Beat })
	assert.Equal(t, routine.Beat, now(tr).Beat)

	line.hear(1000 + 6*beat)
	tr.Toggle()
	m = now(tr)
	assert.Equal(t, player.Holding, m.State)
	assert.Equal(t, 3*routine.Beat, m.Beat, "at the event that is heard")
	tr.Hold()
	assert.Equal(t, m, now(tr))
	tr.Go(true, func(m player.Moment) routine.Beats { return 5 * routine.Beat })
	m = now(tr)
	assert.Equal(t, player.Holding, m.State)
	assert.Equal(t, 5*routine.Beat, m.Beat)
}

func TestATransportKeepsWithinWhatCanBeDanced(t *testing.T) {
	tr, _, _ := moving(t, player.DefaultSettings())
	for _, c := range []struct{ percent, leadIn, wantPercent, wantLeadIn float64 }{{1e9, 99, player.FastestPercent, player.MostLeadIn}, {-1, -1, player.SlowestPercent, 0}} {
		tr.Set(func(m player.Moment) player.Settings {
			m.Settings.Percent, m.Settings.LeadIn = c.percent, int(c.leadIn)
			return m.Settings
		})
		set := now(tr).Settings
		assert.InDelta(t, c.wantPercent, set.Percent, 0)
		assert.InDelta(t, c.wantLeadIn, set.LeadIn, 0)
	}
}

// TestASheetThatIsSavedIsDancedFromTheNextBarOn, even if something else changes before that
// bar.
func TestASheetThatIsSavedIsDancedFromTheNextBarOn(t *testing.T) {
	const beat = rate / 2
	tr, line, _ := moving(t, player.Settings{Percent: 100})
	tr.Start()
	tr.Sync()
	line.hear(beat / 2)
	old := now(tr).Timeline
	saved := player.NewTimeline(score(t, lanternSheet("")))
	tr.Replace(saved)
	assert.Same(t, old, now(tr).Timeline)
	tr.Set(func(m player.Moment) player.Settings {
		m.Settings.FeetApart = true
		return m.Settings
	})
	assert.Same(t, old, now(tr).Timeline)
	line.hear(4 * beat) // the couple began on 2
	m := now(tr)
	assert.Same(t, saved, m.Timeline)
	assert.True(t, m.Settings.FeetApart)
}

// TestATransportSetsLevels from the first frame that can still be altered; the other levels
// stay.
func TestATransportSetsLevels(t *testing.T) {
	tr, _, engine := moving(t, player.DefaultSettings())
	tr.Level(func(l audio.Levels) audio.Levels {
		l[player.VoiceLayer] = 0.25
		return l
	})
	tr.Sync()
	levels := engine.Levels()
	require.Equal(t, float32(0.25), levels[player.VoiceLayer])
	assert.Equal(t, float32(1), levels[player.ClickLayer])
}

// TestMusicInTheRoom: the couple begins on 2, so it steps a beat after the music's one, at
// the music's tempo; or a bar later if that moment has passed.
func TestMusicInTheRoom(t *testing.T) {
	const musicBeat = 600 * time.Millisecond // 100 beats a minute
	const perBeat = rate * 6 / 10
	for one, step := range map[time.Duration]int64{
		3 * time.Second:            3*rate + perBeat,
		-time.Second:               4*perBeat - rate + perBeat,
		-6 * 4 * musicBeat:         perBeat,
		-musicBeat - 1*time.Second: 4*perBeat - rate,
	} {
		synctest.Test(t, func(t *testing.T) {
			tr, line, _ := moving(t, player.DefaultSettings())
			tr.DropIn(time.Now().Add(one), player.Pulse{Beat: musicBeat, At: time.Now()})
			tr.Sync() // before the clock goes on
			line.hear(step - 2)
			m := now(tr)
			assert.Equal(t, player.LeadIn, m.State, one)
			assert.InDelta(t, 100.0/120*100, m.Percent, 1e-3)
			line.hear(step + 1)
			m = now(tr)
			assert.Equal(t, player.Dancing, m.State, one)
			assert.Equal(t, routine.Beat, m.Beat)
		})
	}
}

// TestACoupleThatStandsIsSilent once a step that is struck has begun; a couple that dances or is counted in
// isn't.
func TestACoupleThatStandsIsSilent(t *testing.T) {
	const beat, ring = rate / 2, audio.MaxRing * rate
	tr, line, engine := moving(t, player.DefaultSettings())
	assert.True(t, engine.Silent(ring+1))
	line.hear(10 * rate)
	tr.Go(true, func(m player.Moment) routine.Beats { return m.Beat })
	tr.Sync()
	assert.False(t, engine.Silent(10*rate+ring), "it is struck")
	assert.True(t, engine.Silent(10*rate+ring+1))
	line.hear(20 * rate)
	tr.Start()
	tr.Sync()
	assert.False(t, engine.Silent(20*rate+ring+1), "it is counted in")
	line.hear(20*rate + 6*beat)
	require.Equal(t, player.Dancing, now(tr).State)
	assert.False(t, engine.Silent(20*rate+6*beat))
	tr.Hold()
	tr.Sync()
	assert.True(t, engine.Silent(20*rate+6*beat+ring+1))
}
