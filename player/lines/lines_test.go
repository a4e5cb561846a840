package lines_test

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/lines"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// log keeps lines with the times at which they were written.
type log struct {
	start time.Time
	text  strings.Builder
	lines int
	fails int // the first line that fails; 0 for none
}

func (l *log) Write(p []byte) (int, error) {
	l.lines++
	if l.fails > 0 && l.lines >= l.fails {
		return 0, io.ErrClosedPipe
	}
	fmt.Fprintf(&l.text, "%5d ms  %s", time.Since(l.start).Milliseconds(), p)
	return len(p), nil
}

func plain(t *testing.T, ctx context.Context, sheet string, set player.Settings, w *log, o lines.Options) error {
	w.start = time.Now()
	transport := rehearsal.NewTransport(read(sheet), set)
	t.Cleanup(transport.Close)
	transport.Start()
	transport.Sync()
	return lines.Write(ctx, w, transport, o)
}

func TestWrite(t *testing.T) {
	tests := []struct {
		name  string
		sheet string
		o     lines.Options
	}{
		{"both", rehearsal.Boathouse, lines.Options{}},
		{"follower in words", rehearsal.Boathouse, lines.Options{Dancers: routine.FollowerAlone, Count: player.Counting{Style: routine.InWords}}},
		{"slow and quick", rehearsal.Lounge, lines.Options{Dancers: routine.LeaderAlone}},
		{"sound", rehearsal.Lounge, lines.Options{Dancers: routine.LeaderAlone, Sound: silent{}}},
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

// TestNamesOneStep: a part of one step is named by that step, not as a range.
func TestNamesOneStep(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var l log
		sheet := strings.Replace(rehearsal.Boathouse, "3. Lantern step\n", "3. Lantern step, steps 1 to 1\n", 1)
		require.NoError(t, plain(t, t.Context(), sheet, player.DefaultSettings(), &l, lines.Options{}))
		assert.Contains(t, l.text.String(), "Lantern step, step 1, figure 3 of 3")
	})
}

// TestKeepsWhatIsDanced, to the end or until it is stopped, and says so when it can't.
func TestKeepsWhatIsDanced(t *testing.T) {
	whole := "Lantern step, Lantern step, Oar turn, Lantern step: finished"
	again := player.DefaultSettings()
	again.Percent, again.Loop = 50, read(rehearsal.Boathouse).Passage(2)
	for name, tt := range map[string]struct {
		set     player.Settings
		full    string
		within  time.Duration // 0 for to the end
		dancers routine.Dancers
		want    []string
	}{
		"to the end":     {set: player.DefaultSettings(), want: []string{whole}},
		"stopped":        {set: player.DefaultSettings(), within: 4*rehearsal.Beat + 12*rehearsal.Beat + rehearsal.Beat/2, dancers: routine.FollowerAlone, want: []string{"Lantern step, Lantern step in part:"}},
		"in the lead-in": {set: player.DefaultSettings(), within: 2 * rehearsal.Beat},
		"repeated":       {set: again, within: 2*4*rehearsal.Beat + 2*20*rehearsal.Beat - rehearsal.Beat, want: []string{"Oar turn: finished", "Oar turn: finished", "Oar turn in part:"}},
		"not kept":       {set: again, full: "nothing is being kept: the disk is full", within: 2*4*rehearsal.Beat + 2*12*rehearsal.Beat},
	} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				ctx, cancel := context.WithCancel(t.Context())
				defer cancel()
				if tt.within > 0 {
					time.AfterFunc(tt.within, cancel)
				}
				var l log
				d := &rehearsal.Diary{Full: tt.full}
				require.NoError(t, plain(t, ctx, rehearsal.Boathouse, tt.set, &l, lines.Options{Dancers: tt.dancers, Diary: d}))
				assert.Equal(t, tt.want, d.Kept())
				for _, p := range d.Passes {
					assert.Equal(t, tt.dancers, p.Dancers)
					assert.Equal(t, routine.Tempo(2400*tt.set.Percent), p.Tempo)
				}
				assert.Equal(t, tt.full != "", strings.Contains(l.text.String(), "nothing is being kept: the disk is full\n"))
			})
		})
	}
}

// fullDiary is a diary without room until a moment.
type fullDiary struct {
	*rehearsal.Diary
	until time.Time
}

func (d fullDiary) Begin(*routine.Score) practice.Keeper { return d }

func (d fullDiary) Keep(p practice.Kept) {
	if d.Full = ""; time.Now().Before(d.until) {
		d.Full = "nothing is being kept: the disk is full"
	}
	d.Diary.Keep(p)
}

