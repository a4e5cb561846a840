//go:build !unix

package draft

import "io/fs"

// ours reports true: temporary folders are the user's own.
func ours(fs.FileInfo) bool { return true }
