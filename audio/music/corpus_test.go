//go:build music

package music_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/music"
)

// piece is music with known beats.
type piece struct {
	id      string
	wav     string
	metre   int
	tempi   music.Range
	tempo   float64 // beats a minute, the median
	seconds []float64
	numbers []int
}

// isTempo reports whether a tempo in beats a minute is the piece's, within the
// 4 % that evaluations of tempo allow (Gouyon et al., IEEE Transactions on
// Audio, Speech and Language Processing 14, 2006).
func (p piece) isTempo(bpm float64) bool { return bpm > p.tempo*0.96 && bpm < p.tempo*1.04 }

// madeMusic returns what testdata/make-music.sh made in the folder that MUSIC names.
func madeMusic(t *testing.T) (all []piece) {
	folder := os.Getenv("MUSIC")
	require.NotEmpty(t, folder, "MUSIC names no folder; audio/music/testdata/make-music.sh FOLDER makes one")
	list, err := os.ReadFile(filepath.Join(folder, "pieces.tsv"))
	require.NoError(t, err)
	for line := range strings.Lines(string(list)) {
		w := strings.Split(line, "\t")
		require.Len(t, w, 7, line)
		var n [5]float64
		for i := range n {
			n[i], err = strconv.ParseFloat(w[i+1], 64)
			require.NoError(t, err, line)
		}
		p := piece{id: w[0], wav: filepath.Join(folder, w[0]+".wav"), metre: int(n[0]), tempi: music.Range{Min: n[3], Max: n[4]}}
		score, err := os.ReadFile(filepath.Join(folder, p.id+".mid"))
		require.NoError(t, err)
		const end = 104 // seconds; the sound is cut off at 105
		for i, s := range beatsOf(t, score, n[1], n[2], end) {
			p.seconds, p.numbers = append(p.seconds, s), append(p.numbers, i%p.metre+1)
		}
		require.Greater(t, len(p.seconds), 40, p.id)
		between := make([]float64, len(p.seconds)-1)
		for i := range between {
			between[i] = p.seconds[i+1] - p.seconds[i]
		}
		slices.Sort(between)
		p.tempo = 60 / between[len(between)/2]
		if p.tempi.Max == 0 {
			p.tempi = music.Range{Min: p.tempo * 0.75, Max: p.tempo * 1.25}
		}
		all = append(all, p)
	}
	return all
}

// beatsOf returns the times of the beats in a Standard MIDI File, by its tempo
// map: each beat is that many quarters long, all are later by the given
// seconds, and they go on until the last note or end.
func beatsOf(t *testing.T, file []byte, quarters, later, end float64) (beats []float64) {
	type tempo struct {
		tick    int
		seconds float64 // of a quarter
	}
	tempi, last := []tempo{{0, 0.5}}, 0
	ticks := int(binary.BigEndian.Uint16(file[12:]))
	for rest := file[14:]; len(rest) >= 8; {
		size := int(binary.BigEndian.Uint32(rest[4:]))
		track := bytes.NewBuffer(rest[8 : 8+size])
		rest = rest[8+size:]
		number := func() (n int) { // a variable-length number
			for {
				b, err := track.ReadByte()
				require.NoError(t, err)
				if n = n<<7 | int(b&0x7f); b < 0x80 {
					return n
				}
			}
		}
		tick, running := 0, byte(0)
		for track.Len() > 0 {
			tick += number()
			status, err := track.ReadByte()
			require.NoError(t, err)
			if status < 0x80 {
				require.NoError(t, track.UnreadByte())
				status = running
			}
			switch {
			case status == 0xff:
				kind, err := track.ReadByte()
				require.NoError(t, err)
				if body := track.Next(number()); kind == 0x51 {
					us := int(body[0])<<16 | int(body[1])<<8 | int(body[2])
					tempi = append(tempi, tempo{tick, float64(us) / 1e6})
				}
			case status >= 0xf0:
				track.Next(number())
			default:
				running = status
				if track.Next(1); status&0xe0 != 0xc0 {
					track.Next(1)
				}
				if status&0xe0 == 0x80 {
					last = max(last, tick)
				}
			}
		}
	}
	slices.SortStableFunc(tempi, func(a, b tempo) int { return a.tick - b.tick })
	now, at := later, 0
	for i, next := 0, 0; next < last; next += int(quarters * float64(ticks)) {
		for i+1 < len(tempi) && tempi[i+1].tick <= next {
			now += float64(tempi[i+1].tick-at) / float64(ticks) * tempi[i].seconds
			i, at = i+1, tempi[i+1].tick
		}
		now += float64(next-at) / float64(ticks) * tempi[i].seconds
		if at = next; now >= end {
			break
		}
		beats = append(beats, now)
	}
	return beats
}

// judged counts how the beats of pieces were found.
type judged struct {
	n, tempo, bar, sureOfBeat, sureAndRight, sureOfBar, sureBarRight int
	f, aubio                                                         float64
	soundTouch, soundTouchFolded                                     int // tempi right as they are, and after folding by octaves into the range
}

