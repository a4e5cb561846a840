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
	Frames [][2]int16 // of both channels, ±32767 for ±1; none if it is not to be played
	Hash   string     // of the sound as it was decoded, before it was brought to the rate
	Damage error      // why there is only a part of the song; nil if it is whole

	mono     []float32 // of both channels together, at a rate below 48 kHz
	monoRate int
}

// Seconds is how long a song is.
func (s *Audio) Seconds() float64 { return float64(s.Length) / float64(s.Rate) }

// Options say how a song is read.
type Options struct {
	Rate     int                // frames a second that are wanted; 0 for the song's own
	Mute     bool               // keep nothing to be played: the song has no Frames
	Progress func(part float64) // from 0 to 1, now and then, from another goroutine; may be nil
}

const (
	longest  = 15 * 60 // seconds that are read of a song
	fewest   = 10      // seconds that are worth playing of a damaged song
	patience = 20      // seconds without a frame, after which a decoder hangs

	// mostMP3 is how many bytes of an MP3 file are looked at, as its decoder looks for each
	// frame before it begins: what the longest song has at 320 kbit/s, and its pictures.
	mostMP3 = longest*320_000/8 + 28<<20
)

// ReadFile reads a song of a file, by the end of whose name its kind is known.
// What can't be read at all is an error; of a damaged song, what comes before the
// damage is used if it is long enough; of a long one the first quarter of an hour.
func ReadFile(ctx context.Context, path string, o Options) (*Audio, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, notOpened(path, err)
	case !recording.Known(recording.Kind(path)):
		return nil, fmt.Errorf("read %s: %w", path, recording.ErrKind)
	case !info.Mode().IsRegular(): // opening a pipe would wait for who writes into it
		return nil, fmt.Errorf("read %s: it is no plain file", path)
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

// notOpened is the error that a file can't be opened, without what was tried.
func notOpened(path string, err error) error {
	if in := (*fs.PathError)(nil); errors.As(err, &in) {
		err = in.Err
	}
	return fmt.Errorf("read %s: %w", path, err)
}

// file is what a song is read of, and closed after.
type file interface {
	io.ReaderAt
	io.Closer
}

// read decodes in another goroutine, as a decoder may hang in a damaged file:
// then it is left alone, and its next look into the file fails. The file is closed
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
				return nil, errors.New("damaged: its decoder does not come to an end")
			}
		}
	}
}

// decoding is a song that is being decoded.
type decoding struct {
	file    io.ReaderAt
	options Options
	given   atomic.Bool  // up
	frames  atomic.Int64 // decoded
	size    int64        // of the file
	at      atomic.Int64 // up to where it was read last
	long    bool         // there is more of the song than is read
	sum     hash.Hash
	raw     []byte
	mono    *halver
	source  *recording.Recording
}

var (
	errGivenUp   = errors.New("given up")
	errBreaksOff = errors.New("the file breaks off")
)

// ReadAt reads the file until it is given up.
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
	told := min(max(d.source.Frames(), 0), size*mostInAByte, longest*int64(rate))
	d.mono, d.sum = newHalver(rate, told), sha256.New()
	s = &Audio{Rate: rate}
	var stream beep.Streamer = d
	if d.options.Rate > 0 && d.options.Rate != rate {
		s.Rate = d.options.Rate
		stream = newResampler(d, rate, s.Rate)
	}
	if !d.options.Mute {
		s.Frames = make([][2]int16, 0, told*int64(s.Rate)/int64(rate)+1)
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

// collect keeps what is streamed.
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

// Stream passes the song on, but no more than the longest has, and takes what else is wanted
// of it on the way.
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

// part is how much has been read, after so many frames: of those that the file tells to
// have, or else of the file, and of the longest song.
func (d *decoding) part(frames int64) float64 {
	part := float64(d.at.Load()) / float64(d.size)
	if told := d.source.Frames(); told > 0 {
		part = float64(frames) / float64(told)
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
