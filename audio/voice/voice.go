// Package voice holds spoken words in several languages: their recordings, and the moment at which
// the ear hears the beat in each.
package voice

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"math"
	"path"
	"slices"
	"strings"
	"sync"

	"github.com/gopxl/beep/v2"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/recording"
)

//go:embed words
var shipped embed.FS

// Voice says words. It is immutable.
type Voice struct {
	rate    int
	own     map[string]clip // said in all languages
	shipped func(language string) map[string]clip
}

// clip is a recorded word.
type clip struct {
	sound  audio.Sound
	moment int // frames
}

// usual is the language whose words are said where another has none of its own.
const usual = "english"

// New returns the voice that comes with the program, for rate frames a second.
func New(rate int) *Voice {
	languages := map[string]func() map[string]clip{}
	folders, err := shipped.ReadDir("words")
	if err != nil {
		panic(fmt.Sprintf("voice: %v", err)) // it is part of the program
	}
	for _, f := range folders {
		languages[f.Name()] = sync.OnceValue(func() map[string]clip { return recorded(f.Name(), rate) })
	}
	return &Voice{rate: rate, shipped: func(language string) map[string]clip {
		if clips, ok := languages[language]; ok {
			return clips()
		}
		return nil
	}}
}

// recorded returns the words of a language that come with the program.
func recorded(language string, rate int) map[string]clip {
	words, err := fs.Sub(shipped, path.Join("words", language))
	if err != nil {
		panic(fmt.Sprintf("voice: %v", err)) // the path is well formed
	}
	clips, bad := readAll(words, rate)
	if len(bad) > 0 {
		panic(fmt.Sprintf("voice: %v", errors.Join(bad...)))
	}
	return clips
}

// In returns the words of a language, by their English names: In("german") says "eins" for "one". Words
// that it does not have are said in English. The first time takes a while.
func (v *Voice) In(language string) func(word string) (sound audio.Sound, moment int, ok bool) {
	lists := []map[string]clip{v.own, v.shipped(language), v.shipped(usual)}
	return func(word string) (audio.Sound, int, bool) {
		for _, clips := range lists {
			if c, ok := clips[word]; ok {
				return c.sound, c.moment, true
			}
		}
		return nil, 0, false
	}
}

// Own returns the words that were added to the program's own, sorted.
func (v *Voice) Own() []string { return slices.Sorted(maps.Keys(v.own)) }

// Limits on what is read from a folder.
const (
	mostFiles   = 256
	largestFile = 1 << 20       // bytes
	longestWord = audio.MaxRing // seconds; a figure's name has several words
)

// With returns v with the words in a folder added, in place of its own in all languages. Each is a file
// such as "one.wav", or of another kind (flac, ogg, mp3). Each file that can't be used is left
// out and has an error that names it. That includes anything but regular files: a link may
// lead out of the folder, and a pipe never ends.
func (v *Voice) With(folder fs.FS) (*Voice, []error) {
	out := &Voice{rate: v.rate, own: map[string]clip{}, shipped: v.shipped}
	maps.Copy(out.own, v.own)
	clips, bad := readAll(folder, v.rate)
	maps.Copy(out.own, clips)
	return out, bad
}

// readAll reads the recordings in a folder, by their names.
func readAll(folder fs.FS, rate int) (map[string]clip, []error) {
	clips := map[string]clip{}
	var files []fs.DirEntry
	var bad []error
	entries, err := fs.ReadDir(folder, ".")
	if err != nil {
		return nil, []error{fmt.Errorf("read words: %w", err)}
	}
	for _, e := range entries {
		if recording.Known(recording.Kind(e.Name())) && !e.IsDir() {
			files = append(files, e)
		}
	}
	if len(files) == 0 {
		bad = append(bad, errors.New("read words: the folder has no recording named after a word, such as one.wav"))
	}
	if len(files) > mostFiles {
		bad = append(bad, fmt.Errorf("read words: of %d files only %d are used", len(files), mostFiles))
		files = files[:mostFiles]
	}
	from := map[string]string{} // the file each word was read from
	for _, file := range files {
		name := file.Name()
		word := strings.ToLower(strings.TrimSuffix(name, path.Ext(name)))
		if first, again := from[word]; again {
			bad = append(bad, fmt.Errorf("read word %s: %s already has this word", name, first))
			continue
		}
		sound, err := read(folder, file, rate)
		if err != nil {
			bad = append(bad, fmt.Errorf("read word %s: %w", name, err))
			continue
		}
		from[word] = name
		clips[word] = clip{sound, moment(sound, rate)}
	}
	return clips, bad
}

