package routine

import (
	"fmt"
	"strings"
)

// share is a part of a figure that is given without the numbers of its steps: "first half", "bar 2", "last 3 steps".
type share struct {
	unit     shareUnit
	from, to int // counted from 1, or if they are negative, from the end
}

type shareUnit uint8

const (
	wholeFigure shareUnit = iota
	halfOf
	barOf
	stepOf
	partOf // says nothing
)

const shareWords = `(?:(?:the\s+)?(?:first|1st|second|2nd|third|3rd|fourth|4th|last|latter|other)\s+(?:(?:\d{1,2}|two|three|four|five|six)(?:\s+(?:steps?|bars?|measures?))?|half|bar|measure|part)|(?:a\s+|the\s+)?half|½|1/2|(?:bars?|measures?)\s*\d{1,2}(?:\s*(?:–|—|-|to|and|&)\s*\d{1,2})?)`

var (
	shareAfter   = lazily(`(?i)[\s,;]+(` + onlyBefore + shareWords + onlyAfter + `)$`)
	shareBefore  = lazily(`(?i)^(` + shareWords + `)(\s+of)?\s+(?:the\s+|an?\s+)?`)
	sharePattern = lazily(`(?i)^(?:the\s+|a\s+)?(?:(first|1st|second|2nd|third|3rd|fourth|4th|last|latter|other)\s+)?(?:(\d{1,2}|two|three|four|five|six)\b\s*)?(half|½|1/2|bars?|measures?|steps?|part)?(?:\s*(\d{1,2})(?:\s*(?:–|—|-|to|and|&)\s*(\d{1,2}))?)?$`)
)

// onlyWords matches what may stand around a share: "only the first half", "steps 1–5 only".
const onlyBefore, onlyAfter = `(?:(?:only|just|nur)\s+)?`, `(?:\s+(?:only|nur))?`

var onlyWords = lazily(`(?i)^` + onlyBefore + `|` + onlyAfter + `$`)

var shareOrdinals = map[string]int{"first": 1, "1st": 1, "second": 2, "2nd": 2, "other": 2, "latter": 2, "third": 3, "3rd": 3, "fourth": 4, "4th": 4, "last": -1}

var shareUnits = map[string]shareUnit{"half": halfOf, "½": halfOf, "1/2": halfOf, "bar": barOf, "measure": barOf, "step": stepOf, "": stepOf, "part": partOf}

// shareOf reads a share.
func shareOf(text string) (share, bool) {
	if strings.Trim(text, "½") == "" || text == "1/2" {
		return share{halfOf, 1, 1}, text != ""
	}
	m := sharePattern.FindStringSubmatch(onlyWords.ReplaceAllString(text, ""))
	if m == nil || m[1]+m[3] == "" {
		return share{}, false
	}
	unit := shareUnits[strings.TrimSuffix(strings.ToLower(m[3]), "s")]
	ordinal, ordered := shareOrdinals[strings.ToLower(m[1])]
	number := bounded(m[2])
	if n, ok := timesByWord[strings.ToLower(m[2])]; ok {
		number = n
	}
	switch {
	case m[4] != "" && ordered, m[4] != "" && unit != barOf, m[2] != "" && (unit == halfOf || unit == partOf), m[2] != "" && !ordered:
		return share{}, false
	case m[4] != "":
		s := share{barOf, bounded(m[4]), bounded(m[4])}
		if m[5] != "" {
			s.to = bounded(m[5])
		}
		return s, true
	case m[2] != "" && ordinal == 1:
		return share{unit, 1, number}, true
	case m[2] != "" && ordinal == -1:
		return share{unit, -number, -1}, true
	case unit == stepOf, m[2] != "":
		return share{}, false
	case unit == halfOf && !ordered:
		return share{halfOf, 1, 1}, true
	}
	return share{unit, ordinal, ordinal}, ordered
}

// rows returns the rows of a figure that a share means; ok is false if that is not clear.
func (s share) rows(fig *Figure, bar Beats) (from, to int, ok bool) {
	n := len(fig.Rows)
	edge := func(at Beats) int { // the row that begins there, or -1
		for i := range fig.Rows {
			if fig.Rows[i].At-fig.Rows[0].At == at {
				return i
			}
		}
		if fig.Length(0, n) == at {
			return n
		}
		return -1
	}
	pick := func(units int, edge func(unit int) int) (int, int, bool) {
		first, last := s.from, s.to
		if first < 0 {
			first, last = units+1+first, units+1+last
		}
		if first < 1 || last > units || first > last {
			return 0, 0, false
		}
		from, to := edge(first-1), edge(last)
		return from, to, from >= 0 && to > from
	}
	length := fig.Length(0, n)
	switch s.unit {
	case stepOf:
		return pick(n, func(unit int) int { return unit })
	case barOf:
		if length%bar != 0 {
			return 0, 0, false
		}
		return pick(int(length/bar), func(unit int) int { return edge(Beats(unit) * bar) })
	case halfOf:
		return pick(2, func(unit int) int {
			if middle := edge(length / 2); unit == 1 && length%(2*bar) == 0 && middle > 0 {
				return middle
			}
			if n%2 != 0 {
				return -1
			}
			return unit * n / 2
		})
	}
	return 0, 0, false
}

// shareOf sets the rows of an item that says which share of its figure is danced.
func (c *checker) shareOf(item *Item) {
	from, to, ok := item.share.rows(item.Figure, c.sheet.Dance.Metre.Bar())
	if !ok {
		c.add("steps-range", item.shareAt, fmt.Sprintf("it isn't clear which steps of %s this means: it has %s", item.Figure.Name, Steps(0, item.To)),
			"write them: "+quoted(item.Name+", "+Steps(0, min(item.To, max(2, item.To/2)))))
		item.Figure = nil
		return
	}
	item.From, item.To = from, to
}

// partial reports whether an item dances only a part of its figure.
func (i *Item) partial() bool { return i.steps[0] != 0 || i.share.unit != wholeFigure }
