// Package captions writes a routine as captions for a film. Begin with [Kind].
package captions

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strings"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/harmless"
)

// Kind is what the captions of a film show.
type Kind uint8

// What captions can show: the count, the steps of the partners shown by half bars, or the figures as
// chapters of the film.
const (
	Counts Kind = iota
	Steps
	Figures
)

// Names are the names of the kinds of captions.
var Names = [...]string{Counts: "counts", Steps: "steps", Figures: "figures"}

// WebVTT writes captions for a track element or a film.
//
// Source: W3C, WebVTT: The Web Video Text Tracks Format: a line "WEBVTT", then cues
// whose times are hours, minutes and seconds with a point and three decimals.
func (k Kind) WebVTT(w io.Writer, timeline *player.Timeline, o handout.Options) error {
	cues, err := k.cues(timeline, &o)
	if err != nil {
		return fmt.Errorf("write captions: %w", err)
	}
	b := bufio.NewWriter(w)
	// What follows WEBVTT is for people.
	fmt.Fprintf(b, "WEBVTT - %s\n", vttText(timeline.Score.Title))
	for _, c := range cues {
		fmt.Fprintf(b, "\n%s --> %s%s\n%s\n", stamp(c.from, "."), stamp(c.to, "."), c.corner.settings(), vttText(c.text))
	}
	return b.Flush()
}

// SubRip writes captions for players that can't read WebVTT. From memory, as the format has no
// published source: cues are numbered, their times have a comma, and an empty line ends each.
func (k Kind) SubRip(w io.Writer, timeline *player.Timeline, o handout.Options) error {
	cues, err := k.cues(timeline, &o)
	if err != nil {
		return fmt.Errorf("write captions: %w", err)
	}
	b := bufio.NewWriter(w)
	for i, c := range cues {
		fmt.Fprintf(b, "%d\n%s --> %s\n%s%s\n\n", i+1, stamp(c.from, ","), stamp(c.to, ","), c.corner.tag(), srtText(c.text))
	}
	return b.Flush()
}

// cues lays out the captions.
func (k Kind) cues(timeline *player.Timeline, o *handout.Options) (cues []cue, err error) {
	r, err := handout.NewTiming(timeline, o)
	switch {
	case err != nil:
		return nil, err
	case k == Steps:
		return stepCues(r, o), nil
	case k == Figures:
		for _, c := range r.Chapters() {
			cues = said(cues, c.From, c.Name, r.End)
		}
	default:
		for _, c := range r.Counts {
			if c.Said != "" {
				cues = said(cues, c.Seconds, c.Said, r.End)
			}
		}
	}
	return cues, nil
}

// said adds a text that is shown from a second on, in place of the one before.
func said(cues []cue, from float64, text string, end float64) []cue {
	if n := len(cues); n > 0 {
		cues[n-1].to = from
	}
	return append(cues, cue{from: from, to: end, text: text})
}

// stamp writes a second to the nearest thousandth, "00:01:02.345".
func stamp(seconds float64, point string) string {
	ms := int64(math.Floor(seconds*1000 + 0.5))
	return fmt.Sprintf("%02d:%02d:%02d%s%03d", ms/3600000, ms/60000%60, ms/1000%60, point, ms%1000)
}

var vttEscapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

// vttText escapes text so that nothing in it is a tag, or the arrow of a time.
func vttText(text string) string { return vttEscapes.Replace(harmless.Handout(text)) }

// srtText does the same for SubRip, which has no escapes: a letter without width (U+2060) follows
// whatever would begin a tag or make an arrow.
func srtText(text string) string { return srtMarks.Replace(harmless.Handout(text)) }

var srtMarks = strings.NewReplacer("<", "<\u2060", "{", "{\u2060", "-->", "--\u2060>")
