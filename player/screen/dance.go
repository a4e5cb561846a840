package screen

import (
	"context"
	"fmt"
	"math"
	"strings"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// turn is where an action leads besides the dance.
type turn uint8

const (
	stay turn = iota
	toHelp
	toFindings
	toQuiz
	toList
	toSong
	toDance
)

// dance is the screen of a sheet that is danced.
type dance struct {
	ctx       context.Context // ends when the sheet is left; for its commands
	visit     int
	transport Transport
	theme     term.Theme
	groups    []actionGroup
	turn      turn
	drill     bool // of a figure of the handbook, to which esc leads back

	found  []routine.Finding // in the sheet as it was saved last
	broken bool              // which can't be danced; the one before is

	now player.Moment // that is heard
	due *program.Due  // when what is drawn may be seen

	onset time.Time // when the next event is heard

	mark   *routine.Beats // the start of a loop of which the end is still to be marked
	marked bool           // what is repeated was marked

	record  danced
	pauses  *pauses
	hidden  practice.Hidden // from who dances by heart
	heart   bool            // each clean pass hides more
	inClass bool
	called  bool     // whether figures were named before the class
	lead    *leading // through a session; nil for none

	dancers routine.Dancers
	count   routine.CountStyle // the dancer's choice; StyleUnset for the sheet's
	levels  *audio.Levels      // nil until known
	asked   int                // numbers the changes of levels that were asked for
	told    int                // the last of them that levels tells of
	sound   string
	news    term.News

	typing bool
	ask    question
	taps   player.Taps

	tick  int       // the number of the tick that is awaited
	alert time.Time // until when a change is expected to be heard

	floor  floorPane
	song   *songpage.Model
	layout layout
}

// awake is how long after a key its effect is looked for closely, and how often.
const (
	awake = 400 * time.Millisecond
	soon  = 20 * time.Millisecond
	later = 100 * time.Millisecond
	// shortest is the least time between two looks, so that an event that is
	// due in less than a nanosecond is not looked for again and again.
	shortest = time.Millisecond / 2
)

// look asks what is heard now, and for a tick when that changes.
func (d *dance) look() tea.Cmd {
	now := time.Now()
	was := d.now
	d.now = d.transport.Now(now.Add(program.Lead))
	if !sameCount(was, d.now) {
		d.due.Set(d.onset)
	}
	if was.Timeline != nil && was.Timeline != d.now.Timeline && d.mark != nil {
		*d.mark = d.now.Timeline.Follow(was.Timeline, *d.mark)
	}
	d.marked = d.marked && (!d.now.Settings.Loop.Empty() || now.Before(d.alert)) // it may not be heard yet
	if !d.typing {
		d.news.Fade(now)
	}
	practised := d.follows(now)
	d.traceFloor()
	d.arrange(d.layout.width, d.layout.height)

	pause := later
	if now.Before(d.alert) {
		pause = soon
	}
	// What is shown is a lead ahead of now, and so is the tick that the next
	// event is due on.
	if wait, ok := d.transport.Next(now.Add(program.Lead)); ok {
		pause = min(pause, max(wait, shortest))
		d.onset = now.Add(program.Lead + wait)
	}
	d.tick++
	return tea.Batch(practised, wake(pause, d.tick))
}

// sameCount reports whether one count lasts from one moment to another.
func sameCount(a, b player.Moment) bool {
	if a.Timeline == nil || b.State == player.LeadIn {
		return a.Timeline != nil && a.State == b.State && a.LeadInNumber() == b.LeadInNumber()
	}
	return a.State == b.State && a.Event == b.Event && a.RunThrough == b.RunThrough
}

// press carries a key out.
func (d *dance) press(msg tea.KeyMsg) tea.Cmd {
	if d.typing {
		return d.typed(msg)
	}
	d.news.Clear()
	d.pauses.text = ""
	for _, g := range d.groups {
		for _, a := range g.actions {
			if key.Matches(msg, a.Binding) {
				d.alert = time.Now().Add(awake)
				return tea.Batch(a.do(d), d.look())
			}
		}
	}
	return nil
}

func (d *dance) toggle() tea.Cmd {
	d.transport.Toggle()
	return nil
}

// move finds where to go from a beat. It never leaves the timeline.
type move func(t *player.Timeline, beat routine.Beats) routine.Beats

func toStart(t *player.Timeline, _ routine.Beats) routine.Beats { return t.Start }

// goes gives the action of going somewhere. A step that is gone to while
// holding is heard.
func goes(strike bool, to move) func(*dance) tea.Cmd {
	return func(d *dance) tea.Cmd {
		d.record.Jump()
		d.transport.Go(strike, func(m player.Moment) routine.Beats {
			if m.State == player.LeadIn { // whose own beat lies before the first step
				return to(m.Timeline, m.Begins)
			}
			return to(m.Timeline, m.Beat)
		})
		return nil
	}
}

// set changes how it is danced.
func (d *dance) set(change func(*player.Settings, player.Moment)) tea.Cmd {
	d.transport.Set(func(m player.Moment) player.Settings {
		s := m.Settings
		change(&s, m)
		return s
	})
	return nil
}

// setTempo changes the tempo; percent says to how much of the sheet's own.
func (d *dance) setTempo(percent func(player.Moment) float64) tea.Cmd {
	return d.set(func(s *player.Settings, m player.Moment) {
		*s = s.At(percent(m), 0)
	})
}

// barsPerMinute is a tempo at a moment and that of the sheet itself.
func barsPerMinute(m player.Moment) (now, own float64) {
	d := m.Timeline.Score.Dance
	return d.BarsPerMinute(m.Tempo), d.BarsPerMinute(m.Timeline.Tempo(m.Beat))
}

// nearly is less than anyone sees of a tempo in bars a minute.
const nearly = 0.005

func (d *dance) faster() tea.Cmd {
	return d.setTempo(func(m player.Moment) float64 {
		now, own := barsPerMinute(m)
		return math.Floor(now+1+nearly) / own * 100
	})
}

func (d *dance) slower() tea.Cmd {
	return d.setTempo(func(m player.Moment) float64 {
		now, own := barsPerMinute(m)
		return math.Ceil(now-1-nearly) / own * 100
	})
}

func (d *dance) fullTempo() tea.Cmd {
	return d.setTempo(func(player.Moment) float64 { return 100 })
}

// question is what is asked for, in words.
type question struct {
	textinput.Model
	answer func(d *dance, text string) error // carries the answer out
}

func (d *dance) askTempo() tea.Cmd {
	d.typing = true
	d.ask = question{term.NewInput("tempo: ", "28 bars/min, 112 beats/min or 80 %"), func(d *dance, text string) error {
		percent, tempo, err := d.now.Timeline.ParseTempo(text, d.now.Timeline.Tempo(d.now.Beat))
		if err == nil {
			d.set(func(s *player.Settings, _ player.Moment) { *s = s.At(percent, tempo) })
		}
		return err
	}}
	return nil
}

func (d *dance) askLadder() tea.Cmd {
	d.typing = true
	d.ask = question{term.NewInput("gradually: ", "70 to 100 % by 5, 2 passes"), func(d *dance, text string) error {
		ladder, err := player.ParseLadder(text)
		if err == nil {
			d.climb(ladder)
		}
		return err
	}}
	return nil
}

// typed handles a key while an answer is typed.
func (d *dance) typed(msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "ctrl+c":
		return d.quit()
	case "esc":
		d.typing = false
		d.news.Clear()
		return nil
	case "enter":
		if err := d.ask.answer(d, d.ask.Value()); err != nil {
			d.news.Warn(err.Error())
			return nil
		}
		d.typing = false
		d.news.Clear()
		d.alert = time.Now().Add(awake)
		return d.look()
	}
	d.news.Clear()
	var cmd tea.Cmd
	d.ask.Model, cmd = d.ask.Update(msg)
	return cmd
}

