package routine

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// reading is the state while a step's cell is read.
type reading struct {
	step    Step
	size    Size   // a size that waits for its way
	weight  Weight // given in words, which outweigh an action's; Full if not said
	twice   string // a second way
	apart   string // what contradicts something before it
	lenient bool   // what is not understood goes into the note
	tapped  string // "tap to RF", which says no more than "tap" unless a way follows
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
	text = Plain(text)
	switch notes := &r.step.Note; {
	case *notes == "":
		*notes = text
	case !slices.Contains(strings.Split(*notes, ", "), text):
		*notes += ", " + text
	}
}

func (r *reading) action(name string) {
	if !slices.Contains(r.step.Actions, name) {
		r.step.Actions = append(r.step.Actions, name)
	}
	if w := actions[name]; w != Full {
		r.step.Weight = w
	}
}

// splitWords splits a cell into words, with commas as words, and the note in brackets.
func splitWords(text string, base int) (words []word, note string) {
	words = make([]word, 0, 1+strings.Count(text, " ")+strings.Count(text, ","))
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
			if mayBeRange(text[i+1 : j]) {
				words = append(words, word{fold(text[i : j+1]), extent{base + i, base + j + 1}})
			} else {
				note = strings.TrimSpace(note + " " + Plain(text[i+1:j]))
			}
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
			words = append(words, newWord(text[i:j], base+i))
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

// ParseStep reads the cell of one step, as far as it can be read.
func ParseStep(text string) (Step, []Finding) {
	f := &findings{src: newSource([]byte(text))}
	s := (&parser{findings: f}).step(extent{0, len(text)}, nil, 0)
	return s, Sorted(f.list)
}

// step reads the step in a cell, and its technique from the cells beside it; number is the step's in the chart.
// Sheets repeat most of their steps, so one without a fault is read once.
func (p *parser) step(at extent, technique []techniqueCell, number int) Step {
	if len(technique) > 0 {
		return p.readStep(at, technique, number)
	}
	text := p.src.slice(at)
	if s, known := p.steps[text]; known {
		s.At = p.src.span(at.from, at.to)
		return s
	}
	faults := len(p.list)
	s := p.readStep(at, nil, number)
	s.Actions = slices.Clip(s.Actions)
	if p.steps != nil && len(p.list) == faults && !s.unclear {
		p.steps[text] = s
	}
	return s
}

func (p *parser) readStep(at extent, technique []techniqueCell, number int) Step {
	if p.tooLong(at) {
		return Step{At: p.src.span(at.from, at.to), unclear: true}
	}
	words, note := lex().split(p.src.slice(at), at.from)
	r := reading{}
	r.step.At = p.src.span(at.from, at.to)
	r.step.Note = note
	rest, ok := p.foot(&r, words, at)
	if !ok {
		r.step.unclear = true
		return r.step
	}
	p.details(&r, rest)
	p.fold(&r, technique, number)
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
	if len(technique) > 0 || at.to-at.from > longestCell/16 { // no word is written sixteen times as long
		p.grown(at, s.String())
	}
	return *s
}

// foot reads the foot that steps, wherever it is named, and returns the other words.
func (p *parser) foot(r *reading, words []word, at extent) (rest []word, ok bool) {
	if len(words) == 0 {
		p.add("step-missing", at, "nothing is written for this count", "write – for a partner who stands still")
		return nil, false
	}
	l := lex()
	if _, n := l.stand.longest(words); n > 0 {
		return words[n:], true
	}
	i, foot := l.stepping(words)
	if foot == NoFoot {
		p.add("foot-missing", words[0].at, "a step starts with the foot that takes it, not with "+quoted(words[0].text), "write LF or RF, or – for a partner who stands still")
		return nil, false
	}
	r.step.Foot = foot
	switch {
	case i < 0:
		return words, true
	case i == 0:
		return words[1:], true
	}
	from := i
	for from > 0 && l.joining[words[from-1].text] { // "forward on the left foot"
		from--
	}
	return slices.Concat(words[:from], words[i+1:]), true
}

// stepping returns the foot that steps and which word names it; -1 if it follows from the other foot,
// as in "closes to RF".
func (l *lexicon) stepping(words []word) (at int, foot Foot) {
	if foot = footNames[words[0].text]; foot != NoFoot {
		return 0, foot
	}
	var r reading
	way := 0
	for way < len(words) && l.joining[words[way].text] {
		way++
	}
	if way < len(words) {
		way += l.match(&r, words[way:])
	}
	for i, w := range words {
		switch {
		case w.text == "lf" || w.text == "rf":
			if i == way && r.goesBeside() && (r.step.Way != Close || words[i-1].text == "beside" || words[i-1].text == "to") || i == way+1 && r.goesBeside() && words[i-1].text == "to" {
				return -1, footNames[w.text].Other()
			}
			return i, footNames[w.text]
		case i == way && r.step.Way != NoWay && footNames[w.text] != NoFoot && (i+1 == len(words) || words[i+1].text == ","): // "forward left"
			return i, footNames[w.text]
		}
	}
	return -1, NoFoot
}

// tooLong reports whether a cell or a stance is longer than anyone could dance.
func (p *parser) tooLong(at extent) bool {
	if at.to-at.from <= longestCell {
		return false
	}
	p.add("too-large", at, fmt.Sprintf("this is longer than %d letters", longestCell), "")
	return true
}

// grown reports a cell or a stance that is too long as tidy writes it.
func (p *parser) grown(at extent, written string) {
	if len(written) > longestCell {
		p.add("too-large", at, fmt.Sprintf("written in full, this is longer than %d letters", longestCell), "")
	}
}

// details reads everything after the foot, or a stance.
func (p *parser) details(r *reading, words []word) {
	l := lex()
	var unknown []word // adjacent words, which may be one phrase
	report := func() {
		if len(unknown) == 0 {
			return
		}
		at := extent{unknown[0].at.from, unknown[len(unknown)-1].at.to}
		unknown = nil
		if r.lenient {
			r.remark(p.src.slice(at))
			return
		}
		r.step.unclear = true
		text := p.src.slice(at)
		if choice, ok := choices[fold(text)]; ok {
			p.add("unknown-word", at, quoted(text)+" "+choice.lacks, choice.hint)
			return
		}
		p.add("unknown-word", at, "unknown word "+quoted(text)+" in a step", p.near(text, l.known))
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
		if n := p.lead(r, words[i:]); n > 0 {
			i += n
			continue
		}
		if isBracket(w) { // no range of a turn
			r.remark(p.bracketText(w))
			i++
			continue
		}
		n := p.turn(r, words, i)
		if n > 0 {
			turned = i + n
		} else if n = p.alignment(r, words[i:]); n == 0 {
			n = l.match(r, words[i:])
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
		if l.turning[w.text] {
			i += p.turning(r, words[i:], i == turned)
			continue
		}
		if n = p.towards(r, words[i:]); n > 0 {
			begin, i = i, i+n
			continue
		}
		if l.joining[w.text] {
			i++
			continue
		}
		unknown = append(unknown, w)
		i++
	}
}

// lead reads what is led, up to the next comma, and returns the number of words.
func (p *parser) lead(r *reading, words []word) int {
	n := slices.IndexFunc(words, func(w word) bool { return w.text == "," })
	if n < 0 {
		n = len(words)
	}
	if l := lex(); n < 2 || !slices.Contains(leading, words[0].text) || l.phraseAt(words) > 1 { // "lead hands joined"
		return 0
	}
	if r.step.Lead != "" {
		r.step.Lead += " and "
	}
	r.step.Lead += Plain(p.said(words[1:n]))
	return n
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
	case begin < i && footNames[w.text] == r.step.Foot.Other() && r.goesBeside() && (isFoot || wayBeside(words[begin:i])):
	case begin < i && footNames[w.text] == r.step.Foot.Other() && isFoot && r.step.Way == NoWay && (r.step.has("tap") || r.step.has("brush") || r.step.has("draw")):
		r.tapped = p.said(words[begin : i+1])
	case isFoot && (!lex().joining[before] || before == "and" || before == "&"):
		r.step.unclear = true
		p.add("unknown-word", w.at, "this step names a second foot, "+quoted(p.src.slice(w.at)), "write one step per row, or put this into a note in brackets")
	default:
		r.remark(p.said(words[begin : i+1]))
	}
}

// wayBeside reports whether words say that a foot goes to the other one, "close to", or nothing, "to".
func wayBeside(words []word) bool {
	var r reading
	n := lex().match(&r, words)
	return r.goesBeside() || n == 0
}

// goesBeside reports whether the foot goes to the other one.
func (r *reading) goesBeside() bool {
	w := r.step.Way
	return w == Close || w == HalfClose || w == CrossInFront || w == CrossBehind
}

// turning reads "turn" or "turning" and returns how many words it takes. Beside an amount it says
// nothing; without one it says that the step turns, but not how far.
func (p *parser) turning(r *reading, words []word, turned bool) int {
	l := lex()
	next := 1
	for next < len(words) && (words[next].text == "," || l.joining[words[next].text] || l.toward[words[next].text]) {
		next++
	}
	if next < len(words) {
		w := words[next]
		if l.isTurn(words[next:]) {
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

// towards reads a direction in the hall that a step goes to, which has no place but the note, and
// returns the number of words. A direction alone may be faced or backed.
func (p *parser) towards(r *reading, words []word) int {
	l := lex()
	from := 0
	for from < len(words) && l.toward[words[from].text] {
		from++
	}
	if from == len(words) {
		return 0
	}
	d, n := l.direction(words[from:])
	switch {
	case n == 0:
		return 0
	case from == 0:
		r.step.unclear = true
		at := extent{words[0].at.from, words[n-1].at.to}
		p.add("unknown-word", at, quoted(p.src.slice(at))+" alone does not say who faces where", fmt.Sprintf("write facing %s, backing %[1]s or pointing %[1]s", d))
	default:
		r.remark(p.said(words[:from+n]))
	}
	return from + n
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

var footworkPattern = lazily(`^(?:IE|[HTBFW]){1,5}$`)

var footworkMarks = strings.NewReplacer("-", "", "/", "", ".", "")

// footworkLetters reads the trade's letters: H heel, T toe, B ball, F flat, W whole foot, IE inside
// edge. Single small letters may be short for something else.
func footworkLetters(text string) (string, bool) {
	letters := footworkMarks.Replace(text)
	upper := strings.ToUpper(letters)
	if upper != letters && (len(letters) < 2 && letters != "t" && letters != "h" || letters == "ie") {
		return "", false
	}
	return upper, footworkPattern.MatchString(upper)
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

// isTurn reports whether words begin with an amount of turn, or a side and an amount. "Half close" does not.
func (l *lexicon) isTurn(words []word) bool {
	if turnSides[words[0].text] != 0 {
		return l.sideFirst(words) > 0
	}
	_, n, number, ok := l.amount(words)
	i := l.skipToward(words, n)
	return ok && (number || i < len(words) && turnSides[words[i].text] != 0)
}

// sideFirst returns how many words "R 1/4", "right by a quarter" take before the amount, or 0 if words
// begin otherwise.
func (l *lexicon) sideFirst(words []word) int {
	i := l.skipToward(words, 1)
	if turnSides[words[0].text] == 0 || i == len(words) {
		return 0
	}
	_, n, _, ok := l.amount(words[i:])
	after := l.skipToward(words, i+n)
	if !ok || n == 0 || after < len(words) && turnSides[words[after].text] != 0 {
		return 0
	}
	return i
}

// skipToward returns the index of the first word, from i on, that doesn't belong between an amount of
// turn and its side.
func (l *lexicon) skipToward(words []word, i int) int {
	for i < len(words) && (l.toward[words[i].text] || l.turning[words[i].text]) {
		i++
	}
	return i
}

// amount reads an amount of turn, in eighths, and returns how many words it takes. Number says that it
// begins with a number; ok is false if that is not a turn.
func (l *lexicon) amount(words []word) (n Turn, used int, number, ok bool) {
	if len(words) == 0 {
		return 0, 0, false, false
	}
	text := words[0].text
	number = unicode.IsNumber(firstRune(text))
	if number {
		if n, used, ok = l.degrees(words); used > 0 {
			return n, used, true, ok
		}
		if whole, isNumber := eighths(text); isNumber {
			n, used = Turn(whole), 1
			if len(words) > 1 && whole%8 == 0 {
				if part, isPart := eighths(words[1].text); isPart && part < 8 {
					n, used = n+Turn(part), 2
				}
			}
			return n, used, number, true
		}
	}
	if n, used = l.amounts.longest(words); used > 0 && l.phraseAt(words) <= used { // not "half close"
		return n, used, number, true
	}
	return 0, 1, number, false
}

// degrees reads "90°", "180 degrees" or, as nobody turns so often, "180".
func (l *lexicon) degrees(words []word) (n Turn, used int, ok bool) {
	text, sign := strings.CutSuffix(strings.ReplaceAll(words[0].text, "º", "°"), "°")
	d, err := strconv.ParseUint(text, 10, 16)
	if err != nil {
		return 0, 0, false
	}
	used = 1
	if len(words) > 1 && l.degree[words[1].text] {
		sign, used = true, 2
	}
	if !sign && d < 45 {
		return 0, 0, false
	}
	return Turn(d / 45), used, d > 0 && d%45 == 0
}

// turn reads an amount and left or right, "1/4 R", "1 1/4 to L", "half turn right", "R 90°", which words
// have at i. It returns the number of words read, 0 if they are not a turn.
func (p *parser) turn(r *reading, words []word, i int) int {
	l := lex()
	before := 0
	if i > 0 {
		before = turnSides[words[i-1].text] // "swivel R 1/4"
	}
	words = words[i:]
	how, skip := l.turnKind(words)
	words = words[skip:]
	if n := l.sideFirst(words); n > 0 {
		before = turnSides[words[0].text]
		if k := p.varied(r, words[n:], before, how); k > 0 {
			return skip + n + k
		}
		return skip + n + p.turned(r, words[n:], before, how)
	}
	if n := p.varied(r, words, before, how); n > 0 {
		return skip + n
	}
	if n := p.turned(r, words, before, how); n > 0 {
		return skip + n
	}
	return 0
}

// turnKind is what turns, and when.
type turnKind uint8

const (
	turnsOn    turnKind = iota // with the step, or just before it
	turnsAfter                 // after it
	footTurns                  // the foot, without the body
)

// turnKind reads "then a further" or "foot" before a turn, and returns how many words it takes.
func (l *lexicon) turnKind(words []word) (how turnKind, n int) {
	switch {
	case l.then[words[0].text]:
		how = turnsAfter
	case slices.Contains(footAlone, words[0].text):
		how = footTurns
	default:
		return turnsOn, 0
	}
	n = 1
	for n < len(words) && (l.toward[words[n].text] || l.turning[words[n].text] || l.then[words[n].text]) {
		n++
	}
	if n == len(words) || !l.isTurn(words[n:]) {
		return turnsOn, 0
	}
	return how, n
}

// turned reads an amount and its side. Before is a side that stands before the amount, or 0.
func (p *parser) turned(r *reading, words []word, before int, how turnKind) int {
	l := lex()
	amount, first, isNumber, ok := l.amount(words)
	if !ok && !isNumber {
		return 0
	}
	used := l.skipToward(words, first)
	side := 0
	if used < len(words) {
		side = turnSides[words[used].text]
	}
	if side == 0 && before != 0 && ok {
		side, used = before, first-1
	}
	if side == 0 && !isNumber {
		return 0 // "half close"
	}
	if !ok || side == 0 {
		r.step.unclear = true
		last := used - 1
		if ok {
			p.add("turn-unreadable", extent{words[0].at.from, words[last].at.to}, "a turn needs a side", "write "+amount.String()+" or "+(-amount).String())
		} else {
			p.add("turn-unreadable", words[0].at, quoted(words[0].text)+" is not a turn in eighths", "write 1/8, 1/4, 3/8, 1/2, 5/8, 3/4, 7/8 or 1, then L or R")
			if side != 0 {
				return used + 1
			}
		}
		return used
	}
	turn := Turn(side) * amount
	at, next := extent{words[0].at.from, words[used].at.to}, used+1
	after := how == turnsAfter
	later := func() {
		if how == turnsOn && !after && next < len(words) && l.after[words[next].text] {
			after = true
			next++
		}
	}
	later()
	if next < len(words) && isBracket(words[next]) {
		bracket := words[next]
		next++
		later()
		if p.within(r, bracket, turn, how, after) {
			return next
		}
		r.remark(p.bracketText(bracket))
	}
	p.setTurn(r, at, turn, how, after)
	return next
}

// setTurn adds a turn to the step.
func (p *parser) setTurn(r *reading, at extent, turn Turn, how turnKind, after bool) {
	to, varies, which := &r.step.Turn, r.step.Varies, "this step turns both "
	switch {
	case how == footTurns:
		to, varies, which = &r.step.FootTurn, Range{}, "the foot turns both "
	case after:
		to, varies, which = &r.step.After, r.step.VariesAfter, "after this step comes a turn of both "
	}
	total := *to + turn
	switch {
	case varies.Varies():
		p.badRange(r, at, "this step has another turn as well", "write how far it turns altogether, and how far that may vary")
	case *to*turn < 0:
		r.step.unclear = true
		p.add("said-twice", at, which+to.String()+" and "+turn.String(), "write how far it turns altogether")
	case total < -mostTurn || total > mostTurn:
		r.step.unclear = true
		p.add("turn-unreadable", at, "nobody can turn this far in one step", "")
	default:
		*to = total
	}
}

func firstRune(s string) rune { r, _ := utf8.DecodeRuneInString(s); return r }

// direction reads the longest direction that words begin with, and returns its length.
func (l *lexicon) direction(words []word) (d Direction, n int) {
	return l.directions.longest(words)
}

// alignment reads "facing wall" or "backing DC" and returns the number of words.
func (p *parser) alignment(r *reading, words []word) int {
	l := lex()
	stand, ok := l.stands[words[0].text]
	if !ok {
		return 0
	}
	used := 1
	for used < len(words) && l.toward[words[used].text] {
		used++
	}
	d, n := l.direction(words[used:])
	if n == 0 {
		if stand == Facing && words[0].text == "facing" && (len(words) == 1 || words[1].text == "," || l.joining[words[1].text] || l.turning[words[1].text]) {
			return 0 // the position
		}
		if l.phraseAt(words) > 1 || words[0].text != "facing" && len(l.phrases[words[0].text]) > 0 || words[0].text == "face" {
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
