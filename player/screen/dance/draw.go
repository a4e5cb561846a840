package dance

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/changes"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/screen/view"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/glossary"

	"github.com/charmbracelet/bubbles/key"
)

// The heights of a window from which on it has room for each line, the most needed first.
const (
	forMessage = 4
	forKeys    = 8
	forFigure  = 10
	forState   = 13
	forTitle   = 16
	forCounts  = 22 // a class sees no counts of the bar
	forComing  = 30
)

// frame returns what stands above and below the view, and how many lines that leaves for it.
func frame(m *Model, keys []key.Binding) (head, below, foot []string, room int) {
	line := func(to *[]string, from int, text func(*Model) string) {
		if m.height >= from {
			*to = append(*to, text(m))
		}
	}
	line(&head, forTitle, titleLine)
	if !m.inClass() { // whose view has the figure in large letters
		line(&head, forFigure, figureLine)
	}
	line(&head, forState, stateLine)
	line(&foot, forMessage, messageLine)
	line(&foot, forKeys, func(m *Model) string { return term.HelpLine(m.width, keys) })
	room = m.height - len(head) - len(foot)
	below = belowView(m, room)
	return head, below, foot, room - len(below)
}

// belowView returns what stands below the view: what is open, what is wrong in the sheet, or else
// the counts of the bar and the figures that come.
func belowView(m *Model, room int) []string {
	o, t := &m.open, m.o.Theme
	least := view.Least // what the view keeps
	switch o.kind {
	case typing:
		return o.tempo.View(m.width, t, m.cue.Moment)
	case judging:
		return o.ticks.View(m.width, min(o.ticks.Height(), room), t)
	case mixing, learning, choosing, marked:
		rows := m.rows()
		return o.menus[o.kind].View(m.width, min(o.menus[o.kind].Height(rows), max(room-least, min(room, 3))), t, rows)
	}
	if !m.sheet.Danceable() {
		return brokenLines(m.width, min(3, max(room-least, 1)), t, m.sheet.Findings)
	}
	var lines []string
	if m.height >= forCounts && !m.inClass() {
		lines = append(lines, m.o.View.Counts(&m.cue, m.width)...)
	}
	if m.height >= forComing && !m.inClass() {
		lines = append(lines, comingLine(m))
	}
	return lines
}

func titleLine(m *Model) string {
	score := m.cue.Moment.Timeline.Score
	tempo := tempoText(m.cue.Moment)
	r := term.NewRow(m.width)
	name := score.Title + " · " + score.Dance.Name
	if score.Title == "" {
		name = score.Dance.Name
	}
	return r.Put(term.Plain, term.Cut(harmless.Line(name), max(r.Left()-term.Width(tempo)-2, 0))).Right(m.o.Theme.Strong, tempo).String()
}

// figureLine names the figure and, within a bar of it, the next. What does not fit is left out from
// the remark on.
func figureLine(m *Model) string {
	t := m.o.Theme
	item := m.cue.Item(m.cue.Event())
	score := m.cue.Moment.Timeline.Score
	place := score.PlaceOf(m.cue.At().Passage)
	next := m.cue.Ahead()
	if next != "" {
		next = " next: " + next + " "
	}
	r := term.NewRow(m.width)
	room := m.width - term.Width(next)
	r.Put(t.Heading, term.Cut(m.cue.Name(item), room))
	for _, part := range []string{"  " + place, " — " + m.cue.Differs(), " — " + harmless.Line(item.Remark)} {
		if strings.TrimLeft(part, " —") != "" && r.Used()+term.Width(part)+1 <= room {
			r.Put(term.Plain, part)
		}
	}
	if next != "" {
		r.Right(t.Present, next)
	}
	return r.String()
}

func stateName(s player.State) string {
	switch s {
	case player.LeadIn:
		return "lead-in"
	case player.Dancing:
		return "dancing"
	case player.Finished:
		return "finished"
	}
	return "holding"
}

