package device

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// marked returns a microphone that has recorded for some seconds at a pace, with positions that are
// off by up to 1 ms in turn, and one stray.
func marked(seconds float64, pace float64) *Microphone {
	m := &Microphone{rate: 48000, samples: make([]float32, int(seconds*48000))}
	for i := range int(seconds * 20) {
		at := float64(i) * 2400
		m.marks = append(m.marks, sound{at, 10000 + pace*at + []float64{-48, 48}[i%2]})
	}
	m.marks[5].frame += 4800
	return m
}

func TestWhatWasHeardAtASample(t *testing.T) {
	for _, pace := range []float64{1, 1.0002, 0.9995} {
		take, err := marked(30, pace).Take()
		require.NoError(t, err)
		assert.InDelta(t, pace, take.Pace, 1e-5)
		for _, at := range []float64{0, 30 * 24000, 30 * 48000} {
			assert.InDelta(t, 10000+pace*at, take.At(at), 12, "a quarter of a millisecond")
		}
	}
	short, err := marked(3, 1.0002).Take()
	require.NoError(t, err)
	assert.InDelta(t, 1, short.Pace, 0, "too short to tell")
}

func TestTooLittleWasRecorded(t *testing.T) {
	_, err := (&Microphone{rate: 48000}).Take()
	assert.EqualError(t, err, "the microphone has recorded nothing")
}

func TestPlayedLinesUp(t *testing.T) {
	take := Take{Samples: make([]float32, 4), Frame: 100.5, Pace: 1}
	got, err := take.Played(&counter{})
	require.NoError(t, err)
	whole, err := Take{Samples: make([]float32, 5), Frame: 100, Pace: 1}.Played(&counter{})
	require.NoError(t, err)
	for i := range got {
		assert.InDelta(t, (whole[i]+whole[i+1])/2, got[i], 1e-6, "half way between two frames")
	}
	assert.NotEqual(t, whole[0], whole[1])
}

func TestRecordingIsBounded(t *testing.T) {
	m := &Microphone{rate: 1}
	m.record(make([]float32, 200))
	m.record(make([]float32, 200))
	assert.Len(t, m.samples, int(longest.Seconds()))
}
