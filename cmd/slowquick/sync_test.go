package main

import (
	"bytes"
	"context"
	"io"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/device"
	"dance.example/slowquick/player/stage"
)

// sleeper is a sound whose status changes as it is told.
type sleeper struct {
	now     atomic.Pointer[device.Status]
	changed chan struct{}
}

func (s *sleeper) Status() device.Status    { return *s.now.Load() }
func (s *sleeper) Changed() <-chan struct{} { return s.changed }

func (s *sleeper) is(now device.Status) {
	s.now.Store(&now)
	select {
	case s.changed <- struct{}{}:
	default:
	}
}

// TestALoudspeakerIsWokenToTapWith: that may take seconds, and the dancer is told what it is waiting for.
func TestALoudspeakerIsWokenToTapWith(t *testing.T) {
	opening := device.Status{Output: "silent"}
	asleep := device.Status{Output: "PulseAudio", Problem: "the sound output is asleep"}
	awake := device.Status{Output: "PulseAudio", Sounding: true}
	none := device.Status{Output: "silent", Problem: "no sound server found"}
	const told = "slowquick: the sound output is asleep; waiting up to 5 s\n"
	type change struct {
		after time.Duration
		to    device.Status
	}
	for name, c := range map[string]struct {
		changes   []change
		wait      time.Duration
		told, err string
	}{
		"awake":            {[]change{{100 * time.Millisecond, awake}}, 100 * time.Millisecond, "", ""},
		"awake after 4 s":  {[]change{{400 * time.Millisecond, asleep}, {4 * time.Second, awake}}, 4400 * time.Millisecond, told, ""},
		"awake after 10 s": {[]change{{400 * time.Millisecond, asleep}, {10 * time.Second, awake}}, 5400 * time.Millisecond, told, "no sound output: the sound output is asleep"},
		"lost meanwhile":   {[]change{{400 * time.Millisecond, asleep}, {time.Second, none}}, 1400 * time.Millisecond, told, "no sound output: no sound server found"},
		"none":             {[]change{{10 * time.Millisecond, none}}, 10 * time.Millisecond, "", "no sound output: no sound server found"},
		"still looked for": {nil, stage.Patience, "", ""}, // on the screen
	} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := &sleeper{changed: make(chan struct{}, 1)}
				s.is(opening)
				done := make(chan struct{})
				go func() {
					defer close(done)
					for _, c := range c.changes {
						<-time.After(c.after)
						s.is(c.to)
					}
				}()
				var errs bytes.Buffer
				begun := time.Now()
				err := printsOn(io.Discard, &errs).wakeSound(t.Context(), s)
				assert.Equal(t, c.wait, time.Since(begun))
				<-done
				assert.Equal(t, c.told, errs.String())
				if c.err == "" {
					require.NoError(t, err)
				} else {
					require.EqualError(t, err, c.err)
				}
			})
		})
	}
}

// TestWaitingForALoudspeakerIsCalledOff when the context ends.
func TestWaitingForALoudspeakerIsCalledOff(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := &sleeper{changed: make(chan struct{}, 1)}
		s.is(device.Status{Output: "PulseAudio", Problem: "the sound output is asleep"})
		ctx, cancel := context.WithTimeout(t.Context(), time.Second)
		defer cancel()
		begun := time.Now()
		assert.ErrorIs(t, printsOn(io.Discard, io.Discard).wakeSound(ctx, s), context.DeadlineExceeded)
		assert.Equal(t, time.Second, time.Since(begun))
	})
}
