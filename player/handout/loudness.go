package handout

import (
	"fmt"
	"math"

	"github.com/gopxl/beep/v2"

	"dance.example/slowquick/audio/loudness"
	"dance.example/slowquick/player/handout/encoder"
)

// UsualLoudness is how loud tracks are that say nothing else, in LUFS: about as loud as what is streamed
// to phones (EBU R 128 s2 recommends -20 to -16 LUFS).
const UsualLoudness = -16

// highest is the largest sample of a track whose loudness is set: 1 dB below full scale.
const highest = 0.891

// loud is how loud a track is once it is multiplied by gain.
type loud struct {
	gain       float64
	lufs, peak float64 // 0 if it wasn't measured
	done       float64 // the part of the work that was to measure it, from 0 to 1
}

// measure listens to a track of that many frames, which is to be as loud as wanted, in LUFS.
func measure(s beep.Streamer, frames int64, rate int, wanted float64) loud {
	meter := loudness.NewMeter(rate)
	buf := make([][2]float64, 4096)
	for left := frames; left > 0; {
		n, ok := s.Stream(buf[:min(left, int64(len(buf)))])
		if !ok {
			break // writing will say why
		}
		meter.Add(buf[:n])
		left -= int64(n)
	}
	if meter.Peak() == 0 || math.IsInf(meter.Loudness(), 0) {
		return loud{gain: 1}
	}
	gain := min(math.Pow(10, (wanted-meter.Loudness())/20), highest/meter.Peak())
	return loud{gain: gain, lufs: meter.Loudness() + 20*math.Log10(gain), peak: gain * meter.Peak()}
}

// tag says how loud the track is.
func (l loud) tag(tags *encoder.Tags) {
	if l.lufs != 0 {
		tags.Loudness, tags.Peak = l.lufs, l.peak
		tags.Comment += fmt.Sprintf(", %.1f LUFS", l.lufs)
	}
}

// scaled multiplies sound.
func scaled(s beep.Streamer, gain float64) beep.Streamer {
	return beep.StreamerFunc(func(samples [][2]float64) (n int, ok bool) {
		n, ok = s.Stream(samples)
		for i := range samples[:n] {
			samples[i][0] *= gain
			samples[i][1] *= gain
		}
		return n, ok
	})
}
