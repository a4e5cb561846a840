package voice_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/gopxl/beep/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/recording"
	"dance.example/slowquick/audio/voice"
)

const rate = 48000

// every has all counts that each language has words for.
var every = strings.Fields("one two three four five six seven eight nine ten eleven twelve and slow quick")

// said returns all that is said in each language.
func said() map[string][]string {
	return map[string][]string{
		"english": append(slices.Clone(every), "a", "e", "cha", "step", "ready"), "german": every, "french": every, "spanish": every, "italian": every,
	}
}

// eachWord calls check with every word of every language.
func eachWord(t *testing.T, check func(t *testing.T, word string, sound audio.Sound, moment int)) {
	for language, words := range said() {
		t.Run(language, func(t *testing.T) {
			say := shipped().In(language)
			for _, word := range words {
				sound, moment, ok := say(word)
				require.True(t, ok, word)
				check(t, word, sound, moment)
			}
		})
	}
}

// shipped is the voice that ships with the program. Tests share it, as decoding its words takes long.
var shipped = sync.OnceValue(func() *voice.Voice { return voice.New(rate) })

// TestEveryWordCanBeSaid checks that each word is short enough for its count,
// as loud as the others within 3 dB, and begins and ends in silence.
func TestEveryWordCanBeSaid(t *testing.T) {
	eachWord(t, func(t *testing.T, word string, sound audio.Sound, moment int) {
		seconds, most := float64(len(sound))/rate, 0.285
		switch word {
		case "and", "a", "e":
			most = 0.175 // half a beat of quickstep, the fastest, lasts 0.144 s; a quarter beat of samba 0.147 s
		}
		assert.Less(t, seconds, most, word)
		assert.True(t, 0 < moment && moment < rate*16/100, "%s: heard after %d frames", word, moment)
		level := 20 * math.Log10(rms(sound))
		assert.InDelta(t, -21, level, 3, word)
		assert.Less(t, peak(sound), 0.75, word)
		assert.Less(t, max(abs(sound[0]), abs(sound[len(sound)-1])), float32(0.02), word)
	})
	var total int64
	for language, words := range said() {
		files, err := os.ReadDir("words/" + language)
		require.NoError(t, err)
		assert.Len(t, files, len(words), language)
		for _, f := range files {
			info, err := f.Info()
			require.NoError(t, err)
			total += info.Size()
		}
	}
	assert.Less(t, total, int64(500_000), "bytes in all")
}

// TestEachLanguageHasItsOwnWords checks that none says what another does, and that what a language has no
// word for is said in English.
func TestEachLanguageHasItsOwnWords(t *testing.T) {
	v := shipped()
	heard := map[string]string{}
	for language := range said() {
		for _, word := range every {
			sound, _, _ := v.In(language)(word)
			assert.Empty(t, heard[fmt.Sprint(sound)], "%s, %s", language, word)
			heard[fmt.Sprint(sound)] = language
		}
		want, at, _ := v.In("english")("cha")
		sound, moment, ok := v.In(language)("cha")
		assert.True(t, ok)
		assert.Equal(t, want, sound, language)
		assert.Equal(t, at, moment, language)
	}
	want, _, _ := v.In("english")("one")
	sound, _, _ := v.In("that nobody speaks")("one")
	assert.Equal(t, want, sound)
	_, _, ok := v.In("german")("eins")
	assert.False(t, ok, "words are asked for in English")
}

func abs(x float32) float32 { return max(x, -x) }

func peak(s audio.Sound) (p float64) {
	for _, x := range s {
		p = max(p, math.Abs(float64(x)))
	}
	return p
}

func rms(s audio.Sound) float64 {
	sum := 0.0
	for _, x := range s {
		sum += float64(x) * float64(x)
	}
	return math.Sqrt(sum / float64(len(s)))
}

