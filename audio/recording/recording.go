// Package recording opens sound files: WAV, FLAC, Ogg Vorbis and MP3. A damaged
// file costs little memory and leads to an error, whatever its decoder does.
package recording

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/gopxl/beep/v2"
	"github.com/gopxl/beep/v2/flac"
	"github.com/gopxl/beep/v2/mp3"
	"github.com/gopxl/beep/v2/vorbis"
)

// Recording streams a sound file. Both channels are the same if the file is mono.
type Recording struct {
	rate   int
	frames int64
	source beep.Streamer
	err    error
}

var _ beep.Streamer = (*Recording)(nil)

// Recordings at rates beyond these, in frames a second, are refused.
const lowestRate, highestRate = 4000, 192000

// opener returns a decoder for a file, its rate, and how many frames the file
// claims to have, -1 if it doesn't say.
type opener func(file *io.SectionReader) (s beep.Streamer, rate int, frames int64, err error)

// openers are the decoders by file name extension.
var openers = map[string]opener{".wav": openWAV, ".flac": openFLAC, ".ogg": openVorbis, ".mp3": openMP3}

// Kind returns the extension of a file's name as [Open] wants it, such as ".wav".
func Kind(file string) string { return strings.ToLower(filepath.Ext(file)) }

// Known reports whether files of a kind can be read.
func Known(kind string) bool { return openers[kind] != nil }

// others are the extensions of sound files that can't be read.
var others = []string{".aac", ".aif", ".aiff", ".m4a", ".m4b", ".mp2", ".mp4", ".oga", ".opus", ".wma", ".wv", ".ape", ".mka", ".webm"}

// IsSound reports whether files of a kind are sound files, whether they can be read or not.
func IsSound(kind string) bool { return Known(kind) || slices.Contains(others, kind) }

// Open opens a recording of a kind, ".wav", ".flac", ".ogg" or ".mp3", in the
// first size bytes of file, which must stay open. The error is [ErrKind] for any
// other kind, and [ErrBits] for FLAC with more than 24 bits a sample.
func Open(kind string, file io.ReaderAt, size int64) (r *Recording, err error) {
	defer func() {
		if p := recover(); p != nil { // a damaged header can make the decoder panic
			r, err = nil, fmt.Errorf("damaged: %v", p)
		}
	}()
	open := openers[kind]
	if open == nil {
		return nil, ErrKind
	}
	s, rate, frames, err := open(io.NewSectionReader(file, 0, size))
	if err != nil {
		return nil, err
	}
	if rate < lowestRate || rate > highestRate {
		return nil, fmt.Errorf("%d frames a second, not %d to %d", rate, lowestRate, highestRate)
	}
	return &Recording{rate: rate, frames: frames, source: s}, nil
}

// Rate returns the number of frames a second, 4000 to 192000.
func (r *Recording) Rate() int { return r.rate }

// Frames returns how many frames the file claims to have, or -1 if it does not
// say. A damaged file can have fewer.
func (r *Recording) Frames() int64 { return r.frames }

// mostEmpty is how many times in a row a decoder may return nothing without ending.
const mostEmpty = 10

// Stream reads the next frames. Samples are within ±1, except from files of floats.
func (r *Recording) Stream(out [][2]float64) (n int, ok bool) {
	if r.err != nil || len(out) == 0 {
		return 0, false
	}
	defer func() {
		if p := recover(); p != nil {
			n, ok, r.err = 0, false, fmt.Errorf("damaged: %v", p)
		}
	}()
	for range mostEmpty {
		n, ok = r.source.Stream(out)
		if !ok {
			return 0, false
		}
		if n > 0 {
			return n, true
		}
	}
	r.err = errors.New("damaged: its decoder returns nothing and does not end")
	return 0, false
}

// Err returns why the stream ended before the end of the file, or nil. Call it
// once the stream has ended.
func (r *Recording) Err() error {
	if r.err != nil {
		return r.err
	}
	return r.source.Err()
}

func openFLAC(file *io.SectionReader) (beep.Streamer, int, int64, error) {
	bare, err := bareFLAC(file)
	if err != nil {
		return nil, 0, 0, err
	}
	s, format, err := flac.Decode(bare)
	if err != nil {
		return nil, 0, 0, err
	}
	frames := int64(s.Len())
	if frames == 0 { // a file encoded from a pipe doesn't say
		return s, int(format.SampleRate), -1, nil
	}
	return &complete{s, frames}, int(format.SampleRate), frames, nil
}

