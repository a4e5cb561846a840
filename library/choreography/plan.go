package choreography

import (
	"cmp"
	"slices"

	"dance.example/slowquick/routine"
)

// section is a stretch of a routine, as planned. Sections of one letter are danced alike as far as
// they can be; A is the theme.
type section struct {
	letter   byte
	from, to routine.Beats
	again    bool // it was danced before
}

// rondo is the order of sections: the theme returns after each of the others. Common practice.
const rondo = "ABACABADAEACABAD"

// planned returns the sections of a routine as long as a number of bars: phrases, or halves or quarters
// of phrases where there are few. Its theme comes back if there is time for it.
func planned(d *routine.Dance, bars int) (plan []section) {
	unit := d.PhraseBars
	for _, parts := range []int{1, 2, 4} {
		if unit = max(1, d.PhraseBars/parts); bars >= 3*unit {
			break
		}
	}
	met := map[byte]bool{}
	for from := 0; from < bars; from += unit {
		letter := rondo[from/unit%len(rondo)]
		plan = append(plan, section{letter, routine.Beats(from) * d.Metre.Bar(), routine.Beats(min(bars, from+unit)) * d.Metre.Bar(), met[letter]})
		met[letter] = true
	}
	return plan
}

// at returns the section in which a beat of the routine lies.
func at(plan []section, danced routine.Beats) *section {
	i := slices.IndexFunc(plan, func(s section) bool { return danced < s.to })
	if i < 0 {
		i = len(plan) - 1
	}
	return &plan[i]
}

// usualHold returns the positions in which a figure starts; the closed hold if it does not say.
func usualHold(fig *routine.Figure) routine.PositionSet {
	return cmp.Or(fig.Starts.Positions, 1<<routine.Closed)
}

// settles reports whether a figure ends where the next can begin from an ordinary hold.
func settles(fig *routine.Figure) bool {
	ends := fig.Ends.Positions
	if fig.Ends.AsStarted || ends == 0 {
		ends = usualHold(fig)
	}
	return ends&ordinary != 0
}

// ordinary are the holds that need not be left again soon.
const ordinary = 1<<routine.Closed | 1<<routine.OpenFacing | 1<<routine.OutsidePartner
