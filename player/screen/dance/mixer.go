package dance

import (
	"context"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player/screen/pane"

	tea "github.com/charmbracelet/bubbletea"
)

// mixer is how loud everything is.
type mixer struct {
	ctx       context.Context // ends when the sheet is left
	transport Transport

	levels *audio.Levels           // nil until known
	asked  int                     // numbers the changes that were asked for
	last   int                     // the last of them that levels has
	muted  map[audio.Layer]float32 // what a layer had before it was silenced
}

// change changes the levels; nil changes nothing. It returns the command that brings what they
// have become. The change itself is asked for at once, so that changes keep their order; the
// messages may not, which is why they are numbered.
func (x *mixer) change(f func(audio.Levels) audio.Levels) tea.Cmd {
	x.asked++
	ctx, number := x.ctx, x.asked
	became := make(chan audio.Levels, 1)
	x.transport.Level(func(l audio.Levels) audio.Levels {
		if f != nil {
			l = f(l)
		}
		became <- l
		return l
	})
	return func() tea.Msg {
		select {
		case l := <-became:
			return levelsMsg{x, number, l}
		case <-ctx.Done():
		}
		return nil
	}
}

// levelsMsg says what the levels of a mixer have become.
type levelsMsg struct {
	mixer  *mixer
	number int
	levels audio.Levels
}

// told takes in what the levels have become.
func (x *mixer) told(msg levelsMsg) {
	if msg.mixer == x && msg.number >= x.last {
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
func (x *mixer) row(name string, layer audio.Layer) pane.Row {
	set := func(f func(float32) float32) tea.Cmd {
		return x.change(func(l audio.Levels) audio.Levels {
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
