package program_test

import (
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/player/screen/program"
)

// TestAPictureIsWrittenWhenItIsDue, and neither before nor much later, whatever
// was said to be due.
func TestAPictureIsWrittenWhenItIsDue(t *testing.T) {
	for _, test := range []struct{ due, written time.Duration }{
		{0, 0}, {-time.Hour, 0}, {5 * time.Millisecond, 5 * time.Millisecond}, {program.Lead, program.Lead}, {time.Hour, 0},
	} {
		synctest.Test(t, func(t *testing.T) {
			var text strings.Builder
			start := time.Now()
			n, err := program.Punctual(&text, start.Add(test.due)).Write([]byte("2 3 4 & 1"))
			assert.NoError(t, err)
			assert.Equal(t, 9, n)
			assert.Equal(t, "2 3 4 & 1", text.String())
			assert.Equal(t, test.written, time.Since(start), "due after %s", test.due)
		})
	}
}
