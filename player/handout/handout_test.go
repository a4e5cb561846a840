package handout_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/gopxl/beep/v2/wav"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/voice"
	"dance.example/slowquick/library"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/routine"
)

// shipped is the library of all tests: its chapters are read once.
var shipped = library.Open()

// wholeRoutine dances the whole routine once, at its own tempo and after a bar that is counted, and
// shows both partners' steps.
func wholeRoutine() handout.Options {
	return handout.Options{Settings: player.DefaultSettings(), Times: 1, Shown: [2]bool{true, true}}
}

// lantern returns the example sheet with two figures of its own tempo.
func lantern(t testing.TB) *player.Timeline {
	t.Helper()
	text, err := shipped.Sheet("lantern-night-cha-cha")
	require.NoError(t, err)
	score, found := routine.Read("lantern.md", text, shipped)
	require.Empty(t, found)
	return player.NewTimeline(score)
}

// onsets finds where something begins to sound, with a detector of its own: a sample four times as loud
// as what still rings (which decays by 1 % a millisecond).
func onsets(t *testing.T, file []byte, rate int) (frames []int64) {
	t.Helper()
	path := t.TempDir() + "/track.wav"
	require.NoError(t, os.WriteFile(path, file, 0o600))
	f, err := os.Open(path)
	require.NoError(t, err)
	s, format, err := wav.Decode(f)
	require.NoError(t, err)
	defer s.Close()
	require.EqualValues(t, rate, format.SampleRate)
	buf := make([][2]float64, 4096)
	ring, last := 0.0, int64(-rate)
	for at := int64(0); ; {
		n, ok := s.Stream(buf)
		if !ok {
			return frames
		}
		for _, sample := range buf[:n] {
			x := math.Abs(sample[0])
			if x > 0.05 && x > 4*ring && at-last > int64(rate)/10 {
				frames, last = append(frames, at), at
			}
			ring = max(x, ring*(1-10/float64(rate)))
			at++
		}
	}
}

// nearest rounds half a frame up, even if floating point falls slightly short of it.
func nearest(frame float64) int64 { return int64(math.Floor(frame + 0.5 + 1e-6)) }

func TestEveryClickIsOnItsFrame(t *testing.T) {
	timeline := lantern(t)
	for _, format := range []struct{ rate, bits int }{{48000, 16}, {44100, 24}} {
		var out bytes.Buffer
		track := handout.ClickTrack{Options: handout.Options{Settings: player.Settings{Percent: 80, LeadIn: 1}}, Sounds: player.Sounds{Kit: audio.NewKit(format.rate)}, Levels: player.DefaultLevels([2]bool{true, true}), Rate: format.rate, Bits: format.bits}
		require.NoError(t, track.WAV(&out, timeline))
		// The lead-in is one bar of 4/4 at 80 % of the sheet's 28 bars a minute.
		beat := 60 / (28 * 4 * 0.8)
		var want []int64
		for k := range 4 {
			want = append(want, nearest(float64(k)*beat*float64(format.rate)))
		}
		for _, e := range timeline.Events {
			want = append(want, nearest((4*beat+timeline.Seconds(e.At)/0.8)*float64(format.rate)))
		}
		assert.Equal(t, want, onsets(t, out.Bytes(), format.rate))
	}
}

func TestWhatCanNotBeWritten(t *testing.T) {
	timeline := lantern(t)
	err := handout.ClickTrack{Options: wholeRoutine(), Rate: 22050, Bits: 16}.WAV(&bytes.Buffer{}, timeline)
	assert.ErrorContains(t, err, "22050 frames a second")
	err = handout.ClickTrack{Options: wholeRoutine(), Rate: 48000, Bits: 8}.WAV(&bytes.Buffer{}, timeline)
	assert.Error(t, err)
}

// TestJSONTellsTheTimeline reads the document as a program would, and adds up the lengths of its events.
func TestJSONTellsTheTimeline(t *testing.T) {
	timeline := lantern(t)
	half := wholeRoutine()
	half.Settings.Percent = 50
	var out bytes.Buffer
	require.NoError(t, handout.JSON(&out, timeline, half))
	var doc struct {
		BeatsPerMinute, Start, End, Seconds float64
		Figures                             []struct{ Name string }
		Events                              []struct {
			Beat, Length, Seconds float64
			Figure                int
			Leader, Follower      string
		}
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &doc))
	assert.Equal(t, 56.0, doc.BeatsPerMinute) // half of 28 bars of 4
	require.Len(t, doc.Events, len(timeline.Events))
	at := doc.Start
	for i, e := range doc.Events {
		assert.InDelta(t, at, e.Beat, 1e-9, "event %d", i)
		at += e.Length
		if s := timeline.Events[i].Steps[routine.Follower]; s != nil {
			assert.Equal(t, s.String(), e.Follower)
		}
	}
	assert.InDelta(t, doc.End, at, 1e-9)
	assert.Greater(t, doc.Seconds, doc.Events[len(doc.Events)-1].Seconds)
}

// BenchmarkWAV reports how many times faster than it plays a track is written.
func BenchmarkWAV(b *testing.B) {
	benchmark(b, player.Sounds{Kit: audio.NewKit(48000)}, player.DefaultLevels([2]bool{true, true}))
}

// BenchmarkEverything writes a track with voice, rhythm and steps.
func BenchmarkEverything(b *testing.B) {
	levels := player.DefaultLevels([2]bool{true, true})
	levels[player.RhythmLayer] = 0.5
	benchmark(b, everything(), levels)
}

func everything() player.Sounds {
	return player.Sounds{Kit: audio.NewKit(48000), Voice: voice.New(48000), Band: audio.NewBand(48000)}
}

func benchmark(b *testing.B, sounds player.Sounds, levels audio.Levels) {
	timeline := lantern(b)
	track := handout.ClickTrack{Options: wholeRoutine(), Sounds: sounds, Levels: levels, Rate: 48000, Bits: 16}
	var out bytes.Buffer
	var seconds float64
	for b.Loop() {
		out.Reset()
		require.NoError(b, track.WAV(&out, timeline))
		seconds += float64(out.Len()) / (4 * 48000)
	}
	b.ReportMetric(seconds/b.Elapsed().Seconds(), "x-realtime")
}

// TestNothingClipsAtFullLevel: with everything at full level, 1 dB of headroom is left.
func TestNothingClipsAtFullLevel(t *testing.T) {
	timeline := lantern(t)
	var levels audio.Levels
	for i := range levels {
		levels[i] = 1
	}
	track := handout.ClickTrack{Options: wholeRoutine(), Sounds: everything(), Levels: levels, Rate: 48000, Bits: 16}
	var out bytes.Buffer
	require.NoError(t, track.WAV(&out, timeline))
	peak := 0.0
	size := binary.LittleEndian.Uint32(out.Bytes()[40:])
	for sound := out.Bytes()[44:][:size]; len(sound) > 1; sound = sound[2:] {
		peak = max(peak, math.Abs(float64(int16(binary.LittleEndian.Uint16(sound)))/32768))
	}
	assert.Greater(t, peak, 0.5)
	assert.Less(t, 20*math.Log10(peak), -1.0, "dB of full scale")
}
