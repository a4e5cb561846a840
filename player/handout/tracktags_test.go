package handout_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"testing"

	"github.com/gopxl/beep/v2/wav"
	"github.com/mewkiz/flac"
	"github.com/mewkiz/flac/meta"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/loudness"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/captions"
)

// riff returns the chunks of a WAV file, or of a list in it, by their names; lists by what they hold.
func riff(t *testing.T, data []byte) map[string][]byte {
	t.Helper()
	chunks := map[string][]byte{}
	for len(data) > 0 {
		require.Greater(t, len(data), 8)
		name, size := string(data[:4]), int(binary.LittleEndian.Uint32(data[4:]))
		require.LessOrEqual(t, 8+size+size%2, len(data), name)
		body := data[8 : 8+size]
		if name == "LIST" {
			name, body = string(body[:4]), body[4:]
		}
		if name == "labl" {
			name += string(rune('0' + body[0]))
		}
		chunks[name] = body
		data = data[8+size+size%2:]
	}
	return chunks
}

// TestTracksSayWhatTheyAre: a WAV file has texts, and a cue point with a label where each figure begins; a
// FLAC file has the same as comments.
func TestTracksSayWhatTheyAre(t *testing.T) {
	timeline, o := lantern(t), wholeRoutine()
	track := handout.ClickTrack{Options: o, Sounds: player.Sounds{Kit: audio.NewKit(48000)}, Levels: player.DefaultLevels(o.Shown), Rate: 48000, Bits: 16}
	chapters := vtt(t, captions.Figures, timeline, o)

	var out bytes.Buffer
	require.NoError(t, track.WAV(&out, timeline))
	require.EqualValues(t, out.Len()-8, binary.LittleEndian.Uint32(out.Bytes()[4:]))
	chunks := riff(t, out.Bytes()[12:])
	info := riff(t, chunks["INFO"])
	assert.Equal(t, "Lantern Night cha-cha\x00", string(info["INAM"]))
	assert.Equal(t, "Cha-cha\x00", string(info["IGNR"]))
	assert.Equal(t, "28 bars/min\x00", string(info["ICMT"]))
	cues, labels := chunks["cue "], riff(t, chunks["adtl"])
	require.EqualValues(t, len(chapters), binary.LittleEndian.Uint32(cues))
	for i, c := range chapters[:9] {
		point := cues[4+24*i:][:24]
		assert.EqualValues(t, i+1, binary.LittleEndian.Uint32(point))
		assert.Equal(t, "data", string(point[8:12]))
		assert.InDelta(t, c.from, float64(binary.LittleEndian.Uint32(point[20:]))/48000, 0.001)
		assert.Equal(t, c.text+"\x00", string(labels["labl"+string(rune('1'+i))][4:]))
	}

	out.Reset()
	require.NoError(t, track.FLAC(&out, timeline))
	stream, err := flac.Parse(bytes.NewReader(out.Bytes()))
	require.NoError(t, err)
	require.Len(t, stream.Blocks, 1)
	comments := stream.Blocks[0].Body.(*meta.VorbisComment).Tags
	for _, want := range [][2]string{{"TITLE", "Lantern Night cha-cha"}, {"GENRE", "Cha-cha"}, {"COMMENT", "28 bars/min"}, {"BPM", "112"}, {"CHAPTER000", "00:00:00.000"},
		{"CHAPTER001", "00:00:02.143"}, {"CHAPTER001NAME", "Closed basic"}} {
		assert.Contains(t, comments, want)
	}
}

// TestATrackIsAsLoudAsWanted, or as loud as its peaks allow, and says so: in the loudness of a broadcast
// wave file (EBU Tech 3285, where it stands 412 bytes in), and in ReplayGain's tags. Measured again it
// is that loud.
func TestATrackIsAsLoudAsWanted(t *testing.T) {
	timeline, o := lantern(t), wholeRoutine()
	track := handout.ClickTrack{Options: o, Sounds: player.Sounds{Kit: audio.NewKit(48000)}, Levels: player.DefaultLevels(o.Shown), Rate: 48000, Bits: 24}
	for _, test := range []struct {
		wanted float64
		peak   bool // is what limits it
	}{{-38, false}, {handout.UsualLoudness, true}} {
		track.Loudness = test.wanted
		var out bytes.Buffer
		require.NoError(t, track.WAV(&out, timeline))
		heard := loudness.NewMeter(48000)
		s, _, err := wav.Decode(bytes.NewReader(out.Bytes()))
		require.NoError(t, err)
		buf := make([][2]float64, 4096)
		for n, ok := s.Stream(buf); ok; n, ok = s.Stream(buf) {
			heard.Add(buf[:n])
		}
		if test.peak {
			assert.InDelta(t, 0.891, heard.Peak(), 1e-4)
			assert.Less(t, heard.Loudness(), test.wanted)
		} else {
			assert.InDelta(t, test.wanted, heard.Loudness(), 0.01)
			assert.Less(t, heard.Peak(), 0.891)
		}
		chunks := riff(t, out.Bytes()[12:])
		stated := float64(int16(binary.LittleEndian.Uint16(chunks["bext"][412:]))) / 100
		assert.InDelta(t, heard.Loudness(), stated, 0.011)
		assert.Len(t, chunks["bext"], 602)
		assert.Contains(t, string(riff(t, chunks["INFO"])["ICMT"]), fmt.Sprintf(", %.1f LUFS", heard.Loudness()))

		out.Reset()
		require.NoError(t, track.FLAC(&out, timeline))
		stream, err := flac.Parse(&out)
		require.NoError(t, err)
		assert.Contains(t, stream.Blocks[0].Body.(*meta.VorbisComment).Tags, [2]string{"REPLAYGAIN_TRACK_GAIN", fmt.Sprintf("%.2f dB", -18-heard.Loudness())})
	}
}
