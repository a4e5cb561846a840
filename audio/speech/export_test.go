package speech

import "context"

// Patience lets each run of a program last until a context ends; the context's cause is the error.
func Patience(s *Speaker, until context.Context) {
	s.limit = func(ctx context.Context) (context.Context, context.CancelFunc) {
		ctx, cancel := context.WithCancelCause(ctx)
		stop := context.AfterFunc(until, func() { cancel(context.Cause(until)) })
		return ctx, func() { stop(); cancel(nil) }
	}
}
