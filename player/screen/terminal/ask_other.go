//go:build !unix

package terminal

import (
	"image"
	"time"
)

// askable says whether answers come with the keys. On Windows, Bubble Tea reads the
// console's events, not a file.
const askable = false

// CellSize returns that the size of a cell is not known.
func CellSize(uintptr) image.Point { return image.Point{} }

func readable(uintptr, time.Duration) bool { return false }
