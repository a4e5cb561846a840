package screen

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// songPage is where the dancer tells where the beats of a song are.
type songPage struct {
	taps    []int64 // frames of the song
	last    time.Time
	waiting bool // for the beats along which it was tapped
}

// songKeys are its keys.
type songKeys struct {
	play, quiet, half, earlier, later, one, double, halve, tap, found, back, help, quit key.Binding
}

func newSongKeys() songKeys {
	return songKeys{
		play: term.Bind("space", "play, hold", " "), quiet: term.Bind("k", "clicks on the beats, or not", "k"),
		half: term.Bind("h", "beats half a beat later", "h"), earlier: term.Bind("←", "bars a beat earlier", "left"), later: term.Bind("→", "bars a beat later", "right"),
		one: term.Bind("1", "a bar begins here", "1"), double: term.Bind("+", "twice as many beats", "+", "="), halve: term.Bind("−", "half as many beats", "-", "_"),
		tap: term.Bind("b", "tap along, from a 1 on", "b"), found: term.Bind("0", "as they were found", "0"),
		back: term.Bind("esc", "back to the dance", "esc", "M"), help: term.Bind("?", "help", "?"), quit: term.Bind("q", "quit", "q", "ctrl+c"),
	}
}

// helpText is what the help page says of the keys.
func (k *songKeys) helpText() []key.Binding {
	return []key.Binding{k.play, k.quiet, k.half, k.earlier, k.later, k.one, k.double, k.halve, k.tap, k.found, k.back}
}

// offered are the keys that can be of use: where there is no clear beat, only tapping.
func (d *dance) offered() []key.Binding {
	k := newSongKeys()
	if !d.song.song.Grid.Clear() {
		return []key.Binding{k.play, k.tap, k.back, k.help, k.quit}
	}
	return []key.Binding{k.play, k.quiet, k.half, k.earlier, k.later, k.one, k.double, k.halve, k.tap, k.found, k.back, k.help, k.quit}
}

// showSong turns to the page of the song.
func (d *dance) showSong() tea.Cmd {
	switch {
	case d.song.song != nil:
		d.song.pane = songPage{}
		d.turn = toSong
	case d.song.parts != nil:
		d.news.Say("the song is still being read")
	default:
		d.news.Say("no song: name a song in the sheet, as in \"music: song.ogg\", or with --music")
	}
	return nil
}

// pressSong carries a key out on the page of the song.
func (d *dance) pressSong(msg tea.KeyMsg) tea.Cmd {
	d.news.Clear()
	d.alert = time.Now().Add(awake)
	var pressed *key.Binding
	offered := d.offered()
	for i := range offered {
		if key.Matches(msg, offered[i]) {
			pressed = &offered[i]
		}
	}
	if pressed == nil {
		return d.look()
	}
	k, g := newSongKeys(), d.song.song.Grid
	correct := func(g music.Grid) tea.Cmd {
		d.news.Say(pressed.Help().Desc)
		return d.correct(g)
	}
	switch {
	case key.Matches(msg, k.play):
		d.playSong()
	case key.Matches(msg, k.quiet):
		d.set(func(s *player.Settings, _ player.Moment) { s.Quiet = !s.Quiet })
	case key.Matches(msg, k.half):
		return correct(g.HalfLater())
	case key.Matches(msg, k.earlier):
		return correct(g.BarLater(-1))
	case key.Matches(msg, k.later):
		return correct(g.BarLater(1))
	case key.Matches(msg, k.one):
		return correct(g.OneAt(d.songFrame()))
	case key.Matches(msg, k.double):
		return correct(g.Doubled())
	case key.Matches(msg, k.halve):
		if len(g.Beats) >= 8 {
			return correct(g.Halved())
		}
	case key.Matches(msg, k.found):
		d.news.Say(pressed.Help().Desc)
		return d.asFound()
	case key.Matches(msg, k.tap):
		return d.tapSong()
	case key.Matches(msg, k.back):
		d.leaveSong()
	case key.Matches(msg, k.help):
		d.turn = toHelp
	case key.Matches(msg, k.quit):
		return d.quit()
	}
	return d.look()
}

