package player

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
)

// Ladder is a tempo that grows from one run-through of the loop to the next.
type Ladder struct {
	Start, Gain, Top float64 // in per cent of the routine's tempo; Gain from rung to rung
	Times            int     // on each rung; 0 is 1
	Begin            int     // the rung of the first pass, from 0; below 0 it is slower than Start
}

// LeastGain is the least by which a ladder grows from rung to rung, in per cent.
const LeastGain = 0.5

// mostRungs bounds what is counted of a ladder.
const mostRungs = 1 << 20

func (l Ladder) times() int { return max(l.Times, 1) }

// Rungs is how many tempi l has.
func (l Ladder) Rungs() int {
	if l.Gain == 0 {
		return 1
	}
	return 1 + int(min(max(math.Ceil((l.Top-l.Start)/l.Gain-1e-9), 0), mostRungs))
}

// Rung is the rung of a pass, both counted from 0. It is below 0 where somebody went down
// from the first.
func (l Ladder) Rung(pass int) int { return min(l.Begin+pass/l.times(), l.Rungs()-1) }

// percent is the tempo of a pass.
func (l Ladder) percent(pass int) float64 {
	p := l.Start + l.Gain*float64(l.Rung(pass))
	if l.Gain >= 0 {
		return max(min(p, max(l.Top, l.Start)), min(l.Start, SlowestPercent))
	}
	return max(p, min(l.Top, l.Start))
}

// settled is the pass from which the tempo stays as it is, from a pass on.
func (l Ladder) settled(pass int) int { return max(pass, (l.Rungs()-1-l.Begin)*l.times()) }

// From is l begun on the rung of a pass, or so many rungs above it: below the
// first rung it goes down by the same gain, to the slowest tempo there is.
func (l Ladder) From(pass, rungs int) Ladder {
	lowest := 0
	if l.Gain > 0 {
		lowest = -int(max(math.Ceil((l.Start-SlowestPercent)/l.Gain-1e-9), 0))
	}
	l.Begin = min(max(l.Rung(pass)+rungs, lowest), l.Rungs()-1)
	return l
}

var ladderPattern = regexp.MustCompile(`^\s*([\d.]+)\s*%?\s*(?:to|–|-)\s*([\d.]+)\s*%?(?:\s*,?\s*by\s*([\d.]+)\s*%?)?(?:\s*,?\s*(\d+)\s*passes?(?:\s*each)?)?\s*$`)

// ParseLadder reads a ladder such as "70 to 100 % by 5, 2 passes each". The gain is 5 by
// default, and there is one pass on each rung.
func ParseLadder(text string) (Ladder, error) {
	m := ladderPattern.FindStringSubmatch(text)
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
		return Ladder{}, fmt.Errorf("a ladder grows, between %g and %g %%", SlowestPercent, FastestPercent)
	case l.Gain < LeastGain:
		return Ladder{}, errors.New("a ladder grows by half a per cent or more")
	case l.Times < 1 || l.Times > 99:
		return Ladder{}, errors.New("a rung is danced from once to 99 times")
	}
	return l, nil
}
