package recording

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/gopxl/beep/v2"
)

// The formats of a WAV file's samples.
const (
	integers   = 1
	floats     = 3
	extensible = 0xfffe // the actual format comes later in the chunk
)

// openWAV reads the chunks of a RIFF file up to its samples.
//
// Source: Microsoft and IBM, Multimedia Programming Interface and Data
// Specifications 1.0 (1991), RIFF WAVE; floats and further formats as in
// Microsoft's mmreg.h.
func openWAV(file *io.SectionReader) (beep.Streamer, int, int64, error) {
	le := binary.LittleEndian
	none := errors.New("not a complete WAV file")
	head := make([]byte, 40)
	if _, err := file.ReadAt(head[:12], 0); err != nil || string(head[:4]) != "RIFF" || string(head[8:12]) != "WAVE" {
		return nil, 0, 0, none
	}
	var w wav
	rate := 0
	for at := int64(12); ; {
		if _, err := file.ReadAt(head[:8], at); err != nil {
			return nil, 0, 0, none
		}
		name, size := string(head[:4]), int64(le.Uint32(head[4:]))
		at += 8
		switch name {
		case "fmt ":
			n := min(size, int64(len(head)))
			if _, err := file.ReadAt(head[:n], at); err != nil || n < 16 {
				return nil, 0, 0, none
			}
			format, claimed := int(le.Uint16(head)), int(le.Uint32(head[4:]))
			if format == extensible && n >= 26 {
				format = int(le.Uint16(head[24:]))
			}
			w.channels, w.width, rate = int(le.Uint16(head[2:])), int(le.Uint16(head[14:])+7)/8, claimed
			if w.sample = sampleOf(format, w.width); w.sample == nil || w.channels == 0 {
				return nil, 0, 0, fmt.Errorf("WAV of format %d with %d bytes a sample: %w", format, w.width, ErrKind)
			}
			if block := int(le.Uint16(head[12:])); block != w.channels*w.width {
				return nil, 0, 0, fmt.Errorf("WAV of %d channels of %d bytes in %d: %w", w.channels, w.width, block, none)
			}
		case "data":
			const piped = 0x7ffff000 // what writes to a pipe can't know the size, and claims this or more
			if left := file.Size() - at; size > left {
				w.short = size < piped
				size = left
			}
			if w.sample == nil || size == 0 {
				return nil, 0, 0, none
			}
			w.left = size / int64(w.channels*w.width)
			w.raw = bufio.NewReaderSize(io.NewSectionReader(file, at, size), 1<<16)
			w.frame = make([]byte, w.channels*w.width)
			return &w, rate, w.left, nil
		}
		if at += size + size%2; at > file.Size() {
			return nil, 0, 0, none
		}
	}
}

// wav streams the samples of a WAV file.
type wav struct {
	channels, width int
	sample          func([]byte) float64
	short           bool // there are fewer samples than the file claims
	left            int64
	raw             *bufio.Reader
	frame           []byte
	err             error
}

func (w *wav) Stream(out [][2]float64) (n int, ok bool) {
	for i := range out {
		if w.left == 0 || w.err != nil {
			break
		}
		if _, w.err = io.ReadFull(w.raw, w.frame); w.err != nil {
			break
		}
		w.left--
		out[i][0] = w.sample(w.frame)
		out[i][1] = out[i][0]
		if w.channels > 1 {
			out[i][1] = w.sample(w.frame[w.width:])
		}
		n++
	}
	return n, n > 0
}

func (w *wav) Err() error {
	if w.err == nil && w.short {
		return io.ErrUnexpectedEOF
	}
	return w.err
}

// sampleOf returns a function that reads a sample of a format and size, or nil
// if such samples can't be read.
func sampleOf(format, bytes int) func([]byte) float64 {
	le := binary.LittleEndian
	switch {
	case format == integers && bytes == 1:
		return func(b []byte) float64 { return float64(int(b[0])-128) / (1 << 7) }
	case format == integers && bytes == 2:
		return func(b []byte) float64 { return float64(int16(le.Uint16(b))) / (1 << 15) }
	case format == integers && bytes == 3:
		return func(b []byte) float64 {
			return float64(int32(uint32(b[0])<<8|uint32(b[1])<<16|uint32(b[2])<<24)) / (1 << 31)
		}
	case format == integers && bytes == 4:
		return func(b []byte) float64 { return float64(int32(le.Uint32(b))) / (1 << 31) }
	case format == floats && bytes == 4:
		return func(b []byte) float64 { return finite(float64(math.Float32frombits(le.Uint32(b)))) }
	case format == floats && bytes == 8:
		return func(b []byte) float64 { return finite(math.Float64frombits(le.Uint64(b))) }
	}
	return nil
}

// loudest is the largest value that a float sample may have: +36 dB.
const loudest = 64

// finite returns x made safe to sum: NaN becomes 0, and huge values are clamped.
func finite(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return min(max(x, -loudest), loudest)
}
