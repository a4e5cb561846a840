package device

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
)

// aplay plays through ALSA by way of its command-line player, which keeps the
// program free of C libraries and of their failures. What the player has
// taken cannot be dropped again, and where it is can only be told from what
// it has taken.
type aplay struct {
	feed *feed
	rate int
	cmd  *exec.Cmd
	pipe *os.File
	raw  syscall.RawConn // of pipe

	rendering sync.Mutex
	written   int64 // the frame that is rendered next

	started chan struct{} // closed when the player takes frames
	once    sync.Once
	ended   chan struct{}
	cause   error
	tasks   sync.WaitGroup
}

const (
	aplayDevice = "default" // ALSA's name of what it plays on
	aplayChunk  = 128       // frames
	// aplayPipe is the size in bytes of the pipe, the least that Linux
	// allows; the usual 64 KiB would hold a third of a second.
	aplayPipe = 4096
	// aplayBuffer is what the player is told to keep ready.
	aplayBuffer = 100 * time.Millisecond
	// aplayBehind is how long after the player took it a frame is heard:
	// its buffer, which it keeps full, and as measured 7 ms more.
	aplayBehind = aplayBuffer + 7*time.Millisecond
	// aplayAhead is how far the player may run ahead of time. A device that
	// plays nothing may take all it gets at once; it must not keep us busy.
	aplayAhead = 500 * time.Millisecond
	// aplaySettle is how long its position means nothing, while it fills the
	// device's buffer and the device gets going.
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
	case <-a.ended:
		err = a.cause
	case <-ctx.Done():
		err = ctx.Err()
	case <-late.C:
		err = errors.New("it takes no sound")
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
	a := &aplay{
		feed:    f,
		rate:    rate,
		pipe:    in,
		raw:     raw,
		started: make(chan struct{}),
		ended:   make(chan struct{}),
	}
	a.cmd = exec.Command("aplay", "-q", "-D", aplayDevice, "-t", "raw", "-f", "FLOAT_LE",
		"-r", strconv.Itoa(rate), "-c", "2",
		"--buffer-time="+strconv.Itoa(int(aplayBuffer.Microseconds())), "--period-time=10000", "-")
	var said head // kept off the terminal
	a.cmd.Stdin, a.cmd.Stderr = out, &said
	a.cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // the terminal's ^C is for us
	a.cmd.WaitDelay = time.Second
	if err := a.cmd.Start(); err != nil {
		in.Close()
		return nil, err
	}
	a.tasks.Go(func() {
		err := a.cmd.Wait()
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

// control calls f with the file descriptor, which stays open meanwhile.
func control(raw syscall.RawConn, f func(fd int) error) error {
	var err error
	if e := raw.Control(func(fd uintptr) { err = f(int(fd)) }); e != nil {
		return e
	}
	return err
}

// write keeps the pipe full; the player sets the pace.
func (a *aplay) write() {
	buf := make([]byte, aplayChunk*frameBytes)
	last, lead := time.Now(), time.Duration(0)
	var taken time.Time // when the player took the first frames
	for {
		a.rendering.Lock()
		a.feed.fill(buf, a.written)
		a.written += aplayChunk
		written := a.written
		a.rendering.Unlock()
		if _, err := a.pipe.Write(buf); err != nil {
			return // the player has ended, and Wait knows why
		}
		if taken.IsZero() && written*frameBytes > aplayPipe {
			taken = time.Now()
			close(a.started)
		}
		a.look(written, !taken.IsZero() && time.Since(taken) > aplaySettle)

		// A device takes a second's frames in a second, give or take far
		// less than the hundredth that is let pass.
		now := time.Now()
		lead += aplayChunk*time.Second/time.Duration(a.rate) - now.Sub(last)*101/100
		lead, last = max(lead, 0), now
		if lead > aplayAhead {
			select {
			case <-a.ended:
				return
			case <-time.After(aplayAhead / 2):
			}
		}
	}
}

// look tells the feed which frame is heard.
func (a *aplay) look(written int64, settled bool) {
	waiting := 0
	err := control(a.raw, func(fd int) (err error) {
		waiting, err = unix.IoctlGetInt(fd, unix.TIOCINQ)
		return err
	})
	if err != nil {
		return // the pipe is closed, as write will find
	}
	heard := float64(written) - float64(waiting)/frameBytes - aplayBehind.Seconds()*float64(a.rate)
	a.feed.observe(time.Now(), heard, settled && heard > 0)
}

func (a *aplay) hold(f func(frame int64)) error {
	a.rendering.Lock()
	defer a.rendering.Unlock()
	select {
	case <-a.ended:
		return a.cause
	default:
	}
	f(a.written)
	return nil
}

func (a *aplay) end(cause error) {
	a.once.Do(func() {
		a.cause = cause
		close(a.ended)
		a.pipe.Close()
		a.cmd.Process.Kill()
	})
}

func (a *aplay) done() <-chan struct{} { return a.ended }

func (a *aplay) err() error { return a.cause }

func (a *aplay) close() {
	a.end(errClosed)
	a.tasks.Wait()
}
