package device

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
)

// aplay plays through ALSA's command-line player, which keeps C libraries and their failures out of the
// program. What the player has taken can't be dropped again, and its position can only be inferred from
// how much it has taken.
type aplay struct {
	forward
	rate    int
	pipe    *os.File
	raw     syscall.RawConn // of the pipe
	started chan struct{}   // closed once the player takes frames
}

const (
	aplayDevice = "default" // ALSA's name for the device
	aplayChunk  = 128       // frames
	// aplayPipe is the size of the pipe in bytes, the smallest that Linux allows; the usual 64 KiB
	// would hold a third of a second.
	aplayPipe = 4096
	// aplayBuffer is how much the player is asked to buffer.
	aplayBuffer = 100 * time.Millisecond
	// aplayBehind is how long after the player took a frame it is heard: its buffer, which it keeps
	// full, and a measured 7 ms more.
	aplayBehind = aplayBuffer + 7*time.Millisecond
	// aplayAhead is how far the player may run ahead of time. A device that plays nothing may take all
	// it can get; it must not keep us busy.
	aplayAhead = 500 * time.Millisecond
	// aplaySettle is how long its position means nothing, while it fills the device's buffer and the
	// device starts.
	aplaySettle = 200 * time.Millisecond
	// aplayStart is how long the player may take to open its device.
	aplayStart = 2 * time.Second
	// aplayPause is the pause between two attempts.
	aplayPause = 10 * time.Second
)

func openAplay(ctx context.Context, f *feed, rate int, o Options) (output, error) {
	f.plays(Device{Name: aplayDevice})
	a, err := startAplay(f, rate, o)
	if err != nil {
		return nil, &failure{"aplay does not start", err}
	}
	late := time.NewTimer(aplayStart)
	defer late.Stop()
	select {
	case <-a.started:
		return a, nil
	case <-a.Done():
		err = a.err()
	case <-ctx.Done():
		err = ctx.Err()
	case <-late.C:
		err = errors.New("it accepts no sound")
	}
	a.close()
	return nil, &failure{"aplay does not start", err}
}

func startAplay(f *feed, rate int, o Options) (*aplay, error) {
	out, in, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	defer out.Close()
	raw, err := in.SyscallConn()
	if err == nil {
		err = control(raw, func(fd int) error {
			_, err := unix.FcntlInt(uintptr(fd), unix.F_SETPIPE_SZ, aplayPipe)
			return err
		})
	}
	if err != nil {
		in.Close()
		return nil, fmt.Errorf("narrow its pipe: %w", err)
	}
	a := &aplay{forward: newForward(f), rate: rate, pipe: in, raw: raw, started: make(chan struct{})}
	context.AfterFunc(a, func() { in.Close() })
	cmd := exec.CommandContext(a, "aplay", "-q", "-D", aplayDevice, "-t", "raw", "-f", "FLOAT_LE",
		"-r", strconv.Itoa(rate), "-c", "2",
		"--buffer-time="+strconv.Itoa(int(aplayBuffer.Microseconds())), "--period-time=10000", "-")
	var said head // kept off the terminal
	cmd.Stdin, cmd.Stderr = out, &said
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // the terminal's ^C is ours to handle
	cmd.WaitDelay = time.Second
	if err := cmd.Start(); err != nil {
		a.end(err)
		return nil, err
	}
	a.tasks.Go(func() {
		err := cmd.Wait()
		first, _, _ := strings.Cut(string(said), "\n")
		a.end(&failure{"aplay stopped", fmt.Errorf("%v: %s", err, first)})
	})
	a.tasks.Go(func() { o.guard(a.write) })
	return a, nil
}

// head keeps the beginning of what is written to it.
type head []byte

func (h *head) Write(p []byte) (int, error) {
	const most = 1024
	*h = append(*h, p[:min(len(p), most-len(*h))]...)
	return len(p), nil
}

// control calls f with the file descriptor, which stays open until f returns.
func control(raw syscall.RawConn, f func(fd int) error) error {
	var err error
	if e := raw.Control(func(fd uintptr) { err = f(int(fd)) }); e != nil {
		return e
	}
	return err
}

// write keeps the pipe full; the player sets the pace. During a rest it runs dry.
func (a *aplay) write() {
	buf := make([]byte, aplayChunk*frameBytes)
	last, lead := time.Now(), time.Duration(0)
	var taken time.Time // when the player took the first frames
	full := int64(0)    // its buffer is full again from this frame on, after a rest
	for {
		switch waited, ok := a.sleep(); {
		case !ok:
			return
		case waited:
			last, lead = time.Now(), 0
			full = a.written + int64(aplayBuffer.Seconds()*float64(a.rate))
		}
		written, ok := a.render(buf)
		if !ok {
			return
		}
		if _, err := a.pipe.Write(buf); err != nil {
			return // the player has ended; Wait returns the reason
		}
		if taken.IsZero() && written*frameBytes > aplayPipe {
			taken = time.Now()
			close(a.started)
		}
		a.look(written, !taken.IsZero() && time.Since(taken) > aplaySettle && written >= full)

		// A device takes a second's frames in a second, with an error far below the one per cent
		// allowed here.
		now := time.Now()
		lead += aplayChunk*time.Second/time.Duration(a.rate) - now.Sub(last)*101/100
		lead, last = max(lead, 0), now
		if lead > aplayAhead {
			select {
			case <-a.Done():
				return
			case <-time.After(aplayAhead / 2):
			}
		}
	}
}

// look reports to the feed which frame is heard.
func (a *aplay) look(written int64, settled bool) {
	waiting := 0
	err := control(a.raw, func(fd int) (err error) {
		waiting, err = unix.IoctlGetInt(fd, unix.TIOCINQ)
		return err
	})
	if err != nil {
		return // the pipe is closed, which write will notice
	}
	heard := float64(written) - float64(waiting)/frameBytes - aplayBehind.Seconds()*float64(a.rate)
	a.feed.observe(time.Now(), heard, settled && heard > 0)
}
