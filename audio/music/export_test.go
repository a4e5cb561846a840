package music

import (
	"context"
	"time"

	"github.com/gopxl/beep/v2"
)

// ReadTicking reads a song, and checks on the decoder at each tick.
func ReadTicking(ctx context.Context, f file, size int64, kind string, tick <-chan time.Time) (*Audio, error) {
	return read(ctx, f, size, kind, Options{}, tick)
}

// Patience is the number of ticks after which a stuck decoder is given up.
const Patience = patience

// NewResampler converts a stream to another rate.
func NewResampler(s beep.Streamer, from, to int) beep.Streamer { return newResampler(s, from, to) }

// ReadFrom reads a song of a file that is made up.
func ReadFrom(ctx context.Context, f file, size int64, kind string, o Options) (*Audio, error) {
	return read(ctx, f, size, kind, o, nil)
}
