package music

import (
	"context"
	"time"
)

// ReadTicking reads a song, looking after it with each tick.
func ReadTicking(ctx context.Context, f file, size int64, kind string, tick <-chan time.Time) (*Song, error) {
	return read(ctx, f, size, kind, Options{}, tick)
}

// Patience is after how many ticks a decoder is given up.
const Patience = patience
