package audio

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"github.com/gopxl/beep/v2"
)

// wavHeader is the size of the header in bytes.
const wavHeader = 44

const channels = 2

// WriteWAV writes frames frames of s to w as a WAV file, with samples as [WritePCM]
// writes them, and after those some whole chunks, which are left out if the file can't hold them. If
// [FitsWAV] returns an error, so does WriteWAV, and writes nothing.
//
// Source: Microsoft and IBM, Multimedia Programming Interface and Data
// Specifications 1.0 (1991), RIFF WAVE.
func WriteWAV(w io.Writer, s beep.Streamer, rate, bits int, frames int64, chunks ...[]byte) error {
	if rate <= 0 || int64(rate) > math.MaxUint32/8 {
		return fmt.Errorf("write WAV: its header cannot hold a rate of %d frames a second", rate)
	}
	if err := FitsWAV(bits, frames); err != nil {
		return fmt.Errorf("write WAV: %w", err)
	}
	size, more := frames*int64(frameBytes(bits)), bytes.Join(chunks, nil)
	if size+int64(len(more)) > math.MaxUint32-(wavHeader-8) {
		more = nil
	}
	if _, err := w.Write(header(rate, bits, uint32(size), uint32(len(more)))); err != nil {
		return fmt.Errorf("write WAV: %w", err)
	}
	if err := WritePCM(w, s, bits, frames); err != nil {
		return fmt.Errorf("write WAV: %w", err)
	}
	if _, err := w.Write(more); err != nil {
		return fmt.Errorf("write WAV: %w", err)
	}
	return nil
}

// FitsWAV returns an error if a WAV file, whose size field ends at 4 GiB, can't hold
// that many stereo frames.
func FitsWAV(bits int, frames int64) error {
	if err := checkBits(bits); err != nil {
		return err
	}
	if frames < 0 || frames > (math.MaxUint32-(wavHeader-8))/int64(frameBytes(bits)) {
		return fmt.Errorf("%d frames of %d bits do not fit into the 4 GiB that a WAV file can hold", frames, bits)
	}
	return nil
}

// WritePCM writes frames frames of s to w as little-endian stereo samples of 16 or 24
// bits, with no header.
//
// A sample is rounded to the nearest step, without dither, and clamped; NaN
// is silence. It is an error if s ends early, or if s or w fails; part may have been
// written then.
func WritePCM(w io.Writer, s beep.Streamer, bits int, frames int64) error {
	if err := checkBits(bits); err != nil {
		return err
	}
	const chunk = 4096
	samples := make([][2]float64, chunk)
	size, mask, scale := frameBytes(bits), uint64(1)<<bits-1, float64(int(1)<<(bits-1))
	raw := make([]byte, chunk*size+4)
	for done := int64(0); done < frames; {
		n, _ := s.Stream(samples[:min(chunk, frames-done)])
		if n == 0 {
			return fmt.Errorf("after %d of %d frames: %w", done, frames, cmp.Or(s.Err(), io.ErrUnexpectedEOF))
		}
		end := 0
		for i := range samples[:n] {
			left, right := uint64(step(samples[i][0], scale)), uint64(step(samples[i][1], scale))
			binary.LittleEndian.PutUint64(raw[end:], left&mask|right&mask<<bits) // the next frame overwrites what is too much
			end += size
		}
		if _, err := w.Write(raw[:end]); err != nil {
			return err
		}
		done += int64(n)
	}
	return nil
}

func checkBits(bits int) error {
	if bits != 16 && bits != 24 {
		return fmt.Errorf("%d bits a sample, can only write 16 or 24", bits)
	}
	return nil
}

func frameBytes(bits int) int { return channels * bits / 8 }

// header returns everything before the samples, which take size bytes, and are followed by more bytes.
func header(rate, bits int, size, more uint32) []byte {
	le := binary.LittleEndian
	block := frameBytes(bits)
	h := make([]byte, 0, wavHeader)
	h = append(h, "RIFF"...)
	h = le.AppendUint32(h, wavHeader-8+size+more)
	h = append(h, "WAVEfmt "...)
	h = le.AppendUint32(h, 16)
	h = le.AppendUint16(h, 1) // PCM
	h = le.AppendUint16(h, channels)
	h = le.AppendUint32(h, uint32(rate))
	h = le.AppendUint32(h, uint32(rate)*uint32(block))
	h = le.AppendUint16(h, uint16(block))
	h = le.AppendUint16(h, uint16(bits))
	h = append(h, "data"...)
	return le.AppendUint32(h, size)
}

// step rounds x to the nearest of the steps -scale..scale-1, where ±scale
// stands for ±1.
func step(x, scale float64) int32 {
	x *= scale
	switch {
	case x == 0:
		return 0
	case x >= scale-1:
		return int32(scale - 1)
	case x <= -scale:
		return int32(-scale)
	case x > 0:
		return int32(x + 0.5)
	case x < 0:
		return int32(x - 0.5)
	}
	return 0 // NaN
}
