package screen

import (
	"fmt"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/term"

	tea "github.com/charmbracelet/bubbletea"
)

// tapBeat takes the tempo from the music, as it is tapped.
func (d *dance) tapBeat() tea.Cmd {
	d.taps.Tap(time.Now())
	pulse, ok := d.taps.Pulse()
	if !ok {
		d.news.Say(fmt.Sprintf("tap on with the music: %d of 4", d.taps.Count()))
		return nil
	}
	d.news.Say(d.tappedText(pulse))
	return d.setTempo(func(m player.Moment) float64 { return pulse.Percent(m.Timeline, m.Beat) })
}

// tapOne dances with the music, whose first beat of a bar is tapped now.
func (d *dance) tapOne() tea.Cmd {
	now := time.Now()
	d.taps.Tap(now)
	pulse, ok := d.taps.Pulse()
	if !ok {
		d.news.Say("tap the beat with b first, then the 1 of a bar with B")
		return nil
	}
	d.news.Say(d.tappedText(pulse))
	d.transport.DropIn(pulse.Nearest(now), pulse)
	return nil
}

// tappedText tells a tempo, and whether it suits the dance.
func (d *dance) tappedText(p player.Pulse) string {
	dance := d.now.Timeline.Score.Dance
	text := fmt.Sprintf("tapped %s bars/min", term.Decimal(dance.BarsPerMinute(p.Tempo())))
	if dance.Usual.Contains(p.Tempo()) {
		return text + ": it suits " + dance.Name
	}
	return text + ": " + dance.Name + " is danced at " + dance.RangeText(dance.Usual)
}
