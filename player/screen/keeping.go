package screen

import (
	"strings"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// record follows what is danced, run-through by run-through.
type danced struct {
	practice.Log
	diary   practice.Diary       // nil if nothing is to be kept
	keeper  practice.Keeper      // likewise
	past    *practice.RunThrough // the last, which is not kept yet as a mark may still come; nil for none
	last    *practice.RunThrough // the last, kept or not
	unkept  string               // says that nothing is being kept
	swap    bool                 // sides are swapped when the next pass begins
	pausing bool                 // as in a class
}

// How late a dancer marks what went wrong at the end of a pass, and until when a
// pass waits for that.
const (
	reaction = 700 * time.Millisecond
	waiting  = 2 * time.Second
)

// keep keeps the pass that waits, if it has waited long enough, or now.
func (d *dance) keep(now bool) {
	r := &d.record
	past := r.past
	if past == nil || !now && time.Since(past.Ended) < waiting {
		return
	}
	r.past = nil
	pass := past.Kept()
	if past.Finished && d.heart {
		d.hidden = d.hidden.After(pass.Clean())
		d.news.Say(d.hidden.String())
	}
	if r.keeper != nil && !r.pausing {
		r.keeper.Keep(pass)
	}
}

// follows takes in what is heard now: what is danced, and what was danced.
func (d *dance) follows(at time.Time) tea.Cmd {
	r := &d.record
	standing := r.Now == nil
	ended := r.Follow(d.now, at, d.dancers)
	d.pauses.follow(d.now, at, ended != nil && ended.Finished)
	if ended != nil && ended.WorthKeeping() {
		d.keep(true) // the one before
		r.past, r.last = ended, ended
	}
	if r.Now != nil && (standing || ended != nil) && r.swap {
		r.swap = false
		d.dancers = d.dancers.Swapped()
		r.Now.Dancers = d.dancers
	}
	d.keep(false)
	if r.diary != nil {
		r.unkept = r.diary.Status()
	}
	return tea.Batch(d.refit(), d.goOn(ended, at))
}

// stops keeps what was danced until now, and what waits to be kept.
func (d *dance) stops() {
	d.keep(true)
	if n := d.record.Stop(time.Now()); n != nil && n.WorthKeeping() {
		d.record.past = n
		d.keep(true)
	}
}

// wentWrong gives the action of marking for some partners, or for those shown.
func wentWrong(by ...routine.Partner) func(*dance) tea.Cmd {
	return func(d *dance) tea.Cmd {
		partners := by
		if len(partners) == 0 {
			partners = d.dancers.Partners()
		}
		r := &d.record
		var marked []practice.Place
		switch {
		case r.past != nil && (r.Now == nil || time.Since(r.Now.Began) < reaction):
			marked = r.past.MarkEnd(partners...)
		case r.Now != nil:
			marked = r.Now.Mark(d.now.Beat, partners...)
		default:
			d.news.Say("nothing is danced that could be marked")
			return nil
		}
		whose := ""
		if len(by) == 1 {
			whose = " by the " + by[0].String()
		}
		d.news.Say("marked" + whose + ": " + placesText(d.now.Timeline, marked))
		return nil
	}
}

// placesText names places, "Oar turn, and Lantern step into Oar turn".
func placesText(timeline *player.Timeline, places []practice.Place) string {
	p := timeline.Score.Passages
	var texts []string
	for _, at := range places {
		if at.Passage >= len(p) {
			continue // of a sheet that was longer
		}
		text := p[at.Passage].Figure.Name
		if at.Join {
			text = p[at.Passage-1].Figure.Name + " into " + text
		}
		texts = append(texts, text)
	}
	return strings.Join(texts, ", and ")
}

// swapSides swaps sides with the next pass, or at once if the couple stands.
func (d *dance) swapSides() tea.Cmd {
	switch {
	case d.dancers == routine.Both:
		d.news.Say("both sides are shown: s chooses one")
	case d.record.Now == nil:
		d.dancers = d.dancers.Swapped()
	default:
		d.record.swap = !d.record.swap
		text := "sides stay as they are"
		if d.record.swap {
			text = "the " + d.dancers.Swapped().String() + "'s side comes with the next pass"
		}
		d.news.Say(text)
	}
	return nil
}
