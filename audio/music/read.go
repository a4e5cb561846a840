package music

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"sync/atomic"
	"time"

	"github.com/gopxl/beep/v2"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/recording"
)

// Audio is a decoded song.
type Audio struct {
	Rate   int        // frames a second
	Length int64      // in frames
	Frames [][2]int16 // of both channels, ±32767 for ±1; nil if [Options].Mute was set
	Hash   string     // of the sound as decoded, before it was resampled
	Damage error      // why only part of the song is here; nil if it is complete

	mono     []float32 // both channels mixed, at monoRate, which is below 40 kHz
	monoRate int
}

// Seconds returns the length of a song.
func (s *Audio) Seconds() float64 { return float64(s.Length) / float64(s.Rate) }

// Options says how to read a song.
type Options struct {
	Rate     int                // frames a second to resample to; 0 for the song's own
	Mute     bool               // leave out Frames, for a song that is not to be played
	Progress func(part float64) // called now and then, with 0 to 1, from another goroutine; may be nil
}

const (
	longest  = 15 * 60 // seconds of a song that are read
	fewest   = 10      // seconds of a damaged song that are worth playing
	patience = 20      // seconds without a frame after which a decoder counts as stuck

	// mostMP3 is how many bytes of an MP3 file are read, because its decoder finds every
	// frame before it begins: the longest song at 320 kbit/s, and pictures.
	mostMP3 = longest*320_000/8 + 28<<20
)

// ReadFile reads a song from a file, whose extension says what kind it is. Of a
// damaged song it returns what comes before the damage if that is long enough, and
// of a long song the first quarter of an hour; Damage then says so.
func ReadFile(ctx context.Context, path string, o Options) (*Audio, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, notOpened(path, err)
	case !recording.Known(recording.Kind(path)):
		return nil, fmt.Errorf("read %s: %w", path, recording.ErrKind)
	case !info.Mode().IsRegular(): // opening a pipe would wait for a writer
		return nil, fmt.Errorf("read %s: not a regular file", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, notOpened(path, err)
	}
	s, err := read(ctx, f, info.Size(), recording.Kind(path), o, time.Tick(time.Second))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", path, err)
	}
	return s, nil
}

// notOpened returns the error for a file that can't be opened. It names the path once.
func notOpened(path string, err error) error {
	if in := (*fs.PathError)(nil); errors.As(err, &in) {
		err = in.Err
	}
	return fmt.Errorf("read %s: %w", path, err)
}

// file is what a song is read from.
type file interface {
	io.ReaderAt
	io.Closer
}

// read decodes in another goroutine, because a decoder may get stuck in a damaged
// file. It is then abandoned, and its next read of the file fails. The file is closed
// when the decoder has ended.
func read(ctx context.Context, f file, size int64, kind string, o Options, tick <-chan time.Time) (*Audio, error) {
	d := &decoding{file: f, options: o}
	type result struct {
		song *Audio
		err  error
	}
	ended := make(chan result, 1)
	go func() {
		defer f.Close()
		s, err := d.decode(kind, size)
		ended <- result{s, err}
	}()
	for idle, last := 0, int64(0); ; {
		select {
		case r := <-ended:
			return r.song, r.err
		case <-ctx.Done():
			d.given.Store(true)
			return nil, ctx.Err()
		case <-tick:
			if now := d.frames.Load(); now != last {
				idle, last = 0, now
			} else if idle++; idle >= patience {
				d.given.Store(true)
				return nil, errors.New("damaged: its decoder is stuck")
			}
		}
	}
}

// decoding is a song that is being decoded.
type decoding struct {
	file    io.ReaderAt
	options Options
	given   atomic.Bool  // whether it was given up
	frames  atomic.Int64 // decoded so far
	size    int64        // of the file
	at      atomic.Int64 // where in the file the last read ended
	long    bool         // the song is longer than what is read
	sum     hash.Hash
	raw     []byte
	mono    *halver
	source  *recording.Recording
}

var (
	errGivenUp   = errors.New("given up")
	errBreaksOff = errors.New("the file breaks off")
)

// ReadAt reads the file, and fails once the decoder was given up.
func (d *decoding) ReadAt(p []byte, at int64) (int, error) {
	if d.given.Load() {
		return 0, errGivenUp
	}
	n, err := d.file.ReadAt(p, at)
	d.at.Store(at + int64(n))
	return n, err
}

