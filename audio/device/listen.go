package device

import (
	"context"
	"time"
)

// Listen begins to record from the default microphone, or the one that PULSE_SOURCE names, rate samples a second. Heard says which frame is
// heard at a time, as [Line.Heard] does. The caller must close the Microphone. Guard runs its
// goroutines; nil just calls f.
//
// The error has a plain text for dancers; see [Plainly].
func Listen(ctx context.Context, rate int, heard func(time.Time) float64, guard func(f func())) (*Microphone, error) {
	return listen(ctx, rate, heard, Options{Guard: guard})
}
