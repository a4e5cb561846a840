package screen

import (
	"strings"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// Diary keeps what is danced.
type Diary interface {
	// Begin begins a practice of a routine. Nothing is kept before its first pass.
	Begin(*routine.Score) Keeper
}

// Keeper keeps one practice.
type Keeper interface {
	// Keep keeps a pass, or says in plain words that nothing is being kept, and why.
	Keep(practice.Pass) error
}

// run is a pass that is danced, or that was.
type run struct {
	line    *player.Timeline
	repeat  player.Stretch
	pass    int
	from    routine.Beats
	beat    routine.Beats // where it is
	at      time.Time     // then
	to      routine.Beats // the end of the event that is danced
	percent float64
	side    Side
	began   time.Time

	jumped   bool // gone elsewhere by a key
	finished bool
	ended    time.Time
	marks    map[practice.Place][2]bool // by whom
}

// record follows what is danced, pass by pass.
type record struct {
	keeper  Keeper // nil if nothing is to be kept
	now     *run   // nil if the couple stands
	past    *run   // the last, which is not kept yet as a mark may still come; nil for none
	last    *run   // the last, kept or not
	unkept  string // says that nothing is being kept
	swap    bool   // sides are swapped when the next pass begins
	pausing bool   // as in a class
}

// How late a dancer marks what went wrong at the end of a pass, and until when a
// pass waits for that.
const (
	reaction = 700 * time.Millisecond
	waiting  = 2 * time.Second
)

// follow takes in what is heard now, and gives the pass that has ended, if one has.
func (r *record) follow(m player.Moment, at time.Time, side Side) (ended *run) {
	if n := r.now; n != nil && !n.goesOn(m, at) {
		n.end(m, at)
		r.now, ended = nil, n
	}
	if m.State != player.Dancing || m.Event < 0 {
		return ended
	}
	e := &m.Timeline.Events[m.Event]
	if r.now == nil {
		r.now = &run{line: m.Timeline, pass: m.Pass, from: e.At, percent: m.Percent, side: side, began: at, marks: map[practice.Place][2]bool{}}
	}
	r.now.beat, r.now.at, r.now.to, r.now.repeat = m.Beat, at, e.At+e.Length, m.Settings.Repeat
	return ended
}

// goesOn reports whether a moment is of the same pass: not before what was heard
// last, and no further than one can dance in the time since.
func (n *run) goesOn(m player.Moment, at time.Time) bool {
	most := routine.Beats(1.5*at.Sub(n.at).Minutes()*m.Tempo.Float()*float64(routine.Beat)) + routine.Beat
	return m.State == player.Dancing && m.Timeline == n.line && m.Pass == n.pass && !n.jumped && m.Beat >= n.beat && m.Beat-n.beat <= most
}

// end ends a pass with the moment after it.
func (n *run) end(m player.Moment, at time.Time) {
	n.ended = at
	if n.jumped || m.Timeline != n.line || m.State != player.Finished && m.Pass <= n.pass {
		return
	}
	n.finished = true
	if n.to = n.line.End; !n.repeat.Empty() {
		n.to = n.repeat.To
	}
}

// mark marks what is danced at a beat, and gives its places.
func (n *run) mark(beat routine.Beats, by ...routine.Partner) []practice.Place {
	var marked []practice.Place
	part := n.part()
	for _, at := range practice.Places(n.line, beat) {
		if at.Join && !(part.Contains(n.line.Passage(at.Passage-1).To-1) && part.Contains(n.line.Passage(at.Passage).From)) {
			continue // only one of its figures is danced
		}
		both := n.marks[at]
		for _, p := range by {
			both[p] = true
		}
		n.marks[at] = both
		marked = append(marked, at)
	}
	return marked
}

// part is what was danced, or, of a pass under way, is to be.
func (n *run) part() player.Stretch {
	to := n.to
	if n.ended.IsZero() {
		if to = n.line.End; !n.repeat.Empty() {
			to = n.repeat.To
		}
	}
	return player.Stretch{From: n.from, To: to}
}

// worthKeeping reports that a bar was danced or something was marked.
func (n *run) worthKeeping() bool {
	return n.to-n.from >= n.line.Score.Dance.Metre.Bar() || len(n.marks) > 0
}

// kept is a run as the diary keeps it.
func (n *run) kept() practice.Pass {
	first, danced := practice.Part(n.line, n.part())
	p := practice.Pass{
		At: n.ended, Took: n.ended.Sub(n.began), Tempo: n.line.OwnTempo().Scaled(n.percent),
		Side: practice.Side(n.side), Finished: n.finished, Danced: danced,
	}
	for place := range danced {
		for _, join := range []bool{false, true} {
			for _, q := range routine.Partners() {
				if n.marks[practice.Place{Passage: first + place, Join: join}][q] && (place > 0 || !join) {
					p.Marks = append(p.Marks, practice.Mark{Place: place, Join: join, Partner: q})
				}
			}
		}
	}
	return p
}

// keptMsg says what came of keeping a pass.
type keptMsg struct {
	visit int
	err   error
}

// keep keeps the pass that waits, if it has waited long enough, or now.
func (d *dance) keep(now bool) tea.Cmd {
	r := &d.record
	past := r.past
	if past == nil || !now && time.Since(past.ended) < waiting {
		return nil
	}
	r.past = nil
	pass := past.kept()
	if past.finished && d.heart {
		d.hidden = d.hidden.After(pass.Clean())
		d.say(d.hidden.String())
	}
	if r.keeper == nil || r.pausing {
		return nil
	}
	keeper, visit := r.keeper, d.visit
	return func() tea.Msg { return keptMsg{visit, keeper.Keep(pass)} }
}

// keeping takes in what came of keeping a pass.
func (d *dance) keeping(msg keptMsg) {
	d.record.unkept = ""
	if msg.err != nil {
		d.record.unkept = msg.err.Error()
	}
}

// follows takes in what is heard now: what is danced, and what was danced.
func (d *dance) follows(at time.Time) tea.Cmd {
	r := &d.record
	standing := r.now == nil
	ended := r.follow(d.now, at, d.side)
	d.pauses.follow(d.now, at, ended != nil && ended.finished)
	var cmds []tea.Cmd
	if ended != nil && ended.worthKeeping() {
		cmds = append(cmds, d.keep(true)) // the one before
		r.past, r.last = ended, ended
	}
	if r.now != nil && (standing || ended != nil) && r.swap {
		r.swap = false
		d.side = d.side.swapped()
		r.now.side = d.side
	}
	cmds = append(cmds, d.keep(false), d.refit(), d.goOn(ended, at))
	return tea.Batch(cmds...)
}

// stops keeps what was danced until now, and what waits to be kept.
func (d *dance) stops() tea.Cmd {
	cmds := []tea.Cmd{d.keep(true)}
	if n := d.record.now; n != nil {
		n.ended = time.Now()
		d.record.now = nil
		if n.worthKeeping() {
			d.record.past = n
			cmds = append(cmds, d.keep(true))
		}
	}
	return inOrder(cmds...)
}

// inOrder carries commands out one after the other, and tells what the last says.
func inOrder(cmds ...tea.Cmd) tea.Cmd {
	return func() (said tea.Msg) {
		for _, cmd := range cmds {
			if cmd != nil {
				said = cmd()
			}
		}
		return said
	}
}

// wentWrong gives the action of marking for some partners, or for those shown.
func wentWrong(by ...routine.Partner) func(*dance) tea.Cmd {
	return func(d *dance) tea.Cmd {
		partners := by
		if len(partners) == 0 {
			partners = d.side.partners()
		}
		r := &d.record
		var marked []practice.Place
		switch {
		case r.past != nil && (r.now == nil || time.Since(r.now.began) < reaction):
			marked = r.past.mark(r.past.to-1, partners...)
		case r.now != nil:
			marked = r.now.mark(d.now.Beat, partners...)
		default:
			d.say("nothing is danced that could be marked")
			return nil
		}
		whose := ""
		if len(by) == 1 {
			whose = " by the " + by[0].String()
		}
		d.say("marked" + whose + ": " + placesText(d.now.Timeline, marked))
		return nil
	}
}

// placesText names places, "Oar turn, and Lantern step into Oar turn".
func placesText(line *player.Timeline, places []practice.Place) string {
	p := line.Score.Passages
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

// swapped is the other partner's side.
func (s Side) swapped() Side {
	switch s {
	case LeaderSide:
		return FollowerSide
	case FollowerSide:
		return LeaderSide
	}
	return s
}

// swapSides swaps sides with the next pass, or at once if the couple stands.
func (d *dance) swapSides() tea.Cmd {
	switch {
	case d.side == Both:
		d.say("both sides are shown: s chooses one")
	case d.record.now == nil:
		d.side = d.side.swapped()
	default:
		d.record.swap = !d.record.swap
		text := "sides stay as they are"
		if d.record.swap {
			text = "the " + d.side.swapped().String() + "'s side comes with the next pass"
		}
		d.say(text)
	}
	return nil
}
