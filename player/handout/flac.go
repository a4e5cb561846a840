package handout

import (
	"bufio"
	"crypto/md5"
	"fmt"
	"io"
	"math/bits"
	"slices"

	"github.com/gopxl/beep/v2"
	"github.com/mewkiz/flac"
	"github.com/mewkiz/flac/frame"
	"github.com/mewkiz/flac/meta"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
)

// FLAC writes the same samples as WAV, losslessly compressed. It renders the routine twice, as the
// checksum with which a reader verifies the samples comes before them.
//
// Source: RFC 9639, Free Lossless Audio Codec.
func (t ClickTrack) FLAC(w io.Writer, timeline *player.Timeline) error {
	if err := t.flac(w, timeline); err != nil {
		return fmt.Errorf("write flac: %w", err)
	}
	return nil
}

// mostFLACFrames is the longest length a FLAC file can state (RFC 9639, 8.2: 36 bits): 16 days.
const mostFLACFrames = 1<<36 - 1

func (t ClickTrack) flac(w io.Writer, timeline *player.Timeline) error {
	frames := t.frames(t.course(t.Rate, t.Sounds, timeline), timeline)
	if frames > mostFLACFrames {
		return fmt.Errorf("%d frames are more than a FLAC file can hold", frames)
	}
	samples := func(w io.Writer) func(beep.Streamer, int64) error {
		return func(s beep.Streamer, frames int64) error { return audio.WritePCM(w, s, t.Bits, frames) }
	}
	sum := md5.New()
	if err := t.render(timeline, 0, 0.3, samples(io.MultiWriter(sum, emptyWrites{w}))); err != nil {
		return err
	}
	info := &meta.StreamInfo{
		BlockSizeMin: blockFrames, BlockSizeMax: blockFrames, SampleRate: uint32(t.Rate), NChannels: 2, BitsPerSample: uint8(t.Bits),
		NSamples: uint64(frames), MD5sum: [md5.Size]byte(sum.Sum(nil)),
	}
	tags, err := t.tags(timeline)
	if err != nil {
		return err
	}
	out := bufio.NewWriter(w)
	comments := &meta.Block{Header: meta.Header{Type: meta.TypeVorbisComment, Length: 1 /* counted when it is encoded */}, Body: &meta.VorbisComment{Vendor: "Slowquick", Tags: tags.Comments()}}
	enc, err := flac.NewEncoder(struct{ io.Writer }{out}, info, comments)
	if err != nil {
		return err
	}
	enc.EnablePredictionAnalysis(false) // ours is as good for clicks, and faster
	blocks := flacBlocks{enc: enc, info: info}
	if err := t.render(timeline, 0.3, 0.7, samples(&blocks)); err != nil {
		return err
	}
	if err := blocks.flush(); err != nil {
		return err
	}
	if err := enc.Close(); err != nil {
		return err
	}
	return out.Flush()
}

// blockFrames is how many frames of sound are packed together.
const blockFrames = 4096

// emptyWrites makes a zero-length write for each write, so that a dead writer stops the first
// rendering, too.
type emptyWrites struct{ w io.Writer }

func (e emptyWrites) Write(p []byte) (int, error) {
	if _, err := e.w.Write(nil); err != nil {
		return 0, err
	}
	return len(p), nil
}

// flacBlocks packs samples as [audio.WritePCM] writes them.
type flacBlocks struct {
	enc  *flac.Encoder
	info *meta.StreamInfo
	rest []byte // what does not fill a block yet
}

func (b *flacBlocks) frameBytes() int { return 2 * int(b.info.BitsPerSample) / 8 }

func (b *flacBlocks) Write(p []byte) (int, error) {
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

func (b *flacBlocks) flush() error {
	if len(b.rest) == 0 {
		return nil
	}
	return b.block(b.rest)
}

// block packs whole frames of sound.
func (b *flacBlocks) block(pcm []byte) error {
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
