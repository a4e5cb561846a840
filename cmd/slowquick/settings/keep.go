package settings

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/store"
)

// heading begins a file that the program writes.
const heading = "# Slowquick's settings: a name, a colon and a value on each line.\n# \"slowquick help settings\" says more.\n"

// Keep writes values, by the names of their settings, into the file, whose other lines stay as they are. An
// empty value takes a setting back.
func Keep(values map[string]string) error {
	path := File()
	if path == "" {
		return errors.New("keep the settings: this system has no folder for them")
	}
	err := store.InTurn(func() error {
		text, err := text()
		if err != nil {
			return err // what can't be read isn't overwritten
		}
		changed := edited(text, values)
		if bytes.Equal(changed, text) {
			return nil
		}
		if len(text) == 0 {
			changed = append([]byte(heading), changed...)
		}
		return store.WriteOwn(path, func(w io.Writer) error {
			_, err := w.Write(changed)
			return err
		})
	})
	if err != nil {
		return fmt.Errorf("keep the settings: %w", err)
	}
	return nil
}

// LevelsChanged returns the settings of the levels in which now differs from before; those of steps only
// for partners who were shown.
func LevelsChanged(before, now audio.Levels, shown [2]bool) map[string]string {
	values := map[string]string{}
	for _, l := range levels {
		hidden := l.layer == player.LeaderLayer && !shown[0] || l.layer == player.FollowerLayer && !shown[1]
		if now[l.layer] != before[l.layer] && !hidden {
			values[l.name] = inPercent(now[l.layer])
		}
	}
	return values
}