// TestFricativesAreHeardLate checks that the moment of "six" comes after its s,
// and later than that of "eight", which begins with its vowel (Morton, Marcus
// and Frankish, Psychological Review 83, 1976: with onsets at even distances
// "eight" sounds rushed and "six" late).
func TestFricativesAreHeardLate(t *testing.T) {
	v := shipped()
	_, six, _ := v.In("english")("six")
	_, eight, _ := v.In("english")("eight")
	assert.Greater(t, six, eight+rate*3/100)
	for _, word := range every {
		_, m, _ := v.In("english")(word)
		t.Logf("%-7s %3.0f ms", word, float64(m)*1000/rate)
	}
}

// rises returns where a word's level reaches three fifths of its peak, measured
// in another way: by a bank of Goertzel filters.
func rises(s []float64, rate int) int {
	hop := rate / 500
	size := 8 * hop
	near := make([]float64, size) // the sound around a place, through a Hann window
	energy := func(at int) float64 {
		for i := range near {
			near[i] = 0
			if j := at + i - size/2; j >= 0 && j < len(s) {
				near[i] = s[j] * (0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/float64(size)))
			}
		}
		sum := 0.0
		for f := 100.0; f <= 8000; f += 100 {
			// What first-order filters at 300 and 3000 Hz leave of it.
			weight := 1 / (1 + f*f/9e6) * (f * f / 9e4) / (1 + f*f/9e4)
			w := 2 * math.Cos(2*math.Pi*f/float64(rate))
			var a, b float64
			for _, x := range near {
				a, b = x+w*a-b, a
			}
			sum += weight * (a*a + b*b - w*a*b)
		}
		return math.Sqrt(sum)
	}
	var curve []float64
	for at := 0; at < len(s); at += hop {
		curve = append(curve, energy(at))
	}
	onset := slices.Max(curve) * 0.6
	return hop * slices.IndexFunc(curve, func(e float64) bool { return e >= onset })
}

// TestMomentsFallOnTheBeat renders each word so that its moment falls on a beat. Measured
// the other way, its level must reach three fifths of its peak within 5 ms of that beat.
func TestMomentsFallOnTheBeat(t *testing.T) {
	eachWord(t, func(t *testing.T, word string, sound audio.Sound, moment int) {
		const beat = 24000
		e := audio.NewEngine(rate)
		e.Play(hits{{Frame: beat - int64(moment), Sound: sound, Gain: 1}})
		frames := make([][2]float64, beat+len(sound))
		e.Stream(frames)
		left := make([]float64, len(frames))
		for i, f := range frames {
			left[i] = f[0]
		}
		const skipped = beat - rate/5 // where nothing sounds yet
		assert.InDelta(t, beat, skipped+rises(left[skipped:], rate), rate*5/1000, word)
	})
}

// hits is a schedule as a list.
type hits []audio.Hit

func (h hits) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	for _, hit := range h {
		if hit.Frame >= from && hit.Frame < to {
			dst = append(dst, hit)
		}
	}
	return dst
}

// TestAMomentThatIsKnown has a hiss of 80 ms, then a tone in the voice's band that rises
// within 10 ms. Its moment must be the middle of that rise, within 5 ms.
func TestAMomentThatIsKnown(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	sound := make([]float64, rate*3/10)
	begin, rise := rate*80/1000, rate*10/1000
	for i := range sound {
		switch {
		case i < begin:
			sound[i] = (random.Float64() - 0.5) * 0.1
		default:
			swell := min(float64(i-begin)/float64(rise), 1)
			sound[i] = 0.4 * swell * (math.Sin(2*math.Pi*700*float64(i)/rate) + 0.5*math.Sin(2*math.Pi*1200*float64(i)/rate)) / 1.5
		}
	}
	v, bad := shipped().With(fstest.MapFS{"lantern.wav": {Data: file(t, sound, rate)}})
	require.Empty(t, bad)
	_, moment, ok := v.In("english")("lantern")
	require.True(t, ok)
	assert.InDelta(t, begin+rise/2, moment, rate*5/1000)
}

// stream plays samples on both channels.
type stream struct{ rest []float64 }

