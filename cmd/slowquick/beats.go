package main

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

// beatsFile is where the beats of a song are kept that the dancer gave or corrected,
// by the hash of its sound: the song may be moved, or be in another file.
func beatsFile(hash string) string {
	return filepath.Join(xdg.StateHome, "slowquick", "beats", hash+".txt")
}

// keptBeats gives the beats that were kept of a song; ok is false if there are none.
func keptBeats(s sound) (g music.Grid, ok bool, err error) {
	path := beatsFile(s.Hash)
	text, err := store.ReadFile(path, largest)
	if errors.Is(err, fs.ErrNotExist) {
		return g, false, nil
	}
	if err == nil {
		g, err = parseBeats(path, text, s)
	}
	return g, err == nil, err
}

// parseBeats gives the beats of a song that a file tells.
func parseBeats(path string, text []byte, s sound) (music.Grid, error) {
	if len(text) >= largest {
		return music.Grid{}, fmt.Errorf("read %s: it is too large", path)
	}
	g, err := music.ParseGrid(string(text), s.Rate, s.Frames)
	if err != nil {
		return music.Grid{}, fmt.Errorf("read %s: %w", path, err)
	}
	return g, nil
}

// keepBeats keeps the beats of a song for the next time.
func keepBeats(hash string, g music.Grid) error {
	path := beatsFile(hash)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("keep the beats: %w", err)
	}
	return store.WriteOwn(path, beatsText(g))
}

// beatsText writes beats as a text.
func beatsText(g music.Grid) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, "# seconds, beat of the bar\n"+g.Text())
		return err
	}
}

// forgetBeats forgets what was kept of a song; it is an error if nothing was.
func forgetBeats(hash string) error {
	err := os.Remove(beatsFile(hash))
	if errors.Is(err, fs.ErrNotExist) {
		return errors.New("no beats are kept of this song")
	}
	return err
}
