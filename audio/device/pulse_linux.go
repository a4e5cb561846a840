package device

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"github.com/jfreymuth/pulse/proto"
)

// pulse plays through a PulseAudio server, or PipeWire, which speaks its protocol.
//
// It uses only the protocol, and not the library's streams: those can block for ever, and bring the
// program down when a server hangs up early.
//
// A server that is late with our frames must not shift the beat: it is asked not to wait for its buffer
// to fill (prebuf 0), so that it throws away what comes too late and the rest stays where it belongs.
type pulse struct {
	*ending
	client *proto.Client
	conn   net.Conn
	feed   *feed
	rate   int
	stream uint32
	target int64 // bytes that the server keeps filled
	begun  time.Time

	wanted  atomic.Int64  // bytes that the server has asked for and not got
	wake    chan struct{} // of capacity 1: wanted has changed
	turn    chan struct{} // of capacity 1: a lock held to write or to hold
	written int64         // the frame to be written next; guarded by turn
	buf     []byte        // a chunk; guarded by turn
	resting bool          // corked by rest; guarded by turn
	waking  bool          // it was started, and its sound has not been heard yet; used by watch
	last    sighting      // the position asked for last; used by watch
	corked  atomic.Bool   // the stream has not been started yet, or rests
	plays   chan struct{} // of capacity 1: the stream has been started

	moved    chan string // of capacity 1: the latest sink that the stream has moved to
	describe bool        // whether to ask for the name that people use for a sink
}

const (
	pulseChunk   = 512                   // frames written at a time
	pulseRequest = 10 * time.Millisecond // the least that the server asks for
	pulseSlow    = 50 * time.Millisecond // between questions about the position
	pulseFast    = 10 * time.Millisecond // the same, until it plays
	pulseRefused = 2                     // unanswered questions until it counts as hung
	pulseWaking  = 2 * time.Millisecond  // the same, just after it was started
	pulseNormal  = proto.Volume(0x10000) // unchanged volume
	pulsePort    = "4713"
	// pulseSlack is how far what a server says may differ from what time allows: its buffer and the way
	// to the ear are far shorter. pulseDrift is how much faster its clock may run.
	pulseSlack = 10 * time.Second
	pulseDrift = 1.01
	// pulseBluetooth is how the names of Bluetooth drivers begin: bluez in PulseAudio, bluez5 in
	// PipeWire (both from memory).
	pulseBluetooth = "bluez"
)

func openPulse(ctx context.Context, f *feed, rate int, o Options) (output, error) {
	var p *pulse
	err := reachPulse(ctx, func(conn net.Conn) (err error) {
		p, err = startPulse(ctx, conn, f, rate, o)
		return err
	})
	if err != nil {
		return nil, err
	}
	return p, nil
}

// reachPulse calls start with a connection to a sound server, and closes it if start fails; then it tries
// the next server.
func reachPulse(ctx context.Context, start func(net.Conn) error) error {
	var errs []error
	found := false
	for _, server := range pulseServers() {
		conn, err := dialPulse(ctx, server)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		found = true
		if err = start(conn); err == nil {
			return nil
		}
		conn.Close()
		errs = append(errs, fmt.Errorf("%s: %w", server, err))
	}
	plain := "no sound server found"
	if found {
		plain = "the sound server does not answer"
	}
	return &failure{plain, errors.Join(errs...)}
}

// pulseServers returns where a server may listen, in PulseAudio's own order: where the environment
// says, else the usual places.
func pulseServers() []string {
	var list []string
	if named := os.Getenv("PULSE_SERVER"); named != "" {
		for _, s := range strings.Fields(named) {
			if strings.HasPrefix(s, "{") { // {machine id}address
				_, s, _ = strings.Cut(s, "}")
			}
			list = append(list, s)
		}
		return list
	}
	if d := os.Getenv("PULSE_RUNTIME_PATH"); d != "" {
		list = append(list, filepath.Join(d, "native"))
	}
	if d := os.Getenv("XDG_RUNTIME_DIR"); d != "" {
		list = append(list, filepath.Join(d, "pulse", "native"))
	}
	return append(list,
		fmt.Sprintf("/run/user/%d/pulse/native", os.Getuid()),
		"/run/pulse/native",
		"/var/run/pulse/native")
}

