package screen

import (
	"fmt"
	"slices"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// leading leads through a session, exercise by exercise.
type leading struct {
	session practice.Session
	line    *player.Timeline // which its exercises are of
	passes  int              // danced of the exercise
	breath  time.Time        // until when a breather lasts
	left    func(*routine.Score, practice.Session)
	before  *leading // to go on with afterwards; nil for none
	resumed bool     // from where it was left, and not yet gone on
	edited  bool     // the sheet, and what is repeated of it is not yet known to be the exercise
}

// leads begins to lead through a session from where it was left.
func (d *dance) leads(l *leading) tea.Cmd {
	d.lead = l
	return d.exercise()
}

// exercise makes ready for the exercise that is next.
func (d *dance) exercise() tea.Cmd {
	for d.lead != nil {
		next, ok := d.lead.session.Next()
		if ok {
			return d.prepare(next)
		}
		if d.lead = d.lead.before; d.lead == nil {
			d.news.Say("that was the session; space dances on, esc leaves")
		}
	}
	return d.set(func(s *player.Settings, m player.Moment) {
		*s = keepTempo(m)
		s.Loop = player.Interval{}
	})
}

// prepare stands at the start of an exercise and calls it.
func (d *dance) prepare(next practice.Exercise) tea.Cmd {
	d.transport.Hold()
	d.lead.passes = 0
	if next.Kind == practice.Breather {
		d.lead.breath = time.Now().Add(next.Takes)
		return nil
	}
	d.dancers = next.Dancers
	wanted := next.Settings()
	cmd := d.set(func(s *player.Settings, _ player.Moment) {
		*s = s.At(wanted.Percent, 0)
		s.Loop, s.Ladder, s.Rest = wanted.Loop, wanted.Ladder, wanted.Rest
	})
	d.record.Jump()
	d.transport.Go(false, func(player.Moment) routine.Beats { return next.Part.From })
	return cmd
}

// goOn counts a pass that has ended, and goes on when there were enough, or when
// a breather is over.
func (d *dance) goOn(ended *practice.RunThrough, at time.Time) tea.Cmd {
	if d.lead == nil {
		return nil
	}
	now, ok := d.lead.session.Next()
	switch {
	case !ok:
		return nil
	case now.Kind == practice.Breather:
		if at.Before(d.lead.breath) {
			return nil
		}
	case ended == nil:
		return nil
	default:
		part, danced := now.Part, ended.Part()
		if ended.Finished && danced.From <= part.From && part.To <= danced.To {
			d.lead.passes++
		}
		if d.lead.passes < now.Passes {
			return nil
		}
	}
	return d.nextExercise()
}

// nextExercise goes on to the next exercise, and keeps how far the session is.
func (d *dance) nextExercise() tea.Cmd {
	l := d.lead
	if l == nil {
		d.news.Say("no session leads: slowquick practise plans one, and Z drills what was marked")
		return nil
	}
	l.session, l.resumed = l.session.After(), false
	l.keep()
	return d.exercise()
}

// keep keeps how far the session is.
func (l *leading) keep() {
	if l.left != nil {
		l.left(l.line.Score, l.session)
	}
}

// replace dances the sheet as it is after it was saved. What is led through goes on
// with what is still there; lost names the rest.
func (d *dance) replace(timeline *player.Timeline) (lost []string, cmd tea.Cmd) {
	gone := false // what is danced now
	for l := d.lead; l != nil; l = l.before {
		present, _ := l.session.Next()
		session, without := l.session.On(l.line, timeline)
		gone = gone || l == d.lead && slices.Contains(without, present.What)
		for _, what := range without {
			if !slices.Contains(lost, what) {
				lost = append(lost, what)
			}
		}
		l.session, l.line, l.edited = session, timeline, true
		l.keep()
	}
	if gone {
		d.transport.Hold()
	}
	d.song.Replace(timeline)
	if gone {
		cmd = d.exercise()
	}
	return lost, cmd
}

// refit repeats what the exercise is in the sheet that was edited, once that is heard.
func (d *dance) refit() tea.Cmd {
	l := d.lead
	if l == nil || !l.edited || d.now.Timeline != l.line {
		return nil
	}
	next, ok := l.session.Next()
	repeat := d.now.Settings.Loop
	if !ok || next.Kind == practice.Breather || repeat.Empty() || repeat == next.Part {
		l.edited = false // or the dancer has chosen to repeat nothing
		return nil
	}
	timeline := l.line
	return d.set(func(s *player.Settings, m player.Moment) {
		if m.Timeline == timeline { // the screen is a little ahead
			*s = loop(m, next.Part)
		}
	})
}

// leadText calls the exercise that is danced, or to be danced.
func (d *dance) leadText() string {
	if d.lead == nil {
		return ""
	}
	next, ok := d.lead.session.Next()
	if !ok {
		return ""
	}
	n := ""
	if d.lead.resumed {
		n = "resumed, "
	}
	n += fmt.Sprintf("%d of %d: %s", d.lead.session.Done+1, len(d.lead.session.Exercises), next.What)
	if next.Kind == practice.Breather {
		return fmt.Sprintf("%s, %d s · N goes on", n, max(0, int(time.Until(d.lead.breath).Seconds()+0.5)))
	}
	passes := fmt.Sprintf(", pass %d of %d", min(d.lead.passes+1, next.Passes), next.Passes)
	if next.Why != "" {
		passes += " · " + next.Why
	}
	return n + passes + " · N next"
}

// drillMarked drills the first thing that was marked in the last pass, and then
// goes on as before.
func (d *dance) drillMarked() tea.Cmd {
	timeline := d.now.Timeline
	for _, pass := range []*practice.RunThrough{d.record.Now, d.record.last} {
		if pass == nil || pass.Timeline != timeline {
			continue
		}
		for i := range timeline.Score.Passages {
			for _, at := range []practice.Place{{Passage: i, Join: true}, {Passage: i}} {
				if pass.Marked(at) {
					list := practice.Drills(timeline, at, d.dancers, pass.Percent())
					return d.leads(&leading{session: practice.Session{Exercises: list}, line: timeline, before: d.lead})
				}
			}
		}
	}
	d.news.Say("nothing is marked that could be drilled: z marks what went wrong")
	return nil
}
