// Package marks follows what is danced, takes the dancers' marks of what went wrong, and
// hands both on to be kept.
//
// A run-through that has ended waits: dancers mark what went wrong at its end when they have
// stopped, or tick it in a list. It is kept when the next has begun, when they have ticked the
// list, or when the sheet is left; until then its marks can be taken back.
package marks

import (
	"slices"
	"strings"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/pane"
	"dance.example/slowquick/routine"
)

// Book follows one dance. Its zero value keeps nothing, but takes marks.
type Book struct {
	practice.Log
	Keeper  practice.Keeper      // nil if nothing is kept
	Pausing bool                 // nothing is kept for now, as in a class
	last    *practice.RunThrough // that ended last
	waits   bool                 // it is not kept yet
	taken   []mark               // those that can be taken back
}

// mark is what a place had before it was marked.
type mark struct {
	run    *practice.RunThrough
	places []practice.Place
	before [][2]bool
}

// How late a dancer marks what went wrong at the end of a run-through, and for how much of the
// next it waits for that (our own choices).
const (
	reaction = 700 * time.Millisecond
	waiting  = 2 * time.Second
)

// Follow takes in what is heard at a time. It returns the run-through that this ends, and the one
// that is now kept; nil if there is none.
func (b *Book) Follow(m player.Moment, at time.Time, dancers routine.Dancers) (ended *practice.RunThrough, kept *practice.Kept) {
	if ended = b.Log.Follow(m, at, dancers); ended != nil && ended.WorthKeeping() {
		kept = b.Keep() // the one before
		b.last, b.waits = ended, true
	}
	if b.waits && b.Now != nil && at.Sub(b.Now.Began) >= waiting {
		kept = b.Keep()
	}
	return ended, kept
}

// Keep keeps the run-through that waits, and returns it; nil if none does.
func (b *Book) Keep() *practice.Kept {
	if !b.waits {
		return nil
	}
	b.waits = false
	kept := b.last.Kept()
	if b.keeps() {
		b.Keeper.Keep(kept)
	}
	return &kept
}

func (b *Book) keeps() bool { return b.Keeper != nil && !b.Pausing }

// Stop ends what is danced, without keeping it yet.
func (b *Book) Stop(at time.Time) {
	if n := b.Log.Stop(at); n != nil && n.WorthKeeping() {
		b.Keep()
		b.last, b.waits = n, true
	}
}

// Mark marks what went wrong for some partners: what is danced at a beat or, just after a run-through
// and while the couple stands, its end. It returns what it marked in words; "" if nothing was danced.
func (b *Book) Mark(at time.Time, beat routine.Beats, by ...routine.Partner) string {
	n := b.Now
	if b.waits && (n == nil || at.Sub(n.Began) < reaction) {
		n, beat = b.last, b.last.Last()
	}
	if n == nil {
		return ""
	}
	m := mark{run: n}
	for _, place := range practice.PlacesAt(n.Timeline, beat) {
		m.places, m.before = append(m.places, place), append(m.before, n.Marks(place))
	}
	marked := n.Mark(beat, by...)
	b.taken = append(b.taken, m)
	return Names(n.Timeline, marked)
}

// MarkLast marks a place in the run-through that waits, and returns it in words; "" if none waits.
func (b *Book) MarkLast(at practice.Place, by ...routine.Partner) string {
	if !b.waits {
		return ""
	}
	before := b.last.Marks(at)
	b.taken = append(b.taken, mark{b.last, []practice.Place{at}, [][2]bool{before}})
	for _, p := range by {
		before[p] = true
	}
	b.last.SetMarks(at, before)
	return Name(b.last.Timeline, at)
}

// TakeBack takes the latest mark back that is not kept yet, and returns it in words; "" if there is none.
func (b *Book) TakeBack() string {
	for len(b.taken) > 0 {
		m := b.taken[len(b.taken)-1]
		b.taken = b.taken[:len(b.taken)-1]
		if m.run != b.Now && !(b.waits && m.run == b.last) {
			continue
		}
		var undone []practice.Place
		for i, place := range m.places {
			if m.run.Marks(place) != m.before[i] {
				undone = append(undone, place)
			}
			m.run.SetMarks(place, m.before[i])
		}
		if len(undone) > 0 {
			return Names(m.run.Timeline, undone)
		}
	}
	return ""
}