func dialPulse(ctx context.Context, server string) (net.Conn, error) {
	d := net.Dialer{Timeout: patience}
	kind, address, _ := strings.Cut(server, ":")
	switch {
	case strings.HasPrefix(server, "/"):
		return d.DialContext(ctx, "unix", server)
	case kind == "unix":
		return d.DialContext(ctx, "unix", address)
	case kind == "tcp" || kind == "tcp4" || kind == "tcp6":
		if _, _, err := net.SplitHostPort(address); err != nil {
			address = net.JoinHostPort(strings.Trim(address, "[]"), pulsePort)
		}
		return d.DialContext(ctx, kind, address)
	}
	return nil, fmt.Errorf("sound server %q: not an address", server)
}

// pulseCookie returns what a server asks for to know its user.
func pulseCookie() []byte {
	var places []string
	if p := os.Getenv("PULSE_COOKIE"); p != "" {
		places = append(places, p)
	}
	if d, err := os.UserConfigDir(); err == nil {
		places = append(places, filepath.Join(d, "pulse", "cookie"))
	}
	if d, err := os.UserHomeDir(); err == nil {
		places = append(places, filepath.Join(d, ".pulse-cookie"))
	}
	const size = 256
	for _, p := range places {
		if b, err := readPlain(p, size+1); err == nil && len(b) == size {
			return b
		}
	}
	return make([]byte, size)
}

// readPlain reads a regular file; a pipe might block, and a device never end.
func readPlain(path string, most int64) ([]byte, error) {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return nil, errors.Join(err, errors.New("not a regular file"))
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most))
}

// startPulse opens a stream on a fresh connection, which is closed only with the output.
func startPulse(ctx context.Context, conn net.Conn, f *feed, rate int, o Options) (*pulse, error) {
	p := &pulse{
		ending: newEnding(),
		conn:   conn,
		begun:  time.Now(),
		feed:   f,
		rate:   rate,
		stream: proto.Undefined,
		wake:   make(chan struct{}, 1),
		turn:   make(chan struct{}, 1),
		buf:    make([]byte, pulseChunk*frameBytes),
		moved:  make(chan string, 1),
		plays:  make(chan struct{}, 1),

		describe: o.Describe,
	}
	p.corked.Store(true)
	context.AfterFunc(p, func() { conn.Close() })
	defer context.AfterFunc(ctx, func() { conn.Close() })() // cuts the requests below short
	var err error
	if p.client, err = greet(conn, p.event, false); err != nil {
		return nil, err
	}
	name := proto.PropListString("Slowquick")
	bytes := func(d time.Duration) uint32 {
		return uint32(d.Seconds()*float64(rate)) * frameBytes
	}
	var stream proto.CreatePlaybackStreamReply
	if err = p.client.Request(&proto.CreatePlaybackStream{
		SampleSpec:            proto.SampleSpec{Format: proto.FormatFloat32LE, Channels: 2, Rate: uint32(rate)},
		ChannelMap:            proto.ChannelMap{proto.ChannelLeft, proto.ChannelRight},
		ChannelVolumes:        proto.ChannelVolumes{pulseNormal, pulseNormal},
		SinkIndex:             proto.Undefined,
		Corked:                true,
		BufferMaxLength:       proto.Undefined,
		BufferTargetLength:    bytes(latency),
		BufferPrebufferLength: 0,
		BufferMinimumRequest:  bytes(pulseRequest),
		AdjustLatency:         true,
		Properties:            proto.PropList{"media.name": name, "media.role": proto.PropListString("music")},
	}, &stream); err != nil {
		return nil, fmt.Errorf("open a stream: %w", err)
	}
	p.stream = stream.StreamIndex
	p.target = int64(stream.BufferTargetLength)
	p.ask(int64(stream.Missing)) // beside what event has counted since
	p.tasks.Go(func() { o.guard(p.write) })
	p.tasks.Go(func() { o.guard(func() { p.watch(stream.SinkName) }) })
	return p, nil
}

// greet logs in on a fresh connection. From then on event is called with the server's own messages, and
// with what is recorded if records is set.
func greet(conn net.Conn, event func(any), records bool) (*proto.Client, error) {
	client := &proto.Client{Callback: event} // must be set before Open
	client.SetTimeout(patience)
	wire := newStrict(conn)
	wire.records = records
	client.Open(wire)
	var auth proto.AuthReply
	if err := client.Request(&proto.Auth{Version: client.Version(), Cookie: pulseCookie()}, &auth); err != nil {
		return nil, fmt.Errorf("log in: %w", err)
	}
	client.SetVersion(auth.Version)
	wire.version.Store(int64(client.Version().Version()))
	if err := client.Request(&proto.SetClientName{Props: proto.PropList{
		"application.name":       proto.PropListString("Slowquick"),
		"application.process.id": proto.PropListString(strconv.Itoa(os.Getpid())),
	}}, &proto.SetClientNameReply{}); err != nil {
		return nil, fmt.Errorf("give a name: %w", err)
	}
	return client, nil
}

