//go:build darwin || windows

package device

import (
	"context"
	"errors"
	"fmt"
	"io"
	"sync"
	"time"

	"github.com/ebitengine/oto/v3"
)

// outputs returns the ways to open an output.
func outputs() []opener {
	return []opener{{name: "oto", open: openOto}}
}

// driver is oto's context. A process can have only one, which lasts as long as the process; hence the
// variable.
var driver struct {
	sync.Mutex
	context *oto.Context
	rate    int
}

// otoOutput plays through the system's own driver. What it has taken can't be dropped again.
type otoOutput struct {
	forward
	player *oto.Player
	system *oto.Context
	rate   int
	behind time.Duration // what the driver has taken but not yet played
}

// otoPoll is the time between looks at the position.
const otoPoll = 20 * time.Millisecond

func openOto(ctx context.Context, f *feed, rate int, opt Options) (output, error) {
	const half = latency / 2 // in the player, and as much in the driver
	system, err := otoDriver(ctx, rate, half)
	if err != nil {
		return nil, &failure{"the sound driver does not start", err}
	}
	if err := system.Resume(); err != nil {
		return nil, &failure{"the sound driver does not start", err}
	}
	o := &otoOutput{forward: newForward(f), system: system, rate: rate, behind: half}
	f.plays(Device{Name: "default", Called: "default output"}) // the driver says no more
	o.player = system.NewPlayer(o)
	o.player.SetBufferSize(int(half.Seconds()*float64(rate)) * frameBytes)
	o.player.Play()
	o.tasks.Go(func() { opt.guard(o.watch) })
	return o, nil
}

func otoDriver(ctx context.Context, rate int, buffer time.Duration) (*oto.Context, error) {
	driver.Lock()
	defer driver.Unlock()
	if driver.context != nil {
		if driver.rate != rate {
			return nil, fmt.Errorf("it runs at %d frames a second already, not %d", driver.rate, rate)
		}
		return driver.context, nil
	}
	c, ready, err := oto.NewContext(&oto.NewContextOptions{
		SampleRate:   rate,
		ChannelCount: 2,
		Format:       oto.FormatFloat32LE,
		BufferSize:   buffer,
	})
	if err != nil {
		return nil, err
	}
	driver.context, driver.rate = c, rate
	select {
	case <-ready:
		return c, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	case <-time.After(5 * time.Second):
		return nil, errors.New("it did not become ready")
	}
}

// Read renders for the player.
func (o *otoOutput) Read(p []byte) (int, error) {
	n := len(p) / frameBytes * frameBytes
	if _, ok := o.render(p[:n]); !ok {
		return 0, io.EOF
	}
	return n, nil
}

func (o *otoOutput) rest() error {
	err := o.forward.rest()
	if err == nil {
		if e := o.system.Suspend(); e != nil {
			o.end(&failure{"the sound driver failed", e})
			err = o.err()
		}
	}
	return err
}

func (o *otoOutput) hold(f func(frame int64)) error {
	rests := o.resting.Load()
	err := o.forward.hold(f)
	if err == nil && rests {
		if e := o.system.Resume(); e != nil {
			o.end(&failure{"the sound driver failed", e})
		}
	}
	return err
}

// watch reports to the feed which frame is heard: the last one rendered, less what waits in the player
// and in the driver.
func (o *otoOutput) watch() {
	tick := time.NewTicker(otoPoll)
	defer tick.Stop()
	for {
		select {
		case <-o.Done():
			return
		case <-tick.C:
		}
		if _, ok := o.sleep(); !ok {
			return
		}
		if err := errors.Join(o.player.Err(), o.system.Err()); err != nil {
			o.end(&failure{"the sound driver failed", err})
			return
		}
		before := o.rendered()
		waiting := o.player.BufferedSize() / frameBytes
		at := time.Now()
		if o.rendered() != before {
			continue // the player took frames in between
		}
		heard := float64(before-int64(waiting)) - o.behind.Seconds()*float64(o.rate)
		o.feed.observe(at, heard, heard > 0 && o.player.IsPlaying())
	}
}

func (o *otoOutput) rendered() int64 {
	o.rendering.Lock()
	defer o.rendering.Unlock()
	return o.written
}

func (o *otoOutput) close() {
	o.rendering.Lock() // lets a Read that goes on come to its end
	o.end(errClosed)
	o.rendering.Unlock()
	o.player.Pause()
	o.tasks.Wait()
}