func (d *dance) leadIn() tea.Cmd {
	return d.set(func(s *player.Settings, m player.Moment) {
		s.LeadIn = (s.LeadIn + 1) % (player.MostLeadIn + 1)
	})
}

// keepTempo ends a ladder at the tempo it has reached.
func keepTempo(m player.Moment) player.Settings {
	if m.Settings.Ladder == (player.Ladder{}) {
		return m.Settings
	}
	return m.Settings.At(m.Percent, 0)
}

// loop gives the settings that loop another interval, or none if it is empty. A ladder
// that is climbed stays on its rung, and climbs on through the whole where nothing else is
// repeated.
func loop(m player.Moment, s player.Interval) player.Settings {
	set := m.Onward()
	if set.Loop = s; s.Empty() && set.Ladder != (player.Ladder{}) {
		set.Loop = whole(m.Timeline)
	}
	return set
}

// whole is all of a timeline.
func whole(t *player.Timeline) player.Interval { return player.Interval{From: t.Start, To: t.End} }

func (d *dance) repeatFigure() tea.Cmd {
	d.mark, d.marked = nil, false
	d.transport.Set(func(m player.Moment) player.Settings {
		if r := m.Settings.Loop; r != loop(m, player.Interval{}).Loop {
			return loop(m, player.Interval{})
		}
		beat := m.Beat
		if m.State == player.LeadIn {
			beat = m.Begins
		}
		return loop(m, m.Timeline.Passage(m.Timeline.PassageAt(beat)))
	})
	return nil
}

