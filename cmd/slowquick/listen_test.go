package main

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestNamesOfFilesAreHarmless where an error names them, or a warning.
func TestNamesOfFilesAreHarmless(t *testing.T) {
	dir := danceHall(t)
	name := filepath.Join(dir, "hall/\x1b[31mred\x9b.ogg")
	putFile(t, dir, "hall/\x1b[31mred\x9b.ogg", "no song")
	for _, args := range [][]string{{"listen", name}, {"listen", filepath.Join(dir, "hall")}, {"check", name + ".md"}, {"figure", "\x1b]0;title\x07"}} {
		exit, out, errs := slowquick(args...)
		assert.NotEqual(t, 0, exit, args)
		assert.NotRegexp(t, "[\x00-\x09\x0b-\x1f\u007f-\u009f]", out+errs, args)
		assert.NotEmpty(t, errs)
	}
}
