package device

import (
	"context"
	"encoding/binary"
	"errors"
	"math"
	"net"
	"os"
	"strings"
	"time"

	"github.com/jfreymuth/pulse/proto"
)

// recorder records a Microphone through a PulseAudio server.
type recorder struct {
	*ending
	mic    *Microphone
	client *proto.Client
	stream uint32
}

const (
	recordPart    = 10 * time.Millisecond // the sound that the server sends at a time
	recordLook    = 50 * time.Millisecond // between questions about the position
	recordMonitor = ".monitor"            // how the name of what an output plays ends
)

func listen(ctx context.Context, rate int, heard func(time.Time) float64, o Options) (*Microphone, error) {
	m := &Microphone{heard: heard, rate: rate}
	err := reachPulse(ctx, func(conn net.Conn) error { return startRecorder(ctx, conn, m, o) })
	var f *failure
	if errors.As(err, &f) && errors.As(f.cause, new(noMicrophone)) {
		return nil, &failure{"no microphone found", f.cause}
	}
	if err != nil {
		return nil, err
	}
	return m, nil
}

// noMicrophone says that a server has none.
type noMicrophone string

func (e noMicrophone) Error() string { return string(e) }

// startRecorder records from a fresh connection, which is closed with the microphone.
func startRecorder(ctx context.Context, conn net.Conn, m *Microphone, o Options) (err error) {
	r := &recorder{ending: newEnding(), mic: m, stream: proto.Undefined}
	context.AfterFunc(r, func() { conn.Close() })
	defer context.AfterFunc(ctx, func() { conn.Close() })() // cuts the requests below short
	if r.client, err = greet(conn, r.event, true); err != nil {
		return err
	}
	named := os.Getenv("PULSE_SOURCE") // as PulseAudio's own programs have it
	var stream proto.CreateRecordStreamReply
	err = r.client.Request(&proto.CreateRecordStream{
		SampleSpec:         proto.SampleSpec{Format: proto.FormatFloat32LE, Channels: 1, Rate: uint32(m.rate)},
		ChannelMap:         proto.ChannelMap{proto.ChannelMono},
		SourceIndex:        proto.Undefined,
		SourceName:         named,
		BufferMaxLength:    proto.Undefined,
		BufferFragSize:     uint32(recordPart.Seconds()*float64(m.rate)) * 4,
		AdjustLatency:      true,
		DirectOnInputIndex: proto.Undefined,
		ChannelVolumes:     proto.ChannelVolumes{pulseNormal},
		Properties:         proto.PropList{"media.name": proto.PropListString("Slowquick")},
	}, &stream)
	switch {
	case errors.Is(err, proto.ErrNoSuchEntity):
		return noMicrophone("the sound server has no source")
	case err != nil:
		return err
	case named == "" && strings.HasSuffix(stream.SourceName, recordMonitor): // what an output plays
		return noMicrophone("the sound server's only source is " + stream.SourceName)
	}
	r.stream, m.Name = stream.StreamIndex, bounded(stream.SourceName)
	m.close, m.done, m.cause = r.ending.close, r.Done(), r.err
	r.tasks.Go(func() { o.guard(r.watch) })
	return nil
}

// event handles the server's messages and its sound. It must not block.
func (r *recorder) event(message any) {
	switch m := message.(type) {
	case *proto.DataPacket:
		samples := make([]float32, len(m.Data)/4)
		for i := range samples {
			samples[i] = math.Float32frombits(binary.LittleEndian.Uint32(m.Data[4*i:]))
		}
		r.mic.record(samples)
	case *proto.RecordStreamKilled:
		r.end(&failure{plain: "the microphone was taken away"})
	case *proto.ConnectionClosed:
		r.end(&failure{plain: "the sound server went away"})
	}
}

// watch notes now and then which sample is recorded.
func (r *recorder) watch() {
	tick := time.NewTicker(recordLook)
	defer tick.Stop()
	refused := 0
	for {
		select {
		case <-r.Done():
			return
		case <-tick.C:
		}
		if err := r.look(); err == nil {
			refused = 0
		} else if refused++; refused == pulseRefused {
			r.end(&failure{"the sound server does not answer", err})
			return
		}
	}
}

// look asks once.
func (r *recorder) look() error {
	asked := time.Now()
	var p proto.GetRecordLatencyReply
	if err := r.client.Request(&proto.GetRecordLatency{
		StreamIndex: r.stream,
		Time:        proto.Time{Seconds: uint32(asked.Unix()), Microseconds: uint32(asked.Nanosecond() / 1000)},
	}, &p); err != nil {
		return err
	}
	if p.WriteIndex <= 0 || uint64(p.Latency) > uint64(pulseSlack.Microseconds()) || uint64(p.MonitorLatency) > uint64(pulseSlack.Microseconds()) {
		return nil
	}
	at := truthAt(asked, time.Now(), p.ReplyTime)
	// The last sample that the server has was recorded as long ago as the source's latency. Of what an
	// output plays, it will be heard only after that one's.
	at = at.Add(-time.Duration(p.Latency) * time.Microsecond).Add(time.Duration(p.MonitorLatency) * time.Microsecond)
	r.mic.mark(float64(p.WriteIndex)/4, at)
	return nil
}
