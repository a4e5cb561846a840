package routine

import (
	"fmt"
	"strings"
	"unicode"
)

// longestRange bounds what is read in brackets as a range of turn, in bytes.
const longestRange = 40

// isBracket reports whether a word is a note in brackets that may be the range of the turn before it.
func isBracket(w word) bool { return strings.HasPrefix(w.text, "(") && strings.HasSuffix(w.text, ")") }

// mayBeRange reports whether what stands in brackets may be a range of turn.
func mayBeRange(inside string) bool {
	inside = strings.TrimSpace(inside)
	return len(inside) <= longestRange && unicode.IsNumber(firstRune(inside))
}

// dashed returns where an amount that is written together with a dash and another, "1/4–3/8", parts, and how long the
// dash is; 0 if text is nothing of that kind.
func dashed(text string) (at, dash int) {
	if !unicode.IsNumber(firstRune(text)) {
		return 0, 0
	}
	for _, mark := range []string{"-", "–", "—"} {
		if first, rest, ok := strings.Cut(text, mark); ok && (strings.ContainsRune(first, '/') || fractions[firstRune(first)] != 0 || strings.ContainsRune(rest, '/') || fractions[firstRune(rest)] != 0) &&
			unicode.IsNumber(firstRune(rest)) {
			return len(first), len(mark)
		}
	}
	return 0, 0
}

// spread is a range of turn as it is written: two amounts with their sides.
type spread struct {
	amounts [2]Turn
	sides   [2]int // as turnSides; 0 if not written
	words   int
}

// spread reads "1/4 to 3/8 R" or "1/8 L to 1/8 R"; words is 0 if words begin otherwise.
func (l *lexicon) spread(words []word) (s spread) {
	at := 0
	for i := range s.amounts {
		if i > 0 {
			if at == len(words) || !l.through[words[at].text] {
				return spread{}
			}
			at++
		}
		amount, n := l.bound(words[at:])
		if n == 0 {
			return spread{}
		}
		at += n
		side := at
		if i > 0 { // "1/4 to 3/8 to the R"
			side = l.skipToward(words, at)
		}
		if side < len(words) && turnSides[words[side].text] != 0 {
			s.sides[i], at = turnSides[words[side].text], side+1
		}
		s.amounts[i] = amount
	}
	s.words = at
	return s
}

// bound reads an amount of turn that may be none, and returns how many words it takes.
func (l *lexicon) bound(words []word) (Turn, int) {
	if len(words) == 0 {
		return 0, 0
	}
	if words[0].text == "0" || words[0].text == "none" {
		return 0, 1
	}
	n, used, _, ok := l.amount(words)
	if !ok {
		return 0, 0
	}
	return n, used
}

// ends returns the two ends as turns; before is a side that stands before them, or 0. It returns false if a side is
// missing.
func (s *spread) ends(before int) (ends [2]Turn, ok bool) {
	for i := range ends {
		side := s.sides[i]
		if side == 0 {
			side = s.sides[1-i]
		}
		if side == 0 {
			side = before
		}
		if side == 0 && s.amounts[i] != 0 {
			return ends, false
		}
		ends[i] = Turn(side) * s.amounts[i]
	}
	return ends, true
}

// varied reads a turn that may vary, its usual amount first, and returns the number of words. Before is a side that
// stands before the amounts, or 0.
func (p *parser) varied(r *reading, words []word, before int, how turnKind) int {
	if len(words) > 1 && words[0].text == "0" && isBracket(words[1]) {
		after := how == turnsOn && len(words) > 2 && lex().after[words[2].text]
		if p.within(r, words[1], 0, how, after || how == turnsAfter) {
			if after {
				return 3
			}
			return 2
		}
	}
	s := lex().spread(words)
	if s.words == 0 {
		return 0
	}
	at := extent{words[0].at.from, words[s.words-1].at.to}
	ends, ok := s.ends(before)
	used := s.words
	after := how == turnsAfter
	if !after && used < len(words) && lex().after[words[used].text] {
		after = true
		used++
	}
	switch {
	case !ok:
		r.step.unclear = true
		p.add("turn-unreadable", at, "a turn needs a side", "write L or R after the second amount")
	case ends[0] == ends[1]:
		p.badRange(r, at, "both amounts are the same", "write "+ends[0].orNone())
	default:
		p.vary(r, at, ends[0], ends, how, after)
	}
	return used
}

// within reads the range in brackets after a turn, "1/4 R (1/8 to 3/8)". It returns false if there is none in them.
func (p *parser) within(r *reading, bracket word, usual Turn, how turnKind, after bool) bool {
	at := extent{bracket.at.from + 1, bracket.at.to - 1}
	inside, _ := lex().split(p.src.slice(at), at.from)
	s := lex().spread(inside)
	if s.words == 0 || s.words != len(inside) {
		return false
	}
	side := 0
	if usual != 0 {
		side = int(usual / max(usual, -usual))
	}
	ends, ok := s.ends(side)
	from, to := min(ends[0], ends[1]), max(ends[0], ends[1])
	switch {
	case !ok:
		p.badRange(r, bracket.at, "a range needs a side", "write L or R after the second amount")
	case s.sides == [2]int{} && s.amounts[0] > s.amounts[1]:
		p.badRange(r, bracket.at, quoted(p.bracketText(bracket))+" goes backwards", "write the smaller amount first")
	case usual < from || usual > to || from == to:
		p.badRange(r, bracket.at, fmt.Sprintf("%s does not lie within %s", usual.orNone(), p.bracketText(bracket)), "write the range around the usual turn: 1/4 R (1/8 to 3/8)")
	default:
		p.vary(r, bracket.at, usual, ends, how, after)
	}
	return true
}

// bracketText returns what stands in brackets.
func (p *parser) bracketText(w word) string {
	return Plain(p.src.slice(extent{w.at.from + 1, w.at.to - 1}))
}

// vary sets a turn and how far it may vary.
func (p *parser) vary(r *reading, at extent, usual Turn, ends [2]Turn, how turnKind, after bool) {
	to, varies := &r.step.Turn, &r.step.Varies
	if after {
		to, varies = &r.step.After, &r.step.VariesAfter
	}
	span := Range{min(ends[0], ends[1]), max(ends[0], ends[1])}
	switch {
	case how == footTurns:
		p.badRange(r, at, "a turn of the foot alone can't vary", "write one amount")
	case span.From < -mostTurn || span.To > mostTurn:
		p.badRange(r, at, "nobody can turn this far in one step", "")
	case varies.Varies() || *to != 0 && *to != usual:
		p.badRange(r, at, "this step has another turn as well", "write how far it turns altogether, and how far that may vary")
	default:
		*to, *varies = usual, span
	}
}

func (p *parser) badRange(r *reading, at extent, message, hint string) {
	r.step.unclear = true
	p.add("turn-range", at, message, hint)
}
