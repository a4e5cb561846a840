package routine

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// techniqueCell is a cell of a technique chart beside a step: its alignment, footwork, sway …
type techniqueCell struct {
	kind column
	at   extent
}

// technique returns the cells of a row that belong to a partner's step.
func (tt *tableText) technique(row int, side Partner) (cells []techniqueCell) {
	for c, kind := range tt.columns {
		if kind > followerColumn && tt.whose[c] == side {
			cells = append(cells, techniqueCell{kind, tt.cells[row][c]})
		}
	}
	return cells
}

// assign finds whose steps each technique column describes: those to its left, or else those to its
// right. Without steps it is only for people.
func (tt *tableText) assign() {
	tt.whose = make([]Partner, len(tt.columns))
	isSteps := func(c column) bool { return c == leaderColumn || c == followerColumn }
	last := slices.IndexFunc(tt.columns, isSteps)
	for c, kind := range tt.columns {
		switch {
		case isSteps(kind):
			last = c
		case kind <= followerColumn:
		case last < 0:
			tt.columns[c] = otherColumn
		default:
			tt.whose[c] = Partner(tt.columns[last] - leaderColumn)
		}
	}
}

// nothing lists what charts write in a technique cell that says nothing.
var nothing = []string{"", "-", "nil", "none", "no", "n/a", "straight", "s", "no turn", "no sway", "=", "\""}

// fold reads the technique of a step into it. What is not understood goes into its note. Turns are
// folded afterwards, as they may belong to another row.
func (p *parser) fold(r *reading, cells []techniqueCell, number int) {
	r.lenient = true
	for _, cell := range cells {
		text := strings.TrimSpace(unmarked(p.src.slice(cell.at)))
		if slices.Contains(nothing, dashes.Replace(fold(text))) {
			continue
		}
		words, note := lex().split(p.src.slice(cell.at), cell.at.from)
		if note != "" {
			r.remark(note)
		}
		if len(words) == 0 {
			continue
		}
		switch cell.kind {
		case alignmentColumn:
			p.foldAlignment(r, words)
		case riseColumn:
			p.foldRise(r, words, number)
		case footworkColumn:
			p.foldFootwork(r, words)
		case cbmColumn:
			p.foldCBM(r, words)
		case swayColumn:
			p.foldSway(r, words)
		case positionColumn:
			p.details(r, words)
		}
	}
	r.lenient = false
}

// foldAlignment reads "facing DW" or "DW"; what follows goes into the note.
func (p *parser) foldAlignment(r *reading, words []word) {
	n := p.alignment(r, words)
	if n == 0 {
		if _, n = lex().direction(words); n > 0 {
			n = p.alignment(r, slices.Insert(slices.Clone(words), 0, word{standNames[Facing], words[0].at})) - 1
		}
	}
	if n < len(words) {
		r.remark(p.said(words[n:]))
	}
}

// digits matches the numbers of steps.
var digits = lazily(`\d+`)

// foldRise reads "commence to rise at end of 1". A cell that names other steps goes into the note.
func (p *parser) foldRise(r *reading, words []word, number int) {
	var rest []word
	for _, w := range words {
		numbers := digits.FindAllString(w.text, -1)
		if numbers == nil {
			rest = append(rest, w)
		} else if strings.Trim(w.text, "0123456789-&,–") != "" || slices.ContainsFunc(numbers, func(n string) bool { return n != strconv.Itoa(number) }) {
			r.remark(p.said(words))
			return
		}
	}
	if len(rest) > 0 {
		p.details(r, rest)
	}
}

// foldFootwork reads letters and words one after the other: "T, H" is TH.
func (p *parser) foldFootwork(r *reading, words []word) {
	l := lex()
	all := ""
	for i := 0; i < len(words); {
		part := reading{}
		n := l.match(&part, words[i:])
		letters := part.step.Footwork
		if n == 0 {
			n = 1
			letters, _ = footworkLetters(p.src.slice(words[i].at))
		}
		if letters == "" && words[i].text != "," && !l.joining[words[i].text] {
			r.remark(p.said(words))
			return
		}
		all += letters
		i += n
	}
	before := r.step.Footwork
	if !footworkPattern.MatchString(all) {
		r.remark(p.said(words))
		return
	}
	r.step.Footwork = all
	p.footwork(r, before, words[0])
}

// foldCBM reads CBM, CBMP or a tick.
func (p *parser) foldCBM(r *reading, words []word) {
	if len(words) == 1 && slices.Contains([]string{"yes", "y", "x", "✓", "✔", "•", "1", "cbm"}, words[0].text) {
		r.action("CBM")
		return
	}
	p.details(r, words)
}

// foldSway reads a side, "to R".
func (p *parser) foldSway(r *reading, words []word) {
	l := lex()
	i := 0
	for i < len(words) && (l.toward[words[i].text] || words[i].text == "sway") {
		i++
	}
	if i != len(words)-1 || turnSides[words[i].text] == 0 {
		r.remark("sway: " + p.said(words))
		return
	}
	r.action("sway " + strings.ToUpper(words[i].text))
}

