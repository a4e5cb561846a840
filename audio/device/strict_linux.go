package device

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"net"
	"reflect"
	"strconv"
	"sync"
	"sync/atomic"
	"time"

	"github.com/jfreymuth/pulse/proto"
)

// strict is a connection to a sound server with only what the protocol library can bear.
//
// The library reports the end of a stream, but no other error, so each becomes one. It also trusts what
// it reads: a value of an unexpected type ends the program, any stated size is allocated, and an
// unknown message is printed. So a message is let through only if the library waits for it and all its
// values have their types; a wrong one ends the connection, a useless one is left out.
type strict struct {
	net.Conn
	records bool         // whether sound may come; set before the first Read
	version atomic.Int64 // of the protocol, once it is agreed on
	unread  []byte       // the rest of a message that was let through

	mu    sync.Mutex
	body  bool              // whether the body of a command is written next
	head  bool              // whether a head has been written
	asked map[uint32]uint32 // commands that are not answered, by tag
}

func newStrict(conn net.Conn) *strict {
	return &strict{Conn: conn, asked: map[uint32]uint32{}}
}

// The parts of a packet: the head has the body's length and the stream it belongs to; a command begins
// with its number and its tag.
//
// Source: the protocol library; PulseAudio's own documentation in src/pulsecore/pstream.c and
// tagstruct.h says the same, from memory.
const (
	packetHead  = 20
	commandHead = 10
	noStream    = 0xffffffff
	// mostAnswered is more bytes than any answer has.
	mostAnswered = 1 << 18
)

func (s *strict) Write(p []byte) (int, error) {
	s.note(p)
	s.Conn.SetWriteDeadline(time.Now().Add(patience))
	n, err := s.Conn.Write(p)
	if err != nil {
		s.Conn.Close()
	}
	return n, err
}

// note records what is asked. The library writes head and body in turn.
func (s *strict) note(p []byte) {
	s.mu.Lock()
	defer s.mu.Unlock()
	switch {
	case len(p) == 0:
	case !s.head:
		s.head, s.body = true, len(p) == packetHead && binary.BigEndian.Uint32(p[4:]) == noStream
	default:
		s.head = false
		if s.body && len(p) >= commandHead {
			s.asked[binary.BigEndian.Uint32(p[6:])] = binary.BigEndian.Uint32(p[1:])
		}
	}
}

func (s *strict) Read(p []byte) (int, error) {
	for len(s.unread) == 0 {
		packet, err := s.packet()
		if err != nil {
			return 0, io.EOF
		}
		if !isCommand(packet) {
			s.unread = packet
			continue
		}
		fits, useful := s.judge(packet[packetHead:])
		if !fits {
			s.Conn.Close()
			return 0, io.EOF
		}
		if useful {
			s.unread = packet
		}
	}
	n := copy(p, s.unread)
	s.unread = s.unread[n:]
	return n, nil
}

// isCommand reports whether a packet is one, and not sound.
func isCommand(packet []byte) bool { return binary.BigEndian.Uint32(packet[4:]) == noStream }

// packet reads the next packet, which must be a command unless something is recorded.
func (s *strict) packet() ([]byte, error) {
	packet := make([]byte, packetHead, 256)
	if _, err := io.ReadFull(s.Conn, packet); err != nil {
		return nil, err
	}
	length := binary.BigEndian.Uint32(packet)
	switch {
	case length > mostAnswered, isCommand(packet) && length < commandHead, !isCommand(packet) && !s.records:
		return nil, errImpossible
	}
	packet = append(packet, make([]byte, length)...)
	_, err := io.ReadFull(s.Conn, packet[packetHead:])
	return packet, err
}

// answers are the types of the answers to commands; nil has no values.
var answers = map[uint32]reflect.Type{
	proto.OpAuth:                 reflect.TypeFor[proto.AuthReply](),
	proto.OpSetClientName:        reflect.TypeFor[proto.SetClientNameReply](),
	proto.OpCreatePlaybackStream: reflect.TypeFor[proto.CreatePlaybackStreamReply](),
	proto.OpGetPlaybackLatency:   reflect.TypeFor[proto.GetPlaybackLatencyReply](),
	proto.OpCreateRecordStream:   reflect.TypeFor[proto.CreateRecordStreamReply](),
	proto.OpGetRecordLatency:     reflect.TypeFor[proto.GetRecordLatencyReply](),
	proto.OpGetSinkInfo:          reflect.TypeFor[proto.GetSinkInfoReply](),
	proto.OpCorkPlaybackStream:   nil,
	proto.OpFlushPlaybackStream:  nil,
}

