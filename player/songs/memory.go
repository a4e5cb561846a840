package songs

import (
	"cmp"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"time"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/recording"
	"dance.example/slowquick/player/store"
)

// memory is a folder that remembers the beats found in songs. It only saves time: a song that is
// missing or damaged there is listened to again, and it ignores errors of writing.
type memory struct {
	folder  string // "" for none
	program string // which program this is: another version may hear other beats
}

// The bounds of what is kept; the least recently used goes first.
const (
	mostRemembered = 2000     // songs
	mostOnDisk     = 64 << 20 // bytes
	largestSong    = 1 << 30  // bytes of a file that is looked up
	largestGrids   = 16 << 20 // bytes, of one song
)

// openMemory opens the memory of this program.
func openMemory() memory {
	cache, err := os.UserCacheDir()
	if err != nil {
		return memory{}
	}
	program, err := thisProgram()
	if err != nil {
		return memory{}
	}
	return memory{filepath.Join(cache, "slowquick", "heard"), program}
}

// thisProgram tells this program from others and from other builds of it, without
// reading all of it.
func thisProgram() (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", err
	}
	file, err := os.Stat(name)
	if err != nil {
		return "", err
	}
	build, _ := debug.ReadBuildInfo() // nil if there is none
	return fmt.Sprintf("%d %d %v", file.Size(), file.ModTime().UnixNano(), build), nil
}

// remembered is what is known of the song in a file.
type remembered struct {
	Sound Sound
	Found []foundBeats

	path func() string // returns the file to keep it in, which depends on what the song's file holds now; "" for none
	from string        // what path returned when it was looked up
	news bool          // it differs from what is kept
}

// Sound identifies the sound of a song.
type Sound struct {
	Hash   string // "" if it is not known
	Rate   int    // frames a second
	Frames int64
	Damage string // "" if it is whole
}

// Seconds returns how long the sound is.
func (s Sound) Seconds() float64 { return float64(s.Frames) / float64(s.Rate) }

// SoundOf returns which sound a song is.
func SoundOf(s *music.Audio) Sound {
	out := Sound{Hash: s.Hash, Rate: s.Rate, Frames: s.Length}
	if s.Damage != nil {
		out.Damage = s.Damage.Error()
	}
	return out
}

// search says which beats to look for.
type search struct {
	Tempi music.Range
	Metre int
}

type foundBeats struct {
	By   search
	Grid music.Grid
}

// recall returns what is remembered of a song's file, read at a rate as in [music.Options].
// Once ctx has ended, that is nothing.
func (m memory) recall(ctx context.Context, file string, rate int) *remembered {
	path := func() string { return m.path(ctx, file, rate) }
	from := path()
	r, err := load(from)
	if err != nil {
		r = &remembered{}
	}
	now := time.Now()
	_ = os.Chtimes(from, now, now) // recently used
	r.path, r.from = path, from
	return r
}

// path returns the file where a song is remembered, named after everything its beats depend
// on; "" if that can't be read.
func (m memory) path(ctx context.Context, file string, rate int) string {
	if m.folder == "" {
		return ""
	}
	sum := sha256.New()
	fmt.Fprintf(sum, "%s %s %d\n", m.program, recording.Kind(file), rate)
	if err := addFile(ctx, sum, file, largestSong); err != nil {
		return ""
	}
	return filepath.Join(m.folder, hex.EncodeToString(sum.Sum(nil))+".json.gz")
}

// addFile copies a regular file of at most the given number of bytes.
func addFile(ctx context.Context, to io.Writer, name string, most int64) error {
	info, err := os.Stat(name)
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() || info.Size() > most {
		return errors.New("it is not a regular file, or is too large")
	}
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = io.Copy(to, untilDone{ctx, io.LimitReader(f, most)})
	return err
}

// untilDone is a reader that fails once its context has ended.
type untilDone struct {
	ctx context.Context
	io.Reader
}

func (w untilDone) Read(p []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	return w.Reader.Read(p)
}

// load reads what is remembered in a file.
func load(path string) (*remembered, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	unpacked, err := gzip.NewReader(f)
	if err != nil {
		return nil, err
	}
	text, err := io.ReadAll(io.LimitReader(unpacked, largestGrids)) // and checks the checksum
	if err != nil {
		return nil, err
	}
	r := &remembered{}
	return r, json.Unmarshal(text, r)
}

// is records which sound the file holds. If that differs from the remembered one, as the file
// was altered meanwhile, it drops what is remembered and returns false.
func (r *remembered) is(s Sound) bool {
	if r.Sound.Hash == "" {
		r.Sound, r.news = s, true
	}
	if r.Sound != s {
		*r = remembered{Sound: s}
		return false
	}
	return true
}

// find returns the beats for a search: the remembered ones, or else those it finds in what heard
// returns.
func (r *remembered) find(by search, heard func() (*music.Heard, error)) (music.Grid, error) {
	for _, f := range r.Found {
		if f.By == by {
			return f.Grid, nil
		}
	}
	h, err := heard()
	if err != nil {
		return music.Grid{}, err
	}
	g := h.Find(by.Tempi, by.Metre)
	r.Found, r.news = append(r.Found, foundBeats{by, g}), true
	return g, nil
}

// keep keeps what is new for the next time, if the song's file is still as it was when it was
// looked up.
func (r *remembered) keep() {
	if !r.news || r.from == "" || r.from != r.path() {
		return
	}
	folder := filepath.Dir(r.from)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return
	}
	err := store.WriteOwn(r.from, func(w io.Writer) error {
		packed := gzip.NewWriter(w)
		if err := json.NewEncoder(packed).Encode(r); err != nil {
			return err
		}
		return packed.Close()
	})
	if err == nil {
		r.news = false
		forgetOldest(folder, mostRemembered, mostOnDisk)
	}
}

// forgetOldest removes the least recently used files of a folder until it has at most most
// files and bytes bytes.
func forgetOldest(folder string, most int, bytes int64) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	var files []os.FileInfo
	for _, e := range entries {
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() {
			files = append(files, info)
		}
	}
	slices.SortFunc(files, func(a, b os.FileInfo) int {
		return cmp.Or(b.ModTime().Compare(a.ModTime()), cmp.Compare(a.Name(), b.Name()))
	})
	for i, f := range files {
		if bytes -= f.Size(); i >= most || bytes < 0 {
			_ = os.Remove(filepath.Join(folder, f.Name()))
		}
	}
}
