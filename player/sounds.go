package player

import (
	"strconv"

	"dance.example/slowquick/audio"
)

// Sounds holds the sounds a course plays. Without a voice nothing is counted aloud, without
// a band no rhythm is played, and a figure without a call is not named.
type Sounds struct {
	Kit   audio.Kit
	Voice Voice
	Band  audio.Band
	Calls Calls
}

// Voice says the counts.
type Voice interface {
	// In returns what says the words of a language, which is named as in "german". It takes the English
	// word, "one", and returns the sound, and how many frames into it the ear hears the beat; ok is
	// false if it can't say the word. In may take a while, and what it returns must not.
	In(language string) func(word string) (sound audio.Sound, moment int, ok bool)
}

// Calls holds the sound of each figure's name. It must not change once a course has it.
type Calls map[string]audio.Sound

// The layers of sound, each with a level of its own.
const (
	ClickLayer audio.Layer = iota
	LeaderLayer
	FollowerLayer
	VoiceLayer
	RhythmLayer
	MusicLayer
)

// DefaultLevels returns the mix to start with: the voice, the song and the click at
// moderate levels, and below them the steps of the partners shown. The rhythm is off.
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

// longestMoment is how long before its beat a word may begin, in seconds. A word that
// needs longer is lost.
const longestMoment = 0.3

// spoken returns the word for a label: numbers and signs are read out.
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
		return label // Atoi's error would allocate, which the audio thread must not
	}
	if n, err := strconv.Atoi(label); err == nil {
		return numberWord(n)
	}
	return label
}
