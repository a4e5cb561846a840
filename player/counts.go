package player

import (
	"slices"
	"strconv"

	"dance.example/slowquick/routine"
)

// countLabel returns the count as the chart writes it; for a held count, its first number.
func countLabel(c routine.Count) string {
	if c.Kind == routine.Number {
		return strconv.Itoa(c.First)
	}
	return c.String()
}

// slowQuickLabel returns how long a row lasts: "slow", "quick" or a part of a beat. A
// count shortened by a following "a" keeps its name: samba's 1 a 2 is slow a slow.
func slowQuickLabel(d *routine.Dance, p *routine.Passage, row int, length routine.Beats) string {
	c := p.Figure.Rows[row].Count
	switch c.Kind {
	case routine.Slow:
		return "slow"
	case routine.Quick:
		return "quick"
	case routine.A, routine.E:
		return c.String()
	}
	if row+1 < p.To && p.Figure.Rows[row+1].Count.Kind == routine.A {
		length += d.A
	}
	switch {
	case length >= d.Slow:
		return "slow"
	case length >= d.Quick:
		return "quick"
	}
	return "and"
}

var numberWords = [...]string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

func numberWord(n int) string {
	if n >= 0 && n < len(numberWords) {
		return numberWords[n]
	}
	return strconv.Itoa(n)
}

// countWord returns the word for one count.
func countWord(c routine.Count) string {
	switch c.Kind {
	case routine.Number:
		return numberWord(c.First)
	case routine.And:
		return "and"
	case routine.Slow:
		return "slow"
	case routine.Quick:
		return "quick"
	}
	return c.String()
}

// sayWords returns a word for each row of a passage. Sequences of counts for which the
// dance has a saying are put as its teachers say them.
func sayWords(d *routine.Dance, p *routine.Passage) []string {
	rows := p.Figure.Rows[p.From:p.To]
	words := make([]string, len(rows))
	for i := 0; i < len(rows); {
		n := 0
		for _, s := range d.Sayings {
			if len(s.Counts) > n && begins(rows[i:], s.Counts) {
				n = copy(words[i:], s.Words)
			}
		}
		if n == 0 {
			words[i] = countWord(rows[i].Count)
			n = 1
		}
		i += n
	}
	return words
}

func begins(rows []routine.Row, counts []string) bool {
	return len(counts) <= len(rows) &&
		slices.EqualFunc(rows[:len(counts)], counts, func(r routine.Row, count string) bool { return r.Count.String() == count })
}

// phraseCounts is the number, in beats, after which a teacher starts again at one.
const phraseCounts = 8

// countsTo returns the number of beats after which the counts of a routine start again: as
// many whole bars as its charts number, up to eight beats. Salsa's 1 2 3, 5 6 7 make
// eight, cha-cha's 2 3 4 & 1 four.
func countsTo(s *routine.Score) int {
	highest := 0
	for i := range s.Passages {
		p := &s.Passages[i]
		for _, r := range p.Figure.Rows[p.From:p.To] {
			if r.Count.Kind == routine.Number {
				highest = max(highest, r.Count.First, r.Count.Last)
			}
		}
	}
	beats := s.Dance.Metre.Beats
	bars := (highest + beats - 1) / beats
	return beats * max(1, min(bars, phraseCounts/beats))
}
