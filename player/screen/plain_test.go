package screen_test

import (
	"context"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/routine"
)

// log keeps lines and when they were written.
type log struct {
	start time.Time
	text  strings.Builder
	lines int
	fails int // from which line on; 0 for never
}

func (l *log) Write(p []byte) (int, error) {
	l.lines++
	if l.fails > 0 && l.lines >= l.fails {
		return 0, io.ErrClosedPipe
	}
	fmt.Fprintf(&l.text, "%5d ms  %s", time.Since(l.start).Milliseconds(), p)
	return len(p), nil
}

func plain(t *testing.T, ctx context.Context, sheet string, set player.Settings, w *log, o screen.PlainOptions) error {
	w.start = time.Now()
	transport := player.NewTransport(&line{time.Now()}, &engine{}, player.NewCourse(rate, player.Sounds{}, read(sheet).Timeline, set))
	t.Cleanup(transport.Close)
	transport.Start()
	transport.Sync()
	return screen.Plain(ctx, w, transport, o)
}

func TestPlain(t *testing.T) {
	tests := []struct {
		name  string
		sheet string
		o     screen.PlainOptions
	}{
		{"both", boathouse, screen.PlainOptions{}},
		{"follower in words", boathouse, screen.PlainOptions{Dancers: routine.FollowerAlone, Count: routine.InWords}},
		{"slow and quick", lounge, screen.PlainOptions{Dancers: routine.LeaderAlone}},
		{"sound", lounge, screen.PlainOptions{Dancers: routine.LeaderAlone, Sound: &fakeSound{status: "sound is off"}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				var l log
				require.NoError(t, plain(t, t.Context(), tt.sheet, player.DefaultSettings(), &l, tt.o))
				golden.Equal(t, l.text.String())
			})
		})
	}
}

// TestPlainNamesOneStep: a part of one step has no end to tell.
func TestPlainNamesOneStep(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var l log
		sheet := strings.Replace(boathouse, "3. Lantern step\n", "3. Lantern step, steps 1 to 1\n", 1)
		require.NoError(t, plain(t, t.Context(), sheet, player.DefaultSettings(), &l, screen.PlainOptions{}))
		assert.Contains(t, l.text.String(), "Lantern step, step 1, figure 3 of 3")
	})
}

// TestPlainKeepsWhatIsDanced, to the end or until it is stopped, and says when it can't.
func TestPlainKeepsWhatIsDanced(t *testing.T) {
	whole := "Lantern step, Lantern step, Oar turn, Lantern step: finished"
	again := player.DefaultSettings()
	again.Percent, again.Loop = 50, read(boathouse).Timeline.Passage(2)
	for name, tt := range map[string]struct {
		set    player.Settings
		full   string
		within time.Duration // 0 to the end
		side   routine.Dancers
		want   []string
	}{
		"to the end":     {set: player.DefaultSettings(), want: []string{whole}},
		"stopped":        {set: player.DefaultSettings(), within: 4*beat + 12*beat + beat/2, side: routine.FollowerAlone, want: []string{"Lantern step, Lantern step in part:"}},
		"in the lead-in": {set: player.DefaultSettings(), within: 2 * beat},
		"repeated":       {set: again, within: 2*4*beat + 2*20*beat - beat, want: []string{"Oar turn: finished", "Oar turn: finished", "Oar turn in part:"}},
		"not kept":       {set: again, full: "nothing is being kept: the disk is full", within: 2*4*beat + 2*12*beat},
	} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				ctx, cancel := context.WithCancel(t.Context())
				defer cancel()
				if tt.within > 0 {
					time.AfterFunc(tt.within, cancel)
				}
				var l log
				d := &diary{full: tt.full}
				require.NoError(t, plain(t, ctx, boathouse, tt.set, &l, screen.PlainOptions{Dancers: tt.side, Diary: d}))
				assert.Equal(t, tt.want, d.kept())
				for _, p := range d.passes {
					assert.Equal(t, tt.side, p.Dancers)
					assert.Equal(t, routine.Tempo(2400*tt.set.Percent), p.Tempo)
				}
				assert.Equal(t, tt.full != "", strings.Contains(l.text.String(), "nothing is being kept: the disk is full\n"))
			})
		})
	}
}

