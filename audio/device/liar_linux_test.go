package device

import (
	"context"
	"encoding/binary"
	"io"
	"math"
	"math/rand/v2"
	"net"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/jfreymuth/pulse/proto"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// server speaks PulseAudio's protocol, plays nothing, and lies if it is told to.
type server struct {
	conn  net.Conn
	write sync.Mutex

	begun  time.Time // when it began to play; zero before
	before int64     // the bytes heard before begun
	corks  []bool    // what it was told: to play nothing, or to play
	got    int64     // the byte of sound that comes next
	asked  int64     // the byte up to which it has asked for sound

	position func(heard, got int64) (read, write int64) // in bytes, of the truth
	latency  uint64                                     // µs
	asks     uint32                                     // bytes too many, after each packet of sound
	floods   func(s *server)                            // once it plays; nil for no flood
	played   chan struct{}                              // holds one once sound has come
	hears    func(at int64, sound []byte)               // nil for nobody
	spoils   func(body []byte) []byte                   // what is sent; nil for nothing
}

// room is how many bytes of sound the server keeps: 150 ms.
const room = 57600

// values are those of a message, in the protocol's types.
type values []any

type usec uint64

func (v values) bytes() (b []byte) {
	be := binary.BigEndian
	for _, x := range v {
		switch x := x.(type) {
		case uint32:
			b = be.AppendUint32(append(b, 'L'), x)
		case usec:
			b = be.AppendUint64(append(b, 'U'), uint64(x))
		case int64:
			b = be.AppendUint64(append(b, 'r'), uint64(x))
		case uint64:
			b = be.AppendUint64(append(b, 'R'), x)
		case string:
			b = append(append(append(b, 't'), x...), 0)
		case bool:
			b = append(b, map[bool]byte{true: '1', false: '0'}[x])
		case time.Time:
			b = be.AppendUint32(append(b, 'T'), uint32(x.Unix()))
			b = be.AppendUint32(b, uint32(x.Nanosecond()/1000))
		case []byte:
			b = append(b, x...)
		}
	}
	return b
}

// send sends a message; false once the client has gone.
func (s *server) send(op, tag uint32, v values) bool {
	body := append(values{op, tag}.bytes(), v.bytes()...)
	if s.spoils != nil {
		body = s.spoils(body)
	}
	head := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	head = append(head, "\xff\xff\xff\xff\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00"...)
	s.write.Lock()
	defer s.write.Unlock()
	_, err := s.conn.Write(append(head, body...))
	return err == nil
}

// heard is how many bytes of sound time has come past.
func (s *server) heard() int64 {
	if s.begun.IsZero() {
		return s.before
	}
	return s.before + int64(time.Since(s.begun).Seconds()*48000)*frameBytes
}

// ask asks for the sound that there is room for.
func (s *server) ask() {
	if lacks := s.heard() + room - s.asked; lacks > 0 {
		s.asked += lacks
		s.request(uint32(lacks))
	}
}

func (s *server) request(bytes uint32) {
	s.send(proto.OpRequest, math.MaxUint32, values{uint32(0), bytes})
}

func (s *server) serve(conn net.Conn) {
	s.conn = conn
	head := make([]byte, 20)
	for {
		if _, err := io.ReadFull(conn, head); err != nil {
			return
		}
		body := make([]byte, binary.BigEndian.Uint32(head))
		if _, err := io.ReadFull(conn, body); err != nil {
			return
		}
		if binary.BigEndian.Uint32(head[4:]) != math.MaxUint32 {
			select {
			case s.played <- struct{}{}:
			default:
			}
			if s.hears != nil {
				s.hears(s.got, body)
			}
			s.got += int64(len(body))
			if s.asks > 0 {
				s.request(s.asks)
			}
			continue
		}
		op, tag := binary.BigEndian.Uint32(body[1:]), binary.BigEndian.Uint32(body[6:])
		reply := values{}
		switch op {
		case proto.OpAuth:
			reply = values{uint32(32)}
		case proto.OpSetClientName:
			reply = values{uint32(1)}
		case proto.OpCreatePlaybackStream:
			s.asked = room
			reply = values{uint32(0), uint32(0), uint32(room), uint32(1 << 22), uint32(room), uint32(0), uint32(3840),
				[]byte("a\x05\x02\x00\x00\xbb\x80m\x02\x01\x02"), uint32(0), "boathouse", false, usec(0), []byte("fB\x01PN")}
		case proto.OpCorkPlaybackStream:
			corked := body[len(body)-1] == '1'
			if corked {
				s.before, s.begun = s.heard(), time.Time{}
			} else {
				s.begun = time.Now()
			}
			s.corks = append(s.corks, corked)
			if s.floods != nil && !corked {
				go s.floods(s)
			}
		case proto.OpFlushPlaybackStream:
			dropped := s.got - s.heard()
			s.got, s.asked = s.got-dropped, s.asked-dropped
			s.ask()
		case proto.OpGetSinkInfo:
			const volume = "v\x02\x00\x01\x00\x00\x00\x01\x00\x00"
			none := uint32(math.MaxUint32)
			reply = values{uint32(0), "boathouse", "Boathouse", []byte("a\x05\x02\x00\x00\xbb\x80m\x02\x01\x02"), none, []byte(volume), false, none, []byte("N"),
				usec(0), "lantern", uint32(0), []byte("Ptdevice.api\x00L\x00\x00\x00\x06x\x00\x00\x00\x06bluez\x00N"), usec(0),
				[]byte("V\x00\x01\x00\x00"), uint32(0), uint32(65537), none, uint32(1), "out", "Out", uint32(0), uint32(2), "out", []byte("B\x01fB\x01PN")}
		case proto.OpGetPlaybackLatency:
			s.ask()
			read, write := s.position(s.heard(), s.got)
			reply = values{usec(s.latency), usec(0), !s.begun.IsZero(), time.Now(), time.Now(), write, read, uint64(0), uint64(0)}
		}
		s.send(proto.OpReply, tag, reply)
	}
}

func honest(heard, got int64) (read, write int64) { return heard, got }

// soon receives what must come, and fails long after it should have.
func soon[T any](t *testing.T, from <-chan T, what string) (got T) {
	t.Helper()
	select {
	case got = <-from:
	case <-time.After(2 * time.Minute):
		require.Fail(t, "it did not come", what)
	}
	return got
}

// begins opens a line on a server, which may be asked until the test ends, and waits for
// the sound.
func begins(t *testing.T, s func() *server) (l *Line, played <-chan struct{}) {
	t.Helper()
	ever := make(chan struct{}, 1)
	pretend(t, func(c net.Conn) {
		one := s()
		one.played = ever
		one.serve(c)
	})
	l = open(&counter{}, 48000, Options{}, []opener{{name: "PulseAudio", open: openPulse}})
	return l, ever
}

// TestServersThatLie never make the line hang: a change is heard soon, or else the screen keeps time in
// silence, and the line closes.
func TestServersThatLie(t *testing.T) {
	const min, most = math.MinInt64, math.MaxInt64
	at := func(read, write int64) func(int64, int64) (int64, int64) {
		return func(int64, int64) (int64, int64) { return read, write }
	}
	for name, s := range map[string]*server{
		"write index least":    {position: func(heard, got int64) (int64, int64) { return heard, min }},
		"write index most":     {position: func(heard, got int64) (int64, int64) { return heard, most }},
		"write index of hours": {position: func(heard, got int64) (int64, int64) { return heard, got + 3600*48000*frameBytes }},
		"read index least":     {position: func(heard, got int64) (int64, int64) { return min, got }},
		"read index most":      {position: func(heard, got int64) (int64, int64) { return most, got }},
		"both least":           {position: at(min, min)},
		"both most":            {position: at(most, most)},
		"turned round":         {position: at(most, min)},
		"latency most":         {position: honest, latency: math.MaxUint64},
		"latency of hours":     {position: honest, latency: 3600e6},
		"asks for gigabytes":   {position: honest, asks: math.MaxUint32},
		"in turns": {position: func(heard, got int64) (int64, int64) {
			if heard/frameBytes%2 == 0 {
				return honest(heard, got)
			}
			return min, most
		}},
	} {
		t.Run(name, func(t *testing.T) {
			l, played := begins(t, func() *server { return &server{position: s.position, latency: s.latency, asks: s.asks} })
			soon(t, played, "sound")
			for s := l.Status(); !s.Sounding && s.Problem == ""; s = l.Status() {
				soon(t, l.Changed(), "whether it sounds")
			}
			changed := make(chan int64)
			go func() {
				for range 20 {
					l.Change(func(frame int64) { changed <- frame })
				}
				require.NoError(t, l.Close())
				close(changed)
			}()
			limit := time.After(2 * time.Minute) // far more than it takes
			for n := 0; ; n++ {
				select {
				case frame, ok := <-changed:
					if !ok {
						assert.Equal(t, 20, n)
						return
					}
					assert.InDelta(t, l.Heard(time.Now()), float64(frame), mostAhead.Seconds()*48000+48000)
				case <-limit:
					require.Fail(t, "it is locked", "after %d changes", n)
				}
			}
		})
	}
}

// TestWhatAServerSaysIsUnderstood completely, and for longer than pulseSlack.
func TestWhatAServerSaysIsUnderstood(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		begun := time.Now()
		near, far := net.Pipe()
		go (&server{position: func(heard, got int64) (int64, int64) {
			assert.Less(t, heard, got, "it runs dry")
			return honest(heard, got)
		}}).serve(far)
		f := newFeed(&counter{})
		p, err := startPulse(t.Context(), near, f, 48000, Options{Describe: true})
		require.NoError(t, err)
		defer func() {
			p.close()
			assert.Equal(t, errClosed, p.err(), "why the output ended")
		}()
		for f.device.Load().Called == "" {
			soon(t, f.moved, "what the device is called")
		}
		assert.Equal(t, Device{"boathouse", "Boathouse (Bluetooth)"}, *f.device.Load())
		for s := (sighting{}); s.frame < 2*pulseSlack.Seconds()*48000; {
			s = soon(t, f.sightings, "where the output is")
			assert.True(t, s.running)
			require.InDelta(t, s.at.Sub(begun).Seconds()*48000, s.frame, 48)
		}
	})
}

