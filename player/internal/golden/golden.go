// Package golden compares text with a file that the tests can write anew.
package golden

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden files anew")

// Equal requires got to be what testdata/<name of the test>.golden holds. With
// the flag -update it writes the file instead.
func Equal(t *testing.T, got string) {
	t.Helper()
	File(t, filepath.Join("testdata", strings.ReplaceAll(t.Name(), "/", "_")+".golden"), got)
}

// File does the same with another file.
func File(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "run the test with -update to write the file")
	assert.Equal(t, string(want), got)
}
