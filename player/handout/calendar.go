package handout

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/emersion/go-ical"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/harmless"
)

// Practice says when a class practises.
type Practice struct {
	From, Until time.Time      // days, both included
	Days        []time.Weekday // every day if empty
	At          time.Duration  // since midnight, local time
	Length      time.Duration
	Remind      time.Duration // before practice begins; 0 for no alarm
	Made        time.Time     // when the plan was made
}

// Plan is when a sheet is practised.
type Plan struct {
	Sheet
	Practice
}

// mostEvenings bounds a plan.
const mostEvenings = 1000

// evening is one practice.
type evening struct {
	day      time.Time
	from, to int // of the programme's order, up to but not including "to"
	percent  float64
	fresh    int // how many of the items are new
	last     bool
}

// Calendar writes a practice plan as iCalendar, for any calendar program. In the first half of the
// evenings the figures are learnt slowly, one after the other, each joined to those before it; in the
// second the whole is brought up to tempo, evenly. Learning in parts and slowly first is common
// practice; the shares are our own.
//
// Source: RFC 5545: times without a zone are local times (3.3.5). RFC 7986, 5.1: NAME; common practice:
// X-WR-CALNAME, which older programs read.
func Calendar(w io.Writer, name string, plans ...Plan) error {
	c := ical.NewCalendar()
	c.Props.SetText(ical.PropVersion, "2.0")
	c.Props.SetText(ical.PropProductID, "-//Slowquick//Practice plan//EN")
	for _, key := range []string{ical.PropName, "X-WR-CALNAME"} {
		c.Props.SetText(key, harmless.Handout(name))
	}
	titles := map[string]int{}
	for _, plan := range plans {
		p := newProgramme(plan.Line, plan.Options)
		evenings, err := p.evenings(plan.Practice)
		if err != nil {
			return fmt.Errorf("write calendar: %w", err)
		}
		title := p.Title
		if titles[p.Title]++; titles[p.Title] > 1 { // another sheet of the same title is something else
			title = fmt.Sprintf("%s (%d)", p.Title, titles[p.Title])
		}
		for i := range evenings {
			e := &evenings[i]
			event := p.event(e, plan.Practice)
			event.Props.SetText(ical.PropUID, identity(title, e.day, i))
			c.Children = append(c.Children, event.Component)
		}
	}
	var plain bytes.Buffer
	if err := ical.NewEncoder(&plain).Encode(c); err != nil {
		return fmt.Errorf("write calendar: %w", err)
	}
	if _, err := w.Write(folded(plain.Bytes())); err != nil {
		return fmt.Errorf("write calendar: %w", err)
	}
	return nil
}

// event describes an evening, but for its identity.
func (p *programme) event(e *evening, when Practice) *ical.Event {
	event := ical.NewEvent()
	event.Props.SetDateTime(ical.PropDateTimeStamp, when.Made.UTC())
	event.Props.Set(&ical.Prop{Name: ical.PropDateTimeStart, Value: e.day.Add(when.At).Format("20060102T150405")})
	event.Props.Set(&ical.Prop{Name: ical.PropDuration, Value: fmt.Sprintf("PT%dM", int(when.Length.Minutes()))})
	summary := harmless.Handout(p.Title + ": " + p.subject(e))
	event.Props.SetText(ical.PropSummary, summary)
	event.Props.SetText(ical.PropDescription, p.task(e))
	if when.Remind > 0 {
		alarm := ical.NewComponent(ical.CompAlarm)
		alarm.Props.SetText(ical.PropAction, "DISPLAY")
		alarm.Props.SetText(ical.PropDescription, summary)
		alarm.Props.Set(&ical.Prop{Name: ical.PropTrigger, Value: fmt.Sprintf("-PT%dM", int(when.Remind.Minutes()))})
		event.Children = append(event.Children, alarm)
	}
	return event
}

// longestLine is how many octets a line of a calendar has, without its end.
//
// Source: RFC 5545, 3.1.
const longestLine = 75

// folded breaks a calendar's long lines, between characters. A line that goes on the one before begins with a space.
func folded(text []byte) (out []byte) {
	column := 0
	for _, r := range string(text) {
		if column += utf8.RuneLen(r); r == '\r' || r == '\n' {
			column = 0
		} else if column > longestLine {
			out = append(out, "\r\n "...)
			column = 1 + utf8.RuneLen(r)
		}
		out = utf8.AppendRune(out, r)
	}
	return out
}

