package routine

import (
	"strconv"
	"strings"
	"unicode"
)

// saying is what a line of the order says: "Spot turn, steps 1–5 × 2 — with a smile".
type saying struct {
	name    extent
	remarks []extent
	times   int // 1 if not said
	timesAt extent
	steps   [2]int // from 1; 0 if not said
	share   share
	shareAt extent
	twice   bool // the times, or the steps, are said twice
}

// Numbers of times in words.
const timesWords = `once|twice|thrice|(?:one|two|three|four|five|six|seven|eight|nine|ten)\s+times|(?:zwei|drei|vier)mal|(?:deux|trois|quatre)\s+fois|(?:dos|tres|cuatro)\s+veces|(?:due|tre|quattro)\s+volte`

// countedTimes are the words after a number of times.
const countedTimes = `(?:times|[Mm]al|fois|veces|volte)`

var timesByWord = map[string]int{"once": 1, "twice": 2, "thrice": 3, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
	"zweimal": 2, "dreimal": 3, "viermal": 4, "deux": 2, "trois": 3, "quatre": 4, "dos": 2, "tres": 3, "cuatro": 4, "due": 2, "tre": 3, "quattro": 4}

var (
	remarkPattern = lazily(`(?s)\s+(?:—|–|-|--)\s+`)
	// An x that ends a word is a letter: "box 2".
	timesAfter   = lazily(`(?i)(?:[\s,;]*×\s*(\d+)|\*\s*(\d+)|(?:^|[\s,;])x\s*(\d+)|(?:^|[\s,;])(\d+)\s*(?:[x×*]|` + countedTimes + `\b)|(?:^|[\s,;])(?:danced\s+)?(` + timesWords + `))(?:\s+over)?\s*$`)
	timesBefore  = lazily(`(?i)^(?:(\d+)\s*×|(\d+)\s*x[\s,:]|(\d+)\s*\*[\s,:]|[x×*]\s*(\d+)[\s,:]|(\d+)\s*` + countedTimes + `[\s,:]|(` + timesWords + `)[\s,:])\s*`)
	stepsAfter   = lazily(`(?i)[\s,;]*(?:\bsteps?\s*(\d+)(?:\s*(?:–|—|-|to|and|&)\s*(\d+))?|(?:^|[\s,;])(\d+)\s*(?:–|—|-|to)\s*(\d+))\s*$`)
	stepsBefore  = lazily(`(?i)^steps?\s*(\d+)(?:\s*(?:–|—|-|to|and|&)\s*(\d+))?\s+of\s+(?:the\s+)?`)
	rangeAfter   = lazily(`(?i)(\bsteps?)?[\s,]*(\d+)(?:\s*(?:–|—|-|to)\s*(\d+))?$`)
	numberBefore = lazily(`^\d{1,3}[.:)]\s+`)
	inBrackets   = lazily(`\s*[(\[]([^()\[\]]*)[)\]]\s*$`)
)

// say reads a line of the order. What surrounds the name is taken off until it is known, so that a figure may be named
// like part of a sentence: "Step 1", "Box 2x".
func say(text string, known func(name string) bool) saying {
	r := itemReader{text: text, saying: saying{name: extent{0, len(text)}, times: 1}, known: known}
	r.trim()
	if rest := r.rest(); len(rest) > 4 && strings.HasPrefix(rest, "|:") && strings.HasSuffix(rest, ":|") { // a musician's repeat
		r.times, r.timesAt, r.said[0] = 2, r.name, true
		r.name = extent{r.name.from + 2, r.name.to - 2}
		r.trim()
	}
	if r.named() {
		return r.saying
	}
	m := remarkPattern.FindStringIndex(r.rest())
	if m == nil {
		m = r.saidBelow()
	}
	if m != nil {
		r.remark(extent{r.name.from + m[1], r.name.to})
		r.name.to = r.name.from + m[0]
	}
	for r.trim(); !r.named() && r.peel(); r.trim() {
	}
	return r.saying
}