// event handles the server's own messages. It must not block.
func (p *pulse) event(message any) {
	switch m := message.(type) {
	case *proto.Request:
		p.ask(int64(m.Length))
	case *proto.PlaybackStreamMoved: // the connection has only one stream
		put(p.moved, m.DestName)
	case *proto.PlaybackStreamKilled:
		p.end(&failure{plain: "the sound output was taken away"})
	case *proto.ConnectionClosed:
		p.end(&failure{plain: "the sound server went away"})
	}
}

func (p *pulse) ask(bytes int64) {
	p.wanted.Add(bytes)
	put(p.wake, struct{}{})
}

// write sends what the server asks for.
func (p *pulse) write() {
	for {
		select {
		case <-p.Done():
			return
		case <-p.wake:
		}
		for p.wanted.Load() >= frameBytes {
			select {
			case <-p.Done():
				return
			case p.turn <- struct{}{}:
			}
			n := p.wanted.Load() / frameBytes // hold may have left less
			err := p.send(n)
			sent, resting := p.written, p.resting
			if n > 0 && sent+n > p.latest() {
				err = errImpossible
			}
			<-p.turn
			if err == nil && p.corked.Load() && !resting && sent*frameBytes >= p.target {
				// Any sooner, and the first frames might come too late.
				err = p.uncork()
			}
			if err != nil {
				p.fail(err)
				return
			}
		}
	}
}

// uncork starts the stream.
func (p *pulse) uncork() error {
	err := p.client.Request(&proto.CorkPlaybackStream{StreamIndex: p.stream, Corked: false}, nil)
	p.corked.Store(false)
	put(p.plays, struct{}{})
	return err
}

// latest returns the last frame that the server can have reached by now.
func (p *pulse) latest() int64 {
	return int64((time.Since(p.begun).Seconds()*pulseDrift + pulseSlack.Seconds()) * float64(p.rate))
}

// possible reports whether the server can be at a byte by now.
func (p *pulse) possible(at int64) bool {
	return at > -int64(pulseSlack.Seconds()*float64(p.rate))*frameBytes && at/frameBytes < p.latest()
}

// fail ends the output, because the server can't be relied on.
func (p *pulse) fail(err error) {
	plain := "the sound server does not answer"
	if errors.Is(err, errImpossible) {
		plain = errImpossible.Error()
	}
	p.end(&failure{plain, err})
}

// send renders and sends the next n frames, at most a chunk. The caller must hold turn.
func (p *pulse) send(n int64) error {
	if n <= 0 {
		return nil // an empty packet would make the server hang up
	}
	n = min(n, pulseChunk)
	part := p.buf[:n*frameBytes]
	p.feed.fill(part, p.written)
	p.written += n
	p.wanted.Add(-n * frameBytes)
	return p.client.Send(p.stream, part)
}

// watch asks the server for its position and reports it to the feed, along with the sink that plays, at
// first the given one.
func (p *pulse) watch(sink string) {
	p.tell(sink)
	timer := time.NewTimer(0) // not set while the stream is corked
	defer timer.Stop()
	refused, begun := 0, time.Time{}
	for {
		select {
		case <-p.Done():
			return
		case sink = <-p.moved:
			p.tell(sink)
			continue
		case <-p.plays:
			begun, p.waking = time.Now(), true
		case <-timer.C:
		}
		if p.corked.Load() {
			continue
		}
		running, err := p.look()
		switch {
		case err == nil:
			refused = 0
		case refused+1 == pulseRefused:
			p.fail(err)
			return
		default:
			refused++
		}
		switch {
		case running:
			timer.Reset(pulseSlow)
		case time.Since(begun) < asleep:
			timer.Reset(pulseWaking)
		default:
			timer.Reset(pulseFast)
		}
	}
}

// tell reports to the feed which sink plays.
func (p *pulse) tell(sink string) {
	p.feed.plays(Device{Name: sink})
	if !p.describe || sink == "" {
		return
	}
	var info proto.GetSinkInfoReply
	if p.client.Request(&proto.GetSinkInfo{SinkIndex: proto.Undefined, SinkName: sink}, &info) != nil {
		return // its name must do
	}
	called := bounded(info.Device) // the protocol library's name for the description
	if strings.HasPrefix(info.Properties["device.api"].String(), pulseBluetooth) {
		called = strings.TrimSpace(called + " (Bluetooth)")
	}
	p.feed.plays(Device{sink, called})
}