// markHere marks the start of a loop at the count that is heard, then its
// end, from when on it is repeated, and then clears it.
func (d *dance) markHere() tea.Cmd {
	i := d.event()
	e := &d.now.Timeline.Events[i]
	switch {
	case d.marked:
		d.repeatFigure() // stops
	case d.mark == nil:
		at := e.At
		d.mark = &at
		d.news.Say("a part begins at " + place(d.now.Timeline, at) + "; m again ends it, and repeats it")
	default:
		first := &d.now.Timeline.Events[max(0, d.now.Timeline.At(*d.mark))]
		interval := player.Interval{From: min(first.At, e.At), To: max(first.At+first.Length, e.At+e.Length)}
		d.mark, d.marked = nil, true
		d.transport.Set(func(m player.Moment) player.Settings { return loop(m, interval) })
	}
	return nil
}

// repeatJoin repeats the last bar of this figure and the first of the next.
func (d *dance) repeatJoin() tea.Cmd {
	timeline := d.now.Timeline
	passage := timeline.Events[d.event()].Passage
	if passage+1 >= len(timeline.Score.Passages) {
		d.news.Say("no figure follows this one")
		return nil
	}
	d.mark, d.marked = nil, true
	d.transport.Set(func(m player.Moment) player.Settings {
		return loop(m, m.Timeline.Join(min(passage, len(m.Timeline.Score.Passages)-2)))
	})
	return nil
}

// gradual is the ladder that is climbed if none is typed, in per cent.
func gradual() player.Ladder { return player.Ladder{Start: 70, Gain: 5, Top: 100, Times: 1} }

func (d *dance) gradually() tea.Cmd {
	if d.now.Settings.Ladder == (player.Ladder{}) {
		return d.climb(gradual())
	}
	d.transport.Set(keepTempo)
	return nil
}

// climb begins a ladder on its first rung; what is not repeated yet is the whole.
func (d *dance) climb(l player.Ladder) tea.Cmd {
	return d.set(func(s *player.Settings, m player.Moment) {
		s.Ladder = l
		if s.Loop.Empty() {
			s.Loop = whole(m.Timeline)
		}
	})
}

// onLadder does one thing while a ladder is climbed, and another otherwise.
func onLadder(climbing, otherwise func(*dance) tea.Cmd) func(*dance) tea.Cmd {
	return func(d *dance) tea.Cmd {
		if d.now.Settings.Ladder != (player.Ladder{}) {
			return climbing(d)
		}
		return otherwise(d)
	}
}

// rung goes on from another rung of the ladder.
func (d *dance) rung(by int) tea.Cmd {
	return d.set(func(s *player.Settings, m player.Moment) {
		s.Ladder = s.Ladder.From(m.RunThrough, by)
	})
}

func rungUp(d *dance) tea.Cmd   { return d.rung(1) }
func rungDown(d *dance) tea.Cmd { return d.rung(-1) }

func (d *dance) noLadder() tea.Cmd {
	d.news.Say("no tempo is growing yet: g begins a ladder of tempi, on which this goes a rung down")
	return nil
}

