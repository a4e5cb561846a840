package songs

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/adrg/xdg"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/player/store"
)

// MostBeats is the largest size of a file of beats, in bytes.
const MostBeats = 1 << 20

// ErrNoneKept means that no beats are kept of a song.
var ErrNoneKept = errors.New("no beats are kept for this song")

// beatsFile returns the file that keeps the beats a dancer gave for a song. It is named after
// the hash of the sound, as the song may be moved, or be in another file as well.
func beatsFile(hash string) string {
	return filepath.Join(xdg.StateHome, "slowquick", "beats", hash+".txt")
}

// keptBeats returns the beats that are kept for a song; ok is false if there are none.
func keptBeats(s Sound) (g music.Grid, ok bool, err error) {
	path := beatsFile(s.Hash)
	text, err := store.ReadFile(path, MostBeats+1)
	if errors.Is(err, fs.ErrNotExist) {
		return g, false, nil
	}
	if err == nil {
		g, err = ParseBeats(path, text, s)
	}
	return g, err == nil, err
}

// ParseBeats reads the beats of a song from the text of the file at path.
func ParseBeats(path string, text []byte, s Sound) (music.Grid, error) {
	if len(text) > MostBeats {
		return music.Grid{}, fmt.Errorf("read %s: it is larger than %d bytes", path, MostBeats)
	}
	g, err := music.ParseGrid(string(text), s.Rate, s.Frames)
	if err != nil {
		return music.Grid{}, fmt.Errorf("read %s: %w", path, err)
	}
	return g, nil
}

// GiveBeats keeps the beats in the text of the file at path as those of a song, whatever was known
// of them before.
func GiveBeats(path string, text []byte, s Sound) error {
	g, err := ParseBeats(path, text, s)
	if err != nil {
		return err
	}
	g.BeatGiven, g.BarGiven = true, true
	return KeepBeats(s.Hash, g)
}

// KeepBeats keeps the beats of the song with this hash, in place of those that were kept.
func KeepBeats(hash string, g music.Grid) error {
	path := beatsFile(hash)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("save the beats: %w", err)
	}
	return store.WriteOwn(path, func(w io.Writer) error { return WriteBeats(w, g) })
}

// WriteBeats writes beats in the form that [ParseBeats] reads.
func WriteBeats(w io.Writer, g music.Grid) error {
	_, err := io.WriteString(w, "# seconds, beat of the bar\n"+g.Text())
	return err
}

// ForgetBeats forgets the beats of the song with this hash. It returns [ErrNoneKept] if there
// are none.
func ForgetBeats(hash string) error {
	err := os.Remove(beatsFile(hash))
	if errors.Is(err, fs.ErrNotExist) {
		return ErrNoneKept
	}
	return err
}
