package timing

import (
	"fmt"
	"math"

	"dance.example/slowquick/routine"
)

// Perceptible returns how far a step must be off, in seconds, for people to hear it among steps that
// lie a gap apart.
//
// Source: Friberg and Sundberg, "Time discrimination in a monotonic, isochronous sequence", Journal
// of the Acoustical Society of America 98 (1995): about 6 ms for gaps below 240 ms, and 2.5 % of
// longer ones, for people with and without musical training.
func Perceptible(gap float64) float64 {
	const (
		shortGap = 0.240 // s
		constant = 0.006 // s
		part     = 0.025
	)
	if gap < shortGap {
		return constant
	}
	return part * gap
}

const (
	// tempoHeard is the smallest change of tempo that people hear, as a fraction: 3 % on average for
	// seven clicks, and 1.5 % at best.
	//
	// Source: Drake and Botte, "Tempo sensitivity in auditory sequences", Perception & Psychophysics 54
	// (1993).
	tempoHeard = 0.03
	// habit is how early people commonly tap along with clicks without noticing: some tens of
	// milliseconds, 50 ms as a round number from memory.
	//
	// Source: Repp, "Sensorimotor synchronization: a review of the tapping literature", Psychonomic
	// Bulletin & Review 12 (2005), on the negative mean asynchrony.
	habit = 0.050
	// unsteady is the spread, as a fraction of the gap, above which taps count as uneven. Practised
	// people's is about 4 % at moderate tempi, from memory of the same review; this is twice as much.
	unsteady = 0.08
)

// Words returns what there is to say, most important first: only what can be heard and is unlikely
// to be chance.
func (r Result) Words() []string {
	taps := 0
	for _, c := range r.Counts {
		taps += len(c.Offsets)
	}
	if taps < 2*fewest {
		return []string{"There were too few taps on the steps to tell."}
	}
	said := append(r.wholeWords(), r.countWords()...)
	if len(said) == 0 {
		said = append(said, "Every count is in time, as far as can be heard and measured.")
	}
	if w := r.driftWords(); w != "" {
		said = append(said, w)
	}
	return append(said, r.otherWords()...)
}

// wholeWords says how early or late everything is.
func (r Result) wholeWords() []string {
	w := Estimate{r.Whole.Value, math.Hypot(r.Whole.Error, r.Unsure.All()/2)}
	if !w.certain() || !r.isOff() {
		return nil
	}
	text := fmt.Sprintf("Overall you are %s.", Milliseconds(w.Value))
	if w.Value < 0 && -w.Value <= habit {
		text += " Nearly everyone taps that early along with clicks."
	}
	return []string{text}
}

// isOff reports whether the whole is so early or late that it can be heard.
func (r Result) isOff() bool {
	gap := math.Inf(1)
	for _, c := range r.Counts {
		gap = min(gap, c.Gap)
	}
	return math.Abs(r.Whole.Value) >= Perceptible(gap)
}

// countWords says which counts are early or late, compared with the whole.
func (r Result) countWords() (said []string) {
	for _, c := range r.Counts {
		apart := Estimate{c.Value - r.Whole.Value, math.Hypot(c.Error, r.Whole.Error)}
		if !apart.certain() || math.Abs(apart.Value) < Perceptible(c.Gap) {
			continue
		}
		if r.isOff() {
			said = append(said, fmt.Sprintf("Your %s comes %s than the rest.", c.Name, compared(apart.Value)))
		} else {
			said = append(said, fmt.Sprintf("Your %s comes %s.", c.Name, Milliseconds(c.Value)))
		}
	}
	return append(said, r.unevenWords()...)
}

// unevenWords says which counts are tapped unevenly.
func (r Result) unevenWords() (said []string) {
	var spreads []float64
	for _, c := range r.Counts {
		if len(c.Offsets) >= 2*fewest && c.Spread > unsteady*c.Gap {
			spreads = append(spreads, c.Spread)
			said = append(said, fmt.Sprintf("Your %s is uneven: give or take %.0f ms.", c.Name, c.Spread*1000))
		}
	}
	if len(spreads) > len(r.Counts)/2 && len(spreads) > 2 {
		return []string{fmt.Sprintf("Most counts are uneven: give or take %.0f ms.", median(spreads)*1000)}
	}
	return said
}

// driftWords says what happens in silence.
func (r Result) driftWords() string {
	d := r.Drift
	if !d.Known {
		return ""
	}
	shift := d.Value * d.Longest
	if !d.certain() || math.Abs(shift) < Perceptible(d.Beat) {
		return "In silence you keep the tempo."
	}
	does := "slow down"
	if d.Value < 0 {
		does = "speed up"
	}
	text := fmt.Sprintf("In silence you %s by %.1f %%, give or take %.1f: after %.0f s you are %s.",
		does, math.Abs(d.Value)*100, 2*d.Error*100, d.Longest, Milliseconds(shift))
	if math.Abs(d.Value) < tempoHeard {
		text += " Hardly anyone would hear that as another tempo."
	}
	return text
}

// otherWords says how many steps had no tap, and how many taps no step.
func (r Result) otherWords() (said []string) {
	if r.Missed > 0 {
		said = append(said, fmt.Sprintf("%s without a tap.", routine.Plural(r.Missed, "step")))
	}
	if r.Extra > 0 {
		said = append(said, fmt.Sprintf("%s that matched no step.", routine.Plural(r.Extra, "tap")))
	}
	return said
}

// Milliseconds returns an offset in words: "60 ms early", "on time".
func Milliseconds(offset float64) string {
	switch ms := math.Round(offset * 1000); {
	case ms < 0:
		return fmt.Sprintf("%.0f ms early", -ms)
	case ms > 0:
		return fmt.Sprintf("%.0f ms late", ms)
	}
	return "on time"
}

func compared(offset float64) string {
	if offset < 0 {
		return fmt.Sprintf("%.0f ms earlier", -offset*1000)
	}
	return fmt.Sprintf("%.0f ms later", offset*1000)
}