// read reads a recording and converts it to rate.
func read(folder fs.FS, file fs.DirEntry, rate int) (audio.Sound, error) {
	if !file.Type().IsRegular() {
		return nil, errors.New("not a regular file")
	}
	f, err := folder.Open(file.Name())
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, largestFile+1))
	switch {
	case err != nil:
		return nil, err
	case len(data) > largestFile:
		return nil, fmt.Errorf("larger than %d bytes", largestFile)
	}
	return Decode(recording.Kind(file.Name()), data, rate)
}

// Decode decodes a recording of a kind, ".wav", ".flac", ".ogg" or ".mp3", at
// rate, without the silence around it. It fails if the data is damaged.
func Decode(kind string, data []byte, rate int) (audio.Sound, error) {
	r, err := recording.Open(kind, bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	if r.Frames() == 0 || r.Frames() > int64(longestWord*r.Rate()) {
		return nil, fmt.Errorf("%.1f s long, not up to %d", float64(r.Frames())/float64(r.Rate()), longestWord)
	}
	sound := mono(beep.Resample(resampling, beep.SampleRate(r.Rate()), beep.SampleRate(rate), r), longestWord*rate)
	return withoutSilence(sound, rate), r.Err()
}

// withoutSilence cuts a sound to what is heard, with a little silence before and after.
// Dancers' own recordings begin when a key was pressed, and an MP3 encoder adds up to 76
// ms; but a word's moment must not be later than a lead-in has room for. Silence at the end
// would keep a figure's name from its place.
func withoutSilence(s audio.Sound, rate int) audio.Sound {
	const (
		heard = 0.01 // of the loudest sample: -40 dB, below the s of "six"
		kept  = 0.02 // seconds before and after
	)
	var loudest float32
	for _, x := range s {
		loudest = max(loudest, x, -x)
	}
	silent := func(x float32) bool { return max(x, -x) < heard*loudest }
	first, last := 0, len(s)
	for first < last && silent(s[first]) {
		first++
	}
	for last > first && silent(s[last-1]) {
		last--
	}
	around := int(kept * float64(rate))
	return s[max(first-around, 0):min(last+around, len(s))]
}

// Loudness returns the root mean square of what a voice says in English, each word weighted equally.
func (v *Voice) Loudness() float64 {
	clips := maps.Clone(v.shipped(usual))
	maps.Copy(clips, v.own)
	sum := 0.0
	for _, c := range clips {
		sum += MeanSquare(c.sound) / float64(len(clips))
	}
	return math.Sqrt(sum)
}

// MeanSquare returns the mean of a sound's squares, or 0 if it has no samples.
func MeanSquare(s audio.Sound) float64 {
	sum := 0.0
	for _, x := range s {
		sum += float64(x) * float64(x) / float64(len(s))
	}
	return sum
}

// resampling is the quality of beep's resampler: 42 dB at 10 kHz, where a voice
// has little.
const resampling = 4

// mono reads s, mixing both channels together, up to about most frames.
func mono(s beep.Streamer, most int) audio.Sound {
	var out audio.Sound
	buf := make([][2]float64, 512)
	for len(out) < most {
		n, ok := s.Stream(buf)
		if !ok {
			break
		}
		for _, f := range buf[:n] {
			out = append(out, float32(min(max((f[0]+f[1])/2, -1), 1)))
		}
	}
	return out
}
