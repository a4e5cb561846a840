package player

import "dance.example/slowquick/routine"

// NextStep returns the beat of the next event after beat on which a step begins, or
// of the last there is.
func (t *Timeline) NextStep(beat routine.Beats) routine.Beats {
	for i := t.At(beat) + 1; i < len(t.Events); i++ {
		if t.Events[i].Row >= 0 {
			return t.Events[i].At
		}
	}
	return t.lastStep()
}

// PreviousStep returns the beat of the last event before beat on which a step begins,
// or the start.
func (t *Timeline) PreviousStep(beat routine.Beats) routine.Beats {
	if beat >= t.End {
		return t.lastStep()
	}
	return t.stepBefore(t.At(beat))
}

// lastStep returns the beat on which the last step begins.
func (t *Timeline) lastStep() routine.Beats { return t.stepBefore(len(t.Events)) }

// stepBefore returns the beat of the last event before the given one on which a step begins, or the
// start.
func (t *Timeline) stepBefore(event int) routine.Beats {
	for i := event - 1; i >= 0; i-- {
		if t.Events[i].Row >= 0 {
			return t.Events[i].At
		}
	}
	return t.Start
}

// NextFigure returns the start of the figure after the one at beat; the last figure
// is its own next.
func (t *Timeline) NextFigure(beat routine.Beats) routine.Beats {
	passage := t.PassageAt(beat)
	if passage+1 < len(t.Score.Passages) {
		passage++
	}
	return t.Passage(passage).From
}

// PreviousFigure returns the start of the figure under way at beat or, if it only
// begins there, of the one before.
func (t *Timeline) PreviousFigure(beat routine.Beats) routine.Beats {
	passage := t.PassageAt(beat)
	from := t.Passage(passage).From
	if i := t.At(beat); passage > 0 && (i < 0 || t.Events[i].At <= from) {
		from = t.Passage(passage - 1).From
	}
	return from
}

// NextBar returns the start of the bar after the one at beat, or of the last bar.
func (t *Timeline) NextBar(beat routine.Beats) routine.Beats {
	if to := t.Bar(beat).To; to < t.End {
		return to
	}
	return t.Bar(t.End - 1).From
}

// PreviousBar returns the start of the bar under way at beat or, if it only begins
// there, of the one before.
func (t *Timeline) PreviousBar(beat routine.Beats) routine.Beats {
	beat = min(beat, t.End-1)
	from := t.Bar(beat).From
	if i := t.At(beat); i >= 0 && t.Events[i].At <= from {
		from = t.Bar(max(from-1, t.Start)).From
	}
	return max(from, t.Start)
}
