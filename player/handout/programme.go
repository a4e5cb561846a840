package handout

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/handout/prose"
	"dance.example/slowquick/player/pages"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// programme is what a page, a Markdown sheet and a text say about a routine.
type programme struct {
	Title   string
	Dance   string
	Side    string // whose steps are shown, if not both partners'
	Facts   []fact
	Prose   prose.Sheet
	Order   []orderItem
	Figures []figurePart
	Earlier []*shownFigure // in a class book: figures that sheets before it show
	Sides   []string       // "Leader", "Follower": whose steps the charts have

	timeline *player.Timeline
	path     *floor.Path
	set      Options

	elsewhere map[int]string // anchors of the figures that other sheets show, by number
}

type fact struct{ Name, Value string }

// orderItem is a line of the order.
type orderItem struct {
	Number  int
	Name    string // with the steps that are danced, and how many times
	Figure  int    // index into the figures, from 1
	Bars    string
	At      string // when it begins, from the first step
	Remarks []string

	item *routine.Item
}

// figurePart is a figure, or those of its steps that are danced.
type figurePart struct {
	Number      int // from 1
	Name        string
	Facts       []fact
	Prose       []prose.Block
	Styled      bool // Said is not what the chart counts
	Spoken      string
	Sides       []string // as the programme's
	Rows        []chartRow
	HasTurn     bool
	HasPosition bool
	Said        string // what its drawing shows, in words

	figure  *routine.Figure
	passage int          // the one that dances most of it
	shown   *shownFigure // in a class book
}

// shownFigure is a figure that a class book shows.
type shownFigure struct {
	Name, Dance string
	Anchor      string       // on a page for browsers
	place       *pages.Place // on paper
}

// chartRow is a line of a figure's chart.
type chartRow struct {
	Number   int // in the figure's chart, from 1
	Count    string
	Said     string
	Steps    []string // of the partners shown
	Turns    []string
	Position string
}

// newProgramme collects what is said about a sheet.
func newProgramme(timeline *player.Timeline, o Options) *programme {
	s := timeline.Score
	p := &programme{Title: s.Title, Dance: s.Dance.Name, Prose: prose.Read(s), timeline: timeline, path: floor.Trace(s), set: o}
	for _, q := range o.Partners() {
		p.Sides = append(p.Sides, title(q.String()))
	}
	if len(p.Sides) == 1 {
		p.Side = p.Sides[0]
	}
	p.Facts = p.facts()
	p.figures()
	p.order()
	return p
}

// facts returns what is said once for the whole routine.
func (p *programme) facts() []fact {
	s, d, set, own := p.timeline.Score, p.timeline.Score.Dance, &p.set.Settings, p.tempo(100)
	leads := "sheet"
	if p.timeline.Music() != nil {
		leads = "song"
	}
	tempo := p.tempo(set.Percent)
	text := fmt.Sprintf("%s (%s beats/min)", d.TempoText(tempo), number(tempo.Float()))
	if set.Ladder != (player.Ladder{}) {
		l := set.Ladder
		text = fmt.Sprintf("%s (%s beats/min) in the end, from %s to %s %% of it", d.TempoText(own), number(own.Float()), number(l.Start), number(l.Top))
	} else if set.Percent != 100 {
		text += fmt.Sprintf(", %s %% of the %s's", number(set.Percent), leads)
	}
	facts := []fact{{"Dance", d.Name}, {"Metre", d.Metre.String()}, {"Tempo", text}}
	if said := p.lesson(); said != "" {
		facts = append(facts, fact{"Class", said})
	}
	from, to := p.set.passages(p.timeline)
	if s.Faces != nil || d.Travels {
		facts = append(facts, fact{"Begins", "leader facing " + s.Passages[from].Begins.Facing[routine.Leader].String()})
	}
	if s.Floor != (routine.Room{}) {
		facts = append(facts, fact{"Floor", s.Floor.String()})
	}
	part := p.set.part(p.timeline)
	bars := (part.To - part.From).Float() / float64(d.Metre.Beats)
	facts = append(facts, fact{"Length", fmt.Sprintf("%s, %s", plural(bars, "bar"), audio.Clock(p.seconds(part.To)))})
	if from > 0 || to < len(s.Passages) {
		facts = append(facts, fact{"Part", barsFrom(p.bar(part.From), p.bar(part.To-1)) + " of the routine"})
	}
	if n := p.set.times(); n > 1 {
		facts = append(facts, fact{"Danced", fmt.Sprintf("%d times", n)})
	}
	if said := p.countIn(part.From); said != "" {
		facts = append(facts, fact{"Counted in", said})
	}
	return facts
}

