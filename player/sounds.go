package player

import (
	"slices"
	"strconv"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/routine"
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

const (
	accentGain = 1
	beatGain   = 0.75
)

// longestMoment is the latest moment of a word that is heard in its place, in
// seconds: a word begins before its beat.
const longestMoment = 0.3

// beatHit sounds a beat.
func (c *Course) beatHit(at int64, barStart, accent bool) audio.Hit {
	h := audio.Hit{Frame: at, Sound: c.sounds.Kit.Block, Layer: ClickLayer, Gain: beatGain}
	if barStart {
		h.Sound = c.sounds.Kit.Bell
	}
	if accent {
		h.Gain = accentGain
	}
	return h
}

// eventHits sounds an event: the beat or the count between beats, each
// partner's step, and what is said, unless the next figure is called then.
func (c *Course) eventHits(dst []audio.Hit, l *leg, event int, at int64, next call) []audio.Hit {
	e := &l.line.Events[event]
	if e.Split {
		dst = append(dst, audio.Hit{Frame: at, Sound: c.sounds.Kit.Tick, Layer: ClickLayer, Gain: accentGain})
	} else {
		dst = append(dst, c.beatHit(at, e.Beat == 1, e.Accent))
	}
	for p, sound := range [2]audio.Sound{c.sounds.Kit.Thump, c.sounds.Kit.Brush} {
		if s := e.Steps[p]; s != nil && !s.Stands() {
			dst = append(dst, audio.Hit{Frame: at, Sound: sound, Layer: StepLayers[p], Gain: 1, Pan: l.pan(s.Foot)})
		}
	}
	if c.sounds.Voice != nil {
		dst = c.wordHit(dst, l, spoken(e.Labels.In(l.line.Style(event, l.set.Count))), at, next)
	}
	return dst
}

// pan is the ear in which a foot is heard.
func (l *leg) pan(f routine.Foot) float32 {
	if !l.set.FeetApart {
		return 0
	}
	if f == routine.LF {
		return -1
	}
	return 1
}

// wordHit says a word so that its moment falls on a frame, unless a call is heard at
// the same time: see [call].
func (c *Course) wordHit(dst []audio.Hit, l *leg, word string, at int64, next call) []audio.Hit {
	sound, moment, ok := c.sounds.Voice.Word(word)
	from := at - int64(moment)
	if !ok || next.overlaps(from, from+int64(len(sound))) || from < l.called.until {
		return dst
	}
	return append(dst, audio.Hit{Frame: from, Sound: sound, Layer: VoiceLayer, Gain: 1})
}

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

// strokes plays the rhythm of a pass: a pattern that goes on from the first bar
// of the routine, whatever part of it is danced.
func (c *Course) strokes(dst []audio.Hit, l *leg, k int, from, to int64) []audio.Hit {
	rhythm := &l.line.Score.Rhythm
	if c.sounds.Band == nil || len(rhythm.Strokes) == 0 {
		return dst
	}
	period := routine.Beats(rhythm.Bars) * l.line.Score.Dance.Metre.Bar()
	begin := max(l.start(k), l.beat(c.rate, k, float64(from)-1)-1)
	for start := begin.Floor(period); ; start += period {
		for i := range rhythm.Strokes {
			s := &rhythm.Strokes[i]
			b := start + s.At
			if b < begin {
				continue
			}
			at := l.heard(c.rate, k, b)
			if b >= l.end(k) || at >= to {
				return dst
			}
			sound, ok := c.sounds.Band[s.Instrument]
			if !ok || at < from {
				continue
			}
			gain := float32(beatGain)
			if s.Accent {
				gain = accentGain
			}
			dst = append(dst, audio.Hit{Frame: at, Sound: sound, Layer: RhythmLayer, Gain: gain})
		}
	}
}

// inOrder keeps the hits from index on that begin in [from, to), in their order.
func inOrder(hits []audio.Hit, index int, from, to int64) []audio.Hit {
	kept := hits[:index]
	for _, h := range hits[index:] {
		if h.Frame >= from && h.Frame < to {
			kept = append(kept, h)
		}
	}
	slices.SortStableFunc(kept[index:], func(a, b audio.Hit) int { return int(a.Frame - b.Frame) })
	return kept
}