// TestServersThatSpeakBadly end the connection at worst.
func TestServersThatSpeakBadly(t *testing.T) {
	spoil := map[string]func(chance *rand.Rand, body []byte) []byte{
		"a byte": func(chance *rand.Rand, b []byte) []byte { b[chance.IntN(len(b))] = byte(chance.Uint32()); return b },
		"a type": func(chance *rand.Rand, b []byte) []byte {
			b[5*chance.IntN(len(b)/5)] = "LtNrRUaTm10xvPVfB"[chance.IntN(17)]
			return b
		},
		"a large size": func(chance *rand.Rand, b []byte) []byte { copy(b[chance.IntN(len(b)):], "\xff\xff\xff\xff"); return b },
		"cut off":      func(chance *rand.Rand, b []byte) []byte { return b[:chance.IntN(len(b))] },
		"longer":       func(chance *rand.Rand, b []byte) []byte { return append(b, b[chance.IntN(len(b)):]...) },
	}
	for name, spoil := range spoil {
		t.Run(name, func(t *testing.T) {
			var all sync.WaitGroup
			for seed := range uint64(60) {
				all.Go(func() {
					chance := rand.New(rand.NewPCG(seed, 1))
					near, far := net.Pipe()
					defer far.Close()
					s := &server{position: honest, spoils: func(b []byte) []byte {
						if chance.IntN(4) > 0 {
							return b
						}
						return spoil(chance, b)
					}}
					go s.serve(far)
					p, err := startPulse(t.Context(), near, newFeed(&counter{}), 48000, Options{Describe: true})
					if err != nil {
						near.Close()
						return
					}
					_ = p.hold(func(frame int64) { assert.Less(t, frame, p.latest()) })
					p.close()
				})
			}
			all.Wait()
		})
	}
}

