package player

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"sync"
)

// Ladder is a tempo that grows from one run-through of the loop to the next.
type Ladder struct {
	Start, Gain, Top float64 // in per cent of the routine's tempo; Gain from rung to rung
	Times            int     // run-throughs on each rung; 0 means 1
	Begin            int     // the rung of the first run-through, from 0; below 0 it is slower than Start
}

// LeastGain is the smallest gain from rung to rung, in per cent.
const LeastGain = 0.5

// mostRungs bounds the number of rungs.
const mostRungs = 1 << 20

func (l Ladder) times() int { return max(l.Times, 1) }

// Rungs returns the number of rungs.
func (l Ladder) Rungs() int {
	if l.Gain == 0 {
		return 1
	}
	return 1 + int(min(max(math.Ceil((l.Top-l.Start)/l.Gain-1e-9), 0), mostRungs))
}

// Rung returns the rung of a run-through; both count from 0. It is negative if somebody
// went down from the first rung.
func (l Ladder) Rung(runThrough int) int { return min(l.Begin+runThrough/l.times(), l.Rungs()-1) }

// percent returns the tempo of a run-through.
func (l Ladder) percent(runThrough int) float64 {
	p := l.Start + l.Gain*float64(l.Rung(runThrough))
	if l.Gain >= 0 {
		return max(min(p, max(l.Top, l.Start)), min(l.Start, SlowestPercent))
	}
	return max(p, min(l.Top, l.Start))
}

// settled returns the run-through, not before the given one, from which the tempo stays the
// same.
func (l Ladder) settled(runThrough int) int { return max(runThrough, (l.Rungs()-1-l.Begin)*l.times()) }

// From returns l begun anew, on the rung of a run-through plus rungs, which may be negative.
// Below the first rung it goes down by the same gain, as far as the slowest tempo.
func (l Ladder) From(runThrough, rungs int) Ladder {
	lowest := 0
	if l.Gain > 0 {
		lowest = -int(max(math.Ceil((l.Start-SlowestPercent)/l.Gain-1e-9), 0))
	}
	l.Begin = min(max(l.Rung(runThrough)+rungs, lowest), l.Rungs()-1)
	return l
}

var ladderPattern = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^\s*([\d.]+)\s*%?\s*(?:to|–|-)\s*([\d.]+)\s*%?(?:\s*,?\s*by\s*([\d.]+)\s*%?)?(?:\s*,?\s*(\d+)\s*(?:passes|pass|run-throughs?)(?:\s*each)?)?\s*$`)
})

// ParseLadder reads a ladder such as "70 to 100 % by 5, 2 passes each". The gain is 5 and there
// is one run-through on each rung unless the text says otherwise.
func ParseLadder(text string) (Ladder, error) {
	m := ladderPattern().FindStringSubmatch(text)
	if m == nil {
		return Ladder{}, fmt.Errorf("%q is not a ladder", text)
	}
	l := Ladder{Gain: 5, Times: 1}
	for i, to := range []*float64{&l.Start, &l.Top, &l.Gain} {
		if m[i+1] == "" {
			continue
		}
		var err error
		if *to, err = strconv.ParseFloat(m[i+1], 64); err != nil {
			return Ladder{}, fmt.Errorf("%q is not a number", m[i+1])
		}
	}
	if m[4] != "" {
		l.Times, _ = strconv.Atoi(m[4]) // digits; a number too large fails below
	}
	switch {
	case l.Start < SlowestPercent || l.Top > FastestPercent || l.Start >= l.Top:
		return Ladder{}, fmt.Errorf("a ladder rises from a slower tempo to a faster one, between %g and %g %%", SlowestPercent, FastestPercent)
	case l.Gain < LeastGain:
		return Ladder{}, errors.New("a ladder rises by at least half a per cent")
	case l.Times < 1 || l.Times > 99:
		return Ladder{}, errors.New("a rung is danced 1 to 99 times")
	}
	return l, nil
}
