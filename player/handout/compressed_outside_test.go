//go:build outside

package handout_test

import (
	"bytes"
	"cmp"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/captions"
	"dance.example/slowquick/player/handout/encoder"
)

// TestOthersMeasureTheLoudness: ffmpeg's meter of EBU R 128 finds what a track says of itself.
func TestOthersMeasureTheLoudness(t *testing.T) {
	timeline, o := lantern(t), wholeRoutine()
	for _, wanted := range []float64{-35, handout.UsualLoudness} {
		track := handout.ClickTrack{Options: o, Sounds: player.Sounds{Kit: audio.NewKit(44100)}, Levels: player.DefaultLevels(o.Shown), Rate: 44100, Bits: 16, Loudness: wanted}
		path := written(t, "track.wav", func(out *bytes.Buffer) error { return track.WAV(out, timeline) })
		out, err := exec.Command("ffmpeg", "-hide_banner", "-nostats", "-i", path, "-af", "ebur128", "-f", "null", "-").CombinedOutput()
		require.NoError(t, err)
		found := regexp.MustCompile(`I: +(-[0-9.]+) LUFS`).FindAllSubmatch(out, -1)
		require.NotEmpty(t, found)
		info := riff(t, riff(t, []byte(readFile(t, path))[12:])["INFO"])
		assert.Contains(t, string(info["ICMT"]), ", "+string(found[len(found)-1][1])+" LUFS")
	}
}

// TestCompressedTracksKeepTheirTimes: of each program and format, ffmpeg decodes clicks on the frames of
// the WAV file, and ffprobe reads the title, the tempo and the chapters.
func TestCompressedTracksKeepTheirTimes(t *testing.T) {
	timeline := lantern(t)
	o := wholeRoutine()
	track := handout.ClickTrack{Options: o, Sounds: player.Sounds{Kit: audio.NewKit(48000)}, Levels: player.DefaultLevels(o.Shown), Rate: 48000, Bits: 16}
	plain := written(t, "track.wav", func(out *bytes.Buffer) error { return track.WAV(out, timeline) })
	want := onsets(t, readFile(t, plain), 48000)
	chapters := vtt(t, captions.Figures, timeline, o)
	all := os.Getenv("PATH")
	for _, c := range []struct {
		format        encoder.Format
		ending, tempo string
		programs      []string
	}{{encoder.MP3, ".mp3", "TBPM", []string{"ffmpeg", "lame"}}, {encoder.Opus, ".opus", "BPM", []string{"ffmpeg", "opusenc"}}, {encoder.AAC, ".m4a", "", []string{"ffmpeg"}}} {
		for _, name := range c.programs {
			path, err := exec.LookPath(name)
			require.NoError(t, err)
			bin := t.TempDir()
			require.NoError(t, os.Symlink(path, filepath.Join(bin, name)))
			t.Setenv("PATH", bin)
			p, err := encoder.Find(c.format)
			require.NoError(t, err)
			packed := written(t, "track"+c.ending, func(out *bytes.Buffer) error { return track.Compressed(t.Context(), out, p, timeline) })
			t.Setenv("PATH", all)

			decoded := filepath.Join(t.TempDir(), "decoded.wav")
			run(t, "ffmpeg", "-v", "error", "-i", packed, "-ar", "48000", decoded)
			shift := shiftOf(t, plain, decoded, want)
			t.Logf("%s by %s: shifted by %d frames", c.format, name, shift)
			assert.LessOrEqual(t, max(shift, -shift), 48, "%s by %s: a millisecond", c.format, name)

			type tags = map[string]string
			var found struct {
				Chapters []struct {
					Start string `json:"start_time"`
					Tags  tags
				}
				Format  struct{ Tags tags }
				Streams []struct{ Tags tags }
			}
			require.NoError(t, json.Unmarshal([]byte(run(t, "ffprobe", "-v", "error", "-show_chapters", "-show_format", "-show_streams", "-of", "json", packed)), &found))
			said := found.Format.Tags
			if said["title"] == "" { // Ogg has them in the stream
				said = found.Streams[0].Tags
			}
			assert.Equal(t, timeline.Score.Title, cmp.Or(said["title"], said["TITLE"])) // its keys are of either case
			if c.tempo != "" {                                                          // ffprobe doesn't show that of MP4
				assert.Equal(t, "112", said[c.tempo])
			}
			require.Len(t, found.Chapters, len(chapters))
			for i, chapter := range found.Chapters {
				start, err := strconv.ParseFloat(chapter.Start, 64)
				require.NoError(t, err)
				assert.InDelta(t, chapters[i].from, start, 0.002)
				assert.Equal(t, chapters[i].text, chapter.Tags["title"])
			}
		}
	}
}

// shiftOf returns by how many frames one track is later than another, by how well they agree around
// each click.
func shiftOf(t *testing.T, early, late string, clicks []int64) (best int) {
	t.Helper()
	a, b := samplesOf(t, early), samplesOf(t, late)
	most := 0.0
	for shift := -1500; shift <= 1500; shift++ {
		sum := 0.0
		for _, at := range clicks[1:min(len(clicks), 40)] {
			for i := int(at); i < int(at)+400; i++ {
				if k := i + shift; k >= 0 && k < len(b) && i < len(a) {
					sum += a[i] * b[k]
				}
			}
		}
		if sum > most {
			most, best = sum, shift
		}
	}
	return best
}

// samplesOf returns the left ear of a WAV file of 16 bits.
func samplesOf(t *testing.T, path string) (list []float64) {
	t.Helper()
	raw := []byte(run(t, "sox", path, "-t", "raw", "-e", "signed", "-b", "16", "-c", "2", "-"))
	for i := 0; i+3 < len(raw); i += 4 {
		list = append(list, float64(int16(uint16(raw[i])|uint16(raw[i+1])<<8))/(1<<15))
	}
	return list
}

func readFile(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return data
}
