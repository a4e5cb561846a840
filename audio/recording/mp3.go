package recording

import (
	"encoding/binary"
	"io"
)

// tagSize returns the length in bytes of the tag before the sound, or 0 if there is
// none (ID3v2.4, section 3.1: four times seven bits). The tag is skipped because the
// decoder would reserve as much memory as it claims to need.
func tagSize(file *io.SectionReader) int64 {
	const header = 10
	head := make([]byte, header)
	if _, err := file.ReadAt(head, 0); err != nil || string(head[:3]) != "ID3" {
		return 0
	}
	size := int64(header)
	for i, b := range head[6:] {
		size += int64(b&0x7f) << (21 - 7*i)
	}
	return min(size, file.Size())
}

// lead is how many frames a decoder returns before an MP3 file's sound begins,
// and how many frames that sound has, or 0 if that is unknown.
type lead struct{ before, frames int64 }

// How many frames late an MP3 file sounds: by its decoder, and by what encoders
// usually add before the sound if the file does not say (LAME's is 576).
//
// Source: LAME's technical FAQ; the sum is what files of its encoder measure.
const decoderDelay, usualDelay = 529, 576

// mp3Lead reads the first frame of an MP3 file. In most files it holds no
// sound, but says how long the sound is and what the encoder put around it.
//
// Source: ISO/IEC 11172-3, section 2.4.1.3, for the frame; the tags "Xing" and
// "Info" as in the Mp3 Info Tag specification, revision 1.
func mp3Lead(file *io.SectionReader) lead {
	head := make([]byte, 4096)
	n, err := file.ReadAt(head, 0)
	if err != nil && err != io.EOF {
		return lead{before: decoderDelay + usualDelay}
	}
	head = head[:n]
	for len(head) > 4 && (head[0] != 0xff || head[1]&0xe6 != 0xe2) { // layer III
		head = head[1:]
	}
	unknown := lead{before: decoderDelay + usualDelay}
	if len(head) < 64 {
		return unknown
	}
	first, stereo := head[1]&0x18 == 0x18, head[3]&0xc0 != 0xc0 // version 1
	length, side := int64(576), 9
	switch {
	case first && stereo:
		length, side = 1152, 32
	case first:
		length, side = 1152, 17
	case stereo:
		side = 17
	}
	info := head[4+side:]
	if name := string(info[:4]); name != "Xing" && name != "Info" {
		return unknown
	}
	unknown.before += length
	flags, info := info[7], info[8:]
	frames := int64(0)
	for bit, size := range []int{4, 4, 100, 4} { // frames, bytes, places, quality
		if flags>>bit&1 == 0 {
			continue
		}
		if len(info) < size {
			return unknown
		}
		if bit == 0 {
			frames = int64(binary.BigEndian.Uint32(info))
		}
		info = info[size:]
	}
	const delays = 21 // bytes after the encoder's name begins
	if len(info) < delays+3 || info[0] < 'A' {
		return unknown
	}
	before := int64(info[delays])<<4 | int64(info[delays+1])>>4
	after := int64(info[delays+1]&15)<<8 | int64(info[delays+2])
	l := lead{before: length + before + decoderDelay}
	if sound := frames*length - before - after; sound > 0 {
		l.frames = sound
	}
	return l
}