func (j judged) String() string {
	s := fmt.Sprintf("%d pieces: F %.3f, tempo right %d, bar start right %d; sure of the beat %d, F > 0.9 of them %d; sure of the bar %d, right %d",
		j.n, j.f/float64(j.n), j.tempo, j.bar, j.sureOfBeat, j.sureAndRight, j.sureOfBar, j.sureBarRight)
	if j.aubio > 0 {
		s += fmt.Sprintf("; aubio F %.3f", j.aubio/float64(j.n))
	}
	if j.soundTouchFolded > 0 {
		s += fmt.Sprintf("; SoundTouch's tempo right %d, folded into the range %d", j.soundTouch, j.soundTouchFolded)
	}
	return s
}

func (j *judged) add(o judged) {
	j.n, j.tempo, j.bar, j.sureOfBeat, j.sureAndRight = j.n+o.n, j.tempo+o.tempo, j.bar+o.bar, j.sureOfBeat+o.sureOfBeat, j.sureAndRight+o.sureAndRight
	j.sureOfBar, j.sureBarRight, j.f, j.aubio = j.sureOfBar+o.sureOfBar, j.sureBarRight+o.sureBarRight, j.f+o.f, j.aubio+o.aubio
	j.soundTouch, j.soundTouchFolded = j.soundTouch+o.soundTouch, j.soundTouchFolded+o.soundTouchFolded
}

func one(is bool) int {
	if is {
		return 1
	}
	return 0
}

// TestBeatsOfMadeMusic finds the beats of music with known beats, each within
// the tempi of its dance. The thresholds of confidence were set on every second
// piece; the others show what they are worth.
func TestBeatsOfMadeMusic(t *testing.T) {
	var halves [2]judged
	for i, p := range madeMusic(t) {
		s, err := music.ReadFile(context.Background(), p.wav, music.Options{})
		require.NoError(t, err)
		g := listen(t, s).Find(p.tempi, p.metre)
		j := judged{n: 1, f: fMeasure(p.seconds, g.Seconds()), aubio: aubio(t, p), bar: one(barRight(p.seconds, p.numbers, g))}
		j.tempo = one(p.isTempo(g.Tempo))
		theirs := soundTouch(t, p)
		j.soundTouch, j.soundTouchFolded = one(p.isTempo(theirs)), one(p.isTempo(folded(theirs, p.tempi)))
		j.sureOfBeat, j.sureOfBar = one(g.SureOfBeat()), one(g.SureOfBar())
		j.sureAndRight, j.sureBarRight = j.sureOfBeat*one(j.f > 0.9), j.sureOfBar*j.bar
		t.Logf("%-12s %6.2f of %6.2f beats/min, F %.3f (aubio %.3f, SoundTouch %.1f), bar start %-5v strength %.2f, phase %.2f, bar %.2f, steady %v",
			p.id, g.Tempo, p.tempo, j.f, j.aubio, theirs, j.bar == 1, g.Strength, g.Phase, g.Bar, g.Steady)
		halves[i%2].add(j)
	}
	var all judged
	all.add(halves[0])
	all.add(halves[1])
	t.Log("set on:     ", halves[0])
	t.Log("reported on:", halves[1])
	t.Log("all:        ", all)
	assert.GreaterOrEqual(t, all.f/float64(all.n), 0.97)
	assert.Equal(t, all.n, all.tempo)
	for _, half := range halves {
		assert.GreaterOrEqual(t, float64(half.bar), 0.85*float64(half.n))
		assert.GreaterOrEqual(t, float64(half.sureBarRight), 0.95*float64(half.sureOfBar))
		assert.GreaterOrEqual(t, float64(half.sureAndRight), 0.95*float64(half.sureOfBeat))
	}
}

// TestDamagedMusic is like [TestDamagedSongs], with files as large as songs.
func TestDamagedMusic(t *testing.T) {
	for _, kind := range []string{".wav", ".flac", ".ogg", ".mp3"} {
		whole, err := os.ReadFile(filepath.Join(os.Getenv("MUSIC"), "short"+kind))
		require.NoError(t, err)
		hurt(t, kind, whole, 500, 300)
	}
}

// aubio returns how well the program aubiotrack, which is given no range, finds
// the beats; 0 if it is not installed.
func aubio(t *testing.T, p piece) float64 {
	program, err := exec.LookPath("aubiotrack")
	if err != nil {
		return 0
	}
	out, err := exec.Command(program, "-i", p.wav).Output()
	require.NoError(t, err)
	var found []float64
	for _, w := range strings.Fields(string(out)) {
		s, err := strconv.ParseFloat(w, 64)
		require.NoError(t, err)
		found = append(found, s)
	}
	return fMeasure(p.seconds, found)
}

// soundTouch returns the tempo in beats a minute that the program soundstretch,
// which is given no range, finds; 0 if it finds none or is not installed.
func soundTouch(t *testing.T, p piece) (bpm float64) {
	program, err := exec.LookPath("soundstretch")
	if err != nil {
		return 0
	}
	out, err := exec.Command(program, p.wav, "-bpm").CombinedOutput()
	require.NoError(t, err)
	if _, said, ok := strings.Cut(string(out), "Detected BPM rate "); ok {
		bpm, err = strconv.ParseFloat(strings.TrimRight(strings.Fields(said)[0], "."), 64)
		require.NoError(t, err)
	}
	return bpm
}

// folded doubles or halves a tempo until it is in a range, if it can be.
func folded(bpm float64, r music.Range) float64 {
	for bpm > 0 && bpm < r.Min {
		bpm *= 2
	}
	for bpm > r.Max {
		bpm /= 2
	}
	return bpm
}