// saidBelow returns the line end after which the rest of an item is a remark: a sentence below the figure. It returns nil
// if there is none.
func (r *itemReader) saidBelow() []int {
	rest := r.rest()
	at := strings.IndexByte(rest, '\n')
	if at < 0 || !strings.ContainsAny(rest[at:], ":!?.") {
		return nil
	}
	for below := range strings.SplitSeq(rest[at+1:], "\n") {
		if itemPattern.MatchString(below) {
			return nil
		}
	}
	line := strings.TrimSpace(rest[:at])
	if name := say(line, r.known).name; !r.known(headingText(line[name.from:name.to])) {
		return nil
	}
	return []int{at, at + 1}
}

type itemReader struct {
	saying
	text  string
	known func(name string) bool
	said  [2]bool // the times, the steps
}

// rest returns what is left to be the name.
func (r *itemReader) rest() string { return r.text[r.name.from:r.name.to] }

func (r *itemReader) named() bool { return r.known(headingText(r.rest())) }

// trim takes space and points from around the name.
func (r *itemReader) trim() {
	r.name.to -= len(r.rest()) - len(strings.TrimRight(r.rest(), afterName))
	from := r.name.from + len(r.rest()) - len(strings.TrimLeft(r.rest(), " \t\r\n,;:"))
	if rest := r.text[from:r.name.to]; rest != "" && strings.IndexByte("#-+*>~`", rest[0]) >= 0 { // few do
		from += len(beforeName.FindString(rest))
	}
	if from == r.name.to || r.text[from] != '<' { // which would make it HTML
		r.name.from = from
	}
}

// afterName are the letters after a name that say nothing.
const afterName = " \t\r\n,.;:…-–—"

// beforeName matches space, points and what would make a name a heading, a list, a quote or code of its own.
var beforeName = lazily("^(?:[\\s,;:>]|(?:#{1,6}|[-+*]|~{3,}|`{3,})(?:\\s|$))+")

// peel takes one thing from the end or the start of the name. It returns false if there is none.
func (r *itemReader) peel() bool {
	rest := r.rest()
	if m := timesAfter.FindStringSubmatchIndex(rest); m != nil && (m[0] > 0 || !lettered(rest)) {
		return r.timed(rest, m, m[0], false)
	}
	if m := rangeAfter.FindStringSubmatchIndex(rest); m != nil && (m[2] >= 0 || m[6] >= 0) {
		cut := max(m[0], m[3]) // "Quay step 2–4" is a part of the Quay step, if there is one
		if r.known(headingText(rest[:cut])) {
			return r.stepped(rest, append([]int{m[0], m[1]}, m[4:]...), cut, false)
		}
	}
	if m := shareAfter.FindStringSubmatchIndex(rest); m != nil && m[0] > 0 && (strings.ContainsAny(rest[m[0]:m[2]], ",;") || r.known(headingText(rest[:m[0]]))) {
		r.shared(extent{r.name.from + m[2], r.name.from + m[3]})
		r.cut(m[0], false)
		return true
	}
	if m := stepsAfter.FindStringSubmatchIndex(rest); m != nil && m[0] > 0 {
		return r.stepped(rest, m, m[0], false)
	}
	if m := inBrackets.FindStringSubmatchIndex(rest); m != nil && m[0] > 0 {
		r.remark(extent{r.name.from + m[2], r.name.from + m[3]})
		r.name.to = r.name.from + m[0]
		return true
	}
	if m := timesBefore.FindStringSubmatchIndex(rest); m != nil && m[1] < len(rest) {
		return r.timed(rest, m, m[1], true)
	}
	if m := numberBefore.FindStringIndex(rest); m != nil && m[1] < len(rest) {
		r.cut(m[1], true)
		return true
	}
	if m := stepsBefore.FindStringSubmatchIndex(rest); m != nil && m[1] < len(rest) {
		return r.stepped(rest, m, m[1], true)
	}
	if m := shareBefore.FindStringSubmatchIndex(rest); m != nil && m[1] < len(rest) && (m[4] >= 0 || r.known(headingText(rest[m[1]:]))) {
		r.shared(extent{r.name.from + m[2], r.name.from + m[3]})
		r.cut(m[1], true)
		return true
	}
	return false
}

func lettered(text string) bool { return strings.IndexFunc(text, unicode.IsLetter) >= 0 }

