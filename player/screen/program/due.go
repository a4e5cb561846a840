package program

import (
	"io"
	"os"
	"sync/atomic"
	"time"
)

// Lead is how far ahead of time a punctual screen draws: its picture reaches the output
// with the next frame, and is held back there until it is due.
const Lead = Frame + time.Millisecond

// Due says when the picture that was drawn last may be seen. A nil Due holds nothing back.
type Due struct{ nanoseconds atomic.Int64 }

// Set makes the picture due at a time.
func (d *Due) Set(at time.Time) {
	if d != nil {
		d.nanoseconds.Store(at.UnixNano())
	}
}

// wait waits until the picture is due, but never longer than the lead.
func (d *Due) wait() {
	left := time.Duration(d.nanoseconds.Load() - time.Now().UnixNano())
	if left > 0 && left <= Lead {
		time.Sleep(left)
	}
}

// punctual is an output on which pictures are seen when they are due.
type punctual struct {
	io.Writer
	due *Due
}

// Write writes text once the picture is due.
func (p punctual) Write(text []byte) (int, error) {
	p.due.wait()
	return p.Writer.Write(text)
}

// punctualFile is punctual for a file, which Bubble Tea wants a terminal to be.
type punctualFile struct {
	*os.File
	due *Due
}

// Write writes text once the picture is due.
func (p punctualFile) Write(text []byte) (int, error) {
	p.due.wait()
	return p.File.Write(text)
}

// onTime returns out, or standard output for nil, with pictures held back until d.
func onTime(out io.Writer, d *Due) io.Writer {
	switch out := out.(type) {
	case nil:
		return punctualFile{os.Stdout, d}
	case *os.File:
		return punctualFile{out, d}
	default:
		return punctual{out, d}
	}
}