func (d *decoding) decode(kind string, size int64) (s *Audio, err error) {
	defer func() {
		if p := recover(); p != nil {
			s, err = nil, fmt.Errorf("damaged: %v", p)
		}
	}()
	if d.size = size; kind == ".mp3" {
		size = min(size, mostMP3)
	}
	if d.source, err = recording.Open(kind, d, size); err != nil {
		return nil, err
	}
	rate := d.source.Rate()
	const mostInAByte = 16 // frames, of the poorest MP3 files
	claimed := min(max(d.source.Frames(), 0), size*mostInAByte, longest*int64(rate))
	d.mono, d.sum = newHalver(rate, claimed), sha256.New()
	s = &Audio{Rate: rate}
	var stream beep.Streamer = d
	if d.options.Rate > 0 && d.options.Rate != rate {
		s.Rate = d.options.Rate
		stream = newResampler(d, rate, s.Rate)
	}
	if !d.options.Mute {
		s.Frames = make([][2]int16, 0, claimed*int64(s.Rate)/int64(rate)+1)
	}
	d.collect(s, stream)
	if s.Length == 0 {
		return nil, cmp.Or(d.source.Err(), errors.New("there is no sound in it"))
	}
	if d.long {
		s.Damage = fmt.Errorf("only its first %s are used", audio.Clock(s.Seconds()))
	} else if err := d.source.Err(); err != nil {
		if errors.Is(err, io.ErrUnexpectedEOF) {
			err = errBreaksOff
		}
		s.Damage = fmt.Errorf("only its first %s can be read: %w", audio.Clock(s.Seconds()), err)
		if s.Seconds() < fewest {
			return nil, s.Damage
		}
	}
	s.mono, s.monoRate = d.mono.out(), d.mono.rate()
	s.Hash = hex.EncodeToString(d.sum.Sum(nil))
	return s, nil
}

// collect reads stream to its end, and keeps what is to be played.
func (d *decoding) collect(s *Audio, stream beep.Streamer) {
	buf := make([][2]float64, 2048)
	for !d.given.Load() {
		n, ok := stream.Stream(buf)
		s.Length += int64(n)
		if !d.options.Mute {
			for _, f := range buf[:n] {
				s.Frames = append(s.Frames, [2]int16{sample(f[0]), sample(f[1])})
			}
		}
		if !ok {
			break
		}
	}
}

// Stream passes on the song, up to the longest that is read, and adds it to the hash and
// to the sound to be analysed.
func (d *decoding) Stream(out [][2]float64) (int, bool) {
	left := longest*int64(d.source.Rate()) - d.frames.Load()
	if left == 0 {
		n, _ := d.source.Stream(make([][2]float64, 1))
		d.long = d.long || n > 0
		return 0, false
	}
	n, ok := d.source.Stream(out[:min(int64(len(out)), left)])
	d.mono.add(out[:n])
	d.raw = d.raw[:0]
	for _, f := range out[:n] {
		d.raw = binary.LittleEndian.AppendUint16(d.raw, uint16(sample(f[0])))
		d.raw = binary.LittleEndian.AppendUint16(d.raw, uint16(sample(f[1])))
	}
	d.sum.Write(d.raw)
	if now := d.frames.Add(int64(n)); d.options.Progress != nil {
		d.options.Progress(d.part(now))
	}
	return n, ok
}

// part returns how much has been read after that many frames, from 0 to 1: of the frames
// that the file claims to have, or else of its bytes, or of the longest song if that is more.
func (d *decoding) part(frames int64) float64 {
	part := float64(d.at.Load()) / float64(d.size)
	if claimed := d.source.Frames(); claimed > 0 {
		part = float64(frames) / float64(claimed)
	}
	return min(max(part, float64(frames)/float64(longest*d.source.Rate())), 1)
}

func (d *decoding) Err() error { return d.source.Err() }

// sample rounds x, where ±1 is full scale.
func sample(x float64) int16 {
	x *= 1<<15 - 1
	if x < 0 {
		return int16(max(x-0.5, -1<<15+1))
	}
	return int16(min(x+0.5, 1<<15-1))
}
