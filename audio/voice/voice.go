// Package voice says words: recordings, and the moment at which the ear hears
// the beat in each.
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

	"github.com/gopxl/beep/v2"
	"github.com/gopxl/beep/v2/flac"
	"github.com/gopxl/beep/v2/mp3"
	"github.com/gopxl/beep/v2/vorbis"
	"github.com/gopxl/beep/v2/wav"

	"dance.example/slowquick/audio"
)

//go:embed words/*.wav
var shipped embed.FS

// Voice is a set of words. It is immutable.
type Voice struct {
	rate  int
	clips map[string]clip
}

// clip is a word as it is said.
type clip struct {
	sound  audio.Sound
	moment int // frames
}

// New gives the voice that the program ships, for rate frames a second.
func New(rate int) *Voice {
	words, err := fs.Sub(shipped, "words")
	if err != nil {
		panic(fmt.Sprintf("voice: %v", err)) // the path is well formed
	}
	v, bad := (&Voice{rate: rate}).With(words)
	if len(bad) > 0 {
		panic(fmt.Sprintf("voice: %v", errors.Join(bad...)))
	}
	return v
}

// Word is how a word sounds, and how many frames after its first the ear hears
// the beat.
func (v *Voice) Word(word string) (sound audio.Sound, moment int, ok bool) {
	c, ok := v.clips[word]
	return c.sound, c.moment, ok
}

// Words lists what can be said, sorted.
func (v *Voice) Words() []string { return slices.Sorted(maps.Keys(v.clips)) }

// The most that is read of a folder.
const (
	mostFiles   = 256
	largestFile = 1 << 20       // bytes
	longestWord = audio.MaxRing // seconds, as the name of a figure has several words
)

// decoders are the kinds of recordings, by the ends of their names.
var decoders = map[string]func(data []byte) (beep.StreamSeekCloser, beep.Format, error){
	".wav": func(data []byte) (beep.StreamSeekCloser, beep.Format, error) {
		if !wholeWAV(data) {
			return nil, beep.Format{}, errors.New("no whole WAV file")
		}
		return wav.Decode(bytes.NewReader(data))
	},
	".flac": func(data []byte) (beep.StreamSeekCloser, beep.Format, error) {
		bare, ok := bareFLAC(data)
		if !ok {
			return nil, beep.Format{}, errors.New("no whole FLAC file")
		}
		s, format, err := flac.Decode(bytes.NewReader(bare))
		if err != nil {
			return nil, format, err
		}
		return &complete{s, s.Len()}, format, nil
	},
	".ogg": func(data []byte) (beep.StreamSeekCloser, beep.Format, error) {
		if !modestVorbis(data) {
			return nil, beep.Format{}, errors.New("no Ogg Vorbis file")
		}
		return vorbis.Decode(memory{bytes.NewReader(data)})
	},
	".mp3": func(data []byte) (beep.StreamSeekCloser, beep.Format, error) {
		return mp3.Decode(memory{bytes.NewReader(withoutTag(data))})
	},
}

// memory is a file that was read; decoders want to seek in it and to close it.
type memory struct{ *bytes.Reader }

func (memory) Close() error { return nil }

// With gives v with the words that a folder holds, each a file "one.wav", or of
// another kind (flac, ogg, mp3), in place of its own. What can't be used is told,
// by name, and left out; so is what is no plain file, as a link may lead out of
// the folder and a pipe never ends.
func (v *Voice) With(folder fs.FS) (*Voice, []error) {
	out := &Voice{rate: v.rate, clips: map[string]clip{}}
	maps.Copy(out.clips, v.clips)
	var files []fs.DirEntry
	var bad []error
	entries, err := fs.ReadDir(folder, ".")
	if err != nil {
		return out, []error{fmt.Errorf("read words: %w", err)}
	}
	for _, e := range entries {
		if _, ok := decoders[kind(e.Name())]; ok && !e.IsDir() {
			files = append(files, e)
		}
	}
	if len(files) == 0 {
		bad = append(bad, errors.New("read words: the folder holds no recording named as a word, one.wav"))
	}
	if len(files) > mostFiles {
		bad = append(bad, fmt.Errorf("read words: of %d files only %d are used", len(files), mostFiles))
		files = files[:mostFiles]
	}
	from := map[string]string{} // the file that a word was read of
	for _, file := range files {
		name := file.Name()
		word := strings.ToLower(strings.TrimSuffix(name, path.Ext(name)))
		if first, again := from[word]; again {
			bad = append(bad, fmt.Errorf("read word %s: %s has the word", name, first))
			continue
		}
		sound, err := read(folder, file, v.rate)
		if err != nil {
			bad = append(bad, fmt.Errorf("read word %s: %w", name, err))
			continue
		}
		from[word] = name
		out.clips[word] = clip{sound, moment(sound, v.rate)}
	}
	return out, bad
}

// kind is the end of a file's name.
func kind(file string) string { return strings.ToLower(path.Ext(file)) }

