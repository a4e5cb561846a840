package encoder

import (
	"bytes"
	"encoding/binary"
	"fmt"
)

// id3 returns tags as MP3 files begin with them. LAME can't write chapters, so that they are written
// here for any program.
//
// Source: ID3 tag version 2.4.0, Main Structure and Native Frames; ID3v2 Chapter Frame Addendum 1.0.
func id3(tags *Tags) []byte {
	var frames bytes.Buffer
	text := func(id, words string) []byte {
		if words == "" {
			return nil
		}
		return textFrame(id, append([]byte{utf8Text}, words...))
	}
	frames.Write(text("TIT2", tags.Title))
	frames.Write(text("TCON", tags.Genre))
	if tags.Tempo > 0 {
		frames.Write(text("TBPM", fmt.Sprintf("%.0f", tags.Tempo)))
	}
	if tags.Comment != "" {
		frames.Write(textFrame("COMM", append([]byte{utf8Text, 'e', 'n', 'g', 0}, tags.Comment...)))
	}
	chapters := tags.Chapters[:min(len(tags.Chapters), 255)] // as many as a table of contents counts
	contents := []byte("toc\x00")
	contents = append(contents, 0b11, byte(len(chapters))) // at the top, in order
	for i, c := range chapters {
		name := append(fmt.Appendf(nil, "c%d", i), 0)
		contents = append(contents, name...)
		body := binary.BigEndian.AppendUint32(name, uint32(1000*c.From+0.5))
		body = binary.BigEndian.AppendUint32(body, uint32(1000*tags.end(i)+0.5))
		body = append(body, bytes.Repeat([]byte{0xff}, 8)...) // no places in bytes
		frames.Write(textFrame("CHAP", append(body, text("TIT2", c.Name)...)))
	}
	if len(chapters) > 0 {
		frames.Write(textFrame("CTOC", contents))
	}
	head := append([]byte("ID3\x04\x00\x00"), size(frames.Len())...)
	return append(head, frames.Bytes()...)
}

const utf8Text = 3

func textFrame(id string, body []byte) []byte {
	out := append([]byte(id), size(len(body))...)
	return append(append(out, 0, 0), body...) // no flags
}

// size returns a number in four bytes of seven bits.
func size(n int) []byte {
	return []byte{byte(n >> 21 & 0x7f), byte(n >> 14 & 0x7f), byte(n >> 7 & 0x7f), byte(n & 0x7f)}
}
