package screen

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// allLabels are the counts that can be shown, those of the lead-in included.
func (d *dance) allLabels() []string {
	timeline := d.now.Timeline
	var texts []string
	seen := map[string]bool{}
	add := func(text string) {
		if text = harmless.Line(text); text != "" && !seen[text] {
			seen[text] = true
			texts = append(texts, text)
		}
	}
	for n := range timeline.Score.Dance.Metre.Beats {
		add(strconv.Itoa(n + 1))
	}
	for i := range timeline.Events {
		add(d.said(i))
	}
	return texts
}

// styleAt is how an event is counted.
func (d *dance) styleAt(event int) routine.CountStyle {
	return d.now.Timeline.Style(event, d.count)
}

// event is the event that is shown: of a lead-in, the first step.
func (d *dance) event() int {
	if d.now.State == player.LeadIn {
		return max(0, d.now.Timeline.At(d.now.Begins))
	}
	return max(0, d.now.Event)
}

// said is what is counted on an event, in letters that can be drawn large; ""
// if nothing is said.
func (d *dance) said(event int) string {
	labels := d.now.Timeline.Events[event].Labels
	if text := labels.In(d.styleAt(event)); term.Drawable(text) {
		return text
	}
	return labels.Count
}

// label is what is counted at an event; where nothing is said, what was said before.
func (d *dance) label(event int) string {
	for i := event; i >= 0; i-- {
		if text := d.said(i); text != "" {
			return text
		}
	}
	return ""
}

// following is the event that is danced after another; -1 if none is.
func (d *dance) following(event int) int {
	timeline := d.now.Timeline
	next := event + 1
	if r := d.now.Settings.Loop; !r.Empty() && timeline.Events[event].At < r.To && (next >= len(timeline.Events) || timeline.Events[next].At >= r.To) {
		return max(0, timeline.At(r.From))
	}
	if next >= len(timeline.Events) {
		return -1
	}
	return next
}

// step is what a partner does at an event: the step that began last.
func (d *dance) step(p routine.Partner, event int) *routine.Step {
	for i := event; i >= 0; i-- {
		if s := d.now.Timeline.Events[i].Steps[p]; s != nil {
			return s
		}
	}
	return nil
}

// nextStep is the step that a partner does after an event, and when; nil if none.
func (d *dance) nextStep(p routine.Partner, event int) (*routine.Step, int) {
	i := event
	for range d.now.Timeline.Events { // a repeated part may have none
		if i = d.following(i); i < 0 {
			break
		}
		if s := d.now.Timeline.Events[i].Steps[p]; s != nil {
			return s, i
		}
	}
	return nil, -1
}

// footText is the foot of a step in letters.
func footText(s *routine.Step) string {
	switch {
	case s == nil:
		return ""
	case s.Stands():
		return "-"
	}
	return s.Foot.String()
}

// counted is the count that is heard.
func (d *dance) counted() string {
	if d.now.State == player.LeadIn {
		return strconv.Itoa(d.now.LeadInNumber())
	}
	return d.label(d.event())
}

// view draws the dance.
func (d *dance) view() string {
	l := &d.layout
	p := &l.lines
	out := make([]string, 0, l.height)
	add := func(n int, line func() string) {
		if n > 0 {
			out = append(out, line())
		}
	}
	gap := func(n int) {
		if p.gaps >= n {
			out = append(out, "")
		}
	}
	add(p.title, d.titleLine)
	add(p.figure, d.figureLine)
	add(p.state, d.stateLine)
	gap(1)
	if p.floor > 0 {
		out = append(out, d.floorView()...)
	}
	add(p.labels, d.labelLine)
	if p.big > 0 {
		out = append(out, d.bigLines()...)
	}
	gap(2)
	if p.steps > 0 {
		out = append(out, d.stepLines()...)
	}
	gap(3)
	if p.counts > 0 {
		out = append(out, d.countLines()...)
	}
	foot := append(d.footLines(p.after+p.settings+p.message), l.help...)
	return term.Join(l.height, out, nil, foot)
}

func (d *dance) titleLine() string {
	score := d.now.Timeline.Score
	tempo := tempoText(d.now)
	r := term.NewRow(d.layout.width)
	name := score.Title + " · " + score.Dance.Name
	if score.Title == "" {
		name = score.Dance.Name
	}
	return r.Put(term.Plain, term.Cut(harmless.Line(name), max(r.Left()-term.Width(tempo)-2, 0))).Right(d.theme.Strong, tempo).String()
}

