package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

// untilSignal gives a context that ends with the first signal to end, as by ctrl+c or when
// the window is closed. What is going on can then be left in order; the next ctrl+c or
// SIGTERM ends the program at once, but not the next SIGHUP, of which a terminal sends one
// and its shell another. Signals that are ignored from the start, as by nohup, stay so.
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

// await gives what f gives, unless ctx ends before. F may then wait for ever, as for a line
// that nobody types, and is left alone.
func await[T any](ctx context.Context, f func() (T, error)) (T, error) {
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
