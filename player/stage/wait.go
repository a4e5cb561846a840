package stage

import (
	"context"
	"time"

	"dance.example/slowquick/audio/device"
)

// Line is a sound output whose status changes; a [device.Line] is one.
type Line interface {
	Status() device.Status
	Changed() <-chan struct{}
}

// Patience is how long a routine waits for the sound, so that its first counts
// are not lost while a sound server is looked for.
const Patience = time.Second

// waking is how long to wait for a loudspeaker that is asleep.
const waking = 5 * time.Second

// Settle waits, for Patience at most, until the sound is heard or known to be missing.
func Settle(ctx context.Context, l Line) device.Status {
	return await(ctx, l, Patience, func(now device.Status) bool { return now.Sounding || now.Problem != "" })
}

// Wake is like Settle but waits for a loudspeaker that is asleep. It calls asleep first, with how
// long that takes at most.
func Wake(ctx context.Context, l Line, asleep func(time.Duration)) device.Status {
	now := Settle(ctx, l)
	if now.Asleep() {
		asleep(waking)
		now = await(ctx, l, waking, func(now device.Status) bool { return !now.Asleep() })
	}
	return now
}

// await waits for a status that is wanted, and returns the last one.
func await(ctx context.Context, l Line, most time.Duration, wanted func(device.Status) bool) device.Status {
	ctx, cancel := context.WithTimeout(ctx, most)
	defer cancel()
	for {
		now := l.Status()
		if wanted(now) {
			return now
		}
		select {
		case <-l.Changed():
		case <-ctx.Done():
			return now
		}
	}
}