// TestAnUnknownMessageIsLeftOut, and the protocol's client doesn't print it.
func TestAnUnknownMessageIsLeftOut(t *testing.T) {
	near, far := net.Pipe()
	s := &server{conn: far}
	wire := newStrict(near)
	go func() {
		s.send(4711, noStream, values{uint32(7)})
		s.send(proto.OpReply, 8, nil) // to nothing
		s.send(proto.OpRequest, noStream, values{uint32(0), uint32(640)})
		s.send(proto.OpRequest, noStream, values{"lantern", uint32(640)})
	}()
	got, err := io.ReadAll(wire)
	require.NoError(t, err)
	assert.Equal(t, append(values{uint32(proto.OpRequest), uint32(noStream)}.bytes(), values{uint32(0), uint32(640)}.bytes()...), got[packetHead:])
	_, err = far.Write([]byte("x"))
	assert.Error(t, err, "what is wrong ends the connection")
}

// TestServersThatFlood don't keep the program from ending, whether it is still connected to them or not.
func TestServersThatFlood(t *testing.T) {
	for name, message := range map[string]struct {
		op uint32
		values
	}{
		"requests":         {proto.OpRequest, values{uint32(0), uint32(1 << 16)}},
		"small requests":   {proto.OpRequest, values{uint32(0), uint32(frameBytes)}},
		"empty requests":   {proto.OpRequest, values{uint32(0), uint32(0)}},
		"moves":            {proto.OpPlaybackStreamMoved, values{uint32(0), uint32(1), "quay", false, uint32(0), uint32(0), uint32(0), uint32(0), usec(0)}},
		"unknown messages": {4711, values{uint32(0)}},
		"stray replies":    {proto.OpReply, values{uint32(0), uint32(1)}},
	} {
		t.Run(name, func(t *testing.T) {
			flooded := make(chan struct{}, 1)
			l, _ := begins(t, func() *server {
				return &server{position: honest, floods: func(s *server) {
					send := func() bool { return s.send(message.op, math.MaxUint32, message.values) }
					for n := 0; n < 1000 && send(); n++ {
					}
					select {
					case flooded <- struct{}{}:
					default:
					}
					for send() {
					}
				}}
			})
			soon(t, flooded, "the flood")
			for s := l.Status(); !s.Sounding && s.Problem == ""; s = l.Status() {
				soon(t, l.Changed(), "whether it sounds")
			}
			closed := make(chan struct{})
			go func() {
				l.Change(func(int64) {})
				l.Close()
				close(closed)
			}()
			soon(t, closed, "the end")
			soon(t, l.stopped, "the end of what it does")
		})
	}
}

