package recording

import (
	"bytes"
	"encoding/binary"
)

// largestHeaders is how many bytes of an Ogg file are read to check its headers;
// pictures in the comments can make them large.
const largestHeaders = 16 << 20

// isOpus reports whether an Ogg file begins with Opus (RFC 7845, section 5.1).
func isOpus(data []byte) bool { return bytes.Contains(data[:min(len(data), 64)], []byte("OpusHead")) }

// modestVorbis reports whether a Vorbis file claims no more comments and codebooks
// than it can hold: its decoder reserves memory for as many as it claims. A file that
// begins within a packet is refused, because the decoder would skip the rest of that.
func modestVorbis(data []byte) bool {
	const flags, goesOn = 5, 1
	if len(data) <= flags || data[flags]&goesOn != 0 {
		return false
	}
	headers := packets(data, 3) // identification, comments, setup
	return len(headers) == 3 && commentsFit(headers[1]) && codebooksFit(headers[2])
}

// packets returns the first packets of an Ogg file, most of them at most.
//
// Source: RFC 3533, section 6.
func packets(data []byte, most int) (found [][]byte) {
	const header = 27 // bytes of a page before the sizes of its segments
	var packet []byte
	for len(data) >= header && len(found) < most {
		sizes := data[header:]
		sizes = sizes[:min(int(data[header-1]), len(sizes))]
		data = data[header+len(sizes):]
		for _, size := range sizes {
			if int(size) > len(data) {
				return found
			}
			packet = append(packet, data[:size]...)
			data = data[size:]
			if size < 255 && len(found) < most {
				found, packet = append(found, packet), nil
			}
		}
	}
	return found
}

// commentsFit reports whether a packet has room for as many comments as it claims.
//
// Source: Vorbis I specification, section 5.
func commentsFit(p []byte) bool {
	const marked, length = 7, 4
	if len(p) < marked+length {
		return false
	}
	rest := p[marked+length:]
	maker := binary.LittleEndian.Uint32(p[marked:])
	if uint64(maker)+length > uint64(len(rest)) {
		return false
	}
	count := binary.LittleEndian.Uint32(rest[maker:])
	return uint64(count)*length <= uint64(len(rest))
}

// codebooksFit reports whether the codebooks claim no more than a million numbers in
// all, many times what encoders use. A codebook can begin at any bit, and the decoder
// reads zeros beyond the end, so anything that looks like one is taken for one.
//
// Source: Vorbis I specification, section 3.2.1.
func codebooksFit(setup []byte) bool {
	const sync, most = 0x564342, 1 << 20
	var bits, claimed uint64 // bits has the last 64, the newest highest
	for i := range len(setup)*8 + 64 {
		bits >>= 1
		if i < len(setup)*8 {
			bits |= uint64(setup[i/8]>>(i%8)&1) << 63
		}
		if bits&0xffffff != sync {
			continue
		}
		dimensions, entries := bits>>24&0xffff, bits>>40
		claimed += max(dimensions, 1) * entries
		if entries == 0 || claimed > most {
			return false
		}
	}
	return true
}
