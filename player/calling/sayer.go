package calling

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/speech"
	"dance.example/slowquick/audio/voice"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// Sayer says a name. If it returns a sound and an error, the sound can be used, and something
// else went wrong.
type Sayer func(ctx context.Context, name string) (audio.Sound, error)

// NewSayer returns a sayer that uses the recordings of a voice, or else a speech program, as
// loud as that voice. What was spoken is kept in folder; "" for nowhere.
func NewSayer(v *voice.Voice, rate int, folder string) Sayer {
	own := map[string]string{}
	for _, word := range v.Own() {
		own[routine.Key(word)] = word
	}
	speaker := speech.New(folder, rate, v.Loudness())
	return func(ctx context.Context, name string) (audio.Sound, error) {
		if word, ok := own[routine.Key(name)]; ok {
			sound, _, _ := v.In("")(word)
			return sound, nil
		}
		return speaker.Say(ctx, name)
	}
}

// All has the names of a timeline's figures spoken, and returns once they are. It calls tell once for
// each thing that went wrong.
func All(ctx context.Context, timeline *player.Timeline, say Sayer, tell func(error)) player.Calls {
	calls := player.Calls{}
	once := tellingOnce(tell)
	for _, name := range figureNames(timeline) {
		sound, err := say(ctx, name)
		once.complain(err)
		if sound != nil {
			calls[name] = sound
		}
	}
	return calls
}

// figureNames returns the names of a timeline's figures, each once, in the order in which they
// are danced first.
func figureNames(timeline *player.Timeline) (list []string) {
	for _, p := range timeline.Score.Passages {
		if name := p.Figure.Name; !slices.Contains(list, name) {
			list = append(list, name)
		}
	}
	return list
}

// once tells each complaint once.
type once struct {
	tell func(error)
	told map[string]bool
}

func tellingOnce(tell func(error)) once { return once{tell, map[string]bool{}} }

func (o once) complain(err error) {
	for _, e := range complaints(err) {
		if text := e.Error(); !o.told[text] {
			o.told[text] = true
			o.tell(e)
		}
	}
}

// complaints splits the error of a sayer into what a dancer is told.
func complaints(err error) (list []error) {
	var all interface{ Unwrap() []error }
	switch {
	case err == nil:
	case errors.As(err, &all):
		for _, e := range all.Unwrap() {
			list = append(list, complaints(e)...)
		}
	case errors.Is(err, speech.ErrNone):
		list = append(list, speech.ErrNone)
	default:
		list = append(list, fmt.Errorf("name the figures: %w", err))
	}
	return list
}

// Folder returns where spoken names are kept; "" for nowhere.
func Folder() string {
	dir, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "slowquick", "speech")
}