// look asks once.
func (p *pulse) look() (running bool, err error) {
	asked := time.Now()
	r, err := p.position(asked)
	answered := time.Now()
	if err != nil {
		return false, err
	}
	at := truthAt(asked, answered, r.ReplyTime)
	heard := float64(r.ReadIndex)/frameBytes - float64(r.Latency)*float64(p.rate)/1e6
	// After a rest, the device still plays what it had before, and its position is true already: if it
	// moves with time.
	now := sighting{at, heard, r.Running}
	if since := at.Sub(p.last.at).Seconds(); p.waking && p.last.frame > 0 && since > 0.5*pulseWaking.Seconds() {
		pace := (heard - p.last.frame) / float64(p.rate) / since
		now.running = now.running || math.Abs(pace-1) < 0.25
	}
	p.last, p.waking = now, p.waking && !r.Running
	p.feed.observe(at, heard, now.running)
	return now.running, nil
}

// truthAt returns when an answer was true, some time between question and answer: when it says, as a
// server on the same host has our clock, or else half way.
func truthAt(asked, answered time.Time, reply proto.Time) time.Time {
	stamp := time.Unix(int64(reply.Seconds), int64(reply.Microseconds)*1000)
	if since := stamp.Sub(asked.Round(0)); since >= 0 && since <= answered.Sub(asked) {
		return asked.Add(since)
	}
	return asked.Add(answered.Sub(asked) / 2)
}

func (p *pulse) position(now time.Time) (proto.GetPlaybackLatencyReply, error) {
	var r proto.GetPlaybackLatencyReply
	err := p.client.Request(&proto.GetPlaybackLatency{
		StreamIndex: p.stream,
		Time:        proto.Time{Seconds: uint32(now.Unix()), Microseconds: uint32(now.Nanosecond() / 1000)},
	}, &r)
	if err == nil && !(p.possible(r.ReadIndex) && p.possible(r.WriteIndex) && uint64(r.Latency) < uint64(pulseSlack.Microseconds())) {
		err = errImpossible
	}
	return r, err
}

// take takes turn, to hold or to rest.
func (p *pulse) take(late <-chan time.Time) error {
	select {
	case p.turn <- struct{}{}:
		return nil
	case <-p.Done():
	case <-late:
		p.end(&failure{plain: "the sound server does not answer"})
	}
	return p.err()
}

func (p *pulse) rest() error {
	if err := p.take(time.After(patience)); err != nil {
		return err
	}
	defer func() { <-p.turn }()
	p.resting = true
	p.corked.Store(true)
	if err := p.client.Request(&proto.CorkPlaybackStream{StreamIndex: p.stream, Corked: true}, nil); err != nil {
		p.fail(err)
		return p.err()
	}
	return nil
}

func (p *pulse) hold(f func(frame int64)) error {
	late := time.NewTimer(patience)
	defer late.Stop()
	if err := p.take(late.C); err != nil {
		return err
	}
	defer func() { <-p.turn }()

	type answer struct {
		frame int64
		err   error
	}
	answers := make(chan answer, 1)
	go func() {
		err := p.client.Request(&proto.FlushPlaybackStream{StreamIndex: p.stream}, nil)
		var r proto.GetPlaybackLatencyReply
		if err == nil {
			r, err = p.position(time.Now())
		}
		answers <- answer{r.WriteIndex / frameBytes, err}
	}()
	var a answer
	select {
	case a = <-answers:
	case <-late.C:
		a.err = context.DeadlineExceeded
	}
	end := p.written
	if a.err == nil && end-a.frame > int64(pulseSlack.Seconds()*float64(p.rate)) {
		a.err = errImpossible // it would have had more than it can keep
	}
	if a.err != nil {
		// It is unknown whether the queue was dropped.
		p.fail(a.err)
		return p.err()
	}
	p.written = a.frame
	f(a.frame)
	// The server will ask for what it has dropped, but is about to play it.
	for p.written < end && a.err == nil {
		select {
		case <-late.C:
			a.err = context.DeadlineExceeded
		case <-p.Done():
			return nil
		default:
			a.err = p.send(end - p.written)
		}
	}
	if a.err == nil && p.resting {
		p.resting = false
		a.err = p.uncork()
	}
	if a.err != nil {
		p.fail(a.err)
	}
	return nil
}
