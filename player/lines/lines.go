// Package lines writes what is danced as lines of text, without a screen: for a
// screen reader, a log or a pipe.
//
// It has no keys and draws nothing. Begin with [Write], which follows a couple
// that has been started and writes each line when its count is heard.
package lines

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// Transport says where the couple is. A [player.Transport] is one.
type Transport interface {
	Now(time.Time) player.Moment
	Next(time.Time) (wait time.Duration, ok bool)
}

// Sound says what the sound device is doing.
type Sound interface {
	// Status says in plain words why nothing is heard; "" if all is well.
	Status() string
	// Changed receives when Status may say something else.
	Changed() <-chan struct{}
}

// Options says what is written. The zero value writes both partners' steps and keeps nothing.
type Options struct {
	Dancers routine.Dancers
	Count   player.Counting
	Sound   Sound          // nil says nothing about it
	Diary   practice.Diary // nil keeps nothing
}

const (
	// soon is how long to wait when the transport knows of no next event.
	soon = 20 * time.Millisecond
	// shortest is the least wait, so that Write doesn't spin on an event that is due
	// in less than a nanosecond.
	shortest = time.Second / 1920
)

// Write writes a line to w for each step when it is heard, and keeps what is danced in
// the diary. It returns nil when ctx ends or the routine does (a repeated one never
// does), and w's error if a line can't be written.
func Write(ctx context.Context, w io.Writer, t Transport, o Options) error {
	p := writer{Options: o, w: w, event: -1, figure: -1}
	defer func() { p.keep(p.log.Stop(time.Now())) }()
	var changed <-chan struct{}
	if o.Sound != nil {
		changed = o.Sound.Changed()
		if err := p.tellSound(); err != nil {
			return err
		}
	}
	timer := time.NewTimer(0)
	defer timer.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil
		case _, ok := <-changed:
			if !ok {
				changed = nil
				continue
			}
			if err := p.tellSound(); err != nil {
				return err
			}
			continue
		case <-timer.C:
		}
		now := time.Now()
		m := t.Now(now)
		if err := p.tell(m); err != nil {
			return err
		}
		p.keep(p.log.Follow(m, now, p.Dancers))
		if err := p.tellDiary(); err != nil {
			return err
		}
		if m.State == player.Finished && p.begun {
			return nil
		}
		wait, moves := t.Next(now)
		if !moves {
			wait = soon
		}
		timer.Reset(max(wait, shortest))
	}
}

// writer knows what has been written so far.
type writer struct {
	Options
	w      io.Writer
	sound  string // the status of the sound that was written last
	unkept string // and that of the diary
	log    practice.Log
	keeper practice.Keeper // nil until there is something to keep

	begun      bool
	timeline   *player.Timeline
	runThrough int
	begins     *routine.Beats // where the first run-through begins; nil unless the couple stood or was counted in
	event      int            // the one written last; -1 for none
	beat       int            // the number counted last in the lead-in; 0 for none
	figure     int            // the passage named last
}

// tell writes what has begun since the last call.
func (p *writer) tell(m player.Moment) error {
	switch {
	case p.timeline == nil:
		p.timeline, p.runThrough = m.Timeline, m.RunThrough
	case m.Timeline != p.timeline:
		p.timeline, p.runThrough, p.event, p.figure = m.Timeline, m.RunThrough, m.Event-1, -1
	case m.RunThrough != p.runThrough:
		p.runThrough, p.event, p.figure = m.RunThrough, -1, -1
	}
	p.begun = p.begun || m.State == player.LeadIn || m.State == player.Dancing
	if m.State == player.LeadIn || m.State == player.Holding {
		p.begins = &m.Begins
	}
	switch {
	case m.State == player.LeadIn:
		beat := m.LeadInNumber()
		if beat == p.beat || m.Beat >= m.Begins { // nothing is counted while a voice takes breath
			return nil
		}
		p.beat, p.event = beat, -1
		return p.write(fmt.Sprintf("lead-in %d", beat))
	case !p.begun, m.State == player.Holding:
		p.event, p.beat = m.Event-1, 0
		return nil
	case m.Event < 0: // less than a frame before the first step
		return nil
	}
	p.beat = 0
	switch {
	case p.event < 0: // it has begun, and is further on already if the machine was busy
		p.event = min(p.first(m), m.Event) - 1
	case m.Event < p.event: // the couple has gone back
		p.event = m.Event - 1
	}
	for p.event < m.Event { // more than one if the machine was busy
		p.event++
		if e := &m.Timeline.Events[p.event]; e.Row >= 0 {
			if err := p.write(p.step(m.Timeline, e)); err != nil {
				return err
			}
		}
	}
	return nil
}

// first returns the first event of the run-through under way.
func (p *writer) first(m player.Moment) int {
	if m.RunThrough == 0 && p.begins != nil {
		return max(m.Timeline.At(*p.begins), 0)
	}
	return max(m.Timeline.At(m.Settings.Loop.From), 0)
}

// step returns the line for an event: the figure if it begins here, the count and the steps.
func (p *writer) step(t *player.Timeline, e *player.Event) string {
	text := ""
	if e.Passage != p.figure {
		p.figure = e.Passage
		passage := &t.Score.Passages[e.Passage]
		text = passage.Name() + ", " + t.Score.PlaceOf(e.Passage)
		if differs := passage.Figure.Differs(); differs != "" {
			text += ", " + differs
		}
		text += ". "
	}
	label := cmp.Or(t.Said(e.Labels, p.event, p.Count), e.Labels.Count)
	text += fmt.Sprintf("bar %d, count %s", e.Bar, label)
	between := ": "
	for _, partner := range p.Dancers.Partners() {
		if s := e.Steps[partner]; s != nil {
			text += between + partner.String() + " " + s.Words()
			between = "; "
		}
	}
	return text
}

// tellSound writes the status of the sound if it has changed.
func (p *writer) tellSound() error {
	status := p.Sound.Status()
	if status == p.sound {
		return nil
	}
	p.sound = status
	if status == "" {
		status = "sound is on"
	}
	return p.write(status)
}

// keep keeps a run-through that has ended; nil for none.
func (p *writer) keep(ended *practice.RunThrough) {
	if p.Diary == nil || ended == nil || !ended.WorthKeeping() {
		return
	}
	if p.keeper == nil {
		p.keeper = p.Diary.Begin(ended.Timeline.Score)
	}
	p.keeper.Keep(ended.Kept())
}

// tellDiary writes when the diary stops keeping what is danced, and when it keeps it again.
func (p *writer) tellDiary() error {
	if p.Diary == nil {
		return nil
	}
	status := p.Diary.Status()
	if status == p.unkept {
		return nil
	}
	p.unkept = status
	if status == "" {
		status = "saving to the diary again"
	}
	return p.write(status)
}

func (p *writer) write(text string) error {
	_, err := io.WriteString(p.w, harmless.Line(text)+"\n")
	return err
}
