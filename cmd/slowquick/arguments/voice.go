package arguments

import (
	"fmt"
	"os"

	"dance.example/slowquick/audio/voice"
)

// Voice returns the voice that counts. Recordings in a folder, if one is named, replace its own
// words; it warns of those that can't be used.
func (r *Reader) Voice(rate int, folder string) *voice.Voice {
	v := voice.New(rate)
	if folder == "" {
		return v
	}
	r.Reads(folder)
	v, bad := v.With(os.DirFS(folder))
	for _, err := range bad {
		r.Warn(fmt.Errorf("%s: %w", folder, err))
	}
	return v
}
