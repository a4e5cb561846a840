//go:build unix

package terminal

import (
	"errors"
	"image"
	"time"

	"golang.org/x/sys/unix"
)

// askable says whether answers come with the keys.
const askable = true

// CellSize returns the size of a cell of a terminal in pixels, rounded down; zero if it
// is not known.
func CellSize(fd uintptr) image.Point {
	size, err := unix.IoctlGetWinsize(int(fd), unix.TIOCGWINSZ)
	if err != nil || size.Col == 0 || size.Row == 0 || size.Xpixel < size.Col || size.Ypixel < size.Row {
		return image.Point{}
	}
	return image.Pt(int(size.Xpixel/size.Col), int(size.Ypixel/size.Row))
}

// readable waits until there is something to read, but not for longer than given.
func readable(fd uintptr, wait time.Duration) bool {
	for {
		var set unix.FdSet
		set.Set(int(fd))
		left := unix.NsecToTimeval(wait.Nanoseconds())
		n, err := unix.Select(int(fd)+1, &set, nil, nil, &left) // poll does not know terminals on macOS
		if errors.Is(err, unix.EINTR) {
			continue
		}
		return n > 0
	}
}
