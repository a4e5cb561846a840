// Package handout writes a routine for others to read, hear or open in their own programs: a page to
// print, a track, captions, a MIDI file, a practice plan, and the timeline as JSON. They all agree, as
// they are all made from one timeline and one [Options].
package handout

import (
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// Options says which part of a routine is handed out, and how it is danced. The zero value is not
// useful.
type Options struct {
	Settings player.Settings // its Loop is ignored: see Part and Times
	Part     player.Interval // from the start of a passage to the end of one; the whole routine if empty
	Times    int             // how many times the part is danced, one after the other; 0 means once
	Before   float64         // seconds before the first count: [ClickTrack.Before] of the track, or 0
	Shown    [2]bool         // whose steps are shown
	Paper    Paper
	Large    bool // in large print
}

// MostTimes is the largest Times.
const MostTimes = 99

// Paper is what a page is printed on.
type Paper uint8

// The papers.
const (
	A4 Paper = iota
	Letter
)

// Papers are the names of the papers.
var Papers = [...]string{A4: "a4", Letter: "letter"}

// part returns the interval that is danced.
func (o *Options) part(timeline *player.Timeline) player.Interval {
	if o.Part.Empty() {
		return player.Interval{From: timeline.Start, To: timeline.End}
	}
	return o.Part
}

func (o *Options) times() int { return min(max(o.Times, 1), MostTimes) }

// passages returns the first passage of the part, and the one after its last.
func (o *Options) passages(timeline *player.Timeline) (from, to int) {
	part := o.part(timeline)
	all := timeline.Score.Passages
	for from < len(all) && all[from].Start < part.From {
		from++
	}
	for to = from; to < len(all) && all[to].Start < part.To; to++ {
	}
	return from, to
}

// partners returns those whose steps are shown.
func (o *Options) Partners() (list []routine.Partner) {
	for _, p := range routine.Partners() {
		if o.Shown[p] {
			list = append(list, p)
		}
	}
	return list
}

// course dances what the options say, from frame 0 on.
func (o *Options) course(rate int, sounds player.Sounds, timeline *player.Timeline) *player.Course {
	return player.NewCourse(rate, sounds, timeline, o.Settings).Through(0, timeline, o.part(timeline), o.times(), o.Settings)
}
