package timestretch_test

import (
	"fmt"
	"sync"
	"testing"

	"dance.example/slowquick/testdata/thorough"
)

// firstSignals returns the signals of the first seed, made once.
var firstSignals = sync.OnceValue(func() *signals { return makeSignals(judgingSeeds[0]) })

// TestOnSignalsNotTunedOn checks that slowed music is good enough to dance to,
// on signals by which no constant of this package was set.
func TestOnSignalsNotTunedOn(t *testing.T) {
	seeds, speeds := judgingSeeds, []float64{0.6, 0.75, 0.9, 1.1}
	if !thorough.Asked() {
		seeds, speeds = seeds[:1], speeds[1:2]
	}
	sets := []*signals{firstSignals()}
	for _, seed := range seeds[1:] {
		sets = append(sets, makeSignals(seed))
	}
	for _, speed := range speeds {
		t.Run(fmt.Sprintf("%.2f", speed), func(t *testing.T) {
			t.Parallel()
			var f figures
			for _, s := range sets {
				f.judge(t, s, speed, ours)
			}
			t.Logf("%.2f %v", speed, f)
			for name, c := range map[string]clicks{"clicks": f.plain, "clicks over a chord": f.bedded} {
				if c.n < 50*len(seeds) {
					t.Fatalf("only %d %s", c.n, name)
				}
				if c.lost > 0 || c.doubled > 0 {
					t.Errorf("%.2f: of %d %s, %d are lost and %d doubled", speed, c.n, name, c.lost, c.doubled)
				}
				if c.mean() > 1 || c.most() > 5 {
					t.Errorf("%.2f: %s are off by %.2f ms on average and %.2f at most, want 1 and 5", speed, name, c.mean(), c.most())
				}
			}
			if worst := furthest(f.cents); worst > 2 || worst < -2 {
				t.Errorf("%.2f: a tone is off by %.2f cents", speed, worst)
			}
			if f.music.n < 60*len(seeds) {
				t.Fatalf("only %d onsets of music", f.music.n)
			}
			if !thorough.Asked() || speed < 0.75 {
				return // too few onsets to judge by; and below 0.75 nothing is promised
			}
			if lost := f.music.lostPart(); lost > 0.03 {
				t.Errorf("%.2f: %.1f %% of the onsets are lost", speed, 100*lost)
			}
			if extra := f.music.extraPart(); extra > 0.10 {
				t.Errorf("%.2f: %.1f %% of onsets are extra", speed, 100*extra)
			}
		})
	}
}

// TestTheMeasuresSeeFaults checks that each measure finds the fault it looks for.
func TestTheMeasuresSeeFaults(t *testing.T) {
	s := firstSignals()
	same := func(second float64) float64 { return second }
	frames := wave(s.train)
	if c := measureClicks(s.trainIs, frames, s.at, same); c.lost+c.doubled > 0 || c.most() > 1e-6 {
		t.Errorf("the train itself: %v", c)
	}
	echo := wave(s.train)
	for i := len(echo) - 1; i >= rate/25; i-- {
		for c := range 2 {
			echo[i][c] += 0.4 * frames[i-rate/25][c]
		}
	}
	if c := measureClicks(s.trainIs, echo, s.at, same); c.doubled != c.n {
		t.Errorf("with an echo after 40 ms, %d of %d clicks are doubled", c.doubled, c.n)
	}
	late := append(make([][2]float64, rate/100), frames...)
	if c := measureClicks(s.trainIs, late, s.at, same); c.mean() < 9.9 || c.mean() > 10.1 {
		t.Errorf("10 ms late is measured as %.2f", c.mean())
	}
	if c := measureClicks(s.trainIs, make([][2]float64, len(frames)), s.at, same); c.lost != c.n {
		t.Errorf("of silence, %d of %d clicks are lost", c.lost, c.n)
	}
	if c := compareOnsets(s.musicBegins, s.musicBegins[1:], same); c.lost != 1 || c.extra != 0 {
		t.Errorf("without the first onset: %d lost, %d extra", c.lost, c.extra)
	}
	sharp := makeTone(s.pitch*1.001, 4)
	if c := cents(sharp, s.pitch); c < 1.6 || c > 1.9 {
		t.Errorf("a tone 1.73 cents sharp is measured as %.2f", c)
	}
	if d := impurity(makeTone(500, 4), []float64{500}); d > -80 {
		t.Errorf("a pure tone has an impurity of %.0f dB", d)
	}
	if d := impurity(makeTone(500, 4), []float64{550}); d < -1 {
		t.Errorf("a wrong tone has an impurity of %.0f dB", d)
	}
}

func makeTone(pitch, seconds float64) [][2]float64 {
	s := newSound(seconds)
	s.bed([]float64{pitch})
	return wave(s.recorded(0.9))
}
