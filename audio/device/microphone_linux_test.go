package device

import (
	"context"
	"encoding/binary"
	"io"
	"net"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func noTime(time.Time) float64 { return 0 }

func TestNoServerToRecordFrom(t *testing.T) {
	t.Setenv("PULSE_SERVER", filepath.Join(t.TempDir(), "native"))
	_, err := Listen(context.Background(), 48000, noTime, nil)
	assert.Equal(t, "no sound server found", Plainly(err))
	pretend(t, func(c net.Conn) { c.Close() })
	_, err = Listen(context.Background(), 48000, noTime, nil)
	assert.Equal(t, "the sound server does not answer", Plainly(err))
}

// TestSoundThatComes is delivered only to a client that records, and no more at a time than a real server
// sends.
func TestSoundThatComes(t *testing.T) {
	packet := func(length uint32) []byte {
		head := make([]byte, packetHead)
		binary.BigEndian.PutUint32(head, length)
		return append(head, make([]byte, length)...)
	}
	for _, c := range []struct {
		name    string
		records bool
		length  uint32
		comes   bool
	}{
		{"to a recorder", true, 1920, true},
		{"to a player", false, 1920, false},
		{"too much", true, mostAnswered + 1, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			near, far := net.Pipe()
			defer near.Close()
			s := newStrict(near)
			s.records = c.records
			sent := packet(c.length)
			go func() {
				far.Write(sent)
				far.Close()
			}()
			got, err := io.ReadAll(s)
			require.NoError(t, err)
			if c.comes {
				assert.Equal(t, sent, got)
			} else {
				assert.Empty(t, got)
			}
		})
	}
}
