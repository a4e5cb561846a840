package handout

import (
	"fmt"
	"io"
	"math"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout/smf"
	"dance.example/slowquick/routine"
)

// The keys of the click (General MIDI Level 1, percussion key map): the first beat of
// a bar, the other beats, and a count between two beats.
const (
	barKey   = 76 // high wood block
	beatKey  = 77 // low wood block
	splitKey = 69 // cabasa
)

// drum is a key of General MIDI's percussion and how strongly it is struck.
type drum struct{ key, velocity byte }

// drums are the keys for the sounds of a rhythm (General MIDI Level 1, percussion key
// map, of which only the keys 35–81 are known everywhere; the toms' from memory). What
// the map lacks has the key that is most like it: castanets the claves, a surdo the floor toms,
// a bass the deeper drum, and brushes a snare struck softly.
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

// Velocities of the click; an accented stroke of a rhythm gains accent.
const (
	loud   = 112
	middle = 88
	accent = 22
)

// struck is how long, in beats, a key is held: percussion rings by itself.
const struck = routine.Beat / 16

// MIDI writes a run as a Standard MIDI File of format 1: the tempi and metres with the
// figures as markers, a click and the dance's rhythm on channel 10, the counts as
// lyrics, and each partner's steps as texts. A tick is 1/960 of a beat, so that all is
// on its exact place. A tempo that grows does so in steps from one event to the next.
// What a track sounds before its first count is a first bar of one beat, as long as that.
//
// It fails for a tempo that is slower than a file can hold, 3.6 quarter notes a minute.
func MIDI(w io.Writer, timeline *player.Timeline, o Options) error {
	r, err := newTiming(timeline, &o)
	if err != nil {
		return fmt.Errorf("write midi: %w", err)
	}
	m := score{timing: r, part: o.part(timeline), before: o.Before}
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
	for _, p := range o.partners() {
		tracks = append(tracks, m.steps(p))
	}
	// A tick is 1/960 of a beat, which may be another note than a quarter.
	division := int(routine.Beat) * timeline.Score.Dance.Metre.Unit / 4
	if err := smf.Write(w, uint16(division), int64(r.last), tracks...); err != nil {
		return fmt.Errorf("write midi: %w", err)
	}
	return nil
}

// score is a run as it is written down.
type score struct {
	*timing
	part   player.Interval
	before float64 // seconds, which are the first beat; none if 0
}

// putOff has all begin later.
func (m score) putOff(by routine.Beats) {
	for i := range m.counts {
		m.counts[i].At += by
	}
	for i := range m.passes {
		m.passes[i].Shift += by
	}
	m.last += by
}

func named(name string) *smf.Track {
	t := &smf.Track{}
	t.Text(0, smf.Name, name)
	return t
}

// conduct writes the title, metres, tempi and markers.
func (m score) conduct(t *smf.Track) error {
	t.Text(0, smf.Name, oneLine(m.line.Score.Title))
	t.Text(0, smf.Text, oneLine(m.line.Score.Dance.Name))
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
	passage, pass := -1, -1
	for i := range m.counts {
		c := &m.counts[i]
		now, err := m.micros(i)
		if err != nil {
			return err
		}
		if now != micros {
			t.Tempo(int64(c.At), now)
			micros = now
		}
		if c.Event < 0 {
			continue
		}
		if e := &m.line.Events[c.Event]; e.Passage != passage || c.Pass != pass {
			passage, pass = e.Passage, c.Pass
			t.Text(int64(c.At), smf.Marker, oneLine(passageName(m.line.Score, passage)))
		}
	}
	return nil
}

// micros is how long a quarter note lasts from a count up to the next, in microseconds.
func (m score) micros(i int) (int, error) {
	seconds, at := m.end, m.last
	if i+1 < len(m.counts) {
		seconds, at = m.counts[i+1].Seconds, m.counts[i+1].At
	}
	c := &m.counts[i]
	return m.quarter((seconds - c.Seconds) / (at - c.At).Float())
}

