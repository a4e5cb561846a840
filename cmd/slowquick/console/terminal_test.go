package console

import (
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
)

// TestALongTrackTellsHowFarItIs, and clears that line at the end.
func TestALongTrackTellsHowFarItIs(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var screen strings.Builder
		told := func() string {
			defer screen.Reset()
			return screen.String()
		}
		tell := progressOn(&screen, "long.flac")
		tell(0.1)
		<-time.After(progressAfter - 1)
		tell(0.2)
		assert.Empty(t, told(), "a short one tells nothing")
		<-time.After(1)
		tell(0.3)
		assert.Equal(t, "\rlong.flac: 30 %", told())
		<-time.After(progressPause - 1)
		tell(0.4)
		assert.Empty(t, told(), "nobody reads so fast")
		<-time.After(1)
		tell(0.5)
		assert.Equal(t, "\rlong.flac: 50 %", told())
		tell(1)
		assert.Equal(t, "\r\x1b[K", told())
		tell(1)
		assert.Empty(t, told())

		tell = progressOn(&screen, "short.flac")
		tell(0.5)
		tell(1)
		assert.Empty(t, told(), "there is nothing to take back")
	})
}