// events are the server's own messages that are wanted.
var events = map[uint32]reflect.Type{
	proto.OpRequest:              reflect.TypeFor[proto.Request](),
	proto.OpPlaybackStreamMoved:  reflect.TypeFor[proto.PlaybackStreamMoved](),
	proto.OpPlaybackStreamKilled: reflect.TypeFor[proto.PlaybackStreamKilled](),
	proto.OpRecordStreamKilled:   reflect.TypeFor[proto.RecordStreamKilled](),
}

// judge reports whether a command's values have their types, and whether it is of use.
func (s *strict) judge(body []byte) (fits, useful bool) {
	if body[0] != 'L' || body[5] != 'L' {
		return false, false
	}
	op, tag := binary.BigEndian.Uint32(body[1:]), binary.BigEndian.Uint32(body[6:])
	v := typed{rest: body[commandHead:], version: int(s.version.Load())}
	if event, ok := events[op]; ok {
		v.value(event)
		return v.whole(), true
	}
	if op != proto.OpReply && op != proto.OpError {
		return true, false
	}
	s.mu.Lock()
	asked, ok := s.asked[tag]
	delete(s.asked, tag)
	s.mu.Unlock()
	if !ok {
		return true, false
	}
	answer, known := answers[asked]
	switch {
	case op == proto.OpError:
		v.tag("L", 4)
	case !known:
		return false, false
	case answer != nil:
		v.value(answer)
	}
	return v.whole(), true
}

// typed walks over values, each preceded by its type.
type typed struct {
	rest    []byte
	version int
	wrong   bool
}

// whole reports whether nothing was wrong and nothing is left.
func (v *typed) whole() bool { return !v.wrong && len(v.rest) == 0 }

// take returns the next n bytes, as zeros if there are too few.
func (v *typed) take(n int) []byte {
	if n > len(v.rest) {
		v.wrong, v.rest = true, nil
		return make([]byte, min(n, 8))
	}
	taken := v.rest[:n]
	v.rest = v.rest[n:]
	return taken
}

// tag reads a value's type, which must be in types, and the value if its size is known.
func (v *typed) tag(types string, size int) byte {
	is := v.take(1)[0]
	if !bytes.ContainsRune([]byte(types), rune(is)) {
		v.wrong = true
	}
	v.take(size)
	return is
}

func (v *typed) text() {
	end := bytes.IndexByte(v.rest, 0)
	v.take(max(end, 0) + 1)
	v.wrong = v.wrong || end < 0
}

// count reads how many of something follow.
func (v *typed) count() int {
	n := int(binary.BigEndian.Uint32(v.take(4)))
	if n > len(v.rest) { // each has at least a byte
		v.wrong = true
		return 0
	}
	return n
}

// properties reads names and values, up to the mark that ends them.
func (v *typed) properties() {
	for !v.wrong && v.tag("tN", 0) == 't' {
		v.text()
		v.tag("L", 4)
		v.tag("x", 0)
		v.take(v.count())
	}
}

// value reads a value of a type of the protocol library, in which a number beside a field gives the
// version from which on it is sent.
func (v *typed) value(t reflect.Type) {
	switch {
	case v.wrong:
	case t == reflect.TypeFor[proto.SampleSpec]():
		v.tag("a", 6)
	case t == reflect.TypeFor[proto.Time]():
		v.tag("T", 8)
	case t == reflect.TypeFor[proto.FormatInfo]():
		v.tag("f", 0)
		v.tag("B", 1)
		v.tag("P", 0)
		v.properties()
	case t == reflect.TypeFor[proto.PropList]():
		v.tag("P", 0)
		v.properties()
	case t == reflect.TypeFor[proto.ChannelVolumes]():
		v.tag("v", 0)
		v.take(4 * int(v.take(1)[0]))
	case t.Kind() == reflect.Struct:
		for i := range t.NumField() {
			if from, err := strconv.Atoi(string(t.Field(i).Tag)); err != nil || from <= v.version {
				v.value(t.Field(i).Type)
			}
		}
	case t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Uint8:
		v.tag("m", 0)
		v.take(int(v.take(1)[0]))
	case t.Kind() == reflect.Slice:
		n := 0
		if t.Elem() == reflect.TypeFor[proto.FormatInfo]() {
			v.tag("B", 0)
			n = int(v.take(1)[0])
		} else {
			v.tag("L", 0)
			n = v.count()
		}
		for range n {
			v.value(t.Elem())
		}
	case t.Kind() == reflect.String:
		if v.tag("tN", 0) == 't' {
			v.text()
		}
	case t.Kind() == reflect.Bool:
		v.tag("10", 0)
	case t.Kind() == reflect.Int64:
		v.tag("r", 8)
	case t.Kind() == reflect.Uint32:
		v.tag("LV", 4)
	case t.Kind() == reflect.Uint64:
		v.tag("RU", 8)
	default:
		v.wrong = true
	}
}

// errImpossible says that a server's answer can't be true.
var errImpossible = errors.New("the sound server gave an impossible answer")
