package screen

import (
	"io"
	"os"
	"sync/atomic"
	"time"

	"dance.example/slowquick/player/screen/program"
)

// lead is how far ahead of time the screen asks what is heard. What it draws is
// written with the next frame, and that is held back until it is due.
const lead = program.Frame + time.Millisecond

// due is when the picture that was drawn last may be seen: the moment at which
// what it shows is heard. Nil holds nothing back.
type due struct{ nanoseconds atomic.Int64 }

func (d *due) set(at time.Time) {
	if d != nil {
		d.nanoseconds.Store(at.UnixNano())
	}
}

// wait returns when the picture is due: after the lead at the latest.
func (d *due) wait() {
	left := time.Duration(d.nanoseconds.Load() - time.Now().UnixNano())
	if left > 0 && left <= lead {
		time.Sleep(left)
	}
}

// punctual is an output on which pictures are seen when they are due.
type punctual struct {
	io.Writer
	due *due
}

// Write writes p when the picture is due.
func (p punctual) Write(text []byte) (int, error) {
	p.due.wait()
	return p.Writer.Write(text)
}

// punctualFile is the same for a file, which a terminal must be.
type punctualFile struct {
	*os.File
	due *due
}

// Write writes p when the picture is due.
func (p punctualFile) Write(text []byte) (int, error) {
	p.due.wait()
	return p.File.Write(text)
}

func onTime(out io.Writer, d *due) io.Writer {
	switch out := out.(type) {
	case nil:
		return punctualFile{os.Stdout, d}
	case *os.File:
		return punctualFile{out, d}
	default:
		return punctual{out, d}
	}
}
