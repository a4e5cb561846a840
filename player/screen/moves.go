package screen

import (
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// move finds where to go from a beat. It never leaves the timeline.
type move func(t *player.Timeline, beat routine.Beats) routine.Beats

// A step is an event on which a partner's step begins; a beat on which the
// steps go on is passed over.
func nextStep(t *player.Timeline, beat routine.Beats) routine.Beats {
	for i := t.At(beat) + 1; i < len(t.Events); i++ {
		if t.Events[i].Row >= 0 {
			return t.Events[i].At
		}
	}
	return lastStep(t)
}

func previousStep(t *player.Timeline, beat routine.Beats) routine.Beats {
	if beat >= t.End {
		return lastStep(t)
	}
	for i := t.At(beat) - 1; i >= 0; i-- {
		if t.Events[i].Row >= 0 {
			return t.Events[i].At
		}
	}
	return t.Start
}

func lastStep(t *player.Timeline) routine.Beats {
	for i := len(t.Events) - 1; i >= 0; i-- {
		if t.Events[i].Row >= 0 {
			return t.Events[i].At
		}
	}
	return t.Start
}

func nextFigure(t *player.Timeline, beat routine.Beats) routine.Beats {
	passage := t.PassageAt(beat)
	if passage+1 < len(t.Score.Passages) {
		passage++
	}
	return t.Passage(passage).From
}

// previousFigure goes to the start of a figure that is under way, else to the
// one before.
func previousFigure(t *player.Timeline, beat routine.Beats) routine.Beats {
	passage := t.PassageAt(beat)
	from := t.Passage(passage).From
	if i := t.At(beat); passage > 0 && (i < 0 || t.Events[i].At <= from) {
		from = t.Passage(passage - 1).From
	}
	return from
}

func nextBar(t *player.Timeline, beat routine.Beats) routine.Beats {
	if to := t.Bar(beat).To; to < t.End {
		return to
	}
	return t.Bar(t.End - 1).From
}

// previousBar goes to the start of a bar that is under way, else to the one before.
func previousBar(t *player.Timeline, beat routine.Beats) routine.Beats {
	beat = min(beat, t.End-1)
	from := t.Bar(beat).From
	if i := t.At(beat); i >= 0 && t.Events[i].At <= from {
		from = t.Bar(max(from-1, t.Start)).From
	}
	return max(from, t.Start)
}

func toStart(t *player.Timeline, _ routine.Beats) routine.Beats { return t.Start }