func (s *stream) Stream(out [][2]float64) (n int, ok bool) {
	for n < len(out) && len(s.rest) > 0 {
		out[n] = [2]float64{s.rest[0], s.rest[0]}
		s.rest = s.rest[1:]
		n++
	}
	return n, n > 0
}

func (*stream) Err() error { return nil }

var _ beep.Streamer = (*stream)(nil)

// file returns samples as a WAV file.
func file(t testing.TB, samples []float64, rate int) []byte {
	var out bytes.Buffer
	require.NoError(t, audio.WriteWAV(&out, &stream{samples}, rate, 16, int64(len(samples))))
	return out.Bytes()
}

// TestOnesOwnRecordings checks that recordings replace the words they are named after, that
// each unusable one has an error which names it, and that the other words stay.
func TestOnesOwnRecordings(t *testing.T) {
	tone := make([]float64, 4410)
	for i := range tone {
		tone[i] = 0.5 * math.Sin(float64(i)/10)
	}
	good := file(t, tone, 44100)
	long := file(t, make([]float64, 5*44100), 44100)
	huge := append(bytes.Clone(good), make([]byte, 1<<20)...)
	sizeTooLarge := bytes.Clone(good)
	sizeTooLarge[43] = 0x7f
	noChannels := bytes.Clone(good)
	noChannels[22] = 0
	v, bad := shipped().With(fstest.MapFS{
		"One.wav": {Data: good}, "two.wav": {Data: good[:len(good)/2]}, "three.wav": {Data: []byte("RIFF")}, "four.wav": {Data: long},
		"five.wav": {Data: huge}, "six.wav": {Data: sizeTooLarge}, "seven.wav": {Data: noChannels}, "notes.txt": {Data: []byte("breathe")},
	})
	var named []string
	for _, err := range bad {
		_, rest, _ := strings.Cut(err.Error(), "read word ")
		name, _, _ := strings.Cut(rest, ":")
		named = append(named, name)
	}
	assert.ElementsMatch(t, []string{"two.wav", "three.wav", "four.wav", "five.wav", "six.wav", "seven.wav"}, named)
	sound, _, _ := v.In("english")("one")
	assert.InDelta(t, rate/10, len(sound), 20, "a tenth of a second, at the rate that was asked for")
	own, _, _ := v.In("english")("two")
	ours, _, _ := shipped().In("english")("two")
	assert.Equal(t, ours, own)

	many := fstest.MapFS{}
	for i := range 260 {
		many[string(rune('a'+i/26))+string(rune('a'+i%26))+".wav"] = &fstest.MapFile{Data: good}
	}
	v, bad = shipped().With(many)
	require.Len(t, bad, 1)
	assert.Contains(t, bad[0].Error(), "of 260 files only 256 are used")
	assert.Len(t, v.Own(), 256)
}

// TestKindsOfRecordings reads the same word in each format, made from words/english/one.flac by sox
// and lame. It must be as long as the WAV file and have its moment in the same place.
func TestKindsOfRecordings(t *testing.T) {
	want, moment, _ := shipped().In("english")("one")
	files, err := filepath.Glob("testdata/one.*")
	require.NoError(t, err)
	require.Len(t, files, 4)
	for _, path := range files {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		v, bad := shipped().With(fstest.MapFS{filepath.Base(path): {Data: data}})
		require.Empty(t, bad)
		sound, at, _ := v.In("english")("one")
		assert.InDelta(t, moment, at, rate*3/1000, path)
		assert.InDelta(t, len(want), len(sound), rate*120/1000, path)
		if kind := filepath.Ext(path); kind == ".flac" || kind == ".wav" { // which lose nothing
			assert.Equal(t, want, sound)
		} else {
			assert.NotEqual(t, want, sound, path)
		}
	}
}