// bareFLAC returns a FLAC file with only the first block of its metadata, which
// describes the stream (RFC 9639, section 8). The decoder would reserve whatever
// memory the comments and tables in the others ask for.
func bareFLAC(file *io.SectionReader) (io.Reader, error) {
	const last, streamInfo = 0x80, 34 // bytes in the block
	const mostBits = 24               // a sample, that the decoder reads
	none := errors.New("not a complete FLAC file")
	start := int64(0)
	head := make([]byte, 10)
	if tag := tagSize(file); tag > 0 {
		start = tag
	}
	if _, err := file.ReadAt(head[:8], start); err != nil || string(head[:4]) != "fLaC" || head[4]&^last != 0 || string(head[5:8]) != "\x00\x00\x22" {
		return nil, none
	}
	info := make([]byte, 3+streamInfo)
	if _, err := file.ReadAt(info, start+5); err != nil {
		return nil, none
	}
	if bits := (info[15]&1)<<4 | info[16]>>4 + 1; bits > mostBits {
		return nil, fmt.Errorf("it has %d bits a sample: %w", bits, ErrBits)
	}
	for at := start + 4; ; {
		if _, err := file.ReadAt(head[:4], at); err != nil {
			return nil, none
		}
		at += 4 + int64(head[1])<<16 + int64(head[2])<<8 + int64(head[3])
		if at > file.Size() {
			return nil, none
		}
		if head[0]&last != 0 {
			return io.MultiReader(strings.NewReader("fLaC\x80"+string(info)), io.NewSectionReader(file, at, file.Size()-at)), nil
		}
	}
}

// complete streams a file of known length. It is an error if the file ends sooner.
type complete struct {
	beep.Streamer
	left int64 // frames
}

func (c *complete) Stream(out [][2]float64) (n int, ok bool) {
	n, ok = c.Streamer.Stream(out)
	c.left -= int64(n)
	return n, ok
}

func (c *complete) Err() error {
	if err := c.Streamer.Err(); err != nil || c.left <= 0 {
		return err
	}
	return io.ErrUnexpectedEOF
}

func openVorbis(file *io.SectionReader) (beep.Streamer, int, int64, error) {
	head := make([]byte, min(file.Size(), largestHeaders))
	if _, err := file.ReadAt(head, 0); err != nil && err != io.EOF {
		return nil, 0, 0, err
	}
	if isOpus(head) {
		return nil, 0, 0, fmt.Errorf("this is Opus: %w", ErrKind)
	}
	if !modestVorbis(head) {
		return nil, 0, 0, errors.New("not an Ogg Vorbis file")
	}
	s, format, err := vorbis.Decode(unclosed{file})
	if err != nil {
		return nil, 0, 0, err
	}
	frames := int64(s.Len())
	if frames <= 0 {
		frames = -1
	}
	return s, int(format.SampleRate), frames, nil
}

// unclosed is a file whose Close does nothing: whoever opened it closes it.
type unclosed struct{ *io.SectionReader }

func (unclosed) Close() error { return nil }

func openMP3(file *io.SectionReader) (beep.Streamer, int, int64, error) {
	tag := tagSize(file)
	rest := io.NewSectionReader(file, tag, max(file.Size()-tag, 0))
	s, format, err := mp3.Decode(unclosed{rest})
	if err != nil {
		return nil, 0, 0, err
	}
	frames := int64(s.Len())
	lead := mp3Lead(rest)
	frames = max(frames-lead.before, 0)
	short := lead.frames > frames
	if lead.frames > 0 && !short {
		frames = lead.frames // the rest is padding
	}
	return &cut{s, lead.before, frames, short}, int(format.SampleRate), frames, nil
}

// cut drops some frames and streams the given number after them.
type cut struct {
	beep.Streamer
	before, frames int64
	short          bool // the file claims to have more
}

func (c *cut) Err() error {
	if err := c.Streamer.Err(); err != nil || !c.short {
		return err
	}
	return io.ErrUnexpectedEOF
}

func (c *cut) Stream(out [][2]float64) (int, bool) {
	for c.before > 0 {
		n, ok := c.Streamer.Stream(out[:min(int64(len(out)), c.before)])
		if !ok || n == 0 {
			return 0, ok
		}
		c.before -= int64(n)
	}
	if c.frames <= 0 {
		return 0, false
	}
	n, ok := c.Streamer.Stream(out[:min(int64(len(out)), c.frames)])
	c.frames -= int64(n)
	return n, ok
}