// leaveSong goes back to the dance.
func (d *dance) leaveSong() {
	d.turn = toDance
	d.endListening()
}

// endListening ends what the page of the song alone lets be heard.
func (d *dance) endListening() {
	if !d.song.song.Grid.Clear() && d.now.Timeline.Music() != nil { // it was only heard, to be tapped along to
		d.transport.Hold()
		d.transport.Replace(d.line)
	}
	d.set(func(s *player.Settings, _ player.Moment) { s.Quiet = false })
}

// playSong plays the song, or holds. One without a clear beat is heard alone.
func (d *dance) playSong() {
	if moving := d.now.State == player.Dancing || d.now.State == player.LeadIn; moving || d.song.song.Grid.Clear() {
		d.transport.Toggle()
		return
	}
	timeline, err := d.song.song.LayEvenly(d.line)
	if err != nil {
		d.news.Warn(err.Error())
		return
	}
	d.transport.Replace(timeline)
	d.set(func(s *player.Settings, _ player.Moment) { s.Quiet = true })
	d.transport.Start()
}

// songFrame is the frame of the song that is heard now.
func (d *dance) songFrame() int64 {
	m := d.transport.Now(time.Now())
	return m.Timeline.MusicFrame(m.Beat)
}

// correct dances to other beats of the song, and keeps them.
func (d *dance) correct(g music.Grid) tea.Cmd {
	s := *d.song.song
	s.Grid = g
	d.song.song = &s
	d.song.pane.taps = nil
	d.laySong()
	visit, from := d.visit, d.song.from
	keep := func() tea.Msg { return beatsKeptMsg{visit, from.Keep(&s)} }
	return tea.Batch(keep, d.look())
}

// asFound takes back what was corrected since the song was read.
func (d *dance) asFound() tea.Cmd {
	s := *d.song.song
	s.Grid = d.song.found
	d.song.song = &s
	d.laySong()
	visit, from := d.visit, d.song.from
	forget := func() tea.Msg { return beatsKeptMsg{visit, from.Forget(&s)} }
	return tea.Batch(forget, d.look())
}

const (
	fewestTaps = 4
	tapped     = 1500 * time.Millisecond // after the last tap, they are taken
)

// tapSong takes a tap along the song.
func (d *dance) tapSong() tea.Cmd {
	p := &d.song.pane
	if d.now.Timeline.Music() == nil || d.now.State != player.Dancing && d.now.State != player.LeadIn {
		d.news.Say("space plays the song; then tap along")
		return d.look()
	}
	frame := d.songFrame()
	if n := len(p.taps); n > 0 && (frame <= p.taps[n-1] || time.Since(p.last) > 2*tapped) {
		p.taps = nil
	}
	p.taps, p.last = append(p.taps, frame), time.Now()
	d.news.Say(fmt.Sprintf("tap on: %d", len(p.taps)))
	after := tappedMsg{d.visit, d.song.song.Hash, len(p.taps)}
	return tea.Batch(tea.Tick(tapped, func(time.Time) tea.Msg { return after }), d.look())
}

// takeTaps looks for the beats along which it was tapped.
func (d *dance) takeTaps() tea.Cmd {
	p := &d.song.pane
	taps := p.taps
	p.taps = nil
	if len(taps) < fewestTaps {
		d.news.Warn(music.ErrTaps.Error())
		return nil
	}
	p.waiting = true
	visit, hash, heard, metre := d.visit, d.song.song.Hash, d.song.song.Heard, d.now.Timeline.Score.Dance.Metre.Beats
	return func() tea.Msg {
		g, err := heard().Along(taps, metre)
		return gridMsg{visit, hash, g, err}
	}
}

