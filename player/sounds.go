package player

import (
	"strconv"

	"dance.example/slowquick/audio"
)

// Sounds is what a course sounds with. Without a voice nothing is said, without
// a band no rhythm is played, and a figure that has no call is not named.
type Sounds struct {
	Kit   audio.Kit
	Voice Voice
	Band  audio.Band
	Calls Calls
}

// Voice says the counts.
type Voice interface {
	// Word is how a word sounds, and how many frames after its first the ear
	// hears the beat.
	Word(word string) (sound audio.Sound, moment int, ok bool)
}

// The layers of sound, each with a level of its own.
const (
	ClickLayer audio.Layer = iota
	LeaderLayer
	FollowerLayer
	VoiceLayer
	RhythmLayer
	MusicLayer
)

// DefaultLevels is the mix that is heard first: the voice and the click
// moderate, the steps of those shown below them, the song, if there is one, beside the
// voice. The rhythm has to be asked for.
func DefaultLevels(shown [2]bool) audio.Levels {
	l := audio.Levels{ClickLayer: 0.5, VoiceLayer: 0.7, MusicLayer: 0.7}
	for p, layer := range StepLayers {
		if shown[p] {
			l[layer] = 0.4
		}
	}
	return l
}

// StepLayers are the layers of the partners' steps, by [routine.Partner].
var StepLayers = [2]audio.Layer{LeaderLayer, FollowerLayer}

// longestMoment is the latest moment of a word that is heard in its place, in
// seconds: a word begins before its beat.
const longestMoment = 0.3

// spoken is the word for a label: numbers and signs are read out.
func spoken(label string) string {
	switch label {
	case "&":
		return "and"
	case "S":
		return "slow"
	case "Q":
		return "quick"
	}
	if label == "" || label[0] < '0' || label[0] > '9' {
		return label // the error of a failed conversion would allocate, which the audio thread must not
	}
	if n, err := strconv.Atoi(label); err == nil {
		return numberWord(n)
	}
	return label
}
