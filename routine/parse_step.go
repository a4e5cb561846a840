package routine

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// reading is the state while a step's cell is read.
type reading struct {
	step   Step
	size   Size   // a size that waits for its way
	weight Weight // given in words, which outweigh an action's; Full if not said
	twice  string // a second way
	apart  string // what contradicts something before it
	tapped string // "tap to RF", which says no more than "tap" unless a way follows
}

func (r *reading) way(w Way) {
	switch {
	case r.step.Way == NoWay:
		r.step.Way, r.step.Size = w, r.size
	case r.step.Slightly == NoWay && (r.size == Slight || r.size == Usual && w == Across):
		if r.step.Slightly = w; r.size == Slight && w == Across { // written as "and across"
			r.remark("slightly across")
		}
	default:
		r.twice = w.String()
	}
	r.size = Usual
}

// sized applies a size to the way that follows, or to the one before: "forward, small".
func (r *reading) sized(s Size) {
	if r.size != Usual && r.size != s {
		r.apart = s.String()
	}
	r.size = s
}

// weighs sets the step's weight.
func (r *reading) weighs(w Weight) {
	if r.weight != Full && r.weight != w {
		r.apart = weightNames[w]
	}
	r.weight = w
}

// finish settles what depends on the whole cell.
func (r *reading) finish() {
	s := &r.step
	if r.size != Usual { // no way followed
		if s.Size != Usual && s.Size != r.size {
			r.apart = r.size.String()
		}
		s.Size = r.size
	}
	if r.tapped != "" && s.Way != NoWay && !r.goesBeside() {
		r.remark(r.tapped)
	}
	switch {
	case r.weight != Full && s.Stands():
		r.remark(weightNames[r.weight])
	case r.weight != Full:
		s.Weight = r.weight
	}
}

// remark adds to the note what has no other place in a step.
func (r *reading) remark(text string) {
	switch notes := &r.step.Note; {
	case *notes == "":
		*notes = text
	case !slices.Contains(strings.Split(*notes, ", "), text):
		*notes += ", " + text
	}
}

func (r *reading) action(name string) {
	if !r.step.has(name) {
		r.step.Actions = append(r.step.Actions, name)
	}
	if w := actions[name].weight; w != Full {
		r.step.Weight = w
	}
}

// splitWords splits a cell into words, with commas as words, and the note in brackets.
func splitWords(text string, base int) (words []word, note string) {
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		switch {
		case unicode.IsSpace(r), r == '*', r == '`':
			i += size
		case r == ',' || r == ';':
			words = append(words, word{",", extent{base + i, base + i + 1}})
			i++
		case r == '(' && closing(text[i:]) > 0:
			j := i + closing(text[i:])
			note = strings.TrimSpace(note + " " + Plain(text[i+1:j]))
			i = j + 1
		default:
			j := i + size
			for j < len(text) {
				r, size := utf8.DecodeRuneInString(text[j:])
				if unicode.IsSpace(r) || strings.ContainsRune(",;(*`", r) {
					break
				}
				j += size
			}
			word := word{strings.ToLower(text[i:j]), extent{base + i, base + j}}
			if short := strings.TrimRight(word.text, "."); short != "" {
				word.text = short // "fwd.", "pos."
			}
			words = append(words, word)
			i = j
		}
	}
	return words, note
}

// closing returns the index of the bracket that closes the one text begins with, or 0.
func closing(text string) int {
	depth := 0
	for i := range len(text) {
		switch text[i] {
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				return i
			}
		}
	}
	return 0
}

