package console

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

// untilSignal returns a context that ends with the first signal to end the program, as by ctrl+c or
// closing the window, so that commands can finish in order. The next ctrl+c or SIGTERM ends the
// program at once. The next SIGHUP doesn't, as a terminal sends one and its shell another. Signals
// that were ignored from the start, as by nohup, stay ignored.
func untilSignal() (ctx context.Context, stop func()) {
	asked := []os.Signal{syscall.SIGTERM}
	if !signal.Ignored(os.Interrupt) {
		asked = append(asked, os.Interrupt)
	}
	ctx, forget := signal.NotifyContext(context.Background(), asked...)
	stop = forget
	if !signal.Ignored(syscall.SIGHUP) {
		var stopHangup func()
		ctx, stopHangup = signal.NotifyContext(ctx, syscall.SIGHUP)
		stop = func() { stopHangup(); forget() }
	}
	context.AfterFunc(ctx, forget)
	return ctx, stop
}

// Await returns what f returns, or ctx's error if that ends first. F then goes on in its goroutine,
// perhaps for ever, as when it reads a line that nobody types.
func Await[T any](ctx context.Context, f func() (T, error)) (T, error) {
	type result struct {
		value T
		err   error
	}
	ended := make(chan result, 1)
	go func() {
		value, err := f()
		ended <- result{value, err}
	}()
	var none T
	select {
	case <-ctx.Done():
		return none, ctx.Err()
	case r := <-ended:
		if ctx.Err() != nil {
			return none, ctx.Err()
		}
		return r.value, r.err
	}
}