// quarter is how long a quarter note lasts, in microseconds, to the nearest: a beat is
// at most half a microsecond off.
func (m score) quarter(beat float64) (int, error) {
	micros := math.Floor(beat*1e6*float64(m.line.Score.Dance.Metre.Unit)/4 + 0.5 + 1e-4)
	if micros > smf.MostMicros {
		return 0, fmt.Errorf("a beat of %.1f seconds is longer than a MIDI file can hold", beat)
	}
	return int(micros), nil
}

// metres writes the dance's metre. What begins or ends within a bar gets a bar of its
// own length, so that bars are the dance's bars; where none can be told, as for a third
// of a beat, the bars are right again with the next one.
func (m score) metres(t *smf.Track) {
	metre := m.line.Score.Dance.Metre
	known := routine.Beats(0) // the length of a bar that was told last
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
	ends := m.part.To.Into(bar)
	for i := range m.passes {
		p := &m.passes[i]
		tick, end := p.Counted+p.Shift, m.part.To+p.Shift
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
		if i+1 < len(m.passes) && m.passes[i+1].Counted.Into(bar) != ends && ends > 0 {
			tell(end-ends, ends)
		}
	}
}

// shortBar is a time signature for a length: so many notes of a value.
func shortBar(length routine.Beats, unit int) (notes, value int, ok bool) {
	for part := routine.Beat; part >= routine.Beat/16; part /= 2 {
		if length%part == 0 {
			return int(length / part), unit * int(routine.Beat/part), true
		}
	}
	return 0, 0, false
}

// click strikes each beat and each count between two.
func (m score) click() *smf.Track {
	t := named("Click")
	bar := m.line.Score.Dance.Metre.Bar()
	for i := range m.counts {
		c := &m.counts[i]
		d := drum{beatKey, loud}
		if c.Beat%bar == 0 {
			d.key = barKey
		}
		if c.Event >= 0 {
			switch e := &m.line.Events[c.Event]; {
			case e.Split:
				d = drum{splitKey, middle}
			case !e.Accent:
				d.velocity = middle
			}
		}
		end := m.last
		if i+1 < len(m.counts) {
			end = m.counts[i+1].At
		}
		t.Note(int64(c.At), int64(min(c.At+struck, end)), smf.Percussion, d.key, d.velocity)
	}
	return t
}

// rhythm plays the dance's pattern, which goes on from the first bar of the routine.
func (m score) rhythm() *smf.Track {
	t := named("Rhythm")
	rhythm := &m.line.Score.Rhythm
	period := routine.Beats(rhythm.Bars) * m.line.Score.Dance.Metre.Bar()
	for i := range m.passes {
		shift := m.passes[i].Shift
		for start := m.part.From.Floor(period); start < m.part.To; start += period {
			for k := range rhythm.Strokes {
				s := &rhythm.Strokes[k]
				d, known := drums[s.Instrument]
				at := start + s.At
				if !known || !m.part.Contains(at) {
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

// nextStroke is when the key of a stroke is struck again, or when the part ends.
func (m score) nextStroke(r *routine.Rhythm, k int, start, period routine.Beats, key byte) routine.Beats {
	at := start + r.Strokes[k].At
	for n := 1; n <= len(r.Strokes); n++ {
		next := (k + n) % len(r.Strokes)
		beat := start + r.Strokes[next].At
		if next <= k {
			beat += period
		}
		if drums[r.Strokes[next].Instrument].key == key && beat > at {
			return min(beat, m.part.To)
		}
	}
	return m.part.To
}

// lyrics writes what is counted.
func (m score) lyrics() *smf.Track {
	t := named("Count")
	for i := range m.counts {
		if c := &m.counts[i]; c.Said != "" {
			t.Text(int64(c.At), smf.Lyric, oneLine(c.Said))
		}
	}
	return t
}

// steps writes what a partner steps.
func (m score) steps(p routine.Partner) *smf.Track {
	t := named(title(p.String()))
	for i := range m.counts {
		c := &m.counts[i]
		if c.Event < 0 {
			continue
		}
		if s := m.line.Events[c.Event].Steps[p]; s != nil {
			t.Text(int64(c.At), smf.Text, oneLine(stepText(s)))
		}
	}
	return t
}
