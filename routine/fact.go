package routine

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

var factPattern = regexp.MustCompile(`^(?s)\s*([A-Za-z][A-Za-z ]{0,30}?)\s*:\s*(.*)$`)

// splitFact cuts "starts: open facing" into its name and the stretch of its value.
func (p *sheetParser) splitFact(at stretch) (factText, bool) {
	m := factPattern.FindStringSubmatchIndex(p.src.slice(at))
	if m == nil {
		return factText{}, false
	}
	return factText{
		key:   stretch{at.from + m[2], at.from + m[3]},
		value: stretch{at.from + m[4], at.from + m[5]},
		name:  strings.ToLower(strings.Join(strings.Fields(p.src.slice(stretch{at.from + m[2], at.from + m[3]})), " ")),
	}, true
}

var factNames = []string{"starts", "ends", "also called", "level", "source", "note"}

// fact reads a bullet above a chart. A bullet that names no fact is prose.
func (p *sheetParser) fact(fig *Figure, at stretch) {
	fact, ok := p.splitFact(at)
	if !ok {
		return
	}
	value := p.src.slice(fact.value)
	switch fact.name {
	case "starts":
		fig.Starts = p.stance(fact.value)
	case "ends":
		fig.Ends = p.stance(fact.value)
	case "also called":
		for _, alias := range strings.FieldsFunc(value, func(r rune) bool { return r == ',' || r == ';' }) {
			fig.Aliases = append(fig.Aliases, headingText(alias))
		}
	case "level":
		n, err := strconv.ParseUint(strings.TrimSpace(value), 10, 8)
		if err != nil || n == 0 || n > mostLevels {
			p.add("bad-value", fact.value, quoted(value)+" is no teaching level", "1, 2 or 3")
			n = 0
		}
		fig.Level = int(n)
	case "source":
		fig.Source = headingText(value)
	case "note":
	default:
		if near := Nearest(fact.name, factNames); len(near) > 0 && len(Key(fact.name)) < len(Key(near[0]))+3 {
			p.add("unknown-fact", fact.key, quoted(fact.name)+" is no fact of a figure", "perhaps "+strings.Join(near, ", "))
		}
		return
	}
	if fact.name != "note" && slices.ContainsFunc(fig.text.facts, func(f factText) bool { return f.name == fact.name }) {
		p.add("said-twice", fact.key, quoted(fact.name)+" is said twice of this figure", "keep one")
	}
	fig.text.facts = append(fig.text.facts, fact)
}

// stance reads "closed or open facing, leader LF free, follower RF free, facing DW".
func (p *sheetParser) stance(at stretch) Stance {
	st := Stance{At: p.src.span(at.from, at.to)}
	if p.tooLong(at) {
		st.Positions = AnyPosition
		return st
	}
	words, note := splitWords(p.src.slice(at), at.from)
	st.Note = note
	if len(words) == 0 {
		p.add("bad-value", at, "nothing is said here", "closed or open facing, leader LF free, facing DW")
	}
	unclear := false
	unknown := func(at stretch, message, hint string) {
		p.add("unknown-word", at, message, hint)
		unclear = true
	}
	twice := func(at stretch, side Partner) {
		p.add("said-twice", at, "this is said twice of the "+side.String(), "keep one")
	}
	var r reading
	for i := 0; i < len(words); {
		w := words[i]
		if joined(words[i:]) == "as started" {
			st.AsStarted = true
			i += 2
			continue
		}
		side := Leader
		if c := columnNames[w.text]; c == leaderColumn || c == followerColumn {
			side = Partner(c - leaderColumn)
			if i++; i == len(words) || words[i].text == "," {
				unknown(w.at, "nothing is said of the "+side.String(), side.String()+" LF free, "+side.String()+" facing DW")
				continue
			}
			w = words[i]
			if foot := footNames[w.text]; foot != NoFoot {
				if st.Free[side] != NoFoot {
					twice(w.at, side)
					foot = NoFoot
				}
				st.Free[side] = foot
				for i++; i < len(words) && (words[i].text == "free" || words[i].text == "foot" || words[i].text == "is"); i++ {
				}
				continue
			}
		}
		r.step.Alignment = Alignment{}
		if n := p.alignment(&r, words[i:]); n > 0 {
			if st.Facing[side].Stand != NoStand {
				twice(w.at, side)
				r.step.Alignment = Alignment{}
			}
			st.Facing[side] = r.step.Alignment
			i += n
			continue
		}
		if n := stepVocabulary().match(&r, words[i:]); n > 0 && r.step.Position != 0 {
			st.Positions |= r.step.Position
			r = reading{}
			i += n
			continue
		}
		if w.text != "," && w.text != "or" && !fillers[w.text] {
			unknown(w.at, quoted(p.src.slice(w.at))+" is no hold or position", p.near(w.text, positionNames()))
		}
		i++
	}
	if unclear {
		st.Positions, st.AsStarted = AnyPosition, false
	}
	return st
}

func joined(words []word) string {
	var texts []string
	for _, w := range words[:min(2, len(words))] {
		texts = append(texts, w.text)
	}
	return strings.Join(texts, " ")
}

func positionNames() (names []string) {
	for _, fact := range positionFacts {
		names = append(names, fact.name)
	}
	return names
}
