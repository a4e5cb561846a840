package encoder

import (
	"bufio"
	"crypto/md5"
	"io"
	"math/bits"
	"slices"

	"github.com/mewkiz/flac"
	"github.com/mewkiz/flac/frame"
	"github.com/mewkiz/flac/meta"
)

// FLAC packs stereo samples without loss.
//
// Source: RFC 9639, Free Lossless Audio Codec.
type FLAC struct {
	out  *bufio.Writer
	enc  *flac.Encoder
	info *meta.StreamInfo
	rest []byte // what does not fill a block yet
}

// MostFLAC is the longest length a FLAC file can state (RFC 9639, 8.2: 36 bits): 16 days.
const MostFLAC = 1<<36 - 1

// blockFrames is how many frames of sound are packed together.
const blockFrames = 4096

// NewFLAC begins a file of that many frames, at most [MostFLAC], with samples of 16 or 24 bits; sum is their checksum, as
// they will be given to Write. They must be written before Close.
func NewFLAC(w io.Writer, rate, bits int, frames int64, sum [md5.Size]byte, tags *Tags) (*FLAC, error) {
	f := &FLAC{out: bufio.NewWriter(w), info: &meta.StreamInfo{
		BlockSizeMin: blockFrames, BlockSizeMax: blockFrames, SampleRate: uint32(rate), NChannels: 2, BitsPerSample: uint8(bits),
		NSamples: uint64(frames), MD5sum: sum,
	}}
	comments := &meta.Block{Header: meta.Header{Type: meta.TypeVorbisComment, Length: 1 /* counted when it is encoded */}, Body: &meta.VorbisComment{Vendor: "Slowquick", Tags: append(tags.Comments(), tags.gain()...)}}
	var err error
	if f.enc, err = flac.NewEncoder(struct{ io.Writer }{f.out}, f.info, comments); err != nil {
		return nil, err
	}
	f.enc.EnablePredictionAnalysis(false) // ours is as good for clicks, and faster
	return f, nil
}

// Close packs what is left. It doesn't close the writer.
func (b *FLAC) Close() error {
	if len(b.rest) > 0 {
		if err := b.block(b.rest); err != nil {
			return err
		}
	}
	if err := b.enc.Close(); err != nil {
		return err
	}
	return b.out.Flush()
}

func (b *FLAC) frameBytes() int { return 2 * int(b.info.BitsPerSample) / 8 }

// Write packs samples as audio.WritePCM writes them: little-endian, the left one first.
func (b *FLAC) Write(p []byte) (int, error) {
	b.rest = append(b.rest, p...)
	size := blockFrames * b.frameBytes()
	done := 0
	for ; len(b.rest)-done >= size; done += size {
		if err := b.block(b.rest[done : done+size]); err != nil {
			return 0, err
		}
	}
	b.rest = b.rest[:copy(b.rest, b.rest[done:])]
	return len(p), nil
}

// block packs whole frames of sound.
func (b *FLAC) block(pcm []byte) error {
	n := len(pcm) / b.frameBytes()
	f := &frame.Frame{Header: frame.Header{
		HasFixedBlockSize: true, BlockSize: uint16(n), SampleRate: b.info.SampleRate, Channels: frame.ChannelsLR, BitsPerSample: b.info.BitsPerSample,
	}}
	sample := b.frameBytes() / 2
	for channel := range 2 {
		samples := make([]int32, n)
		for i := range samples {
			samples[i] = littleEndian(pcm[i*b.frameBytes()+channel*sample:][:sample])
		}
		f.Subframes = append(f.Subframes, predicted(samples))
	}
	if left, right := f.Subframes[0], f.Subframes[1]; slices.Equal(left.Samples, right.Samples) {
		// The encoder then writes the difference instead of the right ear, which is all zeros.
		f.Channels = frame.ChannelsLeftSide
		right.SubHeader = frame.SubHeader{Pred: frame.PredConstant}
	}
	return b.enc.WriteFrame(f)
}

// littleEndian returns a signed number of two or three bytes.
func littleEndian(b []byte) (n int32) {
	shift := 32
	for i := len(b) - 1; i >= 0; i-- {
		shift -= 8
		n |= int32(b[i]) << shift
	}
	return n >> shift
}

// A full block is divided into parts, each packed for what is in it: a click is short, and quiet
// follows.
const (
	partOrder   = 4 // 16 parts
	mostRice    = 30
	mostPredict = 3
)

// predicted says how samples are packed: as one value if they do not change, as in silence, or else as
// the residual of the predictor that leaves the least.
func predicted(samples []int32) *frame.Subframe {
	sub := &frame.Subframe{Samples: samples, NSamples: len(samples)}
	if sub.Pred = frame.PredConstant; !slices.ContainsFunc(samples, func(s int32) bool { return s != samples[0] }) {
		return sub
	}
	if len(samples) <= mostPredict {
		sub.Pred = frame.PredVerbatim
		return sub
	}
	// The fixed predictors of RFC 9639, 9.2.5: each leaves the differences of the residual of the one
	// before it.
	rest, best := slices.Clone(samples), samples
	left := total(rest)
	for order := 1; order <= mostPredict; order++ {
		for i := len(rest) - 1; i >= order; i-- {
			rest[i] -= rest[i-1]
		}
		if n := total(rest[order:]); n < left {
			best, left, sub.Order = slices.Clone(rest), n, order
		}
	}
	sub.Pred, sub.ResidualCodingMethod = frame.PredFixed, frame.ResidualCodingMethodRice2
	sub.RiceSubframe = &frame.RiceSubframe{}
	parts := 1
	if len(samples) == blockFrames {
		sub.RiceSubframe.PartOrder, parts = partOrder, 1<<partOrder
	}
	size := len(samples) / parts
	for i := range parts {
		part := best[max(i*size, sub.Order):]
		if i+1 < parts {
			part = best[max(i*size, sub.Order) : (i+1)*size]
		}
		sub.RiceSubframe.Partitions = append(sub.RiceSubframe.Partitions, frame.RicePartition{Param: rice(part)})
	}
	return sub
}

// total returns the sum of the absolute values of a residual.
func total(rest []int32) (sum int64) {
	for _, x := range rest {
		sum += int64(max(x, -x))
	}
	return sum
}

// rice returns how many bits of each number are written as they are: about those of the mean.
func rice(rest []int32) uint {
	mean := total(rest) / int64(max(len(rest), 1))
	return uint(min(bits.Len64(uint64(mean)), mostRice))
}