// TestPlainSaysThatItKeepsAgain what it could not keep for a while.
func TestPlainSaysThatItKeepsAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		again := player.DefaultSettings()
		again.Loop = read(boathouse).Timeline.Passage(2)
		ctx, cancel := context.WithCancel(t.Context())
		defer cancel()
		d := &diary{full: "nothing is being kept: the disk is full"}
		time.AfterFunc(4*beat+12*beat, func() { d.full = "" })
		time.AfterFunc(4*beat+20*beat, cancel)
		var l log
		require.NoError(t, plain(t, ctx, boathouse, again, &l, screen.PlainOptions{Diary: d}))
		assert.Regexp(t, `(?s) 3001 ms  nothing is being kept: the disk is full\n.* 5001 ms  all is kept in the diary again\n`, l.text.String())
	})
}

// A line comes on the millisecond on which its count is heard: each beat of the
// sheet lasts 250 ms, and the device begins a millisecond after the start.
func TestPlainIsInTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var l log
		require.NoError(t, plain(t, t.Context(), boathouse, player.DefaultSettings(), &l, screen.PlainOptions{}))
		lines := strings.Split(l.text.String(), "\n")
		for i, want := range []int{0, 250, 500, 750, 1000, 1250, 1500, 1625, 1750} {
			var ms int
			_, err := fmt.Sscanf(lines[i], "%d ms", &ms)
			require.NoError(t, err)
			assert.InDelta(t, want+1, ms, 1, "%s", lines[i])
		}
	})
}

func TestPlainEndsWithTheContext(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, cancel := context.WithTimeout(t.Context(), 100*beat)
		defer cancel()
		set := player.DefaultSettings()
		set.Loop = player.Interval{From: routine.Beat, To: 9 * routine.Beat}
		var l log
		require.NoError(t, plain(t, ctx, boathouse, set, &l, screen.PlainOptions{}))
		assert.Equal(t, 12, strings.Count(l.text.String(), "bar 1, count 2"), "a lead-in of 4 beats, then passes of 8")
	})
}

// TestPlainTellsWhatWasMissed: a machine that is too busy for the first steps is
// told of them when it comes to it, with or without a lead-in.
func TestPlainTellsWhatWasMissed(t *testing.T) {
	for _, leadIn := range []int{0, 1} {
		synctest.Test(t, func(t *testing.T) {
			set := player.DefaultSettings()
			set.LeadIn = leadIn
			transport := player.NewTransport(&line{time.Now()}, &engine{}, player.NewCourse(rate, player.Sounds{}, read(boathouse).Timeline, set))
			t.Cleanup(transport.Close)
			transport.Start()
			transport.Sync()
			if leadIn == 0 {
				time.Sleep(5 * beat / 2)
			}
			l := slow{log: log{start: time.Now()}, busy: time.Duration(4*leadIn) * 3 * beat / 2}
			require.NoError(t, screen.Plain(t.Context(), &l, transport, screen.PlainOptions{}))
			lines := strings.SplitAfter(l.text.String(), "\n")
			assert.Contains(t, lines[leadIn], "Lantern step, figure 1 of 3, time 1 of 2. bar 1, count 2: ")
			assert.Contains(t, lines[leadIn+1], "bar 1, count 3: ")
		})
	}
}

// slow is a log whose first line takes its time.
type slow struct {
	log
	busy time.Duration
}

func (l *slow) Write(p []byte) (int, error) {
	n, err := l.log.Write(p)
	time.Sleep(l.busy)
	l.busy = 0
	return n, err
}

func TestPlainReturnsTheErrorOfWriting(t *testing.T) {
	for _, fails := range []int{1, 3, 7} {
		synctest.Test(t, func(t *testing.T) {
			l := log{fails: fails}
			err := plain(t, t.Context(), boathouse, player.DefaultSettings(), &l, screen.PlainOptions{})
			require.ErrorIs(t, err, io.ErrClosedPipe)
			assert.Equal(t, fails, l.lines, "and writes no more")
		})
	}
}

func TestRunEndsWithTheContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	in, keyboard := io.Pipe()
	defer keyboard.Close()
	s := &leaving{leave: cancel}
	require.NoError(t, screen.Run(ctx, screen.Options{Shelf: s, Input: in, Output: io.Discard}))
	require.Error(t, ctx.Err())
}

// leaving is a shelf that ends the program when it is looked at.
type leaving struct {
	shelf
	leave func()
}

func (s *leaving) Entries() ([]screen.Entry, error) {
	s.leave()
	return nil, nil
}