// TestSilenceBeforeAWord checks that it does not make the word late: all but 20
// ms are cut off.
func TestSilenceBeforeAWord(t *testing.T) {
	for _, silence := range []int{0, 441, 13230, 44100} {
		samples := make([]float64, silence+4410)
		for i := range 4410 {
			samples[silence+i] = 0.5 * math.Cos(float64(i)/10)
		}
		v, bad := shipped().With(fstest.MapFS{"one.wav": {Data: file(t, samples, 44100)}})
		require.Empty(t, bad)
		sound, moment, _ := v.In("english")("one")
		stays := min(silence, 882)
		assert.InDelta(t, (stays+4410)*rate/44100, len(sound), 10, "of %d frames", silence)
		assert.InDelta(t, stays*rate/44100, moment, rate*5/1000, "of %d frames", silence)
	}
}

// TestSilenceAfterAWord checks that all but 20 ms are cut off.
func TestSilenceAfterAWord(t *testing.T) {
	samples := make([]float64, 2*44100)
	for i := range 4410 {
		samples[i] = 0.5 * math.Cos(float64(i)/10)
	}
	sound, err := voice.Decode(".wav", file(t, samples, 44100), rate)
	require.NoError(t, err)
	assert.InDelta(t, rate*12/100, len(sound), 10)
	_, err = voice.Decode(".txt", nil, rate)
	assert.ErrorIs(t, err, recording.ErrKind)
}

// TestLoudness checks that the words are at about -21 dB, as they were made.
func TestLoudness(t *testing.T) {
	v := shipped()
	assert.InDelta(t, -21, 20*math.Log10(v.Loudness()), 1)
	assert.InDelta(t, 0.25, voice.MeanSquare(audio.Sound{0.5, -0.5}), 1e-9)
	assert.Zero(t, voice.MeanSquare(nil))
}

// TestOnlyRegularFiles checks that nothing else is opened: a link may lead
// elsewhere, and a pipe never ends.
func TestOnlyRegularFiles(t *testing.T) {
	good := file(t, make([]float64, 100), 44100)
	folder := fstest.MapFS{
		"elsewhere/lantern.wav": {Data: good},
		"one.wav":               {Data: []byte("elsewhere/lantern.wav"), Mode: fs.ModeSymlink},
		"two.wav":               {Data: good, Mode: fs.ModeNamedPipe},
		"three.wav/four.wav":    {Data: good},
	}
	v, bad := shipped().With(folder)
	assert.Equal(t, []string{"read word one.wav: not a regular file", "read word two.wav: not a regular file"}, told(bad))
	assert.Empty(t, v.Own())
}

// TestOneFileForAWord checks that the first file by name is used, and that the
// others are reported.
func TestOneFileForAWord(t *testing.T) {
	v, bad := shipped().With(fstest.MapFS{
		"One.wav": {Data: file(t, make([]float64, 4410), 44100)},
		"one.mp3": {},
		"one.wav": {Data: file(t, make([]float64, 8820), 44100)},
	})
	assert.Equal(t, []string{"read word one.mp3: One.wav already has this word", "read word one.wav: One.wav already has this word"}, told(bad))
	sound, _, _ := v.In("english")("one")
	assert.InDelta(t, rate/10, len(sound), 20)
}

func told(bad []error) (list []string) {
	for _, err := range bad {
		list = append(list, err.Error())
	}
	return list
}

// FuzzRecordings checks that any file is either a word or an error.
func FuzzRecordings(f *testing.F) {
	f.Add(0, file(f, make([]float64, 100), 44100))
	f.Add(0, []byte("RIFF\x24\x00\x00\x00WAVEfmt \x10\x00\x00\x00"))
	kinds := []string{".wav", ".flac", ".ogg", ".mp3"}
	for i, kind := range kinds[1:] {
		data, err := os.ReadFile("testdata/one" + kind)
		require.NoError(f, err)
		f.Add(i+1, data)
		f.Add(i+1, data[:len(data)/2])
	}
	base := voice.New(8000)
	f.Fuzz(func(t *testing.T, kind int, data []byte) {
		v, bad := base.With(fstest.MapFS{"word" + kinds[uint(kind)%4]: {Data: data}})
		_, _, said := v.In("english")("word")
		assert.NotEqual(t, said, len(bad) == 1)
	})
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		voice.New(rate).In("english")
	}
}