// InTurn returns when n classes practise on the same evenings, one after the other. It reports
// whether they are done by midnight; a single class may end later.
func (when Practice) InTurn(n int) (turns []Practice, fits bool) {
	for range n {
		turns = append(turns, when)
		when.At += when.Length
	}
	return turns, n < 2 || when.At <= 24*time.Hour
}

// Evenings returns the days of practice.
func (when Practice) Evenings() ([]time.Time, error) {
	var days []time.Time
	// Days are counted in UTC, where each has 24 hours.
	until := day(when.Until)
	for d := day(when.From); !d.After(until); d = d.AddDate(0, 0, 1) {
		if len(when.Days) > 0 && !slices.Contains(when.Days, d.Weekday()) {
			continue
		}
		if days = append(days, d); len(days) > mostEvenings {
			return nil, fmt.Errorf("there are more than %d evenings between the two dates", mostEvenings)
		}
	}
	if len(days) == 0 {
		return nil, errors.New("there is no evening between the two dates")
	}
	return days, nil
}

// evenings spreads the routine over the days.
func (p *programme) evenings(when Practice) ([]evening, error) {
	days, err := when.Evenings()
	if err != nil {
		return nil, err
	}
	start, goal := p.tempi()
	items, half := len(p.Order), len(days)/2
	list := make([]evening, len(days))
	known := 0
	for i := range list {
		e := evening{day: days[i], to: items, percent: goal}
		switch {
		case i < half: // learning: the new figures, joined to the one before
			e.to = (items*(i+1) + half - 1) / half
			e.from, e.fresh, e.percent = max(0, min(known, e.to)-1), e.to-known, start
			known = e.to
		case len(list)-half > 1:
			e.percent = start + (goal-start)*float64(i-half)/float64(len(list)-half-1)
		}
		e.last = i == len(list)-1
		list[i] = e
	}
	return list, nil
}

func day(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

// slowly is the tempo at which figures are learnt, in per cent of the tempo wanted.
const slowly = 70

// tempi returns the per cents at which practice begins and to which it leads.
func (p *programme) tempi() (start, goal float64) {
	set := &p.set.Settings
	if l := set.Ladder; l != (player.Ladder{}) {
		return l.Start, l.Top
	}
	return max(set.Percent*slowly/100, player.SlowestPercent), set.Percent
}

// subject names what an evening is for.
func (p *programme) subject(e *evening) string {
	first := p.Order[e.to-max(e.fresh, 1)].item.Figure.Name
	switch {
	case e.fresh == 1:
		return first
	case e.fresh > 1:
		return first + " to " + p.Order[e.to-1].item.Figure.Name
	case e.from == 0 && e.to == len(p.Order):
		return "the whole routine"
	}
	return "again to " + p.Order[e.to-1].item.Figure.Name
}

// task describes what to do.
func (p *programme) task(e *evening) string {
	s := p.timeline.Score
	tempo := p.tempo(e.percent)
	lines := []string{fmt.Sprintf("Tempo: %s (%s %%)", s.Dance.TempoText(tempo), number(e.percent))}
	if n := p.set.times(); n > 1 {
		lines = append(lines, fmt.Sprintf("Dance it %d times.", n))
	}
	if p.Side != "" {
		lines = append(lines, p.Side+"'s steps.")
	}
	for _, o := range p.Order[e.from:e.to] {
		f := &p.Figures[o.Figure-1]
		lines = append(lines, harmless.Handout(fmt.Sprintf("%d. %s: %s", o.Number, o.Name, f.Spoken)))
	}
	if e.last {
		lines = append(lines, "Dance the whole to the end, whatever happens on the way.")
	}
	return strings.Join(lines, "\n")
}

// identity returns the same UUID (RFC 7986, 5.3) for the same evening of the same routine, so that a
// plan written again replaces the old one.
func identity(title string, day time.Time, n int) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "slowquick %q %s %d", title, day.Format(time.DateOnly), n))
	sum[6], sum[8] = sum[6]&0x0f|0x80, sum[8]&0x3f|0x80 // version 8, which is ours to define
	return fmt.Sprintf("%x-%x-%x-%x-%x", sum[0:4], sum[4:6], sum[6:8], sum[8:10], sum[10:16])
}

// ParseDays reads names of weekdays, "mon, thu" or "Monday".
func ParseDays(text string) (days []time.Weekday, err error) {
	for name := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ',' || r == ' ' }) {
		found := false
		for d := time.Sunday; d <= time.Saturday; d++ {
			if len(name) >= 2 && strings.HasPrefix(strings.ToLower(d.String()), strings.ToLower(name)) {
				days, found = append(days, d), true
			}
		}
		if !found {
			return nil, fmt.Errorf("%q is not a day of the week", name)
		}
	}
	return days, nil
}
