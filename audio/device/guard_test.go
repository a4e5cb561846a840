package device

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestAGuardSeesThePanicOfALine, and the line can still be closed.
func TestAGuardSeesThePanicOfALine(t *testing.T) {
	seen := make(chan any, 1)
	guard := func(f func()) {
		defer func() { seen <- recover() }()
		f()
	}
	slips := opener{name: "oar", open: func(context.Context, *feed, int, Options) (output, error) { panic("an oar slips") }}
	l := open(nil, 48000, Options{Guard: guard}, []opener{slips})
	assert.Equal(t, "an oar slips", <-seen)
	assert.NoError(t, l.Close())
}