// step reads the cell at an extent of the sheet.
func (p *parser) step(at extent) Step {
	if p.tooLong(at) {
		return Step{At: p.src.span(at.from, at.to), unclear: true}
	}
	words, note := splitWords(p.src.slice(at), at.from)
	r := reading{}
	r.step.At = p.src.span(at.from, at.to)
	r.step.Note = note
	i := 0
	switch {
	case len(words) == 0:
		r.step.unclear = true
		p.add("step-missing", at, "nothing is written for this count", "write – for a partner who stands still")
		return r.step
	case words[0].text == "–" || words[0].text == "-" || words[0].text == "—" || words[0].text == "stand" || words[0].text == "stands":
		i = 1
	default:
		foot, ok := footNames[words[0].text]
		if !ok {
			r.step.unclear = true
			p.add("foot-missing", words[0].at, "a step starts with the foot that takes it, not with "+quoted(words[0].text), "write LF or RF, or – for a partner who stands still")
			return r.step
		}
		r.step.Foot = foot
		if i = 1; len(words) > 1 && words[1].text == "foot" {
			i = 2
		}
	}
	p.details(&r, words[i:])
	r.finish()
	if r.twice != "" {
		p.add("place-twice", at, "a foot can't go to two places, but "+quoted(r.twice)+" is given as well", "write \"slightly "+r.twice+"\" if that is the smaller part of the step")
	}
	s := &r.step
	if r.apart != "" {
		s.unclear = true
		p.add("said-twice", at, quoted(r.apart)+" contradicts the rest of this step", "keep one")
	}
	switch {
	case s.Stands() && (s.Way != NoWay || s.Size != Usual):
		s.unclear = true
		p.add("foot-missing", at, "a partner who stands still can't go anywhere", "write LF or RF instead of –")
	case s.Stands():
		s.Way, s.Slightly, s.Size, s.Weight = NoWay, NoWay, Usual, Full
	case s.Way == NoWay && s.Slightly == NoWay && len(s.Actions) == 0 && !s.unclear:
		p.add("place-missing", at, "this does not say where "+s.Foot.String()+" goes", "add forward, back, side, close, replace, in place …")
	}
	return *s
}

// tooLong reports whether a cell or a stance is longer than anyone could dance.
func (p *parser) tooLong(at extent) bool {
	if at.to-at.from <= longestCell {
		return false
	}
	p.add("too-large", at, fmt.Sprintf("this is longer than %d letters", longestCell), "")
	return true
}

// details reads everything after the foot, or a stance.
func (p *parser) details(r *reading, words []word) {
	v := stepVocabulary()
	var unknown []word // adjacent words, which may be one phrase
	report := func() {
		if len(unknown) == 0 {
			return
		}
		at := extent{unknown[0].at.from, unknown[len(unknown)-1].at.to}
		unknown = nil
		r.step.unclear = true
		p.add("unknown-word", at, "unknown word "+quoted(p.src.slice(at))+" in a step", p.near(p.src.slice(at), v.known))
	}
	defer report()
	begin := 0   // start of the phrase read last, if no comma has come since
	turned := -1 // where a turn ended
	for i := 0; i < len(words); {
		if len(unknown) > 0 && unknown[len(unknown)-1] != words[i-1] {
			report()
		}
		w, footwork := words[i], r.step.Footwork
		if w.text == "," {
			i++
			begin = i
			continue
		}
		n := p.turn(r, words[i:])
		if n > 0 {
			turned = i + n
		} else if n = p.alignment(r, words[i:]); n == 0 {
			n = v.match(r, words[i:])
			p.footwork(r, footwork, w)
		}
		if n > 0 {
			begin, i = i, i+n
			continue
		}
		if _, isFoot := footNames[w.text]; isFoot && i > 0 {
			p.side(r, words, begin, i)
			i++
			begin = i
			continue
		}
		if letters, ok := footworkLetters(p.src.slice(w.at)); ok {
			r.step.Footwork = letters
			p.footwork(r, footwork, w)
			begin = i
			i++
			continue
		}
		if w.text == "turn" || w.text == "turning" {
			i += p.turning(r, words[i:], i == turned)
			continue
		}
		if fillers[w.text] {
			i++
			continue
		}
		unknown = append(unknown, w)
		i++
	}
}

