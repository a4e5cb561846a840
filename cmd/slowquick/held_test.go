//go:build soundserver

package main

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/device/nullsink"
)

// BenchmarkHeld is the share of a core that the program takes while it is held, with sound, for half a minute: before
// the dance, and in the midst of it with the plan of the floor. It fails above 0.3 %. It needs Linux's /proc.
func BenchmarkHeld(b *testing.B) {
	const settling, watching = 12 * time.Second, 30 * time.Second
	for name, keys := range map[string][]string{"first": nil, "again": {" ", "v", " "}} {
		b.Run(name, func(b *testing.B) {
			dir := b.TempDir()
			require.NoError(b, keepIn(filepath.Join(dir, "config"), "choices", `{"cautions seen": 1}`))
			server := nullsink.Start(b)
			for b.Loop() {
				cmd := inFolder(dir, "dance", "lantern-night-waltz")
				cmd.Env = append(cmd.Env, "PULSE_SERVER=unix:"+server.Socket())
				file, err := pty.StartWithSize(cmd, smallest)
				require.NoError(b, err)
				term := watched(b, cmd, file)
				term.until("HOLDING")
				for _, key := range keys {
					term.press(key)
					<-time.After(2 * time.Second)
				}
				<-time.After(settling)
				before := cpuTicks(b, cmd.Process.Pid)
				<-time.After(watching)
				share := float64(cpuTicks(b, cmd.Process.Pid)-before) / watching.Seconds() // 100 ticks a second
				b.ReportMetric(share, "%core")
				assert.Less(b, share, 0.3)
				term.press("q")
				_ = cmd.Process.Kill() // a dance that was begun asks what went wrong
				_ = term.ends()
			}
		})
	}
}
