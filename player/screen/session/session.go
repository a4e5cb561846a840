// Package session leads through a planned practice, exercise by exercise.
//
// It counts run-throughs and says what comes next; the dance does what the exercises ask.
package session

import (
	"fmt"
	"slices"
	"time"
	"unicode/utf8"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// Lead leads through one session, and then through the one it interrupted.
type Lead struct {
	Session practice.Session

	line    *player.Timeline       // which its exercises are of
	danced  []*practice.RunThrough // of the exercise, to their ends
	breath  time.Time              // until when a breather lasts
	left    func(*routine.Score, practice.Session)
	before  *Lead // to go on with afterwards; nil for none
	asking  bool  // how the exercise went
	resumed bool  // from where it was left, and not yet gone on
	edited  bool  // the sheet, and what is looped is not yet known to be the exercise
}

// New returns the lead through a session of a timeline. Left is called with what is still to be danced,
// each time that changes; it may be nil. Before is what to go on with afterwards, nil for nothing.
func New(s practice.Session, line *player.Timeline, left func(*routine.Score, practice.Session), before *Lead) *Lead {
	return &Lead{Session: s, line: line, left: left, before: before, resumed: s.Done > 0}
}

// Begin makes ready for the exercise that is next, at a time, and returns it. A session that is over
// returns to the one before: l is then that, or nil if no session is left.
func (l *Lead) Begin(at time.Time) (lead *Lead, next practice.Exercise) {
	for l != nil {
		next, ok := l.Session.Next()
		if ok {
			l.danced, l.breath, l.asking = nil, time.Time{}, false
			if next.Kind == practice.Breather {
				l.breath = at.Add(next.Takes)
			}
			return l, next
		}
		l = l.before
	}
	return nil, practice.Exercise{}
}

// Planned returns the planned session that l leads through; ok is false if there are only drills.
func (l *Lead) Planned() (s practice.Session, ok bool) {
	for ; l != nil; l = l.before {
		if !l.Session.Made.IsZero() {
			return l.Session, true
		}
	}
	return practice.Session{}, false
}

// Timed reports whether the exercise ends by the clock, as a breather does.
func (l *Lead) Timed() bool { return l != nil && !l.breath.IsZero() }

// Follow takes in what is heard at a time, and the run-through that has ended, nil for none. It reports
// whether the exercise is over.
func (l *Lead) Follow(ended *practice.RunThrough, at time.Time) bool {
	if l == nil || l.asking {
		return false
	}
	now, ok := l.Session.Next()
	switch {
	case !ok:
		return false
	case now.Kind == practice.Breather:
		return !at.Before(l.breath)
	case ended == nil:
		return false
	}
	if danced := ended.Part(); ended.Finished && danced.From <= now.Part.From && now.Part.To <= danced.To {
		l.danced = append(l.danced, ended)
	}
	return len(l.danced) >= now.Passes
}

// Ask asks how the exercise went, which is over, until the next begins. It reports whether there is
// anything to ask: after the last of all, dancers are asked by the list with which they end.
func (l *Lead) Ask() bool {
	now, ok := l.Session.Next()
	last := l.Session.Done == len(l.Session.Exercises)-1 && l.before == nil
	l.asking = ok && now.Asks() && !last
	return l.asking
}

// Asked returns the exercise that the dancers are asked about; ok is false if none is.
func (l *Lead) Asked() (e practice.Exercise, ok bool) {
	if l == nil || !l.asking {
		return practice.Exercise{}, false
	}
	return l.Session.Next()
}

// Danced returns the run-throughs of the exercise that were danced to their ends.
func (l *Lead) Danced() []*practice.RunThrough { return l.danced }

// Again goes back to before the exercise's last run-through.
func (l *Lead) Again() {
	l.asking = false
	l.danced = l.danced[:max(len(l.danced)-1, 0)]
}

// Hidden returns what the run-through that is danced, or comes next, hides because it is by heart; ok is
// false if it is not.
func (l *Lead) Hidden() (h practice.Hidden, ok bool) {
	if l == nil {
		return practice.Hidden{}, false
	}
	now, ok := l.Session.Next()
	return now.Hidden(len(l.danced)), ok && len(l.danced) < now.ByHeart
}

// Next ends the exercise, which was skipped unless it was danced once, and keeps how far the session is.
func (l *Lead) Next() {
	l.Session, l.resumed = l.Session.After(len(l.danced) > 0), false
	l.keep()
}

func (l *Lead) keep() {
	if l.left != nil {
		l.left(l.line.Score, l.Session)
	}
}

// Replace leads on through a sheet as it is after it was saved. Lost names the exercises that are not in
// it any more; gone reports whether the present one is among them.
func (l *Lead) Replace(timeline *player.Timeline) (lost []string, gone bool) {
	for s := l; s != nil; s = s.before {
		present, _ := s.Session.Next()
		session, without := s.Session.On(s.line, timeline)
		gone = gone || s == l && slices.Contains(without, present.What)
		for _, what := range without {
			if !slices.Contains(lost, what) {
				lost = append(lost, what)
			}
		}
		s.Session, s.line, s.edited = session, timeline, true
		s.keep()
	}
	return lost, gone
}

// Refit returns what to loop in a sheet that was edited, once that is heard; ok is false if it is looped
// already, or if the dancer has chosen otherwise.
func (l *Lead) Refit(m player.Moment) (loop player.Interval, ok bool) {
	if l == nil || !l.edited || m.Timeline != l.line {
		return player.Interval{}, false
	}
	next, more := l.Session.Next()
	if is := m.Settings.Loop; !more || next.Kind == practice.Breather || is.Empty() || is == next.Part {
		l.edited = false
		return player.Interval{}, false
	}
	return next.Part, true
}

// Text says at a time what is danced, or to be danced, in so many columns as there are; key is the one that
// goes on. It is "" without a session.
func (l *Lead) Text(at time.Time, key string, width int) string {
	if l == nil {
		return ""
	}
	next, ok := l.Session.Next()
	if !ok {
		return ""
	}
	text := fmt.Sprintf("%d of %d: %s", l.Session.Done+1, len(l.Session.Exercises), next.What)
	if l.resumed {
		text = "resumed, " + text
	}
	if next.Kind == practice.Breather {
		return fmt.Sprintf("%s, %d s · %s goes on", text, max(0, int(l.breath.Sub(at).Seconds()+0.5)), key)
	}
	if l.asking {
		for _, question := range []string{": how did it go? Space: clean, z: wrong, PgUp: again", ": space clean, z wrong, PgUp again"} {
			if utf8.RuneCountInString(text+question) <= width {
				return text + question
			}
		}
		return "Space: clean, z: wrong, PgUp: again"
	}
	text += fmt.Sprintf(", %s of %d", routine.Ordinal(min(len(l.danced)+1, next.Passes)), next.Passes)
	if _, ok := l.Hidden(); ok {
		text += ", by heart"
	}
	onward := " · " + key + " next"
	if why := " · " + next.Why; next.Why != "" && utf8.RuneCountInString(text+why) <= width {
		text += why
	}
	if utf8.RuneCountInString(text+onward) <= width {
		text += onward
	}
	return text
}
