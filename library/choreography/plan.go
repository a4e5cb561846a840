package choreography

import (
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
// of phrases where there are few. Its theme comes back if there is time for it. Figures that only fill
// multiples of some bars, as those of six beats do, have phrases of the most bars that they fill in one of the
// dance's; planned returns how many those are.
func planned(d *routine.Dance, least, bars int) (plan []section, phrase int) {
	whole := func(bars int) int { return max(1, bars/least) * least }
	phrase = whole(d.PhraseBars)
	unit := phrase
	for _, parts := range []int{1, 2, 4} {
		if unit = whole(phrase / parts); bars >= 3*unit {
			break
		}
	}
	met := map[byte]bool{}
	for from := 0; from < bars; from += unit {
		letter := rondo[from/unit%len(rondo)]
		plan = append(plan, section{letter, routine.Beats(from) * d.Metre.Bar(), routine.Beats(min(bars, from+unit)) * d.Metre.Bar(), met[letter]})
		met[letter] = true
	}
	return plan, phrase
}

// leastBars returns the least number of bars that figures may fill: they only fill its multiples.
func leastBars(d *routine.Dance, figs []*routine.Figure) int {
	var unit routine.Beats
	for _, fig := range figs {
		for _, ways := range ways(fig) {
			unit = commonDivisor(unit, ways[0].length())
		}
	}
	return max(1, int(unit/commonDivisor(unit, d.Metre.Bar())))
}

// commonDivisor returns the greatest common divisor of two lengths; 0 has any divisor.
func commonDivisor(a, b routine.Beats) routine.Beats {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// at returns the section in which a beat of the routine lies.
func at(plan []section, danced routine.Beats) *section {
	i := slices.IndexFunc(plan, func(s section) bool { return danced < s.to })
	if i < 0 {
		i = len(plan) - 1
	}
	return &plan[i]
}
