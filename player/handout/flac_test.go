package handout_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"testing"

	"github.com/mewkiz/flac"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
)

// TestFLACHoldsTheSamplesOfTheWAVFile: decoded, they are the same, and the file's checksum is theirs.
func TestFLACHoldsTheSamplesOfTheWAVFile(t *testing.T) {
	timeline := lantern(t)
	for _, bits := range []int{16, 24} {
		track := handout.ClickTrack{Options: wholeRoutine(), Sounds: player.Sounds{Kit: audio.NewKit(48000)},
			Levels: player.DefaultLevels([2]bool{true, true}), Rate: 48000, Bits: bits}
		track.Part = timeline.Passage(0)
		track.Settings.FeetApart = bits == 24 // so that the ears differ
		var parts []float64
		track.Progress = func(part float64) { parts = append(parts, part) }
		var wav, packed bytes.Buffer
		require.NoError(t, track.WAV(&wav, timeline))
		parts = nil
		require.NoError(t, track.FLAC(&packed, timeline))
		assert.IsNonDecreasing(t, parts)
		assert.InDelta(t, 1, parts[len(parts)-1], 1e-9)
		assert.Less(t, packed.Len(), wav.Len()/2)

		stream, err := flac.New(&packed)
		require.NoError(t, err)
		assert.EqualValues(t, bits, stream.Info.BitsPerSample)
		var pcm []byte
		for {
			f, err := stream.ParseNext()
			if err == io.EOF {
				break
			}
			require.NoError(t, err)
			for i := range f.Subframes[0].Samples {
				for _, channel := range f.Subframes {
					for b := 0; b < bits; b += 8 {
						pcm = append(pcm, byte(channel.Samples[i]>>b))
					}
				}
			}
		}
		assert.True(t, bytes.HasPrefix(wav.Bytes()[44:], pcm), "the samples are the same")
		assert.EqualValues(t, len(pcm), binary.LittleEndian.Uint32(wav.Bytes()[40:]))
		assert.EqualValues(t, len(pcm)/(2*bits/8), stream.Info.NSamples)
		assert.NotZero(t, stream.Info.MD5sum)
	}
}

// TestAFLACFileCanBeLongerThanAWAVFile: ten hours are more than the 4 GiB of a WAV file. FLAC starts to
// write them, and stops at once when the writer fails.
func TestAFLACFileCanBeLongerThanAWAVFile(t *testing.T) {
	timeline := lantern(t)
	track := handout.ClickTrack{Options: wholeRoutine(), Sounds: player.Sounds{Kit: audio.NewKit(48000)}, Rate: 48000, Bits: 16}
	track.Times, track.Settings.Percent = handout.MostTimes, 10
	hours := (timeline.Seconds(timeline.End) - timeline.Seconds(timeline.Start)) * 10 * handout.MostTimes / 3600
	require.Greater(t, hours*3600*48000*4, float64(1<<32), "%.1f hours", hours)

	var out bytes.Buffer
	assert.ErrorContains(t, track.WAV(&out, timeline), "do not fit into the 4 GiB that a WAV file can hold")
	assert.Zero(t, out.Len())
	assert.ErrorIs(t, track.FLAC(full{}, timeline), errFull)
}

var errFull = errors.New("no room")

// full is a full disk.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

// TestTheTrackIsOnTheTimesOfTheMIDIFile: parts, ladders and rests sound when the other kinds say they
// do.
func TestTheTrackIsOnTheTimesOfTheMIDIFile(t *testing.T) {
	timeline := lantern(t)
	for _, o := range variants(timeline) {
		o.Before = 0
		track := handout.ClickTrack{Options: o, Sounds: player.Sounds{Kit: audio.NewKit(48000)}, Levels: audio.Levels{player.ClickLayer: 1}, Rate: 48000, Bits: 16}
		var out bytes.Buffer
		require.NoError(t, track.WAV(&out, timeline))
		file := midiOf(t, timeline, o)
		var want []float64
		for _, e := range file.track(t, "Click") {
			if !e.meta && e.status == 0x99 {
				want = append(want, file.seconds(e.tick))
			}
		}
		got := onsets(t, out.Bytes(), 48000)
		require.Len(t, got, len(want))
		for i := range want {
			assert.InDelta(t, want[i], float64(got[i])/48000, 2e-4, "click %d", i)
		}
	}
}
