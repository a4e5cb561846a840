package audio_test

import (
	"fmt"
	"math"
	"testing"

	"dance.example/slowquick/audio"
	"github.com/stretchr/testify/assert"
)

var voices = []struct {
	name string
	of   func(audio.Kit) audio.Sound
}{
	{"bell", func(k audio.Kit) audio.Sound { return k.Bell }},
	{"block", func(k audio.Kit) audio.Sound { return k.Block }},
	{"tick", func(k audio.Kit) audio.Sound { return k.Tick }},
	{"thump", func(k audio.Kit) audio.Sound { return k.Thump }},
	{"brush", func(k audio.Kit) audio.Sound { return k.Brush }},
}

func TestVoicesBeginAtOnceAndEndInSilence(t *testing.T) {
	for _, rate := range []int{44100, 48000} {
		kit := audio.NewKit(rate)
		for _, v := range voices {
			s := v.of(kit)
			t.Run(fmt.Sprint(v.name, rate), func(t *testing.T) {
				assert.Less(t, len(s), rate*80/1000, "shorter than 80 ms")
				assert.Greater(t, s[0], float32(0.1), "heard from the first sample")
				for _, x := range s {
					assert.LessOrEqual(t, math.Abs(float64(x)), float64(s[0]), "the first sample is the peak")
				}
				assert.Zero(t, s[len(s)-1])
				assert.Less(t, energy(s[len(s)*3/4:])/energy(s), 0.01, "it dies away")
				assert.Equal(t, s, v.of(audio.NewKit(rate)), "the same each time")
			})
		}
	}
}

func TestKitLeavesHeadroom(t *testing.T) {
	k := audio.NewKit(rate)
	assert.Less(t, k.Bell[0]+k.Thump[0]+k.Brush[0], float32(0.8), "below saturation")
	assert.Less(t, k.Bell[0]+k.Tick[0]+k.Thump[0]+k.Brush[0], float32(1))
	assert.Less(t, k.Block[0]+k.Tick[0]+k.Thump[0]+k.Brush[0], float32(1))
}

// TestVoicesAreDistinct checks that any two sounds differ by at least a fifth
// (3:2) in the median frequency of their energy, or clearly in how much of it
// is on one pitch.
func TestVoicesAreDistinct(t *testing.T) {
	for _, rate := range []int{44100, 48000} {
		kit := audio.NewKit(rate)
		for i, a := range voices {
			for _, b := range voices[:i] {
				ca, pa := colour(a.of(kit), rate)
				cb, pb := colour(b.of(kit), rate)
				interval := max(ca/cb, cb/ca)
				assert.True(t, interval > 1.5 || max(pa/pb, pb/pa) > 3,
					"%s (%.0f Hz, %.3f) and %s (%.0f Hz, %.3f)", a.name, ca, pa, b.name, cb, pb)
			}
		}
	}
}

func energy(s audio.Sound) (sum float64) {
	for _, x := range s {
		sum += float64(x) * float64(x)
	}
	return sum
}

// colour returns the median frequency of a sound's energy in Hz, and the share
// of it within one band of 50 Hz.
func colour(s audio.Sound, rate int) (median, peak float64) {
	var power []float64
	total := 0.0
	for f := 25.0; f < float64(rate)/2; f += 50 {
		re, im := 0.0, 0.0
		for i, x := range s {
			sin, cos := math.Sincos(2 * math.Pi * f * float64(i) / float64(rate))
			re += float64(x) * cos
			im += float64(x) * sin
		}
		p := re*re + im*im
		power = append(power, p)
		total += p
	}
	sum := 0.0
	for i, p := range power {
		peak = max(peak, p/total)
		if sum < total/2 && sum+p >= total/2 {
			median = 25 + 50*float64(i)
		}
		sum += p
	}
	return median, peak
}