// TestSaysThatItKeepsAgain after it couldn't for a while.
func TestSaysThatItKeepsAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		again := player.DefaultSettings()
		again.Loop = read(rehearsal.Boathouse).Passage(2)
		ctx, cancel := context.WithCancel(t.Context())
		defer cancel()
		d := fullDiary{&rehearsal.Diary{}, time.Now().Add((4 + 12) * rehearsal.Beat)}
		time.AfterFunc(4*rehearsal.Beat+20*rehearsal.Beat, cancel)
		var l log
		require.NoError(t, plain(t, ctx, rehearsal.Boathouse, again, &l, lines.Options{Diary: d}))
		assert.Regexp(t, `(?s) 3001 ms  nothing is being kept: the disk is full\n.* 5001 ms  saving to the diary again\n`, l.text.String())
	})
}

// TestIsInTime: a line comes on the millisecond on which its count is heard. Each beat of the sheet lasts
// 250 ms, and the device begins a millisecond after the start.
func TestIsInTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var l log
		require.NoError(t, plain(t, t.Context(), rehearsal.Boathouse, player.DefaultSettings(), &l, lines.Options{}))
		lines := strings.Split(l.text.String(), "\n")
		for i, want := range []int{0, 250, 500, 750, 1000, 1250, 1500, 1625, 1750} {
			var ms int
			_, err := fmt.Sscanf(lines[i], "%d ms", &ms)
			require.NoError(t, err)
			assert.InDelta(t, want+1, ms, 1, "%s", lines[i])
		}
	})
}

func TestEndsWithTheContext(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, cancel := context.WithTimeout(t.Context(), 100*rehearsal.Beat)
		defer cancel()
		set := player.DefaultSettings()
		set.Loop = player.Interval{From: routine.Beat, To: 9 * routine.Beat}
		var l log
		require.NoError(t, plain(t, ctx, rehearsal.Boathouse, set, &l, lines.Options{}))
		assert.Equal(t, 12, strings.Count(l.text.String(), "bar 1, count 2"), "a lead-in of 4 beats, then run-throughs of 8")
	})
}

// TestTellsWhatWasMissed: if the machine is too busy for the first steps, they are written as soon as it
// gets to them, with or without a lead-in.
func TestTellsWhatWasMissed(t *testing.T) {
	for _, leadIn := range []int{0, 1} {
		synctest.Test(t, func(t *testing.T) {
			set := player.DefaultSettings()
			set.LeadIn = leadIn
			transport := rehearsal.NewTransport(read(rehearsal.Boathouse), set)
			t.Cleanup(transport.Close)
			transport.Start()
			transport.Sync()
			if leadIn == 0 {
				time.Sleep(5 * rehearsal.Beat / 2)
			}
			l := slow{log: log{start: time.Now()}, busy: time.Duration(4*leadIn) * 3 * rehearsal.Beat / 2}
			require.NoError(t, lines.Write(t.Context(), &l, transport, lines.Options{}))
			lines := strings.SplitAfter(l.text.String(), "\n")
			assert.Contains(t, lines[leadIn], "Lantern step, figure 1 of 3, time 1 of 2. bar 1, count 2: ")
			assert.Contains(t, lines[leadIn+1], "bar 1, count 3: ")
		})
	}
}

// slow is a log whose first line takes long to write.
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

func TestReturnsTheErrorOfWriting(t *testing.T) {
	for _, fails := range []int{1, 3, 7} {
		synctest.Test(t, func(t *testing.T) {
			l := log{fails: fails}
			err := plain(t, t.Context(), rehearsal.Boathouse, player.DefaultSettings(), &l, lines.Options{})
			require.ErrorIs(t, err, io.ErrClosedPipe)
			assert.Equal(t, fails, l.lines, "and writes no more")
		})
	}
}

// TestNeedsNoScreen: initialising this program, which imports the package, initialises nothing that draws
// or asks the terminal anything.
func TestNeedsNoScreen(t *testing.T) {
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(os.Environ(), "GODEBUG=inittrace=1")
	trace, err := cmd.CombinedOutput()
	require.NoError(t, err)
	require.Contains(t, string(trace), "init dance.example/slowquick/")
	assert.NotContains(t, string(trace), "bubbletea")
	assert.NotContains(t, string(trace), "lipgloss")
}

// silent is a device that never makes a sound.
type silent struct{}

func (silent) Status() string           { return "sound is off" }
func (silent) Changed() <-chan struct{} { return nil }

// read returns the timeline of a sheet without errors.
func read(sheet string) *player.Timeline {
	timeline, _ := rehearsal.Read(sheet)
	return timeline
}
