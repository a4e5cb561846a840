//go:build rivals

package timestretch_test

import (
	"encoding/binary"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/music/timestretch"
	"dance.example/slowquick/testdata/thorough"
	"github.com/gopxl/beep/v2"
)

// TestBesideRivals logs how programs that do the same work fare on the signals
// by which this package is judged; rivals.sh installs them. Their median error
// is subtracted, so starting late does not count against them. -short uses one
// seed and one speed.
func TestBesideRivals(t *testing.T) {
	ways := []struct {
		name string
		way  way
	}{
		{"splices", ours},
		{"SoundTouch", program("soundstretch", func(in, out string, speed float64) []string {
			return []string{in, out, fmt.Sprintf("-tempo=%.4f", 100*(speed-1))}
		})},
		{"sox -m", program("sox", func(in, out string, speed float64) []string {
			return []string{in, out, "tempo", "-m", fmt.Sprint(speed)}
		})},
		{"Rubber Band R2", program("rubberband", func(in, out string, speed float64) []string {
			return []string{"-q", "-2", "-T", fmt.Sprint(speed), in, out}
		})},
		{"Rubber Band R3", program("rubberband", func(in, out string, speed float64) []string {
			return []string{"-q", "-3", "-T", fmt.Sprint(speed), in, out}
		})},
	}
	seeds, speeds := judgingSeeds, []float64{0.6, 0.75, 0.9, 1.1}
	if !thorough.Asked() {
		seeds, speeds = seeds[:1], speeds[1:2]
	}
	var sets []*signals
	for _, seed := range seeds {
		sets = append(sets, makeSignals(seed))
	}
	for _, speed := range speeds {
		for _, w := range ways {
			var f figures
			for _, s := range sets {
				f.judge(t, s, speed, w.way)
			}
			if f.music.n == 0 || f.plain.n == 0 {
				t.Errorf("%s: nothing was measured", w.name)
			}
			f.plain, f.bedded = f.plain.centred(), f.bedded.centred()
			t.Logf("%.2f %-14s %v", speed, w.name, f)
		}
	}
}

// program returns a way that stretches with a program which reads and writes
// WAV files.
func program(name string, args func(in, out string, speed float64) []string) way {
	return func(t testing.TB, s timestretch.Sound, speed float64) [][2]float64 {
		t.Helper()
		folder := t.TempDir()
		in, out := filepath.Join(folder, "in.wav"), filepath.Join(folder, "out.wav")
		file, err := os.Create(in)
		if err != nil {
			t.Fatal(err)
		}
		frames := wave(s)
		source := beep.StreamerFunc(func(samples [][2]float64) (int, bool) {
			n := copy(samples, frames)
			frames = frames[n:]
			return n, true
		})
		if err := audio.WriteWAV(file, source, s.Rate, 16, int64(len(frames))); err != nil {
			t.Fatal(err)
		}
		if err := file.Close(); err != nil {
			t.Fatal(err)
		}
		if said, err := exec.Command(name, args(in, out, speed)...).CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", name, err, said)
		}
		return readWAV(t, out)
	}
}

// readWAV reads 16-bit stereo.
func readWAV(t testing.TB, name string) [][2]float64 {
	t.Helper()
	raw, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for at := 12; at+8 <= len(raw); {
		size := int(binary.LittleEndian.Uint32(raw[at+4:]))
		body := raw[at+8 : min(at+8+size, len(raw))]
		if string(raw[at:at+4]) != "data" {
			at += 8 + size + size%2
			continue
		}
		frames := make([][2]float64, len(body)/4)
		for i := range frames {
			for c := range 2 {
				frames[i][c] = float64(int16(binary.LittleEndian.Uint16(body[4*i+2*c:]))) / 32768
			}
		}
		return frames
	}
	t.Fatalf("%s holds no samples", name)
	return nil
}
