package speech

import "context"

// Patience lets a run of a program last until a context ends, whose cause is told.
func Patience(s *Speaker, until context.Context) {
	s.limit = func(ctx context.Context) (context.Context, context.CancelFunc) {
		ctx, cancel := context.WithCancelCause(ctx)
		stop := context.AfterFunc(until, func() { cancel(context.Cause(until)) })
		return ctx, func() { stop(); cancel(nil) }
	}
}