// read reads a recording and brings it to a rate.
func read(folder fs.FS, file fs.DirEntry, rate int) (audio.Sound, error) {
	if !file.Type().IsRegular() {
		return nil, errors.New("no plain file")
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
	return Decode(kind(file.Name()), data, rate)
}

// Decode brings a recording of a kind, ".wav", ".flac", ".ogg" or ".mp3", to a rate,
// without the silence around it. What is damaged is an error, whatever the decoder
// makes of it.
func Decode(kind string, data []byte, rate int) (sound audio.Sound, err error) {
	defer func() {
		if r := recover(); r != nil { // a damaged header lets the decoder panic
			err = fmt.Errorf("damaged: %v", r)
		}
	}()
	decode, ok := decoders[kind]
	if !ok {
		return nil, fmt.Errorf("%q is no kind of recording", kind)
	}
	s, format, err := decode(data)
	if err != nil {
		return nil, err
	}
	defer s.Close()
	if format.SampleRate < 4000 || format.SampleRate > 192000 {
		return nil, fmt.Errorf("%d frames a second", format.SampleRate)
	}
	if s.Len() == 0 || s.Len() > longestWord*int(format.SampleRate) {
		return nil, fmt.Errorf("%.1f s long, not up to %d", float64(s.Len())/float64(format.SampleRate), longestWord)
	}
	sound, err = mono(beep.Resample(resampling, format.SampleRate, beep.SampleRate(rate), s), longestWord*rate)
	return withoutSilence(sound, rate), err
}

// withoutSilence is a sound from shortly before it is first heard until shortly after
// it is last. One's own recordings begin when a key was pressed, and an MP3 encoder
// puts up to 76 ms before them; a word's moment must not lie further in than a lead-in
// has room for. What follows it would keep the name of a figure from its place.
func withoutSilence(s audio.Sound, rate int) audio.Sound {
	const (
		heard = 0.01 // of the loudest sample: -40 dB, below the s of "six"
		kept  = 0.02 // seconds before and after that
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

// Loudness is the root of the mean square of a voice's words, each counting alike.
func (v *Voice) Loudness() float64 {
	sum := 0.0
	for _, c := range v.clips {
		sum += MeanSquare(c.sound) / float64(len(v.clips))
	}
	return math.Sqrt(sum)
}

// MeanSquare is the mean of a sound's squares; 0 if it has no samples.
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

// wholeWAV reports whether the sizes that a RIFF file tells lie within it, as the
// decoder believes them.
func wholeWAV(data []byte) bool {
	if len(data) < 44 || string(data[:4]) != "RIFF" || string(data[8:12]) != "WAVE" {
		return false
	}
	for at := 12; at+8 <= len(data); {
		size := int(uint32(data[at+4]) | uint32(data[at+5])<<8 | uint32(data[at+6])<<16 | uint32(data[at+7])<<24)
		if size > len(data)-at-8 {
			return false
		}
		if string(data[at:at+4]) == "data" {
			return size > 0
		}
		at += 8 + size + size%2
	}
	return false
}

// bareFLAC is a FLAC file with only its first block, which tells of its stream:
// the decoder believes the sizes that comments and tables tell (RFC 9639, section 8).
func bareFLAC(data []byte) (bare []byte, ok bool) {
	const last, streamInfo = 0x80, 34 // its length in bytes
	if len(data) < 8+streamInfo || string(data[:4]) != "fLaC" || data[4]&^last != 0 || string(data[5:8]) != "\x00\x00\x22" {
		return nil, false
	}
	bare = append([]byte("fLaC\x80"), data[5:8+streamInfo]...)
	for at := 4; at+4 <= len(data); {
		head := data[at]
		at += 4 + int(data[at+1])<<16 + int(data[at+2])<<8 + int(data[at+3])
		if at > len(data) {
			return nil, false
		}
		if head&last != 0 {
			return append(bare, data[at:]...), true
		}
	}
	return nil, false
}

// withoutTag is what follows the tag of an MP3 file, for whose told size the decoder
// reserves memory (ID3v2.4, section 3.1: four times seven bits).
func withoutTag(data []byte) []byte {
	const header = 10
	if len(data) < header || string(data[:3]) != "ID3" {
		return data
	}
	size := header
	for i, b := range data[6:header] {
		size += int(b&0x7f) << (21 - 7*i)
	}
	return data[min(size, len(data)):]
}

// complete streams a file that tells its length, and fails if it ends before.
type complete struct {
	beep.StreamSeekCloser
	left int // frames
}

func (c *complete) Stream(out [][2]float64) (n int, ok bool) {
	n, ok = c.StreamSeekCloser.Stream(out)
	c.left -= n
	return n, ok
}

func (c *complete) Err() error {
	if err := c.StreamSeekCloser.Err(); err != nil || c.left <= 0 {
		return err
	}
	return io.ErrUnexpectedEOF
}

// mono is what is streamed, both channels together, up to a length.
func mono(s beep.Streamer, most int) (audio.Sound, error) {
	var out audio.Sound
	buf := make([][2]float64, 512)
	for empty := 0; len(out) < most; {
		n, ok := s.Stream(buf)
		if !ok {
			break
		}
		if n == 0 {
			if empty++; empty > 10 { // a damaged file that never ends
				return nil, errors.New("damaged")
			}
			continue
		}
		for _, f := range buf[:n] {
			out = append(out, float32(min(max((f[0]+f[1])/2, -1), 1)))
		}
	}
	return out, s.Err()
}
