// Package speech has names spoken by one of the computer's speech programs, each once: recordings are
// kept in a folder.
package speech

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode"

	"github.com/natefinch/atomic"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/voice"
)

// Speaker speaks texts. It must not be used by several goroutines at once.
type Speaker struct {
	programs []*program // still in use, best first
	failed   []error    // errors of those no longer in use
	folder   string     // where recordings are kept; "" for nowhere
	rate     int
	loudness float64
	limit    func(context.Context) (context.Context, context.CancelFunc) // ends a run that takes too long
}

// ErrNone says that no speech program is installed.
var ErrNone = errors.New("no speech program found: install espeak-ng to hear the names")

// New returns a speaker that uses the programs on PATH, for rate frames a second and with the given
// loudness, a root mean square. It keeps recordings in folder, which need not exist yet; "" keeps none.
func New(folder string, rate int, loudness float64) *Speaker {
	return &Speaker{programs: installed(), folder: folder, rate: rate, loudness: loudness, limit: patiently}
}

// patiently ends a context after patience.
func patiently(ctx context.Context) (context.Context, context.CancelFunc) {
	return context.WithTimeoutCause(ctx, patience, fmt.Errorf("did not end within %s", patience))
}

const (
	patience     = 10 * time.Second // for a program; they usually take a hundredth of a second
	mostFailures = 3                // in a row, after which a program is not used again
	longestText  = 80               // letters
)

// Say returns the sound of a text: a kept recording, or else one spoken now, which may take seconds.
// The error names the programs that failed; as another may have spoken, there can be a sound as well.
// If no program is installed the error is [ErrNone]; if ctx ends first it is ctx's.
func (s *Speaker) Say(ctx context.Context, text string) (audio.Sound, error) {
	text, err := plain(text)
	if err != nil {
		return nil, err
	}
	if len(s.programs) == 0 && len(s.failed) > 0 {
		return nil, errors.Join(s.failed...)
	}
	if len(s.programs) == 0 {
		return nil, ErrNone
	}
	var failed []error
	for _, p := range slices.Clone(s.programs) {
		sound, err := s.sayBy(ctx, p, text)
		if ctx.Err() != nil && sound == nil {
			return nil, ctx.Err()
		}
		if err != nil {
			failed = append(failed, fmt.Errorf("%s: %w", p.name, err))
		}
		if sound != nil {
			p.failures = 0
			return sound, errors.Join(failed...)
		}
		if p.failures++; p.failures == mostFailures {
			s.programs = slices.DeleteFunc(s.programs, func(q *program) bool { return q == p })
			s.failed = append(s.failed, fmt.Errorf("%s failed %d times in a row, and is no longer used: %w", p.name, mostFailures, err))
		}
	}
	return nil, errors.Join(failed...)
}

// sayBy returns a program's sound of a text. With a sound, an error says that it can't be kept.
func (s *Speaker) sayBy(ctx context.Context, p *program, text string) (audio.Sound, error) {
	path := s.kept(p, text)
	if data, err := readKept(path); err == nil {
		if sound, err := s.decode(data); err == nil {
			return sound, nil // else it is spoken and kept anew
		}
	}
	ctx, cancel := s.limit(ctx)
	defer cancel()
	data, err := p.speak(ctx, text)
	if err != nil {
		return nil, err
	}
	sound, err := s.decode(data)
	if err != nil {
		return nil, err
	}
	return sound, keep(path, data)
}

// decode reads what a program spoke, and brings it to the speaker's loudness.
func (s *Speaker) decode(data []byte) (audio.Sound, error) {
	sound, err := voice.Decode(".wav", data, s.rate)
	if err != nil {
		return nil, err
	}
	square := voice.MeanSquare(sound)
	if square == 0 || math.IsNaN(square) {
		return nil, errors.New("was silent")
	}
	gain := s.loudness / math.Sqrt(square)
	for _, x := range sound {
		gain = min(gain, 1/math.Abs(float64(x)))
	}
	for i := range sound {
		sound[i] *= float32(gain)
	}
	return sound, nil
}

// kept returns the file with a program's recording of a text; "" for none.
func (s *Speaker) kept(p *program, text string) string {
	if s.folder == "" {
		return ""
	}
	sum := sha256.Sum256([]byte(strings.Join(p.args, "\x00") + "\x00\x00" + text))
	return filepath.Join(s.folder, p.name+"-"+hex.EncodeToString(sum[:16])+".wav")
}

// keep writes a recording, whole or not at all.
func keep(path string, data []byte) error {
	if path == "" {
		return nil
	}
	err := os.MkdirAll(filepath.Dir(path), 0o700)
	if err == nil {
		err = atomic.WriteFile(path, bytes.NewReader(data))
	}
	if err != nil {
		return fmt.Errorf("keep what was spoken: %w", err)
	}
	return nil
}

// plain returns what is spoken of a text: letters, numbers, and what stands within words. Nothing in it
// is an option, markup or phonetic spelling to any program.
func plain(text string) (string, error) {
	if len(text) > 4*longestText {
		return "", fmt.Errorf("a name of more than %d letters can't be said", longestText)
	}
	words := strings.FieldsFunc(text, func(r rune) bool {
		return r == unicode.ReplacementChar || !unicode.In(r, unicode.L, unicode.M, unicode.N) && !strings.ContainsRune("'’-&", r)
	})
	for i, w := range words {
		words[i] = strings.Trim(w, "-'’")
	}
	text = strings.Join(strings.Fields(strings.Join(words, " ")), " ")
	switch n := len([]rune(text)); {
	case !strings.ContainsFunc(text, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsNumber(r) }):
		return "", errors.New("a name without letters can't be said")
	case n > longestText:
		return "", fmt.Errorf("a name of more than %d letters can't be said", longestText)
	}
	return text, nil
}