// stateLine says what the couple is doing, as far as it fits, the most needed first.
func stateLine(m *Model) string {
	timeline, set := m.cue.Moment.Timeline, &m.cue.Moment.Settings
	var texts []string
	if m.cue.Moment.State == player.LeadIn {
		texts = append(texts, firstStep(m))
	}
	if m.cue.Moment.State == player.Holding {
		texts = append(texts, "space starts")
	}
	if m.cue.Moment.State == player.Finished {
		texts = append(texts, "space: dance it again")
	}
	if set.Ladder != (player.Ladder{}) {
		texts = append(texts, rungText(set.Ladder, m.cue.Moment.RunThrough))
	}
	if !set.Loop.Empty() {
		texts = append(texts, "loop: "+loopText(m)+", "+routine.Ordinal(m.cue.Moment.RunThrough+1)+" time")
	}
	if m.loopFrom != nil {
		texts = append(texts, "loop from "+cue.Place(timeline, *m.loopFrom))
	}
	if m.cue.Moment.State != player.LeadIn {
		e := m.cue.At()
		texts = append(texts, fmt.Sprintf("bar %d of %d", e.Bar, timeline.Events[len(timeline.Events)-1].Bar), phraseText(timeline, e))
	}
	texts = append(texts, m.song.Texts(m.cue.Moment)...)
	r := term.NewRow(m.width).Put(m.o.Theme.Present, " "+strings.ToUpper(stateName(m.cue.Moment.State))+" ")
	for i, text := range texts {
		ink, between := term.Plain, " · "
		if i == 0 {
			ink, between = m.o.Theme.Strong, " "
		}
		if r.Left() < term.Width(between+text) && i > 0 {
			break
		}
		r.Put(term.Plain, between).Put(ink, text)
	}
	return r.String()
}

// rungText says on which rung of a ladder a run-through is danced.
func rungText(l player.Ladder, runThrough int) string {
	text := fmt.Sprintf("rung %d of %d", l.Rung(runThrough)+1, l.Rungs())
	if below := -l.Rung(runThrough); below > 0 {
		text = fmt.Sprintf("%d below rung 1 of %d", below, l.Rungs())
	}
	return text + " to " + term.Decimal(l.Top) + " %"
}

// firstStep says when the first step comes.
func firstStep(m *Model) string {
	e := m.cue.At()
	on := fmt.Sprintf("on %d", e.Beat)
	if e.Split {
		on = fmt.Sprintf("after %d", e.Beat)
	}
	left := m.cue.Moment.Begins - m.cue.Moment.Beat
	return "first step " + on + ", in " + routine.Plural(int((left+routine.Beat-1)/routine.Beat), "beat")
}

// loopText says what is looped.
func loopText(m *Model) string {
	timeline, loop := m.cue.Moment.Timeline, m.cue.Moment.Settings.Loop
	whole := changes.Whole(timeline)
	switch covers := loop.From <= whole.From && loop.To >= whole.To; {
	case covers && m.o.Drill:
		return "the drill"
	case covers:
		return "the routine"
	}
	i := timeline.PassageAt(loop.From)
	switch {
	case timeline.Passage(i) == loop:
		return "this figure"
	case i+1 < len(timeline.Score.Passages) && timeline.Join(i) == loop:
		return "the join to the next figure"
	}
	return cue.Place(timeline, loop.From) + " to " + cue.Place(timeline, loop.To-1)
}

// phraseText says which phrase an event is in, and where in it if a song is danced to.
func phraseText(timeline *player.Timeline, e *player.Event) string {
	if timeline.Music() == nil {
		return fmt.Sprintf("phrase %d", e.Phrase)
	}
	bar := timeline.Score.Dance.Metre.Bar()
	number, from, to := timeline.Score.Phrase(e.At)
	if (to-from)%bar != 0 {
		return fmt.Sprintf("phrase %d, beat %d of %d", number, (e.At-from)/routine.Beat+1, (to-from)/routine.Beat)
	}
	return fmt.Sprintf("phrase %d, bar %d of %d", number, (e.At-from)/bar+1, (to-from)/bar)
}

// comingLine names the figures that come next.
func comingLine(m *Model) string {
	r := term.NewRow(m.width).Put(term.Plain, "then")
	for i, name := range m.cue.Coming(6) {
		if i > 0 {
			name = "· " + name
		}
		if r.Left() < term.Width(name)+1 {
			break
		}
		r.To(max(view.NameColumns, r.Used()+1)).Put(term.Plain, name)
	}
	return r.String()
}

