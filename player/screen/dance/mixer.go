package dance

import (
	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/pane"

	tea "github.com/charmbracelet/bubbletea"
)

// mixer is how loud everything is.
type mixer struct {
	levels *audio.Levels           // nil until known
	asked  int                     // numbers the changes that were asked for
	last   int                     // the last of them that levels has
	muted  map[audio.Layer]float32 // what a layer had before it was silenced
}

// change changes the levels; nil changes nothing. It returns the command that brings what they
// have become. The change itself is asked for at once, so that changes keep their order; the
// messages may not, which is why they are numbered.
func (x *mixer) change(m *Model, f func(audio.Levels) audio.Levels) tea.Cmd {
	x.asked++
	number, ctx := x.asked, m.ctx
	became := make(chan audio.Levels, 1)
	m.o.Transport.Level(func(l audio.Levels) audio.Levels {
		if f != nil {
			l = f(l)
		}
		became <- l
		return l
	})
	return func() tea.Msg {
		select {
		case l := <-became:
			return levelsMsg{forModel{m}, number, l}
		case <-ctx.Done():
		}
		return nil
	}
}

// told takes in what the levels have become.
func (x *mixer) told(msg levelsMsg) {
	if msg.number >= x.last {
		x.levels, x.last = &msg.levels, msg.number
	}
}

// tenths returns the level of a layer, from 0 to 10.
func (x *mixer) tenths(layer audio.Layer) int {
	if x.levels == nil {
		return 0
	}
	return int(x.levels[layer]*10 + 0.5)
}

// row returns the row of a layer: a tenth louder or softer, or silent and as loud as before.
func (x *mixer) row(m *Model, name string, layer audio.Layer) pane.Row {
	set := func(f func(float32) float32) tea.Cmd {
		return x.change(m, func(l audio.Levels) audio.Levels {
			l[layer] = f(l[layer])
			return l
		})
	}
	return pane.Row{
		Name: name, Value: pane.Bar(x.tenths(layer)),
		Change: func(by int) tea.Cmd {
			return set(func(was float32) float32 { return float32(min(max(int(was*10+0.5)+by, 0), 10)) / 10 })
		},
		Do: func() tea.Cmd {
			if is := float32(x.tenths(layer)) / 10; is > 0 {
				if x.muted == nil {
					x.muted = map[audio.Layer]float32{}
				}
				x.muted[layer] = is
				return set(func(float32) float32 { return 0 })
			}
			again := float32(5) / 10
			if was := x.muted[layer]; was > 0 {
				again = was
			}
			return set(func(float32) float32 { return again })
		},
	}
}

// mixerRows are what is heard.
func mixerRows(m *Model) []pane.Row {
	x := &m.mixer
	rows := []pane.Row{
		x.row(m, "counting aloud", player.VoiceLayer),
		x.row(m, "clicks", player.ClickLayer),
	}
	for _, p := range m.cue.Dancers.Partners() {
		rows = append(rows, x.row(m, p.String()+"'s steps", player.StepLayers[p]))
	}
	rows = append(rows, x.row(m, "drums and rhythm", player.RhythmLayer))
	if m.cue.Moment.Timeline.Music() != nil {
		rows = append(rows, x.row(m, "the song", player.MusicLayer))
	}
	set := &m.cue.Moment.Settings
	return append(rows,
		setting(m, "names of figures aloud", pane.OnOff(set.Call), func(s *player.Settings, _ int) { s.Call = !s.Call }),
		setting(m, "left foot in the left ear, right foot in the right", pane.OnOff(set.FeetApart), func(s *player.Settings, _ int) { s.FeetApart = !s.FeetApart }),
	)
}
