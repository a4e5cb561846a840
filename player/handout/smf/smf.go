// Package smf writes Standard MIDI Files of format 1.
//
// Source: MIDI Manufacturers Association, Standard MIDI Files 1.0 (RP-001):
// chunks "MThd" and "MTrk", big-endian numbers, times as variable-length
// differences, and the meta events named at the methods.
package smf

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"fmt"
	"io"
	"math/bits"
	"slices"
)

// Track is a list of events, added in any order. Ticks count from the start of the file.
type Track struct {
	events []event
}

type event struct {
	tick int64
	rank rank
	data []byte
}

// rank orders events on one tick: a note ends before it is struck again, and
// meta events come before the notes they apply to.
type rank uint8

const (
	noteOff rank = iota
	meta
	noteOn
)

// Kind says what a text is for.
type Kind byte

// The kinds of text (meta events FF 01, FF 03, FF 05, FF 06).
const (
	Text   Kind = 0x01
	Name   Kind = 0x03 // of the track, or, in the first track, of the piece
	Lyric  Kind = 0x05
	Marker Kind = 0x06
)

// Percussion is the channel of General MIDI's drums: the tenth, counted from 0.
const Percussion = 9

// The largest values that a file can hold: 24 bits of microseconds, and 28 bits
// of ticks between two events.
const (
	MostMicros = 1<<24 - 1
	mostDelta  = 1<<28 - 1
)

func (t *Track) add(tick int64, r rank, data []byte) {
	t.events = append(t.events, event{tick, r, data})
}

func (t *Track) meta(tick int64, kind byte, data []byte) {
	t.add(tick, meta, append(appendLength([]byte{0xff, kind}, int64(len(data))), data...))
}

// Text adds a text, written in UTF-8.
func (t *Track) Text(tick int64, kind Kind, text string) { t.meta(tick, byte(kind), []byte(text)) }

// Tempo sets the length of a quarter note, in microseconds up to [MostMicros],
// from a tick on (FF 51).
func (t *Track) Tempo(tick int64, micros int) {
	t.meta(tick, 0x51, []byte{byte(micros >> 16), byte(micros >> 8), byte(micros)})
}

// Metre sets the time signature from a tick on (FF 58). Unit is the note value of a beat, a
// power of two. A metronome clicks on each quarter note, which has eight 32nd notes.
func (t *Track) Metre(tick int64, beats, unit int) {
	t.meta(tick, 0x58, []byte{byte(beats), byte(bits.Len(uint(unit)) - 1), 24, 8})
}

// Note plays a key on a channel from one tick to another. The velocity is 1–127.
func (t *Track) Note(from, to int64, channel, key, velocity byte) {
	t.add(from, noteOn, []byte{0x90 | channel, key, velocity})
	t.add(to, noteOff, []byte{0x80 | channel, key, 64})
}

// Write writes tracks that end on tick end, or on their last event if that is
// later. Division is the number of ticks to a quarter note.
func Write(w io.Writer, division uint16, end int64, tracks ...*Track) error {
	out := []byte("MThd\x00\x00\x00\x06\x00\x01")
	out = binary.BigEndian.AppendUint16(out, uint16(len(tracks)))
	out = binary.BigEndian.AppendUint16(out, division)
	for _, t := range tracks {
		body, err := t.encode(end)
		if err != nil {
			return err
		}
		out = append(out, "MTrk"...)
		out = binary.BigEndian.AppendUint32(out, uint32(len(body)))
		out = append(out, body...)
	}
	_, err := w.Write(out)
	return err
}

func (t *Track) encode(end int64) ([]byte, error) {
	events := slices.Clone(t.events)
	slices.SortStableFunc(events, func(a, b event) int {
		return cmp.Or(cmp.Compare(a.tick, b.tick), cmp.Compare(a.rank, b.rank))
	})
	if n := len(events); n > 0 {
		end = max(end, events[n-1].tick)
	}
	events = append(events, event{end, noteOn, []byte{0xff, 0x2f, 0}}) // the end of the track
	var body bytes.Buffer
	at := int64(0)
	for _, e := range events {
		if e.tick < at || e.tick-at > mostDelta {
			return nil, fmt.Errorf("write MIDI: tick %d can't follow tick %d", e.tick, at)
		}
		body.Write(appendLength(nil, e.tick-at))
		body.Write(e.data)
		at = e.tick
	}
	return body.Bytes(), nil
}

// appendLength appends a number of up to 28 bits, 7 bits to a byte. All bytes
// but the last have their highest bit set.
func appendLength(dst []byte, n int64) []byte {
	for shift := 21; shift > 0; shift -= 7 {
		if n>>shift > 0 {
			dst = append(dst, byte(n>>shift)&0x7f|0x80)
		}
	}
	return append(dst, byte(n)&0x7f)
}
