// Package encoder packs sound, with tags: as FLAC by itself, else by one of the computer's programs,
// ffmpeg, lame or opusenc. The sound keeps its place in time: players that read what the program wrote
// about its delay, as browsers do, start with the first sample that was given.
package encoder

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// Format is how sound is compressed.
type Format uint8

// The formats: MP3 files, Opus in Ogg, and AAC in MP4.
const (
	MP3 Format = iota
	Opus
	AAC
)

// Type returns the format's media type.
func (f Format) Type() string {
	return [...]string{MP3: "audio/mpeg", Opus: "audio/ogg", AAC: "audio/mp4"}[f]
}

func (f Format) String() string { return [...]string{MP3: "MP3", Opus: "Opus", AAC: "AAC"}[f] }

// Program is an installed program that writes a format.
type Program struct {
	format Format
	path   string
	writer
}

// writer is how a program is asked to compress a WAV file from its standard input.
type writer struct {
	name string
	args func(to string, tags *Tags, folder string) ([]string, error)
}

// writers are the programs for each format, best first.
var writers = [...][]writer{
	MP3:  {{"ffmpeg", ffmpeg("-c:a", "libmp3lame", "-q:a", "3", "-id3v2_version", "0", "-f", "mp3")}, {"lame", lame}},
	Opus: {{"ffmpeg", ffmpeg("-c:a", "libopus", "-b:a", "72k", "-f", "opus")}, {"opusenc", opusenc}},
	AAC:  {{"ffmpeg", ffmpeg("-c:a", "aac", "-b:a", "112k", "-f", "ipod")}},
}

// Find returns the program that writes a format. The error names those to install.
func Find(f Format) (*Program, error) {
	var names []string
	for _, w := range writers[f] {
		path, err := exec.LookPath(w.name)
		if err == nil {
			return &Program{f, path, w}, nil
		}
		names = append(names, w.name)
	}
	return nil, fmt.Errorf("no program that writes %s was found: install %s", f, strings.Join(names, " or "))
}

// patience is how long a program may take once it has been given all of the sound.
const patience = 5 * time.Minute

// Format returns what the program writes.
func (p *Program) Format() Format { return p.format }

// Encode writes what wav writes, a WAV file, in the program's format.
func (p *Program) Encode(ctx context.Context, w io.Writer, tags *Tags, wav func(io.Writer) error) (err error) {
	folder, err := os.MkdirTemp("", "slowquick-")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	made := filepath.Join(folder, "made") // programs go back in it when they are done
	args, err := p.args(made, tags, folder)
	if err != nil {
		return err
	}
	if err := p.run(ctx, args, wav); err != nil {
		return fmt.Errorf("%s: %w", p.name, err)
	}
	file, err := os.Open(made)
	if err != nil {
		return fmt.Errorf("%s wrote nothing: %w", p.name, err)
	}
	defer file.Close()
	if p.format == MP3 {
		if _, err := w.Write(id3(tags)); err != nil {
			return err
		}
	}
	_, err = io.Copy(w, file)
	return err
}

// run gives a program the sound.
func (p *Program) run(ctx context.Context, args []string, wav func(io.Writer) error) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	said := tail{most: 500}
	cmd := exec.CommandContext(ctx, p.path, args...)
	cmd.Stderr, cmd.WaitDelay = &said, time.Second
	in, err := cmd.StdinPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return err
	}
	pipe := pipe{Writer: in}
	given := wav(&pipe)
	if given != nil {
		cancel() // what it would make is not all
	}
	_ = in.Close() // fails if the program has ended, which Wait reports
	timer := time.AfterFunc(patience, cancel)
	defer timer.Stop()
	err = cmd.Wait()
	switch text := said.String(); {
	case given != nil && !pipe.broken:
		return given
	case err != nil && text != "":
		return errors.New(text)
	}
	return errors.Join(err, given)
}

// pipe leads to a program. It is broken if the program takes no more.
type pipe struct {
	io.Writer
	broken bool
}

func (p *pipe) Write(b []byte) (int, error) {
	n, err := p.Writer.Write(b)
	p.broken = p.broken || err != nil
	return n, err
}

// tail keeps the end of what is written to it.
type tail struct {
	kept []byte
	most int
}

func (t *tail) Write(p []byte) (int, error) {
	t.kept = append(t.kept, p...)
	t.kept = t.kept[max(0, len(t.kept)-t.most):]
	return len(p), nil
}

// String returns the last line.
func (t *tail) String() string {
	lines := bytes.Split(bytes.TrimSpace(t.kept), []byte("\n"))
	return strings.ToValidUTF8(string(bytes.TrimSpace(lines[len(lines)-1])), "\uFFFD")
}