// songTapped takes in the beats along which it was tapped.
func (d *dance) songTapped(msg gridMsg) tea.Cmd {
	d.song.pane.waiting = false
	if msg.err != nil {
		d.news.Warn(msg.err.Error())
		return nil
	}
	cmd := d.correct(msg.grid)
	d.set(func(s *player.Settings, _ player.Moment) { s.Quiet = false })
	d.news.Say(fmt.Sprintf("the song has %s bars/min", term.Decimal(d.now.Timeline.Score.Dance.BarsPerMinute(routine.Tempo(msg.grid.Tempo*float64(routine.BeatPerMinute))))))
	return cmd
}

// songView draws the page of the song.
func (d *dance) songView() string {
	l := &d.layout
	g := &d.song.song.Grid
	dance := d.now.Timeline.Score.Dance
	tempo := term.Decimal(dance.BarsPerMinute(routine.Tempo(g.Tempo*float64(routine.BeatPerMinute)))) + " bars/min"
	if len(g.Beats) == 0 {
		tempo = ""
	}
	var head, body []string
	r := term.NewRow(l.width)
	head = append(head, r.Put(d.theme.Heading, term.Cut(harmless.Line(d.song.song.Name), max(r.Left()-term.Width(tempo)-2, 0))).Right(d.theme.Strong, tempo).String())
	say := func(k term.Ink, text string) {
		for _, part := range term.Wrap(text, l.width) {
			head = append(head, term.NewRow(l.width).Put(k, part).String())
		}
	}
	switch doubt := d.song.song.Doubt(); {
	case d.song.pane.waiting:
		say(term.Plain, "looking for the beats along which you tapped …")
	case doubt == "" && (g.BeatGiven || g.BarGiven):
		say(term.Plain, "The beats are as you gave them, and kept for the next time.")
	case doubt == "":
		say(term.Plain, "The beats, and where bars begin, are sure.")
	default:
		say(d.theme.Alarm, strings.ToUpper(doubt[:1])+doubt[1:]+".")
		say(term.Plain, d.advice())
	}
	head = append(head, d.beatLine(), "")
	for _, k := range d.offered() {
		body = append(body, term.NewRow(l.width).To(1).Put(d.theme.Strong, k.Help().Key).To(9).Put(term.Plain, k.Help().Desc).String())
	}
	foot := []string{d.messageLine()}
	if rows := l.height - len(head) - len(foot); rows < 1 {
		head = head[:max(0, l.height-len(foot))]
		body = nil
	} else if len(body) > rows {
		body = body[:rows]
	}
	return term.Join(l.height, head, body, foot)
}

// advice says what the dancer may do about a doubt.
func (d *dance) advice() string {
	g := &d.song.song.Grid
	switch {
	case !g.Clear():
		return "Play it with space, and tap along with b from the 1 of a bar on."
	case !g.SureOfBeat():
		return "Play it: if the clicks come between the beats, h moves them."
	}
	return "Play it, and press 1 on the first beat of a bar."
}

// beatLine is the beat that is heard.
func (d *dance) beatLine() string {
	r := term.NewRow(d.layout.width)
	m := &d.now
	if m.Timeline.Music() == nil || m.State != player.Dancing && m.State != player.LeadIn {
		return r.Put(term.Plain, "space plays").String()
	}
	metre := m.Timeline.Score.Dance.Metre.Beats
	beat := int(m.Beat / routine.Beat)
	if m.Beat < 0 {
		beat = int((m.Beat - routine.Beat + 1) / routine.Beat)
	}
	now := ((beat % metre) + metre) % metre
	for i := range metre {
		k := term.Plain
		if i == now && !(len(d.song.pane.taps) > 0) {
			k = d.theme.Present
		}
		r.Put(k, " "+strconv.Itoa(i+1)+" ")
	}
	return r.String()
}
