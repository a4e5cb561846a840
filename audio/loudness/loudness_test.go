package loudness

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestTheFilters are those that ITU-R BS.1770-4 prints for 48 kHz (tables 1 and 2).
func TestTheFilters(t *testing.T) {
	for _, test := range []struct {
		filter filter
		want   [5]float64
	}{
		{shelf(48000), [5]float64{1.53512485958697, -2.69169618940638, 1.19839281085285, -1.69065929318241, 0.73248077421585}},
		{high(48000), [5]float64{1, -2, 1, -1.99004745483398, 0.99007225036621}},
	} {
		f := test.filter
		for i, got := range [5]float64{f.b0, f.b1, f.b2, f.a1, f.a2} {
			assert.InDelta(t, test.want[i], got, 1e-9)
		}
	}
}

// sine adds a tone on both sides.
func sine(m *Meter, rate int, hertz, level, seconds float64) {
	amplitude := math.Pow(10, level/20)
	frames := make([][2]float64, int(seconds*float64(rate)))
	for i := range frames {
		x := amplitude * math.Sin(2*math.Pi*hertz*float64(i)/float64(rate))
		frames[i] = [2]float64{x, x}
	}
	m.Add(frames)
}

// TestKnownLoudness measures the signals of EBU Tech 3341 (table 1, tests 1 to 5), which must come out
// within 0.1 LU; a tone of 997 Hz in one ear at full scale is -3.01 LUFS (ITU-R BS.1770-4, annex 1).
func TestKnownLoudness(t *testing.T) {
	type part struct{ level, seconds float64 }
	for _, rate := range []int{44100, 48000} {
		for _, test := range []struct {
			parts []part
			want  float64
		}{
			{[]part{{-23, 20}}, -23},
			{[]part{{-33, 20}}, -33},
			{[]part{{-36, 10}, {-23, 60}, {-36, 10}}, -23},
			{[]part{{-72, 10}, {-36, 10}, {-23, 60}, {-36, 10}, {-72, 10}}, -23},
			{[]part{{-26, 20}, {-20, 20.1}, {-26, 20}}, -23},
		} {
			m := NewMeter(rate)
			for _, p := range test.parts {
				sine(m, rate, 1000, p.level, p.seconds)
			}
			assert.InDelta(t, test.want, m.Loudness(), 0.1, "%d: %v", rate, test.parts)
		}
		m := NewMeter(rate)
		frames := make([][2]float64, 5*rate)
		for i := range frames {
			frames[i][0] = math.Sin(2 * math.Pi * 997 * float64(i) / float64(rate))
		}
		m.Add(frames)
		assert.InDelta(t, -3.01, m.Loudness(), 0.02)
		assert.InDelta(t, 1, m.Peak(), 1e-4)
	}
}

// TestSilence has no loudness, nor has less than a block.
func TestSilence(t *testing.T) {
	m := NewMeter(48000)
	assert.Equal(t, math.Inf(-1), m.Loudness())
	m.Add(make([][2]float64, 48000))
	assert.Equal(t, math.Inf(-1), m.Loudness())
	assert.Zero(t, m.Peak())
	short := NewMeter(48000)
	sine(short, 48000, 1000, -23, 0.39)
	assert.Equal(t, math.Inf(-1), short.Loudness())
}

// TestMeasuringInPieces gives the same as measuring at once.
func TestMeasuringInPieces(t *testing.T) {
	frames := make([][2]float64, 96000)
	for i := range frames {
		frames[i] = [2]float64{math.Sin(float64(i) / 9), math.Sin(float64(i) / 70)}
	}
	whole, pieces := NewMeter(48000), NewMeter(48000)
	whole.Add(frames)
	for len(frames) > 0 {
		n := min(len(frames), 1001)
		pieces.Add(frames[:n])
		frames = frames[n:]
	}
	assert.Equal(t, whole.Loudness(), pieces.Loudness())
}
