// Package midi writes a routine as a Standard MIDI File. Begin with [Write].
package midi

import (
	"fmt"
	"io"
	"math"
	"strings"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/smf"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/routine"
)

// The click's keys (General MIDI Level 1, percussion key map): the first beat of a bar, the other
// beats, and a count between two beats.
const (
	barKey   = 76 // high wood block
	beatKey  = 77 // low wood block
	splitKey = 69 // cabasa
)

// drum is a key of General MIDI's percussion, and how hard it is struck.
type drum struct{ key, velocity byte }

// drums are the keys for the sounds of a rhythm (General MIDI Level 1, percussion key map, of which
// only the keys 35–81 are known everywhere; the toms' from memory). Sounds that the map lacks use the
// most similar key: castanets the claves, a surdo the floor tom, a bass the deeper drum, and brushes a
// snare struck softly.
var drums = map[string]drum{
	"claves":      {75, 90},
	"cowbell":     {56, 85},
	"maracas":     {70, 80},
	"castanets":   {75, 75},
	"guiro short": {73, 85},
	"guiro long":  {74, 85},
	"conga open":  {63, 90},
	"conga slap":  {62, 95},
	"conga muted": {62, 60},
	"bongo high":  {60, 85},
	"bongo low":   {61, 85},
	"surdo open":  {41, 95},
	"surdo muted": {43, 75},
	"snare":       {38, 80},
	"brush snare": {38, 45},
	"side stick":  {37, 85},
	"hat closed":  {42, 75},
	"hat open":    {46, 75},
	"bass drum":   {36, 95},
	"bass":        {35, 90},
}

// Velocities of the click; an accented stroke of a rhythm adds accent.
const (
	loud   = 112
	middle = 88
	accent = 22
)

// struck is how long, in beats, a key is held: percussion rings by itself.
const struck = routine.Beat / 16

// Write writes a Standard MIDI File of format 1: the tempi and metres with the figures as markers, a
// click and the dance's rhythm on channel 10, the counts as lyrics, and each partner's steps as texts.
// A tick is 1/960 of a beat, so everything is in its exact place. A tempo that grows does so in steps
// from one event to the next. What a track sounds before its first count becomes a first bar of one
// beat of that length.
//
// It fails for a tempo slower than a file can hold, 3.6 quarter notes a minute.
func Write(w io.Writer, timeline *player.Timeline, o handout.Options) error {
	r, err := handout.NewTiming(timeline, &o)
	if err != nil {
		return fmt.Errorf("write midi: %w", err)
	}
	m := score{r, o.Before}
	if o.Before > 0 {
		m.putOff(routine.Beat)
	}
	tracks := []*smf.Track{{}}
	if err := m.conduct(tracks[0]); err != nil {
		return fmt.Errorf("write midi: %w", err)
	}
	tracks = append(tracks, m.click())
	if len(timeline.Score.Rhythm.Strokes) > 0 {
		tracks = append(tracks, m.rhythm())
	}
	tracks = append(tracks, m.lyrics())
	for _, p := range o.Partners() {
		tracks = append(tracks, m.steps(p))
	}
	// A tick is 1/960 of a beat, which need not be a quarter note.
	division := int(routine.Beat) * timeline.Score.Dance.Metre.Unit / 4
	if err := smf.Write(w, uint16(division), int64(r.Last), tracks...); err != nil {
		return fmt.Errorf("write midi: %w", err)
	}
	return nil
}

// score is a timing to be written as MIDI.
type score struct {
	*handout.Timing
	before float64 // seconds, which become a first beat; none if 0
}

// putOff moves everything later.
func (m score) putOff(by routine.Beats) {
	for i := range m.Counts {
		m.Counts[i].At += by
	}
	for i := range m.RunThroughs {
		m.RunThroughs[i].Shift += by
	}
	m.Last += by
}

func named(name string) *smf.Track {
	t := &smf.Track{}
	t.Text(0, smf.Name, name)
	return t
}

// conduct writes the title, metres, tempi and markers.
func (m score) conduct(t *smf.Track) error {
	t.Text(0, smf.Name, harmless.Handout(m.Timeline.Score.Title))
	t.Text(0, smf.Text, harmless.Handout(m.Timeline.Score.Dance.Name))
	m.metres(t)
	micros := 0
	if m.before > 0 {
		now, err := m.quarter(m.before)
		if err != nil {
			return err
		}
		t.Tempo(0, now)
		micros = now
	}
	for i := range m.Counts {
		c := &m.Counts[i]
		now, err := m.micros(i)
		if err != nil {
			return err
		}
		if now != micros {
			t.Tempo(int64(c.At), now)
			micros = now
		}
		if c.Begins {
			t.Text(int64(c.At), smf.Marker, harmless.Handout(m.Timeline.Score.Passages[m.Timeline.Events[c.Event].Passage].Name()))
		}
	}
	return nil
}

// micros returns how long a quarter note lasts from a count to the next, in microseconds.
func (m score) micros(i int) (int, error) {
	seconds, at := m.End, m.Last
	if i+1 < len(m.Counts) {
		seconds, at = m.Counts[i+1].Seconds, m.Counts[i+1].At
	}
	c := &m.Counts[i]
	return m.quarter((seconds - c.Seconds) / (at - c.At).Float())
}

