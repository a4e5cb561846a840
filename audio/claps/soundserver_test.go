//go:build soundserver

package claps_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/claps"
	"dance.example/slowquick/audio/device"
	"dance.example/slowquick/audio/device/nullsink"
)

// dancer claps at frames.
type dancer struct {
	at    []int64
	sound []audio.Sound
}

func (d dancer) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	for i, at := range d.at {
		if at >= from && at < to {
			dst = append(dst, audio.Hit{Frame: at, Sound: d.sound[i], Gain: 1})
		}
	}
	return dst
}

// TestClapsIntoAVirtualMicrophone has a second program clap while our own sound plays, and a virtual
// microphone record both.
func TestClapsIntoAVirtualMicrophone(t *testing.T) {
	nullsink.Start(t)
	t.Setenv("PULSE_SOURCE", "out.monitor") // a virtual microphone
	var band []audio.Sound
	all := audio.NewBand(rate)
	for _, name := range sortedNames(all) {
		band = append(band, all[name])
	}
	for _, c := range []struct {
		name  string
		plays audio.Schedule
		echo  float64
		claps bool
	}{
		{"alone", nil, 0, true},
		{"over music", score{rate / 2, audio.NewKit(rate), band}, 0, true},
		{"in a room, over music", score{rate / 2, audio.NewKit(rate), band}, 0.5, true},
		{"music alone", score{rate / 2, audio.NewKit(rate), band}, 0, false},
		{"silence", nil, 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			random := rand.New(rand.NewPCG(3, 4))
			var d dancer
			for i := range 16 {
				if !c.claps {
					break
				}
				sound := aClap(random)
				if c.echo > 0 {
					wet := make([]float32, int(c.echo*rate))
					convolved(wet, sound, room(uint64(i), c.echo, 1), 0, 1)
					sound = sound[:0]
					for _, x := range wet {
						sound = append(sound, float64(x))
					}
				}
				d.at = append(d.at, int64(i+2)*rate/2+int64(random.NormFloat64()*0.02*rate))
				d.sound = append(d.sound, narrow(sound))
			}
			ours, theirs := audio.NewEngine(rate), audio.NewEngine(rate)
			ours.Play(c.plays)
			theirs.Play(d)
			line := device.Open(ours, rate, device.Options{})
			defer line.Close()
			other := device.Open(theirs, rate, device.Options{})
			defer other.Close()
			m, err := device.Listen(context.Background(), rate, line.Heard, nil)
			require.NoError(t, err)
			defer m.Close()
			var apart []float64
			for tick := time.NewTicker(50 * time.Millisecond); other.Heard(time.Now()) < 10*rate; <-tick.C {
				now := time.Now()
				apart = append(apart, line.Heard(now)-other.Heard(now))
			}
			take, err := m.Take()
			require.NoError(t, err)
			engine := audio.NewEngine(rate)
			engine.Play(c.plays)
			played, err := take.Played(engine)
			require.NoError(t, err)
			f := claps.Find(take.Samples, played, rate)
			slices.Sort(apart)
			var want, got []float64
			for _, at := range d.at {
				want = append(want, float64(at)+apart[len(apart)/2])
			}
			for _, at := range f.At {
				got = append(got, take.At(at)-f.Delay)
			}
			t.Logf("own sound heard: %v, %.2f ms late; pace %.6f, error %.3f ms", f.Own, f.Delay/rate*1000, take.Pace, take.Error/rate*1000)
			assert.Equal(t, c.plays != nil, f.Own)
			assert.InDelta(t, 0, f.Delay/rate*1000, 3, "the devices tell the truth")
			requireFound(t, want, got)
		})
	}
}

func narrow(signal []float64) audio.Sound {
	out := make(audio.Sound, len(signal))
	for i, s := range signal {
		out[i] = float32(s)
	}
	return out
}

func TestNoMicrophone(t *testing.T) {
	s := nullsink.Start(t) // whose only source is the monitor of its sink
	_, err := device.Listen(context.Background(), rate, func(time.Time) float64 { return 0 }, nil)
	require.Error(t, err)
	assert.Equal(t, "no microphone found", device.Plainly(err))
	s.Pactl("load-module", "module-remap-source", "master=out.monitor", "source_name=mic")
	s.Pactl("set-default-source", "mic")
	m, err := device.Listen(context.Background(), rate, func(time.Time) float64 { return 0 }, nil)
	require.NoError(t, err)
	assert.Equal(t, "mic", m.Name)
	m.Close()
	<-m.Done()
}