// TestASilentStreamIsCorked: the server is neither asked nor sent anything until the next change, which
// starts the stream anew; every frame is sent in its place.
func TestASilentStreamIsCorked(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		near, far := net.Pipe()
		sound := map[int64]float32{} // what is to be heard on a frame of the stream
		s := &server{position: honest, hears: func(at int64, sent []byte) {
			for i := 0; i+frameBytes <= len(sent); i += frameBytes {
				sound[(at+int64(i))/frameBytes] = math.Float32frombits(binary.LittleEndian.Uint32(sent[i+4:]))
			}
		}}
		go s.serve(far)
		way := opener{name: "PulseAudio", open: func(ctx context.Context, f *feed, rate int, o Options) (output, error) {
			return startPulse(ctx, near, f, rate, o)
		}}
		l := open(&counter{}, 48000, Options{Silence: func(int64) bool { return true }}, []opener{way})
		for n := range 3 {
			pass(10 * time.Second)
			require.Len(t, s.corks, 2*n+2)
			assert.True(t, s.corks[2*n+1], "corked")
			got, heard := s.got, s.heard()
			pass(time.Hour)
			assert.Equal(t, got, s.got, "nothing is sent")
			assert.Equal(t, heard, s.heard())
			asked := time.Now()
			var from int64
			l.Change(func(frame int64) { from = frame })
			assert.Zero(t, time.Since(asked), "at once")
			pass(time.Second)
			require.Len(t, s.corks, 2*n+3)
			assert.False(t, s.corks[2*n+2], "started anew")
			assert.InDelta(t, 48000, l.Heard(time.Now())-float64(from), 100, "it is heard at once")
			assert.InDelta(t, float64(s.heard()/frameBytes), l.Heard(time.Now()), 24000, "time is the stream's")
		}
		for at, last := int64(24000), s.heard()/frameBytes; at < last; at++ {
			require.InDelta(t, 1, float64(sound[at]-sound[at-1])*frameUnit, 0.01, "frame %d is lost or doubled", at)
		}
		require.NoError(t, l.Close())
	})
}
