package choreography

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// Why says how a routine of d is made, a sentence or two on each thing, as a teacher would.
func (r *Routine) Why(d *routine.Dance) (lines []string) {
	lines = append(lines, r.whyForm(d), r.whyOpening(d))
	lines = append(lines, r.whySets(d)...)
	if line := r.whyClosing(d); line != "" {
		lines = append(lines, line)
	}
	if line := r.whyCorners(d); line != "" {
		lines = append(lines, line)
	}
	if len(r.taught) > 0 {
		lines = append(lines, "New here: "+Names(r.taught)+".")
	}
	return lines
}

// bars names the bars from one beat of the routine up to another: "bar 3", "bars 5–8".
func bars(d *routine.Dance, from, to routine.Beats) string {
	first, last := d.Metre.BarNumber(from), d.Metre.BarNumber(to-1)
	if first == last {
		return fmt.Sprintf("bar %d", first)
	}
	return fmt.Sprintf("bars %d–%d", first, last)
}

func (r *Routine) whyForm(d *routine.Dance) string {
	var letters, back []string
	for i := range r.plan {
		s := &r.plan[i]
		letters = append(letters, string(s.letter))
		if s.again && s.letter == 'A' {
			back = append(back, strings.TrimPrefix(strings.TrimPrefix(bars(d, s.from, s.to), "bars "), "bar "))
		}
	}
	theme := bars(d, r.plan[0].from, r.plan[0].to)
	if len(back) == 0 {
		return "It is too short for a theme to come back."
	}
	text := fmt.Sprintf("Its form is %s: the theme, %s, comes back in bars %s", strings.Join(letters, " "), theme, and(back))
	switch as, again := r.asBefore(); {
	case as == 0:
		return "Figures come back, but no theme."
	case as < again:
		text += ", as far as what comes before and after it allows"
	}
	return text + "."
}

func (r *Routine) whyOpening(d *routine.Dance) string {
	score, _ := routine.InOrder(d, r.faces, r.Items...)
	first := &score.Passages[0]
	text := fmt.Sprintf("It opens with %s, in %s hold", first.Name(), first.Begins.Positions.First())
	if d.Travels {
		text += ", facing " + first.Begins.Facing[routine.Leader].String()
	}
	if foot := first.Begins.Free[routine.Leader]; foot != routine.NoFoot {
		text += fmt.Sprintf(", with the leader's %s", foot)
	}
	return text + "."
}

// whySets says what belongs together, each set where it is danced first.
func (r *Routine) whySets(d *routine.Dance) (lines []string) {
	var met []*move
	for i := range r.steps {
		s := &r.steps[i]
		if !s.move.set || slices.Contains(met, s.move) {
			continue
		}
		met = append(met, s.move)
		var names []string
		for j := range s.danced {
			names = append(names, s.danced[j].name())
		}
		lines = append(lines, fmt.Sprintf("%s make a set (%s).", and(names), bars(d, s.at, s.at+s.takes)))
	}
	return lines
}

// whyClosing says what the phrases end with.
func (r *Routine) whyClosing(d *routine.Dance) string {
	phrase := routine.Beats(cmp.Or(r.Phrase, d.PhraseBars)) * d.Metre.Bar()
	var names []string
	for i := range r.steps {
		s := &r.steps[i]
		last := s.danced[len(s.danced)-1].name()
		if end := s.at + s.takes; phrase > 0 && end%phrase == 0 && !slices.Contains(names, last) {
			names = append(names, last)
		}
	}
	if len(names) == 0 {
		return ""
	}
	if r.Closed {
		return "Phrases end where the opening can be danced again, with " + and(names) + "."
	}
	return "Phrases end with " + and(names) + "."
}

func (r *Routine) whyCorners(d *routine.Dance) string {
	var names []string
	for i := range r.steps {
		if s := &r.steps[i]; s.corner {
			names = append(names, fmt.Sprintf("%s in bar %d", s.danced[len(s.danced)-1].name(), d.Metre.BarNumber(s.at+s.takes-1)))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "It takes corners after " + and(names) + "."
}

// and joins names: "a, b and c".
func and(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}
