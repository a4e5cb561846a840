//go:build unix

package draft

import (
	"io/fs"
	"os"
	"syscall"
)

// ours reports whether a file belongs to whoever runs the program.
func ours(info fs.FileInfo) bool {
	stat, ok := info.Sys().(*syscall.Stat_t)
	return ok && int(stat.Uid) == os.Getuid()
}
