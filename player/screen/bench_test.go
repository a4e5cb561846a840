package screen_test

import (
	"fmt"
	"image"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/raster"

	tea "github.com/charmbracelet/bubbletea"
)

// benched gives a screen on which a sheet is danced, on a device that has come
// as far as frame says.
func benched(b *testing.B, mode raster.Mode, width, height int, frame *float64) tea.Model {
	device := &given{frame}
	var transport *player.Transport
	var m tea.Model = screen.New(b.Context(), screen.Options{
		Look: screen.Look{Mode: mode},
		Stage: func(l dance.Sheet) dance.Transport {
			transport = player.NewTransport(device, &rehearsal.Engine{}, player.NewCourse(rehearsal.Rate, player.Sounds{}, l.Timeline, player.Settings{
				Percent: 100, Loop: player.Interval{From: l.Timeline.Start, To: l.Timeline.End},
			}), nil)
			return transport
		},
	})
	m, _ = m.Update(tea.WindowSizeMsg{Width: width, Height: height})
	m = screen.Opened(m.(screen.Model), read(rehearsal.Boathouse))
	transport.Start()
	transport.Sync()
	b.Cleanup(transport.Close)
	m, _ = m.Update(look)
	return m
}

// look is a key that does nothing, upon which the screen looks what is heard.
var look = tea.KeyMsg{Type: tea.KeyF12}

// given is a device on which a given frame is heard.
type given struct{ frame *float64 }

func (g *given) Heard(time.Time) float64    { return *g.frame }
func (g *given) Change(f func(frame int64)) { f(int64(*g.frame) + 1) }

func BenchmarkView(b *testing.B) {
	for _, size := range [][2]int{{40, 15}, {80, 24}, {160, 48}, {200, 60}} {
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			frame := 0.0
			m := benched(b, raster.Mode{Depth: raster.True}, size[0], size[1], &frame)
			frame = 600
			m, _ = m.Update(look)
			require.Contains(b, m.View(), "DANCING")
			b.ReportAllocs()
			for b.Loop() {
				_ = m.View()
			}
		})
	}
}

// BenchmarkPlan is what it takes to show one picture of a moving couple, of which there are 30 a second,
// and how much of that reaches the terminal, which is sent the lines that have changed.
func BenchmarkPlan(b *testing.B) {
	const pictures = 30 // a second
	for name, mode := range map[string]raster.Mode{
		"blocks": {Depth: raster.True}, "dots": {Raster: raster.Dots, Depth: raster.Sixteen},
		"sixel": {Raster: raster.Sixel, Depth: raster.True, Cell: image.Pt(8, 16)}, "kitty": {Raster: raster.Kitty, Depth: raster.True, Cell: image.Pt(8, 16)},
	} {
		for _, size := range []size{{80, 24}, {160, 48}, {200, 60}} {
			b.Run(fmt.Sprint(name, " ", size), func(b *testing.B) {
				frame := 0.0
				m := benched(b, mode, size.width, size.height, &frame)
				m, _ = m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("v")})
				require.Contains(b, m.View(), "Plan of the floor from behind the leader")
				b.ReportAllocs()
				sent, before := 0, []string(nil)
				for b.Loop() {
					frame += rehearsal.Rate / pictures
					m, _ = m.Update(look)
					lines := strings.Split(m.View(), "\n")
					for i, l := range lines {
						if i >= len(before) || l != before[i] {
							sent += len(l)
						}
					}
					before = lines
				}
				b.ReportMetric(pictures*float64(sent)/float64(b.N), "sent_B/s")
				b.ReportMetric(100*pictures*b.Elapsed().Seconds()/float64(b.N), "%core")
			})
		}
	}
}

// BenchmarkEvent is what it takes to show the next event.
func BenchmarkEvent(b *testing.B) {
	frame := 0.0
	m := benched(b, raster.Mode{Depth: raster.True}, 80, 24, &frame)
	b.ReportAllocs()
	for b.Loop() {
		frame += 60 * rehearsal.Rate / 240 // a beat
		m, _ = m.Update(look)
		_ = m.View()
	}
}

// BenchmarkResize is what it takes to lay the screen out anew.
func BenchmarkResize(b *testing.B) {
	frame := 0.0
	m := benched(b, raster.Mode{Depth: raster.True}, 80, 24, &frame)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		m, _ = m.Update(tea.WindowSizeMsg{Width: 120 + i%2, Height: 40})
		_ = m.View()
	}
}

var _ dance.Transport = (*player.Transport)(nil)
