package encoder

import (
	"fmt"
	"strconv"
)

// Tags are what a file says about itself. Texts must be one line.
type Tags struct {
	Title, Genre, Comment string
	Tempo                 float64   // beats a minute; 0 for none
	Loudness              float64   // LUFS; 0 if it isn't known, and neither is Peak
	Peak                  float64   // the largest sample, from 0 to 1
	Chapters              []Chapter // in order; the first begins at 0
	End                   float64   // of the last chapter, in seconds
}

// Chapter is a part of the sound that has a name.
type Chapter struct {
	From float64 // seconds
	Name string
}

// end returns where a chapter ends.
func (t *Tags) end(chapter int) float64 {
	if chapter+1 < len(t.Chapters) {
		return t.Chapters[chapter+1].From
	}
	return t.End
}

// tempo returns the tempo as tags have it; "" for none.
func (t *Tags) tempo() string {
	if t.Tempo <= 0 {
		return ""
	}
	return strconv.Itoa(int(t.Tempo + 0.5))
}

// texts returns the texts, by keys that many formats know.
func (t *Tags) texts() [][2]string {
	return [][2]string{{"TITLE", t.Title}, {"GENRE", t.Genre}, {"COMMENT", t.Comment}}
}

// gain returns how loud the sound is, for FLAC; in Opus it should not stand (RFC 7845, 5.2.1).
func (t *Tags) gain() [][2]string {
	if t.Loudness == 0 {
		return nil
	}
	return [][2]string{{"REPLAYGAIN_TRACK_GAIN", fmt.Sprintf("%.2f dB", gainReference-t.Loudness)}, {"REPLAYGAIN_TRACK_PEAK", fmt.Sprintf("%.6f", t.Peak)}}
}

// gainReference is the loudness that players bring tracks to, in LUFS (ReplayGain 2.0).
const gainReference = -18

// mostChapters is how many chapters have a number of three digits.
const mostChapters = 1000

// Comments returns the tags as Vorbis comments; the keys of tempo and chapters are common practice.
func (t *Tags) Comments() [][2]string {
	list := append(t.texts(), [2]string{"BPM", t.tempo()})
	for i, c := range t.Chapters[:min(len(t.Chapters), mostChapters)] {
		key, ms := fmt.Sprintf("CHAPTER%03d", i), int(1000*c.From+0.5)
		list = append(list, [2]string{key, fmt.Sprintf("%02d:%02d:%02d.%03d", ms/3600000, ms/60000%60, ms/1000%60, ms%1000)}, [2]string{key + "NAME", c.Name})
	}
	return list
}
