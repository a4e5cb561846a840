package timing_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/timing"
)

const rate = 48000

// lantern returns the plan of the boathouse's cha-cha, danced over and over at a percentage of its
// tempo of 240 beats a minute.
func lantern(t *testing.T, percent float64, number int, bars timing.Bars) *timing.Plan {
	t.Helper()
	timeline, _ := rehearsal.Read(rehearsal.Boathouse)
	require.NotNil(t, timeline)
	set := player.DefaultSettings()
	set.Percent = percent
	set.Loop = timeline.Passage(0)
	c := player.NewCourse(rate, player.Sounds{Kit: audio.NewKit(rate)}, timeline, set)
	return timing.NewPlan(c.Start(0, timeline, timeline.Start, set), rate, 0, number, bars)
}

func TestPlanHasTheStepsOfItsBars(t *testing.T) {
	p := lantern(t, 50, 8, timing.Bars{Heard: 2, Silent: 2})
	var names []string
	var at []float64
	var silence []int
	for _, s := range p.Steps[:12] {
		names, at, silence = append(names, s.Count), append(at, s.At), append(silence, s.Silence)
	}
	// After a bar of lead-in on 120 beats a minute, it begins on 2.
	assert.Equal(t, []string{"2", "3", "4", "&", "1", "2", "3", "4", "&", "1", "2", "3"}, names)
	assert.InDeltaSlice(t, []float64{2, 2.5, 3, 3.25, 3.5, 4, 4.5, 5, 5.25, 5.5, 6, 6.5}, at, 1e-4)
	assert.Equal(t, []int{0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1}, silence)
	assert.InDelta(t, 0.5, p.Steps[0].Beat, 1e-6)
}

func TestNothingBeginsInSilence(t *testing.T) {
	p := lantern(t, 100, 8, timing.Bars{Heard: 2, Silent: 2})
	var silentFrom, silentTo float64
	for _, s := range p.Steps {
		if s.Silence == 1 && silentFrom == 0 {
			silentFrom = s.At * rate
		}
		if s.Silence == 1 {
			silentTo = s.At*rate + 1
		}
	}
	heard := 0
	for _, h := range p.Hits(nil, 0, 60*rate) {
		heard++
		at := float64(h.Frame)
		assert.False(t, at >= silentFrom-1 && at <= silentTo, "a sound at %v", at)
		assert.Less(t, at, p.End, "a sound after the end")
	}
	assert.Greater(t, heard, 20)
	assert.NotEmpty(t, p.Hits(nil, int64(silentFrom)-rate, int64(silentFrom)), "before it there is sound")
}

// tapped returns taps on the steps of a plan. Errors says how far off each count is, give or take a
// spread; in silence, drift makes them slower.
func tapped(p *timing.Plan, errors map[string]float64, spread, drift float64) []float64 {
	random := rand.New(rand.NewPCG(1, 2))
	var taps []float64
	var began float64
	last := 0
	for _, s := range p.Steps {
		at := s.At + errors[s.Count] + spread*random.NormFloat64()
		if s.Silence > 0 {
			if s.Silence != last {
				began, last = s.At, s.Silence
			}
			at += drift * (s.At - began)
		}
		taps = append(taps, at)
	}
	slices.Sort(taps)
	return taps
}

func TestKnownErrorsComeBack(t *testing.T) {
	errors := map[string]float64{"1": 0, "2": 0.012, "3": -0.020, "4": 0.035, "&": -0.060}
	for _, percent := range []float64{40, 50, 75, 100} {
		p := lantern(t, percent, 32, timing.Bars{Heard: 32})
		r := timing.Judge(p.Steps, tapped(p, errors, 0, 0), timing.Unsure{})
		require.Len(t, r.Counts, 5)
		for _, c := range r.Counts {
			assert.InDelta(t, errors[c.Name], c.Value, 0.001, "count %s at %v %%", c.Name, percent)
		}
		assert.Zero(t, r.Missed+r.Extra)
	}
}

func TestMissedDoubleAndStrayTapsMoveNothing(t *testing.T) {
	errors := map[string]float64{"&": -0.060, "4": 0.015}
	p := lantern(t, 50, 32, timing.Bars{Heard: 32})
	taps := tapped(p, errors, 0, 0)
	kept := taps[:0:0]
	missed, extra := 0, 0
	for i, at := range taps {
		if i%11 == 7 {
			missed++
			continue
		}
		kept = append(kept, at)
		if i%13 == 5 {
			kept = append(kept, at+0.07)
			extra++
		}
	}
	r := timing.Judge(p.Steps, kept, timing.Unsure{})
	for _, c := range r.Counts {
		assert.InDelta(t, errors[c.Name], c.Value, 0.001, "count %s", c.Name)
	}
	assert.Equal(t, missed, r.Missed)
	assert.Equal(t, extra, r.Extra)
}

