package songpage

import (
	"strconv"
	"strings"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// keys are the page's keys.
type keys struct {
	play, quiet, half, earlier, later, one, double, halve, tap, found, back, help, quit key.Binding
}

func newKeys() keys {
	return keys{
		play: term.Bind("space", "play, hold", " "), quiet: term.Bind("k", "clicks on the beats, or not", "k"),
		half: term.Bind("h", "beats half a beat later", "h"), earlier: term.Bind("←", "bars a beat earlier", "left"), later: term.Bind("→", "bars a beat later", "right"),
		one: term.Bind("1", "a bar begins here", "1"), double: term.Bind("+", "twice as many beats", "+", "="), halve: term.Bind("−", "half as many beats", "-", "_"),
		tap: term.Bind("b", "tap along, from a 1 on", "b"), found: term.Bind("0", "as they were found", "0"),
		back: term.Bind("esc", "back to the dance", "esc"), help: term.Bind("?", "help", "?"), quit: term.Bind("q", "quit", "q", "ctrl+c"),
	}
}

// HelpKeys returns the page's own keys, for a page of help.
func HelpKeys() []key.Binding {
	k := newKeys()
	return []key.Binding{k.play, k.quiet, k.half, k.earlier, k.later, k.one, k.double, k.halve, k.tap, k.found, k.back}
}

// offered returns the keys that can be of use: where there is no clear beat, only tapping.
func (m *Model) offered() []key.Binding {
	k := newKeys()
	if !m.song.Grid.Clear() {
		return []key.Binding{k.play, k.tap, k.back, k.help, k.quit}
	}
	return append(HelpKeys(), k.help, k.quit)
}

// Open prepares the page to be shown. Without a song it says why, and returns false.
func (m *Model) Open() bool {
	switch {
	case m.song != nil:
		m.taps = taps{}
		return true
	case m.parts != nil:
		m.news.Say("the song is still being read")
	default:
		m.news.Say("no song: name a song in the sheet, as in \"music: song.ogg\", or with --music")
	}
	return false
}

// Turn is where a key leads from the page.
type Turn uint8

// Where a key can lead.
const (
	Stay Turn = iota
	Back
	Help
	Quit
)

// Press carries out a key on the page; now is the moment that is shown.
func (m *Model) Press(msg tea.KeyMsg, now player.Moment) (Turn, tea.Cmd) {
	m.news.Clear()
	var pressed *key.Binding
	offered := m.offered()
	for i := range offered {
		if key.Matches(msg, offered[i]) {
			pressed = &offered[i]
		}
	}
	if pressed == nil {
		return Stay, nil
	}
	k, g := newKeys(), m.song.Grid
	correct := func(g music.Grid) (Turn, tea.Cmd) {
		m.news.Say(pressed.Help().Desc)
		return Stay, m.correct(g, now)
	}
	switch {
	case key.Matches(msg, k.play):
		m.play(now)
	case key.Matches(msg, k.quiet):
		m.setQuiet(func(quiet bool) bool { return !quiet })
	case key.Matches(msg, k.half):
		return correct(g.HalfLater())
	case key.Matches(msg, k.earlier):
		return correct(g.BarLater(-1))
	case key.Matches(msg, k.later):
		return correct(g.BarLater(1))
	case key.Matches(msg, k.one):
		return correct(g.OneAt(m.frame()))
	case key.Matches(msg, k.double):
		return correct(g.Doubled())
	case key.Matches(msg, k.halve):
		if len(g.Beats) >= 8 {
			return correct(g.Halved())
		}
	case key.Matches(msg, k.found):
		m.news.Say(pressed.Help().Desc)
		return Stay, m.asFound(now)
	case key.Matches(msg, k.tap):
		return Stay, m.tap(now)
	case key.Matches(msg, k.back):
		m.endListening(now)
		return Back, nil
	case key.Matches(msg, k.help):
		return Help, nil
	case key.Matches(msg, k.quit):
		return Quit, nil
	}
	return Stay, nil
}

// play plays the song, or holds. One without a clear beat is heard alone.
func (m *Model) play(now player.Moment) {
	if moving := now.State == player.Dancing || now.State == player.LeadIn; moving || m.song.Grid.Clear() {
		m.transport.Toggle()
		return
	}
	timeline, err := m.song.LayEvenly(m.line)
	if err != nil {
		m.news.Warn(err.Error())
		return
	}
	m.transport.Replace(timeline)
	m.setQuiet(always)
	m.transport.Start()
}

// asFound takes back what was corrected since the song was read.
func (m *Model) asFound(now player.Moment) tea.Cmd {
	s := *m.song
	s.Grid = m.found
	m.song = &s
	m.lay(now)
	return func() tea.Msg { return beatsKeptMsg{forModel{m}, m.book.Forget(&s)} }
}

// View draws the page, with message as its last line.
func (m *Model) View(width, height int, now player.Moment, message string) string {
	g := &m.song.Grid
	dance := now.Timeline.Score.Dance
	tempo := term.Decimal(dance.BarsPerMinute(routine.Tempo(g.Tempo*float64(routine.BeatPerMinute)))) + " bars/min"
	if len(g.Beats) == 0 {
		tempo = ""
	}
	var head, body []string
	r := term.NewRow(width)
	head = append(head, r.Put(m.theme.Heading, term.Cut(harmless.Line(m.song.Name), max(r.Left()-term.Width(tempo)-2, 0))).Right(m.theme.Strong, tempo).String())
	say := func(k term.Ink, text string) {
		for _, part := range term.Wrap(text, width) {
			head = append(head, term.NewRow(width).Put(k, part).String())
		}
	}
	switch doubt := m.song.Doubt(); {
	case m.taps.waiting:
		say(term.Plain, "looking for the beats along which you tapped …")
	case doubt == "" && (g.BeatGiven || g.BarGiven):
		say(term.Plain, "The beats are as you gave them, and kept for the next time.")
	case doubt == "":
		say(term.Plain, "The beats, and where bars begin, are sure.")
	default:
		say(m.theme.Alarm, strings.ToUpper(doubt[:1])+doubt[1:]+".")
		say(term.Plain, m.advice())
	}
	head = append(head, m.beatLine(width, now), "")
	for _, k := range m.offered() {
		body = append(body, term.NewRow(width).To(1).Put(m.theme.Strong, k.Help().Key).To(9).Put(term.Plain, k.Help().Desc).String())
	}
	foot := []string{message}
	if rows := height - len(head) - len(foot); rows < 1 {
		head = head[:max(0, height-len(foot))]
		body = nil
	} else if len(body) > rows {
		body = body[:rows]
	}
	return term.Join(height, head, body, foot)
}

// advice says what the dancer may do about a doubt.
func (m *Model) advice() string {
	g := &m.song.Grid
	switch {
	case !g.Clear():
		return "Play it with space, and tap along with b from the 1 of a bar on."
	case !g.SureOfBeat():
		return "Play it: if the clicks come between the beats, h moves them."
	}
	if !g.SureOfBar() {
		return "Play it, and press 1 on the first beat of a bar."
	}
	return "There the tempo changes, or the music stops: listen, or tap along with b."
}

// beatLine is the beat that is heard.
func (m *Model) beatLine(width int, now player.Moment) string {
	r := term.NewRow(width)
	if now.Timeline.Music() == nil || now.State != player.Dancing && now.State != player.LeadIn {
		return r.Put(term.Plain, "space plays").String()
	}
	metre := now.Timeline.Score.Dance.Metre.Beats
	beat := int(now.Beat / routine.Beat)
	if now.Beat < 0 {
		beat = int((now.Beat - routine.Beat + 1) / routine.Beat)
	}
	at := ((beat % metre) + metre) % metre
	for i := range metre {
		k := term.Plain
		if i == at && !(len(m.taps.frames) > 0) {
			k = m.theme.Present
		}
		r.Put(k, " "+strconv.Itoa(i+1)+" ")
	}
	return r.String()
}