func (d *dance) figureLine() string {
	timeline := d.now.Timeline
	passage := timeline.Events[d.event()].Passage
	item := &timeline.Score.Items[timeline.Score.Passages[passage].Item]
	r := term.NewRow(d.layout.width)
	r.Put(d.theme.Heading, d.figureName(item)).Put(term.Plain, "  "+timeline.Score.PlaceOf(passage))
	if item.Remark != "" {
		r.Put(term.Plain, " — "+item.Remark)
	}
	if next := d.calledAhead(); next != "" {
		r.Right(d.theme.Present, " next: "+next+" ")
	}
	return r.String()
}

// calledAhead is the figure that begins within a bar, while the couple dances.
func (d *dance) calledAhead() string {
	timeline, event := d.now.Timeline, d.event()
	passage := timeline.Events[event].Passage
	end := timeline.Passage(passage).To
	if d.now.State != player.Dancing || end-d.now.Beat > timeline.Score.Dance.Metre.Bar() {
		return ""
	}
	last := event
	for last+1 < len(timeline.Events) && timeline.Events[last+1].Passage == passage {
		last++
	}
	next := d.following(last)
	if next < 0 {
		return "the end"
	}
	if r := d.now.Settings.Loop; !r.Empty() && timeline.Events[event].At < r.To && r.To < end {
		next = max(0, timeline.At(r.From)) // the part that is repeated ends before the figure does
	}
	return d.figureName(&timeline.Score.Items[timeline.Score.Passages[timeline.Events[next].Passage].Item])
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

func (d *dance) stateLine() string {
	timeline := d.now.Timeline
	var texts []string
	if d.now.State == player.LeadIn {
		texts = []string{d.firstStep()}
	} else {
		e := &timeline.Events[d.event()]
		texts = []string{fmt.Sprintf("bar %d of %d", e.Bar, timeline.Events[len(timeline.Events)-1].Bar), d.phraseText(e)}
	}
	texts = append(texts, d.song.Texts(d.now)...)
	set := &d.now.Settings
	if set.Ladder != (player.Ladder{}) {
		texts = append(texts, rungText(set.Ladder, d.now.RunThrough))
	}
	switch {
	case !set.Loop.Empty():
		texts = append(texts, fmt.Sprintf("pass %d of %s", d.now.RunThrough+1, d.repeatText()))
	case d.now.State == player.Holding:
		texts = append(texts, "space starts")
	case d.now.State == player.Finished:
		texts = append(texts, "space dances it again")
	}
	if d.mark != nil {
		texts = append(texts, "part from "+place(timeline, *d.mark))
	}
	r := term.NewRow(d.layout.width).Put(d.theme.Present, " "+strings.ToUpper(stateName(d.now.State))+" ")
	r.Put(d.theme.Strong, " "+texts[0])
	for _, t := range texts[1:] {
		r.Put(term.Plain, " · "+t)
	}
	return r.String()
}

// rungText tells on which rung of a ladder a pass is danced.
func rungText(l player.Ladder, pass int) string {
	text := fmt.Sprintf("rung %d of %d", l.Rung(pass)+1, l.Rungs())
	if below := -l.Rung(pass); below > 0 {
		text = fmt.Sprintf("%d below rung 1 of %d", below, l.Rungs())
	}
	return text + " to " + term.Decimal(l.Top) + " %"
}

// firstStep says when the first step comes.
func (d *dance) firstStep() string {
	e := &d.now.Timeline.Events[d.event()]
	on := fmt.Sprintf("on %d", e.Beat)
	if e.Split {
		on = fmt.Sprintf("after %d", e.Beat)
	}
	left := d.now.Begins - d.now.Beat
	beats := int((left + routine.Beat - 1) / routine.Beat)
	return "the first step comes " + on + ", in " + routine.Plural(beats, "beat")
}

// labelLine names the large letters, or stands for them.
func (d *dance) labelLine() string {
	l := &d.layout
	r := term.NewRow(l.width)
	e := d.event()
	if l.letters == nil {
		r.Put(d.theme.Present, " "+d.counted()+" ")
		for _, p := range l.dancers.Partners() {
			if l.width >= 2*nameColumns+20 { // else the steps below tell whose foot it is
				r.Put(term.Plain, " "+p.String())
			}
			r.Put(term.Plain, " ").Put(d.theme.Partners[p], d.foot(p, e))
		}
		return r.String()
	}
	head := "count"
	if d.now.State == player.LeadIn {
		head = "lead-in"
	}
	r.To(l.columns[0]).Put(term.Plain, head)
	for i, p := range l.dancers.Partners() {
		name := p.String()
		if !l.feet {
			r.Put(term.Plain, "  "+name+" ").Put(d.theme.Partners[p], d.foot(p, e))
			continue
		}
		if d.now.State == player.LeadIn {
			name += " first"
		}
		r.To(l.columns[1+i]).Put(d.theme.Partners[p], name)
	}
	return r.String()
}

// bigLines are the count and the feet in large letters.
func (d *dance) bigLines() []string {
	l := &d.layout
	e := d.event()
	count := harmless.Line(d.counted())
	lines := make([]string, l.lines.big)
	centre := (l.size.Width(l.longest) - l.size.Width(len([]rune(count)))) / 2
	for y := range lines {
		r := term.NewRow(l.width)
		put := func(column int, k term.Ink, text string) {
			if letters := l.letters[text]; y < len(letters) {
				r.To(column).Put(k, letters[y])
			}
		}
		put(l.columns[0]+centre, d.theme.Strong, count)
		if l.feet {
			for i, p := range l.dancers.Partners() {
				put(l.columns[1+i], d.theme.Partners[p], d.foot(p, e))
			}
		}
		lines[y] = r.String()
	}
	return lines
}

// stepLines are the steps in words, now and next.
func (d *dance) stepLines() []string {
	l := &d.layout
	e := d.event()
	var lines []string
	for _, p := range l.dancers.Partners() {
		lines = append(lines, term.NewRow(l.width).Put(d.theme.Partners[p], p.String()).To(nameColumns).Put(d.theme.Strong, d.stepWords(p, e, d.step(p, e))).String())
		if l.lines.next == 0 {
			continue
		}
		r := term.NewRow(l.width)
		if s, at := d.nextStep(p, e); s != nil {
			label := cmp.Or(d.now.Timeline.Events[at].Labels.In(d.styleAt(at)), d.now.Timeline.Events[at].Labels.Count)
			r.Put(term.Plain, "  next "+label).To(max(nameColumns, r.Used()+1)).Put(term.Plain, d.stepWords(p, at, s))
		} else {
			r.Put(term.Plain, "  next").To(nameColumns).Put(term.Plain, "the end")
		}
		lines = append(lines, r.String())
	}
	return lines
}

// countLines are the counts of the bar, or of a figure that does not keep to
// bars, and on from there as far as there is room; and below each the feet.
func (d *dance) countLines() []string {
	l := &d.layout
	timeline := d.now.Timeline
	now := d.event()
	from := timeline.Bar(timeline.Events[now].At).From
	if passage := timeline.Events[now].Passage; timeline.Score.Passages[passage].Figure.Floating {
		from = timeline.Passage(passage).From
	}
	first := max(0, timeline.At(from))
	if timeline.Events[first].At < from {
		first++
	}
	if r := d.now.Settings.Loop; !r.Empty() && r.Contains(timeline.Events[now].At) {
		first = max(first, timeline.At(r.From))
	}
	room := max(1, (l.width-nameColumns)/l.cell)
	if now-first >= room {
		first = now - room/2
	}

	counts := term.NewRow(l.width).Put(term.Plain, "count").To(nameColumns)
	marks := term.NewRow(l.width)
	feet := make([]*term.Row, 0, 2)
	for _, p := range l.dancers.Partners() {
		feet = append(feet, term.NewRow(l.width).Put(d.theme.Partners[p], p.String()))
	}
	for n, i := 0, first; n < room && i >= 0; n, i = n+1, d.following(i) {
		e := &timeline.Events[i]
		column := nameColumns + n*l.cell
		text := harmless.Line(e.Labels.In(d.styleAt(i)))
		if text == "" {
			text = "·"
		}
		if n > 0 && e.Beat == 1 && !e.Split {
			counts.To(column).Put(term.Plain, "|")
		}
		present := i == now && d.now.State != player.LeadIn && (n == now-first)
		k := term.Plain
		if present {
			k = d.theme.Present
			marks.To(column+1).Put(d.theme.Strong, strings.Repeat("▲", max(1, term.Width(text))))
		}
		counts.To(column+1).Put(k, text)
		for j, p := range l.dancers.Partners() {
			k := term.Plain
			if present {
				k = d.theme.Strong
			}
			if e.Steps[p] != nil {
				feet[j].To(column+1).Put(k, d.foot(p, i))
			}
		}
	}
	lines := []string{counts.String(), marks.String()}
	for _, f := range feet {
		lines = append(lines, f.String())
	}
	return lines
}

// footLines are n lines of what comes after, what is set, and what there is to
// say; or of what is wrong in the sheet.
func (d *dance) footLines(n int) []string {
	l := &d.layout
	p := &l.lines
	if d.broken {
		lines := d.brokenLines(n)
		if p.message > 0 && (d.typing || d.news.Text != "" || d.record.unkept != "") {
			lines[n-1] = d.messageLine()
		}
		return lines
	}
	lines := d.afterLines(p.after)
	if p.settings > 0 {
		lines = append(lines, term.NewRow(l.width).Put(term.Plain, d.settingsText(l.width)).String())
	}
	if p.message > 0 {
		lines = append(lines, d.messageLine())
	}
	return lines
}

// afterLines name the figures that come next, the last line all that is left.
func (d *dance) afterLines(n int) []string {
	if n == 0 {
		return nil
	}
	names := d.comingNames(n + 3)
	lines := make([]string, 0, n)
	for i := range n {
		r := term.NewRow(d.layout.width)
		if i == 0 {
			r.Put(term.Plain, "then")
		}
		switch {
		case i >= len(names):
		case i == n-1:
			r.To(nameColumns).Put(term.Plain, strings.Join(names[i:], " · "))
		default:
			r.To(nameColumns).Put(term.Plain, names[i])
		}
		lines = append(lines, r.String())
	}
	return lines
}

// comingNames are up to n figures that come next, or what follows them.
func (d *dance) comingNames(n int) []string {
	timeline := d.now.Timeline
	event := d.event()
	repeat := d.now.Settings.Loop
	again := !repeat.Empty() && timeline.Events[event].At < repeat.To
	var names []string
	for i := timeline.Events[event].Passage + 1; i < len(timeline.Score.Passages) && len(names) < n; i++ {
		passage := &timeline.Score.Passages[i]
		if again && passage.Start >= repeat.To {
			break
		}
		if passage.Round > 0 && len(names) > 0 {
			continue // told by its first time
		}
		item := &timeline.Score.Items[passage.Item]
		name := d.figureName(item)
		switch {
		case passage.Round > 0:
			name += " again"
		case item.Times > 1:
			name += fmt.Sprintf(" × %d", item.Times)
		}
		names = append(names, name)
	}
	if len(names) == n {
		return names
	}
	if again {
		return append(names, "again from "+place(timeline, repeat.From))
	}
	return append(names, "the end")
}

// settingsText says how it is danced. Where that is wider than width, what goes without
// saying is left out.
func (d *dance) settingsText(width int) string {
	side := "both"
	if d.dancers != routine.Both {
		side = d.dancers.String() + " only"
	}
	leadIn := "no lead-in"
	if n := d.now.Settings.LeadIn; n > 0 {
		leadIn = "lead-in " + routine.Plural(n, "bar")
	}
	texts := []string{side, countText(d.styleAt(d.event())), leadIn}
	if n := d.now.Settings.Rest; n > 0 {
		texts = append(texts, "rest "+routine.Plural(n, "bar"))
	}
	if d.now.Settings.FeetApart {
		texts = append(texts, "feet apart")
	}
	if d.now.Settings.Call {
		texts = append(texts, "names aloud")
	}
	if d.hidden != practice.HiddenNothing || d.heart {
		texts = append(texts, "by heart")
	}
	if d.inClass {
		texts = append(texts, "class")
	}
	if d.levels != nil {
		texts = append(texts, d.levelsText())
	}
	const between = " · "
	for _, usual := range []string{countText(routine.AsCounted), "lead-in " + routine.Plural(1, "bar")} {
		if term.Width(strings.Join(texts, between)) > width {
			texts = slices.DeleteFunc(texts, func(t string) bool { return t == usual })
		}
	}
	return strings.Join(texts, between)
}

// levelsText is how loud all is that is heard, in per cent.
func (d *dance) levelsText() string {
	text := fmt.Sprintf("voice %d clicks %d steps %s", 10*tenth(d.levels[player.VoiceLayer]), 10*tenth(d.levels[player.ClickLayer]), d.stepLevels())
	if rhythm := tenth(d.levels[player.RhythmLayer]); rhythm > 0 {
		text += fmt.Sprintf(" rhythm %d", 10*rhythm)
	}
	if d.now.Timeline.Music() != nil {
		text += fmt.Sprintf(" song %d", 10*tenth(d.levels[player.MusicLayer]))
	}
	return text + " %"
}

// stepLevels is how loud the steps are that are shown.
func (d *dance) stepLevels() string {
	var levels []string
	for _, layer := range d.stepLayers() {
		text := strconv.Itoa(10 * tenth(d.levels[layer]))
		if len(levels) == 0 || levels[0] != text {
			levels = append(levels, text)
		}
	}
	return strings.Join(levels, "/")
}

// repeatText says what is repeated.
func (d *dance) repeatText() string {
	timeline, r := d.now.Timeline, d.now.Settings.Loop
	switch whole := r.From <= timeline.Start && r.To >= timeline.End; {
	case whole && d.drill:
		return "the drill"
	case whole:
		return "the routine"
	}
	if i := timeline.PassageAt(r.From); timeline.Passage(i) == r {
		return "the figure"
	}
	return place(timeline, r.From) + " to " + place(timeline, r.To-1)
}

// unkept says in short that nothing is being kept.
const unkept = "nothing is being kept"

// messageLine is what there is to say, most urgent first.
func (d *dance) messageLine() string {
	l := &d.layout
	if d.typing && d.news.Text == "" {
		return term.InputLine(l.width, d.theme, d.ask.Model)
	}
	lost := d.record.unkept
	if lost != "" && (d.news.Text != "" || d.sound != "") {
		lost = unkept // why is said when there is room
	}
	small := ""
	if d.news.Text == "" && lost == "" && d.pauses.text == "" && (l.width < wholeWidth || l.height < wholeHeight) {
		small = fmt.Sprintf("%d×%d shows everything", wholeWidth, wholeHeight)
	}
	r := term.NewRow(l.width)
	say := func(k term.Ink, text string) {
		if r.Used() > 0 && text != "" {
			r.Put(term.Plain, " · ")
		}
		r.Put(k, text)
	}
	say(d.news.Ink(d.theme), d.news.Text)
	say(d.theme.Alarm, lost)
	say(term.Plain, small)
	say(d.theme.Alarm, d.sound)
	if r.Used() > 0 {
		return r.String()
	}
	if d.pauses.text != "" {
		r.Put(d.theme.Strong, d.pauses.text)
		if text := d.leadText(); text != "" {
			r.Put(term.Plain, " · "+text)
		}
		return r.String()
	}
	if text := d.leadText(); text != "" {
		return r.Put(term.Plain, text).String()
	}
	if repeat := d.now.Settings.Loop; !repeat.Empty() && !d.now.Timeline.Rejoins(repeat) {
		return r.Put(d.theme.Alarm, "this part ends on the foot it begins with: change feet between passes").String()
	}
	switch n := len(d.found); n {
	case 0:
	case 1:
		r.Put(term.Plain, "w shows what was found in the sheet")
	default:
		r.Put(term.Plain, fmt.Sprintf("w shows the %d things that were found in the sheet", n))
	}
	return r.String()
}

// brokenLines say in n lines that the sheet was saved in a state that can't be
// danced, and why.
func (d *dance) brokenLines(n int) []string {
	if n == 0 {
		return nil
	}
	var errors []routine.Finding
	for _, f := range d.found {
		if f.Severity == routine.Error {
			errors = append(errors, f)
		}
	}
	width := d.layout.width
	head := "the saved sheet can't be danced; the one before goes on"
	if len(errors) > 0 {
		head = findingText(errors[0])
		if more := len(errors) - 1; more > 0 {
			head = fmt.Sprintf("(w: %d more) ", more) + head
		}
	}
	lines := []string{term.NewRow(width).Put(d.theme.Alarm, head).String()}
	if n > 1 && len(errors) > 0 {
		lines = append([]string{term.NewRow(width).Put(d.theme.Alarm, "the saved sheet can't be danced; the one before goes on").String()}, lines...)
		if n > 2 && errors[0].Hint != "" {
			lines = append(lines, term.NewRow(width).To(2).Put(term.Plain, "hint: "+errors[0].Hint).String())
		}
		for i := 1; i < len(errors) && len(lines) < n; i++ {
			lines = append(lines, term.NewRow(width).Put(d.theme.Alarm, findingText(errors[i])).String())
		}
	}
	for len(lines) < n {
		lines = append(lines, "")
	}
	return lines[:n]
}