// remark reads what follows a dash, or stands in brackets: how many times, which steps, or a remark.
func (r *itemReader) remark(at extent) {
	for {
		text := r.text[at.from:at.to]
		first, next := text, len(text)
		if m := remarkEnd.FindStringIndex(text); m != nil {
			first, next = text[:m[0]], m[1]
		}
		switch m := timesAfter.FindStringSubmatchIndex(first); {
		case m != nil && m[0] == 0:
			r.count(first, m, at.from)
		default:
			if m := stepsAfter.FindStringSubmatchIndex(first); m != nil && m[0] == 0 {
				r.part(first, m)
				break
			}
			if s, ok := shareOf(strings.TrimSpace(first)); ok && s != (share{}) {
				r.shared(extent{at.from, at.from + len(first)})
				break
			}
			r.remarkWithTimes(at)
			return
		}
		if at.from += next; at.from == at.to {
			return
		}
	}
}

// remarkEnd matches what ends the first thing said after a dash.
var remarkEnd = lazily(`\s*[,;.]\s*|\s+(?:—|–|-|--)\s+`)

// remarkWithTimes takes "× 2" from the end of a remark, unless the times are said before it.
func (r *itemReader) remarkWithTimes(at extent) {
	text := r.text[at.from:at.to]
	if m := timesAfter.FindStringSubmatchIndex(text); m != nil && m[0] > 0 && m[10] < 0 && !r.said[0] && timesAfter.FindString(r.text[:at.from]) == "" && !r.timedBefore(at) {
		r.count(text, m, at.from)
		at.to = at.from + m[0]
	}
	r.remarks = append(r.remarks, at)
}

// timedBefore reports whether the text before a remark says how many times.
func (r *itemReader) timedBefore(at extent) bool {
	head := r.text[:at.from]
	if m := remarkPattern.FindStringIndex(head); m != nil {
		head = head[:m[0]]
	}
	return timesAfter.MatchString(head) || timesBefore.MatchString(head)
}

// timed takes a number of times from the name, up to or from cut.
func (r *itemReader) timed(rest string, m []int, cut int, before bool) bool {
	r.count(rest, m, r.name.from)
	r.cut(cut, before)
	return true
}

func (r *itemReader) stepped(rest string, m []int, cut int, before bool) bool {
	r.part(rest, m)
	r.cut(cut, before)
	return true
}

func (r *itemReader) cut(at int, before bool) {
	if before {
		r.name.from += at
	} else {
		r.name.to = r.name.from + at
	}
}

// count sets the times from a match of a text that begins at from.
func (r *itemReader) count(text string, m []int, from int) {
	for i := 2; i+1 < len(m); i += 2 {
		if m[i] < 0 {
			continue
		}
		said := text[m[i]:m[i+1]]
		r.twice = r.twice || r.said[0]
		r.said[0], r.timesAt = true, extent{from + m[i], from + m[i+1]}
		if n, ok := timesByWord[strings.ToLower(strings.Fields(said)[0])]; ok {
			r.times = n
		} else {
			r.times = bounded(said)
		}
		return
	}
}

// part sets the steps.
func (r *itemReader) part(text string, m []int) {
	r.twice = r.twice || r.said[1]
	r.said[1] = true
	for i := 2; i+1 < len(m); i += 4 {
		if m[i] >= 0 {
			r.steps[0] = bounded(text[m[i]:m[i+1]])
			r.steps[1] = r.steps[0]
			if i+3 < len(m) && m[i+2] >= 0 {
				r.steps[1] = bounded(text[m[i+2]:m[i+3]])
			}
		}
	}
}

// shared sets the share of the figure from its wording.
func (r *itemReader) shared(at extent) {
	r.twice = r.twice || r.said[1]
	r.said[1], r.shareAt = true, at
	r.share, _ = shareOf(strings.TrimSpace(r.text[at.from:at.to]))
}

// bounded reads digits as a number, at most one more than there are steps.
func bounded(digits string) int {
	n, err := strconv.Atoi(digits)
	if err != nil || n > mostSteps {
		n = mostSteps + 1
	}
	return n
}
