//go:build !linux

package device

import (
	"context"
	"time"
)

// listen fails: no way to record is known here.
func listen(context.Context, int, func(time.Time) float64, Options) (*Microphone, error) {
	return nil, &failure{plain: "microphones are heard only on Linux, through PulseAudio or PipeWire"}
}
