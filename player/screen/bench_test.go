package screen_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen"

	tea "github.com/charmbracelet/bubbletea"
)

// benched gives a screen on which a sheet is danced, on a device that has come
// as far as frame says.
func benched(b *testing.B, width, height int, frame *float64) tea.Model {
	device := &given{frame}
	var transport *player.Transport
	var m tea.Model = screen.New(b.Context(), screen.Options{
		Stage: func(l screen.Loaded) screen.Transport {
			transport = player.NewTransport(device, &rehearsal.Engine{}, player.NewCourse(rehearsal.Rate, player.Sounds{}, l.Timeline, player.Settings{
				Percent: 100, Loop: player.Interval{From: l.Timeline.Start, To: l.Timeline.End},
			}))
			return transport
		},
	})
	m, _ = m.Update(tea.WindowSizeMsg{Width: width, Height: height})
	m = screen.Opened(m.(screen.Model), read(rehearsal.Boathouse))
	transport.Start()
	transport.Sync()
	b.Cleanup(transport.Close)
	m, _ = m.Update(screen.Tick(m))
	return m
}

// given is a device on which a given frame is heard.
type given struct{ frame *float64 }

func (g *given) Heard(time.Time) float64    { return *g.frame }
func (g *given) Change(f func(frame int64)) { f(int64(*g.frame) + 1) }

func BenchmarkView(b *testing.B) {
	for _, size := range [][2]int{{40, 15}, {80, 24}, {120, 40}, {200, 60}} {
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			frame := 0.0
			m := benched(b, size[0], size[1], &frame)
			frame = 600
			m, _ = m.Update(screen.Tick(m))
			require.Contains(b, m.View(), "DANCING")
			b.ReportAllocs()
			for b.Loop() {
				_ = m.View()
			}
		})
	}
}

// BenchmarkFloor is what it takes to show the next event with the plan of the floor.
func BenchmarkFloor(b *testing.B) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {200, 60}} {
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			frame := 0.0
			m := benched(b, size[0], size[1], &frame)
			m, _ = m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("p")})
			b.ReportAllocs()
			for b.Loop() {
				frame += 60 * rehearsal.Rate / 240 // a beat, on which all feet move
				m, _ = m.Update(screen.Tick(m))
				_ = m.View()
			}
			require.Contains(b, m.View(), "from behind the leader")
		})
	}
}

// BenchmarkEvent is what it takes to show the next event.
func BenchmarkEvent(b *testing.B) {
	frame := 0.0
	m := benched(b, 80, 24, &frame)
	b.ReportAllocs()
	for b.Loop() {
		frame += 60 * rehearsal.Rate / 240 // a beat
		m, _ = m.Update(screen.Tick(m))
		_ = m.View()
	}
}

// BenchmarkResize is what it takes to lay the screen out anew.
func BenchmarkResize(b *testing.B) {
	frame := 0.0
	m := benched(b, 80, 24, &frame)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		m, _ = m.Update(tea.WindowSizeMsg{Width: 120 + i%2, Height: 40})
		_ = m.View()
	}
}

var _ screen.Transport = (*player.Transport)(nil)
