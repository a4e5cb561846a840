//go:build unix

package tapping_test

import (
	"context"
	"io"
	"os"
	"slices"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	xterm "github.com/charmbracelet/x/term"
	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/tapping"
)

// stamped is the screen, and notes when a key has come.
type stamped struct {
	tapping.Model
	at chan time.Time
}

func (s stamped) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	now := time.Now()
	m, cmd := s.Model.Update(msg)
	s.Model = m.(tapping.Model)
	if key, ok := msg.(tea.KeyMsg); ok && key.Type == tea.KeySpace {
		s.at <- now
	}
	return s, cmd
}

// TestKeysOfATerminalComeOneByOne, and it is left as it was.
func TestKeysOfATerminalComeOneByOne(t *testing.T) {
	terminal, inside, err := pty.Open()
	require.NoError(t, err)
	defer terminal.Close()
	defer inside.Close()
	before, err := xterm.GetState(inside.Fd())
	require.NoError(t, err)
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	_, err = terminal.WriteString("q")
	require.NoError(t, err)
	_, ok, err := tapping.RunPlain(ctx, tapping.Options{Sound: &sound{}, Rate: rate, Danced: func() (*player.Timeline, player.Settings) {
		timeline, _ := rehearsal.Read(rehearsal.Boathouse)
		return timeline, player.DefaultSettings()
	}}, inside, io.Discard)
	require.NoError(t, err)
	assert.False(t, ok)
	require.NoError(t, ctx.Err(), "it was left by its key")
	after, err := xterm.GetState(inside.Fd())
	require.NoError(t, err)
	assert.Equal(t, before, after)
}

// BenchmarkKey measures how long a tap takes from what a terminal writes to the time that is noted: half of the
// taps, and nineteen in twenty.
func BenchmarkKey(b *testing.B) {
	terminal, inside, err := pty.Open()
	require.NoError(b, err)
	defer terminal.Close()
	require.NoError(b, pty.Setsize(terminal, &pty.Winsize{Cols: 80, Rows: 24}))
	go func() { _, _ = io.Copy(io.Discard, terminal) }()
	at := make(chan time.Time)
	m := stamped{newModel(b, &sound{}, tapping.Options{}), at}
	ended := make(chan error, 1)
	go func(tty *os.File) {
		_, err := program.Run(b.Context(), m, program.Options{Input: tty, Output: tty})
		ended <- err
	}(inside)
	tap := func() time.Duration {
		wrote := time.Now()
		_, err := terminal.WriteString(" ")
		require.NoError(b, err)
		return (<-at).Sub(wrote)
	}
	tap() // the screen is there
	_, err = terminal.WriteString("\r")
	require.NoError(b, err)
	tap()
	var took []time.Duration
	for b.Loop() {
		took = append(took, tap())
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "ms/half")
	b.ReportMetric(float64(took[len(took)*19/20].Microseconds())/1000, "ms/most")
	_, err = terminal.WriteString("q")
	require.NoError(b, err)
	require.NoError(b, <-ended)
}