// quarter returns how long a quarter note lasts, in whole microseconds: a beat is at most half a
// microsecond off.
func (m score) quarter(beat float64) (int, error) {
	micros := math.Floor(beat*1e6*float64(m.Timeline.Score.Dance.Metre.Unit)/4 + 0.5 + 1e-4)
	if micros > smf.MostMicros {
		return 0, fmt.Errorf("a beat of %.1f seconds is longer than a MIDI file can hold", beat)
	}
	return int(micros), nil
}

// metres writes the dance's metre. Where something begins or ends within a bar, a bar of that length
// keeps bar lines where the dance's are. A length that no signature can express, such as a third of a
// beat, puts them off until the next bar.
func (m score) metres(t *smf.Track) {
	metre := m.Timeline.Score.Dance.Metre
	known := routine.Beats(0) // the length of a bar by the latest signature
	tell := func(tick, length routine.Beats) {
		if length == known {
			return
		}
		if beats, unit, ok := shortBar(length, metre.Unit); ok {
			t.Metre(int64(tick), beats, unit)
			known = length
		}
	}
	if m.before > 0 {
		tell(0, routine.Beat)
	}
	bar := metre.Bar()
	ends := m.Part.To.Into(bar)
	for i := range m.RunThroughs {
		p := &m.RunThroughs[i]
		tick, end := p.Counted+p.Shift, m.Part.To+p.Shift
		if begins := p.Counted.Into(bar); i > 0 && begins == ends {
			tick += (bar - begins) % bar // the bar before goes on
		} else if begins > 0 {
			short := min(bar-begins, end-tick)
			tell(tick, short)
			tick += short
		}
		if tick >= end {
			continue
		}
		tell(tick, bar)
		if i+1 < len(m.RunThroughs) && m.RunThroughs[i+1].Counted.Into(bar) != ends && ends > 0 {
			tell(end-ends, ends)
		}
	}
}

// shortBar returns the time signature for a length: a number of notes of a value.
func shortBar(length routine.Beats, unit int) (notes, value int, ok bool) {
	for part := routine.Beat; part >= routine.Beat/16; part /= 2 {
		if length%part == 0 {
			return int(length / part), unit * int(routine.Beat/part), true
		}
	}
	return 0, 0, false
}

// click strikes each beat, and each count between two.
func (m score) click() *smf.Track {
	t := named("Click")
	bar := m.Timeline.Score.Dance.Metre.Bar()
	for i := range m.Counts {
		c := &m.Counts[i]
		d := drum{beatKey, loud}
		if c.Beat%bar == 0 {
			d.key = barKey
		}
		if c.Event >= 0 {
			switch e := &m.Timeline.Events[c.Event]; {
			case e.Split:
				d = drum{splitKey, middle}
			case !e.Accent:
				d.velocity = middle
			}
		}
		end := m.Last
		if i+1 < len(m.Counts) {
			end = m.Counts[i+1].At
		}
		t.Note(int64(c.At), int64(min(c.At+struck, end)), smf.Percussion, d.key, d.velocity)
	}
	return t
}

// rhythm plays the dance's pattern from the first bar of the routine on.
func (m score) rhythm() *smf.Track {
	t := named("Rhythm")
	rhythm := &m.Timeline.Score.Rhythm
	period := routine.Beats(rhythm.Bars) * m.Timeline.Score.Dance.Metre.Bar()
	for i := range m.RunThroughs {
		shift := m.RunThroughs[i].Shift
		for start := m.Part.From.Floor(period); start < m.Part.To; start += period {
			for k := range rhythm.Strokes {
				s := &rhythm.Strokes[k]
				d, known := drums[s.Instrument]
				at := start + s.At
				if !known || !m.Part.Contains(at) {
					continue
				}
				if s.Accent {
					d.velocity = min(d.velocity+accent, 127)
				}
				end := min(at+struck, m.nextStroke(rhythm, k, start, period, d.key))
				t.Note(int64(at+shift), int64(end+shift), smf.Percussion, d.key, d.velocity)
			}
		}
	}
	return t
}

// nextStroke returns when the key of a stroke is struck again, or when the part ends.
func (m score) nextStroke(r *routine.Rhythm, k int, start, period routine.Beats, key byte) routine.Beats {
	at := start + r.Strokes[k].At
	for n := 1; n <= len(r.Strokes); n++ {
		next := (k + n) % len(r.Strokes)
		beat := start + r.Strokes[next].At
		if next <= k {
			beat += period
		}
		if drums[r.Strokes[next].Instrument].key == key && beat > at {
			return min(beat, m.Part.To)
		}
	}
	return m.Part.To
}

// lyrics writes what is counted.
func (m score) lyrics() *smf.Track {
	t := named("Count")
	for i := range m.Counts {
		if c := &m.Counts[i]; c.Said != "" {
			t.Text(int64(c.At), smf.Lyric, harmless.Handout(c.Said))
		}
	}
	return t
}

// steps writes a partner's steps.
func (m score) steps(p routine.Partner) *smf.Track {
	t := named(strings.ToUpper(p.String()[:1]) + p.String()[1:])
	for i := range m.Counts {
		c := &m.Counts[i]
		if c.Event < 0 {
			continue
		}
		if s := m.Timeline.Events[c.Event].Steps[p]; s != nil {
			t.Text(int64(c.At), smf.Text, harmless.Handout(s.Words()))
		}
	}
	return t
}
