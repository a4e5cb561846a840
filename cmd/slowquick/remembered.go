package main

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
	"slices"
	"time"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/recording"
	"dance.example/slowquick/player/store"
)

// memory is a folder of what was heard in songs. It only saves time: what is missing or
// damaged there is heard anew, and what can't be kept is not.
type memory struct {
	folder  string // "" for none
	program []byte // the hash of this one: another may hear other beats
}

// The bounds of what is kept; what was longest not asked for goes first.
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
	name, err := os.Executable()
	if err != nil {
		return memory{}
	}
	program := sha256.New()
	if err := addFile(context.Background(), program, name, largestSong); err != nil {
		return memory{}
	}
	return memory{filepath.Join(cache, "slowquick", "heard"), program.Sum(nil)}
}

// remembered is what is remembered of a song.
type remembered struct {
	Sound sound
	Found []foundBeats

	path func() string // of the file where it is kept, as the song's file is now; "" for nowhere
	from string        // where it was kept, as the file was then
	news bool          // it is not what was kept
}

// sound tells which sound a song is, and how long.
type sound struct {
	Hash   string // "" if it is not known
	Rate   int    // frames a second
	Frames int64
	Damage string // "" if it is whole
}

func (s sound) seconds() float64 { return float64(s.Frames) / float64(s.Rate) }

func soundOf(s *music.Audio) sound {
	out := sound{Hash: s.Hash, Rate: s.Rate, Frames: s.Length}
	if s.Damage != nil {
		out.Damage = s.Damage.Error()
	}
	return out
}

// search is how beats are looked for.
type search struct {
	Tempi music.Range
	Metre int
}

type foundBeats struct {
	By   search
	Grid music.Grid
}

// recall gives what is remembered of a song's file, read at a rate as by [music.Options];
// nothing once ctx has ended.
func (m memory) recall(ctx context.Context, file string, rate int) *remembered {
	path := func() string { return m.path(ctx, file, rate) }
	from := path()
	r, err := load(from)
	if err != nil {
		r = &remembered{}
	}
	now := time.Now()
	_ = os.Chtimes(from, now, now) // it is asked for
	r.path, r.from = path, from
	return r
}

// path tells all that the beats depend on; "" if that is not known.
func (m memory) path(ctx context.Context, file string, rate int) string {
	if m.folder == "" {
		return ""
	}
	sum := sha256.New()
	fmt.Fprintf(sum, "%x %s %d\n", m.program, recording.Kind(file), rate)
	if err := addFile(ctx, sum, file, largestSong); err != nil {
		return ""
	}
	return filepath.Join(m.folder, hex.EncodeToString(sum.Sum(nil))+".json.gz")
}

// addFile writes what a plain file holds, if that is not more than most.
func addFile(ctx context.Context, to io.Writer, name string, most int64) error {
	info, err := os.Stat(name)
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() || info.Size() > most {
		return errors.New("no plain file, or too large")
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
	text, err := io.ReadAll(io.LimitReader(unpacked, largestGrids)) // up to the checksum
	if err != nil {
		return nil, err
	}
	r := &remembered{}
	return r, json.Unmarshal(text, r)
}

// is says which sound the song was found to be. If it is not the one that is remembered,
// as its file was altered meanwhile, it is forgotten, and false.
func (r *remembered) is(s sound) bool {
	if r.Sound.Hash == "" {
		r.Sound, r.news = s, true
	}
	if r.Sound != s {
		*r = remembered{Sound: s}
		return false
	}
	return true
}

// find gives the beats that a search finds, or found.
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

// keep keeps it for the next time, if there is anything new, and the song's file is still
// as it was when it was looked up.
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

// forgetOldest removes files that were longest not used, until a folder has no more
// files than most, of no more bytes.
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