// side reads a foot, or a side, among the details at i, after a phrase that begins at begin. "Closes to
// RF" says no more than that LF closes; "swivel R" has no place but the note.
func (p *parser) side(r *reading, words []word, begin, i int) {
	w, isFoot := words[i], strings.HasSuffix(words[i].text, "f")
	before := words[i-1].text
	switch {
	case before == ",":
		r.step.unclear = true
		p.add("unknown-word", w.at, quoted(p.src.slice(w.at))+" means nothing by itself", "write a turn as an amount and a side: 1/4 "+strings.ToUpper(w.text[:1]))
	case begin < i && footNames[w.text] == r.step.Foot.Other() && r.goesBeside():
	case begin < i && footNames[w.text] == r.step.Foot.Other() && isFoot && r.step.Way == NoWay && (r.step.has("tap") || r.step.has("brush") || r.step.has("draw")):
		r.tapped = p.said(words[begin : i+1])
	case isFoot && (!fillers[before] || before == "and" || before == "&"):
		r.step.unclear = true
		p.add("unknown-word", w.at, "this step names a second foot, "+quoted(p.src.slice(w.at)), "write one step per row, or put this into a note in brackets")
	default:
		r.remark(p.said(words[begin : i+1]))
	}
}

// goesBeside reports whether the foot goes to the other one.
func (r *reading) goesBeside() bool {
	w := r.step.Way
	return w == Close || w == HalfClose || w == CrossInFront || w == CrossBehind
}

// turning reads "turn" or "turning" and returns how many words it takes. Beside an amount it says
// nothing; without one it says that the step turns, but not how far.
func (p *parser) turning(r *reading, words []word, turned bool) int {
	next := 1
	for next < len(words) && (words[next].text == "," || fillers[words[next].text]) {
		next++
	}
	if next < len(words) {
		w := words[next]
		if isTurn(words[next:]) {
			return 1
		}
		if _, isSide := footNames[w.text]; isSide && words[next-1].text != "," {
			r.step.unclear = true
			p.add("turn-unreadable", extent{words[0].at.from, w.at.to}, "this does not say how far to turn", "write 1/8, 1/4, 3/8 … before "+strings.ToUpper(w.text[:1])+", or put it into a note in brackets")
			return next + 1
		}
	}
	if !turned { // not "1/4 R turn"
		r.remark(p.said(words[:1]))
	}
	return 1
}

// skip returns the index of the first word, from i on, that is none of texts.
func skip(words []word, i int, texts ...string) int {
	for i < len(words) && slices.Contains(texts, words[i].text) {
		i++
	}
	return i
}

// said returns a run of words as written.
func (p *parser) said(words []word) string {
	texts := make([]string, len(words))
	for i, w := range words {
		texts[i] = p.src.slice(w.at)
	}
	return strings.Join(texts, " ")
}

// footwork reports footwork that differs from what was said before.
func (p *parser) footwork(r *reading, before string, w word) {
	if before != "" && before != r.step.Footwork {
		p.add("said-twice", w.at, "the footwork is both "+before+" and "+r.step.Footwork, "keep one")
	}
}

var footworkPattern = regexp.MustCompile(`^(?:IE|[HTBFW]){1,5}$`)

// footworkLetters reads the trade's letters: H heel, T toe, B ball, F flat, W whole foot, IE inside
// edge. They must be capitals, as other words may be spelt with them.
func footworkLetters(text string) (string, bool) {
	return text, footworkPattern.MatchString(text)
}

// mostTurn is the largest turn of one step, in eighths.
const mostTurn Turn = 3*directions + 7

// eighths reads an amount of turn: "1/4", "¼", "1¼", "1", "3/8".
func eighths(text string) (n int, ok bool) {
	if text == "" {
		return 0, false
	}
	if r, size := utf8.DecodeLastRuneInString(text); fractions[r] != 0 {
		n, text = fractions[r], text[:len(text)-size]
		if text == "" {
			return n, true
		}
	} else if num, den, isFraction := strings.Cut(text, "/"); isFraction {
		a, err1 := strconv.ParseUint(num, 10, 8)
		b, err2 := strconv.ParseUint(den, 10, 8)
		if err1 != nil || err2 != nil || b == 0 || a == 0 || a*8%b != 0 || a*8/b > 24 {
			return 0, false
		}
		return int(a * 8 / b), true
	}
	whole, err := strconv.ParseUint(text, 10, 8)
	if err != nil || whole > 3 || whole == 0 {
		return 0, false
	}
	return n + int(whole)*8, true
}

// ParseAmount reads an amount of turn without left or right, "3/8".
func ParseAmount(text string) (Turn, bool) {
	n, ok := eighths(text)
	return Turn(n), ok
}