// lesson says for whom the sheet is.
func (p *programme) lesson() string {
	l := p.timeline.Score.Lesson
	said := []string{l.Teacher, l.Class, l.Date}
	return strings.Join(slices.DeleteFunc(said, func(s string) bool { return s == "" }), " · ")
}

// tempo returns a per cent of the leading tempo; a song's, which is measured, is rounded to a tenth of
// a beat a minute.
func (p *programme) tempo(percent float64) routine.Tempo {
	t := p.timeline.OwnTempo().Scaled(percent)
	if p.timeline.Music() != nil {
		const tenth = routine.BeatPerMinute / 10
		t = (t + tenth/2) / tenth * tenth
	}
	return t
}

// countIn describes what is counted before the first step.
func (p *programme) countIn(begins routine.Beats) string {
	set := &p.set.Settings
	var said []string
	if leadIn := set.LeadInLength(p.timeline.Score.Dance.Metre); leadIn > 0 {
		style := p.timeline.Style(p.timeline.At(begins), set.Count)
		for b := (begins - leadIn).Ceil(routine.Beat); b < begins; b += routine.Beat {
			said = append(said, p.timeline.CountIn(b, begins).In(style))
		}
	}
	return strings.Join(said, " ")
}

// seconds returns when a beat falls, from the first step that is danced.
func (p *programme) seconds(b routine.Beats) float64 {
	percent := p.set.Settings.Percent
	if l := p.set.Settings.Ladder; l != (player.Ladder{}) {
		percent = l.Start
	}
	return (p.timeline.Seconds(b) - p.timeline.Seconds(p.set.part(p.timeline).From)) * 100 / percent
}

func (p *programme) bar(b routine.Beats) int {
	return p.timeline.Score.Dance.Metre.BarNumber(b)
}

// order lists the items that are danced.
func (p *programme) order() {
	s := p.timeline.Score
	from, to := p.set.passages(p.timeline)
	for i := from; i < to; {
		first := i
		for i < to && s.Passages[i].Item == s.Passages[first].Item {
			i++
		}
		item := &s.Items[s.Passages[first].Item]
		start, end := s.Passages[first].Start, s.Passages[i-1].End
		out := orderItem{Number: s.Passages[first].Item + 1, Name: s.Passages[first].Name(), Bars: strconv.Itoa(p.bar(start)), At: audio.Clock(p.seconds(start)), item: item}
		if last := p.bar(end - 1); last != p.bar(start) {
			out.Bars += "–" + strconv.Itoa(last)
		}
		if n := i - first; n > 1 {
			out.Name += fmt.Sprintf(" × %d", n)
		}
		out.Figure = 1 + slices.IndexFunc(p.Figures, func(f figurePart) bool { return f.figure == s.Passages[first].Figure })
		out.Remarks = append(p.remarks(item), p.differing(first, i)...)
		p.Order = append(p.Order, out)
	}
}