// foldTurns reads the column of turns for a partner: "1/4 between 1 and 2" belongs to step 2, and turns
// to the side that was named last.
func (p *parser) foldTurns(tt *tableText, rows []Row, side Partner, numbers []int) {
	column := slices.IndexFunc(tt.columns, func(c column) bool { return c == turnColumn })
	for column >= 0 && tt.whose[column] != side {
		next := slices.Index(tt.columns[column+1:], turnColumn)
		if next < 0 {
			return
		}
		column += 1 + next
	}
	if column < 0 {
		return
	}
	turns := turnReader{parser: p, rows: rows, side: side, numbers: numbers, folded: make([]reading, len(rows)), at: make([]extent, len(rows))}
	for i := range rows {
		cell := tt.cells[i+1][column]
		if text := dashes.Replace(fold(strings.TrimSpace(p.src.slice(cell)))); slices.Contains(nothing, text) {
			continue
		}
		words, note := lex().split(p.src.slice(cell), cell.from)
		if note != "" {
			turns.remark(i, note)
		}
		for len(words) > 0 {
			n := slices.IndexFunc(words, func(w word) bool { return w.text == "," })
			if n < 0 {
				n = len(words)
			}
			if n > 0 {
				turns.clause(i, words[:n])
			}
			words = words[min(n+1, len(words)):]
		}
	}
	turns.apply()
}

// turnReader reads a column of turns.
type turnReader struct {
	*parser
	rows    []Row
	side    Partner
	numbers []int     // of the steps
	turns   int       // the side named last, as turnSides; 0 for none
	folded  []reading // the turn of each row
	at      []extent
}

// betweens are words before the numbers of the steps between which the turn is made.
var betweens = []string{"between", "btw", "btwn", "from", "over", "on", "bet"}

// clause reads "1/4 to R between 1 and 2" or "1/4 to 3/8 between 1 and 2" of a row.
func (t *turnReader) clause(row int, words []word) {
	l := lex()
	var amounts spread
	var around word // a range in brackets
	to, amount, understood := row, Turn(0), true
	for i := 0; i < len(words); {
		w := words[i]
		if amount == 0 && amounts.words == 0 {
			if amounts = l.spread(words[i:]); amounts.words > 0 {
				t.turns = cmp.Or(amounts.sides[1], amounts.sides[0], t.turns)
				i += amounts.words
				continue
			}
		}
		n, used, number, ok := l.amount(words[i:])
		switch {
		case slices.Contains(betweens, w.text):
			i++
			for i < len(words) && (digits.MatchString(words[i].text) || l.joining[words[i].text] || l.toward[words[i].text]) {
				for _, text := range digits.FindAllString(words[i].text, -1) {
					step, _ := strconv.Atoi(text)
					if k := slices.Index(t.numbers, step); k >= 0 {
						to = k
					}
				}
				i++
			}
			continue
		case turnSides[w.text] != 0:
			t.turns = turnSides[w.text]
		case ok && (number || used > 0) && amount == 0 && amounts.words == 0:
			amount = n
			i += used
			continue
		case isBracket(w) && amount != 0 && around.text == "":
			around = w
		case l.turning[w.text] || l.toward[w.text] || l.joining[w.text]:
		default:
			understood = false
		}
		i++
	}
	at := extent{words[0].at.from, words[len(words)-1].at.to}
	if amount == 0 && amounts.words == 0 || !understood {
		t.remark(row, t.said(words))
	}
	t.turn(to, at, amount, amounts, around)
}

// turn takes the amount of a clause, or its range, for a row.
func (t *turnReader) turn(row int, at extent, amount Turn, amounts spread, around word) {
	r := &t.folded[row]
	ends, sided := amounts.ends(t.turns)
	turn := Turn(t.turns) * amount
	switch {
	case amount == 0 && amounts.words == 0:
		return
	case amount != 0 && t.turns == 0:
		r.step.unclear = true
		t.add("turn-unreadable", at, "a turn needs a side", "write "+amount.String()+" or "+(-amount).String())
	case !sided:
		r.step.unclear = true
		t.add("turn-unreadable", at, "a turn needs a side", "write L or R after the second amount")
	case amounts.words > 0 && ends[0] == ends[1]:
		t.badRange(r, at, "both amounts are the same", "write "+ends[0].orNone())
	case amounts.words > 0:
		t.vary(r, at, ends[0], ends, turnsOn, false)
	case r.step.Varies.Varies():
		t.badRange(r, at, "this step has another turn as well", "write how far it turns altogether, and how far that may vary")
	case around.text != "" && t.within(r, around, turn, turnsOn, false):
	default:
		if around.text != "" {
			t.remark(row, t.bracketText(around))
		}
		r.step.Turn += turn
	}
	t.at[row] = at
}

func (t *turnReader) remark(row int, text string) {
	r := reading{step: t.rows[row].Steps[t.side]}
	r.remark(text)
	t.rows[row].Steps[t.side].Note = r.step.Note
}

// apply adds the turns to the steps.
func (t *turnReader) apply() {
	for i := range t.folded {
		s, read := &t.rows[i].Steps[t.side], &t.folded[i].step
		s.unclear = s.unclear || read.unclear
		told, folded := s.Varies.Text(s.Turn), read.Varies.Text(read.Turn)
		switch {
		case folded == "" || folded == told:
		case told != "" && (s.Turn != read.Turn || s.Varies.Varies() && read.Varies.Varies()):
			s.unclear = true
			t.add("said-twice", t.at[i], "this step turns both "+told+" and "+folded, "keep one")
		case read.Varies.Varies() || !s.Varies.Varies():
			s.Turn, s.Varies = read.Turn, read.Varies
		}
	}
}

// stepNumbers returns the numbers of a chart's steps: those in a column of numbers, else 1, 2, 3 …
func (p *parser) stepNumbers(tt *tableText) []int {
	numbers := make([]int, len(tt.cells)-1)
	for i := range numbers {
		numbers[i] = i + 1
	}
	for c, kind := range tt.columns {
		if kind != otherColumn {
			continue
		}
		told := make([]int, len(numbers))
		all := true
		for i := range told {
			n, err := strconv.Atoi(strings.Trim(p.src.slice(tt.cells[i+1][c]), " .)"))
			told[i], all = n, all && err == nil
		}
		if all {
			return told
		}
	}
	return numbers
}