// isTurn reports whether words begin with an amount of turn. "Half close" does not.
func isTurn(words []word) bool {
	if _, ok := eighths(words[0].text); ok {
		return true
	}
	i := skip(words, 1, "to", "turn", "the")
	return namedAmounts[words[0].text] != 0 && i < len(words) && footNames[words[i].text] != NoFoot
}

// turn reads an amount and left or right, "1/4 R", "1 1/4 to L", "half turn right". It returns the
// number of words read, 0 if they are not a turn.
func (p *parser) turn(r *reading, words []word) int {
	isNumber := unicode.IsNumber(firstRune(words[0].text))
	amount, ok := eighths(words[0].text)
	used := 1
	if !ok {
		if amount, ok = namedAmounts[words[0].text]; !ok && !isNumber {
			return 0
		}
	} else if len(words) > 1 && amount%8 == 0 {
		if part, isPart := eighths(words[1].text); isPart && part < 8 {
			amount += part
			used = 2
		}
	}
	used = skip(words, used, "to", "turn", "the")
	side := 0
	if used < len(words) {
		side = turnSides[words[used].text]
	}
	if side == 0 && !isNumber {
		return 0 // "half close"
	}
	if !ok || side == 0 {
		r.step.unclear = true
		last := used - 1
		if ok {
			p.add("turn-unreadable", extent{words[0].at.from, words[last].at.to}, "a turn needs a side", "write "+Turn(amount).String()+" or "+Turn(-amount).String())
		} else {
			p.add("turn-unreadable", words[0].at, quoted(words[0].text)+" is not a turn in eighths", "write 1/8, 1/4, 3/8, 1/2, 5/8, 3/4, 7/8 or 1, then L or R")
			if side != 0 {
				return used + 1
			}
		}
		return used
	}
	total, at := r.step.Turn+Turn(side*amount), extent{words[0].at.from, words[used].at.to}
	switch {
	case int(r.step.Turn)*side < 0:
		r.step.unclear = true
		p.add("said-twice", at, "this step turns both "+r.step.Turn.String()+" and "+Turn(side*amount).String(), "write how far it turns altogether")
	case total < -mostTurn || total > mostTurn:
		r.step.unclear = true
		p.add("turn-unreadable", at, "nobody can turn this far in one step", "")
	default:
		r.step.Turn = total
	}
	return used + 1
}

func firstRune(s string) rune { r, _ := utf8.DecodeRuneInString(s); return r }

// direction reads the longest direction that words begin with, and returns its length.
func direction(words []word) (d Direction, n int) {
	var text string
	for k := 0; k < len(words) && k < longestDirection; k++ {
		if k > 0 {
			text += " "
		}
		text += words[k].text
		if found, ok := directionWords[text]; ok {
			d, n = found, k+1
		}
	}
	return d, n
}

// alignment reads "facing wall" or "backing DC" and returns the number of words.
func (p *parser) alignment(r *reading, words []word) int {
	stand, ok := stands[words[0].text]
	if !ok {
		return 0
	}
	used := skip(words, 1, "the", "to")
	d, n := direction(words[used:])
	if n == 0 {
		if stand == Facing && words[0].text == "facing" && (len(words) == 1 || words[1].text == "," || fillers[words[1].text] || words[1].text == "turn" || words[1].text == "turning") {
			return 0 // the position
		}
		if words[0].text == "points" || words[0].text == "face" {
			return 0
		}
		at, message := words[0].at, quoted(words[0].text)+" needs a direction in the hall"
		if used < len(words) && words[used].text != "," {
			at = words[used].at
			message = quoted(p.src.slice(at)) + " is not a direction in the hall"
		}
		r.step.unclear = true
		p.add("unknown-direction", at, message, didYouMean(p.src.slice(at), directionNames[:]))
		return min(used+1, len(words))
	}
	to := Alignment{stand, d}
	if before := r.step.Alignment; before.Stand != NoStand && before != to {
		r.step.unclear = true
		p.add("said-twice", extent{words[0].at.from, words[used+n-1].at.to}, "this says both "+before.String()+" and "+to.String(), "keep one")
	}
	r.step.Alignment = to
	return used + n
}
