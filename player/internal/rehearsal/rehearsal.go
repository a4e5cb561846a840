// Package rehearsal has what tests dance with: sheets, a device in synthetic
// time, an engine without sound and a diary in memory. Only tests import it.
package rehearsal

import (
	"strings"
	"sync/atomic"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// Beat is how long a beat of [Boathouse] lasts.
const Beat = 250 * time.Millisecond

// Boathouse is a sheet at 240 beats/min, so that a beat lasts a quarter of a second.
const Boathouse = `---
dance: cha-cha
title: Lantern Night at the boathouse
tempo: 60 bars/min
---

## Order

1. Lantern step × 2 — look up at the lights
2. Oar turn
3. Lantern step

## Lantern step

| Count | Leader           | Follower      |
|:-----:|------------------|---------------|
|   2   | LF forward       | RF back       |
|   3   | RF replace       | LF replace    |
|   4   | LF side          | RF side       |
|   &   | RF half close    | LF half close |
|   1   | LF side          | RF side       |
|   2   | RF back          | LF forward    |
|   3   | LF replace       | RF replace    |
|   4   | RF side          | LF side       |
|   &   | LF half close    | RF half close |
|   1   | RF side          | LF side       |

## Oar turn

| Count | Leader                 | Follower               |
|:-----:|------------------------|------------------------|
|   2   | LF side, 1/4 L (small) | RF side, 1/4 R         |
|  3-4  | RF replace             | LF replace             |
|   1   | LF close               | RF close               |
|   2   | –                      | –                      |
|   3   | RF side, 1/4 R         | LF side, 1/4 L         |
|   4   | LF replace             | RF replace             |
|   1   | RF close               | LF close               |
`

// Lounge is a sheet counted slow and quick, in figures of a bar and a half.
const Lounge = `---
dance: foxtrot
title: Last lantern
tempo: 30 bars/min
---

## Order

1. River walk × 4

## River walk

| Count | Leader     | Follower   |
|:-----:|------------|------------|
|   S   | LF forward | RF back    |
|   S   | RF forward | LF back    |
|   Q   | LF side    | RF side    |
|   Q   | RF close   | LF close   |
`

// Read returns the timeline of a sheet, which is nil if it has errors, and what
// was found in it.
func Read(text string) (*player.Timeline, []routine.Finding) {
	score, found := routine.Read("lantern-night.md", []byte(text), Book{})
	if routine.HasErrors(found) {
		return nil, found
	}
	return player.NewTimeline(score), found
}

// Book knows the dances of the sheets.
type Book struct{ routine.EmptyBook }

// Dance returns one of the two dances.
func (Book) Dance(name string) (*routine.Dance, bool) {
	beat := routine.Beat
	d := routine.Dance{
		Name: "Cha-cha", Metre: routine.Metre{Beats: 4, Unit: 4}, Begins: 2, Slow: beat, Quick: beat / 2, And: beat / 2, A: beat / 4,
		PhraseBars: 8, Accents: []int{1}, Stride: routine.Stride{Forward: 40, Side: 35, Short: 25}, Usual: routine.TempoRange{Min: 28 * 4000, Max: 60 * 4000},
		Sayings: []routine.Saying{{Counts: []string{"4", "&", "1"}, Words: []string{"cha", "cha", "cha"}}},
	}
	switch routine.Key(name) {
	case "chacha":
		return &d, true
	case "foxtrot":
		d.Name, d.Begins, d.Slow, d.Quick, d.Sayings = "Foxtrot", 1, 2*beat, beat, nil
		return &d, true
	}
	return nil, false
}

// Rate is the frames a second of [Line].
const Rate = 1000

// Line is a sound device without a delay.
type Line struct {
	start   time.Time
	changes atomic.Int64
}

// NewLine returns a device whose frame 0 is now.
func NewLine() *Line { return &Line{start: time.Now()} }

// Heard returns the frame heard at a time.
func (l *Line) Heard(t time.Time) float64 { return t.Sub(l.start).Seconds() * Rate }

// Change calls f with the next frame.
func (l *Line) Change(f func(frame int64)) {
	l.changes.Add(1)
	f(int64(l.Heard(time.Now())) + 1)
}

// Changes returns how often Change was called.
func (l *Line) Changes() int { return int(l.changes.Load()) }

// Engine keeps levels and makes no sound.
type Engine struct{ levels audio.Levels }

// Play plays nothing.
func (*Engine) Play(audio.Schedule) {}

// Accompany plays nothing either.
func (*Engine) Accompany(audio.Track, audio.Layer) {}

// SetLevels keeps the levels, whatever the frame.
func (e *Engine) SetLevels(_ int64, levels audio.Levels) { e.levels = levels }

// Levels returns the levels set last.
func (e *Engine) Levels() audio.Levels { return e.levels }

// NewTransport returns a couple that stands at the start of a timeline, on a new
// [Line]. The caller closes it.
func NewTransport(t *player.Timeline, set player.Settings) *player.Transport {
	return player.NewTransport(NewLine(), &Engine{}, player.NewCourse(Rate, player.Sounds{}, t, set), nil)
}

// Diary keeps run-throughs in memory. It is a [practice.Diary] and its own keeper.
type Diary struct {
	Full   string // why nothing can be kept
	unkept string // why the last was not
	Passes []practice.Kept
	Taken  []practice.OpenMark // that were taken back
}

// Begin returns d.
func (d *Diary) Begin(*routine.Score) practice.Keeper { return d }

// Keep keeps p unless d is full.
func (d *Diary) Keep(p practice.Kept) {
	if d.unkept = d.Full; d.Full == "" {
		d.Passes = append(d.Passes, p)
	}
}

// Judge takes in who said how a run-through went that is kept.
func (d *Diary) Judge(ended time.Time, by [2]bool) {
	for i := range d.Passes {
		if p := &d.Passes[i]; p.At.Equal(ended) {
			p.Judged = [2]bool{p.Judged[0] || by[0], p.Judged[1] || by[1]}
		}
	}
}

// TakeBack remembers that a mark was taken back.
func (d *Diary) TakeBack(m practice.OpenMark) { d.Taken = append(d.Taken, m) }

// Status says why the last run-through was not kept.
func (d *Diary) Status() string { return d.unkept }

// Kept lists what is kept, each like
// "Lantern step, Oar turn: finished, leader at Oar turn".
func (d *Diary) Kept() (list []string) {
	for _, p := range d.Passes {
		var names, marks []string
		for _, x := range p.Danced {
			name := x.Figure.Name
			if !x.Whole {
				name += " in part"
			}
			names = append(names, name)
		}
		for _, m := range p.Marks {
			what := " at "
			if m.Join {
				what = " into "
			}
			marks = append(marks, m.Partner.String()+what+p.Danced[m.Place].Figure.Name)
		}
		text := strings.Join(names, ", ") + ":"
		if p.Finished {
			text += " finished"
		}
		list = append(list, strings.Join(append([]string{text}, marks...), "; "))
	}
	return list
}
