package screen

import (
	"strconv"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// tempoText gives the tempo at a moment, and how much of the sheet's it is. A song that
// hardly leaves its tempo has one, not another with each beat.
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

// countText says how the count is said.
func countText(s routine.CountStyle) string {
	switch s {
	case routine.SlowQuick:
		return "slow/quick"
	case routine.InWords:
		return "in words"
	}
	return "as charted"
}
