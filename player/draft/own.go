package draft

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/store"
)

// WriteOwn writes a figure's sheet into the folder of the dancer's own figures, which is made if it isn't there. It
// refuses with [ErrNewer] to write over a file that holds something else, unless over is set.
func WriteOwn(path string, sheet []byte, over bool) error {
	there, err := store.ReadFile(path, sheets.Largest)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		err = os.MkdirAll(filepath.Dir(path), 0o755)
	case err == nil && !over && !bytes.Equal(there, sheet):
		err = ErrNewer
	}
	if err == nil {
		err = store.WriteWhole(path, func(w io.Writer) error { _, err := w.Write(sheet); return err })
	}
	if err != nil {
		return fmt.Errorf("copy the figure to %s: %w", path, err)
	}
	return nil
}
