// Package speech has names said by a speech program of the computer, each once: what
// was spoken is kept in a folder.
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

// Speaker says texts. It is for one goroutine at a time.
type Speaker struct {
	programs []*program // that are asked, best first
	failed   []error    // of those that are asked no more
	folder   string     // where recordings are kept; "" for nowhere
	rate     int
	loudness float64
	limit    func(context.Context) (context.Context, context.CancelFunc) // ends a run that takes too long
}

// ErrNone is found when no program is installed.
var ErrNone = errors.New("no speech program found: install espeak-ng to hear the names")

// New gives a speaker for rate frames a second, by the programs that PATH has, as
// loud as a root of the mean square. It keeps what was spoken in a folder, which need
// not be there yet; "" keeps nothing.
func New(folder string, rate int, loudness float64) *Speaker {
	return &Speaker{programs: installed(), folder: folder, rate: rate, loudness: loudness, limit: patiently}
}

// patiently ends a context that lasts longer than patience.
func patiently(ctx context.Context) (context.Context, context.CancelFunc) {
	return context.WithTimeoutCause(ctx, patience, fmt.Errorf("did not end within %s", patience))
}

const (
	patience      = 10 * time.Second // for a program; they take a hundredth of a second
	mostFailures  = 3                // in a row, after which a program is asked no more
	longestText   = 80               // letters
	largestSpeech = 1 << 20          // bytes: a dozen seconds
)

// Say gives how a text sounds: as it was kept, or else spoken now, which may take
// seconds. The error tells of programs that failed, by name; another may have spoken
// all the same, so that there can be a sound as well. With no program installed it is
// [ErrNone]; when ctx ends, that.
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
			s.failed = append(s.failed, fmt.Errorf("%s failed %d times in a row, and is asked no more: %w", p.name, mostFailures, err))
		}
	}
	return nil, errors.Join(failed...)
}

// sayBy gives how a program says a text. With a sound, the error is that it can't be kept.
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
	data = sized(data)
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

// kept is the file of a text as a program says it; "" for none.
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

// plain is what is spoken of a text: letters, numbers, and what stands within words.
// Nothing of it is an option, markup or phonetic spelling to any program.
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
