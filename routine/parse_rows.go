package routine

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// heldPattern matches "4 (1)".
var heldPattern = lazily(`^(\d{1,2})\s*\((\d{1,2})\)$`)

// count reads the count of a row. "4 (1)" is 1, counted on from the bar before, where the bar has three
// beats, and 4 held over 1 where it has four.
func (p *parser) count(text string) (Count, bool) {
	text = strings.Trim(strings.TrimSpace(unmarked(text)), ".,:;'\"‘’“”")
	if strings.IndexByte(text, '(') < 0 {
		return ParseCount(text)
	}
	m := heldPattern.FindStringSubmatch(text)
	if m == nil {
		return Count{}, false
	}
	first, ok1 := countNumber(m[1])
	last, ok2 := countNumber(m[2])
	if beats := p.sheet.Dance.Metre.Beats; first%beats == last%beats && !p.sheet.Dance.FigureNumbers {
		first, last = min(first, last), min(first, last)
	}
	return Count{Number, first, last}, ok1 && ok2
}

// dashing is what a dash between two counts means.
type dashing uint8

const (
	holds     dashing = iota // 4-1; but in a run such as 2-3-4 it separates
	separates                // 1-2
	holdsLast                // 2-3-4-1
	dashings
)

// counts splits a cell into its counts, "2.3.4&1", "QaQ", "slow quick quick". It returns nil if there is
// anything else in it.
func (p *parser) counts(at extent, dash dashing) (list []extent) {
	text := p.src.slice(at)
	var numbers []bool // for each count
	var dashed []bool  // a dash stands before it
	dashes, pending := 0, false
	add := func(from, to int, number bool) {
		if pending && len(list) > 0 {
			dashes++
		}
		list, numbers, dashed = append(list, extent{at.from + from, at.from + to}), append(numbers, number), append(dashed, pending)
		pending = false
	}
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		to := i + size
		switch {
		case r >= '0' && r <= '9':
			for to < len(text) && text[to] >= '0' && text[to] <= '9' {
				to++
			}
			if m := bracketed.FindString(text[to:]); m != "" {
				to += len(m)
			}
			add(i, to, true)
		case unicode.IsLetter(r):
			for to < len(text) {
				r, size := utf8.DecodeRuneInString(text[to:])
				if !unicode.IsLetter(r) {
					break
				}
				to += size
			}
			if _, ok := ParseCount(text[i:to]); ok {
				add(i, to, false)
				break
			}
			if strings.Trim(text[i:to], "SsQqAaEe") != "" {
				return nil
			}
			for k := i; k < to; k++ {
				add(k, k+1, false)
			}
		case r == '&' || r == '+':
			add(i, to, false)
		case strings.ContainsRune("-–—", r):
			pending = true
		case !unicode.IsSpace(r) && !strings.ContainsRune(".,;:/·*_`'\"‘’“”", r):
			return nil
		}
		i = to
	}
	return joinHeld(list, numbers, dashed, dashes, dash)
}

// joinHeld makes one count of two numbers with a dash between them, where that means that they are held.
func joinHeld(list []extent, numbers, dashed []bool, dashes int, dash dashing) (joined []extent) {
	for i, c := range list {
		held := dashed[i] && i > 0 && numbers[i] && numbers[i-1]
		if held && (dash == holds && dashes == 1 || dash == holdsLast && i == len(list)-1) {
			joined[len(joined)-1].to = c.to
			continue
		}
		joined = append(joined, c)
	}
	return joined
}

var bracketed = lazily(`^\s*\(\d{1,2}\)`)

// spread makes a row for each count of the rows that have several counts and as many steps.
func (p *parser) spread(tt *tableText, has map[column]int) {
	for row := len(tt.cells) - 1; row > 0; row-- {
		cells := tt.cells[row]
		if text := p.src.slice(cells[has[countColumn]]); !strings.ContainsAny(text, "-–—") {
			if _, ok := p.count(text); ok {
				continue
			}
		}
		if rest := restOfLine(p.src.text, cells[len(cells)-1].to); strings.Trim(p.src.slice(rest), "| \t\r") != "" {
			continue
		}
		rows := p.spreadRow(tt, cells, cells[has[countColumn]])
		if rows == nil {
			continue
		}
		short, spread := make([]bool, len(rows)), make([]bool, len(rows))
		for i := range rows {
			short[i], spread[i] = tt.short[row], true
		}
		tt.cells = splice(tt.cells, row, rows)
		tt.short = splice(tt.short, row, short)
		tt.spread = splice(tt.spread, row, spread)
	}
}