// messageLine is what there is to say, the most urgent first.
func messageLine(m *Model) string {
	t := m.o.Theme
	r := term.NewRow(m.width)
	say := func(ink term.Ink, text string) {
		if r.Used() > 0 && text != "" {
			r.Put(term.Plain, " · ")
		}
		r.Put(ink, text)
	}
	say(t.Strong, m.firstKeys.Text())
	say(m.news.Ink(t), m.news.Text)
	say(t.Strong, m.o.Pauses.Text)
	const between = len(" · ")
	led := m.lead.Text(time.Now(), "enter", m.width)
	if left := m.width - r.Used() - between; r.Used() > 0 && term.Width(led) > left {
		if led = m.lead.Text(time.Now(), "enter", left); term.Width(led) > left {
			led = "" // what happened is more urgent
		}
	}
	say(term.Plain, led)
	say(t.Alarm, message(m))
	if r.Used() > 0 {
		return r.String()
	}
	if loop := m.cue.Moment.Settings.Loop; !loop.Empty() && !m.cue.Moment.Timeline.Rejoins(loop) {
		return r.Put(t.Strong, "Ends on the same foot: swap feet before repeating").String()
	}
	if n := len(routine.Objections(m.sheet.Findings)); n > 0 && m.sheet.Danceable() {
		return r.Put(term.Plain, routine.Plural(n, "warning")+" about the sheet: o shows "+map[bool]string{true: "it", false: "them"}[n == 1]).String()
	}
	if m.width < view.WholeWidth || m.height < view.WholeHeight {
		r.Put(term.Plain, fmt.Sprintf("A window of %d×%d shows more", view.WholeWidth, view.WholeHeight))
	}
	return r.String()
}

// brokenLines say in n lines that the sheet was saved in a state that can't be danced, and why.
func brokenLines(width, n int, t term.Theme, found []routine.Finding) []string {
	lines := []string{term.NewRow(width).Put(t.Alarm, "The saved sheet has errors; still dancing the last good one").String()}
	for _, f := range found {
		if f.Severity == routine.Error {
			lines = append(lines, term.NewRow(width).Put(t.Alarm, fmt.Sprintf("line %d: %s", f.Span.Start.Line, f.Message)).String())
			if f.Hint != "" {
				lines = append(lines, term.NewRow(width).To(2).Put(term.Plain, "hint: "+f.Hint).String())
			}
		}
	}
	if n == 1 && len(lines) > 1 {
		return lines[1:2] // why is what helps
	}
	return lines[:min(n, len(lines))]
}

// tempoText gives the tempo at a moment, and how much of the sheet's it is. A song that hardly leaves
// its tempo has one, not another with each beat.
func tempoText(m player.Moment) string {
	tempo := m.Tempo
	if m.Timeline.Music() != nil {
		const hardly = 50 // a fiftieth
		if own := m.Timeline.OwnTempo().Scaled(m.Percent); max(own-tempo, tempo-own) <= own/hardly {
			tempo = own
		}
	}
	text := term.Decimal(m.Timeline.Score.Dance.BarsPerMinute(tempo)) + " bars/min"
	if p := strconv.FormatFloat(m.Percent, 'f', 0, 64); p != "100" {
		text += " (" + p + " %)"
	}
	return text
}

// Words returns the words of the steps that are shown, and the letters that they are counted with, with what
// they mean, for a page of help.
func (m *Model) Words() []glossary.Entry {
	score := m.Score()
	event := m.cue.Event()
	var steps []*routine.Step
	var counts []routine.Count
	add := func(p routine.Partner, s *routine.Step, at int) {
		if s == nil || !m.cue.Shows(p, at) {
			return
		}
		steps = append(steps, s)
		e := &m.cue.Moment.Timeline.Events[at]
		if count := score.Passages[e.Passage].Figure.Rows[e.Row].Count; count.Kind != routine.Number {
			counts = append(counts, count)
		}
	}
	for _, p := range m.cue.Dancers.Partners() {
		s, at := m.cue.Step(p, event)
		add(p, s, at)
		s, at = m.cue.Next(p, event)
		add(p, s, at)
	}
	return append(glossary.Of(steps...), glossary.Counts(score.Dance, counts...)...)
}

// message is what there is to say besides the news, the most urgent first.
func message(m *Model) string {
	lost := ""
	if m.o.Diary != nil {
		lost = m.o.Diary.Status()
	}
	return cmp.Or(lost, m.o.Sound)
}