func (d *dance) rest() tea.Cmd {
	return d.set(func(s *player.Settings, m player.Moment) {
		s.Rest = (s.Rest + 1) % (player.MostLeadIn + 1)
	})
}

func (d *dance) nextSide() tea.Cmd {
	d.dancers = (d.dancers + 1) % (routine.FollowerAlone + 1)
	return nil
}

// nextCount counts otherwise, on the screen and aloud.
func (d *dance) nextCount() tea.Cmd {
	style := d.styleAt(d.event())%routine.InWords + 1
	d.count = style
	return d.set(func(s *player.Settings, m player.Moment) {
		s.Count = style
	})
}

func (d *dance) feetApart() tea.Cmd {
	return d.set(func(s *player.Settings, m player.Moment) {
		s.FeetApart = !s.FeetApart
	})
}

// nameAloud lets the next figure be named aloud, or not any more.
func (d *dance) nameAloud() tea.Cmd {
	if !d.now.Settings.Call && d.levels != nil && d.levels[player.VoiceLayer] == 0 {
		d.news.Say("names are said as loud as the count, which is silent: A makes both louder")
	}
	return d.set(func(s *player.Settings, m player.Moment) {
		s.Call = !s.Call
	})
}

// louder changes the levels of layers by a tenth, from none to full.
func (d *dance) louder(tenths int, layers ...audio.Layer) tea.Cmd {
	d.asked++
	return setLevels(d.ctx, d.transport, d.visit, d.asked, func(l audio.Levels) audio.Levels {
		for _, layer := range layers {
			l[layer] = float32(min(max(tenth(l[layer])+tenths, 0), 10)) / 10
		}
		return l
	})
}

func tenth(level float32) int { return int(level*10 + 0.5) }

// stepLayers are the sounds of the steps that are shown.
func (d *dance) stepLayers() []audio.Layer {
	var layers []audio.Layer
	for _, p := range d.dancers.Partners() {
		layers = append(layers, player.StepLayers[p])
	}
	return layers
}

// level gives the action that changes the level of a layer.
func level(tenths int, layer audio.Layer) func(*dance) tea.Cmd {
	return func(d *dance) tea.Cmd {
		if tenths < 0 && d.levels != nil && d.levels[layer] == 0 {
			d.news.Say("that is silent already")
		}
		return d.louder(tenths, layer)
	}
}

func (d *dance) stepsSofter() tea.Cmd { return d.louder(-1, d.stepLayers()...) }
func (d *dance) stepsLouder() tea.Cmd { return d.louder(+1, d.stepLayers()...) }

func (d *dance) showFindings() tea.Cmd {
	d.turn = toFindings
	return nil
}

func (d *dance) showHelp() tea.Cmd {
	d.turn = toHelp
	return nil
}

func (d *dance) leave() tea.Cmd {
	d.turn = toList
	d.stops()
	d.dismiss()
	return nil
}

func (d *dance) quit() tea.Cmd {
	d.transport.Hold()
	d.stops()
	d.dismiss()
	return tea.Quit
}

// saved takes in the sheet after it was saved.
func (d *dance) saved(l Loaded) tea.Cmd {
	var led tea.Cmd
	d.found, d.broken = l.Findings, !l.danceable()
	d.news.Clear()
	var read tea.Cmd
	if !d.broken {
		lost, cmd := d.replace(l.Timeline)
		led = cmd
		d.news.Say("the sheet was read again")
		if len(lost) > 0 {
			d.news.Say("the session leaves out what is not in the sheet any more: " + strings.Join(lost, ", "))
		}
		if l.Timeline.Score.Music.File != d.song.File() {
			read = d.song.Read(l.ID, l.Path)
		}
	}
	d.alert = time.Now().Add(awake)
	return tea.Batch(led, read, d.look())
}

// place names a beat by bar and count, as far as it is counted.
func place(t *player.Timeline, beat routine.Beats) string {
	e := &t.Events[max(0, t.At(beat))]
	if e.Labels.Count == "" {
		return fmt.Sprintf("bar %d, beat %d", e.Bar, e.Beat)
	}
	return fmt.Sprintf("bar %d, count %s", e.Bar, e.Labels.Count)
}
