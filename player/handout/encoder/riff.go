package encoder

import (
	"encoding/binary"
	"math"
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
	return append(append(riffChunk("cue ", cues), riffChunk("LIST", labels)...), riffChunk("LIST", info)...)
}

// riffChunk returns a chunk, which is an even number of bytes.
func riffChunk(id string, body []byte) []byte {
	out := append(binary.LittleEndian.AppendUint32([]byte(id), uint32(len(body))), body...)
	if len(body)%2 == 1 {
		out = append(out, 0)
	}
	return out
}
