package screen

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// PlainOptions is how steps are written. The zero value is good.
type PlainOptions struct {
	Dancers routine.Dancers
	Count   routine.CountStyle // StyleUnset leaves it to the sheet
	Sound   Sound              // nil if there is nothing to say of it
	Diary   Diary              // nil keeps nothing
}

// Plain writes a line for each step of a couple that has been started, on which
// it is heard, for a screen reader or a log, and keeps what is danced. It returns nil
// when the routine ends, which one that is repeated does not, or ctx does; or the error of w.
func Plain(ctx context.Context, w io.Writer, t Transport, o PlainOptions) error {
	p := plain{PlainOptions: o, w: w, event: -1, figure: -1}
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

// plain is what has been written so far.
type plain struct {
	PlainOptions
	w      io.Writer
	sound  string // as it was told last
	unkept string // likewise
	log    practice.Log
	keeper Keeper // nil until there is something to keep

	begun  bool
	line   *player.Timeline
	pass   int
	begins *routine.Beats // where the first pass begins, if a lead-in or a standing couple told it
	event  int            // written last; -1 for none
	beat   int            // counted last of the lead-in; 0 for none
	figure int            // passage that was named last
}

// tell writes what has begun since the moment before.
func (p *plain) tell(m player.Moment) error {
	switch {
	case p.line == nil:
		p.line, p.pass = m.Timeline, m.RunThrough
	case m.Timeline != p.line:
		p.line, p.pass, p.event, p.figure = m.Timeline, m.RunThrough, m.Event-1, -1
	case m.RunThrough != p.pass:
		p.pass, p.event, p.figure = m.RunThrough, -1, -1
	}
	p.begun = p.begun || m.State == player.LeadIn || m.State == player.Dancing
	if m.State == player.LeadIn || m.State == player.Holding {
		p.begins = &m.Begins
	}
	switch {
	case m.State == player.LeadIn:
		beat := leadInNumber(m)
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
	case p.event < 0: // begins, and may be some way into it if the machine was busy
		p.event = min(p.first(m), m.Event) - 1
	case m.Event < p.event: // has gone back
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

// first is the event with which the pass that is danced begins.
func (p *plain) first(m player.Moment) int {
	if m.RunThrough == 0 && p.begins != nil {
		return max(m.Timeline.At(*p.begins), 0)
	}
	return max(m.Timeline.At(m.Settings.Loop.From), 0)
}

// step tells an event: the figure if it begins here, the count, and the steps.
func (p *plain) step(t *player.Timeline, e *player.Event) string {
	text := ""
	if e.Passage != p.figure {
		p.figure = e.Passage
		item := &t.Score.Items[t.Score.Passages[e.Passage].Item]
		text = item.Figure.Part(item.From, item.To) + ", " + figureNumber(t.Score, e.Passage) + ". "
	}
	label := cmp.Or(e.Labels.In(t.Style(p.event, p.Count)), e.Labels.Count)
	text += fmt.Sprintf("bar %d, count %s", e.Bar, label)
	between := ": "
	for _, side := range p.Dancers.Partners() {
		if s := e.Steps[side]; s != nil {
			text += between + side.String() + " " + stepText(s)
			between = "; "
		}
	}
	return text
}

func (p *plain) tellSound() error {
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

// keep keeps a run-through that has ended, if one has.
func (p *plain) keep(ended *practice.RunThrough) {
	if p.Diary == nil || ended == nil || !ended.WorthKeeping() {
		return
	}
	if p.keeper == nil {
		p.keeper = p.Diary.Begin(ended.Timeline.Score)
	}
	p.keeper.Keep(ended.Kept())
}

// tellDiary says that nothing is being kept, or that it is again.
func (p *plain) tellDiary() error {
	if p.Diary == nil {
		return nil
	}
	status := p.Diary.Status()
	if status == p.unkept {
		return nil
	}
	p.unkept = status
	if status == "" {
		status = "all is kept in the diary again"
	}
	return p.write(status)
}

func (p *plain) write(text string) error {
	_, err := io.WriteString(p.w, term.Clean(text)+"\n")
	return err
}
