package encoder

import (
	"encoding/binary"
	"math"
	"slices"
)

// RIFF returns the tags as the chunks of a WAV file: a cue point with a label for each chapter, and a list
// of texts, in UTF-8.
//
// Source: Microsoft and IBM, Multimedia Programming Interface and Data Specifications 1.0 (1991), RIFF
// WAVE: cue points, associated data list, INFO list.
func (t *Tags) RIFF(rate int) []byte {
	le := binary.LittleEndian
	cues, labels, info := le.AppendUint32(nil, uint32(len(t.Chapters))), []byte("adtl"), []byte("INFO")
	for i, c := range t.Chapters {
		id, frame := uint32(i+1), uint32(min(math.Round(c.From*float64(rate)), math.MaxUint32))
		cues = le.AppendUint32(le.AppendUint32(cues, id), frame)
		cues = append(cues, "data"...)
		cues = le.AppendUint32(append(cues, make([]byte, 8)...), frame)
		labels = append(labels, riffChunk("labl", append(append(le.AppendUint32(nil, id), c.Name...), 0))...)
	}
	for _, text := range [][2]string{{"INAM", t.Title}, {"IGNR", t.Genre}, {"ICMT", t.Comment}} {
		info = append(info, riffChunk(text[0], append([]byte(text[1]), 0))...)
	}
	return slices.Concat(riffChunk("cue ", cues), riffChunk("LIST", labels), riffChunk("LIST", info), t.broadcast())
}

// broadcast returns the chunk that states the loudness; nothing if that isn't known.
//
// Source: EBU Tech 3285, Specification of the Broadcast Wave Format, version 2 (2011).
func (t *Tags) broadcast() []byte {
	if t.Loudness == 0 {
		return nil
	}
	const (
		texts    = 256 + 32 + 32 + 10 + 8 + 8 // description, who made it and when, and its place in time
		unique   = 64
		unknown  = 0x7fff
		reserved = 180
	)
	le := binary.LittleEndian
	body := append(make([]byte, texts), 2, 0) // the version
	body = append(body, make([]byte, unique)...)
	body = le.AppendUint16(body, uint16(int16(math.Round(100*t.Loudness))))
	for range 4 { // range, true peak, and the loudest moments
		body = le.AppendUint16(body, unknown)
	}
	return riffChunk("bext", append(body, make([]byte, reserved)...))
}

// riffChunk returns a chunk, which is an even number of bytes.
func riffChunk(id string, body []byte) []byte {
	out := append(binary.LittleEndian.AppendUint32([]byte(id), uint32(len(body))), body...)
	if len(body)%2 == 1 {
		out = append(out, 0)
	}
	return out
}
