package program

import (
	"io"
	"time"
)

// Punctual is an output on which the next picture is due at a time.
func Punctual(out io.Writer, at time.Time) io.Writer {
	d := &Due{}
	d.Set(at)
	return onTime(out, d)
}