func TestTapsThatAreAllLateKeepTheirSteps(t *testing.T) {
	for _, late := range []float64{-0.18, -0.1, 0.1, 0.18} {
		p := lantern(t, 50, 32, timing.Bars{Heard: 32})
		all := map[string]float64{"1": late, "2": late, "3": late, "4": late, "&": late}
		r := timing.Judge(p.Steps, tapped(p, all, 0.01, 0), timing.Unsure{})
		assert.InDelta(t, late, r.Whole.Value, 0.004)
	}
}

func TestDriftInSilenceIsFound(t *testing.T) {
	errors := map[string]float64{"&": -0.030}
	for _, drift := range []float64{-0.03, -0.01, 0.01, 0.03} {
		p := lantern(t, 50, 8, timing.Bars{Heard: 4, Silent: 4})
		r := timing.Judge(p.Steps, tapped(p, errors, 0.010, drift), timing.Unsure{})
		require.True(t, r.Drift.Known)
		assert.InDelta(t, drift, r.Drift.Value, 2*r.Drift.Error)
		assert.Less(t, r.Drift.Error, 0.0025, "four silent bars are enough to tell 1 %%")
		assert.InDelta(t, -0.030, r.Counts[3].Value, 0.01, "what drifts is no count's own")
	}
	p := lantern(t, 50, 8, timing.Bars{Heard: 4, Silent: 4})
	r := timing.Judge(p.Steps, tapped(p, errors, 0.010, 0.01), timing.Unsure{})
	assert.Regexp(t, `In silence you slow down by (0\.[89]|1\.[012]) %, give or take 0\.\d: after 8 s you are \d\d ms late\.`, r.Words())
	still := timing.Judge(p.Steps, tapped(p, nil, 0, 0), timing.Unsure{})
	assert.Contains(t, still.Words(), "In silence you keep the tempo.")
}

func TestErrorsAreAsLargeAsTheySay(t *testing.T) {
	// Of many tries, about nineteen in twenty must be within two standard errors.
	within, tries := 0, 0
	for seed := range uint64(60) {
		p := lantern(t, 50, 12, timing.Bars{Heard: 12})
		random := rand.New(rand.NewPCG(seed, 9))
		var taps []float64
		for _, s := range p.Steps {
			taps = append(taps, s.At+0.020*random.NormFloat64())
		}
		slices.Sort(taps)
		for _, c := range timing.Judge(p.Steps, taps, timing.Unsure{}).Counts {
			if tries++; c.Value < 2*c.Error && c.Value > -2*c.Error {
				within++
			}
		}
	}
	assert.InDelta(t, 0.95, float64(within)/float64(tries), 0.05)
}

func TestWords(t *testing.T) {
	p := lantern(t, 50, 32, timing.Bars{Heard: 32})
	words := func(errors map[string]float64, spread, unsure float64) []string {
		return timing.Judge(p.Steps, tapped(p, errors, spread, 0), timing.Unsure{Sound: 0.6 * unsure, Taps: 0.8 * unsure}).Words()
	}
	assert.Equal(t, []string{"Your & comes 60 ms early."}, words(map[string]float64{"&": -0.060}, 0, 0))
	assert.Equal(t, []string{"Every count is in time, as far as can be heard and measured."},
		words(map[string]float64{"&": 0.004, "3": -0.010}, 0, 0), "less than can be heard")
	late := map[string]float64{"1": 0.08, "2": 0.08, "3": 0.08, "4": 0.08, "&": 0.05}
	assert.Equal(t, []string{"Overall you are 80 ms late.", "Your & comes 30 ms earlier than the rest."}, words(late, 0, 0))
	assert.Equal(t, []string{"Your & comes 30 ms earlier than the rest."}, words(late, 0, 0.2), "the delay may be that wrong, but not for one count alone")
	early := map[string]float64{"1": -0.03, "2": -0.03, "3": -0.03, "4": -0.03, "&": -0.03}
	assert.Equal(t, []string{"Overall you are 30 ms early. Nearly everyone taps that early along with clicks."}, words(early, 0, 0))
	assert.Contains(t, words(nil, 0.060, 0), "Most counts are uneven: give or take 64 ms.")
	assert.Equal(t, []string{"There were too few taps on the steps to tell."}, timing.Judge(p.Steps, nil, timing.Unsure{}).Words())
	assert.Equal(t, []string{"There were too few taps on the steps to tell."}, timing.Judge(nil, []float64{1, 2}, timing.Unsure{}).Words())
}

func TestPerceptible(t *testing.T) {
	assert.InDelta(t, 0.006, timing.Perceptible(0.1), 1e-9)
	assert.InDelta(t, 0.006, timing.Perceptible(0.239), 1e-9)
	assert.InDelta(t, 0.0125, timing.Perceptible(0.5), 1e-9)
}