// Waits reports whether a run-through waits for its marks.
func (b *Book) Waits() bool { return b.waits }

// Ticks returns the run-through that waits as a list to tick, with what is marked already.
func (b *Book) Ticks() []pane.Tick {
	if !b.waits {
		return nil
	}
	var list []pane.Tick
	for _, place := range b.last.Places() {
		list = append(list, pane.Tick{Name: Name(b.last.Timeline, place), Wrong: b.last.Marks(place)})
	}
	return list
}

// Judge keeps the run-through that waits with the marks of a list that Ticks returned. What the partners
// to whom it was shown have not ticked went well.
func (b *Book) Judge(list []pane.Tick, shown routine.Dancers) *practice.Kept {
	if !b.waits {
		return nil
	}
	b.last.Judge(shown.Partners()...)
	for i, place := range b.last.Places() {
		if i < len(list) {
			b.last.SetMarks(place, list[i].Wrong)
		}
	}
	return b.Keep()
}

// Good takes in that the dancers say it went well, but for what they mark: the run-through that has just
// ended or, from its middle on, the one that is danced. It reports whether there is one that they can mean.
func (b *Book) Good(beat routine.Beats) bool {
	n := b.Now
	if n == nil || beat-n.Part().From < n.Part().To-beat {
		if !b.waits {
			return false
		}
		n = b.last
	}
	n.Judge(n.Dancers.Partners()...)
	return true
}

// Clean takes in that the dancers say of several run-throughs, the last of which waits, that they went well
// but for what is marked. If the last is marked, that says nothing of those before it. It returns the last
// as it is kept; nil if none waits.
func (b *Book) Clean(all []*practice.RunThrough) *practice.Kept {
	if n := len(all) - 1; n > 0 && all[n].AnyMarked() {
		all = all[n:]
	}
	for _, n := range all {
		n.Judge(n.Dancers.Partners()...)
		if waits := b.waits && n == b.last; !waits && b.keeps() {
			k := n.Kept()
			b.Keeper.Judge(k.At, k.Judged)
		}
	}
	return b.Keep()
}

// Worst returns the first place of a timeline that was marked in what is danced or was danced last, a
// join before its figure.
func (b *Book) Worst(timeline *player.Timeline) (practice.Place, float64, bool) {
	for _, n := range []*practice.RunThrough{b.Now, b.last} {
		if n == nil || n.Timeline != timeline {
			continue
		}
		if i := slices.IndexFunc(n.Places(), func(at practice.Place) bool { return n.Marks(at) != [2]bool{} }); i >= 0 {
			return n.Places()[i], n.Percent(), true
		}
	}
	return practice.Place{}, 0, false
}

// Names names the places of one mark: "Oar turn", or "Oar turn (and the join to Lantern step)".
func Names(timeline *player.Timeline, places []practice.Place) string {
	p := timeline.Score.Passages
	var names []string
	for _, at := range places {
		switch {
		case at.Passage >= len(p): // of a sheet that was longer
		case !at.Join || len(places) == 1:
			names = append(names, Name(timeline, at))
		case at.Passage > places[0].Passage:
			names = append(names, "(and the join to "+p[at.Passage].Figure.Name+")")
		default:
			names = append(names, "(and the join from "+p[at.Passage-1].Figure.Name+")")
		}
	}
	return strings.Join(names, " ")
}

// Name names a place, "Oar turn" or "Lantern step into Oar turn".
func Name(timeline *player.Timeline, at practice.Place) string {
	p := timeline.Score.Passages
	name := p[at.Passage].Figure.Name
	if at.Join {
		name = p[at.Passage-1].Figure.Name + " into " + name
	}
	return name
}