// splice replaces the i-th element of list by others.
func splice[T any](list []T, i int, by []T) []T {
	return append(append(append([]T(nil), list[:i]...), by...), list[i+1:]...)
}

// spreadRow returns the rows for a row of several counts, or nil if it has one count or other steps. A
// count that is held, as 2-3, stays one where nobody steps.
func (p *parser) spreadRow(tt *tableText, cells []extent, count extent) (rows [][]extent) {
	for dash := range dashings {
		counts := p.counts(count, dash)
		if len(counts) < 2 {
			continue
		}
		rows = make([][]extent, len(counts))
		_, held := p.count(p.src.slice(count))
		fits, steps := true, false
		for c, cell := range cells {
			var pieces []extent
			switch tt.columns[c] {
			case countColumn:
				pieces = counts
			case leaderColumn, followerColumn:
				pieces = p.stepsIn(cell, len(counts))
				fits = fits && pieces != nil
				steps = steps || fits && pieces[0] != pieces[1]
			}
			for i := range rows {
				at := extent{cell.to, cell.to}
				if i == 0 {
					at = cell
				}
				if pieces != nil {
					at = pieces[i]
				}
				rows[i] = append(rows[i], at)
			}
		}
		if fits && (steps || !held) {
			return rows
		}
	}
	return nil
}

// stepsIn splits a cell into n steps, or returns nil. A partner who stands still does so on all counts.
func (p *parser) stepsIn(cell extent, n int) (steps []extent) {
	l := lex()
	words, _ := l.split(p.src.slice(cell), cell.from)
	if _, stands := l.stand.longest(words); stands > 0 && stands == len(words) {
		for range n {
			steps = append(steps, cell)
		}
		return steps
	}
	for _, between := range []func(string, int) int{l.afterMark, l.beforeFoot} {
		if steps = p.cut(cell, between); len(steps) == n {
			return steps
		}
	}
	return nil
}

// cut splits a cell, outside of brackets, where between returns the length of what separates two steps; -1 if nothing does.
func (p *parser) cut(cell extent, between func(text string, i int) int) (parts []extent) {
	text := p.src.slice(cell)
	from := 0
	for i := 0; i < len(text); i++ {
		if text[i] == '(' {
			i += closing(text[i:])
			continue
		}
		if n := between(text, i); n >= 0 {
			parts = append(parts, p.trimmed(extent{cell.from + from, cell.from + i}))
			from = i + n
		}
	}
	return append(parts, p.trimmed(extent{cell.from + from, cell.to}))
}

// stepMarks stand between two steps.
var stepMarks = []string{",", ";", "/", "<br>", "<br/>", "<br />", "·", "→", "->", "+", "then "}

// afterMark returns the length of a mark at i after which a step begins, or -1.
func (l *lexicon) afterMark(text string, i int) int {
	for _, mark := range stepMarks {
		if strings.HasPrefix(text[i:], mark) && l.beginsStep(text[i+len(mark):]) {
			return len(mark)
		}
	}
	return -1
}

// beforeFoot returns 0 where a foot is named that may begin a step, or -1.
func (l *lexicon) beforeFoot(text string, i int) int {
	if i == 0 || text[i-1] != ' ' && text[i-1] != ',' && text[i-1] != ';' {
		return -1
	}
	before, _ := l.split(text[:i], 0)
	words, _ := l.split(text[i:], 0)
	if len(words) == 0 || words[0].text != "lf" && words[0].text != "rf" {
		return -1
	}
	if len(before) == 0 || l.joining[before[len(before)-1].text] || l.toward[before[len(before)-1].text] || words[0].at.from != 0 {
		return -1
	}
	return 0
}

// beginsStep reports whether a text begins with a foot that goes somewhere, or with someone who stands.
func (l *lexicon) beginsStep(text string) bool {
	words, _ := l.split(text, 0)
	if len(words) == 0 {
		return false
	}
	if _, n := l.stand.longest(words); n > 0 {
		return true
	}
	_, foot := l.stepping(words)
	return foot != NoFoot
}

// severalCounts reports a row with other numbers of counts and steps.
func (p *parser) severalCounts(cell extent, counts int) {
	p.add("steps-per-row", cell, fmt.Sprintf("this row has %d counts, but not a step for each of them", counts),
		"write as many steps as counts, with commas between them, or a row for each count")
}
