//go:build tuning

package timestretch_test

import "testing"

// TestTuning logs the figures that the constants of this package were set by.
func TestTuning(t *testing.T) {
	var sets []*signals
	for _, seed := range tuningSeeds {
		sets = append(sets, makeSignals(seed))
	}
	for _, speed := range []float64{0.5, 0.55, 0.6, 0.65, 0.75, 0.9, 1.1, 1.2} {
		var f figures
		for _, s := range sets {
			f.judge(t, s, speed, ours)
		}
		t.Logf("%.2f %v", speed, f)
	}
}