// differing says how the passages of an item, from "from" up to, but not including, "to", are danced otherwise than
// charted.
func (p *programme) differing(from, to int) (list []string) {
	for i := from; i < to; i++ {
		if text := p.timeline.Score.Passages[i].Figure.Differs(); text != "" && !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}

// remarks returns what is said about an item besides what is danced.
func (p *programme) remarks(item *routine.Item) (list []string) {
	d := p.timeline.Score.Dance
	if item.Remark != "" {
		list = append(list, item.Remark)
	}
	if item.Tempo != 0 && p.timeline.Music() == nil {
		percent := p.set.Settings.Percent
		text := d.TempoText(item.Tempo.Scaled(percent))
		if item.TempoTo != item.Tempo {
			text = strings.TrimSuffix(text, " bars/min") + " to " + d.TempoText(item.TempoTo.Scaled(percent))
		}
		list = append(list, text)
	}
	if item.Ends != 0 {
		list = append(list, "ends in "+item.Ends.String())
	}
	if item.Hands != 0 {
		list = append(list, "ends with "+item.Hands.String())
	}
	if item.Style != routine.StyleUnset {
		list = append(list, "counted in "+map[routine.CountStyle]string{routine.AsCounted: "numbers", routine.SlowQuick: "slow and quick", routine.InWords: "words"}[item.Style])
	}
	if item.Corner {
		list = append(list, "then a corner")
	}
	return list
}

// figures describes each figure once, in the order in which they are first danced.
func (p *programme) figures() {
	s := p.timeline.Score
	from, to := p.set.passages(p.timeline)
	for i := from; i < to; i++ {
		f := s.Passages[i].Figure
		k := slices.IndexFunc(p.Figures, func(known figurePart) bool { return known.figure == f })
		if k < 0 {
			k = len(p.Figures)
			p.Figures = append(p.Figures, figurePart{Number: k + 1, figure: f, passage: i})
		}
		if was := &s.Passages[p.Figures[k].passage]; s.Passages[i].To-s.Passages[i].From > was.To-was.From {
			p.Figures[k].passage = i
		}
	}
	for i := range p.Figures {
		p.figurePart(&p.Figures[i])
	}
}

// figurePart fills in what is said about a figure: all of its steps that are danced.
func (p *programme) figurePart(f *figurePart) {
	s := p.timeline.Score
	f.Sides = p.Sides
	f.Prose = p.Prose.Figures[f.figure.Charted()]
	events := map[int]int{} // by row, in the passage that dances most
	first := p.timeline.At(s.Passages[f.passage].Start)
	var spoken []string
	for i := first; i < len(p.timeline.Events) && p.timeline.Events[i].Passage == f.passage; i++ {
		e := &p.timeline.Events[i]
		if e.Row >= 0 {
			events[e.Row] = i
		}
		if word := cmp.Or(e.Labels.Words, e.Labels.Count); word != "" {
			spoken = append(spoken, word)
		}
	}
	f.Spoken = strings.Join(spoken, " ")
	f.Styled = p.timeline.Style(first, p.set.Settings.Count) != routine.AsCounted
	for row := s.Passages[f.passage].From; row < s.Passages[f.passage].To; row++ {
		f.row(p, row, events[row])
	}
	f.Said = drawing.Said(p.path, f.passage, p.set.Shown)
	f.Facts = p.figureFacts(f)
}

// row adds a row of the chart.
func (f *figurePart) row(p *programme, row, event int) {
	r := &f.figure.Rows[row]
	e := &p.timeline.Events[event]
	out := chartRow{Number: row + 1, Count: r.Count.String(), Said: p.timeline.Said(e.Labels, event, p.set.Settings.Count)}
	positions := routine.PositionSet(0)
	for _, q := range p.set.Partners() {
		s := r.Steps[q]
		step, turn := "", ""
		if r.Written[q] {
			positions |= s.Position
			turn = strings.Trim(s.Turn.String()+", "+s.Alignment.String(), ", ")
			s.Turn, s.Alignment, s.Position = 0, routine.Alignment{}, 0
			step = s.String()
		}
		out.Steps, out.Turns = append(out.Steps, step), append(out.Turns, turn)
		f.HasTurn = f.HasTurn || turn != ""
	}
	if positions != 0 {
		out.Position = positions.String()
		f.HasPosition = true
	}
	f.Rows = append(f.Rows, out)
}

// figureFacts returns the facts below a figure's name.
func (p *programme) figureFacts(f *figurePart) []fact {
	passage := &p.timeline.Score.Passages[f.passage]
	f.Name = passage.Name()
	if text := f.figure.Differs(); text != "" {
		f.Name += " (" + text + ")"
	}
	starts, ends := f.figure.Starts, f.figure.Ends
	if passage.To-passage.From < len(f.figure.Rows) {
		starts, ends = routine.Stance{}, routine.Stance{}
	}
	facts := []fact{{"Starts", stance(starts, passage.Begins.Positions)}, {"Ends", stance(ends, passage.Ends)},
		{"Also called", strings.Join(f.figure.Aliases, ", ")}, {"Source", f.figure.Source}}
	return slices.DeleteFunc(facts, func(x fact) bool { return x.Value == "" })
}

// stance describes how a couple stands, as the figure says or else as the routine implies.
func stance(said routine.Stance, known routine.PositionSet) string {
	switch {
	case said.Said():
		return said.String()
	case known == 0 || known.Unknown():
		return ""
	}
	return known.String()
}

// number returns a number with at most two decimals.
func number(f float64) string { return routine.Decimal(f, 2) }

// title returns a word with a capital first letter.
func title(word string) string { return strings.ToUpper(word[:1]) + word[1:] }

func barsFrom(first, last int) string {
	if first == last {
		return fmt.Sprintf("bar %d", first)
	}
	return fmt.Sprintf("bars %d–%d", first, last)
}

func plural(n float64, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return number(n) + " " + thing + "s"
}
